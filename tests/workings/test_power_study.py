"""The subject whole: the demonstration shop, the smallest shop, faults, and what is said how."""

from __future__ import annotations

import inspect
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from generator.ground import wording
from generator.ground.finding import Finding, Severity
from generator.ground.resources import resource
from generator.ground.working import Verdict
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import power
from generator.workings.power import PowerStudy, formulas
from tests.small import SMALLEST, folder_with, shop_with


@cache
def _demonstration() -> Shop:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return shop


@cache
def _study() -> PowerStudy:
    return power.study(_demonstration())


def _rules(findings: tuple[Finding, ...]) -> Counter[str]:
    return Counter(f.rule.removeprefix("power.") for f in findings)


# --- the demonstration shop --------------------------------------------------------------------


def test_the_demonstration_shop_has_what_a_real_shop_has() -> None:
    """No stop, some to fix, some for the electrician."""
    by_severity = Counter(f.severity for f in _study().survey.findings)
    assert by_severity[Severity.STOP] == 0
    assert by_severity[Severity.FIX] >= 2
    assert by_severity[Severity.ASK] >= 2


def test_the_finishing_corner_carries_all_but_one_of_its_machines() -> None:
    """7.50 + 5.43 + 5.52 + 4.27 = 22.72 A by the plates, on 20 A: any three of them fit."""
    load = next(load for load in _study().loads if load.circuit.id == "finishing")
    assert load.design_a == pytest.approx(7.50 + 5.43 + 5.52 + 4.27, abs=0.02)
    allowance = _study().sets.allowance
    corner = ["band-saw", "chip-extractor", "belt-sander", "pillar-drill"]
    assert not allowance.fits(corner)
    assert all(allowance.fits([m for m in corner if m != left_out]) for left_out in corner)


def test_the_three_large_machines_go_together_and_little_beside_them() -> None:
    """8.09 + 13.12 + 8.66 = 29.87 A of 40 A on each phase."""
    large = ["granulator", "screw-injector", "platen-press"]
    assert _study().sets.allowance.fits(large)
    sets = [set(chosen) for chosen in _study().sets.sets() if set(large) <= set(chosen)]
    assert sets != []
    assert all("water-heater" not in chosen or "drying-cabinet" not in chosen for chosen in sets)


def test_every_set_of_the_demonstration_shop_holds_and_is_whole() -> None:
    sets = _study().sets
    assert sets.complete
    assert sets.count == len(set(sets.sets())) > 1
    for chosen in sets.sets():
        assert sets.allowance.fits(chosen)
        rest = set(sets.allowance.machines) - set(chosen)
        assert not any(sets.allowance.fits((*chosen, extra)) for extra in rest)


def test_the_sessions_of_the_demonstration_shop_are_answered() -> None:
    verdicts = {power.session.id: power.verdict for power in _study().sessions}
    assert set(verdicts) == set(_demonstration().sessions)
    assert Verdict.UNANSWERED not in verdicts.values()


def test_a_larger_machine_at_the_same_hour_breaks_a_session() -> None:
    """The evening runs both injectors; a fuse of 16 A does not bear 13.12 + 5.22 on L1."""
    room = _demonstration().room
    supply = room.supply.model_copy(update={"main_fuse_a": 16.0})
    smaller = _demonstration().model_copy(
        update={"room": room.model_copy(update={"supply": supply})}
    )
    evening = next(p for p in power.study(smaller).sessions if p.session.id == "adult-evening")
    assert evening.verdict is Verdict.FAILS


# --- what a survey owes its reader -------------------------------------------------------------


def test_ids_are_unique_and_findings_point_at_workings_that_are_there() -> None:
    ids = [working.id for working in _study().survey.workings]
    assert [id_ for id_, n in Counter(ids).items() if n > 1] == []
    assert {f.working for f in _study().survey.findings if f.working} <= set(ids)
    assert all(id_.startswith("power.") for id_ in ids)


def test_every_finding_says_where_what_and_how_to_mend_it() -> None:
    for finding in _study().survey.findings:
        assert finding.origin.file.endswith(".yml")
        assert finding.origin.line > 0
        assert finding.says
        assert finding.mend
        assert finding.subject
        assert (finding.severity is not Severity.ASK) or finding.asks


def test_every_judged_working_has_a_limit_a_margin_and_a_caution() -> None:
    for working in _study().survey.workings:
        assert working.caution
        if working.verdict in (Verdict.HOLDS, Verdict.FAILS):
            assert working.limit is not None
            assert working.limit_source is not None
            assert working.margin is not None
            margin_says = working.margin.value >= -1e-6
            assert margin_says == (working.verdict is Verdict.HOLDS)


