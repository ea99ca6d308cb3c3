"""Free floors and walks, on rooms worked by hand."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon

from generator.workings.floor.standing import Standing
from generator.workings.routes.freefloor import ARC_STEPS, FreeFloor, corner_tolerance_mm
from generator.workings.routes.gaps import Narrows
from generator.workings.routes.walks import Walks
from tests.workings.rooms import Point, door, fixture, rectangle, room, scaled, turned

ROOM = rectangle(6000, 4000)
DOOR = door("door", (1000, 0), (2000, 0))
Box = tuple[Point, Point, float]


def standing(*boxes: Box, outline: tuple[Point, ...] = ROOM) -> Standing:
    things = [fixture(f"box-{n}", *box) for n, box in enumerate(boxes, 1)]
    return Standing(room(outline, [DOOR], things=things))


def free(room_: Standing, width: float) -> FreeFloor:
    return FreeFloor(room_, Narrows(room_), width)


def length(room_: Standing, width: float, start: Point, end: Point) -> float:
    return Walks(free(room_, width), [start, end]).length(0, 1)


# --- the free floor ----------------------------------------------------------------------------


def test_an_empty_room_is_free_up_to_half_the_width_from_its_walls() -> None:
    (part,) = free(standing(), 901).parts
    assert part.bounds == (450, 450, 5550, 3550)


@pytest.mark.parametrize(("aisle", "parts"), [(900, 1), (899.5, 1), (898.9, 2), (600, 2)])
def test_an_aisle_of_exactly_the_width_joins_the_floor_on_both_sides(
    aisle: float, parts: int
) -> None:
    across = 4000 - aisle
    box = ((3000, aisle + across / 2), (800, across), 0.0)
    assert len(free(standing(box), 900).parts) == parts


@pytest.mark.parametrize(("gap", "parts"), [(900, 1), (899.2, 1), (898.8, 2)])
def test_a_gap_between_two_corners_is_not_left_to_the_arcs(gap: float, parts: int) -> None:
    """Two corners set off against each other in a room cut in two otherwise."""
    right = gap * 0.6
    up = gap * 0.8
    low = ((2000, 1000), (2000, 2000), 0.0)
    high = ((3000 + right + 1000, 2000 + up + 1000), (2000, 2000), 0.0)
    both = standing(low, high, outline=rectangle(5000 + right, 4000 + up))
    assert len(free(both, 900).parts) == parts


def test_the_corner_tolerance_is_about_two_millimetres_and_is_kept() -> None:
    assert corner_tolerance_mm(900) == pytest.approx(2.17, abs=0.01)
    box = ((3000, 2000), (600, 400), 0.0)
    floor = free(standing(box), 900)
    corner = shapely.Point(3300, 2200)
    ring = MultiPolygon(floor.parts).boundary
    near = ring.intersection(corner.buffer(600)).intersection(shapely.box(3300, 2200, 4000, 3000))
    finely = [near.interpolate(n / 400, normalized=True) for n in range(401)]
    away = [corner.distance(point) for point in finely]
    assert min(away) == pytest.approx(449.5 - corner_tolerance_mm(899), abs=0.01)
    assert max(away) == pytest.approx(449.5, abs=0.01)


def test_what_a_body_sweeps_does_not_reach_into_corners() -> None:
    floor = free(standing(), 901)
    swept = floor.swept(0)
    # A disc of 450 leaves (1 - pi/4) of a square of 450 in each of four corners.
    left = 6000 * 4000 - 4 * (1 - math.pi / 4) * 450**2
    assert swept.area == pytest.approx(left, rel=1e-3)


# --- walks -------------------------------------------------------------------------------------


def test_with_nothing_in_the_way_a_walk_is_straight() -> None:
    assert length(standing(), 600, (500, 500), (3500, 2500)) == pytest.approx(
        math.hypot(3000, 2000)
    )


def around(half: float, over: float, away: float, drop: float) -> float:
    """The taut string round the end of a wall: tangent, arc, straight over, arc, tangent.

    The wall's end has two corners ``over`` apart, each with an arc of radius ``half``. The
    walker starts ``away`` beside the first and ``drop`` below it, and ends at the mirror image.
    """
    reach = math.hypot(away, drop)
    tangent = math.sqrt(reach**2 - half**2)
    arc = half * (math.atan2(drop, away) + math.asin(half / reach))
    return 2 * (tangent + arc) + over


def test_a_walk_round_the_end_of_a_wall_is_two_tangents_two_arcs_and_a_straight() -> None:
    # A wall 200 thick from the bottom up to 2000; the walker is 600 wide, so keeps 299.5 off.
    wall = ((3000, 1000), (200, 2000), 0.0)
    start, end = (1900.0, 1000.0), (4100.0, 1000.0)
    exact = around(half=299.5, over=200, away=1000, drop=1000)
    found = length(standing(wall), 600, start, end)
    # inscribed arcs: at each corner a little short, never long
    assert exact - 2.0 <= found <= exact


def test_with_the_corners_drawn_square_a_walk_would_be_longer() -> None:
    wall = ((3000, 1000), (200, 2000), 0.0)
    square = 2 * math.hypot(700.5, 1299.5) + 200 + 2 * 299.5
    assert length(standing(wall), 600, (1900, 1000), (4100, 1000)) < square


def test_a_walk_that_no_aisle_allows_is_endless_and_has_no_line() -> None:
    wall = ((3000, 2000), (200, 4000), 0.0)
    walks = Walks(free(standing(wall), 600), [(1000, 1000), (5000, 1000)])
    assert math.isinf(walks.length(0, 1))
    assert walks.line(0, 1) == ()


def test_a_place_off_the_floor_is_reached_from_nowhere() -> None:
    walks = Walks(free(standing(), 600), [(10, 10), (5000, 1000)])
    assert math.isinf(walks.length(0, 1))


def test_two_places_on_one_spot_are_no_way_apart() -> None:
    walks = Walks(free(standing(), 600), [(1000, 1000), (1000, 1000), (2000, 1000)])
    assert walks.length(0, 1) == 0
    assert walks.line(0, 1) == ((1000, 1000), (1000, 1000))
    assert walks.length(1, 2) == pytest.approx(1000)


def _hundreds(least: int, most: int) -> st.SearchStrategy[float]:
    return st.integers(least, most).map(lambda n: n * 100.0)


_boxes = st.lists(
    st.tuples(
        st.tuples(_hundreds(8, 52), _hundreds(8, 32)),
        st.tuples(st.sampled_from([200.0, 600.0, 1300.0]), st.sampled_from([200.0, 700.0])),
        st.sampled_from([0.0, 0.0, 90.0, 30.0, 45.0]),
    ),
    min_size=1,
    max_size=6,
)  # fmt: skip
PLACES: tuple[Point, ...] = ((350.0, 350.0), (5650.0, 3650.0), (350.0, 3650.0))


def by_visibility(floor: FreeFloor, places: tuple[Point, ...]) -> list[list[float]]:
    """Shortest lengths by a graph of every corner that sees another, and Floyd and Warshall."""
    rings = [r for p in floor.parts for r in (p.exterior, *p.interiors)]
    points = [*places, *(c for ring in rings for c in ring.coords[:-1])]
    whole = MultiPolygon(floor.parts).buffer(0.01, join_style="mitre")
    count = len(points)
    far = [[math.inf] * count for _ in range(count)]
    shapely.prepare(whole)
    for a in range(count):
        far[a][a] = 0.0
        for b in range(a):
            if whole.covers(LineString([points[a], points[b]])):
                far[a][b] = far[b][a] = math.dist(points[a], points[b])
    for k in range(count):
        for a in range(count):
            if far[a][k] < math.inf:
                far[a] = [min(x, far[a][k] + y) for x, y in zip(far[a], far[k], strict=True)]
    return [row[: len(places)] for row in far[: len(places)]]


@settings(max_examples=12, deadline=None)
@given(boxes=_boxes)
def test_leaving_out_lines_that_do_not_touch_changes_no_walk(boxes: list[Box]) -> None:
    floor = free(standing(*boxes[:3]), 500)
    found = Walks(floor, PLACES)
    for a, row in enumerate(by_visibility(floor, PLACES)):
        for b, exact in enumerate(row):
            assert found.length(a, b) == pytest.approx(exact, abs=1e-3)


@settings(max_examples=40, deadline=None)
@given(boxes=_boxes)
def test_one_thing_more_never_shortens_a_walk(boxes: list[Box]) -> None:
    before = Walks(free(standing(*boxes[:-1]), 500), PLACES)
    after = Walks(free(standing(*boxes), 500), PLACES)
    assert after.length(0, 1) >= before.length(0, 1) - 2 * len(boxes)
    assume(math.isfinite(after.length(0, 1)))
    assert before.length(0, 1) >= math.dist(PLACES[0], PLACES[1]) - 1e-6


@settings(max_examples=40, deadline=None)
@given(boxes=_boxes, width=st.sampled_from([300.0, 500.0]))
def test_a_line_is_as_long_as_it_says_and_keeps_off_everything(
    boxes: list[Box], width: float
) -> None:
    room_ = standing(*boxes)
    walks = Walks(free(room_, width), PLACES)
    assume(math.isfinite(walks.length(0, 1)))
    line = LineString(walks.line(0, 1))
    assert line.length == pytest.approx(walks.length(0, 1), abs=1e-3)
    away = min(thing.polygon.distance(line) for thing in room_.things)
    assert away >= width / 2 - 0.5 - corner_tolerance_mm(width) - 0.1


@settings(max_examples=30, deadline=None)
@given(boxes=_boxes, degrees=st.sampled_from([37.0, 143.0]))
def test_turning_the_room_keeps_every_walk(boxes: list[Box], degrees: float) -> None:
    things = [fixture(f"box-{n}", *box) for n, box in enumerate(boxes, 1)]
    shop = room(ROOM, [DOOR], things=things)
    angle = math.radians(degrees)
    there = [
        (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
        for x, y in PLACES
    ]
    straight = Walks(free(Standing(shop), 500), PLACES)
    askew = Walks(free(Standing(turned(shop, degrees)), 500), there)
    for a, b in ((0, 1), (0, 2), (1, 2)):
        assert askew.length(a, b) == pytest.approx(straight.length(a, b), abs=0.5)


@settings(max_examples=30, deadline=None)
@given(boxes=_boxes, factor=st.sampled_from([2.0, 3.0]))
def test_scaling_the_room_and_the_body_scales_every_walk(boxes: list[Box], factor: float) -> None:
    things = [fixture(f"box-{n}", *box) for n, box in enumerate(boxes, 1)]
    shop = room(ROOM, [DOOR], things=things)
    plain = Walks(free(Standing(shop), 500), PLACES)
    grown = Standing(scaled(shop, factor))
    # the half millimetre that is spared is not scaled: the grown body is a little wider for it
    body = 500 * factor - (factor - 1)
    there = [(x * factor, y * factor) for x, y in PLACES]
    walks = Walks(free(grown, body), there)
    assume(math.isfinite(walks.length(0, 1)) == math.isfinite(plain.length(0, 1)))
    assert walks.length(0, 1) == pytest.approx(plain.length(0, 1) * factor, rel=1e-6)


def test_arcs_have_as_many_pieces_as_said() -> None:
    (part,) = free(standing(((3000, 2000), (600, 400), 0.0)), 900).parts
    (hole,) = part.interiors
    assert len(hole.coords) - 1 == 4 * (ARC_STEPS + 1)
    assert Polygon(hole).area < (600 + 899) * (400 + 899)
