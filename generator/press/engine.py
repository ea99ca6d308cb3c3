"""The press: sheets to PDF through Typst, with every word as real text in embedded type.

Shop text reaches a template as JSON alone, so nothing in it can be read as markup.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property
from hashlib import sha256
from importlib import metadata, resources
from typing import Any

import typst

from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, Label, labels_of, paper_colour, to_svg
from generator.ground.resources import resource
from generator.ground.wording import _, use
from generator.press.cache import Cache
from generator.press.letters import FONTS, settable
from generator.press.sheet import HELD_DAY, Drawn, Plain, Sheet, Typeset, held_foot, picture_of

_STANDARDS: list[typst.PDFStandard] = ["ua-1", "a-2a"]
_MAIN = "print.typ"
_BLEED_MM = 3.0

THUMBNAIL_PX = 150
"""Width of a thumbnail."""


class PressError(RuntimeError):
    """A sheet that could not be set; the message names it and says why."""


@cache
def _fonts() -> typst.Fonts:
    folders = [str(resources.files(package) / "files") for package in FONTS]
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=folders)


@cache
def _templates() -> dict[str, bytes]:
    return {
        p.name: p.read_bytes() for p in sorted((resource("templates") / "sheets").glob("*.typ"))
    }


@cache
def edition() -> bytes:
    """What a sheet depends on beside its content: the engine, the type and the templates."""
    names = ("typst", *(package.replace("_", "-") for package in FONTS))
    parts = [f"{name} {metadata.version(name)}".encode() for name in names]
    return b"\0".join((*parts, *(name.encode() + text for name, text in _templates().items())))


def _run(
    files: Mapping[str, bytes], timestamp: int, ppi: float | None
) -> tuple[bytes, list[typst.TypstWarning]]:
    """Run the engine on files in memory: its stubs leave out that it takes them so."""
    templates = _templates()
    job: Any = {"main": templates[_MAIN], **templates, **files}
    made, warnings = typst.compile_with_warnings(
        job,
        font_paths=_fonts(),
        ignore_system_fonts=True,
        format="png" if ppi else "pdf",
        ppi=ppi,
        pdf_standards=[] if ppi else _STANDARDS,
        timestamp=timestamp,
    )
    # As a picture, a sheet of several pages comes page by page; the first shows it.
    return (made[0] if isinstance(made, list) else made), warnings


@dataclass(frozen=True)
class Press:
    """Sets the sheets of one shop.

    Parameters
    ----------
    shop
        The shop's name, as the foot bears it.
    as_of
        The date of the data.
    marked
        Whether artwork runs 3 mm over the edge, with marks to cut along.
    cache
        Where what was set before is kept; None sets everything anew.
    """

    shop: str
    as_of: dt.date
    marked: bool = False
    cache: Cache | None = None

    def pdf(self, sheet: Sheet) -> bytes:
        """One sheet as PDF: the same bytes for the same sheet and date.

        Raises
        ------
        PressError
            If the engine has anything to say against it, warnings included.
        """
        return self.sheet(sheet).made()

    def pack(self, title: str, sheets: Sequence[Sheet]) -> bytes:
        """Sheets bound in one PDF, each with its bookmark."""
        return self.bound(title, sheets).made()

    def thumbnail(self, sheet: Sheet) -> bytes:
        """The sheet's first face, small: a drawing as SVG, since that costs nothing, else a PNG."""
        if not isinstance(sheet.body, Drawn):
            return self.small(sheet).made()
        drawn = to_svg(sheet.body.faces[0], colours=paper_colour)
        filled = self.foot_of(sheet)
        drawn = drawn.replace(HELD_DAY, filled.as_of)
        return drawn.replace(held_foot("", "").fingerprint, filled.fingerprint).encode()

    def foot_of(self, sheet: Sheet) -> Foot:
        """The foot of a sheet with its date and hash."""
        return Foot(self.shop, sheet.number, self.as_of.isoformat(), sheet.content)

    def sheet(self, sheet: Sheet) -> Job:
        """The job that makes one sheet."""
        return Job(self, sheet.title, (sheet,))

    def bound(self, title: str, sheets: Sequence[Sheet]) -> Job:
        """The job that binds sheets."""
        return Job(self, title, tuple(sheets))

    def small(self, sheet: Sheet) -> Job:
        """The job that makes a thumbnail of set text."""
        return Job(self, sheet.title, (sheet,), THUMBNAIL_PX / sheet.paper.width * 25.4)

    @cached_property
    def timestamp(self) -> int:
        """The moment a PDF says it was made: the start of the day of its data, UTC."""
        return int(dt.datetime.combine(self.as_of, dt.time(), dt.UTC).timestamp())


