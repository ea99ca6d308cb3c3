"""Bars and curves: to scale, held against their limits, readable at every width."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.drawings import bars, curves
from generator.drawings.axes import axis
from generator.drawings.bars import Bar, Chart
from generator.drawings.curves import Course, Level, Plot
from generator.drawings.ink import Drawing, Line, Polyline, Rect, labels_of, to_svg
from tests.drawings.reading import overflowing

LOADS = Chart(
    "Each circuit",
    "A",
    (
        Bar("Q1 Granulator, L1–3", (8.1,), "8.1 of 16 A", 16.0),
        Bar("Q8 Finishing with a name that is long", (7.5, 5.4, 5.5, 4.3), "22.7 of 20 A", 20.0,
            note="Band saw 7.5 A, chip extractor 5.4 A, belt sander 5.5 A, pillar drill 4.3 A"),
        Bar("Q9 Bench sockets", (2.3,), "2.3 of 16 A", 16.0, most=16.0),
    ),
)  # fmt: skip
COURSE = tuple((t * 3.0, 420 + 30.0 * t) for t in range(61))
AIR = Plot(
    "A class", "from 420 to 2220", "minutes", "carbon dioxide, ppm",
    (Course(COURSE, "fans on"), Course(COURSE[:31], "fans off")), (Level(420, "outdoors"),),
)  # fmt: skip


@given(st.floats(1e-3, 1e6), st.floats(20, 200), st.floats(30, 90))
def test_an_axis_reaches_past_the_most_in_steps_that_stand_apart(
    most: float, start: float, room: float
) -> None:
    scale = axis(most, start, start + 400, room)
    assert scale.high >= most * (1 - 1e-9)
    places = [place for place, _text in scale.ticks]
    assert places[0] == pytest.approx(start)
    assert places[-1] == pytest.approx(start + 400)
    assert all(b - a >= room * 0.99 for a, b in pairwise(places))
    assert len({text for _place, text in scale.ticks}) == len(places)


@given(st.floats(0, 100), st.floats(0, 100))
def test_an_axis_is_even(one: float, other: float) -> None:
    scale = axis(100, 10, 410, 40)
    assert scale.at(one) - scale.at(other) == pytest.approx((one - other) * 400 / scale.high)


@pytest.fixture(params=["wide", "phone"])
def drawn(request: pytest.FixtureRequest) -> Drawing:
    return getattr(bars, request.param)(LOADS)  # type: ignore[no-any-return]


def test_no_word_leaves_its_place(drawn: Drawing) -> None:
    assert overflowing(drawn) == []
    assert overflowing(curves.draw(AIR)) == []


def test_parts_stand_one_after_the_other_to_one_scale(drawn: Drawing) -> None:
    dark = [i for i in drawn.items if isinstance(i, Rect) and i.pen.fill in ("ink", "line-strong")]
    widths = [part.width for part in dark]
    values = [8.1, 7.5, 5.4, 5.5, 4.3, 2.3]
    scale = widths[0] / values[0]
    assert widths == pytest.approx([value * scale for value in values])
    for one, other in pairwise(dark[1:5]):
        assert other.x == pytest.approx(one.x + one.width)
        assert other.pen.fill != one.pen.fill


def test_the_stroke_stands_at_the_limit_and_what_is_over_it_is_hatched(drawn: Drawing) -> None:
    dark = [i for i in drawn.items if isinstance(i, Rect) and i.pen.fill == "ink"]
    start, scale = dark[0].x, dark[0].width / 8.1
    strokes = [i.start[0] for i in drawn.items if isinstance(i, Line) and i.pen.width == 2.4]
    assert strokes == pytest.approx([start + limit * scale for limit in (16, 20, 16)])
    (over,) = [i for i in drawn.items if isinstance(i, Rect) and i.pen.stroke == "fix-text"]
    assert over.x == pytest.approx(start + 20 * scale)
    assert over.width == pytest.approx(2.7 * scale)


def test_what_may_be_more_is_drawn_open(drawn: Drawing) -> None:
    (open_,) = [i for i in drawn.items if isinstance(i, Rect) and i.pen.fill == "none"]
    assert open_.pen.dash


def test_only_what_is_over_says_so_in_its_colour(drawn: Drawing) -> None:
    coloured = [label.text for label in labels_of(drawn.items) if label.colour == "fix-text"]
    assert coloured == ["22.7 of 20 A"]
    assert drawn.desc == "; ".join(f"{bar.name}: {bar.shown}" for bar in LOADS.bars)


@pytest.mark.parametrize(("value", "over"), [(20.0, False), (20.0 + 1e-12, False), (20.1, True)])
def test_exactly_the_limit_is_within_it(value: float, over: bool) -> None:
    assert Bar("", (value,), "", 20.0).over is over


def test_a_curve_begins_and_ends_where_its_points_say() -> None:
    drawing = curves.draw(AIR)
    one, other = [i for i in drawing.items if isinstance(i, Polyline)]
    (level,) = [i for i in drawing.items if isinstance(i, Line) and i.pen.stroke == "accent"]
    assert one.points[0] == pytest.approx(other.points[0])
    assert one.points[0][1] == pytest.approx(level.start[1])
    assert (other.points[-1][0] - other.points[0][0]) == pytest.approx(
        (one.points[-1][0] - one.points[0][0]) / 2
    )
    assert one.points[-1][1] < other.points[-1][1]  # more is higher up


def test_curves_are_told_apart_without_colour() -> None:
    forms = {(pen.dash, pen.width) for pen in curves.FORMS}
    assert len(forms) == len(curves.FORMS) == 3
    assert [key.words for key in AIR.keys] == ["fans on", "fans off", "outdoors"]


def test_charts_are_written_the_same_twice() -> None:
    assert to_svg(bars.wide(LOADS)) == to_svg(bars.wide(LOADS))
    assert to_svg(curves.draw(AIR)) == to_svg(curves.draw(AIR))
