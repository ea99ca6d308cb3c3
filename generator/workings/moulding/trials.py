"""The trial book: what was tried on which machine, mould and blend, and the last known good."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from statistics import median

from generator.ground.origin import Origin
from generator.reference import Value
from generator.shop.records.logs import Trial
from generator.shop.records.machines import Setting
from generator.shop.shop import Shop
from generator.workings.moulding.melts import Melt, Melts, running

Key = tuple[str, str, str]
"""Machine, mould and blend (or polymer)."""


@dataclass(frozen=True, slots=True)
class Handling:
    """Closing, filling, opening and taking out: the median of ``of`` trials [s], the last of
    which stands at ``origin``."""

    seconds: float
    of: int
    origin: Origin


@dataclass(frozen=True)
class Entry:
    """Everything tried with one blend in one mould on one machine, oldest first.

    ``window`` is the melt window of an open machine [°C], ``mould_window`` the mould's, each None
    where no table has one; ``card`` is the machine's setting for the polymer.
    """

    machine: str
    mould: str
    blend: str
    trials: tuple[Trial, ...]
    window: Value | None
    mould_window: Value | None
    card: Setting | None

    @cached_property
    def last_good(self) -> Trial | None:
        """The newest trial that made good parts."""
        return next((t for t in reversed(self.trials) if t.result == "good"), None)

    @cached_property
    def last_usable(self) -> Trial | None:
        """The newest that made good or usable parts, a good one first."""
        usable = (t for t in reversed(self.trials) if t.result == "usable")
        return self.last_good or next(usable, None)


class Book:
    """The trial book of a shop.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    melts
        Its melts.
    """

    def __init__(self, shop: Shop, melts: Melts) -> None:
        self._shop, self._melts = shop, melts
        self._by_blend: Mapping[Key, list[Trial]] = defaultdict(list)
        self._by_polymer: Mapping[Key, list[Trial]] = defaultdict(list)
        for trial in sorted(shop.logs.trials, key=lambda t: (t.date, t.origin)):
            host = melts.of_blend(shop.blends[trial.blend]).host.id
            self._by_blend[trial.machine, trial.mould, trial.blend].append(trial)
            self._by_polymer[trial.machine, trial.mould, host].append(trial)

    def of_blend(self, machine: str, mould: str, blend: str) -> tuple[Trial, ...]:
        """Trials of one blend, oldest first."""
        return tuple(self._by_blend.get((machine, mould, blend), ()))

    def of_polymer(self, machine: str, mould: str, polymer: str) -> tuple[Trial, ...]:
        """Trials of every blend that is mostly one polymer, oldest first."""
        return tuple(self._by_polymer.get((machine, mould, polymer), ()))

    def timed(self, machine: str, mould: str, melt: Melt) -> Trial | None:
        """The newest timed trial that made parts of the melt's polymer, good before usable."""
        tried = self.of_polymer(machine, mould, melt.host.id)
        timed = [t for t in tried if t.cycle_s and t.result != "failed"]
        return max(timed, key=lambda t: (t.result == "good", t.date), default=None)

    @cached_property
    def handling(self) -> Mapping[str, Handling]:
        """What a cycle takes beside hold and cooling, of each machine.

        Taken from trials that made good parts, in moulds whose cooling time is written.
        """
        times: dict[str, list[float]] = defaultdict(list)
        places: dict[str, Origin] = {}
        for trial in self._shop.logs.trials:
            if (spent := self._handled(trial)) is not None:
                times[trial.machine].append(spent)
                places[trial.machine] = trial.origin
        return {m: Handling(median(spent), len(spent), places[m]) for m, spent in times.items()}

    def _handled(self, trial: Trial) -> float | None:
        cooling = self._shop.moulds[trial.mould].cooling_s
        if trial.result != "good" or not trial.cycle_s or cooling is None:
            return None
        melt = self._melts.of_blend(self._shop.blends[trial.blend])
        held = running(self._shop.machines[trial.machine], melt).hold
        return max(0.0, trial.cycle_s - cooling - (held.value if held else 0.0))

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        """One for each machine, mould and blend tried, in the order of their first trials."""
        return tuple(self._entry(key, trials) for key, trials in self._by_blend.items())

    def _entry(self, key: Key, trials: Iterable[Trial]) -> Entry:
        machine, mould, blend = key
        melt = self._melts.of_blend(self._shop.blends[blend])
        how = running(self._shop.machines[machine], melt)
        wall = melt.known.mould if melt.known else None
        return Entry(machine, mould, blend, tuple(trials), how.window, wall, how.setting)
