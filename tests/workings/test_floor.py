"""Overlaps, working room, moving parts, guards, zones and people, on rooms worked by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity, box

from generator.ground.finding import Finding, Severity
from generator.ground.working import Verdict, Working
from generator.shop.load import load_shop
from generator.shop.records.machines import GuardOpening, HotSurface
from generator.shop.records.room import Outlet, WaterPoint
from generator.shop.shop import Shop
from generator.workings import floor
from generator.workings.floor.overlap import overlap_mm
from generator.workings.floor.people import by_air_space, by_floor_area, in_session
from tests.workings.rooms import (
    BASE,
    changed,
    column,
    door,
    fixture,
    machine,
    moves,
    rectangle,
    room,
    side,
    station,
    turned,
    zone,
)

DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
HALL = rectangle(8000, 5000)
EAST = door("east", (8000, 2000), (8000, 3000))


def hall(*stations: object, **more: object) -> Shop:
    return room(HALL, [EAST], stations, **more)  # type: ignore[arg-type]


def found(shop: Shop, rule: str) -> list[Finding]:
    return [f for f in floor.study(shop).survey.findings if f.rule == rule]


def working(shop: Shop, id_: str) -> Working:
    return next(w for w in floor.study(shop).survey.workings if w.id == id_)


# --- overlaps ---------------------------------------------------------------------------------


def test_benches_set_side_by_side_touch_and_do_not_overlap() -> None:
    assert overlap_mm(box(0, 0, 1000, 600), box(1000, 0, 2000, 600)) == 0.0


def test_the_overlap_is_the_shortest_way_out() -> None:
    assert overlap_mm(box(0, 0, 1000, 600), box(900, 250, 2000, 850)) == pytest.approx(100)
    assert overlap_mm(box(0, 0, 1000, 600), box(100, 550, 2000, 850)) == pytest.approx(50)


def test_a_small_thing_inside_a_large_one_is_moved_all_the_way_out() -> None:
    assert overlap_mm(box(0, 0, 1000, 1000), box(100, 400, 300, 600)) == pytest.approx(300)


def test_shapes_without_parallel_sides_overlap_alike_from_either() -> None:
    # Right-angled at (0, 0) and at (400, 400): along x + y one ends at 1000, the other begins
    # at 800, so 200 by the diagonal.
    one = Polygon([(0, 0), (1000, 0), (0, 1000)])
    other = Polygon([(400, 400), (1400, 400), (400, 1400)])
    assert overlap_mm(one, other) == pytest.approx(200 / 2**0.5)
    assert overlap_mm(other, one) == pytest.approx(200 / 2**0.5)


def test_an_l_shape_leaves_its_corner_free() -> None:
    ell = Polygon([(0, 0), (1000, 0), (1000, 400), (400, 400), (400, 1000), (0, 1000)])
    assert overlap_mm(ell, box(500, 500, 900, 900)) == 0.0
    assert overlap_mm(ell, box(350, 500, 900, 900)) == pytest.approx(50, abs=0.01)


@settings(max_examples=100, deadline=None)
@given(apart=st.integers(-300, 300), angle=st.floats(0, 360), lift=st.integers(-500, 500))
def test_turning_two_boxes_keeps_their_overlap(apart: int, angle: float, lift: int) -> None:
    one, other = box(0, 0, 1000, 600), box(1000 + apart, lift, 2000 + apart, lift + 600)
    askew = [affinity.rotate(shape, angle, origin=(0, 0)) for shape in (one, other)]
    depth = overlap_mm(one, other)
    assert depth == max(0.0, min(-apart, 600 - abs(lift)))
    assert overlap_mm(*askew) == pytest.approx(depth, abs=0.01)


@settings(max_examples=100, deadline=None)
@given(angle=st.floats(0, 360), dx=st.floats(-900, 900), dy=st.floats(-900, 900))
def test_moving_one_by_the_overlap_parts_them(angle: float, dx: float, dy: float) -> None:
    one = box(0, 0, 1000, 600)
    other = affinity.translate(affinity.rotate(box(0, 0, 700, 400), angle), dx, dy)
    depth = overlap_mm(one, other)
    if depth == 0:
        assert one.intersection(other).area < 5
    else:
        assert one.intersects(other)
        assert one.buffer(-depth / 2 - 0.01, join_style="mitre").disjoint(
            other.buffer(-depth / 2 - 0.01, join_style="mitre")
        )


def test_two_stations_in_one_place_are_named_with_how_far_to_move_them() -> None:
    shop = hall(
        station("a", 1, (3000, 2000), (1000, 600)), station("b", 2, (3900, 2000), (1000, 600))
    )
    (fix,) = found(shop, "floor.overlap")
    assert fix.says == "Station 1 (S1) and station 2 (S2) overlap by 100\u202fmm."
    assert "100\u202fmm" in fix.mend


@pytest.mark.parametrize("apart", [1000.0, 999.6])
def test_what_only_touches_is_no_overlap(apart: float) -> None:
    two = [
        station("a", 1, (3000, 2000), (1000, 600)),
        station("b", 2, (3000 + apart, 2000), (1000, 600)),
    ]
    assert found(hall(*two), "floor.overlap") == []
    assert found(turned(hall(*two), 37), "floor.overlap") == []


def test_a_station_over_a_column_is_found_and_a_column_in_a_wall_is_not() -> None:
    pier = column("pier", (3000, 2000), (300, 300))
    flush = column("flush", (4000, 50), (300, 300))
    shop = hall(station("a", 1, (3000, 2000), (1000, 600)), things=[pier, flush])
    (fix,) = found(shop, "floor.overlap")
    assert "pier" in fix.says
    assert found(shop, "floor.outside") == []


def test_a_station_through_a_wall_is_found_with_how_far() -> None:
    (fix,) = found(hall(station("a", 1, (3000, 200), (1000, 600))), "floor.outside")
    assert "100\u202fmm beyond the walls" in fix.says


def test_a_station_in_the_swing_of_an_exit_stops() -> None:
    inward = changed(EAST, opens="in")
    shop = room(HALL, [inward], [station("a", 1, (7300, 2500), (400, 400))])
    (stop,) = found(shop, "floor.door-swing")
    assert stop.severity is Severity.STOP
    out = room(HALL, [EAST], [station("a", 1, (7300, 2500), (400, 400))])
    assert found(out, "floor.door-swing") == []


def test_the_corner_beyond_the_leaf_is_no_part_of_the_swing() -> None:
    """The leaf is 1000 long about (8000, 2000): 900 and 900 away is beyond its quarter circle."""
    inward = changed(EAST, opens="in")
    corner = station("a", 1, (7050, 2950), (100, 100))
    assert found(room(HALL, [inward], [corner]), "floor.door-swing") == []


# --- working sides ----------------------------------------------------------------------------


def test_the_clear_floor_is_measured_to_the_first_thing() -> None:
    bench = station("a", 1, (3000, 4000), (1200, 600), 0, [side("front", 900)])
    shop = hall(bench, things=[fixture("shelf", (3300, 2700), (400, 400))])
    # Front at 3700, the shelf's back at 2900.
    result = working(shop, "floor.side.a.front")
    assert (result.result.value, result.verdict) == (800, Verdict.FAILS)
    (fix,) = found(shop, "floor.side-blocked")
    assert "800\u202fmm are clear up to shelf; 900\u202fmm are needed" in fix.says
    assert "100\u202fmm more" in fix.mend


def test_what_stands_beside_the_side_is_not_in_the_way() -> None:
    bench = station("a", 1, (3000, 4000), (1200, 600), 0, [side("front", 900)])
    beside = fixture("shelf", (3800, 3500), (400, 400))
    assert found(hall(bench, things=[beside]), "floor.side-blocked") == []


def test_a_narrower_side_needs_a_narrower_floor() -> None:
    shelf = fixture("shelf", (3450, 3300), (300, 400))
    whole = station("a", 1, (3000, 4000), (1200, 600), 0, [side("front", 900)])
    part = station("a", 1, (3000, 4000), (1200, 600), 0, [side("front", 900, width=500)])
    assert len(found(hall(whole, things=[shelf]), "floor.side-blocked")) == 1
    assert found(hall(part, things=[shelf]), "floor.side-blocked") == []


def test_a_wall_blocks_a_service_side() -> None:
    press = station("a", 1, (1000, 4000), (1000, 600), 0, [side("left", 600, service=True)])
    (fix,) = found(hall(press), "floor.service-blocked")
    assert "500\u202fmm are clear up to the wall; 600\u202fmm are needed" in fix.says


@pytest.mark.parametrize(("free", "blocked"), [(900.0, False), (899.5, False), (899.0, True)])
def test_exactly_the_depth_holds(free: float, blocked: bool) -> None:
    bench = station("a", 1, (3000, 300 + 600 + free), (1200, 600), 0, [side("front", 900)])
    shop = hall(bench, things=[fixture("shelf", (3000, 300), (1200, 600))])
    assert bool(found(shop, "floor.side-blocked")) is blocked
    assert bool(found(turned(shop, 37), "floor.side-blocked")) is blocked


def test_a_machine_given_less_than_the_table_is_noted_and_a_serviced_side_is_to_be_mended() -> None:
    sides = [side("front", 900), side("left", 500, service=True)]
    shop = hall(station("a", 1, (4000, 4000), (1000, 600), 0, sides), machines=[machine("m", "a")])
    severities = sorted(f.severity for f in found(shop, "floor.side-short"))
    assert severities == [Severity.FIX, Severity.NOTE]


# --- the board --------------------------------------------------------------------------------


def test_the_board_in_the_us_needs_900_mm_over_760() -> None:
    shelf = fixture("shelf", (4300, 700), (300, 400))
    shop = hall(things=[shelf], place="US")
    shop = changed(
        shop, room=changed(shop.room, supply=changed(shop.room.supply, profile="US-120-240"))
    )
    (fix,) = found(shop, "floor.board")
    assert fix.severity is Severity.FIX
    assert "500\u202fmm are clear up to shelf" in fix.says
    assert working(shop, "floor.board").verdict is Verdict.FAILS


def test_the_board_elsewhere_is_a_question_for_the_electrician() -> None:
    (ask,) = found(hall(), "floor.board")
    assert (ask.severity, ask.asks) == (Severity.ASK, "electrician")
    assert working(hall(), "floor.board").verdict is Verdict.UNANSWERED


# --- what moves -------------------------------------------------------------------------------


def crusher(reach: float, shelf_at: float, **more: object) -> Shop:
    """A bench whose table slides out of its front at 3700, towards a shelf."""
    bench = station("a", 1, (3000, 4000), (1200, 600))
    shelf = fixture("shelf", (3000, shelf_at - 200), (1200, 400))
    slide = machine("saw", "a", moves=(moves("Table", "front", reach),))
    return hall(bench, machines=[slide], things=[shelf], **more)


@pytest.mark.parametrize(
    ("left", "crushes"),
    [(500, ()), (499, ("body",)), (299, ("body", "head")), (179, ("body", "head", "leg")),
     (119, ("body", "head", "leg", "arm")), (99, ("body", "head", "leg", "arm", "hand")),
     (24, ("body", "head", "leg", "arm", "hand", "finger"))],
)  # fmt: skip
def test_the_gap_beyond_a_moving_part_by_the_table(left: float, crushes: tuple[str, ...]) -> None:
    """ISO 13854: body 500, head 300, leg 180, arm 120, hand 100, finger 25 mm."""
    shop = crusher(400, 3700 - 400 - left)
    (squeeze,) = floor.study(shop).moving.squeezes
    assert squeeze.left_mm == pytest.approx(left)
    assert squeeze.crushes == crushes
    assert bool(found(shop, "floor.crush-gap")) is bool(crushes)


def test_a_part_that_strikes_something_says_how_far() -> None:
    (fix,) = found(crusher(400, 3400), "floor.crush-gap")
    assert "strikes shelf: it reaches 100\u202fmm too far" in fix.says


def test_two_moving_parts_leave_the_gap_between_them() -> None:
    one, other = (
        station("a", 1, (3000, 4000), (1200, 600)),
        station("b", 2, (3000, 1400), (1200, 600), 180),
    )
    shop = hall(one, other, machines=[
        machine("m", "a", moves=(moves("Table", "front", 700),)),
        machine("n", "b", moves=(moves("Gate", "front", 900),)),
    ])  # fmt: skip
    # Fronts at 3700 and 1700: 2000 between, less 700 and 900.
    lefts = [s.left_mm for s in floor.study(shop).moving.squeezes]
    assert lefts == [pytest.approx(400), pytest.approx(400)]
    says = {f.says for f in found(shop, "floor.crush-gap")}
    assert any("what moves on n" in each for each in says)


# --- guards -----------------------------------------------------------------------------------


def opening(**given_: object) -> GuardOpening:
    kept = {"where": "Hopper", "shape": "slot", "opening": "10 mm", "distance": "80 mm"}
    return GuardOpening.model_validate({**kept, **given_})


def guarded(*openings: GuardOpening, **station_fields: Any) -> Shop:
    use = changed(BASE.stations["cutting"].use, least_age_years=16.0) if BASE else None
    bench = station("a", 1, (3000, 4000), (1200, 600), **{"use": use, **station_fields})
    return hall(bench, machines=[machine("m", "a", guard_openings=openings)])


@pytest.mark.parametrize(
    ("slot", "distance", "holds"),
    [("4 mm", "2 mm", True), ("10 mm", "80 mm", True), ("10 mm", "79 mm", False),
     ("20 mm", "120 mm", True), ("21 mm", "120 mm", False), ("120 mm", "850 mm", True)],
)  # fmt: skip
def test_guard_openings_by_the_table(slot: str, distance: str, holds: bool) -> None:
    """ISO 13857, ages 14 and over: slots of 4, 10, 20 and 120 mm need 2, 80, 120 and 850 mm."""
    shop = guarded(opening(opening=slot, distance=distance))
    assert bool(found(shop, "floor.guard-distance")) is not holds


def test_an_opening_beyond_the_table_is_asked_about_and_never_worked_out() -> None:
    shop = guarded(opening(opening="130 mm", distance="5000 mm"))
    (ask,) = found(shop, "floor.guard-distance")
    assert ask.severity is Severity.ASK
    only = working(shop, "floor.guard.m.1")
    assert (only.verdict, only.limit) == (Verdict.UNANSWERED, None)


def test_somebody_under_14_within_reach_is_a_question() -> None:
    young = changed(BASE.stations["cutting"].use, least_age_years=13.0) if BASE else None
    assert len(found(guarded(opening(), use=young), "floor.guard-age")) == 1
    assert found(guarded(opening()), "floor.guard-age") == []


@pytest.mark.parametrize(("edge", "asked"), [(3200.0, 1), (2700.0, 0)])
def test_visitors_within_an_arm_s_reach_count_and_farther_off_do_not(
    edge: float, asked: int
) -> None:
    """The station's front is at 3700: a border at 3200 is 500 off, one at 2700 is 1000 off."""
    shop = guarded(opening())
    front = zone("front", "public", rectangle(8000, edge), visitors=True)
    zones = {**shop.room.zones, "front": front}
    shop = changed(shop, room=changed(shop.room, zones=zones))
    assert len(found(shop, "floor.guard-age")) == asked


