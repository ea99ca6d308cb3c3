"""Which machines may run together: every largest choice that no circuit, outlet or fuse forbids.

A choice of machines is allowed when the currents of all of them, with the fans running, stay
within every limit. Taking a machine away never breaks a limit, so a choice is allowed exactly
when it lies inside an allowed choice to which no machine can be added: a *set*. The sets are
found by branching over the machines, heaviest first, and cutting a branch as soon as a machine
left out could never be kept out by what may still come.

Currents are whole milliamperes, rounded up, so that a choice at exactly its limit is allowed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import Literal

Kind = Literal["circuit", "outlet", "main"]

MOST_SETS = 400
"""Sets of one group that are listed; a shop with more is told so."""
MOST_STEPS = 20_000
_LANE = 44
"""Bits a limit gets in the packed sums: room for currents no shop has."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One thing that carries current: what it carries at most, always and for each machine [A].

    ``subject`` is the record (``room/circuits/finishing``), ``name`` what a reader calls it.
    """

    kind: Kind
    subject: str
    name: str
    most_a: float
    standing_a: float
    loads_a: Mapping[str, float]

    def carries(self, machines: Iterable[str]) -> bool:
        """Whether any of the machines hangs on it; else it is no business of theirs."""
        return any(self.loads_a.get(machine) for machine in machines)

    def load_a(self, machines: Iterable[str]) -> float:
        """What it carries with some machines running [A]."""
        return self.standing_a + sum(self.loads_a.get(machine, 0.0) for machine in machines)


@dataclass(frozen=True, slots=True)
class Excess:
    """A limit that a choice of machines breaks, and what they would draw through it [A]."""

    limit: Limit
    load_a: float


@dataclass(frozen=True)
class Allowance:
    """Every limit a choice of machines is held to."""

    machines: tuple[str, ...]
    limits: tuple[Limit, ...]

    def over(self, machines: Iterable[str]) -> tuple[Excess, ...]:
        """The limits some machines break together, the worst first."""
        chosen = frozenset(machines)
        broken = [
            Excess(limit, limit.load_a(chosen))
            for limit in self.limits
            if limit.carries(chosen) and _milli(limit, chosen) > _most_milli(limit)
        ]
        return tuple(sorted(broken, key=lambda e: e.limit.most_a - e.load_a))

    def fits(self, machines: Iterable[str]) -> bool:
        """Whether some machines may run together."""
        return not self.over(machines)

    def busiest(self, machines: Iterable[str]) -> Excess | None:
        """The limit some machines fill most, broken or not; None where nothing flows."""
        chosen = frozenset(machines)
        filled = [Excess(x, x.load_a(chosen)) for x in self.limits if x.carries(chosen)]
        return max(filled, key=lambda e: e.load_a / e.limit.most_a, default=None)


def _milliamps(amps: float) -> int:
    return math.ceil(amps * 1000 - 1e-6)


def _most_milli(limit: Limit) -> int:
    return math.floor(limit.most_a * 1000 + 1e-6)


def _milli(limit: Limit, machines: Iterable[str]) -> int:
    """What flows through a limit [mA], each machine rounded up as the search does."""
    return _milliamps(limit.standing_a) + sum(
        _milliamps(limit.loads_a[m]) for m in machines if m in limit.loads_a
    )


@dataclass(frozen=True, slots=True)
class Group:
    """Machines that some limit ties together, and their sets.

    ``complete`` is False where there are more sets than are listed. ``limits`` are those that
    a choice among these machines can break.
    """

    machines: tuple[str, ...]
    sets: tuple[tuple[str, ...], ...]
    complete: bool
    limits: tuple[Limit, ...]


@dataclass(frozen=True)
class Together:
    """What may run together.

    ``always`` may run beside anything, ``never`` not even alone. Every set of the shop is the
    ``always`` with one set of each group; groups do not touch one another.
    """

    allowance: Allowance
    always: tuple[str, ...]
    never: tuple[str, ...]
    groups: tuple[Group, ...]

    @property
    def complete(self) -> bool:
        """Whether every set is listed."""
        return all(group.complete for group in self.groups)

    @cached_property
    def count(self) -> int:
        """How many sets there are, at least so many where not all are listed."""
        return math.prod(len(group.sets) for group in self.groups)

    def sets(self) -> Iterator[tuple[str, ...]]:
        """Each set of the whole shop, in the machines' own order; there can be very many."""
        for chosen in product(*(group.sets for group in self.groups)):
            inside = {machine for part in (self.always, *chosen) for machine in part}
            yield tuple(m for m in self.allowance.machines if m in inside)


