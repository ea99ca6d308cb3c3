"""Scores, bands and what is found in a hazard register worked by hand."""

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.shop.records.people import Risk
from generator.workings import risk
from generator.workings.risk import Band
from tests.small import shop_with


@pytest.mark.parametrize(
    ("likelihood", "severity", "band"),
    [
        (1, 1, Band.LOW),
        (1, 4, Band.LOW),
        (1, 5, Band.MEDIUM),
        (3, 3, Band.MEDIUM),
        (2, 5, Band.HIGH),
        (4, 4, Band.HIGH),
        (4, 5, Band.STOP),
        (5, 5, Band.STOP),
    ],
)
def test_bands_follow_the_product(likelihood: int, severity: int, band: Band) -> None:
    assert risk.band(Risk(likelihood=likelihood, severity=severity)) is band


def hazard(id_: str, before: str, after: str, rest: str = "") -> str:
    return (
        f"{id_}:\n  name: {id_}\n  harm: Cuts\n  who: [anybody]\n"
        f"  before: {before}\n  after: {after}\n{rest}"
    )


CONTROL = "  controls: [{kind: engineer, what: A guard, machine: granulator}]\n"


def findings(folder: Path, *rows: str) -> list[tuple[str, Severity]]:
    shop = shop_with(folder, hazards="".join(rows))
    return [(f.rule, f.severity) for f in risk.survey_of(shop).findings]


def test_a_bad_hazard_that_nothing_controls_stops(tmp_path: Path) -> None:
    row = hazard("knife", "{likelihood: 4, severity: 4}", "{likelihood: 1, severity: 4}")
    assert findings(tmp_path, row) == [("risk.uncontrolled", Severity.STOP)]


def test_a_small_hazard_that_nothing_controls_is_to_be_mended(tmp_path: Path) -> None:
    row = hazard("knife", "{likelihood: 2, severity: 2}", "{likelihood: 2, severity: 2}")
    assert findings(tmp_path, row) == [("risk.uncontrolled", Severity.FIX)]


def test_controls_that_make_it_worse_are_found(tmp_path: Path) -> None:
    row = hazard("k", "{likelihood: 1, severity: 2}", "{likelihood: 3, severity: 2}", CONTROL)
    assert findings(tmp_path, row) == [("risk.too-high", Severity.FIX)]


def test_what_still_scores_seventeen_or_more_stops(tmp_path: Path) -> None:
    row = hazard("k", "{likelihood: 5, severity: 5}", "{likelihood: 4, severity: 5}", CONTROL)
    assert findings(tmp_path, row) == [("risk.too-high", Severity.STOP)]


def test_what_is_held_is_not_found(tmp_path: Path) -> None:
    row = hazard("k", "{likelihood: 5, severity: 5}", "{likelihood: 1, severity: 5}", CONTROL)
    assert findings(tmp_path, row) == []


def test_the_worst_stands_first_and_ties_keep_their_order(tmp_path: Path) -> None:
    rows = [
        hazard("a", "{likelihood: 5, severity: 2}", "{likelihood: 2, severity: 2}", CONTROL),
        hazard("b", "{likelihood: 5, severity: 3}", "{likelihood: 3, severity: 3}", CONTROL),
        hazard("c", "{likelihood: 5, severity: 2}", "{likelihood: 2, severity: 2}", CONTROL),
        hazard("d", "{likelihood: 5, severity: 4}", "{likelihood: 1, severity: 4}", CONTROL),
    ]
    shop = shop_with(tmp_path, hazards="".join(rows))
    assert [h.id for h in risk.worst_first(shop)] == ["b", "d", "a", "c"]


HIGH, LOW = "{likelihood: 4, severity: 3}", "{likelihood: 1, severity: 3}"
WORN = "  controls: [{kind: administer, what: Look}, {kind: protect, what: Wear it, sign: M004}]\n"


def test_a_high_one_that_only_rules_hold_is_found(tmp_path: Path) -> None:
    assert findings(tmp_path, hazard("k", HIGH, LOW, WORN)) == [("risk.only-by-rule", Severity.FIX)]


def test_it_is_noted_where_something_is_to_be_done(tmp_path: Path) -> None:
    action = "  action: {do: Build a guard, by: keeper, due: 2026-05-01}\n"
    row = hazard("k", HIGH, LOW, WORN + action)
    assert findings(tmp_path, row) == [("risk.only-by-rule", Severity.NOTE)]


def test_one_control_that_is_built_in_is_enough(tmp_path: Path) -> None:
    built = WORN.replace("administer", "engineer")
    assert findings(tmp_path, hazard("k", HIGH, LOW, built)) == []


def test_a_control_that_is_nowhere_is_noted(tmp_path: Path) -> None:
    row = hazard("k", HIGH, LOW, "  controls: [{kind: engineer, what: A guard}]\n")
    assert findings(tmp_path, row) == [("risk.nowhere", Severity.NOTE)]