# --- zones ------------------------------------------------------------------------------------


def test_outlets_inside_a_wet_zone_are_listed_for_the_electrician() -> None:
    shop = hall(zones=[zone("wash", "wet", rectangle(2000, 2000)), zone("work", "clean")])
    socket = Outlet.model_validate(
        {"at": "0, 1000 mm", "height": "1500 mm", "kind": "socket", "rating": "16 A"}
    )
    circuits = {i: changed(c, outlets={"low": socket}) for i, c in shop.room.circuits.items()}
    shop = changed(shop, room=changed(shop.room, circuits=circuits))
    (ask,) = found(shop, "floor.apart.wet")
    assert ask.asks == "electrician"
    assert "`low` at 1500\u202fmm" in ask.says


def test_the_nearest_outlet_to_a_tap_is_measured() -> None:
    shop = hall()
    tap = WaterPoint.model_validate({"at": "4000, 400 mm", "kind": "tap"})
    circuits = {i: changed(c, outlets={}) for i, c in shop.room.circuits.items()}
    shop = changed(shop, room=changed(shop.room, water={"tap": tap}, circuits=circuits))
    (apart,) = floor.study(shop).zones.wet
    assert apart.distance_mm == pytest.approx(400), "the board hangs at the middle of the wall"


def test_the_nearest_dusty_and_hot_stations_are_asked_about() -> None:
    saw, press = (
        station("a", 1, (1000, 4000), (1000, 600)),
        station("b", 2, (5000, 4000), (1000, 600)),
    )
    kinds = [machine("saw", "a", kind="band-saw"), machine("press", "b", kind="platen-press")]
    shop = hall(saw, press, machines=kinds)
    (ask,) = found(shop, "floor.apart.dusty")
    assert ask.asks == "fire"
    assert "3\u202fm apart" in ask.says