def together(
    allowance: Allowance, most_sets: int = MOST_SETS, most_steps: int = MOST_STEPS
) -> Together:
    """Find every set.

    Parameters
    ----------
    allowance
        The machines and the limits they are held to.
    most_sets
        How many sets to list for one group at most.
    most_steps
        How many branches to look at for one group at most.
    """
    never = tuple(m for m in allowance.machines if not allowance.fits([m]))
    able = [m for m in allowance.machines if m not in never]
    binding = [
        limit
        for limit in allowance.limits
        if limit.carries(able) and _milli(limit, able) > _most_milli(limit)
    ]
    groups = tuple(_group(tied, binding, most_sets, most_steps) for tied in _tied(able, binding))
    grouped = {machine for group in groups for machine in group.machines}
    return Together(allowance, tuple(m for m in able if m not in grouped), never, groups)


def _tied(machines: list[str], limits: list[Limit]) -> Iterator[tuple[str, ...]]:
    """The machines that the limits tie together, group by group."""
    root = {machine: machine for machine in machines}

    def find(machine: str) -> str:
        while root[machine] != machine:
            machine = root[machine]
        return machine

    touched: set[str] = set()
    for limit in limits:
        first, *others = [m for m in machines if limit.loads_a.get(m)]
        touched.update((first, *others))
        for other in others:
            root[find(other)] = find(first)
    for head in dict.fromkeys(find(m) for m in machines if m in touched):
        yield tuple(m for m in machines if m in touched and find(m) == head)


def _group(
    machines: tuple[str, ...], limits: list[Limit], most_sets: int, most_steps: int
) -> Group:
    own = tuple(limit for limit in limits if limit.carries(machines))
    search = _Search(machines, own, most_sets, most_steps)
    return Group(machines, search.run(), search.complete, own)


class _Search:
    """The branching over one group.

    All limits are added up at once: each has a lane of one large integer, started so that the
    lane's top bit is set as soon as its limit is passed.
    """

    def __init__(
        self, machines: tuple[str, ...], limits: tuple[Limit, ...], most_sets: int, most_steps: int
    ) -> None:
        self._order = sorted(machines, key=lambda m: -_weight(m, limits))
        self._place = {machine: n for n, machine in enumerate(machines)}
        self._loads = [
            _packed(_milliamps(x.loads_a.get(m, 0.0)) for x in limits) for m in self._order
        ]
        self._top = _packed(1 << (_LANE - 1) for _limit in limits)
        self._start = _packed(
            (1 << (_LANE - 1)) - 1 - _most_milli(x) + _milliamps(x.standing_a) for x in limits
        )
        self._rest = [sum(self._loads[n:]) for n in range(len(self._loads) + 1)]
        self._most_sets, self._steps = most_sets, most_steps
        self._found: list[tuple[str, ...]] = []
        self.complete = True

    def run(self) -> tuple[tuple[str, ...], ...]:
        self._branch(0, self._start, [], [])
        return tuple(sorted(self._found, key=lambda s: [self._place[m] for m in s]))

    def _branch(self, n: int, load: int, chosen: list[str], left_out: list[int]) -> None:
        """Take or leave the ``n``-th machine and all after it."""
        if not self._goes_on():
            return
        if n == len(self._order):
            self._found.append(tuple(sorted(chosen, key=self._place.__getitem__)))
            return
        own = self._loads[n]
        if not (load + own) & self._top:
            self._branch(n + 1, load + own, [*chosen, self._order[n]], left_out)
        still = load + self._rest[n + 1]
        out = left_out if own in left_out else [*left_out, own]  # like machines are asked once
        if all((still + extra) & self._top for extra in out):
            self._branch(n + 1, load, chosen, out)

    def _goes_on(self) -> bool:
        self._steps -= 1
        if self._steps < 0 or len(self._found) >= self._most_sets:
            self.complete = False
        return self.complete


def _packed(numbers: Iterable[int]) -> int:
    return sum(number << (_LANE * lane) for lane, number in enumerate(numbers))


def _weight(machine: str, limits: tuple[Limit, ...]) -> float:
    """The largest share of a limit the machine takes."""
    return max(limit.loads_a.get(machine, 0.0) / limit.most_a for limit in limits)
