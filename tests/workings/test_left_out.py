"""What cannot be made today says why not, and what can be is not among it."""

from __future__ import annotations

import datetime as dt
from typing import Any

from generator.shop.records.logs import Logs, Stock, Trial
from generator.workings.blends import Bench
from tests.workings.hall import Data
from tests.workings.week_shop import BLENDS, HERE, POLYMERS, week_shop

DAY = dt.date(2026, 11, 20)


def stocked(red_kg: float, white_kg: float) -> Logs:
    rows = [
        Stock(HERE, DAY, "pp", "flake", red_kg, "table", "red"),
        Stock(HERE, DAY, "pp", "flake", white_kg, "table", "white"),
    ]
    proof = Trial(HERE, "T1", DAY, "injector", "hook", "brick", "good", cycle_s=36)
    return Logs(stock=tuple(rows), trials=(proof,))


def bench(red_kg: float = 10.0, white_kg: float = 10.0, **changes: Any) -> Bench:
    return Bench(week_shop(stocked(red_kg, white_kg), **changes))


def with_polymer(**changes: Any) -> Data:
    return {"pp": {**POLYMERS["pp"], **changes}}


def why(found: Bench) -> str:
    (out,) = found.left_out()
    assert not found.today()
    return " ".join(out.why)


def test_what_can_be_made_is_not_left_out() -> None:
    assert len(bench().today()) == 1
    assert bench().left_out() == ()


def test_too_little_of_one_colour_is_named_with_what_stands_here() -> None:
    assert "PP White" in why(bench(white_kg=0.001))
    assert "1\u202fg" in why(bench(white_kg=0.001))


def test_a_polymer_that_is_paused_says_why() -> None:
    told = why(bench(polymers=with_polymer(status="paused", why="The crates are full.")))
    assert "not taken now" in told
    assert "The crates are full." in told


def test_a_blend_that_no_machine_takes_says_so() -> None:
    other = {"brick": {**BLENDS["brick"], "machines": ["granulator"]}}
    assert "No machine that is set up" in why(bench(blends=other))


def test_a_blend_that_must_not_be_heated_is_refused_first() -> None:
    refused = with_polymer(code="PVC", name="PVC", status="refused", why="Acid gas when heated.")
    (out,) = bench(polymers=refused).left_out()
    assert out.refused
    assert not bench(polymers=refused).today()
