"""Asking the tables: by name, by code, by place."""

from __future__ import annotations

import pytest

from generator.ground.working import Quantity, Source
from generator.reference import NoFigureError, NoSuchRowError, reference, tables

REF = reference()


def test_a_polymer_by_any_of_its_names() -> None:
    for code, polymer in REF.polymers.items():
        for name in (code, *polymer.aliases):
            assert REF.polymer(name) is polymer


def test_a_filled_grade_has_its_bases_row() -> None:
    assert REF.polymer("PP-MD30").code == "PP"


@pytest.mark.parametrize("mark", ["POM", "PMMA", "PC+ABS", "7", "FOO", ""])
def test_no_row_where_there_is_no_single_polymer_with_figures(mark: str) -> None:
    assert REF.find_polymer(mark) is None
    with pytest.raises(NoSuchRowError):
        REF.polymer(mark)


def test_a_mistyped_key_names_the_nearest() -> None:
    with pytest.raises(NoSuchRowError) as caught:
        REF.container("euro-600x400-22")
    assert caught.value.nearest == "euro-600x400-220"
    with pytest.raises(NoSuchRowError) as caught:
        REF.limit("aisle-oneway")
    assert caught.value.nearest == "aisle-one-way"
    with pytest.raises(NoSuchRowError) as caught:
        REF.sign("W999")
    assert caught.value.key == "W999"


@pytest.mark.parametrize("process", ["injection", "extrusion", "press", "drying"])
@pytest.mark.parametrize("mark", ["PVC", "upvc", "POM", "PC+PVC", "7", "FOO", "PA6-GF30", "EPS"])
def test_never_heated_and_unknown_are_refused_in_words(mark: str, process: str) -> None:
    window = REF.window(mark, process)  # type: ignore[arg-type]
    assert (window.stance, window.temperature) == ("refuse", None)
    assert window.reason.endswith(".")


@pytest.mark.parametrize("mark", ["PMMA", "PC+ABS", "PE"])
def test_no_window_without_figures(mark: str) -> None:
    window = REF.window(mark, "press")
    assert (window.stance, window.temperature) == ("no-figures", None)
    assert window.reason


def test_an_open_machine_is_held_to_the_extrusion_window() -> None:
    closed, opened = REF.window("PE-HD", "injection"), REF.open_window("PE-HD", "injection")
    assert closed.temperature and opened.temperature
    assert (closed.temperature.high, opened.temperature.high) == (274, 220)
    assert opened.process == "injection"


@pytest.mark.parametrize(
    ("mark", "process", "top"),
    [("PE-HD", "injection", 220), ("PP", "injection", 240), ("PP", "press", 210),
     ("PP", "extrusion", 240), ("PVC", "injection", None), ("PET", "press", None)],
)  # fmt: skip
def test_the_alarm_is_the_top_of_the_open_window(mark: str, process: str, top: float) -> None:
    assert REF.alarm_top_c(mark, process) == top  # type: ignore[arg-type]


@pytest.mark.parametrize("mark", sorted(set(tables.polymers()) - {"PVC", "PLA"}))
def test_the_alarm_never_stands_above_the_closed_machines_top(mark: str) -> None:
    """PLA apart: its one published injection setting stands inside its extrusion window."""
    closed, alarm = REF.window(mark, "injection").temperature, REF.alarm_top_c(mark, "injection")
    assert closed is not None
    assert alarm is not None
    assert alarm <= closed.high


def test_drying_runs_at_the_drying_temperature() -> None:
    window = REF.window("ABS", "drying")
    assert window.temperature and (window.temperature.low, window.temperature.high) == (82, 93)
    assert REF.window("PP", "drying").temperature is None


