"""What a built page holds, read with the standard library's parser."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

SPOKEN = ("aria-label", "alt", "title", "placeholder", "data-l", "data-open-now")
"""Attributes whose value is read by or to somebody."""
_UNSPOKEN = ("script", "style")
_VOID = {
    "area",
    "base",
    "br",
    "col",
    "embed",
    "hr",
    "img",
    "input",
    "link",
    "meta",
    "source",
    "wbr",
}


@dataclass
class Seen(HTMLParser):
    """One page: its links, anchors, headings and every run of words a reader meets."""

    links: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    headings: list[str] = field(default_factory=list)
    title: str = ""
    language: str | None = None
    _open: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        self.links += [values[name] for name in ("href", "src", "xlink:href") if name in values]
        self.ids += [values[name] for name in ("id",) if name in values]
        self.ids += [values["name"]] if tag == "a" and "name" in values else []
        self.words += [values[name] for name in SPOKEN if values.get(name)]
        if tag == "html":
            self.language = values.get("lang")
        if tag == "h1":
            self.headings.append("")
        if tag not in _VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        while tag in self._open and self._open.pop() != tag:
            pass

    def handle_data(self, data: str) -> None:
        if any(tag in self._open for tag in _UNSPOKEN):
            return
        if self._open and self._open[-1] == "title" and "svg" not in self._open:
            self.title += data
        if "h1" in self._open:
            self.headings[-1] += data
        if data.strip():
            self.words.append(data)


def seen(page: Path | str) -> Seen:
    """Read a page, given as a path or as its text."""
    text = page.read_text(encoding="utf-8") if isinstance(page, Path) else page
    reader = Seen()
    reader.feed(text)
    reader.close()
    return reader
