"""How loud each machine is at each place, and which of them may be heard together.

Two figures are kept for every place. ``low`` lets sound fall off with distance as in the open,
which is optimistic indoors; ``high`` lets it not fall off at all, as if walls threw everything
back. The truth lies between, and only a reading on the spot says where.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

import numpy as np
import numpy.typing as npt

from generator.shop.records.machines import Machine, Noise
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import Point, standing_place
from generator.workings.noise import laws

Together = Iterable[Iterable[str]]
"""Sets of ids of machines that may run together."""

_MOST_SETS = 2000
"""More sets than this are not listened to one by one: everything then runs at once."""

_NO_POINT_M = 1.0
"""Nearer than this [m] a machine is no point, and the law of distance is not used."""


@dataclass(frozen=True, slots=True)
class Heard:
    """One machine at one place: least and most level by itself [dB(A)]."""

    machine: str
    low_db: float
    high_db: float


@dataclass(frozen=True, slots=True)
class Source:
    """A machine that makes noise, where it stands, and its level at a distance."""

    id: str
    machine: Machine
    noise: Noise
    station: str
    at: Point

    def heard_at(self, place: Point, *, own_station: bool) -> Heard:
        """Its level at a place on the floor.

        Whoever works at its own station hears at least what was measured, wherever the middle
        of the station is.
        """
        measured_at = self.noise.distance_mm / 1000
        away = max(math.dist(self.at, place) / 1000, min(measured_at, _NO_POINT_M))
        if own_station:
            away = min(away, measured_at)
        low = laws.spread_db(self.noise.level_db, measured_at, away)
        return Heard(self.id, low, max(low, self.noise.level_db))


def sources(shop: Shop) -> tuple[Source, ...]:
    """The machines with a noise level, in file order."""
    return tuple(
        Source(id_, machine, machine.noise, machine.station, shop.stations[machine.station].at)
        for id_, machine in shop.machines.items()
        if machine.noise is not None
    )


def heard_at(station: Station, all_sources: Iterable[Source]) -> tuple[Heard, ...]:
    """Every machine at the place where somebody works at a station, loudest first."""
    place, here = standing_place(station), station.id
    heard = (s.heard_at(place, own_station=s.station == here) for s in all_sources)
    return tuple(sorted(heard, key=lambda h: -h.low_db))


def audible_sets(
    shop: Shop, all_sources: Iterable[Source], together: Together | None
) -> tuple[frozenset[str], ...]:
    """The different sets of noisy machines that may be heard at once, the largest first.

    Parameters
    ----------
    shop
        The shop.
    all_sources
        Its machines with a level.
    together
        Sets of ids of machines that may run together; None, or more than can be looked at one
        by one, for all at once. A machine that is in no set is heard with each of them: nothing
        says that it is off.

    Returns
    -------
    tuple of frozenset
        At least one set, which may be empty.
    """
    noisy = frozenset(source.id for source in all_sources)
    given = _first_sets(shop, together)
    unruled = noisy - frozenset().union(*given)
    heard = {(one & noisy) | unruled for one in given} or {unruled}
    return tuple(sorted(heard, key=lambda s: (-len(s), sorted(s))))


def _first_sets(shop: Shop, together: Together | None) -> list[frozenset[str]]:
    sets = [frozenset(one) for one in islice(together or (), _MOST_SETS + 1)]
    few = together is not None and len(sets) <= _MOST_SETS
    return sets if few else [frozenset(shop.machines)]


def together_db(
    heard: Iterable[Heard], running: frozenset[str], background_db: float | None
) -> tuple[float, float]:
    """Least and most level at a place with some machines running and the background [dB(A)]."""
    quiet = [background_db] if background_db is not None else []
    here = [h for h in heard if h.machine in running]
    low = laws.summed_db([*quiet, *(h.low_db for h in here)])
    return low, laws.summed_db([*quiet, *(h.high_db for h in here)])


def loudest(
    heard: Mapping[str, tuple[Heard, ...]], sets: tuple[frozenset[str], ...]
) -> dict[str, frozenset[str]]:
    """The set that is loudest at each place, by least levels; the first of several."""
    machines = sorted(frozenset().union(*sets))
    in_set = np.array([[m in one for m in machines] for one in sets], dtype=float)
    return {
        place: sets[int(np.argmax(in_set @ _energies(at, machines)))] for place, at in heard.items()
    }


def _energies(heard: Iterable[Heard], machines: list[str]) -> npt.NDArray[np.float64]:
    by_machine = {h.machine: laws.energy(h.low_db) for h in heard}
    return np.array([by_machine[m] for m in machines])


def in_words(shop: Shop, machines: Iterable[str]) -> str:
    """Machines by name, in file order."""
    chosen = set(machines)
    return "; ".join(str(m.name) for m in shop.machines.values() if m.id in chosen)


def missing(shop: Shop, kinds: frozenset[str]) -> Iterator[Machine]:
    """Machines of a loud kind without a level."""
    return (m for m in shop.machines.values() if m.noise is None and m.kind in kinds)
