"""Reads a printed PDF back: its pages in millimetres, its fonts, its words and where they stand."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Any

import pdfplumber
import pypdf

MM = 25.4 / 72


def reader(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page's trim box [mm]."""
    boxes = [page.trimbox for page in reader(pdf).pages]
    return [(float(b.width) * MM, float(b.height) * MM) for b in boxes]


def _trim(pdf: bytes, page: int) -> tuple[float, float]:
    """The top left corner of the cut sheet, from that of the page [points]."""
    shown = reader(pdf).pages[page]
    box = shown.trimbox
    return float(box.left), float(shown.mediabox.height) - float(box.top)


@dataclass(frozen=True)
class Word:
    """A run of letters of one size, with its box from the top left corner of the trim [mm]."""

    text: str
    x0: float
    top: float
    x1: float
    bottom: float
    size: float


def words(pdf: bytes, page: int = 0) -> list[Word]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        shown = opened.pages[page]
        left, above = _trim(pdf, page)
        return [
            Word(
                w["text"],
                (w["x0"] - left) * MM,
                (w["top"] - above) * MM,
                (w["x1"] - left) * MM,
                (w["bottom"] - above) * MM,
                w["size"] * MM,
            )
            for w in shown.extract_words(extra_attrs=["size"], keep_blank_chars=True)
        ]


def said(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in reader(pdf).pages)


def fonts(pdf: bytes) -> dict[str, bool]:
    """Every font by name, and whether its letters are inside the file."""
    found: dict[str, bool] = {}
    for page in reader(pdf).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            for child in font.get_object().get("/DescendantFonts", [font]):
                made = child.get_object()
                kept = made["/FontDescriptor"].get_object()
                inside = any(f"/FontFile{n}" in kept for n in ("", "2", "3"))
                found[str(made["/BaseFont"])] = inside
    return found


@dataclass(frozen=True)
class Letter:
    """One letter, its box and its origin from the top left corner of the page [mm]."""

    text: str
    x0: float
    top: float
    x1: float
    bottom: float
    turned: bool
    size: float
    x: float
    baseline: float


def letters(pdf: bytes, page: int = 0) -> list[Letter]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        shown = opened.pages[page]
        return [_letter(c, float(shown.height)) for c in shown.chars]


def _letter(char: dict[str, Any], height: float) -> Letter:
    across, up, _c, _d, x, y = char["matrix"]
    return Letter(
        char["text"],
        char["x0"] * MM,
        char["top"] * MM,
        char["x1"] * MM,
        char["bottom"] * MM,
        abs(up) > abs(across),
        char["size"] * MM,
        x * MM,
        (height - y) * MM,
    )


def lines(pdf: bytes, page: int = 0) -> list[tuple[float, float]]:
    """The middle of each straight line, from the top left corner of the trim [mm]."""
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        shown = opened.pages[page]
        left, above = _trim(pdf, page)
        return [
            (((s["x0"] + s["x1"]) / 2 - left) * MM, ((s["top"] + s["bottom"]) / 2 - above) * MM)
            for s in shown.lines
        ]
