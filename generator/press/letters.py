"""Letters that can be set: what no installed font draws is told, and a box stands for it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib import resources

import uharfbuzz as hb  # type: ignore[import-untyped]

from generator.ground.wording import _

FONTS = (
    "fontpkg_atkinson_hyperlegible",
    "fontpkg_noto_sans",
    "fontpkg_noto_sans_arabic",
    "fontpkg_noto_sans_devanagari",
)
"""The packages that carry the type sheets are set in, the first first."""

STAND_IN = "\u25af"
"""Stands for a letter that no font has."""

_INVISIBLE = frozenset("\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\ufeff")


@cache
def _covered() -> frozenset[int]:
    found: set[int] = set()
    for package in FONTS:
        for file in (resources.files(package) / "files").iterdir():
            if file.name.endswith(".ttf") and "Italic" not in file.name:
                found |= set(hb.Face(file.read_bytes()).unicodes)
    return frozenset(found)


def missing(text: str) -> tuple[str, ...]:
    """Letters of the text that no installed font draws, each once."""
    if text.isascii():
        return ()
    return tuple(dict.fromkeys(c for c in text if ord(c) not in _covered() and c not in _INVISIBLE))


@cache
def _stand_in() -> str:
    return STAND_IN if ord(STAND_IN) in _covered() else "?"


def settable(text: str) -> str:
    """The text with a stand-in for each letter that no installed font draws."""
    kept = "".join(c if c.isprintable() or c in _INVISIBLE else " " for c in text)
    for letter in missing(kept):
        kept = kept.replace(letter, _stand_in())
    return kept


def untold(words: Iterable[str]) -> str:
    """What the print room must know of letters that cannot be set, "" where all can."""
    lost = dict.fromkeys(letter for text in words for letter in missing(text))
    if not lost:
        return ""
    says = _("No installed font has {letters}: a box is printed for each.")
    return says.format(letters=" ".join(lost))
