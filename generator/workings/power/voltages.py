"""Machines whose plate names another voltage than they get, and heaters above all."""

from __future__ import annotations

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict
from generator.shop.records.machines import Electric, Machine
from generator.workings.power.draws import Draw
from generator.workings.power.formulas import heater_power_kw
from generator.workings.power.mains import Mains
from generator.workings.power.telling import ELECTRICIAN, SLACK, Ledger, percent
from generator.workings.shown import own, tabled

_WORTH_TELLING = 0.01


def power_share(draw: Draw) -> float | None:
    """The power a heater has on its supply over its plate's [-], None for what is no heater."""
    electric = getattr(draw.record, "electric", None)
    if draw.character != "heater" or electric is None:
        return None
    return heater_power_kw(1.0, electric.voltage_v, draw.connection.voltage_v)


def tell_voltages(draws: tuple[Draw, ...], mains: Mains, ledger: Ledger) -> None:
    """Enter every machine whose plate differs from what it gets by more than a hundredth."""
    for draw in draws:
        if isinstance(draw.record, Machine) and draw.record.electric is not None:
            ratio = draw.connection.voltage_v / draw.record.electric.voltage_v
            if abs(ratio - 1) > _WORTH_TELLING:
                _tell(draw, draw.record.electric, ratio, mains, ledger)


def _tell(draw: Draw, electric: Electric, ratio: float, mains: Mains, ledger: Ledger) -> None:
    tolerance = mains.limit("plate-voltage-tolerance")
    assert tolerance is not None
    away = 100 * abs(ratio - 1)
    fails = away > tolerance.middle + SLACK
    row = mains.row.to_neutral if draw.connection.across == "to neutral" else mains.row.across
    share = power_share(draw)
    working = ledger.work(
        f"power.{draw.key}.voltage",
        draw.subject,
        _("Voltage {name} gets against its plate").format(name=draw.name),
        _("difference ÷ voltage on the plate"),
        [own(_("Voltage on its plate"), electric, "voltage_v"), tabled(_("Supply"), row)],
        result=Quantity(away, "%"),
        verdict=Verdict.FAILS if fails else Verdict.HOLDS,
        limit=(Quantity(tolerance.middle, "%"), tolerance.source_record),
        source=tolerance.source_record,
        caution="" if share is None else _effect(share),
    )
    if fails:
        _find(draw, electric, share, working, ledger)


def _effect(share: float) -> str:
    return _(
        "A heater's power goes with the square of the voltage: {percent} of its plate's."
    ).format(percent=percent(100 * share))


def _find(
    draw: Draw, electric: Electric, share: float | None, working: str, ledger: Ledger
) -> None:
    volts = draw.connection.voltage_v
    too_much = volts > electric.voltage_v
    says = _("{name} is made for {plate} and gets {supply}.").format(
        name=draw.name, plate=show(electric.voltage_v, "v"), supply=show(volts, "v")
    )
    if share is not None:
        says = f"{says} {_effect(share)}"
    if too_much:
        mend = _("Do not switch it on before an electrician has looked at how it is connected.")
    elif share is not None:
        mend = _(
            "Reckon with {times} times its heating time, or have it connected for its voltage."
        )
        mend = mend.format(times=round(1 / share, 2))
    else:
        mend = _("Have it connected for its voltage: a motor on less gets hot and may not start.")
    ledger.find(
        "voltage", Severity.STOP if too_much else Severity.FIX, electric.origin_of("voltage_v"),
        says, mend, subject=draw.subject, working=working, asks=ELECTRICIAN,
    )  # fmt: skip
