"""What each machine and fan draws, on which phases, and how sure that is.

A figure that is not written is never guessed. The current is then known to lie between what
the written figures give at least and what the circuit's device lets through.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import N_, _
from generator.ground.working import Input, Quantity, Source, Verdict
from generator.shop.records.machines import HOT_KINDS, Electric, Machine
from generator.shop.records.room import Circuit, Fan, Phase
from generator.shop.shop import Shop
from generator.workings.power.formulas import heater_power_kw, single_phase_a, three_phase_a
from generator.workings.power.mains import Mains
from generator.workings.power.telling import Ledger, amps, named
from generator.workings.shown import given, own, tabled

Character = Literal["heater", "motor", "mixed", "other"]
Across = Literal["to neutral", "across two", "three-phase"]

TURNING_KINDS = frozenset(
    {
        "granulator",
        "shredder",
        "wash-tub",
        "spin-dryer",
        "band-saw",
        "belt-sander",
        "pillar-drill",
        "extractor",
    }
)
_DRIVEN_HOT_KINDS = frozenset({"screw-injector", "extruder"})
_RESISTIVE_FROM = 0.95
_TEXTBOOK = Source("Textbook", "handbook")


@dataclass(frozen=True, slots=True)
class Connection:
    """Where a load hangs: its phases, the voltage across it [V], whether the phases are sure."""

    phases: tuple[Phase, ...]
    voltage_v: float
    across: Across
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Draw:
    """What one machine or fan draws at full load.

    ``amps`` flows in each of ``connection.phases`` at least [A], ``most_a`` at most; they are
    the same where nothing is ``missing``. ``power_kw`` is electrical, at the supply's voltage,
    and at least so where the efficiency is missing [kW].
    """

    record: Machine | Fan
    circuit: Circuit
    connection: Connection
    character: Character
    power_kw: float
    amps: float
    most_a: float
    missing: tuple[str, ...] = ()
    continuous: bool = False

    @property
    def id(self) -> str:
        return self.record.id

    @property
    def name(self) -> str:
        return str(self.record.name)

    @property
    def phases(self) -> tuple[Phase, ...]:
        return self.connection.phases

    @property
    def is_fan(self) -> bool:
        return isinstance(self.record, Fan)

    @property
    def subject(self) -> str:
        return f"room/fans/{self.id}" if self.is_fan else f"machines/{self.id}"

    @property
    def key(self) -> str:
        """Its part of the ids of workings."""
        return f"{'fan' if self.is_fan else 'machine'}.{self.id}"

    @property
    def outlet(self) -> str | None:
        electric = getattr(self.record, "electric", None)
        return electric.outlet if electric else None

    @property
    def turns(self) -> bool:
        """Whether a motor drives it."""
        return self.character in ("motor", "mixed")


def draws_of(shop: Shop, mains: Mains) -> tuple[Draw, ...]:
    """What every machine and fan with a circuit draws, in file order."""
    return (*_machines(shop, mains), *_fans(shop, mains))


def _machines(shop: Shop, mains: Mains) -> Iterator[Draw]:
    for machine in shop.machines.values():
        if machine.electric is not None:
            circuit = shop.room.circuits[machine.electric.circuit]
            yield _machine_draw(machine, machine.electric, circuit, mains)


def _fans(shop: Shop, mains: Mains) -> Iterator[Draw]:
    for fan in shop.room.fans.values():
        if fan.circuit is not None:
            yield _fan_draw(fan, shop.room.circuits[fan.circuit], mains)


# --- where it hangs ----------------------------------------------------------------------------


def connection_of(electric: Electric, circuit: Circuit, mains: Mains) -> Connection:
    """Where a machine hangs on its circuit.

    A machine of one phase on a circuit of several hangs across two of them if its plate is
    nearer to that voltage. Where the circuit leaves open on which of its phases a machine
    hangs, it counts on each, which is never too little.
    """
    phases, to_neutral, across = circuit.phases, mains.to_neutral_v, mains.across_v
    if electric.phases == "three":
        return Connection(phases, across, "three-phase")
    bridged = electric.voltage_v**2 > to_neutral * across
    if electric.phases == "two" or (len(phases) > 1 and bridged):
        return Connection(phases, across, "across two", len(phases) == 2)
    return Connection(phases, to_neutral, "to neutral", len(phases) == 1)


def _fan_connection(circuit: Circuit, mains: Mains) -> Connection:
    kinds: dict[int, Across] = {1: "to neutral", 2: "across two"}
    across = kinds.get(len(circuit.phases), "three-phase")
    voltage = mains.to_neutral_v if across == "to neutral" else mains.across_v
    return Connection(circuit.phases, voltage, across)


# --- what flows --------------------------------------------------------------------------------


def character_of(machine: Machine, electric: Electric) -> Character:
    """What kind of load a machine is: it decides diversity, starting and what voltage does."""
    if electric.of_shaft or machine.kind in TURNING_KINDS:
        return "motor"
    if machine.kind in _DRIVEN_HOT_KINDS:
        return "mixed"
    factor = electric.power_factor
    resistive = machine.kind in HOT_KINDS if factor is None else factor >= _RESISTIVE_FROM
    return "heater" if resistive else "mixed" if electric.starting_factor else "other"


def current_a(
    across: Across, power_kw: float, voltage_v: float, power_factor: float, efficiency: float = 1.0
) -> float:
    """Current in each phase a load hangs on [A]; see the formulas."""
    formula = three_phase_a if across == "three-phase" else single_phase_a
    return formula(power_kw, voltage_v, power_factor, efficiency)


def _machine_draw(machine: Machine, electric: Electric, circuit: Circuit, mains: Mains) -> Draw:
    connection = connection_of(electric, circuit, mains)
    character = character_of(machine, electric)
    missing = tuple(_missing(electric, character))
    power = _input_kw(electric, character, connection.voltage_v)
    flow = _flow_a(electric, character, connection)
    most = max(flow, circuit.device_a) if missing else flow
    return Draw(
        machine, circuit, connection, character, power, flow, most, missing, electric.continuous
    )


def _missing(electric: Electric, character: Character) -> Iterator[str]:
    if electric.power_factor is None and character != "heater":
        yield "power_factor"
    if electric.of_shaft and electric.efficiency is None:
        yield "efficiency"


def efficiency_of(electric: Electric) -> float:
    """Shaft power over electrical power; 1 where the plate's power is electrical [-]."""
    return (electric.efficiency or 1.0) if electric.of_shaft else 1.0


