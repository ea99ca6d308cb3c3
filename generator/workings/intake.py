"""What comes in a week, what stands in the shop, and what can still be taken in."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from generator.ground.origin import Origin
from generator.reference import reference
from generator.shop.records.logs import Stock, WeighIn
from generator.shop.records.material import Brings, Polymer
from generator.shop.shop import Shop
from generator.workings.losses import STEPS, Loss, Losses, Step, chain
from generator.workings.week import ordinary_week


@dataclass(frozen=True, slots=True)
class Room:
    """How much of a polymer stands here, and how much more may come [kg]."""

    stock_kg: float
    left_kg: float | None
    """None where the shop has set no limit."""


def latest_count(shop: Shop, as_of: dt.date | None = None) -> tuple[Stock, ...]:
    """The rows of the newest count of each polymer and colour, up to a day where one is given.

    A count covers what it lists: a polymer that was not counted on a later day keeps its last
    count, since nobody said that it is gone.
    """
    counted = [row for row in shop.logs.stock if as_of is None or row.date <= as_of]
    newest: dict[tuple[str, str], dt.date] = {}
    for row in counted:
        key = (row.polymer, row.colour)
        newest[key] = max(row.date, newest.get(key, row.date))
    return tuple(r for r in counted if r.date == newest[(r.polymer, r.colour)])


def stock_by_polymer(shop: Shop) -> Mapping[str, float]:
    """Mass of each polymer in the shop at the last count [kg]."""
    totals: dict[str, float] = {}
    for row in latest_count(shop):
        totals[row.polymer] = totals.get(row.polymer, 0.0) + row.kg
    return totals


def stock_by_lot(shop: Shop) -> Mapping[str, Mapping[str, float]]:
    """Mass by polymer and colour in the shop at the last count [kg]."""
    totals: dict[str, dict[str, float]] = {}
    for row in latest_count(shop):
        lots = totals.setdefault(row.polymer, {})
        lots[row.colour] = lots.get(row.colour, 0.0) + row.kg
    return totals


_CUT = frozenset({"flake", "pellet"})


def flake_by_lot(shop: Shop) -> Mapping[tuple[str, str], float]:
    """Flake by polymer and colour in the shop at the last count [kg]; what is not cut yet is not
    in it."""
    totals: dict[tuple[str, str], float] = defaultdict(float)
    for row in latest_count(shop):
        if row.form in _CUT:
            totals[row.polymer, row.colour] += row.kg
    return totals


def room_for(polymer: Polymer, stock_kg: float) -> Room:
    """What may still come in of a polymer: its limit less what stands here, at least 0 [kg]."""
    limit = polymer.store_limit_kg
    return Room(stock_kg, None if limit is None else max(0.0, limit - stock_kg))


# --- what comes in a week ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Stream:
    """What one source brings of one polymer in one form in an ordinary week.

    ``weekly_kg`` is all that is put on the scale: ``measured`` where enough weeks are logged,
    else as ``written``. ``losses`` are those of each step after one another.
    """

    donor: str
    polymer: str
    form: str
    weekly_kg: float
    basis: Literal["measured", "written"]
    origin: Origin
    written_kg: float | None
    measured_kg: float | None
    losses: tuple[Loss, ...]

    def after(self, step: Step) -> float:
        """What is left a week once a step is done [kg]."""
        return self.weekly_kg * chain(self.losses[: STEPS.index(step) + 1])

    def lost(self, step: Step) -> float:
        """What a step loses a week [kg]."""
        number = STEPS.index(step)
        before = self.weekly_kg * chain(self.losses[:number])
        return before * (1 - self.losses[number].kept)


def open_weeks(shop: Shop, days: Iterable[dt.date]) -> int:
    """How many weeks some logged days span, both ends included, without those the shop is shut.

    A week counts as shut where every day on which the door takes donations falls into a closure.
    """
    mondays = {day - dt.timedelta(days=day.weekday()) for day in days}
    if not mondays:
        return 0
    first, last = min(mondays), max(mondays)
    span = (last - first).days // 7 + 1
    numbers = [day.number for day in ordinary_week(shop) if day.takes_donations]
    spanned = (first + dt.timedelta(weeks=n) for n in range(span))
    shut = sum(monday not in mondays and _shut(shop, monday, numbers) for monday in spanned)
    return span - shut


def _shut(shop: Shop, monday: dt.date, numbers: list[int]) -> bool:
    days = [monday + dt.timedelta(days=n) for n in numbers]
    return bool(days) and all(
        any(closed.from_ <= day <= closed.to for closed in shop.hours.closed) for day in days
    )


def streams(shop: Shop, losses: Losses | None = None) -> tuple[Stream, ...]:
    """Everything that comes in a week, by source, polymer and form.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    losses
        What its steps lose, where that was worked out before.
    """
    known = losses or Losses(shop)
    weeks = open_weeks(shop, (row.date for row in shop.logs.weigh_ins))
    enough = weeks >= reference().limit("measured-weeks").low
    logged = _logged(shop)
    written = {(d.id, b.polymer, b.form): b for d in shop.donors.values() for b in d.brings}
    keys = dict.fromkeys((*written, *(logged if enough else ())))
    return tuple(
        _stream(known, key, written.get(key), logged.get(key, []), weeks if enough else 0)
        for key in keys
    )


_StreamKey = tuple[str, str, str]


def _logged(shop: Shop) -> Mapping[_StreamKey, list[WeighIn]]:
    """Weigh-ins by source, polymer and form; a row without a form is of the one written."""
    forms: dict[tuple[str, str], str] = {}
    for donor in shop.donors.values():
        for brings in donor.brings:
            forms.setdefault((donor.id, brings.polymer), brings.form)
    rows: dict[_StreamKey, list[WeighIn]] = defaultdict(list)
    for row in shop.logs.weigh_ins:
        form = row.form or forms.get((row.donor, row.polymer), "whole")
        rows[row.donor, row.polymer, form].append(row)
    return rows


def _stream(
    losses: Losses, key: _StreamKey, brings: Brings | None, rows: list[WeighIn], weeks: int
) -> Stream:
    donor, polymer, form = key
    measured = sum(row.kg for row in rows) / weeks if weeks else None
    planned = brings.weekly_kg if brings else None
    kg = measured if measured is not None else planned or 0.0
    place = rows[0].origin if rows and weeks else _written_at(brings)
    return Stream(
        donor, polymer, form, kg, "written" if measured is None else "measured", place,
        planned, measured, tuple(losses.of(step, donor, polymer, brings) for step in STEPS),
    )  # fmt: skip


def _written_at(brings: Brings | None) -> Origin:
    return brings.origin_of("weekly_kg") if brings else Origin("donors.yml")


def colour_shares(shop: Shop) -> Mapping[str, Mapping[str, float]]:
    """Of what was taken of each polymer, the share of each colour by mass [-], from the log."""
    taken: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for row in shop.logs.weigh_ins:
        taken[row.polymer][row.colour] += row.kg - row.rejected_kg
    return {
        polymer: {colour: kg / total for colour, kg in colours.items() if kg}
        for polymer, colours in taken.items()
        if (total := sum(colours.values()))
    }
