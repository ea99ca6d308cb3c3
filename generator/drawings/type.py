"""How wide text is in the handbook's own type, and how it breaks into lines that fit.

Widths come from shaping with the fonts' real metrics, kerning included: summed advance
widths were wrong by up to a third in some scripts.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources

import uharfbuzz as hb  # type: ignore[import-untyped]

ASCENT = 0.72
"""Height of a capital above the baseline [em], for setting text in the middle of a box."""

CAPITAL = 0.668
"""Height of a capital of our own type [em]: what a height of letters is measured by."""

LEADING = 1.25
"""From one baseline to the next [em]."""

_SPACE = re.compile(r"[ \t\n\r]+")
_SOFT_HYPHEN = "\u00ad"
_BREAK_AFTER = "-/\u2013\u00b7"
_UNKNOWN_ADVANCE = 0.6
_NEAR = 0.02
_JOINED = frozenset({"Cf", "Mn", "Mc", "Me"})
_OWN = ("fontpkg_atkinson_hyperlegible", "AtkinsonHyperlegible-{weight}.ttf")
_FALLBACKS = (
    ("fontpkg_noto_sans", "NotoSans[wdth,wght].ttf"),
    ("fontpkg_noto_sans_arabic", "NotoSansArabic[wdth,wght].ttf"),
    ("fontpkg_noto_sans_devanagari", "NotoSansDevanagari[wdth,wght].ttf"),
)
"""What sets letters the first has not, in the order in which a sheet's own type is given."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Text broken into lines. ``cut`` tells that some had no room and an ellipsis stands for it."""

    lines: tuple[str, ...]
    size: float
    bold: bool
    cut: bool

    @property
    def width(self) -> float:
        """Of the widest line."""
        return max((width(line, self.size, self.bold) for line in self.lines), default=0.0)

    @property
    def height(self) -> float:
        """From the top of the first line to the foot of the last."""
        return len(self.lines) * self.size * LEADING


class Face:
    """One font file, shaped at one em."""

    def __init__(self, data: bytes, weight: float | None = None) -> None:
        face = hb.Face(data)
        self.font = hb.Font(face)
        if weight is not None:
            self.font.set_variations({"wght": weight})
        self.em: int = face.upem
        self.covers = frozenset(face.unicodes)

    def advance(self, text: str) -> float:
        buffer = hb.Buffer()
        buffer.add_str(text)
        buffer.guess_segment_properties()
        hb.shape(self.font, buffer)
        return float(sum(glyph.x_advance for glyph in buffer.glyph_positions or ())) / self.em


@cache
def _own(bold: bool) -> Face:
    package, name = _OWN
    weight = "Bold" if bold else "Regular"
    return Face((resources.files(package) / "files" / name.format(weight=weight)).read_bytes())


@cache
def _fallback(package: str, name: str, bold: bool) -> Face | None:
    try:
        data = (resources.files(package) / "files" / name).read_bytes()
    except (ModuleNotFoundError, FileNotFoundError):
        return None
    return Face(data, 700 if bold else 400)


@cache
def _faces(bold: bool) -> tuple[Face, ...]:
    """Every face there is, the type's own first."""
    others = (_fallback(package, name, bold) for package, name in _FALLBACKS)
    return (_own(bold), *(face for face in others if face))


@lru_cache(maxsize=65536)
def _ems(text: str, bold: bool) -> float:
    own = _own(bold)
    if own.covers.issuperset(map(ord, text)):
        return own.advance(text)
    return sum(
        face.advance(run) if face else sum(map(_guess, run)) for face, run in runs(text, bold)
    )


def runs(text: str, bold: bool = False) -> Iterator[tuple[Face | None, str]]:
    """The text in stretches of one face, None for letters that no face has.

    What joins or marks a letter stays with it where its face has both, so that scripts that are
    shaped are shaped whole.
    """
    start, face = 0, None
    for place, letter in enumerate(text):
        fitting = _face_of(letter, face, bold)
        if place and fitting is not face:
            yield face, text[start:place]
            start = place
        face = fitting
    if text:
        yield face, text[start:]


def _face_of(letter: str, before: Face | None, bold: bool) -> Face | None:
    if before and ord(letter) in before.covers and unicodedata.category(letter) in _JOINED:
        return before
    return next((face for face in _faces(bold) if ord(letter) in face.covers), None)


def _guess(letter: str) -> float:
    """An advance on the wide side for a letter no installed font has [em]."""
    if unicodedata.combining(letter) or unicodedata.category(letter) == "Cf":
        return 0.0
    return 1.0 if unicodedata.east_asian_width(letter) in "WF" else _UNKNOWN_ADVANCE