def test_a_wall_between_dusty_and_hot_keeps_them_apart() -> None:
    ell = ((0, 0), (8000, 0), (8000, 3000), (3000, 3000), (3000, 6000), (0, 6000))
    saw, press = (
        station("a", 1, (2500, 5400), (600, 600)),
        station("b", 2, (6000, 2700), (600, 600)),
    )
    kinds = [machine("saw", "a", kind="band-saw"), machine("press", "b", kind="platen-press")]
    shop = room(ell, [door("e", (8000, 500), (8000, 1500))], [saw, press], machines=kinds)
    assert found(shop, "floor.apart.dusty") == []


def test_visitors_within_reach_of_something_hot_and_bare() -> None:
    hot = HotSurface.model_validate({"where": "Nozzle", "surface": "200 °C"})
    shop = hall(station("a", 1, (3000, 4000), (1200, 600)),
                machines=[machine("m", "a", hot_surfaces=(hot,))],
                zones=[zone("front", "public", rectangle(8000, 3200), visitors=True),
                       zone("work", "hot")])  # fmt: skip
    (fix,) = found(shop, "floor.apart.visitors")
    assert "500\u202fmm from “Nozzle” of m" in fix.says


# --- people -----------------------------------------------------------------------------------


def test_people_by_area_and_by_air_round_down() -> None:
    """96 m²: at 5 m² each 19.2, so 19; 3 m high at 11 m³ each 26.18, so 26."""
    assert by_floor_area(96, 5) == 19
    assert by_air_space(96, 3, 3, 11) == 26
    assert by_air_space(96, 4.2, 3, 11) == 26, "height above 3 m does not count"


