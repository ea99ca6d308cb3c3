"""Whether each polymer stays itself: its way, what it shares, what a stray does, what is no."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.load import load_shop
from generator.workings import purity
from generator.workings.purity import Outcome, PurityStudy
from generator.workings.purity.purge import left_share, purge_kg, volumes_for, volumes_of
from tests.small import shop_with
from tests.workings.moulding_shops import MACHINES, POLYMERS, moulding_shop

REFUSED = """\
gears: {code: POM, name: Gears, status: refused}
pipe:
  code: PVC
  name: PVC
  status: refused
  why: It gives off acid.
  examples: [Grey pipe and elbows]
  tell_by: [A 3 in the triangle]
"""


def found(folder: Path, **files: str) -> PurityStudy:
    return purity.study(moulding_shop(folder, **files))


def small(folder: Path, **files: str) -> PurityStudy:
    """Of the smallest shop, without moulds and hot machines."""
    return purity.study(shop_with(folder, **files))


def rules(study: PurityStudy) -> list[str]:
    return [f.rule for f in study.survey.findings]


# --- purging -----------------------------------------------------------------------------------


def test_the_mass_of_barrel_volumes() -> None:
    # 130 cm³ of PP at 740 kg/m³ as melt are 96.2 g.
    assert purge_kg(1, 130, 740) == pytest.approx(0.0962)
    assert purge_kg(3, 130, 740) == pytest.approx(0.2886)


def test_what_a_stirred_barrel_keeps() -> None:
    """Levenspiel, Chemical Reaction Engineering, ideal stirred tank: e to the minus one of the
    old stands in it after one volume, 5 % after three."""
    assert left_share(1) == pytest.approx(0.3679, abs=5e-5)
    assert left_share(3) == pytest.approx(0.0498, abs=5e-5)
    assert volumes_for(0.01) == pytest.approx(4.605, abs=5e-4)


@given(st.floats(0.01, 30), st.floats(1, 5000), st.floats(500, 1500))
def test_purging_runs_both_ways_and_more_always_leaves_less(
    volumes: float, barrel: float, density: float
) -> None:
    assert volumes_of(purge_kg(volumes, barrel, density), barrel, density) == pytest.approx(volumes)
    assert left_share(2 * volumes) == pytest.approx(left_share(volumes) ** 2)
    assert volumes_for(left_share(volumes)) == pytest.approx(volumes)


# --- machines that are shared ------------------------------------------------------------------

SHARED = MACHINES.replace(
    "    - {polymer: pp, melt: 210 °C, mould: 40 °C, rate: 4 kg/h, hold: 6 s}\n",
    "    - {polymer: pp, melt: 210 °C, rate: 4 kg/h, purge: 0.3 kg, clean_down: Purge}\n"
    "    - {polymer: ps, melt: 210 °C, rate: 4 kg/h, purge: 0.4 kg, clean_down: Purge and look}\n",
)


def test_each_change_between_two_polymers_has_its_clean_down_and_purge(tmp_path: Path) -> None:
    study = found(tmp_path, machines=SHARED)
    sharing = next(s for s in study.sharings if s.machine == "screw")
    assert sharing.polymers == ("pp", "ps")
    change = next(c for c in sharing.changes if (c.leaves, c.comes) == ("ps", "pp"))
    assert change.how == "Purge and look"
    assert change.verdict is Verdict.HOLDS
    assert change.purge is not None
    # 0.4 kg through 96.2 g of barrel are 4.16 volumes; at worst 1.6 % is left; 1 % takes 0.443 kg.
    assert change.purge.volumes == pytest.approx(0.4 / 0.0962)
    assert change.purge.left_percent == pytest.approx(100 * math.exp(-0.4 / 0.0962))
    assert change.purge.for_limit_kg == pytest.approx(0.0962 * math.log(100))
    assert (change.purge.least_kg, change.purge.most_kg) == pytest.approx((0.0962, 0.2886))
    assert change.purge.takes_min == pytest.approx(6)


@pytest.mark.parametrize(
    ("written", "rule"),
    [
        ("purge: 0.4 kg, clean_down: Purge and look", ""),
        ("purge: 0.4 kg", "purity.no-clean-down"),
        ("clean_down: Purge and look", "purity.no-purge"),
        ("purge: 0.05 kg, clean_down: Purge and look", "purity.purge-short"),
    ],
)
def test_what_is_missing_from_a_change_is_found(tmp_path: Path, written: str, rule: str) -> None:
    machines = SHARED.replace("purge: 0.4 kg, clean_down: Purge and look", written)
    findings = found(tmp_path, machines=machines).survey.findings
    told = [f.rule for f in findings if f.subject == "machines/screw"]
    assert [r for r in told if r != "purity.first-parts"] == ([rule] if rule else [])


def test_where_no_share_is_known_to_hold_the_first_parts_are_broken(tmp_path: Path) -> None:
    finding = next(
        f
        for f in found(tmp_path, machines=SHARED).survey.findings
        if f.rule == "purity.first-parts"
    )
    # 0.3 kg of PS at 950 through 130 cm³: 2.43 volumes leave 9 %.
    assert "9\u202f%" in finding.says
    assert finding.severity is Severity.NOTE


GRANULATOR = """\
granulator:
  name: Granulator
  kind: granulator
  station: cutting
  settings:
    - {polymer: gears, clean_down: Vacuum it}
    - {polymer: pipe, clean_down: Vacuum it}
