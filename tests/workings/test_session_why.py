"""Why nothing fits: what is named clashes, none of it for nothing, and the ways out are ways."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from generator.shop.shop import Shop
from generator.workings.check import Studies
from generator.workings.sessions.demands import Demands
from generator.workings.sessions.loosening import Held, held_to, without
from generator.workings.sessions.proposing import propose
from generator.workings.sessions.study import desk
from generator.workings.sessions.telling import Teller
from generator.workings.sessions.why import Why, explain, in_words, smallest


def _teller(shop: Shop, id_: str, **changes: object) -> Teller:
    studies = Studies(shop, dt.date(2026, 11, 24))
    laid = desk(studies.shop, studies.power, studies.moulding, studies.routes, studies.air)
    session = shop.sessions[id_]
    return Teller(shop, session, replace(laid.reader.demands(session), **changes))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def impossible(demonstration: Shop) -> Teller:
    """The class is done at 11:50 at best, which is proven; here it must be by 11:45."""
    return _teller(demonstration, "school-class", closes=11 * 60 + 45)


@pytest.fixture(scope="module")
def why(impossible: Teller) -> Why:
    return explain(impossible, work=20.0)


def _is_impossible(demands: Demands) -> bool:
    return propose(demands, work=4.0).status == "impossible"


def _named(teller: Teller, why: Why) -> list[Held]:
    keys = {reason.key for reason in why.reasons}
    return [held for held in held_to(teller) if held.key in keys]


def test_what_is_named_clashes_by_itself(impossible: Teller, why: Why) -> None:
    assert why.sure
    assert why.reasons
    named = {reason.key for reason in why.reasons}
    others = [held for held in held_to(impossible) if held.key not in named]
    assert others
    assert _is_impossible(without(impossible.demands, others))


def test_without_any_one_of_them_the_others_fit(impossible: Teller, why: Why) -> None:
    keys = {reason.key for reason in why.reasons}
    others = [held for held in held_to(impossible) if held.key not in keys]
    for held in _named(impossible, why):
        assert propose(without(impossible.demands, [*others, held]), work=4.0).lines, held.says


def test_what_is_said_to_be_enough_is(impossible: Teller, why: Why) -> None:
    for held in _named(impossible, why):
        (reason,) = (r for r in why.reasons if r.key == held.key)
        fits = bool(propose(held.without(impossible.demands), work=4.0).lines)
        assert fits == reason.enough


def test_the_ways_out_are_offered_cheapest_first(why: Why) -> None:
    assert why.changes
    costs = [change.cost for change in why.changes]
    assert costs == sorted(costs)


def test_five_minutes_more_are_offered_where_they_are_enough(why: Why) -> None:
    assert "Begin tidying 5\u202fmin later, at 11:50." in [change.says for change in why.changes]
    assert any(line.startswith("  - everything is over by 11:45") for line in in_words(why))


def test_a_crew_that_nobody_is_of_is_the_whole_reason(demonstration: Shop) -> None:
    staff = {"session-leader": 1, "bench-hand": 3}
    teller = _teller(demonstration, "school-class", staff=staff)
    why = explain(teller)
    assert "charge:watch-the-plunger" in {reason.key for reason in why.reasons}


def test_halving_finds_every_clash_of_three() -> None:
    """Demands 2, 5 and 7 of ten clash, and no two of them do."""
    held = [Held(str(n), "", lambda d: d) for n in range(10)]
    found = smallest(lambda kept: {"2", "5", "7"} <= {h.key for h in kept}, held)
    assert [h.key for h in found] == ["2", "5", "7"]
