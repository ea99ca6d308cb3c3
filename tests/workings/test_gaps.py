"""Gaps and the widest body, on rooms worked by hand and against a search by trial widths."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon

from generator.workings.floor.standing import Standing, polygons_of
from generator.workings.routes.gaps import Gap, Narrows, Way
from tests.workings.rooms import Point, door, fixture, rectangle, room, scaled, station, turned

ROOM = rectangle(6000, 4000)
DOOR = door("door", (1000, 0), (2000, 0))


def narrows(*things: tuple[Point, Point], outline: tuple[Point, ...] = ROOM) -> Narrows:
    boxes = [fixture(f"box-{n}", at, size) for n, (at, size) in enumerate(things, 1)]
    return Narrows(Standing(room(outline, [DOOR], things=boxes)))


def way(found: Narrows, start: Point, end: Point) -> Way | None:
    a, b = found.cells_at(start), found.cells_at(end)
    assert a
    assert b
    return found.widest(a, b)


def width(found: Narrows, start: Point, end: Point) -> float:
    """The widest body between two points, 0 where there is no way."""
    found_way = way(found, start, end)
    if found_way is None:
        return 0.0
    return found_way.narrowest.width_mm if found_way.narrowest else math.inf


# --- by hand -----------------------------------------------------------------------------------


def test_an_empty_room_has_no_gap_and_one_cell() -> None:
    found = narrows()
    assert found.gaps == ()
    assert len(found.cells) == 1


def test_a_box_in_the_middle_has_a_gap_at_each_corner_to_each_wall_beside_it() -> None:
    # The box stands from 2500 to 3500 and from 1500 to 2500: 2500 to the walls at its ends,
    # 1500 to the walls along it, each measured at two corners.
    found = narrows(((3000, 2000), (1000, 1000)))
    assert sorted(round(gap.width_mm) for gap in found.gaps) == [1500] * 4 + [2500] * 4


def test_the_way_past_a_box_takes_the_wider_side() -> None:
    # A box across the room leaves 700 mm below it and 1300 mm above.
    found = narrows(((3000, 1700), (1000, 2000)))
    assert width(found, (500, 2000), (5500, 2000)) == pytest.approx(1300)


def test_corners_set_off_against_each_other_leave_their_straight_distance() -> None:
    # Corners at (2800, 2000) and (3100, 2400): 300 and 400 apart, so 500 between them.
    found = narrows(((2300, 1000), (1000, 2000)), ((3600, 3200), (1000, 1600)))
    tight = way(found, (500, 3500), (5500, 500))
    assert tight is not None
    assert tight.narrowest is not None
    assert tight.narrowest.width_mm == pytest.approx(500)
    ends = sorted((round(x), round(y)) for x, y in tight.narrowest.ends)
    assert ends == [(2800, 2000), (3100, 2400)]


def test_a_gap_names_the_things_on_both_sides_and_a_wall_is_none() -> None:
    found = narrows(((3000, 1700), (1000, 2000)))
    names = [{t.name if t else "wall" for t in gap.things} for gap in found.gaps]
    assert {"box-1", "wall"} in names


def test_a_room_with_a_narrow_waist_is_as_wide_as_the_waist() -> None:
    waist = ((0, 0), (3000, 0), (3000, 1600), (3200, 1600), (3200, 0), (6000, 0), (6000, 4000),
             (3200, 4000), (3200, 2400), (3000, 2400), (3000, 4000), (0, 4000))  # fmt: skip
    found = narrows(outline=tuple((float(x), float(y)) for x, y in waist))
    assert width(found, (500, 500), (5500, 500)) == pytest.approx(800)


def test_two_aisles_that_cross_in_a_square_are_as_wide_as_they_are() -> None:
    """The corners of four equal boxes lie on one circle: none of its diagonals is a gap."""
    boxes = [((x, y), (2400.0, 1400.0)) for x in (1300.0, 4700.0) for y in (800.0, 3200.0)]
    found = narrows(*boxes)
    assert width(found, (3000, 200), (3000, 3800)) == pytest.approx(1000)
    assert sum(cell.area for cell in found.cells) == pytest.approx(6000 * 4000 - 4 * 2400 * 1400)
    assert max(gap.width_mm for gap in found.gaps) == pytest.approx(1000)


def test_things_that_touch_close_the_way_between_them_and_are_named() -> None:
    # Two boxes across the whole room, edge to edge at y = 1800.
    found = narrows(((3000, 900), (600, 1800)), ((3000, 2900), (600, 2200)))
    assert way(found, (500, 2000), (5500, 2000)) is not None
    tight = way(found, (500, 2000), (5500, 2000))
    assert tight is not None
    assert [gap.width_mm for gap in tight.gaps] == [0.0]


def test_where_nothing_closes_it_there_is_a_way_of_any_width() -> None:
    found = narrows(((5000, 3500), (500, 500)))
    assert width(found, (500, 500), (5500, 500)) == math.inf
    assert found.cells_at((5000, 3500)) == frozenset(), "inside the box is no floor"


def test_the_least_widening_is_preferred_to_the_widest_way() -> None:
    # Two ways into the lower right: under the upright, 500; over it, 600, and past the end of
    # the shelf, 600 again. The widest body goes over; least is moved for a way under.
    upright, shelf = ((3000, 1950), (200, 2900)), ((4250, 2000), (2300, 200))
    found = narrows(upright, shelf)
    start, end = found.cells_at((500, 2000)), found.cells_at((5500, 1000))
    widest, least = found.widest(start, end), found.least_widening(start, end, 900)
    assert widest is not None
    assert least is not None
    assert {round(g.width_mm) for g in widest.gaps if not g.lets_pass(900)} == {600}
    assert {round(g.width_mm) for g in least.gaps if not g.lets_pass(900)} == {500}


def test_both_ends_of_one_aisle_are_widened_at_once() -> None:
    # Over the post, 600 along its whole top; under the tip of the turned box, 450. A body of
    # 900 needs 300 over it and 450 under, though the aisle over it is narrow at both corners.
    tip = fixture("tip", (3000, 450 + 200 * 2**0.5), (400, 400), 45)
    post = fixture("post", (3000, 2150), (200, 2500))
    found = Narrows(Standing(room(ROOM, [DOOR], things=[tip, post])))
    start, end = found.cells_at((500, 2000)), found.cells_at((5500, 2000))
    least = found.least_widening(start, end, 900)
    assert least is not None
    assert {round(g.width_mm) for g in least.gaps if not g.lets_pass(900)} == {600}


@pytest.mark.parametrize(
    ("has", "passes"), [(900.0, True), (899.5, True), (899.0, False), (898.0, False)]
)
def test_what_is_short_by_less_than_a_millimetre_passes(has: float, passes: bool) -> None:
    assert Gap(((0, 0), (has, 0)), has, (None, None)).lets_pass(900) is passes


# --- against trial widths ------------------------------------------------------------------------

_boxes = st.lists(
    st.tuples(
        st.tuples(st.floats(0, 6000), st.floats(0, 4000)),
        st.tuples(st.sampled_from([200.0, 500.0, 900.0, 1500.0]), st.sampled_from([200.0, 700.0])),
        st.one_of(st.sampled_from([0.0, 90.0, 45.0]), st.floats(0, 180)),
    ),
    min_size=1,
    max_size=8,
)
START, END = (600.0, 600.0), (5400.0, 3400.0)


def crowded(boxes: list[tuple[Point, Point, float]]) -> Standing:
    things = [fixture(f"box-{n}", *box) for n, box in enumerate(boxes, 1)]
    return Standing(room(ROOM, [DOOR], things=things))


def stands_free(standing: Standing) -> bool:
    """Whether a body of up to 1150 mm can stand at both ends."""
    floor = MultiPolygon(standing.floor)
    return all(floor.contains(shapely.Point(spot).buffer(580)) for spot in (START, END))


def by_trial(standing: Standing) -> float:
    """The widest body up to 1150 mm from START to END, by halving, with finely drawn corners."""
    floor = MultiPolygon(standing.floor)

    def passes(body: float) -> bool:
        free = polygons_of(floor.buffer(-body / 2, quad_segs=64))
        ends = shapely.Point(START), shapely.Point(END)
        return any(all(part.dwithin(end, 1) for end in ends) for part in free)

    low, high = 0.0, 1150.0
    while high - low > 0.05:
        middle = (low + high) / 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return low


@settings(max_examples=80, deadline=None)
@given(boxes=_boxes)
def test_the_widest_body_is_the_one_found_by_trial(boxes: list[tuple[Point, Point, float]]) -> None:
    standing = crowded(boxes)
    assume(stands_free(standing))
    found = width(Narrows(standing), START, END)
    assert min(found, 1150) == pytest.approx(by_trial(standing), abs=1.5)


@settings(max_examples=60, deadline=None)
@given(boxes=_boxes)
def test_cells_cover_the_floor_and_gaps_do_not_cross(
    boxes: list[tuple[Point, Point, float]],
) -> None:
    standing = crowded(boxes)
    found = Narrows(standing)
    assert sum(c.area for c in found.cells) == pytest.approx(sum(p.area for p in standing.floor))
    lines = [shapely.LineString(gap.ends) for gap in found.gaps if gap.width_mm > 1]
    assume(lines)
    tree = shapely.STRtree(lines)
    one, other = tree.query(lines, predicate="crosses")
    assert not len(one), list(zip(one, other, strict=True))


@settings(max_examples=40, deadline=None)
@given(boxes=_boxes, degrees=st.sampled_from([37.0, 90.0, 211.5]))
def test_turning_the_room_keeps_the_widest_body(
    boxes: list[tuple[Point, Point, float]], degrees: float
) -> None:
    things = [fixture(f"box-{n}", *box) for n, box in enumerate(boxes, 1)]
    shop = room(ROOM, [DOOR], things=things)
    straight, askew = Narrows(Standing(shop)), Narrows(Standing(turned(shop, degrees)))
    assume(straight.cells_at(START) and straight.cells_at(END))
    angle = math.radians(degrees)
    a, b = (
        (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
        for x, y in (START, END)
    )
    assert width(askew, a, b) == pytest.approx(width(straight, START, END), abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(boxes=_boxes, factor=st.sampled_from([0.5, 2.0, 3.7]))
def test_scaling_the_room_scales_the_widest_body(
    boxes: list[tuple[Point, Point, float]], factor: float
) -> None:
    things = [fixture(f"box-{n}", *box) for n, box in enumerate(boxes, 1)]
    shop = room(ROOM, [DOOR], things=things)
    plain, grown = Narrows(Standing(shop)), Narrows(Standing(scaled(shop, factor)))
    assume(plain.cells_at(START) and plain.cells_at(END))
    a, b = ((x * factor, y * factor) for x, y in (START, END))
    assert width(grown, a, b) == pytest.approx(width(plain, START, END) * factor, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(boxes=_boxes)
def test_one_thing_more_never_widens_the_way(boxes: list[tuple[Point, Point, float]]) -> None:
    less, more = crowded(boxes[:-1]), crowded(boxes)
    assume(stands_free(more))
    before, after = width(Narrows(less), START, END), width(Narrows(more), START, END)
    assert min(after, 1150) <= before + 1e-6


def test_a_station_without_any_other_thing_is_named_by_number_and_name() -> None:
    bench = station("bench", 4, (3000, 1700), (1000, 2000))
    found = Narrows(Standing(room(ROOM, [DOOR], [bench])))
    named = {thing.name for gap in found.gaps for thing in gap.things if thing}
    assert named == {"station 4 (S4)"}
