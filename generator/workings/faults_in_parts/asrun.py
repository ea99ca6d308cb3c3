"""A shot as it was run, and what it is to be compared with: the card, the tables, a good shot."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from generator.ground.wording import _
from generator.shop.records.logs import Trial
from generator.shop.records.material import Blend
from generator.workings.moulding import MouldingStudy
from generator.workings.moulding.runs import Run


@dataclass(frozen=True, slots=True)
class Normal:
    """What a figure should be, and who says so in words."""

    value: float
    says: str


@dataclass(frozen=True)
class AsRun:
    """One shot with the figures it was run at; a figure is None where nobody wrote it.

    ``good`` is the newest other trial that made good parts of the polymer in this mould on this
    machine, of the same blend if there is one.
    """

    study: MouldingStudy
    run: Run
    blend: Blend
    melt_c: float | None
    mould_c: float | None
    pressure_mpa: float | None
    cycle_s: float | None
    part_g: float | None
    trial: Trial | None
    good: Trial | None

    @property
    def is_press(self) -> bool:
        return self.run.is_press

    @cached_property
    def normal_melt(self) -> Normal | None:
        """The card's set point inside the window, else a good trial's, else the window's middle."""
        how = self.run.how
        if how.setting is not None and how.setting.melt_c is not None:
            top = how.window.high if how.window else how.setting.melt_c
            return Normal(min(how.setting.melt_c, top), _("the card's"))
        if self.good is not None and self.good.melt_c is not None:
            return Normal(self.good.melt_c, self._of_good)
        return Normal(how.melt.value, _("the middle of the window")) if how.melt else None

    @cached_property
    def normal_mould(self) -> Normal | None:
        """The card's or the mould's temperature; none on a press, where the mould follows."""
        wall = self.run.wall
        if self.is_press or wall is None:
            return None
        if self.good is not None and self.good.mould_c is not None:
            return Normal(self.good.mould_c, self._of_good)
        return Normal(wall.value, _("the card's"))

    @cached_property
    def normal_pressure(self) -> Normal | None:
        if self.good is None or self.good.pressure_mpa is None:
            return None
        return Normal(self.good.pressure_mpa, self._of_good)

    @cached_property
    def normal_cycle(self) -> Normal | None:
        if self.good is None or self.good.cycle_s is None:
            return None
        return Normal(self.good.cycle_s, self._of_good)

    @property
    def _of_good(self) -> str:
        return _("as in trial {trial}, which was good").format(
            trial=self.good.trial if self.good else ""
        )

    @cached_property
    def hot_min(self) -> float | None:
        """How long this shot's plastic was hot [min]."""
        if self.cycle_s is None:
            return self.run.hot_min
        if self.is_press:
            beside = self.run.mould.cooling_s
            return (self.cycle_s - beside) / 60 if beside and self.cycle_s > beside else None
        barrel, shot = self.run.machine.capacity.barrel_cm3, self.run.melt_cm3
        return barrel / shot * self.cycle_s / 60 if barrel and shot else None


def of_trial(study: MouldingStudy, trial: Trial) -> AsRun | None:
    """A logged trial; None where its blend must never be heated."""
    cell = study.matrix.cell(trial.mould, trial.machine, trial.blend)
    blend = study.kit.shop.blends[trial.blend]
    if cell.run is None:
        return None
    return AsRun(
        study, cell.run, blend, trial.melt_c, trial.mould_c, trial.pressure_mpa, trial.cycle_s,
        trial.part_g, trial, _good(study, cell.run, blend, trial),
    )  # fmt: skip


def of_card(study: MouldingStudy, mould: str, machine: str, blend: str) -> AsRun | None:
    """What the machine's card says of a blend in a mould; None where it must never be heated."""
    cell = study.matrix.cell(mould, machine, blend)
    run, found = cell.run, study.kit.shop.blends[blend]
    if run is None:
        return None
    how = run.how
    return AsRun(
        study, run, found, how.melt.value if how.melt else None,
        run.wall.value if run.wall else None, None,
        run.cycle.seconds if run.cycle else None, None, None, _good(study, run, found, None),
    )  # fmt: skip


def _good(study: MouldingStudy, run: Run, blend: Blend, but: Trial | None) -> Trial | None:
    kit = study.kit
    tried = kit.book.of_polymer(run.machine.id, run.mould.id, run.melt.host.id)
    good = [
        trial for trial in tried
        if trial.result == "good" and trial is not but
        and not kit.refusals.blend(kit.shop.blends[trial.blend])
    ]  # fmt: skip
    return max(good, key=lambda t: (t.blend == blend.id, t.date), default=None)
