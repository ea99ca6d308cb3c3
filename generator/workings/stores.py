"""Moulds, tools and consumables: where each lives, how long it lasts, and what to order."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _, day_words
from generator.shop.records.material import Consumable, Mould, Tool
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.loans import shots_by

_WORN = 0.9
"""Share of a mould's life after which its successor is to be thought of."""


@dataclass(frozen=True, slots=True)
class MouldLife:
    """A mould against its life.

    ``shots`` are those counted and those logged since; ``share`` of its life is used [-];
    ``shots_per_week`` is what the products wanted in an ordinary week ask of it; ``ends`` the day
    its life is used up. None where nobody has said.
    """

    mould: Mould
    shots: int
    share: float | None
    shots_per_week: float
    ends: dt.date | None


@dataclass(frozen=True, slots=True)
class Supply:
    """A consumable against its use.

    ``use_per_week`` counts sessions of an ordinary week. ``runs_out`` is the day the stock is
    used up, ``order_by`` the last day on which an order still comes in time; None where it is not
    used by the week. ``packs`` is what to order now, 0 where nothing needs ordering.
    """

    consumable: Consumable
    use_per_week: float
    runs_out: dt.date | None
    order_by: dt.date | None
    packs: int


@dataclass(frozen=True, slots=True)
class Place:
    """A station with what lives there."""

    station: Station
    moulds: tuple[Mould, ...]
    tools: tuple[Tool, ...]
    consumables: tuple[Consumable, ...]


@dataclass(frozen=True, slots=True)
class StoresStudy:
    """Moulds, what to order first, and what lives where by station number."""

    moulds: tuple[MouldLife, ...]
    supplies: tuple[Supply, ...]
    places: tuple[Place, ...]
    survey: Survey


def study(shop: Shop, as_of: dt.date) -> StoresStudy:
    """Work out what wears out and what runs out.

    Parameters
    ----------
    shop
        The shop.
    as_of
        The day from which stocks are drawn down.
    """
    moulds = tuple(_life(shop, m, as_of) for m in shop.moulds.values())
    supplies = tuple(
        sorted((_supply(shop, c, as_of) for c in shop.consumables.values()), key=_first_out)
    )
    found = [f for m in moulds for f in _of_mould(m)]
    found += [f for s in supplies for f in _of_supply(s, as_of)]
    made = survey("stores", (), found, other_checks=len(moulds) + len(supplies))
    return StoresStudy(moulds, supplies, tuple(_places(shop)), made)


def _first_out(supply: Supply) -> tuple[bool, dt.date]:
    return supply.packs == 0, supply.runs_out or dt.date.max


def _places(shop: Shop) -> Iterator[Place]:
    for station in shop.stations_by_number:
        place = Place(
            station,
            tuple(m for m in shop.moulds.values() if m.kept_at == station.id),
            tuple(t for t in shop.tools.values() if t.kept_at == station.id),
            tuple(c for c in shop.consumables.values() if c.kept_at == station.id),
        )
        if place.moulds or place.tools or place.consumables:
            yield place


# --- moulds ------------------------------------------------------------------------------------


def _life(shop: Shop, mould: Mould, as_of: dt.date) -> MouldLife:
    a_week, shots = shots_per_week(shop, mould), shots_by(shop, mould, as_of)
    if not mould.lasts_shots:
        return MouldLife(mould, shots, None, a_week, None)
    left = mould.lasts_shots - shots
    ends = _days_on(as_of, left / a_week * 7) if a_week and left > 0 else None
    return MouldLife(mould, shots, shots / mould.lasts_shots, a_week, ends)


def shots_per_week(shop: Shop, mould: Mould) -> float:
    """Shots an ordinary week asks of a mould: pieces wanted, parts a piece, over its cavities."""
    wanted = sum(p.per_week * p.parts for p in shop.products.values() if p.mould == mould.id)
    return wanted / mould.cavities


def _of_mould(life: MouldLife) -> Iterator[Finding]:
    mould = life.mould
    if life.share is not None and life.share >= _WORN:
        worn = life.share >= 1
        says = _("Mould “{mould}” has made {shots} of the {lasts} shots it lasts.")
        says = says.format(mould=mould.name, shots=life.shots, lasts=mould.lasts_shots)
        mend = _("Measure a part against its card before the next run, and plan its successor.")
        severity = Severity.FIX if worn else Severity.NOTE
        yield Finding(
            "stores.mould-worn",
            severity,
            mould.origin_of("shots"),
            says,
            mend,
            subject=f"moulds/{mould.id}",
        )
    if mould.damage:
        says = _("Mould “{mould}” is damaged: {damage}").format(
            mould=mould.name, damage=mould.damage
        )
        yield Finding(
            "stores.mould-damaged",
            Severity.NOTE,
            mould.origin_of("damage"),
            says,
            _("Mend it, or say on its card what it may still be used for."),
            subject=f"moulds/{mould.id}",
        )


# --- consumables -------------------------------------------------------------------------------


def _supply(shop: Shop, thing: Consumable, as_of: dt.date) -> Supply:
    use = use_per_week(shop, thing)
    runs_out = _days_on(as_of, thing.stock / use * 7) if use else None
    order_by = _days_on(as_of, thing.stock / use * 7 - thing.lead_time_d) if use else None
    late = order_by is not None and order_by < as_of
    packs = _packs(thing, use) if thing.stock <= thing.least or late else 0
    return Supply(thing, use, runs_out, order_by, packs)


def use_per_week(shop: Shop, thing: Consumable) -> float:
    """What an ordinary week uses: its own, and each weekly session that takes some."""
    weekly = [s for s in shop.sessions.values() if s.weekday is not None]
    named = [s for s in weekly if any(thing.id in a.consumables for a in s.activities.values())]
    return thing.use_per_week + thing.use_per_session * len(named or weekly)


def _packs(thing: Consumable, use: float) -> int:
    """Packs that bring the stock over its minimum by the time they come."""
    missing = thing.least + use * thing.lead_time_d / 7 - thing.stock
    return max(1, math.ceil(missing / thing.pack - 1e-9))


def _days_on(day: dt.date, days: float) -> dt.date:
    """A day some days on, at the end of the calendar at the latest."""
    try:
        return day + dt.timedelta(days=math.floor(days))
    except OverflowError:
        return dt.date.max if days > 0 else dt.date.min


def _of_supply(supply: Supply, as_of: dt.date) -> Iterator[Finding]:
    if not supply.packs:
        return
    thing = supply.consumable
    yield Finding(
        "stores.reorder",
        Severity.FIX,
        thing.origin_of("stock"),
        _reorder_sentence(supply, as_of),
        _("Order {amount}; it takes {days:g} days to come.").format(
            amount=amount(thing, supply.packs * thing.pack), days=thing.lead_time_d
        ),
        subject=f"stations/{thing.kept_at}",
    )


def _reorder_sentence(supply: Supply, as_of: dt.date) -> str:
    thing = supply.consumable
    facts = {"thing": thing.name, "stock": amount(thing, thing.stock)}
    if supply.runs_out and supply.order_by and supply.order_by < as_of:
        says = _("{thing} runs out on {day}, before an order of today can come: {stock} left.")
        return says.format(day=day_words(supply.runs_out), **facts)
    says = _("{thing} is down to {stock}; {least} is the least there should be.")
    return says.format(least=f"{thing.least:g}", **facts)


def amount(thing: Consumable, count: float) -> str:
    """A count with the consumable's unit, ``18 × pair``."""
    return f"{count:g}\u202f×\u202f{thing.unit}"
