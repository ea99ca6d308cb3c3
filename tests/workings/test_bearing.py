"""Floor load and fire load against worked and published figures, and shelves filled by hand."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings import bearing
from tests.workings.hall import Data, found, hall, machine, only, plain, station, working

# --- worked and published examples -------------------------------------------------------------


def test_a_crate_and_a_bag_of_flake() -> None:
    crate = 544 * 364 * 265 / 1e6
    assert bearing.filled_kg(crate, 380, 0.9) == pytest.approx(17.95, abs=0.005)
    assert bearing.filled_kg(900, 350, 0.9) == pytest.approx(283.5)


def test_half_a_tonne_on_the_base_of_a_big_bag() -> None:
    assert bearing.pressure_kpa(500, 0.81) == pytest.approx(6.05, abs=0.005)


def test_fire_load_of_three_polymers() -> None:
    parts = [(200, 46.2), (100, 46.4), (50, 22.2)]
    assert bearing.heat_mj(parts) == pytest.approx(14_990)
    assert bearing.fire_load_mjm2(parts, 36) == pytest.approx(416.4, abs=0.05)


def test_fire_load_as_a_fire_consultant_prints_it() -> None:
    """aurasafety.com, fire load calculations: (100 · 17 + 30 · 35) / 20 m² is about 138 MJ/m²."""
    assert round(bearing.fire_load_mjm2([(100, 17), (30, 35)], 20)) == 138


def test_wood_equivalent_of_a_tonne_of_propane() -> None:
    """ehsrao.info, fire load: 1000 kg at 47.3 MJ/kg is 2.7 t of wood at 17.6 MJ/kg."""
    assert bearing.heat_mj([(1000, 47.3)]) / 17.6 == pytest.approx(2700, rel=0.01)


@given(st.floats(0, 1e4), st.floats(0.1, 50), st.floats(1, 10))
def test_spread_wider_it_presses_less(mass: float, area: float, times: float) -> None:
    spread = bearing.pressure_kpa(mass, area * times)
    assert spread * times == pytest.approx(bearing.pressure_kpa(mass, area))


# --- shelves and floor -------------------------------------------------------------------------

CRATE = {
    "name": "Crate", "outer": "600 x 400 x 200 mm", "volume": "40 l", "empty": "2 kg",
    "most": "12 kg", "stack": 2, "keeps": ["flake"], "owned": 10,
}  # fmt: skip
PP = {"pp": {"code": "PP", "name": "Polypropylene", "status": "taken",
             "own": {"flake_density": "400 kg/m³"}}}  # fmt: skip


def shelf(**more: Any) -> Data:
    return {"length": "2500 mm", "depth": "620 mm", "levels": 3, "level_height": "450 mm",
            "keeps": ["crate"], **more}  # fmt: skip


def stored(*shelves: Data, room: Data | None = None, **nouns: Any) -> bearing.BearingStudy:
    stations = {"bench": station(size="2500 x 640 mm", storage=list(shelves))}
    made = hall(**{
        "stations": stations, "containers": {"crate": CRATE}, "polymers": PP,
        "room": room or {}, **nouns,
    })  # fmt: skip
    return bearing.study(made)


def test_a_level_holds_as_many_as_fit_the_better_way_round() -> None:
    # 4 x 1 along or 6 x 1 across, two high: 12; each 2 + 12 kg
    level = stored(shelf()).stations[0].levels[0]
    assert (level.count, level.mass_kg) == (12, 168)
    low = stored(shelf(level_height="399 mm")).stations[0].levels[0]
    assert low.count == 6  # no room for the second one on top


def test_a_container_holds_no_more_than_its_volume_does() -> None:
    # 40 l · 0.9 · 400 kg/m³ is 14.4 kg, so the 12 kg it may hold count; of a 25 kg rating, 14.4
    rated = {**CRATE, "most": "25 kg"}
    made = stored(shelf(), containers={"crate": rated})
    assert made.stacks[0].mass_kg == pytest.approx(2 * (2 + 14.4))
    parts = {**rated, "keeps": ["product"]}  # whose bulk density nobody knows
    assert stored(shelf(), containers={"crate": parts}).stacks[0].mass_kg == 54


def test_the_heaviest_kind_that_goes_there_counts() -> None:
    light = {**CRATE, "most": "3 kg"}
    both = stored(shelf(keeps=["light", "crate"]), containers={"light": light, "crate": CRATE})
    assert both.stations[0].levels[0].container == "crate"


def test_a_station_presses_with_what_stands_and_what_is_stored() -> None:
    made = stored(shelf(), machines={"press": machine(mass="120 kg")}, room={"floor": "5 kPa"})
    load = made.stations[0]
    assert (load.stands_kg, load.stored_kg) == (120, 504)
    # 624 kg · 9.80665 / 1.6 m²
    assert load.pressure_kpa == pytest.approx(3.8246, abs=1e-4)
    assert load.verdict is Verdict.HOLDS


def test_a_floor_that_cannot_carry_it_stops_the_shop() -> None:
    made = stored(shelf(), machines={"press": machine(mass="120 kg")}, room={"floor": "3 kPa"})
    told = only(made.survey.findings, "bearing.floor", Severity.STOP)
    # 3 kPa on 1.6 m² is 489.5 kg; 624 − 489.5 = 134.5
    assert "3.8 kPa" in plain(told.says) and "135 kg" in plain(told.mend)
    assert working(made.survey.workings, "bearing.station.bench").verdict is Verdict.FAILS


def test_a_stations_mass_is_not_counted_twice_with_its_machines() -> None:
    machines = {"press": machine(mass="290 kg")}
    stations = {"bench": station(mass="290 kg")}
    assert bearing.study(hall(stations=stations, machines=machines)).stations[0].stands_kg == 290


def test_an_unknown_floor_is_asked_of_the_landlord_with_the_heaviest_place() -> None:
    made = stored(shelf(), machines={"press": machine(mass="1 t")})
    asked = only(made.survey.findings, "bearing.floor-unknown", Severity.ASK)
    assert asked.asks == "landlord" and "9.2 kPa" in plain(asked.says)
    assert made.stations[0].verdict is Verdict.UNANSWERED


def test_a_level_that_cannot_carry_its_containers_is_told_how_many_it_can() -> None:
    made = stored(shelf(load="100 kg"))
    told = only(made.survey.findings, "bearing.level", Severity.FIX)
    assert "168 kg" in plain(told.says) and "Put 7 full ones" in told.mend
    assert not found(stored(shelf(load="168 kg")).survey.findings, "bearing.level")


def test_a_container_that_does_not_fit_is_told() -> None:
    made = stored(shelf(depth="390 mm"))
    assert (
        "600 × 400 × 200" in only(made.survey.findings, "bearing.does-not-fit", Severity.FIX).says
    )


def test_a_full_stack_presses_on_its_base() -> None:
    bag = {**CRATE, "outer": "900 x 900 x 1000 mm", "volume": "900 l", "empty": "3 kg",
           "most": "1 t", "stack": 1, "keeps": ["product"]}  # fmt: skip
    made = stored(containers={"bag": bag}, room={"floor": "7.5 kPa"})
    assert made.stacks[0].pressure_kpa == pytest.approx(1003 * 9.80665 / 810, abs=1e-6)
    assert only(made.survey.findings, "bearing.stack", Severity.STOP)
    flake = {**bag, "keeps": ["flake"]}  # 900 l · 0.9 · 400 kg/m³ = 324 kg
    fine = stored(containers={"bag": flake}, room={"floor": "7.5 kPa"})
    assert fine.stacks[0].mass_kg == pytest.approx(327)
    assert not found(fine.survey.findings, "bearing.stack")


def test_a_stack_is_no_higher_than_one_and_a_half_metres() -> None:
    told = only(
        stored(containers={"crate": {**CRATE, "stack": 8}}).survey.findings,
        "bearing.stack-height",
        Severity.FIX,
    )
    assert "1600 mm" in plain(told.says) and "7 high" in told.mend


# --- what burns --------------------------------------------------------------------------------


def test_fire_load_at_the_limits_and_with_all_full() -> None:
    limited = {"pp": {**PP["pp"], "store_limit": "100 kg"}}
    made = stored(shelf(), polymers=limited)
    by = {case.key: case for case in made.fire}
    # 100 kg of PP at up to 46.4 MJ/kg on 96 m²
    assert by["limits"].density_mjm2 == pytest.approx(100 * 46.4 / 96)
    # ten crates: 12 kg of PP each, and 2 kg of crate at the 47.7 of PE-HD
    assert by["full"].heat_mj == pytest.approx(10 * (12 * 46.4 + 2 * 47.7))
    assert "counted" not in by
    asked = only(made.survey.findings, "bearing.fire-load", Severity.ASK)
    assert asked.asks == "fire" and "48 MJ/m²" in plain(asked.says)


def test_a_stores_fire_load_stands_on_its_footprint() -> None:
    load = stored(shelf()).stations[0]
    assert load.heat_mj == pytest.approx(36 * (12 * 46.4 + 2 * 47.7))
    assert load.fire_mjm2 == pytest.approx(load.heat_mj / 1.6)


def test_metal_bins_burn_only_by_what_is_in_them() -> None:
    bin_ = {**CRATE, "material": "metal", "keeps": ["purgings"]}
    tools = {**CRATE, "material": "wood", "keeps": ["tools"]}
    made = stored(containers={"bin": bin_, "tools": tools})
    assert made.fire[0].heat_mj == pytest.approx(10 * 12 * 46.4)


def test_a_polymer_without_a_heat_of_combustion_is_left_out_and_said() -> None:
    pom = {"pom": {"code": "POM", "name": "Acetal", "status": "refused", "store_limit": "5 kg"}}
    made = stored(polymers={**PP, **pom})
    assert "Acetal" in only(made.survey.findings, "bearing.no-heat", Severity.NOTE).says


def test_the_demonstration_shop(demonstration: Shop) -> None:
    made = bearing.study(demonstration)
    assert {case.key for case in made.fire} == {"counted", "limits", "full"}
    overloaded = {
        f"stations/{load.station}"
        for load in made.stations
        if any(level.overloaded for level in load.levels)
    }
    assert {f.subject for f in found(made.survey.findings, "bearing.level")} == overloaded
    counted = {row.station for row in demonstration.logs.stock}
    assert {load.station for load in made.stations if load.counted_kg} <= counted
    floor = made.floor_kpa
    assert floor is not None
    for load in made.stations:
        assert (load.verdict is Verdict.FAILS) == (load.pressure_kpa > floor)
