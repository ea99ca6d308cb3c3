from __future__ import annotations

import re
from itertools import combinations
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from coloraide import Color
from playwright.sync_api import Browser

from generator.drawings.ink import FIXED, paper_colour, shapes_svg
from generator.drawings.marks import MARKS, chip_svg, iso_mark, mark_of, mark_shapes, mark_symbol
from tests.drawings.raster import picture
from tests.drawings.reading import SVG

CODES = [*MARKS, "PVC"]


@pytest.mark.parametrize(
    ("code", "marked_as"),
    [
        ("PE-HD", "PE-HD"),
        ("PA66-GF30", "PA"),  # a filler leaves the polymer what it is
        ("PP-TD20", "PP"),
        ("PS-HI", "PS"),
        ("PE-LLD", "other"),
        ("PETG", "other"),  # softens where PET is still solid
        ("PC+ABS", "other"),
        ("unknown", "other"),
        ("", "other"),
    ],
)
def test_a_code_gets_the_mark_of_what_it_is(code: str, marked_as: str) -> None:
    assert mark_of(code).code == marked_as


def test_the_mark_of_a_part() -> None:
    assert iso_mark("PE-HD") == ">PE-HD<"


def test_a_chip_carries_everything_it_needs() -> None:
    for code in MARKS:
        root = ET.fromstring(
            chip_svg(code).replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"')
        )
        assert (root.attrib["width"], root.attrib["height"]) == ("34", "24")
        assert not [e for e in root.iter() if "id" in e.attrib or "url(" in str(e.attrib)]
        assert len(root.findall(f"{SVG}rect")) >= 3  # ground, strip, frame


def test_a_chip_is_silent_or_named() -> None:
    assert 'aria-hidden="true"' in chip_svg("PP")
    assert 'aria-label="a &quot;b&quot;"' in chip_svg("PP", 'a "b"')


def test_every_hatch_stays_in_its_field() -> None:
    for code in MARKS:
        for shape in mark_shapes(code, (10.0, 20.0, 36.0, 25.6), 1.0):
            data = getattr(shape, "data", "")
            starts = re.findall(r"M(-?[\d.]+) (-?[\d.]+)", data)
            assert all(20 <= float(x) <= 46 and 20 <= float(y) <= 45.6 for x, y in starts)


def test_the_hatch_can_be_seen_on_its_ground() -> None:
    for mark in MARKS.values():
        assert Color(FIXED["mark-ink"]).contrast(mark.tint) >= 4.5


@pytest.mark.parametrize("vision", ["", "protan", "deutan", "tritan"])
def test_the_hues_differ_in_every_form_of_colour_vision(vision: str) -> None:
    """Hue is one of three signs, so telling most pairs apart is enough; grey counts as no hue."""
    hues = {code: Color(m.hue) for code, m in MARKS.items() if code != "other"}
    seen = {c: hue.filter(vision) if vision else hue for c, hue in hues.items()}
    apart = {
        pair: seen[pair[0]].delta_e(seen[pair[1]], method="2000") for pair in combinations(seen, 2)
    }
    assert min(apart.values()) > 10, min(apart, key=lambda pair: apart[pair])


def _grey(rgba: np.ndarray) -> np.ndarray:
    """A picture in grey from 0 to 1."""
    return np.asarray(rgba[:, :, :3] @ (0.2126, 0.7152, 0.0722) / 255)


def _hatch(browser: Browser, code: str) -> np.ndarray:
    """The hatch of a mark alone, as small as it is used in print, at twice the pixels."""
    shapes = mark_shapes(code, (0, 0, 34, 24), 24 / 11, code == "PVC", 1.5)
    body = shapes_svg(shapes, paper_colour)
    size = 'width="34" height="24" viewBox="0 0 34 24"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'
    return _grey(picture(browser, svg, 68, 48))[4:44, 26:64]


def _spectrum(field: np.ndarray) -> np.ndarray:
    """What repeats in a hatch, in which direction and how often, wherever it begins."""
    windowed = (field - field.mean()) * np.outer(
        np.hanning(field.shape[0]), np.hanning(field.shape[1])
    )
    power = np.abs(np.fft.fft2(windowed, (48, 48)))
    return np.asarray(power / np.linalg.norm(power))


@pytest.mark.browser
def test_the_hatches_alone_tell_the_marks_apart(browser: Browser) -> None:
    """In grey, at the size of a chip: no two hatches repeat alike."""
    spectra = {code: _spectrum(_hatch(browser, code)) for code in CODES}
    alike = {
        pair: float((spectra[pair[0]] * spectra[pair[1]]).sum()) for pair in combinations(CODES, 2)
    }
    worst = max(alike, key=lambda pair: alike[pair])
    assert alike[worst] < 0.9, (worst, alike[worst])


def test_a_mark_is_drawn_once_for_a_size() -> None:
    assert mark_symbol("PP", (8.4, 6.0), 0.42) is mark_symbol("PP", (8.4, 6.0), 0.42)
