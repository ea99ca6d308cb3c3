"""Scores, bands and what is found in a hazard register worked by hand."""

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


CONTROL = "  controls: [{kind: engineer, what: A guard}]\n"


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
