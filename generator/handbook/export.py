"""The handbook as a folder of plain Markdown and assets, for any static-site generator.

Links between generated pages end in ``.html`` and are relative, so the generator that takes the
folder must keep file names (``use_directory_urls: false`` and its like).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from generator.ground.resources import resource
from generator.ground.wording import _
from generator.handbook import byhand, look
from generator.handbook.links import way_up
from generator.handbook.page import Book, Page
from generator.shop.shop import Shop


class NotEmptyError(ValueError):
    """The target holds something already, which an export never writes over."""


def write(book: Book, shop: Shop, hand_written: Mapping[str, Path], target: Path) -> int:
    """Write a handbook into an empty folder.

    Parameters
    ----------
    book
        The handbook.
    shop
        The shop it was made from, for facts in hand-written pages.
    hand_written
        What is written by hand, by its path below the folder of pages
        (:func:`generator.handbook.byhand.files_in`); held against the book already.
    target
        The folder to fill; made if it is not there.

    Returns
    -------
    int
        How many files were written.

    Raises
    ------
    NotEmptyError
        If the folder holds anything.
    """
    if target.exists() and any(target.iterdir()):
        raise NotEmptyError(_("{folder} is not empty; name a new folder.").format(folder=target))
    files = dict(_files(book, shop, hand_written))
    for name, content in files.items():
        place = target / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)
    return len(files)


def _files(book: Book, shop: Shop, hand_written: Mapping[str, Path]) -> Iterator[tuple[str, bytes]]:
    for name, path in hand_written.items():
        yield name, byhand.content_of(name, path, shop)
    for page in book.pages:
        yield page.file, _with_scripts(page).encode()
    for asset in book.assets:
        yield asset.path, asset.content
    for address, path in look.plain_files():
        yield address, path.read_bytes()


def _with_scripts(page: Page) -> str:
    """A page that calls for its own scripts, whatever stands round it."""
    up = way_up(page.path)
    calls = (f'<script src="{up}{name}" defer></script>' for name in look.scripts_of(page.kind))
    ink = [_inks()] if "<svg" in page.body else []
    return "\n".join([page.markdown.rstrip("\n"), "", *ink, *calls, ""])


@cache
def _inks() -> str:
    """The colours that drawings name, so that none is black all over where no sheet is called for.

    Any sheet that sets them wins: ``:where`` counts for nothing.
    """
    tokens = (resource("site_config") / "assets" / "css" / "tokens.css").read_text("utf-8")
    light = re.search(r":root (\{.*?\})", tokens, re.DOTALL)
    assert light
    return f"<style>:where(:root) {' '.join(light[1].split())}</style>"