@pytest.mark.parametrize(
    ("host", "minor", "grades"),
    [
        ("PP", "PE-HD", ("L",)), ("PE-HD", "PP", ("L",)), ("PE-LD", "PE-HD", ("L", "G")),
        ("PE-HD", "HDPE", ("G",)), ("PC", "ABS", ("G",)), ("PET", "PC", ("G",)),
        ("PLA", "PET", ("X",)), ("PS", "ABS", ("L",)), ("PC", "PC+ABS", ("G",)),
        ("PP", "PP+PS", ("N",)), ("PA6", "PP", ()), ("PMMA", "ABS", ()),
    ],
)  # fmt: skip
def test_compatibility(host: str, minor: str, grades: tuple[str, ...]) -> None:
    match = REF.compatible(host, minor)
    assert match.grades == grades
    assert not match.refused


@pytest.mark.parametrize(
    ("host", "minor"),
    [("PVC", "ABS"), ("ABS", "PVC-P"), ("PVC", "PVC"), ("PP", "POM"), ("PP", "7")],
)  # fmt: skip
def test_a_refused_material_is_compatible_with_nothing(host: str, minor: str) -> None:
    match = REF.compatible(host, minor)
    assert (match.worst, match.refused) == ("X", True)
    assert match.reason


def test_pom_and_pvc_stay_apart_even_cold() -> None:
    for marks in (["POM", "PVC"], ["PP", "acetal", "uPVC"], ["POM-C+PP", "PVC-P"]):
        dangers = REF.never_together(marks, cold=True)
        assert [d.codes for d in dangers] == [("POM", "PVC")]
        assert dangers[0].source_record.status == "published"


def test_pet_and_pvc_may_share_a_shelf_but_no_batch() -> None:
    assert REF.never_together(["PET", "PVC"], cold=True) == ()
    assert [d.codes for d in REF.never_together(["PET", "PVC"])] == [("PET", "PVC")]
    assert REF.never_together(["PP", "PE-HD"]) == ()


def test_a_bath_never_clears_pet_of_pvc() -> None:
    found = REF.inseparable("PVC-U", "PETE")
    assert found and "never clears PET of PVC" in found.reason
    assert REF.inseparable("PP", "PET") is None


def test_a_place_gets_its_own_figure_before_the_general_one() -> None:
    assert REF.limit("turning-circle", "US").value == 1525
    assert REF.limit("turning-circle", "IN").value == 1500
    assert REF.limit("noise-limit", "UK").value == 87  # one row for the EU and the UK


def test_another_countrys_figure_is_not_passed_off() -> None:
    assert REF.find_limit("exit-travel-one-direction", "BR") is None
    with pytest.raises(NoFigureError) as caught:
        REF.limit("exit-travel-one-direction", "BR")
    assert "BR" in str(caught.value)
    assert REF.limit("exit-travel-one-direction").jurisdiction == "UK"


def test_a_value_brings_its_source() -> None:
    value = REF.limit("noise-limit", "EU")
    assert value.source_record == Source(value.cite, "standard", "EU, UK")
    assert value.quantity == Quantity(87, "dB(A)")
    assert REF.limit("aisle-one-way").source_record.status == "handbook"
    assert REF.emissions["styrenic-placeholder"].rate.status == "assumption"


def test_a_supply_by_its_long_name_and_what_it_assumes() -> None:
    supply = REF.supply("eu-230-400")
    assert supply is REF.supply("EU")
    assert (supply.earthing, supply.earthing_status) == ("TN", "assumption")
    assert REF.supply("JP").rule_status == "assumption"
    assert "iec-60309-16-single" in {socket.id for socket in supply.sockets}


def test_a_sign_knows_its_frame() -> None:
    assert REF.sign("w017").kind == "warning"
    assert REF.sign_class("W017") is REF.sign_class("warning")
    assert REF.sign_gap("fume").codes == ("W016", "W001")


def test_what_is_worn_by_another_name() -> None:
    assert REF.ppe("safety-glasses") is REF.ppe("eye-protection")
    assert "rotating" in REF.ppe("heat-gloves").caution


def test_a_round_opening_is_held_to_the_square() -> None:
    assert REF.guard_distance(10, "round") == REF.guard_distance(10, "square")