def _input_kw(electric: Electric, character: Character, supply_v: float) -> float:
    if character == "heater":
        return heater_power_kw(electric.power_kw, electric.voltage_v, supply_v)
    return electric.power_kw / efficiency_of(electric)


def _flow_a(electric: Electric, character: Character, connection: Connection) -> float:
    """A heater's current rises with the voltage and a motor's as it falls; the rest takes the
    worse of the two."""
    supply, plate = connection.voltage_v, electric.voltage_v
    factor = electric.power_factor or 1.0
    warmed = heater_power_kw(electric.power_kw, plate, supply)
    as_heater = current_a(connection.across, warmed, supply, factor)
    as_motor = current_a(
        connection.across, electric.power_kw, min(supply, plate), factor, efficiency_of(electric)
    )
    if character == "heater":
        return as_heater
    return as_motor if character == "motor" else max(as_heater, as_motor)


def _fan_draw(fan: Fan, circuit: Circuit, mains: Mains) -> Draw:
    connection = _fan_connection(circuit, mains)
    missing = tuple(
        name
        for name, there in (("power", fan.power_kw > 0), ("power_factor", fan.power_factor))
        if not there
    )
    flow = current_a(connection.across, fan.power_kw, connection.voltage_v, fan.power_factor or 1.0)
    most = max(flow, circuit.device_a) if missing else flow
    return Draw(fan, circuit, connection, "motor", fan.power_kw, flow, most, missing, True)


# --- telling -----------------------------------------------------------------------------------


def tell_draws(draws: tuple[Draw, ...], mains: Mains, ledger: Ledger) -> None:
    """Enter the current of each, and ask for what is not written."""
    for draw in draws:
        working = _tell_current(draw, mains, ledger)
        if draw.missing:
            _ask_for_plate(draw, working, ledger)
        if not draw.connection.sure:
            _ask_for_phase(draw, working, ledger)


