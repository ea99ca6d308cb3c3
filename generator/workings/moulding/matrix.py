"""Every mould on its machines in every material: possible, proven, failed or not, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from generator.ground.wording import N_
from generator.shop.records.logs import Trial
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Mould, Polymer
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.melts import Melt
from generator.workings.moulding.reasons import Reason, of_fit, of_load, of_material
from generator.workings.moulding.runs import Run


class Fit(StrEnum):
    """Whether it can be run, from the trial book first and from the figures then."""

    PROVEN = "proven"
    POSSIBLE = "possible"
    FAILED = "failed"
    ASK = "ask"
    NO = "no"
    REFUSED = "refused"


FIT_WORDS = {
    Fit.PROVEN: N_("proven"),
    Fit.POSSIBLE: N_("possible"),
    Fit.FAILED: N_("failed so far"),
    Fit.ASK: N_("not answered"),
    Fit.NO: N_("no"),
    Fit.REFUSED: N_("refused"),
}


@dataclass(frozen=True, slots=True)
class Cell:
    """One mould on one machine in one material.

    ``reasons`` are all that stand against it or are to be minded, the worst first. ``run`` holds
    its figures, None where the material must never be heated.
    """

    mould: Mould
    machine: Machine
    material: Polymer | Blend
    fit: Fit
    reasons: tuple[Reason, ...]
    trials: tuple[Trial, ...]
    run: Run | None

    @property
    def against(self) -> tuple[Reason, ...]:
        """The reasons for a no."""
        return tuple(r for r in self.reasons if r.kind in ("refused", "no"))

    @property
    def contradicted(self) -> bool:
        """Whether a trial made good parts where the figures say no."""
        return self.fit is Fit.PROVEN and bool(self.against)

    @property
    def last_good(self) -> Trial | None:
        """The newest trial that made good parts."""
        return next((t for t in reversed(self.trials) if t.result == "good"), None)


_ORDER = ("refused", "no", "ask", "note")


class Matrix:
    """Moulds by machines by materials, worked out as asked for and never twice.

    Parameters
    ----------
    kit
        What the runs are worked out from.
    """

    def __init__(self, kit: Kit) -> None:
        self._kit = kit
        self._fits: dict[tuple[str, str], tuple[Reason, ...]] = {}
        self._materials: dict[tuple[str, str, bool], tuple[Reason, ...]] = {}
        self._runs: dict[tuple[str, str, int], tuple[Run, tuple[Reason, ...]]] = {}

    def cell(self, mould: str, machine: str, material: str) -> Cell:
        """One cell by ids; a material is the id of a blend, else of a polymer.

        Raises KeyError where an id is nobody's.
        """
        shop = self._kit.shop
        found = shop.blends.get(material) or shop.polymers[material]
        return self._cell(shop.moulds[mould], shop.machines[machine], found)

    def cell_of(self, mould: str, machine: str, material: Polymer | Blend) -> Cell:
        """One cell, where a blend and a polymer may share an id."""
        shop = self._kit.shop
        return self._cell(shop.moulds[mould], shop.machines[machine], material)

    @cached_property
    def rows(self) -> tuple[Cell, ...]:
        """Every mould on each machine it fits, in every polymer and each blend written for it."""
        return tuple(self._rows())

    def _rows(self) -> Iterator[Cell]:
        shop = self._kit.shop
        written: dict[str, list[Blend]] = {}
        for blend in shop.blends.values():
            for id_ in blend.machines:
                written.setdefault(id_, []).append(blend)
        for mould in shop.moulds.values():
            for id_ in mould.machines:
                machine = shop.machines[id_]
                for material in (*shop.polymers.values(), *written.get(id_, ())):
                    yield self._cell(mould, machine, material)

    def of_mould(self, mould: str) -> tuple[Cell, ...]:
        """The rows of one mould."""
        return self._by_mould.get(mould, ())

    @cached_property
    def _by_mould(self) -> dict[str, tuple[Cell, ...]]:
        groups: dict[str, list[Cell]] = {}
        for cell in self.rows:
            groups.setdefault(cell.mould.id, []).append(cell)
        return {mould: tuple(cells) for mould, cells in groups.items()}

    # --- one cell

    def _cell(self, mould: Mould, machine: Machine, material: Polymer | Blend) -> Cell:
        blend = material if isinstance(material, Blend) else None
        melts = self._kit.melts
        melt = melts.of_blend(blend) if blend else melts.of_polymer(material.id)
        stopped = self._of_material(machine, melt, material)
        if stopped and stopped[0].kind == "refused":
            return Cell(mould, machine, material, Fit.REFUSED, stopped, (), None)
        run, load = self._run(mould, machine, melt)
        fits = self._of_fit(mould, machine)
        reasons = _sorted((*fits, *stopped, *load)) if fits or stopped or load else ()
        trials = self._trials(mould, machine, material, melt)
        return Cell(mould, machine, material, fit_of(reasons, trials), reasons, trials, run)

    def _trials(
        self, mould: Mould, machine: Machine, material: Polymer | Blend, melt: Melt
    ) -> tuple[Trial, ...]:
        book = self._kit.book
        if isinstance(material, Blend):
            return book.of_blend(machine.id, mould.id, material.id)
        return book.of_polymer(machine.id, mould.id, melt.host.id)

    def _of_fit(self, mould: Mould, machine: Machine) -> tuple[Reason, ...]:
        key = (mould.id, machine.id)
        if key not in self._fits:
            self._fits[key] = tuple(of_fit(self._kit, mould, machine))
        return self._fits[key]

    def _of_material(
        self, machine: Machine, melt: Melt, material: Polymer | Blend
    ) -> tuple[Reason, ...]:
        blend = material if isinstance(material, Blend) else None
        key = (machine.id, material.id, blend is not None)
        if key not in self._materials:
            found = _sorted(of_material(self._kit, machine, melt, blend))
            self._materials[key] = found
        return self._materials[key]

    def _run(self, mould: Mould, machine: Machine, melt: Melt) -> tuple[Run, tuple[Reason, ...]]:
        key = (mould.id, machine.id, id(melt))
        if key not in self._runs:
            run = Run(self._kit, mould, machine, melt, self._kit.running(machine, melt))
            self._runs[key] = (run, tuple(of_load(run)))
        return self._runs[key]


def _sorted(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    """The worst first. Beside a no, what is not known or to be minded says nothing more."""
    ordered = sorted(reasons, key=lambda reason: _ORDER.index(reason.kind))
    against = tuple(reason for reason in ordered if reason.kind in ("refused", "no"))
    return against or tuple(ordered)


def fit_of(reasons: tuple[Reason, ...], trials: tuple[Trial, ...]) -> Fit:
    """What reasons, the worst first, and trials come to. A trial outweighs figures, no refusal."""
    worst = reasons[0].kind if reasons else "note"
    results = {trial.result for trial in trials}
    if worst == "refused":
        return Fit.REFUSED
    if "good" in results:
        return Fit.PROVEN
    if worst == "no":
        return Fit.NO
    if results == {"failed"}:
        return Fit.FAILED
    return Fit.ASK if worst == "ask" and not results else Fit.POSSIBLE
