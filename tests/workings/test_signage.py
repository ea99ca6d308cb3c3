"""Signs: how large, where, from how far; what is missing, what nothing asks for."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from shapely import Point

from generator.ground.finding import Finding, Severity
from generator.ground.working import Verdict
from generator.reference import reference
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import routes, signage
from generator.workings.buildout import shop_at
from generator.workings.floor.standing import Standing
from generator.workings.signage import SignageStudy, laws
from generator.workings.signage.rounds import nearest_next
from generator.workings.signage.words import words_of
from tests.workings.hall import Data, hall, machine, station
from tests.workings.rooms import changed, fixture, turned

DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
EXIT = {
    "name": "Door", "hinge": "1000, 0 mm", "latch": "1950, 0 mm", "clear_width": "900 mm",
    "opens": "out", "exit": True, "lock": "thumb-turn", "leads_to": "the yard",
}  # fmt: skip


def studied(shop: Shop, *, walked: bool = False) -> SignageStudy:
    standing = Standing(shop)
    return signage.study(shop, standing, routes.study(shop, standing) if walked else None)


def told(study: SignageStudy, rule: str) -> list[Finding]:
    return [f for f in study.survey.findings if f.rule == f"signage.{rule}"]


# --- how large ---------------------------------------------------------------------------------


def test_height_is_distance_over_the_factor() -> None:
    """15 m: 150.0 mm at Z 100 and 88.24 mm at Z 170."""
    assert laws.height_mm(15.0, 100.0) == pytest.approx(150.0)
    assert laws.height_mm(15.0, 170.0) == pytest.approx(88.24, abs=0.005)


def test_area_is_distance_squared_over_2000() -> None:
    """10 m: 0.0500 m², a square of 223.6 mm, a circle of 252.3, a triangle of 339.8."""
    area = laws.area_m2(10.0)
    assert area == pytest.approx(0.05)
    assert laws.across_of_area_mm("square", area) == pytest.approx(223.6, abs=0.05)
    assert laws.across_of_area_mm("circle", area) == pytest.approx(252.3, abs=0.05)
    assert laws.across_of_area_mm("triangle", area) == pytest.approx(339.8, abs=0.05)


@pytest.mark.parametrize(
    ("lux", "factor"),
    [(5, 95), (99, 95), (100, 170), (199.9, 170), (200, 185), (400, 200), (900, 200)],
)
def test_the_factor_is_that_of_the_darker_row(lux: float, factor: float) -> None:
    value = laws.factor_at(lux)
    assert value is not None
    assert value.low == factor


def test_less_light_than_the_table_has_no_factor() -> None:
    assert laws.factor_at(4.9) is None


@pytest.mark.parametrize("shape", ["square", "circle", "triangle"])
@pytest.mark.parametrize("factor", [20.0, 95.0, 200.0])
def test_reach_and_width_are_each_others_inverse(shape: laws.Shape, factor: float) -> None:
    for metres in (1.0, 3.7, 12.0):
        across = laws.across_mm(shape, metres, factor)
        assert laws.read_from_m(shape, across, factor) == pytest.approx(metres)


def test_a_sign_is_high_enough_and_large_enough() -> None:
    """At Z 20 the height rules: 10 m over 20 is 500 mm, more than the 223.6 of the area."""
    assert laws.across_mm("square", 10.0, 20.0) == pytest.approx(500.0)
    assert laws.across_mm("square", 10.0, 100.0) == pytest.approx(223.6, abs=0.05)
    assert laws.high_mm("triangle", laws.across_mm("triangle", 10.0, 20.0)) == pytest.approx(500.0)


def test_letters_are_a_200th_of_the_distance() -> None:
    assert laws.letter_mm(4.0) == pytest.approx(20.0)
    assert laws.least_letter_mm(4.0) == pytest.approx(13.33, abs=0.005)


# --- which and where ---------------------------------------------------------------------------


def test_what_a_machine_is_asks_for_its_signs() -> None:
    shop = hall(
        stations={"bench": station()},
        machines={"press": machine(hot_surfaces=[{"where": "Edge", "surface": "180 °C"}])},
    )
    codes = {n.code for n in studied(shop).needs if n.subject == "stations/bench"}
    assert codes == {"W024", "W017"}


def test_an_exit_has_its_sign_over_it_and_any_other_door_none() -> None:
    doors = {"door": EXIT, "inner": {**EXIT, "hinge": "5 m, 0 m", "latch": "5.9 m, 0 m",
                                     "exit": False}}  # fmt: skip
    study = studied(hall(room={"doors": doors}, stations={"bench": station()}))
    places = [p for p in study.places if any(w.need.rule == "exit" for w in p.wanted)]
    assert [p.subject for p in places] == ["room/doors/door"]
    assert places[0].spot.at == pytest.approx((1475.0, 0.0))
    assert 2000 <= places[0].lower_mm <= 2500


def test_every_spot_is_on_a_face_and_in_sight_of_whoever_works_there() -> None:
    shop = load_shop(DEMONSTRATION).shop
    assert shop is not None
    standing = Standing(shop)
    study = signage.study(shop, standing)
    assert len(study.places) > 30
    for place in study.places:
        at = Point(place.spot.at)
        wall = standing.room.exterior.distance(at)
        thing = min(t.polygon.exterior.distance(at) for t in standing.things)
        assert min(wall, thing) < 1.0, place.id
        for wanted in place.wanted:
            assert wanted.size.distance_m is not None, (place.id, wanted.code)


def _aid(at: str, **room: object) -> Data:
    box = {"kind": "first-aid", "name": "Box", "at": at}
    return {"equipment": {"box": box}, **room}


def test_the_distance_is_the_longest_in_sight() -> None:
    """From the middle of a 12 m wall of an empty hall the far corners are (6, 8) m off: 10 m."""
    study = studied(hall(room=_aid("6 m, 8 m")))
    box = next(w for w in study.wanted if w.code == "E003")
    assert box.size.distance_m == pytest.approx(10.0, abs=0.05)
    assert box.size.light == "escape"
    assert box.size.across_mm == pytest.approx(223.6, abs=1.2)
    assert box.paper is not None
    assert box.paper.name == "A3"


def test_it_does_not_look_through_a_wall() -> None:
    """In an L of two arms 3 m wide, 12 m and 8 m long, the box in one arm is not read from the
    other, though 13.9 m away straight: from (0, 6.5) one sees no more than its own arm and the
    corner."""
    outline = ["0 m, 0 m", "12 m, 0 m", "12 m, 3 m", "3 m, 3 m", "3 m, 8 m", "0 m, 8 m"]
    study = studied(hall(room=_aid("0 m, 7.5 m", outline=outline)))
    box = next(w for w in study.wanted if w.code == "E003")
    # the sight line past the corner (3, 3) meets the far wall y=0 at x = 3 + 3 * 3 / 4.5 = 5
    assert box.size.distance_m == pytest.approx(math.hypot(5.0, 7.5), abs=0.1)


def test_a_tall_thing_in_between_makes_no_sign_larger() -> None:
    fixture = {"name": "Rack", "at": "6 m, 4 m", "size": "12 x 0.4 m", "height": "2000 mm"}
    low = {**fixture, "height": "1400 mm"}
    far, near = (
        next(w for w in studied(hall(room=_aid("6 m, 8 m", fixtures={"rack": each}))).wanted
             if w.code == "E003").size.distance_m
        for each in (low, fixture)
    )  # fmt: skip
    assert far == pytest.approx(10.0, abs=0.05)
    assert near is not None
    assert near == pytest.approx(math.hypot(6.0, 3.8), abs=0.05)


# --- what hangs --------------------------------------------------------------------------------


def _hung(sign: str, at: str, **more: object) -> Data:
    return {"signs": {"one": {"sign": sign, "at": at, **more}}}


def test_what_hangs_is_ticked_off() -> None:
    room = _aid("6 m, 8 m", **_hung("E003", "6 m, 8 m", height="1900 mm", across="230 mm"))
    study = studied(hall(room=room))
    assert "E003" not in {w.code for w in study.wanted}
    posted = next(p for p in study.posted if p.code == "E003")
    assert [need.subject for need in posted.needs] == ["room/equipment/box"]
    assert not told(study, "too-small")


def test_the_same_sign_across_the_room_answers_nothing() -> None:
    study = studied(hall(room=_aid("6 m, 8 m", **_hung("E003", "0 m, 1 m"))))
    assert "E003" in {w.code for w in study.wanted}
    assert [f.severity for f in told(study, "nothing-asks")] == [Severity.FIX]


def test_a_sign_too_small_for_its_room_is_found() -> None:
    """100 mm is read from 100 / 22.36 = 4.5 m; the far corners are 10 m off."""
    study = studied(hall(room=_aid("6 m, 8 m", **_hung("E003", "6 m, 8 m", across="100 mm"))))
    (finding,) = told(study, "too-small")
    assert "4.5" in finding.says
    assert "10" in finding.says
    working = next(w for w in study.survey.workings if w.id == finding.working)
    assert working.verdict is Verdict.FAILS


def test_letters_too_low_are_found() -> None:
    """10 m over 300 is 33 mm."""
    room = _aid("6 m, 8 m", **_hung("E003", "6 m, 8 m", across="230 mm", letter="20 mm"))
    (finding,) = told(studied(hall(room=room)), "letters")
    assert "33" in finding.says


def test_a_sign_lit_from_inside_may_be_smaller_by_its_height_only() -> None:
    room = _aid("6 m, 8 m", **_hung("E003", "6 m, 8 m", across="230 mm", lit=True))
    posted = next(p for p in studied(hall(room=room)).posted if p.code == "E003")
    assert posted.size is not None
    assert posted.size.factor.low == 200


def test_an_exit_sign_at_eye_level_is_found() -> None:
    study = studied(hall(room=_hung("E002", "1475, 0 mm", height="1600 mm", across="300 mm")))
    (finding,) = told(study, "height")
    assert finding.severity is Severity.FIX
    assert "400" in finding.mend


def test_a_way_out_sign_at_a_door_that_is_none_is_found() -> None:
    doors = {"door": EXIT, "inner": {**EXIT, "name": "Store door", "hinge": "8 m, 0 m",
                                     "latch": "8.9 m, 0 m", "exit": False}}  # fmt: skip
    room = {"doors": doors, **_hung("E001", "8450, 0 mm", height="2100 mm")}
    (finding,) = told(studied(hall(room=room)), "nothing-asks")
    assert "Store door" in finding.says
    assert finding.severity is Severity.FIX


def test_gloves_asked_for_beside_what_turns_is_a_contradiction() -> None:
    shop = hall(
        stations={"bench": station(ppe=["M009"])},
        machines={"drill": machine("pillar-drill")},
    )
    (finding,) = told(studied(shop), "contradiction")
    assert finding.severity is Severity.FIX
    assert "M009" in finding.says
    assert "P028" in finding.says
    without = hall(stations={"bench": station()}, machines={"drill": machine("pillar-drill")})
    assert not told(studied(without), "contradiction")


def test_gloves_hung_beside_what_turns_contradict_it() -> None:
    """The station is 1 m square about (6, 4); nothing but the hung sign asks for gloves there."""
    column = {"columns": {"post": {"at": "6 m, 2.6 m", "size": "0.3 x 0.3 m"}}}
    room = {**column, **_hung("M009", "6 m, 2.75 m", height="1600 mm")}
    shop = hall(room=room, stations={"bench": station()}, machines={"d": machine("pillar-drill")})
    (finding,) = told(studied(shop), "contradiction")
    assert finding.severity is Severity.FIX
    assert finding.subject == "room/signs/one"
    assert "P028" in finding.says
    assert not told(studied(shop), "nothing-asks")
    calm = hall(room=room, stations={"bench": station()})
    assert not told(studied(calm), "contradiction")
    assert told(studied(calm), "nothing-asks")


def test_a_paper_too_small_names_the_next() -> None:
    study = studied(hall(room=_aid("6 m, 8 m")))
    finding = next(f for f in told(study, "paper") if f.subject == "room/equipment/box")
    assert "A4" in finding.says
    assert "A3" in finding.mend


def test_light_that_nobody_read_is_no_number() -> None:
    shop = hall(stations={"bench": station(ppe=["M004"])})
    wanted = next(w for w in studied(shop).wanted if w.code == "M004")
    assert wanted.size.light == "unread"
    assert wanted.size.factor.low == min(
        reference().limit(f"sign-viewing-factor-{row}").low
        for row in ("5lx", "100lx", "200lx", "400lx", "escape", "lit")
    )
    survey = studied(shop).survey
    working = next(w for w in survey.workings if w.id == "signage.size.bench.circle")
    assert working.verdict is Verdict.UNANSWERED
    assert survey.unanswered >= 1


# --- words and order ---------------------------------------------------------------------------


def test_words_stand_in_the_shops_languages() -> None:
    words = {"en": "Glasses on", "ar": "ضع نظارات واقية", "hi": "चश्मा पहनें"}
    shop = hall(room={"sign_words": [{"sign": "M004", "words": words}]})
    identity = shop.shop.model_copy(update={"languages": ("en", "ar", "hi")})
    shop = shop.model_copy(update={"shop": identity})
    assert words_of(shop, "M004") == tuple(words.items())
    assert words_of(shop, "M003") == (("en", "Wear ear protection"),)
    (finding, _other) = told(studied(shop), "words")
    assert "`ar`" in finding.says


def test_each_next_place_is_the_nearest() -> None:
    at = [0.0, 9.0, 2.0, -1.0, 5.0]  # the start, then four places on a line
    assert nearest_next(4, lambda a, b: abs(at[a] - at[b])) == (2, 1, 3, 0)


def test_the_round_visits_every_place_once() -> None:
    shop = load_shop(DEMONSTRATION).shop
    assert shop is not None
    study = studied(shop, walked=True)
    assert sorted(p.id for p in study.walk) == sorted(p.id for p in study.places)
    assert study.walk[0].subject.startswith("room/doors/")


def test_a_way_round_a_corner_is_shown_where_no_exit_is_in_sight() -> None:
    """A dead arm of an L, its only exit round the corner."""
    outline = ["0 m, 0 m", "12 m, 0 m", "12 m, 3 m", "3 m, 3 m", "3 m, 8 m", "0 m, 8 m"]
    doors = {"door": {**EXIT, "hinge": "12 m, 1 m", "latch": "12 m, 2 m"}}
    bench = station(at="2.4 m, 7 m", size="0.8 x 0.6 m", zone="front")
    shop = hall(room={"outline": outline, "doors": doors}, stations={"bench": bench})
    study = studied(shop, walked=True)
    (need,) = [n for n in study.needs if n.rule == "exit-ahead"]
    assert need.code == "E001"  # coming down the arm, one turns to one's left for the door
    place = next(p for p in study.places if p.subject == need.subject)
    assert place.wanted[0].size.distance_m is not None


# --- what must hold of any room ----------------------------------------------------------------


def _read_from(shop: Shop) -> dict[tuple[str, str], float]:
    """From how far each sign for the whole room is read, hung or missing [m]."""
    study = studied(shop)
    wanted = {(w.need.subject, w.code): w.size for w in study.wanted}
    posted = {(p.id, p.code): p.size for p in study.posted if p.size}
    return {
        key: size.distance_m or 0.0
        for key, size in {**wanted, **posted}.items()
        if key[1][0] in "EF"
    }


@pytest.fixture(scope="module")
def demonstration() -> Shop:
    shop = load_shop(DEMONSTRATION).shop
    assert shop is not None
    return shop


@pytest.mark.parametrize("degrees", [37.0, 90.0, 211.0])
def test_turning_the_room_changes_no_distance(demonstration: Shop, degrees: float) -> None:
    straight, askew = _read_from(demonstration), _read_from(turned(demonstration, degrees))
    assert straight.keys() == askew.keys()
    for key, far in straight.items():
        assert askew[key] == pytest.approx(far, abs=0.02), key


def test_an_obstacle_makes_no_sign_larger(demonstration: Shop) -> None:
    rack = fixture("rack", (7400.0, 2600.0), (1600.0, 500.0), height=2600.0)
    fixtures = {**demonstration.room.fixtures, "rack": rack}
    room = changed(demonstration.room, fixtures=fixtures)
    free, blocked = _read_from(demonstration), _read_from(changed(demonstration, room=room))
    assert free.keys() == blocked.keys()
    assert all(blocked[key] <= far + 0.001 for key, far in free.items())
    assert any(blocked[key] < far - 0.5 for key, far in free.items())


def test_a_stage_asks_for_no_sign_that_the_whole_shop_does_not(demonstration: Shop) -> None:
    """What a stage has not set up asks for nothing yet."""
    whole = {(need.subject, need.code) for need in studied(demonstration).needs}
    before: set[tuple[str, str]] = set()
    for number in sorted(stage.order for stage in demonstration.stages.values()):
        part = shop_at(demonstration, number)
        asked = {(need.subject, need.code) for need in studied(part, walked=True).needs
                 if need.rule != "exit-ahead"}  # fmt: skip
        assert before <= asked <= whole
        before = asked
    assert before == whole