def current_id(draw: Draw) -> str:
    return f"power.{draw.key}.current"


def _tell_current(draw: Draw, mains: Mains, ledger: Ledger) -> str:
    return ledger.work(
        current_id(draw),
        draw.subject,
        _("Current of {name} at full load").format(name=draw.name),
        _formula(draw),
        _current_inputs(draw, mains),
        result=Quantity(draw.amps, "A"),
        verdict=Verdict.UNANSWERED if draw.missing else Verdict.INFORMS,
        source=_TEXTBOOK,
        caution=_("At least this much: figures of its plate are missing.") if draw.missing else "",
    )


def _formula(draw: Draw) -> str:
    electric = getattr(draw.record, "electric", None)
    shaft = electric is not None and electric.of_shaft
    told = (_SHAFT_FORMULAS if shaft else _FORMULAS)[draw.connection.across]
    changed = electric is not None and electric.voltage_v != draw.connection.voltage_v
    if draw.character == "heater" and changed:
        squared = _("power = plate's power × (supply's voltage ÷ plate's voltage)²")
        return f"{_(told)}; {squared}"
    return _(told)


_FORMULAS: dict[Across, str] = {
    "to neutral": N_("current = power ÷ (voltage to neutral × power factor)"),
    "across two": N_("current in both phases = power ÷ (voltage between them × power factor)"),
    "three-phase": N_("current = power ÷ (√3 × voltage between phases × power factor)"),
}
_SHAFT_FORMULAS: dict[Across, str] = {
    "to neutral": N_("current = shaft power ÷ (voltage to neutral × power factor × efficiency)"),
    "across two": N_(
        "current in both phases = shaft power ÷ (voltage between them × power factor × efficiency)"
    ),
    "three-phase": N_(
        "current = shaft power ÷ (√3 × voltage between phases × power factor × efficiency)"
    ),
}


def _current_inputs(draw: Draw, mains: Mains) -> Iterator[Input]:
    record = draw.record
    plate = record.electric if isinstance(record, Machine) else record
    assert plate is not None
    yield own(_("Power"), plate, "power_kw")
    if isinstance(plate, Electric):
        yield own(_("Voltage on its plate"), plate, "voltage_v")
    row = mains.row.to_neutral if draw.connection.across == "to neutral" else mains.row.across
    yield tabled(_("Voltage of the supply"), row)
    if plate.power_factor is not None:
        yield own(_("Power factor"), plate, "power_factor")
    elif draw.character == "heater":
        yield given(_("Power factor of a resistance"), 1.0, "", _TEXTBOOK)
    if isinstance(plate, Electric) and plate.of_shaft and plate.efficiency is not None:
        yield own(_("Efficiency"), plate, "efficiency")


def _ask_for_plate(draw: Draw, working: str, ledger: Ledger) -> None:
    words = {
        "power": _("power"),
        "power_factor": _("power factor"),
        "efficiency": _("efficiency"),
    }
    says = _("{name} draws {amps} at least; its {missing} is not written.").format(
        name=draw.name, amps=amps(draw.amps), missing=named([words[m] for m in draw.missing])
    )
    mend = _(
        "Read the plate, or have its full-load current measured: until then it counts as the whole"
        " {device} of {circuit}."
    ).format(device=show(draw.circuit.device_a, "a"), circuit=draw.circuit.name)
    origin = getattr(draw.record, "electric", None) or draw.record
    ledger.find(
        "plate", Severity.ASK, origin.origin, says, mend, subject=draw.subject, working=working
    )


def _ask_for_phase(draw: Draw, working: str, ledger: Ledger) -> None:
    electric = getattr(draw.record, "electric", None) or draw.record
    says = _("{name} hangs on {circuit}, and on which of {phases} is not known.").format(
        name=draw.name, circuit=draw.circuit.name, phases=named(draw.phases)
    )
    mend = _("Have it looked up at the board. It counts as {amps} on each of them.").format(
        amps=amps(draw.amps)
    )
    origin = electric.origin_of("phases")
    ledger.find("phase", Severity.ASK, origin, says, mend, subject=draw.subject, working=working)
