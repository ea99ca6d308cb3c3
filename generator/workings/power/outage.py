"""What happens when the power goes and comes back: what starts by itself, which hoods stop
over hot plastic."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict
from generator.shop.records.machines import Electric, Machine
from generator.shop.records.room import Circuit, Equipment, Fan, Hood
from generator.shop.shop import Shop
from generator.workings.power.draws import TURNING_KINDS, character_of
from generator.workings.power.telling import ELECTRICIAN, Ledger, named
from generator.workings.shown import own

_MAINTAINER = "maintainer"


@dataclass(frozen=True, slots=True)
class Return:
    """What a machine does when power comes back; ``restarts`` is None where nobody has tried."""

    machine: Machine
    restarts: bool | None
    turns: bool


@dataclass(frozen=True, slots=True)
class FanStop:
    """A fan, its hoods, and the hot machines that go on heating when only the fan stops.

    ``under`` are all hot machines at its hoods, ``heating`` those on other circuits than its
    own. ``hot_for_min`` is the longest any of them takes to cool [min], None where none says.
    ``known`` is False where nobody has written which circuit the fan hangs on.
    """

    fan: Fan
    circuit: Circuit | None
    hoods: tuple[Hood, ...]
    under: tuple[Machine, ...]
    heating: tuple[Machine, ...]
    hot_for_min: float | None

    @property
    def known(self) -> bool:
        return self.circuit is not None


@dataclass(frozen=True, slots=True)
class Outage:
    """What goes and what comes back.

    ``buttons`` are the emergency stops that take an extractor along with the hot machines it
    clears, each with the extractor.
    """

    returns: tuple[Return, ...]
    fans: tuple[FanStop, ...]
    buttons: tuple[tuple[Equipment, Machine], ...]

    @property
    def starting(self) -> tuple[Machine, ...]:
        """Machines that start by themselves."""
        return tuple(r.machine for r in self.returns if r.restarts)


def outage_of(shop: Shop) -> Outage:
    """What happens when the power goes and comes back."""
    return Outage(tuple(_returns(shop)), tuple(_fan_stops(shop)), tuple(_buttons(shop)))


def _returns(shop: Shop) -> Iterator[Return]:
    for machine in shop.machines.values():
        electric = machine.electric
        if electric is not None:
            turns = character_of(machine, electric) in ("motor", "mixed")
            yield Return(machine, electric.restarts, turns)


def _fan_stops(shop: Shop) -> Iterator[FanStop]:
    for fan in shop.room.fans.values():
        hoods = tuple(hood for hood in shop.room.hoods.values() if hood.fan == fan.id)
        stations = dict.fromkeys(hood.station for hood in hoods)
        under = tuple(m for s in stations for m in shop.machines_at(s) if _is_hot(m))
        if under:
            yield _fan_stop(fan, hoods, under, shop)


def _is_hot(machine: Machine) -> bool:
    return machine.is_hot and machine.kind not in TURNING_KINDS


def _fan_stop(fan: Fan, hoods: tuple[Hood, ...], under: tuple[Machine, ...], shop: Shop) -> FanStop:
    heating = tuple(m for m in under if m.electric and m.electric.circuit != fan.circuit)
    cooling = [m.heat.cool_down_min for m in under if m.heat is not None]
    circuit = shop.room.circuits[fan.circuit] if fan.circuit else None
    return FanStop(fan, circuit, hoods, under, heating, max(cooling, default=None))


def _buttons(shop: Shop) -> Iterator[tuple[Equipment, Machine]]:
    for button in shop.equipment_of_kind("emergency-stop"):
        stopped = [shop.machines[id_] for id_ in button.isolates]
        hot = any(machine.needs_extraction and machine.is_hot for machine in stopped)
        for machine in stopped:
            if machine.kind == "extractor" and hot:
                yield button, machine


# --- telling -----------------------------------------------------------------------------------


def tell_outage(outage: Outage, ledger: Ledger) -> None:
    """Enter what starts by itself and what stops over hot plastic."""
    for back in outage.returns:
        assert back.machine.electric is not None
        _tell_return(back, back.machine.electric, ledger)
    for stop in outage.fans:
        _tell_fan(stop, ledger)
        _tell_fan_return(stop, ledger)
    for button, extractor in outage.buttons:
        _tell_button(button, extractor, ledger)


def _tell_return(back: Return, electric: Electric, ledger: Ledger) -> None:
    machine, name = back.machine, back.machine.name
    ledger.checked(answered=back.restarts is not None)
    if back.restarts is None:
        severity, says = Severity.ASK, _("Nobody has tried what {name} does when power comes back.")
        mend = _("Have it tried with nobody near: switch its circuit off and on again.")
    elif back.restarts and back.turns:
        severity, says = Severity.STOP, _("{name} starts by itself when power comes back.")
        mend = _("Do not use it before it has a no-volt release.")
    elif back.restarts and machine.is_hot:
        severity, says = Severity.FIX, _("{name} heats again by itself when power comes back.")
        mend = _("Have a contactor fitted that stays out until somebody presses start.")
    else:
        return
    asks = ELECTRICIAN if severity is not Severity.ASK else _MAINTAINER
    ledger.find(
        "restart", severity, electric.origin_of("restarts"), says.format(name=name), mend,
        subject=f"machines/{machine.id}", asks=asks,
    )  # fmt: skip


def _names(machines: tuple[Machine, ...]) -> str:
    return named([str(machine.name) for machine in machines])


def _tell_fan(stop: FanStop, ledger: Ledger) -> None:
    """Whether hot machines go on heating when only their fan stops."""
    working = _work_cooling(stop, ledger)
    ledger.checked(answered=stop.known)
    if stop.circuit is None:
        says = _("Which circuit {fan} hangs on is not written.")
        mend = _("Write it, so that it is known what stops together with it.")
        severity, asks = Severity.ASK, ELECTRICIAN
    elif stop.heating:
        says = _(
            "{fan} and the machines at its hoods hang on different circuits: when {circuit} trips,"
            " {machines} go on heating with nothing drawn off."
        )
        mend = _("Have their heating held off by a contact or flow switch at the fan.")
        severity, asks = Severity.FIX, ELECTRICIAN
    else:
        return
    circuit = stop.circuit.name if stop.circuit else ""
    ledger.find(
        "fan-alone", severity, stop.fan.origin_of("circuit"),
        says.format(circuit=circuit, fan=stop.fan.name, machines=_names(stop.heating)), mend,
        subject=f"room/fans/{stop.fan.id}", working=working, asks=asks,
    )  # fmt: skip


def _work_cooling(stop: FanStop, ledger: Ledger) -> str:
    if stop.hot_for_min is None:
        return ""
    return ledger.work(
        f"power.fan.{stop.fan.id}.outage",
        f"room/fans/{stop.fan.id}",
        _("How long plastic stays hot under the hoods of {fan} when the power goes").format(
            fan=stop.fan.name
        ),
        _("longest cooling down of the machines at its hoods"),
        [own(str(m.name), m.heat, "cool_down_min") for m in stop.under if m.heat is not None],
        result=Quantity(stop.hot_for_min, "min"),
        verdict=Verdict.INFORMS,
        caution=_("Nothing is drawn off all that time."),
    )


def _tell_fan_return(stop: FanStop, ledger: Ledger) -> None:
    """Whether machines heat again before their fan runs again."""
    eager = tuple(m for m in stop.under if m.electric and m.electric.restarts)
    ledger.checked(answered=stop.fan.restarts is not None)
    if stop.fan.restarts is None:
        says = _("Nobody has tried whether {fan} starts again when power comes back.")
        mend = _("Have it tried; plastic under its hoods stays hot for {time}.")
        severity = Severity.ASK
    elif eager and not stop.fan.restarts:
        says = _("When power comes back {machines} heat again, and {fan} stays off.")
        mend = _("Do not leave them hot before their heating waits for the fan.")
        severity = Severity.STOP
    else:
        return
    time = show(stop.hot_for_min, "min") if stop.hot_for_min is not None else _("a while")
    ledger.find(
        "fan-restart", severity, stop.fan.origin_of("restarts"),
        says.format(fan=stop.fan.name, machines=_names(eager)), mend.format(time=time),
        subject=f"room/fans/{stop.fan.id}",
        asks=ELECTRICIAN if severity is Severity.STOP else _MAINTAINER,
    )  # fmt: skip


def _tell_button(button: Equipment, extractor: Machine, ledger: Ledger) -> None:
    ledger.find(
        "stop-takes-fan", Severity.NOTE, button.origin_of("isolates"),
        _("{button} takes {extractor} along with the hot machines it clears.").format(
            button=button.name, extractor=extractor.name
        ),
        _("Ask whether the fan may stay on, and practise leaving the hoods when it is pressed."),
        subject=f"room/equipment/{button.id}", asks=ELECTRICIAN,
    )  # fmt: skip
