"""Reads what is marked on a part (``>PC+ABS<``, ``PP-MD30``) and says what it is made of.

A mark is judged by what the material is. A never-heated component makes the whole never
heated, at any share, and what cannot be read counts as unknown, which is refused.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Literal

from generator.ground.nearest import nearest
from generator.ground.wording import N_, _
from generator.reference import tables
from generator.reference.records import Cause, Row

Refusal = Literal["", "never", "unknown", "no-figures"]

_FLAME_RETARDANT = re.compile(r"FR(?:\(([0-9+]+)\)|([0-9]{2}))?")
_FILLER = re.compile(r"(ME|[BCDEGKLMNPQRSTWXZ])([BCDFGHKLMNPRSTVWXY])?(\d{1,3})?")
_GLUED = re.compile(r"(.+?)((?:ME|[BCDEGKLMNPQRSTWXZ])[BCDFGHKLMNPRSTVWXY]\d{1,3})")
_SHARE = re.compile(r"\d+(?:\.\d+)?\s*%")
_NUMBER_FIRST = re.compile(r"0?([1-7])[\s-]*\(?(\D[^()]*)\)?")
_NUMBER_LAST = re.compile(r"(.*\S[\s-]|.*[^\s\d(-])[\s-]*\(?0?([1-7])\)?")
_NUMBER_ALONE = re.compile(r"0([1-7])")
_TRIANGLES = {0x2673 + n: str(n + 1) for n in range(7)}  # the numbered triangles, ♳ to ♹
_DASHES = re.compile(r"[\u2010-\u2015\u2212_]")
_LONGEST = 120  # no mark is longer; keeps a pasted page from being taken apart

_NO_FIGURES = Cause(
    key="no-figures",
    title=N_("No figures"),
    reason=N_("Known by name, but these tables hold no process figures for it."),
    source="workshop-default",
    cite=N_("Trade practice"),
    status="assumption",
)


class Filler(Row):
    """A filler: its mark (``MD``), share by mass [%] or None, and what it is in words."""

    code: str
    percent: float | None
    name: str


class Material(Row):
    """What a mark says.

    ``mark`` is what was written, ``code`` the same in one spelling, ``bases`` the codes of its
    polymers. ``conditions`` are the keys of what else it holds (``foam``, ``glass-filled``).
    ``refusal`` is ``never`` (never heated), ``unknown`` (not identified, so never heated),
    ``no-figures`` (a known code without figures, so not heated on these tables' word) or ""
    and ``causes`` says why. ``unread`` holds the pieces that are no known mark and
    ``suggestion`` the nearest one, "" where none is near.
    """

    mark: str
    code: str
    bases: tuple[str, ...]
    fillers: tuple[Filler, ...] = ()
    flame_retardants: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    refusal: Refusal = ""
    causes: tuple[Cause, ...] = ()
    unread: tuple[str, ...] = ()
    suggestion: str = ""

    @property
    def known(self) -> bool:
        """Whether every piece of the mark could be read."""
        return self.refusal != "unknown" and not self.unread

    @property
    def never_heated(self) -> bool:
        return self.refusal in ("never", "unknown")

    @property
    def refused(self) -> bool:
        """Whether these tables give no leave to heat it, for whatever reason."""
        return self.refusal != ""

    @property
    def compound(self) -> bool:
        return len(self.bases) > 1

    @property
    def reason(self) -> str:
        """Why it is refused, in the current language; "" where it is not."""
        return " ".join(f"{_(cause.title)}: {_(cause.reason)}" for cause in self.causes)


def identify(mark: str, contains: Iterable[str] = ()) -> Material:
    """What a mark says, with whatever else is known of the thing.

    ``mark`` is a code of ISO 1043 or ISO 11469 (``PE-HD``, ``>PC+ABS-FR(40)<``, ``PVC-P``),
    a usual other name (``HDPE``) or a number of ASTM D7611; case and spaces do not matter.
    ``contains`` are words for what the mark does not say: a key of the never-heat conditions
    (``foam``, ``painted``) or one of its other words (``glass fibre``).

    Never raises: what cannot be read is ``unknown``, with the nearest known mark.
    """
    return _identify(mark, tuple(contains))


@lru_cache(maxsize=1024)
def _identify(mark: str, contains: tuple[str, ...]) -> Material:
    read = _Read.joined(_component(part) for part in _components(_tidy(mark)))
    held = [_condition(word) for word in contains]
    read = _Read.joined((read, *held))
    causes = _causes(read)
    return Material(
        mark=mark,
        code=_spelled(read),
        bases=read.bases,
        fillers=read.fillers,
        flame_retardants=read.flame_retardants,
        conditions=read.conditions,
        refusal=_refusal(causes),
        causes=causes,
        unread=read.unread,
        suggestion=_suggestion(read),
    )


# --- what was read -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Read:
    """The pieces of a mark, told apart."""

    bases: tuple[str, ...] = ()
    fillers: tuple[Filler, ...] = ()
    flame_retardants: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()

    @classmethod
    def joined(cls, reads: Iterable[_Read]) -> _Read:
        every = tuple(reads)
        return cls(
            bases=_once(b for read in every for b in read.bases),
            fillers=tuple(f for read in every for f in read.fillers),
            flame_retardants=_once(f for read in every for f in read.flame_retardants),
            conditions=_once(c for read in every for c in read.conditions),
            unread=_once(u for read in every for u in read.unread),
        )


def _once(items: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(items))


def _causes(read: _Read) -> tuple[Cause, ...]:
    """Why it is refused, the surest reason first."""
    known = tables.codes()
    keys = [known[base].cause for base in read.bases if known[base].cause] + [*read.conditions]
    if read.unread or not read.bases:
        keys.append("unknown")
    causes = tuple(tables.causes()[key] for key in _once(keys))
    without = not causes and not all(known[base].figures for base in read.bases)
    return (_NO_FIGURES,) if without else causes


def _refusal(causes: tuple[Cause, ...]) -> Refusal:
    keys = {cause.key for cause in causes}
    if keys - {"unknown", "number-7", "no-figures"}:
        return "never"
    if keys & {"unknown", "number-7"}:
        return "unknown"
    return "no-figures" if keys else ""


def _spelled(read: _Read) -> str:
    fillers = [f"{f.code}{f.percent:g}" if f.percent else f.code for f in read.fillers]
    return "-".join(["+".join(read.bases), *fillers, *read.flame_retardants]).strip("-")


def _suggestion(read: _Read) -> str:
    for piece in () if read.bases else read.unread:
        if found := nearest(piece, _names()):
            return _names()[found].code
    return ""


# --- taking a mark apart -----------------------------------------------------------------------


def _tidy(mark: str) -> str:
    text = unicodedata.normalize("NFKC", mark[:_LONGEST]).upper().translate(_TRIANGLES)
    text = _DASHES.sub("-", text).replace(">", " ").replace("<", " ")
    return " ".join(text.split())


def _components(text: str) -> list[str]:
    """The parts of a blend: ``PC+ABS``, ``PC/ABS``, ``70 % PP, 30 % PE-HD``."""
    parts = [_SHARE.sub("", part).strip() for part in _split(text, "+/&,;")]
    return [part for part in parts if part]


def _split(text: str, separators: str) -> list[str]:
    """Split outside brackets."""
    parts, depth = [""], 0
    for letter in text:
        depth = max(0, depth + (letter == "(") - (letter == ")"))
        if letter in separators and not depth:
            parts.append("")
        else:
            parts[-1] += letter
    return parts


def _component(text: str) -> _Read:
    text = _NUMBER_ALONE.sub(r"\1", text) if len(text) == 2 else text
    if text in tables.raw("codes")["other_marks"]:
        return _Read(conditions=("number-7",))
    if text.casefold() in tables.conditions():
        return _condition(text)
    return _whole(text) or _with_number(text) or _pieces(text)


def _whole(text: str) -> _Read | None:
    """A mark that is a known name as it stands."""
    name = _foams().get(text) or _names().get(_key(text))
    if name is None:
        return None
    return _Read(bases=(name.code,), conditions=(name.condition,) if name.condition else ())


def _with_number(text: str) -> _Read | None:
    """A name beside its recycling number: ``5 PP``, ``PLA (7)``. A wrong number is not believed."""
    if first := _NUMBER_FIRST.fullmatch(text):
        number, rest = first[1], first[2]
    elif last := _NUMBER_LAST.fullmatch(text):
        rest, number = last[1], last[2]
    else:
        return None
    read = _whole(rest.strip())
    if read is None or int(number) == _number(read.bases[0]):
        return read
    return _Read.joined((read, _Read(unread=(text,))))


def _number(base: str) -> int:
    polymer = tables.polymers().get(base)
    return polymer.recycling_code if polymer else 7


def _pieces(text: str) -> _Read:
    """A base and what stands behind it: ``PP-MD30``, ``PA6 GF30``, ``(PC+ABS)-GF10``."""
    parts = [p for p in _split(re.sub(r"(?<!FR)\(", "-(", text), "- ") if p]
    if not parts:
        return _Read()
    if _bracketed(parts[0]):
        base, rest = _Read.joined(map(_component, _components(parts[0][1:-1]))), parts[1:]
    else:
        base, rest = _longest_base(parts)
    behind = (bit for part in rest for bit in _opened(part))
    return _Read.joined((base, *map(_qualifier, behind)))


def _bracketed(part: str) -> bool:
    return part.startswith("(") and part.endswith(")")


def _opened(part: str) -> list[str]:
    return _split(part[1:-1], "+") if _bracketed(part) else [part]


def _longest_base(parts: list[str]) -> tuple[_Read, list[str]]:
    """The longest run of leading pieces that is a known name, and what is left."""
    for count in range(len(parts), 0, -1):
        if read := _whole("-".join(parts[:count])):
            return read, parts[count:]
    if (glued := _GLUED.fullmatch(parts[0])) and (read := _whole(glued[1])):
        return read, [glued[2], *parts[1:]]
    return _Read(), parts


def _qualifier(piece: str) -> _Read:
    """A piece that is not the base: another polymer, a filler, a flame retardant, or nothing."""
    if read := _whole(piece):
        return read
    if _FLAME_RETARDANT.fullmatch(piece):
        return _Read(flame_retardants=(piece,), conditions=("flame-retardant",))
    if filler := _filler(piece):
        glass = filler.code.startswith("G")
        return _Read(fillers=(filler,), conditions=("glass-filled",) if glass else ())
    if re.sub(r"\d+$", "", piece) in tables.raw("codes")["qualifiers"]:
        return _Read()
    return _Read(bases=_hidden(piece), unread=(piece,))


def _filler(piece: str) -> Filler | None:
    """A filler's mark after ISO 1043-2: what it is, its form, its share."""
    found = _FILLER.fullmatch(piece)
    if found is None or not (found[2] or found[3]) or int(found[3] or 0) > 100:
        return None
    table = tables.raw("codes")
    words = [table["filler_materials"][found[1]]]
    if found[2]:
        words.append(table["filler_forms"][found[2]])
    return Filler(
        code=found[1] + (found[2] or ""),
        percent=float(found[3]) if found[3] else None,
        name=", ".join(words),
    )


def _hidden(piece: str) -> tuple[str, ...]:
    """A never-heated code at either end of a piece that is no mark (``PVCSOFT``)."""
    nevers = (c.code for c in tables.codes().values() if c.cause and len(c.code) > 2)
    return tuple(code for code in nevers if piece.startswith(code) or piece.endswith(code))


def _condition(word: str) -> _Read:
    key = tables.conditions().get(" ".join(word.casefold().split()))
    return _Read(conditions=(key,)) if key else _Read(unread=(word,))


# --- names -------------------------------------------------------------------------------------


class _Name(Row):
    code: str
    condition: str = ""


@cache
def _names() -> Mapping[str, _Name]:
    """Every way a material is written, without spaces, hyphens and case."""
    names = {
        _key(word): _Name(code=code.code)
        for code in tables.codes().values()
        for word in (code.code, *code.aliases)
    }
    return MappingProxyType(names)


@cache
def _foams() -> Mapping[str, _Name]:
    """Foams as they are written: without its hyphen ``PP-E`` would be another polymer."""
    return MappingProxyType(
        {
            word: _Name(code=foam["of"], condition="foam")
            for mark, foam in tables.raw("codes")["foams"].items()
            for word in (mark, *foam["aliases"])
        }
    )


def _key(text: str) -> str:
    recycled = re.sub(r"^R-?(?=P[A-Z])", "", text.upper())  # rPET, R-PP: the same polymer
    return re.sub(r"[\s-]+", "", recycled)
