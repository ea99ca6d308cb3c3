"""Can a mould be run in a polymer on a machine, what stands against it, and what will it take?

From the shop's own trials first and from figures then. An injector is held to the extrusion
window, because it is open; a hand plunger to the pressures of its class, not of the polymer; and
a press is never told how long to heat, because a bed of flake is not the sheet it becomes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from generator.ground.survey import Survey, survey
from generator.ground.working import Working
from generator.shop.records.machines import Machine, Setting
from generator.shop.shop import Shop
from generator.workings.moulding import shown
from generator.workings.moulding.dryers import Dryness
from generator.workings.moulding.errors import UnworkableError
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.matrix import FIT_WORDS, Cell, Fit, Matrix
from generator.workings.moulding.orders import Order, in_hours, order
from generator.workings.moulding.reasons import Reason
from generator.workings.moulding.runs import Cooling, Cycle, Length, Run
from generator.workings.moulding.told import findings
from generator.workings.moulding.trials import Entry

__all__ = [
    "FIT_WORDS", "Cell", "Cooling", "Cycle", "Dryness", "Entry", "Fit", "Length", "Matrix",
    "MouldingStudy", "Order", "Reason", "Run", "UnworkableError", "in_hours", "study",
]  # fmt: skip


@dataclass(frozen=True)
class MouldingStudy:
    """Everything worked out of a shop's moulding.

    ``matrix.rows`` holds every mould on each of its machines in every polymer and each blend
    written for it; ``matrix.cell`` answers for any other. ``runs`` are those worked out in full:
    a polymer that is taken, on a machine set for it.
    """

    kit: Kit
    matrix: Matrix
    runs: tuple[Run, ...]
    survey: Survey

    @property
    def book(self) -> tuple[Entry, ...]:
        """The trial book: one entry a machine, mould and blend tried."""
        return self.kit.book.entries

    @cached_property
    def cycles(self) -> dict[tuple[str, str, str], Cycle]:
        """How long a shot takes, by mould, machine and polymer, where that is known."""
        return {
            (run.mould.id, run.machine.id, run.melt.host.id): run.cycle
            for run in self.runs
            if run.cycle
        }

    def dryness(self, polymer: str) -> Dryness:
        """Whether the shop can dry a polymer."""
        return self.kit.dryness(self.kit.shop.polymers[polymer])

    def order(self, mould: str, machine: str, material: str, count: int) -> Order:
        """What a number of parts takes; ``says`` of it is the answer in words.

        Raises KeyError where an id is nobody's; a material is a blend's id, else a polymer's.
        """
        return order(self.kit.shop, self.matrix.cell(mould, machine, material), count)


def study(shop: Shop) -> MouldingStudy:
    """Work out the moulding of a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    kit = Kit(shop)
    matrix = Matrix(kit)
    cells = tuple(_worked_out(shop, matrix))
    runs = tuple(cell.run for cell in cells if cell.run is not None)
    made = survey(
        "moulding",
        _workings(kit, runs),
        findings(kit, matrix),
        other_checks=len(cells),
        other_unanswered=sum(cell.fit is Fit.ASK for cell in cells),
    )
    return MouldingStudy(kit, matrix, runs, made)


def _worked_out(shop: Shop, matrix: Matrix) -> Iterator[Cell]:
    """Cells of polymers that are taken, on machines set for them."""
    for mould in shop.moulds.values():
        for machine in mould.machines:
            for setting in _set(shop, shop.machines[machine]):
                yield matrix.cell_of(mould.id, machine, shop.polymers[setting.polymer])


def _set(shop: Shop, machine: Machine) -> list[Setting]:
    """A machine's settings for polymers that are taken, the first for each."""
    first: dict[str, Setting] = {}
    for setting in machine.settings:
        first.setdefault(setting.polymer, setting)
    return [s for s in first.values() if shop.polymers[s.polymer].status == "taken"]


def _workings(kit: Kit, runs: tuple[Run, ...]) -> Iterator[Working]:
    for machine in kit.shop.machines.values():
        if machine.process not in ("injection", "press"):
            continue
        yield from shown.of_ready(machine)
        for setting in _set(kit.shop, machine):
            if not kit.refusals.polymer(setting.polymer):
                melt = kit.melts.of_polymer(setting.polymer)
                yield from shown.of_setting(kit, machine, melt)
    for run in runs:
        yield from shown.of_run(run)