def test_the_count_of_checks_covers_every_verdict() -> None:
    survey = _study().survey
    judged = [w for w in survey.workings if w.verdict is not Verdict.INFORMS]
    assert survey.checks >= len(judged)
    assert survey.unanswered >= sum(w.verdict is Verdict.UNANSWERED for w in judged)
    assert survey.unanswered <= survey.checks


def test_nothing_calls_anything_safe() -> None:
    survey = _study().survey
    said = [f.says + f.mend for f in survey.findings]
    said += [w.title + w.formula + w.caution for w in survey.workings]
    assert [words for words in said if "safe" in words.lower()] == []


def test_every_sentence_is_looked_up_in_the_catalogue() -> None:
    """In the made-up language every fixed string has accents; the shop's own words have none."""
    with wording.use(wording.PSEUDO):
        survey = power.study(_demonstration()).survey
    said = [f.says for f in survey.findings] + [f.mend for f in survey.findings]
    said += [part for w in survey.workings for part in (w.title, w.formula, w.caution)]
    accents = set("åéîöüçñžšŵ")
    assert [words for words in said if not accents & set(words)] == []


# --- small shops -------------------------------------------------------------------------------


def test_the_smallest_shop_asks_for_its_plate() -> None:
    shop = load_shop(SMALLEST).shop
    assert shop is not None
    study = power.study(shop)
    assert _rules(study.survey.findings)["plate"] == 1
    assert next(iter(study.machines)).missing != ()


def test_a_shop_without_power_is_looked_at_all_the_same(tmp_path: Path) -> None:
    study = power.study(shop_with(tmp_path, machines="{}\n"))
    assert (study.machines, study.sets.count, study.energy.year_kwh) == ((), 1, 0)


def test_a_finding_names_the_line_of_the_file(tmp_path: Path) -> None:
    room = (SMALLEST / "room.yml").read_text(encoding="utf-8")
    thin = room.replace("section: 2.5 mm²", "section: 2.5 mm²\n    cable_rating: 10 A")
    findings = power.study(shop_with(tmp_path, room=thin)).survey.findings
    (stop,) = [f for f in findings if f.severity is Severity.STOP]
    line = thin.splitlines()[stop.origin.line - 1]
    assert (stop.origin.file, line.strip()) == ("room.yml", "device: 16 A")


# --- what cannot be meant ----------------------------------------------------------------------


def _faults(folder: Path, **files: str) -> list[Finding]:
    loaded = load_shop(folder_with(folder, **files))
    assert loaded.shop is None
    return [f for f in loaded.findings if f.severity is Severity.FAULT]


def test_a_machine_on_a_circuit_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    machines = (SMALLEST / "machines.yml").read_text(encoding="utf-8")
    (fault,) = _faults(tmp_path, machines=machines.replace("circuit: motors", "circuit: moters"))
    assert fault.rule == "data.unknown-id"
    assert "motors" in fault.mend


def test_a_circuit_that_no_phase_of_the_supply_feeds_is_a_fault(tmp_path: Path) -> None:
    room = (SMALLEST / "room.yml").read_text(encoding="utf-8")
    faults = _faults(tmp_path, room=room.replace("phases: three\n  panel", "phases: one\n  panel"))
    assert [f.rule for f in faults] == ["data.phases"]


def test_a_split_phase_with_three_phases_is_a_fault(tmp_path: Path) -> None:
    room = (SMALLEST / "room.yml").read_text(encoding="utf-8")
    faults = _faults(tmp_path, room=room.replace("EU-230-400", "US-120-240"))
    (fault,) = [f for f in faults if "profile" in f.says or "US-120-240" in f.says]
    assert "2" in fault.says
    assert fault.example == "phases: two"


# --- the formulas' own words -------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", [n for n, f in inspect.getmembers(formulas, inspect.isfunction)
             if f.__module__ == formulas.__name__],
)  # fmt: skip
def test_a_formula_says_its_units_and_its_source(name: str) -> None:
    formula = getattr(formulas, name)
    words = inspect.getdoc(formula) or ""
    summary, _rest, parts = words.partition("Parameters")
    assert "[" in summary.splitlines()[0] or "[" in summary
    assert "References" in parts
    listed, _sep, _references = parts.partition("References")
    for parameter in inspect.signature(formula).parameters:
        assert f"\n{parameter}\n" in listed, f"{parameter} is not described"
    assert listed.count("[") >= len(inspect.signature(formula).parameters)
