"""What a number of parts takes: shots, hours, plastic, electricity and money."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.units import Money, show
from generator.ground.wording import _, ngettext
from generator.shop.records.people import Opening
from generator.shop.shop import Shop
from generator.workings.moulding.matrix import FIT_WORDS, Cell, Fit
from generator.workings.moulding.runs import Cycle, Run


@dataclass(frozen=True, slots=True)
class Order:
    """A number of parts from one mould on one machine in one material.

    Times in minutes: ``ready_min`` to heat and soak, ``change_min`` to set the mould,
    ``making_min`` shot after shot, ``clear_min`` to clean down. ``total_min`` is None where the
    cycle is not known. ``plastic_g`` is weighed in with sprues and flash, ``purge_g`` on top.
    ``openings`` are those of an ordinary week that are long enough for all of it, and ``at_once``
    is how many the longest of them is good for.
    """

    cell: Cell
    count: int
    shots: int
    ready_min: float
    change_min: float
    making_min: float | None
    clear_min: float
    plastic_g: float | None
    purge_g: float
    energy_kwh: float | None
    cost: Money | None
    openings: tuple[Opening, ...]
    at_once: int | None

    @property
    def total_min(self) -> float | None:
        """From switching on to clean."""
        if self.making_min is None:
            return None
        return self.ready_min + self.change_min + self.making_min + self.clear_min

    @property
    def says(self) -> str:
        """The answer in words, with its figures."""
        return " ".join(_sentences(self))


def order(shop: Shop, cell: Cell, count: int) -> Order:
    """What ``count`` parts of a cell take.

    Parameters
    ----------
    shop
        For its opening hours and the price of electricity.
    cell
        Mould, machine and material.
    count
        How many parts, at least 1.
    """
    runs = cell.fit not in (Fit.NO, Fit.REFUSED)
    run, heat = cell.run if runs else None, cell.machine.heat
    shots = math.ceil(count / cell.mould.cavities)
    setting = run.how.setting if run else None
    ready = heat.heat_up_min + heat.soak_min if heat else 0.0
    clear = (setting.clean_down_takes_min or 0.0) if setting else 0.0
    cycle = run.cycle.seconds / 60 if run and run.cycle else None
    beside = ready + cell.mould.changes_in_min + clear
    energy = _energy(run, shots, heat.heat_up_min if heat else 0.0)
    return Order(
        cell, count, shots, ready, cell.mould.changes_in_min,
        shots * cycle if cycle else None, clear,
        shots * run.shot_g if run and run.shot_g else None,
        1000 * (setting.purge_kg or 0.0) if setting else 0.0,
        energy, _cost(shop, energy),
        tuple(o for o in shop.hours.weekly if cycle and beside + shots * cycle <= _minutes(o)),
        _at_once(shop, cell, beside, cycle),
    )  # fmt: skip


def _energy(run: Run | None, shots: int, heat_up_min: float) -> float | None:
    """Heating up at full power, then held hot from the first shot to the last [kWh]."""
    if run is None or run.cycle is None or run.power_kw is None or run.machine.electric is None:
        return None
    held = run.power_kw * run.machine.electric.duty_percent / 100
    return run.power_kw * heat_up_min / 60 + held * shots * run.cycle.seconds / 3600


def _at_once(shop: Shop, cell: Cell, beside_min: float, cycle_min: float | None) -> int | None:
    longest = max((_minutes(o) for o in shop.hours.weekly), default=None)
    if longest is None or not cycle_min:
        return None
    return max(0, math.floor((longest - beside_min) / cycle_min)) * cell.mould.cavities


def _cost(shop: Shop, energy: float | None) -> Money | None:
    price = shop.shop.prices.electricity
    return Money(price.amount * energy, price.currency) if price and energy is not None else None


def _minutes(opening: Opening) -> float:
    start, end = opening.from_, opening.to
    return (end.hour - start.hour) * 60 + end.minute - start.minute


def _sentences(made: Order) -> Iterator[str]:
    cell = made.cell
    yield _("{mould} in {material} on {machine}: {fit}.").format(
        mould=cell.mould.name, material=cell.material.name, machine=cell.machine.name,
        fit=_(FIT_WORDS[cell.fit]),
    )  # fmt: skip
    if cell.fit in (Fit.NO, Fit.REFUSED):
        yield from (reason.says for reason in cell.against)
        return
    yield from _times(made)
    if made.plastic_g is not None:
        yield _plastic(made)
    yield from (reason.says for reason in cell.reasons)


def _plastic(made: Order) -> str:
    says = _("Weigh in {plastic} and {purge} to purge with.")
    if not made.purge_g:
        says = _("Weigh in {plastic}.")
    return says.format(
        plastic=show(made.plastic_g or 0.0, "g", 0), purge=show(made.purge_g, "g", 0)
    )


def _times(made: Order) -> Iterator[str]:
    run = made.cell.run
    if made.total_min is None or run is None or run.cycle is None:
        yield _("How long {count} take is not known until one has been timed.").format(
            count=made.count
        )
        return
    yield ngettext(
        "{count} take {shots} shot, {total} with heating, setting up and cleaning down.",
        "{count} take {shots} shots, {total} with heating, setting up and cleaning down.",
        made.shots,
    ).format(count=made.count, shots=made.shots, total=in_hours(made.total_min))
    yield _where_from(run.cycle)
    if not made.openings and made.at_once is not None:
        yield _("The longest opening of the week is good for {n}.").format(n=made.at_once)
    if run.press_is_busy_s:
        yield _("The press itself is free again after {busy} of each.").format(
            busy=in_hours(run.press_is_busy_s / 60)
        )


def _where_from(cycle: Cycle) -> str:
    time = show(cycle.seconds, "s", 0)
    if cycle.trial is not None:
        return _("A cycle is {time}, by trial {trial}.").format(time=time, trial=cycle.trial.trial)
    return ngettext(
        "A cycle is about {time}, worked out with the handling of {n} trial.",
        "A cycle is about {time}, worked out with the handling of {n} trials.",
        cycle.handling.of if cycle.handling else 0,
    ).format(time=time, n=cycle.handling.of if cycle.handling else 0)


def in_hours(minutes: float) -> str:
    """``2 h 05 min``, ``35 min``."""
    hours, rest = divmod(round(minutes), 60)
    if not hours:
        return _("{minutes} min").format(minutes=rest)
    return _("{hours} h {minutes} min").format(hours=hours, minutes=f"{rest:02d}")