def test_people_in_a_shop_of_50_square_feet_each() -> None:
    """1200 square feet of vocational shop are 24 people at 50 each (IBC table 1004.5)."""
    assert by_floor_area(1200 * 0.09290304, 50 * 0.09290304) == 24


def test_an_area_that_divides_evenly_is_not_one_short() -> None:
    assert by_floor_area(4.65 * 7, 4.65) == 7


def with_most(most: int, place: str = "UK") -> Shop:
    shop = hall(place=place)
    return changed(shop, shop=changed(shop.shop, most_people=most))


def test_more_people_than_the_floor_counts_for() -> None:
    # 40 m² are 8 people at 5 m² each, and 2.8 m high 10 people at 11 m³ each.
    (fix,) = found(with_most(9), "floor.people.area")
    assert fix.severity is Severity.FIX
    assert "40\u202fm²" in fix.says
    assert "8" in fix.mend
    assert found(with_most(8), "floor.people.area") == []
    assert len(found(with_most(11), "floor.people.air")) == 1
    assert found(with_most(10), "floor.people.air") == []


def test_where_the_place_has_no_figure_the_fire_officer_is_asked() -> None:
    (ask,) = found(with_most(8, "IN"), "floor.people.area")
    assert (ask.severity, ask.asks) == (Severity.ASK, "fire")


