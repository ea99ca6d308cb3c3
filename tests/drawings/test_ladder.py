"""The density ladder, read back from its SVG."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.drawings.ink import Line, Rect, to_svg
from generator.drawings.ladder import Level, Rung, draw
from tests.drawings.reading import texts

RUNGS = (
    Rung("Polystyrene", "PS", 1040, 1060, False),
    Rung("Polypropylene", "PP", 895, 915, False),
    Rung("PVC", "PVC", 1160, 1450, True),
)
LEVELS = (Level("Brine", 1116), Level("Water", 998.2), Level("Ethanol in water", 928, dashed=True))


def _across(width: float) -> tuple[dict[str, float], dict[str, tuple[float, float]]]:
    """Where each bath's line and each span lie, by the order in which they stand."""
    items = draw(RUNGS, LEVELS, width).items
    lines = [i.start[0] for i in items if isinstance(i, Line) and i.pen.width == 2.0]
    bars = [(i.x, i.x + i.width) for i in items if isinstance(i, Rect) and i.pen.width == 1.2
            and i.height == 18 and i.pen.fill == "none" and i.pen.stroke == "ink"]  # fmt: skip
    chips = 26.0
    bars = [bar for bar in bars if abs(bar[1] - bar[0] - chips) > 1e-9]
    names = sorted(LEVELS, key=lambda level: level.density)
    order = sorted(RUNGS, key=lambda rung: rung.low)
    return (
        {level.name: x for level, x in zip(names, lines[:3], strict=True)},
        {rung.name: bar for rung, bar in zip(order, bars, strict=True)},
    )


@pytest.mark.parametrize("width", [340.0, 760.0])
def test_what_floats_ends_left_of_the_bath_and_what_sinks_begins_right_of_it(width: float) -> None:
    baths, bars = _across(width)
    assert bars["Polypropylene"][1] < baths["Ethanol in water"] < baths["Water"]
    assert baths["Water"] < bars["Polystyrene"][0] < bars["Polystyrene"][1] < baths["Brine"]
    assert baths["Brine"] < bars["PVC"][0]


def test_distances_across_are_differences_of_density() -> None:
    baths, bars = _across(760.0)
    scale = (baths["Brine"] - baths["Water"]) / (1116 - 998.2)
    assert bars["PVC"][1] - bars["PVC"][0] == pytest.approx(scale * (1450 - 1160))
    assert bars["Polypropylene"][0] - baths["Water"] == pytest.approx(scale * (895 - 998.2))


@given(
    st.lists(st.tuples(st.floats(850, 1500), st.floats(0, 300)), max_size=8),
    st.lists(st.floats(900, 1300), max_size=4),
    st.sampled_from([340.0, 760.0]),
)
def test_no_word_leaves_the_drawing(
    spans: list[tuple[float, float]], baths: list[float], width: float
) -> None:
    rungs = [Rung("A polymer of a long name", "PP", low, low + more, False) for low, more in spans]
    drawing = draw(rungs, [Level("A bath of a name", density) for density in baths], width)
    for text in texts(to_svg(drawing, "ladder")):
        x, y, wide, high = text.box
        assert x >= -0.5 and x + wide <= width + 0.5, text
        assert y >= 0 and y + high <= drawing.height + 0.5, text


def test_the_description_names_every_polymer_and_bath() -> None:
    said = draw(RUNGS, LEVELS, 760).desc
    assert said.index("Polypropylene 895 to 915") < said.index("PVC 1160 to 1450")
    assert "Water 998" in said and "Brine 1116" in said


def test_what_is_never_heated_has_no_hue() -> None:
    struck = draw(RUNGS[2:], (), 760).items
    told = draw((Rung("PVC", "PVC", 1160, 1450, False),), (), 760).items
    assert _fills(struck) < _fills(told) | {"white", "mark-ink"}
    assert not any(fill.startswith("#") for fill in _fills(struck))
    assert any(fill.startswith("#") for fill in _fills(told))


def _fills(items: tuple[object, ...]) -> set[str]:
    return {item.pen.fill for item in items if isinstance(item, Rect)}
