"""Every mould on its machines in every material: possible, proven, failed or not, and why."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from generator.ground.wording import N_
from generator.shop.records.logs import Trial
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Mould, Polymer
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.melts import Melt
from generator.workings.moulding.reasons import Kind, Reason, of_fit, of_load, of_material
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


_ORDER: tuple[Kind, ...] = ("refused", "no", "ask", "note")


@dataclass(frozen=True, slots=True)
class _Column:
    """A material on a machine, whatever the mould: what is melted and what stands against it."""

    material: Polymer | Blend
    id: str
    melt: Melt
    reasons: tuple[Reason, ...]
    tried: Callable[[str, str, str], tuple[Trial, ...]]


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
        self._materials: dict[tuple[str, str, bool], _Column] = {}
        self._machines: dict[str, tuple[_Column, ...]] = {}
        self._runs: dict[tuple[str, str, int], tuple[Run, tuple[Reason, ...]]] = {}
        self._stopped: dict[tuple[str, int, bool], tuple[Reason, ...]] = {}
        self._joined: dict[tuple[str, str, int, int], tuple[Reason, ...]] = {}

    def cell(self, mould: str, machine: str, material: str) -> Cell:
        """One cell by ids; a material is the id of a blend, else of a polymer.

        Raises KeyError where an id is nobody's.
        """
        shop = self._kit.shop
        found = shop.blends.get(material) or shop.polymers[material]
        return self.cell_of(mould, machine, found)

    def cell_of(self, mould: str, machine: str, material: Polymer | Blend) -> Cell:
        """One cell, where a blend and a polymer may share an id."""
        return self._cell(mould, machine, self._column(machine, material))

    @cached_property
    def rows(self) -> tuple[Cell, ...]:
        """Every mould on each machine it fits, in every polymer and each blend written for it."""
        return tuple(
            self._cell(id_, machine, column)
            for id_, mould in self._kit.shop.moulds.items()
            for machine in mould.machines
            for column in self._columns(machine)
        )

    def of_mould(self, mould: str) -> tuple[Cell, ...]:
        """The rows of one mould."""
        return self._by_mould.get(mould, ())

    @cached_property
    def _by_mould(self) -> dict[str, tuple[Cell, ...]]:
        groups: dict[str, list[Cell]] = {}
        for cell in self.rows:
            groups.setdefault(cell.mould.id, []).append(cell)
        return {mould: tuple(cells) for mould, cells in groups.items()}

    # --- a machine and a material, whatever the mould

    def _columns(self, machine: str) -> tuple[_Column, ...]:
        """Every polymer on a machine, and each blend written for it."""
        if machine not in self._machines:
            materials = (*self._kit.shop.polymers.values(), *self._written.get(machine, ()))
            self._machines[machine] = tuple(self._column(machine, m) for m in materials)
        return self._machines[machine]

    @cached_property
    def _written(self) -> dict[str, list[Blend]]:
        groups: dict[str, list[Blend]] = {}
        for blend in self._kit.shop.blends.values():
            for machine in blend.machines:
                groups.setdefault(machine, []).append(blend)
        return groups

    def _column(self, machine: str, material: Polymer | Blend) -> _Column:
        blend = material if isinstance(material, Blend) else None
        key = (machine, material.id, blend is not None)
        if key not in self._materials:
            melts = self._kit.melts
            melt = melts.of_blend(blend) if blend else melts.of_polymer(material.id)
            found = self._stopping(machine, melt, blend)
            tried = self._kit.book.of_blend if blend else self._kit.book.of_polymer
            self._materials[key] = _Column(material, material.id, melt, found, tried)
        return self._materials[key]

    def _stopping(self, machine: str, melt: Melt, blend: Blend | None) -> tuple[Reason, ...]:
        """What stands against a melt on a machine; the same for blends that differ in colour."""
        on = self._kit.shop.machines[machine]
        if blend is not None and self._kit.refusals.blend(blend):
            return _sorted(of_material(self._kit, on, melt, blend))
        if blend is not None and machine not in blend.machines:
            return _sorted(of_material(self._kit, on, melt, blend))
        key = (machine, id(melt), blend is None)
        if key not in self._stopped:
            self._stopped[key] = _sorted(of_material(self._kit, on, melt, blend))
        return self._stopped[key]

    # --- one cell

    def _cell(self, mould: str, machine: str, column: _Column) -> Cell:
        shop, stopped = self._kit.shop, column.reasons
        made, on = shop.moulds[mould], shop.machines[machine]
        if stopped and stopped[0].kind == "refused":
            return Cell(made, on, column.material, Fit.REFUSED, stopped, (), None)
        run, load = self._run(mould, machine, column.melt)
        fits = self._of_fit(mould, machine)
        reasons = load
        if fits or stopped:
            key = (mould, machine, id(column.melt), id(stopped))
            if key not in self._joined:
                self._joined[key] = _sorted((*fits, *stopped, *load))
            reasons = self._joined[key]
        trials = column.tried(machine, mould, column.id)
        return Cell(made, on, column.material, fit_of(reasons, trials), reasons, trials, run)

    def _of_fit(self, mould: str, machine: str) -> tuple[Reason, ...]:
        key = (mould, machine)
        if key not in self._fits:
            shop = self._kit.shop
            self._fits[key] = tuple(of_fit(self._kit, shop.moulds[mould], shop.machines[machine]))
        return self._fits[key]

    def _run(self, mould: str, machine: str, melt: Melt) -> tuple[Run, tuple[Reason, ...]]:
        key = (mould, machine, id(melt))
        if key not in self._runs:
            shop = self._kit.shop
            made, on = shop.moulds[mould], shop.machines[machine]
            run = Run(self._kit, made, on, melt, self._kit.running(on, melt))
            self._runs[key] = (run, _sorted(of_load(run)))
        return self._runs[key]


def _sorted(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    """The worst first. Beside a no, what is not known or to be minded says nothing more."""
    ordered = sorted(reasons, key=lambda reason: _ORDER.index(reason.kind))
    against = tuple(reason for reason in ordered if reason.kind in ("refused", "no"))
    return against or tuple(ordered)


def fit_of(reasons: tuple[Reason, ...], trials: tuple[Trial, ...]) -> Fit:
    """What reasons, the worst first, and trials come to. A trial outweighs figures, no refusal."""
    worst = reasons[0].kind if reasons else "note"
    if not trials:
        return _UNTRIED[worst]
    results = {trial.result for trial in trials}
    if worst == "refused":
        return Fit.REFUSED
    if "good" in results:
        return Fit.PROVEN
    if worst == "no":
        return Fit.NO
    if results == {"failed"}:
        return Fit.FAILED
    return Fit.POSSIBLE


_UNTRIED: dict[Kind, Fit] = {
    "refused": Fit.REFUSED,
    "no": Fit.NO,
    "ask": Fit.ASK,
    "note": Fit.POSSIBLE,
}
