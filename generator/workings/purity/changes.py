"""Machines that two polymers share, and the clean-down each change between them asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

from generator.ground.working import Verdict
from generator.reference import reference
from generator.shop.records.machines import Machine, Setting
from generator.shop.shop import Shop
from generator.workings.heat import Refusals
from generator.workings.purity.mixing import Mixing, Outcome, mixing
from generator.workings.purity.purge import left_share, purge_kg, volumes_for, volumes_of

_DRY_KINDS = frozenset({"band-saw", "belt-sander", "pillar-drill", "scale", "sealer", "extractor"})
"""Machines whose chips do not go on into the material."""


@dataclass(frozen=True, slots=True)
class Purge:
    """Clearing a barrel.

    ``own_kg`` is what the machine's setting says, None where it says nothing; ``volumes`` the
    barrel volumes that is. ``least_kg`` and ``most_kg`` are the trade's. ``left_percent`` is what
    would be left of the old melt if the barrel mixed perfectly, ``for_limit_kg`` what it would
    then take to come down to what the new polymer tolerates. ``takes_min`` is at the machine's
    own rate.
    """

    own_kg: float | None
    volumes: float | None
    least_kg: float
    most_kg: float
    left_percent: float | None
    for_limit_kg: float | None
    takes_min: float | None


@dataclass(frozen=True, slots=True)
class Change:
    """From one polymer to another on one machine.

    ``how`` is what the machine's setting says to do after the polymer that leaves, "" where it
    says nothing, ``takes_min`` how long that is.
    """

    machine: str
    leaves: str
    comes: str
    how: str
    takes_min: float | None
    purge: Purge | None
    mixing: Mixing
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Sharing:
    """A machine that several polymers go through, and every change between two of them."""

    machine: str
    polymers: tuple[str, ...]
    changes: tuple[Change, ...]
    forbidden: tuple[str, ...]
    """Why two of them must not even share it cold."""


def sharings(shop: Shop, refusals: Refusals) -> tuple[Sharing, ...]:
    """Every machine with settings for two polymers or more, whose scraps go on."""
    machines = (m for m in shop.machines.values() if m.kind not in _DRY_KINDS)
    return tuple(s for s in (_sharing(shop, m, refusals) for m in machines) if s)


def _shared(machine: Machine, refusals: Refusals) -> tuple[str, ...]:
    """What a machine changes between. What is never heated takes no part in any advice, but a
    pair that must not even meet cold is told of."""
    every = tuple(_in_order(machine))
    if refusals.shared(machine) and not machine.is_hot:
        return every
    return tuple(p for p in every if not refusals.polymer(p))


def _sharing(shop: Shop, machine: Machine, refusals: Refusals) -> Sharing | None:
    settings = {s.polymer: s for s in reversed(machine.settings)}
    polymers = _shared(machine, refusals)
    if len(polymers) < 2:
        return None
    changes = tuple(
        _change(shop, machine, settings[leaves], settings[comes], refusals)
        for leaves, comes in permutations(polymers, 2)
    )
    return Sharing(machine.id, polymers, changes, refusals.shared(machine))


def _in_order(machine: Machine) -> Iterator[str]:
    return iter(dict.fromkeys(setting.polymer for setting in machine.settings))


def _change(
    shop: Shop, machine: Machine, leaves: Setting, comes: Setting, refusals: Refusals
) -> Change:
    old, new = shop.polymers[leaves.polymer], shop.polymers[comes.polymer]
    found = mixing(new, old, refusals)
    purge = _purge(machine, leaves, comes, new.code, found)
    how = str(leaves.clean_down) if leaves.clean_down else ""
    return Change(
        machine.id, old.id, new.id, how, leaves.clean_down_takes_min, purge, found,
        _verdict(machine, how, purge, found),
    )  # fmt: skip


def _verdict(machine: Machine, how: str, purge: Purge | None, found: Mixing) -> Verdict:
    """A change holds where it is written how, and enough is purged for a barrel."""
    if found.outcome is Outcome.REFUSES and found.limit_percent == 0.0:
        return Verdict.FAILS
    if purge is not None and purge.own_kg is not None and purge.own_kg < purge.least_kg:
        return Verdict.FAILS
    told = bool(how) and (purge is None or purge.own_kg is not None)
    wet = machine.kind in ("wash-tub", "spin-dryer")
    return Verdict.HOLDS if told or wet else Verdict.UNANSWERED


def _purge(
    machine: Machine, leaves: Setting, comes: Setting, code: str, found: Mixing
) -> Purge | None:
    barrel, known = machine.capacity.barrel_cm3, reference().find_polymer(code)
    if barrel is None or not barrel or known is None:
        return None
    density, usual = known.density_melt.middle, reference().limits["loss-purge"].values[0]
    own, rate = leaves.purge_kg, comes.rate_kgh or machine.capacity.throughput_kgh
    volumes = volumes_of(own, barrel, density) if own is not None else None
    limit = (found.limit_percent or 0.0) / 100
    return Purge(
        own, volumes,
        purge_kg(usual.low, barrel, density), purge_kg(usual.high, barrel, density),
        100 * left_share(volumes) if volumes is not None else None,
        purge_kg(volumes_for(limit), barrel, density) if 0 < limit < 1 else None,
        own / rate * 60 if own is not None and rate else None,
    )  # fmt: skip


def of_polymer(found: tuple[Sharing, ...], polymer: str) -> Iterator[Sharing]:
    """The machines a polymer shares."""
    return (sharing for sharing in found if polymer in sharing.polymers)
