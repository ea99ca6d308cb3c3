"""The handbook as an MkDocs plugin: each event calls the pipeline and hands over what it made.

Nothing else in the package knows MkDocs.
"""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, cast

from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel, get_files

from generator.ground.asof import NoDateError, as_of
from generator.ground.finding import Finding
from generator.ground.report import as_terminal, tally
from generator.ground.resources import resource
from generator.ground.wording import _, ngettext, use
from generator.handbook import aside, book, byhand, facts, look
from generator.handbook.language import NoSuchLanguageError, language_of
from generator.handbook.page import Book, Entry
from generator.handbook.print_room import Printing
from generator.handbook.render import forget_templates
from generator.press.engine import PressError
from generator.shop.load import load_shop

if TYPE_CHECKING:
    from jinja2 import Environment
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.livereload import LiveReloadServer
    from mkdocs.structure.nav import Navigation
    from mkdocs.structure.pages import Page
    from mkdocs.utils.templates import TemplateContext as Context

    from generator.shop.shop import Shop

_SEARCH_WITHOUT_SERVER = "assets/js/iframe-worker.js"
"""Lets the theme's search run from a folder, where a browser starts no workers."""


class HandbookConfig(base.Config):  # type: ignore[no-untyped-call]
    """What ``mkdocs.yml`` may say under ``benchleaf``."""

    shop = option.Type(str, default="shop")
    """The shop's folder, below ``docs_dir``."""
    as_of = option.Optional(option.Type((str, dt.date)))
    """The date that whatever falls due is told against."""
    language = option.Type(str, default="")
    """Which of the shop's languages to publish; left out, the first."""
    print = option.Type(bool, default=True)
    """Whether to set the sheets of the print room."""
    marked = option.Type(bool, default=False)
    """Whether sheets run 3 mm over the edge, with marks to cut along, for a copy shop."""


