from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np
import pytest
from coloraide import Color
from playwright.sync_api import Browser

from generator.drawings import pictograms, signals
from generator.drawings.ink import FIXED, paper_colour, shapes_svg
from generator.drawings.pictograms import known, sign, sign_svg
from generator.reference import reference
from generator.shop.records.room import EquipmentKind
from tests.drawings.raster import picture

COLOUR = {
    "E": "safety-green",
    "F": "safety-red",
    "M": "safety-blue",
    "P": "safety-red",
    "W": "safety-yellow",
}
SIDE = 200


@pytest.mark.parametrize("code", known())
def test_a_sign_has_a_name_or_is_silent(code: str) -> None:
    assert 'aria-hidden="true"' in sign_svg(code)
    assert 'role="img" aria-label="Hot &lt;surface&gt;"' in sign_svg(code, "Hot <surface>")
    ET.fromstring(sign_svg(code, size=60))


def test_every_registered_sign_is_drawn() -> None:
    assert set(reference().signs) <= set(known())


def test_a_sign_that_is_not_drawn_keeps_the_frame_of_its_class() -> None:
    assert sign("W099").shapes == sign("W001").shapes  # danger, of whatever kind
    assert len(sign("P099").shapes) == 3  # a ring and a bar over nothing
    with pytest.raises(KeyError):
        sign("X001")


def test_every_kind_of_equipment_has_a_symbol() -> None:
    for kind in EquipmentKind.__args__:  # type: ignore[attr-defined]
        assert signals.plan_symbol(kind).shapes


@pytest.mark.parametrize("kind", ["prohibition", "mandatory", "warning", "safe", "fire"])
def test_the_colours_have_the_contrast_of_their_source(kind: str) -> None:
    row = reference().sign_class(kind)
    ours = FIXED[COLOUR["E" if kind == "safe" else kind[0].upper()]]
    assert Color(ours) == Color(str(row.colour))
    figure = str(row.symbol) if kind != "prohibition" else str(row.ground)
    assert Color(ours).contrast(figure) == pytest.approx(row.contrast.value, abs=0.01)


def pixels(browser: Browser, shapes: object) -> np.ndarray:
    """A sign as a browser shows it on nothing: red, green, blue and cover, 0 to 255."""
    body = shapes_svg(shapes, paper_colour)  # type: ignore[arg-type]
    size = f'viewBox="0 0 100 100" width="{SIDE}" height="{SIDE}"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'
    return picture(browser, svg, SIDE, SIDE)


def near(shown: np.ndarray, colour: str) -> np.ndarray:
    """Where a picture has a colour, give or take the smoothing of edges."""
    rgb = [int(FIXED[colour][i : i + 2], 16) for i in (1, 3, 5)]
    return np.asarray(np.abs(shown[:, :, :3] - rgb).max(axis=2) < 40) & (shown[:, :, 3] > 127)


@pytest.mark.browser
@pytest.mark.parametrize("code", known())
def test_the_safety_colour_has_its_share(browser: Browser, code: str) -> None:
    """At least half of the sign, 35 % for a prohibition (ISO 3864, as 92/58/EEC has it)."""
    shown = pixels(browser, sign(code).shapes)
    sign_area = (shown[:, :, 3] > 127).sum()
    share = near(shown, COLOUR[code[0]]).sum() / sign_area
    assert share >= (0.35 if code[0] == "P" else 0.50), f"{share:.1%}"


def _field(code: str) -> np.ndarray:
    """Where a sign's figure may stand, in the middles of the pixels."""
    y, x = (np.mgrid[0:SIDE, 0:SIDE] + 0.5) * 100 / SIDE
    match code[0]:
        case "M":
            return np.asarray((x - 50) ** 2 + (y - 50) ** 2 <= 46**2)
        case "P":
            return np.asarray((x - 50) ** 2 + (y - 50) ** 2 <= 43**2)  # the ring begins at 39
        case "W":
            sides = (88 - 2.7 - y, *(_from_side(x, y, side) for side in (1, -1)))
            return np.asarray(np.min(sides, axis=0) >= 1.5)
    return np.asarray((abs(x - 50) <= 46) & (abs(y - 50) <= 46))


def _from_side(x: np.ndarray, y: np.ndarray, side: int) -> np.ndarray:
    """How far inside the band of a sloping side of the triangle a place lies."""
    along, rise = 44.4, 77.0
    length = float(np.hypot(along, rise))
    return np.asarray(((y - 11) * along - side * (x - 50) * rise) / length - 2.7)


@pytest.mark.browser
@pytest.mark.parametrize("code", known())
def test_the_figure_stays_in_its_field(browser: Browser, code: str) -> None:
    empty = pictograms._FRAMES[code[0]](lambda _brush: ())
    drawn = np.abs(pixels(browser, sign(code).shapes) - pixels(browser, empty)).max(axis=2) > 90
    assert drawn.sum() > 0.04 * SIDE * SIDE, "the figure is too slight to be seen"
    assert not (drawn & ~_field(code)).any()
