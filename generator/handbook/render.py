"""From templates to Markdown: every template is taken in once, whatever page it is made for."""

from __future__ import annotations

import datetime as dt
import json
import re
import unicodedata
from contextlib import suppress
from functools import lru_cache
from typing import Any

from babel.numbers import format_decimal
from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup, escape

from generator.ground import units
from generator.ground.origin import Origin
from generator.ground.prices import money
from generator.ground.resources import resource
from generator.ground.wording import _, day_words, locale, ngettext
from generator.ground.working import Source
from generator.handbook import amounts, words
from generator.handbook.links import address_of, way_up, working_address, working_anchor
from generator.handbook.ornaments import ORNAMENTS
from generator.shop.fields import Record

_MARKDOWN_MARKS = re.compile(r"([\\`*_{}\[\]<>#|~!&])")


_BREAKS = re.compile(r"[ \t\r\n]+")


def as_markdown(text: object) -> Markup:
    """Text that stands in a Markdown heading as it is, whatever marks it holds."""
    collapsed = _BREAKS.sub(" ", str(text))  # but not the narrow space before a unit
    return Markup(_MARKDOWN_MARKS.sub(lambda m: f"&#{ord(m[1])};", collapsed))


def quantity(value: float | None, unit: str) -> str:
    """A number with its unit, or a plain word where the shop has not said."""
    return _("not recorded") if value is None else units.show(value, unit)


def number(value: float, digits: int = 1) -> str:
    """A number in the manner of the reader's language."""
    return format_decimal(round(value, digits), locale=locale())


def day(date: dt.date) -> str:
    """A date in the manner of the reader's language."""
    return day_words(date)


def where(place: Origin | Source) -> str:
    """Where a figure comes from: the shop's file and line, or the table's source."""
    return f"{place.file}:{place.line}" if isinstance(place, Origin) else place.cite


class _WayUp:
    """What leads from the page being made back to the site's root (``../``)."""

    steps = ""

    def __html__(self) -> str:
        return self.steps


_UP = _WayUp()


def _href(record: Record) -> str:
    """The link from the page being made to a record's page."""
    return f"{_UP.steps}{address_of(record)}"


def _said(message: str, /, **facts: object) -> Markup:
    """A fixed string with its facts escaped, by a shorter way than Jinja's: pages say hundreds."""
    return Markup(_(message)) % facts


_SYNTAX: dict[str, Any] = {
    "extensions": ["jinja2.ext.i18n", "jinja2.ext.do"],
    "autoescape": True,
    "trim_blocks": True,
    "lstrip_blocks": True,
}


class _Compiled(FileSystemBytecodeCache):
    """Templates as an earlier build compiled them, which is a quarter of what a small one takes.

    Each is used only while its text, how it is read, Jinja and Python are the same.
    """

    def get_source_checksum(self, source: str) -> str:
        return super().get_source_checksum(f"{_SYNTAX}{source}")

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):  # what cannot be kept is compiled again
            super().dump_bytecode(bucket)


def _compiled() -> _Compiled | None:
    """Where this account keeps what may be lost, if anywhere."""
    try:
        return _Compiled()
    except (OSError, RuntimeError):
        return None


@lru_cache(maxsize=1)
def _environment() -> Environment:
    env = Environment(
        loader=FileSystemLoader(resource("templates") / "pages"),
        undefined=StrictUndefined,
        auto_reload=False,
        bytecode_cache=_compiled(),
        **_SYNTAX,
    )
    env.install_gettext_callables(_, ngettext, newstyle=True)  # type: ignore[attr-defined]
    env.filters.update(
        slug=slug,
        ticks=ticks,
        md=as_markdown,
        q=quantity,
        number=number,
        money=money,
        day=day,
        where=where,
        working_anchor=working_anchor,
    )
    env.filters.update({function.__name__: function for function in amounts.FILTERS})
    env.globals.update(
        _=_said,
        root=_UP,
        href=_href,
        working_address=working_address,
        **{
            function.__name__: function
            for function in (*ORNAMENTS, *words.SENTENCES, *amounts.SENTENCES)
        },
    )
    # Loaded once, so that no page pays for taking them in
    env.globals.update(
        {
            name: env.get_template(f"_{name}.md.j2").module
            for name in ("parts", "working", "figures")
        }
    )
    return env


def forget_templates() -> None:
    """Read the templates anew: for a served site whose templates were edited."""
    _environment.cache_clear()


def ticks(text: object) -> Markup:
    """A sentence in which what stands between backticks is set as it is written in a file."""
    return Markup(re.sub(r"`([^`]+)`", r"<code>\1</code>", str(escape(text))))


def slug(heading: object) -> str:
    """The anchor that Markdown gives a heading."""
    plain = unicodedata.normalize("NFKD", str(heading)).encode("ascii", "ignore").decode()
    return re.sub(r"[-\s]+", "-", re.sub(r"[^\w\s-]", "", plain).strip().lower())


_HEADING = ("# ", "## ", "### ")


def _blocks_kept_whole(text: str) -> str:
    """Take blank lines out of HTML blocks, and leave one on each side of a heading.

    Every CommonMark renderer ends an HTML block at a blank line.
    """
    lines = (line for line in text.splitlines() if line.strip())
    spaced = (f"\n{line}\n" if line.startswith(_HEADING) else line for line in lines)
    return "\n".join(spaced).strip() + "\n"


def render(template: str, path: str, **facts: Any) -> str:
    """Render one template for the page at ``path`` (``stations/granulator``)."""
    _UP.steps = way_up(path)
    return _blocks_kept_whole(_environment().get_template(f"{template}.md.j2").render(**facts))


def as_json(data: object) -> str:
    """JSON that is the same for the same data, and safe inside a script element."""
    return json.dumps(data, ensure_ascii=False, sort_keys=True).replace("<", "\\u003c")
