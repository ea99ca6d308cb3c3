"""The sets of machines against a search through every choice there is."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.workings.power.together import Allowance, Limit, Together, together

Choice = frozenset[str]


def _limit(most: float, loads: dict[str, float], standing: float = 0.0, name: str = "x") -> Limit:
    return Limit("circuit", f"room/circuits/{name}", name, most, standing, loads)


def _allowance(machines: str, *limits: Limit) -> Allowance:
    return Allowance(tuple(machines.split()), limits)


def _sets(found: Together) -> set[Choice]:
    return {frozenset(chosen) for chosen in found.sets()}


def _by_trying_everything(allowance: Allowance) -> set[Choice]:
    """Every choice that breaks no limit and to which nothing can be added."""
    choices = [
        frozenset(chosen)
        for size in range(len(allowance.machines) + 1)
        for chosen in combinations(allowance.machines, size)
    ]
    allowed = {choice for choice in choices if _allowed(choice, allowance.limits)}
    return {c for c in allowed if not any(c < other for other in allowed)}


def _allowed(choice: Choice, limits: tuple[Limit, ...]) -> bool:
    """By the definition, in whole milliamperes; a limit none of them loads is not theirs."""
    return all(
        round(1000 * limit.standing_a) + sum(round(1000 * limit.loads_a[m]) for m in on)
        <= round(1000 * limit.most_a)
        for limit in limits
        if (on := [m for m in choice if limit.loads_a.get(m)])
    )


@st.composite
def allowances(draw: st.DrawFn) -> Allowance:
    """Up to nine machines on a few circuits, behind one main fuse a phase."""
    machines = tuple(f"m{n}" for n in range(draw(st.integers(1, 9))))
    deci = st.integers(1, 120).map(lambda n: n / 10)
    limits = []
    for n in range(draw(st.integers(0, 5))):
        on = draw(st.sets(st.sampled_from(machines), min_size=1))
        loads = {machine: draw(deci) for machine in sorted(on)}
        most, standing = draw(st.integers(4, 30)), draw(st.integers(0, 100)) / 10
        limits.append(_limit(most, loads, standing, f"c{n}"))
    return Allowance(machines, tuple(limits))


@settings(max_examples=300, deadline=None)
@given(allowances())
def test_every_set_is_found_and_nothing_else(allowance: Allowance) -> None:
    found = together(allowance)
    assert found.complete
    assert _sets(found) == _by_trying_everything(allowance)
    assert found.count == len(list(found.sets()))


@settings(deadline=None)
@given(allowances())
def test_sets_are_allowed_and_cannot_grow(allowance: Allowance) -> None:
    for chosen in together(allowance).sets():
        assert allowance.fits(chosen)
        for extra in set(allowance.machines) - set(chosen):
            assert not allowance.fits((*chosen, extra))


@settings(deadline=None)
@given(allowances(), st.data())
def test_a_machine_more_never_makes_room(allowance: Allowance, data: st.DataObject) -> None:
    chosen = data.draw(st.sets(st.sampled_from(allowance.machines)))
    if not allowance.fits(chosen):
        assert not allowance.fits({*chosen, data.draw(st.sampled_from(allowance.machines))})


@settings(deadline=None)
@given(allowances(), st.data())
def test_what_fits_lies_in_a_set_and_what_lies_in_a_set_fits(
    allowance: Allowance, data: st.DataObject
) -> None:
    chosen = frozenset(data.draw(st.sets(st.sampled_from(allowance.machines))))
    assert allowance.fits(chosen) == any(chosen <= s for s in _sets(together(allowance)))


def test_exactly_the_limit_is_allowed() -> None:
    found = together(_allowance("a b", _limit(0.3, {"a": 0.1, "b": 0.2})))
    assert _sets(found) == {frozenset("ab")}


def test_a_milliampere_over_the_limit_is_not() -> None:
    found = together(_allowance("a b", _limit(16, {"a": 8.0, "b": 8.001})))
    assert _sets(found) == {frozenset("a"), frozenset("b")}


def test_machines_without_a_common_limit_stand_in_groups_of_their_own() -> None:
    found = together(
        _allowance(
            "a b c d e",
            _limit(10, {"a": 6, "b": 6}, name="one"),
            _limit(10, {"c": 6, "d": 6}, name="two"),
            _limit(10, {"e": 6}, name="three"),
        )
    )
    assert found.always == ("e",)
    assert [group.sets for group in found.groups] == [(("a",), ("b",)), (("c",), ("d",))]
    assert found.count == 4


def test_what_is_too_much_alone_is_in_no_set() -> None:
    found = together(_allowance("a b", _limit(10, {"a": 11, "b": 5})))
    assert (found.never, found.always) == (("a",), ("b",))


def test_standing_load_takes_its_part() -> None:
    loads = {"a": 6.0, "b": 6.0}
    assert together(_allowance("a b", _limit(12, loads))).count == 1
    assert together(_allowance("a b", _limit(12, loads, standing=1))).count == 2


def test_more_sets_than_are_listed_is_said() -> None:
    machines = " ".join(f"m{n}" for n in range(20))
    allowance = _allowance(machines, _limit(10, dict.fromkeys(machines.split(), 1.0)))
    found = together(allowance, most_sets=50)
    assert not found.complete
    assert found.count == 50
    assert all(len(chosen) == 10 and allowance.fits(chosen) for chosen in found.sets())


def test_giving_up_after_so_many_steps_is_said() -> None:
    machines = " ".join(f"m{n}" for n in range(20))
    allowance = _allowance(machines, _limit(10, dict.fromkeys(machines.split(), 1.0)))
    assert not together(allowance, most_steps=5).complete


def test_the_worst_limit_is_told_first() -> None:
    allowance = _allowance(
        "a b", _limit(10, {"a": 6, "b": 6}, name="small"), _limit(4, {"a": 6}, name="tiny")
    )
    over = allowance.over(["a", "b"])
    assert [(excess.limit.name, excess.load_a) for excess in over] == [("small", 12), ("tiny", 6)]
