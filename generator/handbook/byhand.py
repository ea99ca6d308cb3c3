"""What is written by hand beside the shop: which of it is published, and what is wrong in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

from generator.ground.finding import Finding, Severity, in_file_order
from generator.ground.origin import Origin
from generator.ground.textfile import read_text
from generator.ground.wording import _
from generator.handbook import facts, look
from generator.handbook.page import Book
from generator.shop.shop import Shop

_PAGES = (".md", ".markdown", ".mdown", ".mkdn", ".mkd")
_DATA = (".yml", ".yaml", ".csv", ".tsv", ".xls", ".xlsx", ".ods")
"""What a shop keeps its records in. Lists of people are kept so, and end up in odd places."""


def is_private(path: Path, shop_folder: Path) -> bool:
    """Whether a file must never be published: the shop's own folder, and data anywhere."""
    return path.suffix.lower() in _DATA or path.resolve().is_relative_to(shop_folder.resolve())


def folder_beside(shop_folder: Path) -> Path | None:
    """The folder of hand-written pages: the one around the shop's, where ``mkdocs.yml`` says so.

    A shop kept anywhere else has none, or its whole neighbourhood would be taken for pages.
    """
    pages = shop_folder.resolve().parent
    return pages if (pages.parent / "mkdocs.yml").is_file() else None


def files_in(pages: Path | None, shop_folder: Path) -> dict[str, Path]:
    """What is published of a folder, by its path below it; nothing hidden, nothing private."""
    if pages is None:
        return {}
    found = ((path.relative_to(pages), path) for path in sorted(pages.rglob("*")))
    return {
        name.as_posix(): path
        for name, path in found
        if path.is_file() and not _is_hidden(name) and not is_private(path, shop_folder)
    }


def _is_hidden(name: Path) -> bool:
    return any(part.startswith(".") for part in name.parts)


def faults(files: Mapping[str, Path], shop: Shop, book: Book | None = None) -> tuple[Finding, ...]:
    """Everything wrong in what is written by hand, in file order.

    Parameters
    ----------
    files
        What would be published, by its path below the folder of pages.
    shop
        The shop whose facts the pages ask for.
    book
        The generated handbook whose pages must not be written over; left out, that is not
        looked at.
    """
    taken = _addresses(book) if book else frozenset()
    found: list[Finding] = []
    for name, path in files.items():
        if address_of(name) in taken:
            found.append(_clash(name))
        if is_page(name):
            found += _filled(name, path, shop).faults
    return in_file_order(found)


def is_page(name: str) -> bool:
    """Whether a file is a page, and not a picture or the like."""
    return PurePosixPath(name).suffix.lower() in _PAGES


def content_of(name: str, path: Path, shop: Shop) -> bytes:
    """A file as it is published: a page with the shop's facts set in, anything else as it is."""
    return _filled(name, path, shop).markdown.encode() if is_page(name) else path.read_bytes()


def _filled(name: str, path: Path, shop: Shop) -> facts.Filled:
    text, unreadable = read_text(path, name)
    return facts.Filled("", tuple(unreadable)) if text is None else facts.fill(text, shop, name)


def address_of(name: str) -> str:
    """Where a hand-written file is published; ``README.md`` opens its folder."""
    path = PurePosixPath(name)
    if not is_page(name):
        return name
    stem = "index" if path.stem == "README" else path.stem
    return str(path.with_name(f"{stem}.html"))


def _addresses(book: Book) -> frozenset[str]:
    return frozenset(_made(book))


def _made(book: Book) -> Iterator[str]:
    for page in book.pages:
        yield page.address
    for asset in book.assets:
        yield asset.path
    for address, _path in look.files():
        yield address


def _clash(name: str) -> Finding:
    return Finding(
        "data.page-clash",
        Severity.FAULT,
        Origin(name),
        _("{file} is written by hand where a page or file of that name is made.").format(file=name),
        _("Give it another name or folder."),
        "notes/our-evenings.md",
    )
