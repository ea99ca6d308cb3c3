"""The handbook as a folder of plain Markdown and assets, for any static-site generator.

Links between pages end in ``.html`` and are relative, so the generator that takes the folder
must keep file names (``use_directory_urls: false`` and its like).
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from generator.ground.resources import resource
from generator.ground.wording import _
from generator.handbook import facts
from generator.handbook.page import Book
from generator.shop.shop import Shop

_SHEETS = ("tokens", "type", "parts", "print")
"""Style sheets that know no theme."""


class NotEmptyError(ValueError):
    """The target holds something already, which an export never writes over."""


def write(book: Book, shop: Shop, shop_folder: Path, target: Path) -> int:
    """Write a handbook into an empty folder.

    Parameters
    ----------
    book
        The handbook.
    shop
        The shop it was made from, for facts in hand-written pages.
    shop_folder
        Where the shop was read from; hand-written pages lie beside it.
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
    count = 0
    for path, content in _files(book, shop, shop_folder):
        place = target / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)
        count += 1
    return count


def _files(book: Book, shop: Shop, shop_folder: Path) -> Iterator[tuple[PurePosixPath, bytes]]:
    for page in book.pages:
        yield PurePosixPath(page.file), page.markdown.encode()
    for asset in book.assets:
        yield PurePosixPath(asset.path), asset.content
    yield from _by_hand(shop, shop_folder)
    yield from _look()


def _by_hand(shop: Shop, shop_folder: Path) -> Iterator[tuple[PurePosixPath, bytes]]:
    pages = shop_folder.parent
    for path in sorted(pages.rglob("*")):
        if path.is_file() and not path.is_relative_to(shop_folder):
            name = path.relative_to(pages).as_posix()
            if path.suffix == ".md":
                text = facts.fill(path.read_text(encoding="utf-8"), shop, name).markdown
                yield PurePosixPath(name), text.encode()
            else:
                yield PurePosixPath(name), path.read_bytes()


def _look() -> Iterator[tuple[PurePosixPath, bytes]]:
    root = resource("site_config")
    for sheet in _SHEETS:
        name = f"assets/css/{sheet}.css"
        yield PurePosixPath(name), (root / name).read_bytes()
    for font in sorted((root / "assets" / "fonts").iterdir()):
        yield PurePosixPath(f"assets/fonts/{font.name}"), font.read_bytes()