def width(text: str, size: float, bold: bool = False) -> float:
    """Width of one line of text, in the unit of ``size``."""
    return _ems(text, bold) * size


def wrap(
    text: str, size: float, max_width: float, max_lines: int = 0, bold: bool = False
) -> list[str]:
    """Break text into lines no wider than ``max_width``; see :func:`fit`."""
    return list(fit(text, size, max_width, max_lines, bold).lines)


def fit(text: str, size: float, max_width: float, max_lines: int = 0, bold: bool = False) -> Fit:
    """Break text into at most ``max_lines`` lines (0 for any number) of at most ``max_width``.

    A word is broken only where it is wider than a whole line by itself: at a soft hyphen or
    after a hyphen or slash if it has one, else anywhere, with a hyphen. What has no room is
    cut at an ellipsis and reported; the size is never made smaller.
    """
    lines = _lines(text, size, max_width, bold)
    cut = bool(max_lines) and len(lines) > max_lines
    if cut:
        last = shorten(" ".join(lines[max_lines - 1 :]), size, max_width, bold, always=True)
        lines = [*lines[: max_lines - 1], last]
    return Fit(tuple(lines), size, bold, cut)


def shorten(
    text: str, size: float, max_width: float, bold: bool = False, *, always: bool = False
) -> str:
    """The text, or as much of it as stands in ``max_width`` with an ellipsis after it."""
    if not always and width(text, size, bold) <= max_width:
        return text
    kept = text[: _longest(text, size, max_width - width("\u2026", size, bold), bold)]
    words = kept.rpartition(" ")[0]
    return f"{words if 2 * len(words) > len(kept) else kept.rstrip()}\u2026"


def _lines(text: str, size: float, max_width: float, bold: bool) -> list[str]:
    lines: list[str] = []
    line, taken, space = "", 0.0, width(" ", size, bold)
    for word in _words(text):
        plain = word.replace(_SOFT_HYPHEN, "")
        across = width(plain, size, bold)
        longer, reach = (f"{line} {plain}", taken + space + across) if line else (plain, across)
        if _stands(longer, reach, size, max_width, bold):
            line, taken = longer, reach
            continue
        if line:
            lines.append(line)
        *broken, line = _pieces(word, size, max_width, bold)
        lines += broken
        taken = width(line, size, bold)
    return [*lines, line] if line else lines


def _stands(line: str, reach: float, size: float, max_width: float, bold: bool) -> bool:
    """Whether a line fits. Its words' widths tell, and only a near thing is shaped as a whole."""
    if abs(reach - max_width) > _NEAR * max_width:
        return reach <= max_width
    return width(line, size, bold) <= max_width


def _words(text: str) -> list[str]:
    """Split at plain white space only: a no-break space keeps a figure with its unit."""
    return [word for word in _SPACE.split(text) if word]


def _pieces(word: str, size: float, max_width: float, bold: bool) -> list[str]:
    """A word in as many pieces as it needs to stand in ``max_width``."""
    pieces: list[str] = []
    while width(word.replace(_SOFT_HYPHEN, ""), size, bold) > max_width:
        kept, hyphen = _break(word, size, max_width, bold)
        pieces.append(word[:kept].replace(_SOFT_HYPHEN, "") + hyphen)
        word = word[kept:]
    return [*pieces, word.replace(_SOFT_HYPHEN, "")]


def _break(word: str, size: float, max_width: float, bold: bool) -> tuple[int, str]:
    """Where to break a word that is too wide, and the hyphen that shows it."""
    room = max_width - width("-", size, bold)
    most = max(1, _longest(word, size, room, bold))
    for kept in range(most, 1, -1):
        if word[kept - 1] == _SOFT_HYPHEN:
            return kept, "-"
        if word[kept - 1] in _BREAK_AFTER:
            return kept, ""
    if unicodedata.east_asian_width(word[most - 1]) not in "WF":
        return most, "-"
    return max(1, _longest(word, size, max_width, bold)), ""


def _longest(text: str, size: float, room: float, bold: bool) -> int:
    """How many letters from the start stand in ``room``, never parting a letter from its accent."""
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        fits = width(text[:middle].replace(_SOFT_HYPHEN, ""), size, bold) <= room
        low, high = (middle, high) if fits else (low, middle - 1)
    while 0 < low < len(text) and unicodedata.combining(text[low]):
        low -= 1
    return low
