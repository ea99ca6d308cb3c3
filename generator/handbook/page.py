"""A handbook is pages, assets and a short navigation: nothing here knows what publishes it."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from generator.ground.finding import Finding
from generator.ground.origin import Origin

_UNDER = {
    "cards": "stations/index.html",
    "machines": "stations/index.html",
    "polymers": "material/index.html",
    "containers": "material/index.html",
    "moulds": "material/index.html",
    "blends": "material/index.html",
    "roles": "people/index.html",
    "onboarding": "people/index.html",
    "assessment": "hazards.html",
}
"""The entry of the navigation that leads to the pages of a folder without one of its own."""


def _under(path: str) -> str:
    """The entry of the navigation that a page outside it belongs to, or ""."""
    for folder in ("running/stages", "running/upkeep", "material/batches"):
        if path.startswith(f"{folder}/"):
            return f"{folder}.html"
    return _UNDER.get(path.split("/", maxsplit=1)[0], "")


@dataclass(frozen=True, slots=True)
class Page:
    """One page as Markdown.

    ``path`` is where it lies, without its ending (``stations/granulator``). ``number`` is the
    sheet number in its title block. ``origin`` is the record it was made from.
    """

    path: str
    title: str
    kind: str
    number: str
    body: str
    origin: Origin | None = None

    @property
    def file(self) -> str:
        """The Markdown file's path."""
        return f"{self.path}.md"

    @property
    def address(self) -> str:
        """The page's address below the site's root."""
        return f"{self.path}.html"

    @property
    def markdown(self) -> str:
        """The page with the front matter every renderer understands."""
        meta = {
            "title": self.title,
            "kind": self.kind,
            "sheet_title": self.title,
            "sheet_number": self.number,
        }
        if under := _under(self.path):
            meta["under"] = under
        lines = [f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in meta.items()]
        return "\n".join(["---", *lines, "---", "", self.body])


@dataclass(frozen=True, slots=True)
class Asset:
    """A file that is published as it is."""

    path: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the navigation: one page, or a few under one title.

    ``takes_hand_written`` marks the entry that hand-written pages join.
    """

    title: str
    files: tuple[str, ...]
    takes_hand_written: bool = False


@dataclass(frozen=True, slots=True)
class Book:
    """A whole handbook, ready for whatever publishes it.

    ``navigation`` is short, in reading order; every other page is reached from one of its.
    """

    shop_name: str
    as_of: str
    as_of_words: str
    """The same date in the reader's language."""
    pages: tuple[Page, ...]
    assets: tuple[Asset, ...]
    navigation: tuple[Entry, ...]
    findings: tuple[Finding, ...] = field(default=())
