"""A batch followed both ways: what is in it, what holds it, what to recall, what cannot be so."""

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.shop.records.logs import Batch, Logs
from generator.shop.shop import Shop
from generator.workings.trail import Trail, study
from tests.small import shop_with
from tests.workings.hall import found, only, plain

POLYMERS = """\
pp:
  code: PP
  name: PP
  status: taken
  colours: {red: {name: Red}, white: {name: White}}
ps: {code: PS, name: PS, status: taken, colours: {red: {name: Red}}}
"""
BLENDS = """\
brick:
  name: Brick
  parts:
    - {polymer: pp, colour: red, share: 60 %}
    - {polymer: pp, colour: white, share: 40 %}
  mixes: melt
  machines: []
"""
DONORS = """\
school:
  name: School
  brings: [{polymer: pp, form: whole, weekly: 4 kg, dirt: rinsed, rejected: 30 %}]
nursery:
  name: Nursery
  brings: [{polymer: pp, form: whole, weekly: 4 kg, dirt: dirty}]
"""
WEIGH_INS = """\
date,donor,polymer,colour,kg,rejected_kg,batch
2026-03-01,school,pp,red,6,0,S1
2026-03-02,nursery,pp,red,3,1,S1
2026-03-02,nursery,pp,white,5,0,S2
"""
BATCHES = """\
batch,date,step,kg,polymer,colour,made_from,blend,product,count
S1,2026-03-03,sorted,7.5,pp,red,,,,
S2,2026-03-03,sorted,4.8,pp,white,,,,
W1,2026-03-04,washed,7,pp,red,S1,,,
W2,2026-03-04,washed,4.5,pp,white,S2,,,
F1,2026-03-05,flake,6.9,pp,red,W1,,,
F2,2026-03-05,flake,4.4,pp,white,W2,,,
B1,2026-03-06,blend,5,,,F1 F2,brick,,
P1,2026-03-07,product,3,,,B1,brick,,100
P2,2026-03-08,product,1.5,,,B1,brick,,50
"""


def logged(folder: Path, batches: str = BATCHES, weigh_ins: str = WEIGH_INS) -> Shop:
    return shop_with(
        folder, polymers=POLYMERS, blends=BLENDS, donors=DONORS, weigh_ins_csv=weigh_ins,
        batches_csv=batches,
    )  # fmt: skip


def test_backwards_a_product_names_its_labels_and_its_sources(tmp_path: Path) -> None:
    history = Trail(logged(tmp_path)).back("P1")
    assert [(h.batch.batch, h.share) for h in history.held] == [
        ("B1", 1.0), ("F1", pytest.approx(0.6)), ("F2", pytest.approx(0.4)),
        ("W1", pytest.approx(0.6)), ("W2", pytest.approx(0.4)),
        ("S1", pytest.approx(0.6)), ("S2", pytest.approx(0.4)),
    ]  # fmt: skip
    # of the red, 6 of 8 kg taken were the school's
    shares = {b.donor: b.share for b in history.brought}
    assert shares == {"school": pytest.approx(0.45), "nursery": pytest.approx(0.55)}
    assert history.begins == ()


def test_forwards_a_crate_names_every_product_that_holds_it(tmp_path: Path) -> None:
    trail = Trail(logged(tmp_path))
    assert [h.batch.batch for h in trail.forward("S2")] == ["W2", "F2", "B1", "P1", "P2"]
    held = {h.batch.batch: h.kg for h in trail.forward("F1")}
    assert held == {
        "B1": pytest.approx(3), "P1": pytest.approx(1.8), "P2": pytest.approx(0.9),
    }  # fmt: skip


def test_a_recall_lists_products_and_what_still_stands(tmp_path: Path) -> None:
    recall = Trail(logged(tmp_path)).recall(["S1"])
    assert [h.batch.batch for h in recall.products] == ["P1", "P2"]
    assert recall.count == 150
    assert recall.left_kg == {"F1": pytest.approx(3.9)}  # 6.9 less 60 % of 5
    assert {h.batch.batch for h in recall.passed} == {"S1", "W1", "B1"}


def test_a_recall_of_a_source_takes_a_polymer_and_a_day(tmp_path: Path) -> None:
    trail = Trail(logged(tmp_path))
    assert [b.batch for b in trail.recall_source("nursery").asked] == ["S1", "S2"]
    assert trail.recall_source("nursery", since=dt.date(2026, 3, 3)).asked == ()
    assert trail.recall_source("nursery", "ps").products == ()
    both = trail.recall_source("nursery")
    assert [h.share for h in both.products] == [pytest.approx(1.0)] * 2


def test_two_labels_for_one_part_leave_the_share_open(tmp_path: Path) -> None:
    batches = BATCHES.replace("F1 F2", "F1 F3 F2") + "F3,2026-03-05,flake,9,pp,red,,,,\n"
    trail = Trail(logged(tmp_path, batches))
    shares = {h.batch.batch: h.share for h in trail.back("P1").held}
    assert shares["F1"] is None and shares["F3"] is None
    assert shares["F2"] == pytest.approx(0.4)
    assert trail.left_kg("F1") is None
    assert [b.batch for b in trail.back("P1").begins] == ["F3"]