@dataclass(frozen=True)
class Job:
    """One run of the engine, its files all in memory: a PDF, or a PNG of ``ppi`` pixels an inch."""

    press: Press
    title: str
    sheets: tuple[Sheet, ...]
    ppi: float | None = None

    def made(self) -> bytes:
        """What the engine makes of it, or made of it before."""
        cache = self.press.cache
        return cache.get(self.key, self._compiled) if cache else self._compiled()

    @cached_property
    def files(self) -> dict[str, bytes]:
        """Every file the engine reads beside its templates."""
        pictures: dict[str, bytes] = {}
        job: dict[str, Plain] = {
            "title": settable(self.title),
            "shop": settable(self.press.shop),
            "lang": _lang(self.sheets[0].language),
            "marked": self.press.marked,
            "sheets": [self._sheet(sheet, pictures) for sheet in self.sheets],
        }
        return {"job.json": json.dumps(job, ensure_ascii=False).encode(), **pictures}

    @cached_property
    def key(self) -> str:
        """A hash of all that goes in, so of what comes out."""
        parts = (name.encode() + data for name, data in self.files.items())
        said = f"{self.press.timestamp} {self.ppi}".encode()
        return sha256(b"\0".join((edition(), said, *parts))).hexdigest()

    def _compiled(self) -> bytes:
        try:
            made, warnings = _run(self.files, self.press.timestamp, self.ppi)
        except typst.TypstError as error:
            raise PressError(f"{self.title}: {error}") from None
        if warnings:
            raise PressError(f"{self.title}: {'; '.join(map(str, warnings))}")
        return made

    def _sheet(self, sheet: Sheet, pictures: dict[str, bytes]) -> Plain:
        made: dict[str, Plain] = {
            "title": settable(sheet.title),
            "lang": _lang(sheet.language),
            "paper": {"width": sheet.paper.width, "height": sheet.paper.height},
        }
        if isinstance(sheet.body, Drawn):
            pairs = list(zip(sheet.body.faces, sheet.body.pictures, strict=True))
            shown = pairs[:1] if self.ppi else pairs  # a thumbnail is of the first face alone
            faces = [self._face(sheet, face, pictures, picture) for face, picture in shown]
            return made | {"kind": "drawn", "faces": list(faces)}
        if isinstance(sheet.body, Typeset):
            return made | self._typeset(sheet, sheet.body, pictures)
        raise PressError(f"{sheet.title}: it was printed before and is not drawn again")

    def _typeset(self, sheet: Sheet, body: Typeset, pictures: dict[str, bytes]) -> dict[str, Plain]:
        shown = {n: self._face(sheet, d, pictures) for n, d in body.pictures.items()}
        return {
            "kind": "typeset",
            "template": f"{body.template}.typ",
            "data": _settable(dict(body.data)),
            "pictures": dict(shown),
            "foot": self._foot(sheet),
        }

    def _foot(self, sheet: Sheet) -> Plain:
        with use(sheet.language):
            return {
                "shop": settable(self.press.shop),
                "number": _("sheet {number}").format(number=sheet.number),
                "day": _("data as of {day}").format(day=self.press.as_of.isoformat()),
                "hash": _("content {hash}").format(hash=self.press.foot_of(sheet).fingerprint),
            }

    def _face(
        self, sheet: Sheet, drawing: Drawing, pictures: dict[str, bytes], picture: str = ""
    ) -> Plain:
        """A face for the template; its picture, at hand or made now, goes among the files."""
        over = _BLEED_MM if self.press.marked else 0.0
        width, height = drawing.width + 2 * over, drawing.height + 2 * over
        if over:
            view = (-over, -over, width, height)
            picture = picture_of(replace(drawing, width=width, height=height, view=view))
        file = f"{len(pictures)}.svg"
        pictures[file] = (picture or picture_of(drawing)).encode()
        return {
            "file": file,
            "x": -over,
            "y": -over,
            "width": width,
            "height": height,
            "alt": settable(drawing.desc or drawing.title),
            "labels": list(self._labels(sheet, drawing)),
        }

    def _labels(self, sheet: Sheet, drawing: Drawing) -> Iterator[Plain]:
        held, filled = held_foot("", ""), self.press.foot_of(sheet)
        for label in labels_of(drawing.items):
            text = label.text.replace(HELD_DAY, filled.as_of)
            text = text.replace(held.fingerprint, filled.fingerprint)
            if text.strip():
                yield _label(label, settable(text), label.language or sheet.language)


def _label(label: Label, text: str, language: str) -> Plain:
    return {
        "x": round(label.x, 4),
        "y": round(label.y, 4),
        "text": text,
        "size": label.size,
        "bold": label.bold,
        "anchor": label.anchor,
        "colour": paper_colour(label.colour),
        "turn": label.turn,
        "lang": _lang(language),
    }


def _lang(language: str) -> str:
    """The two letters the engine shapes and hyphenates by; a made-up language is none."""
    code = language.replace("_", "-").split("-")[0].lower()
    return code if len(code) in (2, 3) else "en"


def _settable(value: Plain) -> Plain:
    """Data with every string in it fit to be set."""
    if isinstance(value, str):
        return settable(value)
    if isinstance(value, list):
        return [_settable(item) for item in value]
    if isinstance(value, dict):
        return {key: _settable(item) for key, item in value.items()}
    return value
