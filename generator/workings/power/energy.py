"""What machines use in an hour, for a kilogram and in a year, and what that costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.units import Money, show_number
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict
from generator.shop.records.machines import Machine
from generator.shop.records.people import Hours
from generator.shop.records.room import Fan
from generator.shop.shop import Shop
from generator.workings.heat import refusal_of
from generator.workings.power.draws import Draw
from generator.workings.power.telling import Ledger, named
from generator.workings.shown import given, own

_DAYS, _WEEK = 365.0, 7.0
_CALENDAR = Source("Calendar", "standard")


@dataclass(frozen=True, slots=True)
class Running:
    """What one machine or fan uses.

    ``hour_kwh`` is for an hour of running once hot, ``heat_up_kwh`` for getting there (None
    for what is not heated). ``kilogram_kwh`` is at the throughput its record names, and
    ``by_polymer_kwh`` at each setting's own rate. ``year_kwh`` is without heating up. None
    where a figure is missing; ``known`` is False where the hour's is only the least.
    """

    draw: Draw
    hour_kwh: float
    known: bool
    heat_up_kwh: float | None
    kilogram_kwh: float | None
    by_polymer_kwh: dict[str, float]
    year_h: float | None
    year_kwh: float | None


@dataclass(frozen=True, slots=True)
class Energy:
    """What the shop uses and pays.

    ``weeks`` is how many weeks of a year it is open. ``year_kwh`` adds up what is known, and
    ``without`` names what it leaves out. ``price`` is for a kilowatt-hour, None where the
    shop has set none.
    """

    running: tuple[Running, ...]
    weeks: float
    year_kwh: float
    without: tuple[str, ...]
    price: Money | None

    def cost(self, kwh: float | None) -> Money | None:
        """What some energy costs, None where price or energy are not known."""
        if self.price is None or kwh is None:
            return None
        return Money(kwh * self.price.amount, self.price.currency)


# --- working it out ----------------------------------------------------------------------------


def weeks_open(hours: Hours) -> float:
    """Weeks of a year without those the shop is closed.

    Closed days are those written for whichever year has most of them; a closure that runs into
    the next year counts whole for the one it begins in.
    """
    closed: Counter[int] = Counter()
    for days in hours.closed:
        closed[days.from_.year] += (days.to - days.from_).days + 1
    return (_DAYS - max(closed.values(), default=0)) / _WEEK


def hour_kwh(power_kw: float, duty_percent: float) -> float:
    r"""Energy of an hour's running once hot [kWh].

    .. math:: W = P \cdot \frac{d}{100} \cdot 1\,h

    Parameters
    ----------
    power_kw
        Electrical power at full load [kW].
    duty_percent
        Share of the time at full power [%].

    References
    ----------
    Textbook.
    """
    return power_kw * duty_percent / 100


def energy_of(shop: Shop, draws: tuple[Draw, ...]) -> Energy:
    """What every machine and fan uses."""
    weeks = weeks_open(shop.hours)
    running = tuple(_running(shop, draw, weeks) for draw in draws)
    total = sum(row.year_kwh or 0.0 for row in running)
    without = tuple(row.draw.name for row in running if row.year_kwh is None)
    return Energy(running, weeks, total, without, shop.shop.prices.electricity)


def _running(shop: Shop, draw: Draw, weeks: float) -> Running:
    record = draw.record
    duty = record.electric.duty_percent if isinstance(record, Machine) and record.electric else 100
    hour = hour_kwh(draw.power_kw, duty)
    known = not {"efficiency", "power"} & set(draw.missing)
    week_h = record.runs_per_week_h
    year_h = None if week_h is None else week_h * weeks
    usable = year_h is not None and known
    return Running(
        draw, hour, known, _heat_up_kwh(draw), _per_kg(hour, _throughput(record)),
        dict(_by_polymer(shop, record, hour)), year_h, hour * year_h if usable and year_h else None,
    )  # fmt: skip


def _heat_up_kwh(draw: Draw) -> float | None:
    """At full power for as long as it takes."""
    record = draw.record
    if not isinstance(record, Machine) or record.heat is None:
        return None
    return draw.power_kw * record.heat.heat_up_min / 60


def _throughput(record: Machine | Fan) -> float | None:
    return record.capacity.throughput_kgh if isinstance(record, Machine) else None


def _per_kg(hour: float, rate_kgh: float | None) -> float | None:
    return hour / rate_kgh if rate_kgh else None


def _by_polymer(shop: Shop, record: Machine | Fan, hour: float) -> Iterator[tuple[str, float]]:
    """What a kilogram takes at each setting's rate; no figure for what must never be heated."""
    for setting in record.settings if isinstance(record, Machine) else ():
        polymer = shop.polymers.get(setting.polymer)
        if setting.rate_kgh and not (polymer and refusal_of(polymer)):
            yield setting.polymer, hour / setting.rate_kgh


# --- telling -----------------------------------------------------------------------------------