def test_the_fullest_session_counts_where_more_come_than_agreed() -> None:
    shop = load_shop(DEMONSTRATION).shop
    assert shop is not None
    session = shop.sessions["school-class"]
    # 16 learners, 2 adults with them, 1 + 1 + 2 of the shop's own
    assert in_session(session) == 22
    crowd = changed(session, learners=changed(session.learners, count=40))
    more = changed(shop, sessions={"school-class": crowd})
    assert floor.study(more).people.most == 46


# --- the whole --------------------------------------------------------------------------------


def test_an_empty_shop_has_no_finding_but_questions() -> None:
    shop = room(HALL, [EAST])
    assert {f.severity for f in floor.study(shop).survey.findings} <= {Severity.ASK, Severity.FIX}


def test_a_station_of_an_odd_shape_stands_by_its_own_outline() -> None:
    """An eight-sided table leaves its corners free, where its rectangle would not."""
    a, b = 290.0, 700.0
    octagon = ((b, a), (a, b), (-a, b), (-b, a), (-b, -a), (-a, -b), (a, -b), (b, -a))
    table = station("a", 1, (3000, 2000), (1400, 1400), outline=octagon)
    corner = fixture("post", (3620, 2620), (100, 100))
    assert found(hall(table, things=[corner]), "floor.overlap") == []
    square = station("a", 1, (3000, 2000), (1400, 1400))
    assert len(found(hall(square, things=[corner]), "floor.overlap")) == 1