@pytest.mark.parametrize(
    ("severity", "rest", "expected"),
    [
        (3, "", [("risk.not-reviewed", Severity.NOTE)]),
        (5, "", [("risk.not-reviewed", Severity.FIX)]),
        (5, "  reviewed: 2025-03-01\n", [("risk.not-reviewed", Severity.FIX)]),
        (3, "  reviewed: 2025-03-10\n  review_every: 1 year\n", []),  # due on the day itself
        (
            3,
            "  reviewed: 2025-03-09\n  review_every: 1 year\n",
            [("risk.review-overdue", Severity.FIX)],
        ),
    ],
)
def test_reviews_against_the_tenth_of_march(
    tmp_path: Path, severity: int, rest: str, expected: list[tuple[str, Severity]]
) -> None:
    before = f"{{likelihood: 1, severity: {severity}}}"
    shop = shop_with(tmp_path, hazards=hazard("k", before, before, CONTROL + rest))
    found = risk.survey_of(shop, dt.date(2026, 3, 10)).findings
    assert [(f.rule, f.severity) for f in found] == expected


def test_a_machine_signed_after_the_review_asks_for_another(tmp_path: Path) -> None:
    rest = "  machines: [granulator]\n  reviewed: 2026-01-05\n  review_every: 1 year\n"
    sheet = "granulator:\n  name: Granulator\n  kind: granulator\n  station: cutting\n"
    for day, expected in (("2026-01-05", []), ("2026-02-01", ["risk.changed-since"])):
        signed = f"{sheet}  first_heat: [{{check: guards, done: {day}}}]\n"
        shop = shop_with(tmp_path, hazards=hazard("k", HIGH, LOW, CONTROL + rest), machines=signed)
        found = risk.survey_of(shop, dt.date(2026, 3, 10)).findings
        assert [f.rule for f in found] == expected


def test_a_check_before_first_use_is_not_told_as_a_signature(tmp_path: Path) -> None:
    rest = "  machines: [granulator]\n  reviewed: 2026-01-05\n  review_every: 1 year\n"
    sheet = "granulator:\n  name: Granulator\n  kind: granulator\n  station: cutting\n"
    checks = "[{check: earth-continuity, done: 2026-02-01}, {check: guards}]"
    machine = f"{sheet}  first_heat: {checks}\n"
    shop = shop_with(tmp_path, hazards=hazard("k", HIGH, LOW, CONTROL + rest), machines=machine)
    (found,) = risk.survey_of(shop, dt.date(2026, 3, 10)).findings
    assert "earth continuity checked on 1 February 2026" in found.says
    assert "It is not signed off: 1 check before first use is open." in found.says


def test_controls_stand_by_the_hierarchy(tmp_path: Path) -> None:
    rows = ", ".join(f"{{kind: {k}, what: {k}}}" for k in reversed(risk.HIERARCHY))
    shop = shop_with(tmp_path, hazards=hazard("k", HIGH, LOW, f"  controls: [{rows}]\n"))
    assert tuple(kind for kind, _c in risk.by_hierarchy(shop.hazards["k"])) == risk.HIERARCHY


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ("2026-01-05", []),  # on the day it was gone through
        ("2026-01-06", ["risk.changed-since"]),
        ("2026-03-11", []),  # planned for tomorrow
    ],
)
@pytest.mark.parametrize("met", ["", "  machines: [granulator]\n"])
def test_a_machine_altered_after_the_review_asks_for_another(
    tmp_path: Path, changed: str, expected: list[str], met: str
) -> None:
    """Also where the hazard only leans on a guard of the machine, as the control does."""
    machine = (
        "granulator:\n  name: Granulator\n  kind: granulator\n  station: cutting\n"
        f"  altered: [{{day: {changed}, what: Another flap}}]\n"
    )
    row = hazard("k", HIGH, LOW, CONTROL + met + "  reviewed: 2026-01-05\n  review_every: 1 year\n")
    shop = shop_with(tmp_path, hazards=row, machines=machine)
    found = risk.survey_of(shop, dt.date(2026, 3, 10)).findings
    assert [f.rule for f in found] == expected
    assert all("changed on 6 January 2026: Another flap" in f.says for f in found)


@pytest.mark.parametrize(
    ("machine", "where", "expected"),
    [
        ("run_down: 4 s", "", ["risk.unassessed"]),
        ("run_down: 4 s", "  machines: [granulator]\n", []),
        ("run_down: 4 s", "  stations: [cutting]\n", []),
        ("mass: 4 kg", "", []),  # nothing in it turns or heats
    ],
)
def test_a_machine_that_turns_is_in_the_register(
    tmp_path: Path, machine: str, where: str, expected: list[str]
) -> None:
    record = f"granulator: {{name: G, kind: granulator, station: cutting, {machine}}}\n"
    placed = "  controls: [{kind: engineer, what: A guard, sign: M004}]\n"
    shop = shop_with(tmp_path, hazards=hazard("k", HIGH, LOW, placed + where), machines=record)
    assert [f.rule for f in risk.survey_of(shop).findings] == expected
