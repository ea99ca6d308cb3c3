"""What the steps lose: worked examples, conservation, and when the log takes over."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.origin import Origin
from generator.ground.working import Source
from generator.shop.shop import Shop
from generator.workings.losses import Losses, chain, needed_kg, share_lost, yield_kg
from tests.small import shop_with

SHARES = st.lists(st.floats(0, 0.9), max_size=6)


def test_the_worked_example_of_a_yield_and_of_what_twenty_kilograms_need() -> None:
    """100 kg, of which sorting keeps 90, washing 92 and grinding 97 %, then 0.5 kg purge, 5 %."""
    steps = [0.10, 0.08, 0.03]
    assert yield_kg(100, steps, 0.5, 0.95) == pytest.approx(75.83, abs=0.005)
    assert needed_kg(20, steps, 0.5, 0.95) == pytest.approx(26.83, abs=0.005)


def test_a_published_plant_loses_the_waste_it_reports() -> None:
    """A PET reclaimer reports 221 kg of waste to a tonne of flake: 1221 kg in, yield 0.819
    (doi 10.1155/2020/8905431, table 11)."""
    assert 1 - share_lost(1221, 1000) == pytest.approx(0.819, abs=0.0005)
    assert needed_kg(1000, [share_lost(1221, 1000)]) == pytest.approx(1221)


@given(st.floats(1, 1e5), SHARES, st.floats(0, 5), st.floats(0.1, 1))
def test_what_goes_in_comes_out_or_is_lost(
    in_kg: float, shares: list[float], purge: float, after: float
) -> None:
    left, lost = in_kg, 0.0
    for share in shares:
        lost += left * share
        left *= 1 - share
    bad = (left - purge) * (1 - after)
    out = yield_kg(in_kg, shares, purge, after)
    assert out + lost + purge + bad == pytest.approx(in_kg, rel=1e-9, abs=1e-6)


@given(st.floats(0.1, 1e4), SHARES, st.floats(0, 5), st.floats(0.1, 1))
def test_what_is_needed_yields_what_was_wanted(
    good: float, shares: list[float], purge: float, after: float
) -> None:
    needed = needed_kg(good, shares, purge, after)
    assert yield_kg(needed, shares, purge, after) == pytest.approx(good, rel=1e-9, abs=1e-6)


# --- the log takes over ------------------------------------------------------------------------

POLYMERS = "pp: {code: PP, name: PP, status: taken}\n"
DONORS = """\
school:
  name: School
  brings:
    - {polymer: pp, form: whole, weekly: 4 kg, dirt: DIRT, rejected: 10 %}
other:
  name: Other
  brings:
    - {polymer: pp, form: whole, weekly: 1 kg, dirt: clean}
"""
BATCHES = "batch,date,step,kg,polymer,made_from\n"


def shop(folder: Path, rows: int, dirt: str = "dirty") -> Shop:
    """A shop that logged ``rows`` crates: 10 kg of which 1 is rejected, 0.9 sorted out, washed
    down to 7.29 and cut to 7."""
    weigh_ins = "date,donor,polymer,kg,rejected_kg,batch\n"
    batches = BATCHES
    for n in range(rows):
        weigh_ins += f"2026-03-{n + 1:02},school,pp,10,1,S{n}\n"
        batches += f"S{n},2026-03-{n + 1:02},sorted,8.1,pp,\n"
        batches += f"W{n},2026-03-{n + 1:02},washed,7.29,pp,S{n}\n"
        batches += f"F{n},2026-03-{n + 1:02},flake,7,pp,W{n}\n"
    return shop_with(
        folder, polymers=POLYMERS, donors=DONORS.replace("DIRT", dirt),
        weigh_ins_csv=weigh_ins, batches_csv=batches,
    )  # fmt: skip


def test_enough_rows_take_the_place_of_plan_and_table(tmp_path: Path) -> None:
    made = shop(tmp_path, rows=5)
    losses, brings = Losses(made), made.donors["school"].brings[0]
    found = [losses.of(step, "school", "pp", brings) for step in ("hand-in", "sorting", "washing")]
    assert [loss.basis for loss in found] == ["measured"] * 3
    assert [loss.rows for loss in found] == [5, 5, 5]
    assert [loss.share for loss in found] == pytest.approx([0.1, 0.1, 0.1])
    assert chain(found) * 10 == pytest.approx(7.29)
    assert found[0].origin == Origin("weigh-ins.csv", 2, 1)


def test_too_few_rows_leave_plan_and_table(tmp_path: Path) -> None:
    made = shop(tmp_path, rows=4)
    losses, brings = Losses(made), made.donors["school"].brings[0]
    counter, wash = (losses.of(step, "school", "pp", brings) for step in ("hand-in", "washing"))
    assert (counter.basis, counter.share) == ("written", 0.1)
    assert (wash.basis, wash.share) == ("tabled", pytest.approx(0.09))  # the middle of 3 to 15 %
    assert isinstance(wash.origin, Source)
    assert losses.measured["washing", "pp", "school"].rows == 4


def test_what_nobody_knows_is_not_made_up(tmp_path: Path) -> None:
    made = shop(tmp_path, rows=0)
    losses, brings = Losses(made), made.donors["other"].brings[0]
    counter = losses.of("hand-in", "other", "pp", brings)
    assert (counter.basis, counter.share, counter.kept) == ("unknown", None, 1.0)
    assert losses.of("sorting", "other", "pp", brings).share is None
    # the range for washing is that of dirty bottles, so what is clean loses its low end
    assert losses.of("washing", "other", "pp", brings).share == pytest.approx(0.03)


def test_what_one_source_has_rejected_says_nothing_of_another(tmp_path: Path) -> None:
    made = shop(tmp_path, rows=9)
    losses, brings = Losses(made), made.donors["other"].brings[0]
    assert losses.of("hand-in", "other", "pp", brings).basis == "unknown"
    assert losses.of("washing", "other", "pp", brings).basis == "measured"


def test_a_batch_that_was_only_partly_passed_on_is_no_measurement(tmp_path: Path) -> None:
    batches = BATCHES + "S1,2026-03-01,sorted,8,pp,\nS2,2026-03-01,sorted,8,pp,\n"
    batches += "W1,2026-03-02,washed,9,pp,S1 S2\n"
    made = shop_with(tmp_path, polymers=POLYMERS, batches_csv=batches)
    assert ("washing", "pp", "") not in Losses(made).measured