"""


def test_pom_and_pvc_are_refused_on_one_granulator_even_cold(tmp_path: Path) -> None:
    study = small(tmp_path, machines=GRANULATOR, polymers=POLYMERS + REFUSED)
    (sharing,) = study.sharings
    assert len(sharing.forbidden) == 1
    assert "explode" in sharing.forbidden[0]
    assert {change.verdict for change in sharing.changes} == {Verdict.FAILS}
    assert "purity.ruined" in rules(study)


STATIONS = """\
cutting:
  number: 1
  name: Cutting
  purpose: Here it is cut
  zone: work
  at: 3000, 3200 mm
  size: 1200 x 800 mm
  use: {alone: authorised}
  takes_in: [{what: Bags}, {what: Pieces, station: table, polymers: [pp, gears, pipe]}]
table:
  number: 2
  name: Table
  purpose: Here it is sorted
  zone: work
  at: 1000, 1000 mm
  size: 1200 x 800 mm
  use: {alone: inducted}
  takes_in: [{what: Bags}]
  gives:
    - {what: Pieces, station: cutting, container: crate, polymers: [pp]}
    - {what: Doubtful, container: red-box}
"""
BOXES = """\
crate: {name: Crate, outer: 600 x 400 x 320 mm, volume: 60 l, empty: 2 kg, most: 12 kg,
        keeps: [sorted], owned: 3}
red-box: {name: Red box, outer: 400 x 300 x 220 mm, volume: 20 l, empty: 1 kg, most: 8 kg,
          keeps: [quarantine], owned: 1}
