"""What goes to a printer: a sheet, and what stands on it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, labels_of, paper_colour, to_svg
from generator.ground.paper import Paper

Plain = None | bool | int | float | str | list["Plain"] | dict[str, "Plain"]
"""What JSON carries: a template is given nothing else, so nothing in it can be code."""

HELD_DAY = "0000-00-00"
HELD_HASH = "0" * 64
"""Hold the places of the date and the hash while a sheet is drawn: neither is known before, and
neither is part of what is hashed. The hash is held by the widest of its letters."""


def held_foot(shop: str, number: str) -> Foot:
    """The foot a drawing sets (:func:`generator.drawings.foot.draw`); the press fills it in."""
    return Foot(shop, number, HELD_DAY, HELD_HASH)


@dataclass(frozen=True)
class Drawn:
    """A body of drawings in millimetres, one a face, each as large as the paper.

    Each bears the foot that :func:`held_foot` gives, wherever its layout has room for it. What
    is to reach the edge of the cut sheet is drawn 3 mm beyond it.
    """

    faces: tuple[Drawing, ...]

    @cached_property
    def pictures(self) -> tuple[str, ...]:
        """The shapes of each face, without its words."""
        return tuple(map(picture_of, self.faces))

    @property
    def words(self) -> Iterator[str]:
        """Everything that is said."""
        return (label.text for face in self.faces for label in labels_of(face.items))

    @cached_property
    def content(self) -> str:
        """All that is seen, as text."""
        pairs = zip(self.faces, self.pictures, strict=True)
        return "".join(picture + _words_of(face) for face, picture in pairs)


@dataclass(frozen=True)
class Typeset:
    """A body that a template sets as running text.

    ``template`` names ``templates/sheets/<template>.typ``, whose function ``body`` is given
    ``data``. Drawings in ``pictures`` are set by their names; the template's house gives the foot.
    """

    template: str
    data: Mapping[str, Plain]
    pictures: Mapping[str, Drawing] = field(default_factory=dict)

    @property
    def words(self) -> Iterator[str]:
        """Everything that is said."""
        yield from _strings(dict(self.data))
        yield from (x.text for d in self.pictures.values() for x in labels_of(d.items))

    @cached_property
    def content(self) -> str:
        """All that is said and shown, as text."""
        drawn = sorted(self.pictures.items())
        shown = "".join(f"{name}{picture_of(d)}{_words_of(d)}" for name, d in drawn)
        return self.template + json.dumps(self.data, sort_keys=True, ensure_ascii=False) + shown


@dataclass(frozen=True)
class Kept:
    """A body that was printed before and need not be drawn again: ``content`` is the sheet's.

    ``ending`` is that of its thumbnail.
    """

    content: str
    ending: str = "svg"


def _strings(value: Plain) -> Iterator[str]:
    """Every string in plain data."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | dict):
        inner = value.values() if isinstance(value, dict) else value
        yield from (found for item in inner for found in _strings(item))


def _words_of(drawing: Drawing) -> str:
    said = (f"{x.x:.2f} {x.y:.2f} {x.size:g} {x.text}" for x in labels_of(drawing.items))
    return "\n".join(said)


def picture_of(drawing: Drawing) -> str:
    """The drawing's shapes as a picture, without its words."""
    return to_svg(drawing, colours=paper_colour, labels=False)


@dataclass(frozen=True)
class Sheet:
    """One sheet, or one run of faces that belong together, to be printed.

    ``id`` names it for good and names its file (``station-granulator``); ``kind`` is its pack
    (``station``, ``label``, ``plan`` …), ``number`` what its foot calls it (``ST-05``). ``about``
    are the records it is chosen by (``stations/granulator``, ``stages/first-light``,
    ``sessions/school``, ``walls/north``). ``hangs`` says where in words. ``shows`` is what the
    content hash is taken over where that is less than the whole body: labels that start
    elsewhere on the sheet are the same labels. ``note`` is what the print room must know of it.
    """

    id: str
    kind: str
    number: str
    title: str
    paper: Paper
    body: Drawn | Typeset | Kept
    language: str
    about: tuple[str, ...] = ()
    copies: int = 1
    hangs: str = ""
    shows: str = ""
    note: str = ""

    @property
    def thumbnail(self) -> str:
        """The name of its thumbnail: a drawing is one as it is, set text is made into pixels."""
        kept = self.body.ending if isinstance(self.body, Kept) else ""
        return f"{self.id}.{kept or ('svg' if isinstance(self.body, Drawn) else 'png')}"

    @cached_property
    def content(self) -> str:
        """A hash of what the sheet shows, without its date: it hangs stale when this changes."""
        if isinstance(self.body, Kept):
            return self.body.content
        shown = (self.title, self.number, self.paper.name, self.shows or self.body.content)
        return hashlib.sha256("\0".join(shown).encode()).hexdigest()