def test_an_additive_is_no_flake(tmp_path: Path) -> None:
    blends = (
        "brick:\n  name: Brick\n  parts: [{polymer: pp, colour: red, share: 98 %}]\n"
        "  additives: [{consumable: green, share: 2 %}]\n  mixes: melt\n  machines: []\n"
    )
    consumables = (
        "green: {name: Green, kind: masterbatch, unit: kg, kept_at: cutting, stock: 1, least: 1,"
        " lead_time: 3 d}\n"
    )
    batches = "batch,date,step,kg,polymer,colour,made_from,blend\n"
    batches += "F1,2026-03-05,flake,6,pp,red,,\nB1,2026-03-06,blend,5,,,F1,brick\n"
    shop = shop_with(
        tmp_path, polymers=POLYMERS, blends=blends, consumables=consumables, batches_csv=batches
    )
    [held] = Trail(shop).forward("F1")
    assert held.kg == pytest.approx(4.9)


# --- what cannot be so -------------------------------------------------------------------------


def test_a_log_that_agrees_with_itself_leaves_nothing_to_mend(tmp_path: Path) -> None:
    made = study(logged(tmp_path))
    assert made.survey.findings == ()
    assert made.survey.checks == 12  # nine batches and three weigh-ins


WRONG = [
    ("another-polymer", "W1,2026-03-04,washed,7,pp,red", "W1,2026-03-04,washed,7,ps,red"),
    ("before", "W1,2026-03-04", "W1,2026-03-02"),
    ("gained", "W1,2026-03-04,washed,7,", "W1,2026-03-04,washed,8,"),
    ("overdrawn", "P2,2026-03-08,product,1.5", "P2,2026-03-08,product,2.5"),
    ("recipe", "F2,2026-03-05,flake,4.4,pp,white", "F2,2026-03-05,flake,4.4,pp,"),
]


@pytest.mark.parametrize(("rule", "right", "wrong"), WRONG)
def test_what_cannot_be_so_is_found(tmp_path: Path, rule: str, right: str, wrong: str) -> None:
    assert right in BATCHES
    made = study(logged(tmp_path, BATCHES.replace(right, wrong)))
    assert found(made.survey.findings, f"trail.{rule}"), made.survey.findings
    assert {f.severity for f in found(made.survey.findings, f"trail.{rule}")} == {Severity.FIX}


def test_a_gain_is_said_with_its_masses(tmp_path: Path) -> None:
    batches = BATCHES.replace("W1,2026-03-04,washed,7,", "W1,2026-03-04,washed,8,")
    one = only(study(logged(tmp_path, batches)).survey.findings, "trail.gained", Severity.FIX)
    assert plain(one.says) == "W1 weighs 8 kg, more than the 7.5 kg it was made from."
    assert one.origin.line == 4


def test_flake_out_of_quarantine_stops(tmp_path: Path) -> None:
    batches = BATCHES + "Q1,2026-03-01,quarantine,2,,,,,,\nF9,2026-03-04,flake,2,pp,red,Q1,,,\n"
    one = only(
        study(logged(tmp_path, batches)).survey.findings, "trail.out-of-quarantine", Severity.STOP
    )
    assert "F9" in one.says and "Q1" in one.says


def test_sorted_out_of_quarantine_has_been_told_apart(tmp_path: Path) -> None:
    batches = BATCHES + "Q1,2026-03-01,quarantine,2,,,,,,\nS9,2026-03-04,sorted,2,pp,red,Q1,,,\n"
    made = study(logged(tmp_path, batches))
    assert not found(made.survey.findings, "trail.out-of-quarantine")


def test_what_has_no_label_is_counted_and_not_answered(tmp_path: Path) -> None:
    weigh_ins = WEIGH_INS + "2026-03-05,school,pp,red,4,1,\n2026-03-05,school,pp,red,2,2,\n"
    made = study(logged(tmp_path, weigh_ins=weigh_ins))
    one = only(made.survey.findings, "trail.unlabelled", Severity.NOTE)
    assert plain(one.says).startswith("1 weigh-in of 3 kg")
    assert made.survey.unanswered == 1


# --- conservation ------------------------------------------------------------------------------


@st.composite
def webs(draw: st.DrawFn) -> tuple[Batch, ...]:
    """Batches, each made from some before it."""
    made: list[Batch] = []
    for n in range(draw(st.integers(1, 12))):
        parents = (
            draw(st.lists(st.sampled_from([b.batch for b in made]), max_size=3)) if made else []
        )
        made.append(
            Batch(
                Origin("batches.csv", n + 2), f"L{n}", dt.date(2026, 3, 1), "flake",
                draw(st.floats(0.1, 100)), made_from=tuple(parents),
            )
        )  # fmt: skip
    return tuple(made)


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return shop_with(tmp_path_factory.mktemp("empty"), polymers=POLYMERS)


@given(batches=webs())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_both_ways_agree(empty: Shop, batches: tuple[Batch, ...]) -> None:
    """A label is in a batch just where the batch is among what holds the label, and as much."""
    trail = Trail(empty.model_copy(update={"logs": Logs(batches=batches)}))
    ahead = {
        (b.batch, h.batch.batch): h.share for b in batches for h in trail.forward(b.batch)
    }  # fmt: skip
    behind = {
        (h.batch.batch, b.batch): h.share for b in batches for h in trail.back(b.batch).held
    }  # fmt: skip
    assert ahead.keys() == behind.keys()
    for pair, share in ahead.items():
        assert share == (None if behind[pair] is None else pytest.approx(behind[pair]))


@given(batches=webs())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_sources_of_a_batch_make_it_whole(empty: Shop, batches: tuple[Batch, ...]) -> None:
    trail = Trail(empty.model_copy(update={"logs": Logs(batches=batches)}))
    for batch in batches:
        history = trail.back(batch.batch)
        begins = {b.batch for b in history.begins} - {batch.batch}
        shares = [h.share for h in history.held if h.batch.batch in begins]
        if shares and None not in shares:
            assert sum(s for s in shares if s is not None) == pytest.approx(1)