def tell_energy(energy: Energy, shop: Shop, ledger: Ledger) -> None:
    """Enter hour, kilogram and year of each, and the year of all."""
    for row in energy.running:
        if row.known and row.hour_kwh:
            _tell_running(row, energy, shop, ledger)
    _tell_year(energy, shop, ledger)


def _tell_running(row: Running, energy: Energy, shop: Shop, ledger: Ledger) -> None:
    name, key, subject = row.draw.name, row.draw.key, row.draw.subject
    ledger.work(
        f"power.{key}.energy-hour",
        subject,
        _("Energy {name} uses in an hour").format(name=name),
        _("electrical power × share of the time at full power"),
        _hour_inputs(row),
        result=Quantity(row.hour_kwh, "kWh"),
    )
    if row.kilogram_kwh is not None and isinstance(row.draw.record, Machine):
        ledger.work(
            f"power.{key}.energy-kilogram",
            subject,
            _("Energy {name} uses for a kilogram").format(name=name),
            _("energy of an hour ÷ throughput"),
            [*_hour_inputs(row), own(_("Throughput"), row.draw.record.capacity, "throughput_kgh")],
            result=Quantity(row.kilogram_kwh, "kWh/kg"),
        )
    if row.year_kwh is not None:
        ledger.work(
            f"power.{key}.energy-year",
            subject,
            _("Energy {name} uses in a year").format(name=name),
            _("energy of an hour × hours a week × open weeks"),
            [*_hour_inputs(row), *_year_inputs(row, energy, shop)],
            result=Quantity(row.year_kwh, "kWh"),
            caution=_heating_up(row),
        )


def _hour_inputs(row: Running) -> Iterator[Input]:
    record = row.draw.record
    plate = record.electric if isinstance(record, Machine) else record
    if plate is None:
        return
    yield given(_("Electrical power"), row.draw.power_kw, "kW", plate.origin_of("power_kw"))
    if isinstance(record, Machine) and record.electric is not None:
        yield own(_("Share at full power"), record.electric, "duty_percent")


def _year_inputs(row: Running, energy: Energy, shop: Shop) -> Iterator[Input]:
    yield own(_("Hours a week"), row.draw.record, "runs_per_week_h")
    yield given(_("Open weeks"), energy.weeks, "", _weeks_origin(shop))


def _weeks_origin(shop: Shop) -> Origin | Source:
    return shop.hours.origin_of("closed") if shop.hours.closed else _CALENDAR


def _heating_up(row: Running) -> str:
    if row.heat_up_kwh is None:
        return ""
    kwh = show_number(row.heat_up_kwh, 2)
    return _("Each heating up comes on top: {kwh} kWh.").format(kwh=kwh)


def _tell_year(energy: Energy, shop: Shop, ledger: Ledger) -> None:
    if not energy.running:
        return
    parts = [row for row in energy.running if row.year_kwh is not None]
    working = ledger.work(
        "power.energy.year",
        "room/supply",
        _("Energy of a year, machines and fans"),
        _("sum over machines and fans of energy of an hour × hours a week × open weeks"),
        [given(row.draw.name, row.year_kwh or 0.0, "kWh", row.draw.record.origin) for row in parts],
        result=Quantity(energy.year_kwh, "kWh"),
        verdict=Verdict.UNANSWERED if energy.without else Verdict.INFORMS,
    )
    if energy.without:
        _note_what_is_left_out(energy, shop, working, ledger)
    _tell_cost(energy, shop, ledger)


def _note_what_is_left_out(energy: Energy, shop: Shop, working: str, ledger: Ledger) -> None:
    says = _("The year's energy leaves out {names}: hours or plate figures are missing.")
    ledger.find(
        "energy", Severity.NOTE, shop.room.supply.origin,
        says.format(names=named(list(energy.without))),
        _("Write `runs_per_week` for each, from the log or as planned."),
        subject="room/supply", working=working,
    )  # fmt: skip


def _tell_cost(energy: Energy, shop: Shop, ledger: Ledger) -> None:
    prices, cost = shop.shop.prices, energy.cost(energy.year_kwh)
    if energy.price is None or cost is None:
        ledger.checked(answered=False)
        ledger.find(
            "price", Severity.NOTE, shop.shop.origin_of("prices"),
            _("What a kilowatt-hour costs is not written, so no running cost is worked out."),
            _("Write it as `electricity` under `prices` in shop.yml, from the last bill."),
            subject="shop",
        )  # fmt: skip
        return
    per_kwh = f"{energy.price.currency}/kWh"
    ledger.work(
        "power.energy.cost",
        "room/supply",
        _("Cost of a year's energy, machines and fans"),
        _("energy of a year × price of a kilowatt-hour"),
        [
            given(_("Energy"), energy.year_kwh, "kWh", shop.room.supply.origin),
            given(_("Price"), energy.price.amount, per_kwh, prices.origin_of("electricity")),
        ],
        result=Quantity(cost.amount, cost.currency),
        caution=_("Without heating up, lamps and what is plugged in."),
    )