"""


def test_pom_and_pvc_on_their_way_to_one_granulator_stop_the_shop(tmp_path: Path) -> None:
    machines = "granulator: {name: Granulator, kind: granulator, station: cutting}\n"
    study = small(
        tmp_path, machines=machines, stations=STATIONS, containers=BOXES,
        polymers=POLYMERS + REFUSED,
    )  # fmt: skip
    stop = next(f for f in study.survey.findings if f.rule == "purity.never-together")
    assert stop.severity is Severity.STOP
    assert "station 1, Cutting" in stop.says


# --- ways --------------------------------------------------------------------------------------


def ways(folder: Path, polymer: str) -> list[tuple[str, str, str]]:
    study = small(
        folder, stations=STATIONS, containers=BOXES,
        polymers=POLYMERS + REFUSED,
    )  # fmt: skip
    return [(leg.start, leg.to, leg.container) for leg in study.paths[polymer]]


def test_a_polymer_goes_where_its_handovers_name_it(tmp_path: Path) -> None:
    assert ("table", "cutting", "crate") in ways(tmp_path, "pp")


def test_a_polymer_that_no_handover_names_goes_only_where_anything_goes(tmp_path: Path) -> None:
    assert ways(tmp_path, "pe-hd") == [("table", "", "red-box")]


def test_an_unnamed_handover_carries_nothing_that_is_refused_but_aside(tmp_path: Path) -> None:
    open_ = STATIONS.replace(", polymers: [pp]", "").replace(", polymers: [pp, gears, pipe]", "")
    study = small(
        tmp_path, stations=open_, containers=BOXES,
        polymers=POLYMERS + REFUSED,
    )  # fmt: skip
    assert [leg.container for leg in study.paths["pipe"]] == ["red-box"]
    assert study.paths["pipe"][0].aside
    assert {leg.to for leg in study.paths["pp"]} == {"cutting", ""}


def test_a_taker_that_names_more_than_its_giver_is_found(tmp_path: Path) -> None:
    study = small(
        tmp_path, stations=STATIONS, containers=BOXES,
        polymers=POLYMERS + REFUSED,
    )  # fmt: skip
    finding = next(f for f in study.survey.findings if f.rule == "purity.not-given")
    assert "takes Gears, PVC from station 2, Table" in finding.says


# --- what a stray does -------------------------------------------------------------------------

EVERY = POLYMERS + REFUSED + (
    "pe-ld: {code: PE-LD, name: Film, status: taken}\n"
    "abs: {code: ABS, name: ABS, status: taken}\n"
    "pet: {code: PET, name: PET, status: taken}\n"
    "pc: {code: PC, name: PC, status: taken}\n"
    "pla: {code: PLA, name: PLA, status: taken}\n"
    "pa: {code: PA6, name: PA6, status: taken}\n"
)  # fmt: skip
Stray = tuple[str, str, Outcome, float | None, float | None]
STRAYS: list[Stray] = [
    # host, stray, outcome, percent in the least and in the most demanding use
    ("pp", "pe-hd", Outcome.DOWNGRADES, 10, 10),
    ("pe-hd", "pp", Outcome.DOWNGRADES, 20, 5),
    ("pp", "ps", Outcome.DOWNGRADES, 1, 1),
    ("pe-hd", "pet", Outcome.DOWNGRADES, 0.5, 0.5),
    ("pe-hd", "pe-ld", Outcome.DOWNGRADES, None, None),
    ("pet", "pp", Outcome.DOWNGRADES, 0.008, 0.003),  # 30 to 80 ppm
    ("pet", "pla", Outcome.REFUSES, None, None),
    ("ps", "pp", Outcome.REFUSES, None, None),
    ("pc", "abs", Outcome.MIXES, None, None),
    ("pp", "pa", Outcome.UNKNOWN, 0.5, 0.5),
    ("pp", "pipe", Outcome.REFUSES, 0, 0),
    ("pet", "pipe", Outcome.REFUSES, 0, 0),
    ("abs", "pipe", Outcome.REFUSES, 0, 0),  # blended in industry, never here
    ("pp", "gears", Outcome.REFUSES, 0, 0),
]


@pytest.mark.parametrize("stray", STRAYS, ids=lambda stray: f"{stray[0]}-{stray[1]}")
def test_what_a_stray_refuses_and_what_it_downgrades(tmp_path: Path, stray: Stray) -> None:
    host, minor, outcome, most, least = stray
    row = found(tmp_path, polymers=EVERY).mixing(host, minor)
    assert row is not None
    assert row.outcome is outcome
    assert row.limit_percent == (pytest.approx(most) if most is not None else None)
    assert row.strict_percent == (pytest.approx(least) if least is not None else None)
    assert row.source.cite


def test_nothing_is_ever_mixed_into_what_must_not_be_heated(tmp_path: Path) -> None:
    assert found(tmp_path, polymers=EVERY).mixing("pipe", "pp") is None


# --- why not -----------------------------------------------------------------------------------


@pytest.mark.parametrize("words", ["grey pipe", "Pipe", "elbows", "PVC"])
def test_why_the_press_refuses_the_grey_pipe(tmp_path: Path, words: str) -> None:
    (answer,) = found(tmp_path, polymers=POLYMERS + REFUSED).why_not(words)
    assert answer.polymer.code == "PVC"
    assert answer.says.startswith(
        "It gives off acid. PVC, of any kind: Gives off hydrogen chloride"
    )
    # The press stands at 185 and 200 °C, hydrogen chloride begins at about 140.
    assert "Press is set to 185 to 200\u202f°C, 60\u202fK above the 140\u202f°C" in answer.says
    assert "POM with PVC" in answer.says
    assert answer.looks == ("A 3 in the triangle",)


def test_what_is_taken_is_not_refused(tmp_path: Path) -> None:
    assert found(tmp_path, polymers=POLYMERS + REFUSED).why_not("polypropylene") == ()


def test_the_demonstration_shop_answers_for_the_grey_pipe_and_keeps_its_ways_apart() -> None:
    shop = load_shop(Path(__file__).parents[2] / "content" / "shop").shop
    assert shop is not None
    study = purity.study(shop)
    (answer,) = study.why_not("grey pipe")
    assert answer.polymer.id == "pvc"
    assert "Platen press is set to 185 to 200\u202f°C" in answer.says
    assert {leg.container for leg in study.paths["pvc"]} <= {"quarantine-box", "refuse-sack"}
    assert "platen-press" not in {leg.to for leg in study.paths["pe-ld"]}
    assert {"granulator-bay", "platen-press"} <= {leg.to for leg in study.paths["pe-hd"]}
    assert Severity.STOP not in {f.severity for f in study.survey.findings}