class HandbookPlugin(BasePlugin[HandbookConfig]):  # type: ignore[no-untyped-call]
    """Makes the pages of a handbook in memory, out of the shop's folder."""

    shop: Shop
    book: Book
    language: str
    _aside: dict[str, tuple[str, ...]]
    _whole: dict[str, str]
    _serving = False

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Know a site that is only looked at: its address is no place for a QR code to lead."""
        del dirty
        self._serving = command == "serve"

    @event_priority(100)  # before the theme's own plugins look at what is set here
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read the shop and make the book. A data fault stops here, before anything is written."""
        forget_templates()
        self._aside, self._whole = {}, {}
        self.shop = self._read(config)
        self.language = self._language()
        self.book = self._made(config)
        self._hold_hand_written(config)
        config.site_name = self.book.shop_name
        config.use_directory_urls = False  # the pages' own links keep file names
        config.theme.dirs.insert(0, str(resource("site_config") / "theme"))
        config.extra.setdefault("polyfills", []).append(_SEARCH_WITHOUT_SERVER)
        config.extra["benchleaf"] = {
            "shop_name": self.book.shop_name,
            "as_of": self.book.as_of_words,
            "scripts": look.SCRIPTS,
        }
        return config

    def _hold_hand_written(self, config: MkDocsConfig) -> None:
        """Find what is wrong in hand-written pages while the last good site still stands."""
        files = {
            file.src_uri: Path(file.abs_src_path)
            for file in self._without_private(get_files(config), config)
            if file.abs_src_path and file.inclusion is not InclusionLevel.EXCLUDED
        }
        with use(self.language):
            if faults := byhand.faults(files, self.shop, self.book):
                raise _stopped(faults)

    def _shop_folder(self, config: MkDocsConfig) -> Path:
        return Path(config.docs_dir) / self.config.shop

    def _read(self, config: MkDocsConfig) -> Shop:
        loaded = load_shop(self._shop_folder(config))
        if loaded.shop is None:
            raise _stopped(loaded.findings)
        return loaded.shop

    def _as_of(self) -> dt.date:
        try:
            return as_of(cast("str | dt.date | None", self.config.as_of))
        except NoDateError as error:
            raise PluginError(f"as_of: {error}") from None

    def _made(self, config: MkDocsConfig) -> Book:
        try:
            return book.make(self.shop, self._as_of(), self.language, self._printing(config))
        except PressError as error:
            raise PluginError(f"print: {error}") from None

    def _printing(self, config: MkDocsConfig) -> Printing | None:
        if not self.config.print:
            return None
        address = "" if self._serving else config.site_url or ""
        beside = Path(config.config_file_path or config.docs_dir).parent
        return Printing(address, beside / ".cache" / "benchleaf", self.config.marked)

    def _language(self) -> str:
        try:
            return language_of(self.shop, self.config.language)
        except NoSuchLanguageError as error:
            raise PluginError(str(error)) from None

    def on_files(self, files: Files, config: MkDocsConfig) -> Files:
        """Keep the shop's own files out of the site, and add what was made."""
        files = self._without_private(files, config)
        self._add_pages(files, config)
        self._add_assets(files, config)
        config.nav = config.nav or self._navigation(files)
        return files

    def _without_private(self, files: Files, config: MkDocsConfig) -> Files:
        folder = self._shop_folder(config)
        for file in files:
            if file.abs_src_path and byhand.is_private(Path(file.abs_src_path), folder):
                file.inclusion = InclusionLevel.EXCLUDED
        return files

    def _add_pages(self, files: Files, config: MkDocsConfig) -> None:
        listed = {file for entry in self.book.navigation for file in entry.files}
        for page in self.book.pages:
            level = InclusionLevel.INCLUDED if page.file in listed else InclusionLevel.NOT_IN_NAV
            files.append(File.generated(config, page.file, content=page.markdown, inclusion=level))

    def _add_assets(self, files: Files, config: MkDocsConfig) -> None:
        for asset in self.book.assets:
            files.append(File.generated(config, asset.path, content=asset.content))
        for address, path in look.files():
            files.append(File.generated(config, address, abs_src_path=str(path)))

    def _navigation(self, files: Files) -> list[dict[str, object]]:
        made = {page.file for page in self.book.pages}
        written = sorted(
            f.src_uri
            for f in files.documentation_pages()
            if f.src_uri not in made and f.inclusion is not InclusionLevel.EXCLUDED
        )
        return [_entry(entry, written) for entry in self.book.navigation]

    def on_page_markdown(
        self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files
    ) -> str:
        """Set the shop's facts into hand-written pages, and spare made ones from being read."""
        del config, files
        if page.file.generated_by:
            markdown, self._aside[page.file.src_uri] = aside.set_aside(markdown)
            return markdown
        with use(self.language):
            return facts.fill(markdown, self.shop, page.file.src_uri).markdown

    @event_priority(100)
    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Put a made page together again, before anybody else looks at it."""
        del config, files
        blocks = self._aside.pop(page.file.src_uri, ())
        page.present_anchor_ids = (page.present_anchor_ids or set()) | aside.anchors(blocks)
        return aside.put_back(html, blocks)

    @event_priority(1)  # just before the search, which comes at 0
    def _show_words(self, context: Context, /, *, page: Page, **_rest: object) -> Context:
        """Let the search index read a page's words alone: every tag took a third of a build."""
        if page.file.generated_by:
            self._whole[page.file.src_uri] = page.content or ""
            page.content = aside.to_search(page.content or "")
        return context

    @event_priority(-1)
    def _show_whole(self, context: Context, /, *, page: Page, **_rest: object) -> Context:
        page.content = self._whole.pop(page.file.src_uri, page.content)
        return context

    on_page_context = CombinedEvent(_show_words, _show_whole)

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
        """Date every page by the data, so that two builds of the same data are the same."""
        del config
        for file in files.documentation_pages():
            if file.page is not None:
                file.page.update_date = self.book.as_of
                file.page.edit_url = None
        return nav

    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Let the theme's templates use the wording catalogue."""
        del config, files
        language = self.language

        @cache  # every page says the same few dozen
        def gettext(message: str) -> str:
            with use(language):
                return _(message)

        def plural(one: str, many: str, number: int) -> str:
            with use(language):
                return ngettext(one, many, number)

        env.add_extension("jinja2.ext.i18n")
        env.install_gettext_callables(gettext, plural, newstyle=True)  # type: ignore[attr-defined]
        return env

    @event_priority(-100)
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Leave the search index as a script too, for a site opened from a folder."""
        index = Path(config.site_dir) / "search" / "search_index.json"
        if index.is_file():
            script = "var __index = " + index.read_text(encoding="utf-8")
            index.with_suffix(".js").write_text(script, encoding="utf-8")

    def on_serve(
        self, server: LiveReloadServer, *, config: MkDocsConfig, builder: object
    ) -> LiveReloadServer:
        """Build again when the shop, a template or the look changes."""
        del builder
        for folder in (self._shop_folder(config), resource("templates"), resource("site_config")):
            server.watch(str(folder))
        return server


def _entry(entry: Entry, hand_written: list[str]) -> dict[str, object]:
    files = [*entry.files, *hand_written] if entry.takes_hand_written else [*entry.files]
    return {entry.title: files[0] if len(files) == 1 else files}


def _stopped(findings: tuple[Finding, ...]) -> PluginError:
    return PluginError("\n" + "\n\n".join((as_terminal(findings, colour=False), tally(findings))))
