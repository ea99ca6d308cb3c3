"""What a shop's own hoods, fans, rooms and sessions come to, in a hall worked out by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings import air
from tests.workings.hall import (
    VOLUME_M3,
    Data,
    fan,
    found,
    hall,
    hood,
    machine,
    only,
    plain,
    station,
    working,
)

PRESS = {"press": machine("platen-press", needs_extraction=True)}
PP = {"pp": {"code": "PP", "name": "Polypropylene", "status": "taken"}}
PS = {"ps": {"code": "PS", "name": "Polystyrene", "status": "taken"}}


def aired(
    *, hoods: Data | None = None, fans: Data | None = None, room: Data | None = None, **nouns: Any
) -> air.AirStudy:
    return air.study(shop(hoods=hoods, fans=fans, room=room, **nouns))


def shop(
    *, hoods: Data | None = None, fans: Data | None = None, room: Data | None = None, **nouns: Any
) -> Shop:
    parts = {**({"hoods": hoods} if hoods else {}), **({"fans": fans} if fans else {})}
    return hall(room={**parts, **(room or {})}, **nouns)


# --- hoods -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("form", "opening", "distance", "need"),
    [
        ("plain", "300 x 200 mm", "250 mm", 1233.0),
        ("flanged", "300 x 200 mm", "250 mm", 924.75),
        ("canopy", "900 x 600 mm", "800 mm", 6048.0),  # 3 m round
    ],
)
def test_each_form_has_its_rule(form: str, opening: str, distance: str, need: float) -> None:
    made = aired(
        machines=PRESS,
        hoods={"hood": hood(form, opening, distance=distance)},
        fans={"fan": fan(flow="7000 m³/h")},
    )
    shown = working(made.survey.workings, "air.hood.hood.flow")
    assert shown.result.value == pytest.approx(need)
    assert made.hoods.hoods[0].need_m3h == pytest.approx(need)


def test_a_measured_hood_that_draws_enough_holds_and_one_short_is_told_by_how_much() -> None:
    enough = aired(
        machines=PRESS,
        hoods={"hood": hood("flanged", flow="930 m³/h", measured="2026-03-02")},
        fans={"fan": fan(flow="930 m³/h")},
    )
    assert enough.hoods.hoods[0].verdict is Verdict.HOLDS
    assert not found(enough.survey.findings, "air.hood-short")
    short = aired(
        machines=PRESS,
        hoods={"hood": hood("flanged", flow="800 m³/h", measured="2026-03-02")},
        fans={"fan": fan(flow="930 m³/h")},
    )
    told = only(short.survey.findings, "air.hood-short", Severity.FIX)
    assert "800 m³/h" in plain(told.says) and "925 m³/h" in plain(told.says)
    assert "125 m³/h" in plain(told.mend)
    # 0.75 · 0.5 · (10 x² + 0.06) · 3600 = 800 gives x = 230.8 mm, rounded down
    assert "230 mm" in plain(told.mend)
    assert told.subject == "stations/bench"
    assert short.hoods.hoods[0].verdict is Verdict.FAILS


def test_a_written_flow_nobody_measured_cannot_hold_and_can_fail() -> None:
    def verdict(flow: str) -> Verdict:
        made = aired(
            machines=PRESS,
            hoods={"hood": hood("flanged", flow=flow)},
            fans={"fan": fan(flow="2000 m³/h")},
        )
        return made.hoods.hoods[0].verdict

    assert verdict("1000 m³/h") is Verdict.UNANSWERED
    assert verdict("900 m³/h") is Verdict.FAILS


def test_what_a_fan_leaves_bounds_a_hood_that_was_not_measured() -> None:
    two = {
        "one": hood("flanged", flow="950 m³/h", measured="2026-03-02"),
        "other": hood("flanged", station="second"),
    }
    stations = {"bench": station(), "second": station(2, "9000, 4000 mm")}

    def other(flow: str) -> air.AirStudy:
        return aired(machines=PRESS, stations=stations, hoods=two, fans={"fan": fan(flow=flow)})

    short = other("1800 m³/h")
    assert short.hoods.hoods[1].left_m3h == pytest.approx(850)
    told = only(short.survey.findings, "air.hood-short", Severity.FIX)
    assert "850 m³/h at most" in plain(told.says)
    open_ = other("1900 m³/h")
    assert open_.hoods.hoods[1].verdict is Verdict.UNANSWERED
    asked = only(open_.survey.findings, "air.hood-unmeasured", Severity.ASK)
    assert asked.asks == "ventilation"


def test_a_fan_must_carry_all_its_hoods() -> None:
    two = {"one": hood("flanged"), "other": hood("flanged")}
    made = aired(machines=PRESS, hoods=two, fans={"fan": fan(flow="1849 m³/h")})
    assert made.hoods.fans[0].need_m3h == pytest.approx(2 * 924.75)
    assert "1850 m³/h" in plain(only(made.survey.findings, "air.fan-short", Severity.FIX).says)


def test_hoods_cannot_draw_more_than_their_fan_moves() -> None:
    made = aired(
        machines=PRESS,
        hoods={"hood": hood("flanged", flow="1000 m³/h", measured="2026-03-02")},
        fans={"fan": fan(flow="950 m³/h")},
    )
    assert only(made.survey.findings, "air.flows-disagree", Severity.FIX)


@pytest.mark.parametrize(
    ("opening", "distance", "word"),
    [("600 x 60 mm", "100 mm", "slot"), ("300 x 200 mm", "500 mm", "415 mm")],
)
def test_a_hood_beyond_its_rule_is_asked_for(opening: str, distance: str, word: str) -> None:
    # 1.5 diameters of a circle as large as 300 x 200 mm are 414.6 mm
    made = aired(
        machines=PRESS,
        hoods={"hood": hood("flanged", opening, distance=distance)},
        fans={"fan": fan(flow="9000 m³/h")},
    )
    asked = only(made.survey.findings, "air.hood-beyond-rule", Severity.ASK)
    assert word in plain(asked.says)
    assert made.hoods.hoods[0].verdict is Verdict.UNANSWERED


def test_a_canopy_is_not_for_where_people_lean_under_it() -> None:
    def made(**place: Any) -> air.AirStudy:
        return aired(
            machines=PRESS,
            stations={"bench": station(**place)},
            hoods={"hood": hood("canopy")},
            fans={"fan": fan(flow="9000 m³/h")},
        )

    assert only(made().survey.findings, "air.canopy-over-people", Severity.FIX)
    alone = made(working_sides=[])
    assert not found(alone.survey.findings, "air.canopy-over-people")


def test_dust_is_carried_faster_than_fume() -> None:
    saws = {"saw": machine("band-saw")}
    stations = {"bench": station(zone="saws")}
    made = aired(
        machines=saws,
        stations=stations,
        hoods={"hood": hood(duct_diameter="125 mm", flow="500 m³/h", measured="2026-03-02")},
        fans={"fan": fan(flow="500 m³/h")},
    )
    branch = made.hoods.hoods[0].branch
    assert made.hoods.hoods[0].capture_ms == 1.0
    assert branch.velocity_ms == pytest.approx(11.318, abs=1e-3)
    assert (branch.slowest_ms, branch.fastest_ms) == (15, 20)
    assert branch.widest_mm == pytest.approx(108.58, abs=0.01)
    slow = only(made.survey.findings, "air.duct-slow", Severity.FIX)
    assert "108 mm" in plain(slow.says)


def test_what_goes_in_at_the_hoods_comes_out_at_the_fan(demonstration: Shop) -> None:
    made = air.study(demonstration).hoods
    for each in made.fans:
        drawn = [h for h in made.hoods if h.hood.fan == each.fan.id]
        assert each.need_m3h == pytest.approx(math.fsum(h.need_m3h for h in drawn))
        if each.main is not None and each.measured:
            assert each.main.flow_m3h == pytest.approx(
                math.fsum(h.branch.flow_m3h for h in drawn)
            )  # the unmeasured one is given what is left


# --- what counts as nothing --------------------------------------------------------------------


def test_a_filter_that_gives_air_back_counts_as_nothing() -> None:
    made = aired(
        machines=PRESS,
        hoods={"hood": hood("flanged", flow="1500 m³/h", measured="2026-03-02")},
        fans={"fan": fan("recirculating", "1500 m³/h")},
    )
    asked = only(made.survey.findings, "air.recirculates", Severity.ASK)
    assert "station 1, Place 1" in asked.says
    assert made.room.counted_m3h == 0 and made.room.purge == ()
    assert made.hoods.hoods[0].verdict is Verdict.UNANSWERED
    assert only(made.survey.findings, "air.no-hood", Severity.STOP)
    assert only(made.survey.findings, "air.nothing-counts", Severity.ASK)


def test_an_open_window_counts_as_nothing() -> None:
    window = {"w": {"start": "0, 1 m", "end": "0, 3 m", "openable": "1.5 m²"}}
    shut, open_ = aired(), aired(room={"windows": window})
    assert open_.room.counted_m3h == shut.room.counted_m3h == 0
    assert "1.5 m²" in plain(only(open_.survey.findings, "air.window", Severity.ASK).says)
    assert not found(shut.survey.findings, "air.window")


def test_a_flow_nobody_measured_is_drawn_out_and_brings_nothing() -> None:
    made = aired(fans={"fan": fan(flow="900 m³/h", measured=None)})
    assert made.room.exhaust_m3h == 900
    assert made.room.counted_m3h == 0
    assert only(made.survey.findings, "air.fan-unmeasured", Severity.ASK)


# --- machines without a hood -------------------------------------------------------------------


def test_a_hot_machine_that_needs_extraction_stops_the_shop() -> None:
    told = only(aired(machines=PRESS).survey.findings, "air.no-hood", Severity.STOP)
    assert told.subject == "machines/press"


def test_one_that_is_only_planned_has_to_be_mended_first() -> None:
    stage = {"order": 1, "name": "Next", "goal": "Press", "reached": False,
             "adds_machines": ["press"]}  # fmt: skip
    made = aired(machines=PRESS, stages={"next": stage})
    assert (
        "before it is first heated" in only(made.survey.findings, "air.no-hood", Severity.FIX).mend
    )


@pytest.mark.parametrize(
    ("kind", "needs", "asked"),
    [
        ("platen-press", None, True),
        ("platen-press", False, True),  # it melts plastic, whatever the shop says
        ("drying-cabinet", False, False),
        ("band-saw", None, False),
    ],
)
def test_who_is_asked_for_a_hood(kind: str, needs: bool | None, asked: bool) -> None:
    made = aired(machines={"it": machine(kind, needs_extraction=needs)})
    assert [f.severity for f in found(made.survey.findings, "air.no-hood")] == (
        [Severity.ASK] if asked else []
    )


# --- the room ----------------------------------------------------------------------------------


def climate(**more: str) -> Data:
    return {"climate": {"winter_outdoor": "-2 °C", "indoor": "18 °C", **more}}


def test_make_up_air_is_what_leaves_less_what_is_brought() -> None:
    made = aired(fans={"out": fan(flow="500 m³/h"), "in": fan("supply", "300 m³/h")})
    assert made.room.make_up_m3h == 200
    assert made.room.counted_m3h == 500
    assert "200 m³/h" in plain(only(made.survey.findings, "air.no-make-up", Severity.ASK).says)
    even = aired(fans={"out": fan(flow="500 m³/h"), "in": fan("supply", "500 m³/h")})
    assert working(even.survey.workings, "air.make-up.flow").verdict is Verdict.HOLDS
    assert not found(even.survey.findings, "air.no-make-up")


def test_make_up_air_has_to_be_warmed() -> None:
    fans = {"out": fan(flow="500 m³/h")}
    made = aired(fans=fans, room=climate(heating="3 kW"))
    assert made.room.heating_kw == pytest.approx(3.353, abs=5e-4)
    assert "0.4 kW" in plain(only(made.survey.findings, "air.cold-make-up", Severity.FIX).mend)
    enough = aired(fans=fans, room=climate(heating="4 kW"))
    assert working(enough.survey.workings, "air.make-up.heat").verdict is Verdict.HOLDS
    nobody = aired(fans=fans)
    assert nobody.room.heating_kw is None
    assert only(nobody.survey.findings, "air.no-climate", Severity.NOTE)


@pytest.mark.parametrize("kind", ["open flue", "room sealed", "electric"])
def test_a_fan_and_an_open_flue_do_not_go_together(kind: str) -> None:
    made = aired(fans={"out": fan(flow="500 m³/h")}, room=climate(heating_kind=kind))
    stops = found(made.survey.findings, "air.backdraught")
    assert [s.severity for s in stops] == ([Severity.STOP] if kind == "open flue" else [])
    unknown = aired(fans={"out": fan()}, room=climate(heating_kind=kind))
    assert len(found(unknown.survey.findings, "air.backdraught")) == len(stops)
    still = aired(room=climate(heating_kind=kind))
    assert not found(still.survey.findings, "air.backdraught")


def test_the_room_clears_along_its_curves() -> None:
    room = aired(fans={"out": fan(flow="500 m³/h")}).room
    assert room.volume_m3 == pytest.approx(VOLUME_M3)
    assert room.changes_per_hour == pytest.approx(1.488, abs=5e-4)
    assert [c.key for c in room.purge] == ["mixing-1", "mixing-3", "mixing-10"]
    for each in room.purge:
        assert each.points[0] == (0.0, 100.0)
        values = [value for _minute, value in each.points]
        assert values == sorted(values, reverse=True)
    assert room.purge[2].points[-1][1] == pytest.approx(10.0)
    assert working(room.workings, "air.purge.mixing-3").result.value == pytest.approx(
        278.5, abs=0.05
    )


# --- fume --------------------------------------------------------------------------------------


def press(*emissions: Data, polymer: str = "ps", **more: Any) -> Data:
    setting = {"polymer": polymer, "rate": "4 kg/h", "emissions": list(emissions)}
    return {"press": machine("platen-press", needs_extraction=True, settings=[setting], **more)}


STYRENE = {"substance": "styrene", "rate": "600 mg/h"}


def test_a_measured_emission_is_diluted_with_the_mixing_factor_applied_once() -> None:
    made = aired(
        place="UK",
        polymers=PS,
        machines=press({**STYRENE, "measured": "2026-03-02"}),
        fans={"out": fan(flow="50 m³/h")},
    )
    # a quarter of 100 ppm is 106.49 mg/m³; 600 · 10 / 106.49 = 56.34 m³/h
    [dilution] = made.fume.dilutions
    assert dilution.aim_mgm3 == pytest.approx(106.49, abs=0.01)
    assert dilution.need_m3h == pytest.approx(56.34, abs=0.01)
    assert only(made.survey.findings, "air.dilution", Severity.FIX)
    assert not found(made.survey.findings, "air.emission-unknown")
    # 600 / (50 / 10) · (1 − exp(−50 / 10 · 4 / 336))
    assert dilution.build_up.points[-1] == pytest.approx((240.0, 6.9344), abs=1e-4)


def test_a_place_without_a_limit_is_asked_for_it() -> None:
    made = aired(polymers=PS, machines=press({**STYRENE, "confirmed_by": "Laboratory"}))
    assert made.fume.dilutions[0].verdict is Verdict.UNANSWERED
    assert "EU" in only(made.survey.findings, "air.no-exposure-limit", Severity.ASK).says


def test_an_emission_nobody_stands_for_is_no_figure() -> None:
    made = aired(place="UK", polymers=PS, machines=press(STYRENE))
    assert made.fume.dilutions == ()
    assert only(made.survey.findings, "air.emission-unknown", Severity.ASK)


def test_an_unknown_emission_is_asked_for_and_only_played_through() -> None:
    made = aired(polymers=PP, machines=press(polymer="pp"), fans={"out": fan(flow="500 m³/h")})
    asked = only(made.survey.findings, "air.emission-unknown", Severity.ASK)
    assert asked.asks == "ventilation" and "Polypropylene" in asked.says
    what_if = made.fume.what_if
    assert what_if is not None
    assert (what_if.low_mgh, what_if.high_mgh) == pytest.approx((40.0, 800.0))  # 10 to 200 mg/kg
    for end in ("low", "high"):
        shown = working(made.survey.workings, f"air.what-if.{end}")
        assert shown.title.startswith("What if")
        assert shown.verdict is Verdict.INFORMS and shown.limit is None
        assert "Not a figure of this shop" in shown.caution
    # 40 / (500 / 3) · (1 − exp(−500 / 3 · 4 / 336)) = 0.2070
    assert working(made.survey.workings, "air.what-if.low").result.value == pytest.approx(
        0.2070, abs=1e-4
    )


def test_a_polymer_without_a_published_range_is_left_out_of_the_what_if() -> None:
    pa = {"pa": {"code": "PA6", "name": "Nylon", "status": "taken"}}
    made = aired(polymers=pa, machines=press(polymer="pa"))
    assert made.fume.what_if is None
    assert not [w for w in made.survey.workings if "what-if" in w.id]


# --- people ------------------------------------------------------------------------------------


def session(count: int, age: str, adults: int, staff: int) -> Data:
    learners = {"count": count, "age_from": age, "age_to": age, "adults": adults}
    activity = {"name": "Sort", "station": "bench", "takes": "30 min", "learners": "do",
                "supervisor": "inducted"}  # fmt: skip
    return {
        "class": {
            "name": "Class", "for": "Classes", "start": "09:00", "end": "10:00",
            "learners": learners, "groups": 1, "staff": [{"role": "keeper", "count": staff}],
            "arrival": "5 min", "tidy": "5 min", "activities": {"sort": activity},
        }
    }  # fmt: skip


def test_carbon_dioxide_of_a_class_rises_to_its_steady_state() -> None:
    made = aired(
        place="US", sessions=session(20, "9 years", 2, 1), fans={"out": fan(flow="725.04 m³/h")}
    )
    crowd = made.people.crowds[0]
    assert (crowd.children, crowd.adults, crowd.minutes) == (20, 3, 60)
    assert crowd.need_m3h == pytest.approx(725.04)
    assert crowd.verdict is Verdict.HOLDS
    # 20 · 0.0037 + 3 · 0.0065 = 0.0935 l/s; 420 + 93 500 / 201.4 = 884.25 ppm
    assert crowd.steady_ppm == pytest.approx(884.25, abs=0.01)
    assert crowd.end_ppm == pytest.approx(884.25 - 464.25 * math.exp(-725.04 / 336), abs=0.01)
    assert crowd.carbon_dioxide.points[0] == (0.0, 420.0)
    # with no fan: 420 + 10⁶ · 0.0935 · 3.6 / 336
    assert crowd.fans_off.points[-1] == pytest.approx((60.0, 1421.79), abs=0.01)


def test_too_little_outdoor_air_is_told_where_the_place_has_a_figure() -> None:
    few = {"out": fan(flow="400 m³/h")}
    made = aired(place="US", sessions=session(20, "9 years", 2, 1), fans=few, people=2)
    told = only(made.survey.findings, "air.people-short", Severity.FIX)
    assert "725 m³/h" in plain(told.says) and "400 m³/h" in plain(told.says)
    lent = aired(sessions=session(20, "9 years", 2, 1), fans=few)
    assert not found(lent.survey.findings, "air.people-short")
    assert "US" in only(lent.survey.findings, "air.people-rate", Severity.ASK).says
    assert lent.people.crowds[0].verdict is Verdict.UNANSWERED


def test_older_learners_breathe_out_like_adults() -> None:
    made = aired(sessions=session(20, "12 years", 2, 1))
    assert (made.people.crowds[0].children, made.people.crowds[0].adults) == (0, 23)


def test_without_outdoor_air_carbon_dioxide_never_settles() -> None:
    crowd = aired(sessions=session(20, "9 years", 2, 1)).people.crowds[0]
    assert crowd.steady_ppm is None
    assert crowd.carbon_dioxide.points == crowd.fans_off.points


def test_air_space_counts_up_to_three_metres() -> None:
    made = aired(place="UK", people=27)
    assert made.people.air_space_people == 26
    assert "26" in only(made.survey.findings, "air.space-short", Severity.FIX).says
    assert not found(aired(place="UK", people=26).survey.findings, "air.space-short")


# --- whole shops -------------------------------------------------------------------------------


def test_an_empty_hall_is_not_called_safe() -> None:
    made = aired()
    assert made.survey.unanswered > 0
    assert made.hoods.hoods == () and made.fume.what_if is None


def test_the_demonstration_shop_has_a_real_shops_questions(demonstration: Shop) -> None:
    made = air.study(demonstration).survey
    assert made.checks > made.unanswered > 0
    rules = {finding.rule for finding in made.findings}
    assert {"air.recirculates", "air.no-make-up", "air.emission-unknown"} <= rules
    assert len({w.id for w in made.workings}) == len(made.workings)
    for each in made.findings:
        assert each.origin.line > 0 and each.subject
        assert (each.severity is Severity.ASK) == bool(each.asks) or each.severity is Severity.STOP
        assert not each.working or any(w.id == each.working for w in made.workings)
    for shown in made.workings:
        assert math.isfinite(shown.result.value)
        assert shown.inputs
