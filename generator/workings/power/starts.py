"""What a motor draws as it starts, against the device that must not take it for a fault."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict
from generator.reference import Value, reference
from generator.shop.records.machines import Machine
from generator.workings.power.draws import Draw
from generator.workings.power.loads import CircuitLoad
from generator.workings.power.telling import ELECTRICIAN, SLACK, Ledger, amps, judged
from generator.workings.shown import given, own, tabled

_BANDED = ("B", "C", "D")


@dataclass(frozen=True, slots=True)
class Start:
    """A start with the rest of the circuit already running.

    ``least_a`` and ``most_a`` are the same where the plate says how it starts [A]. ``band``
    is where the device trips at once, over its rating, None for fuses and others whose curve
    must be looked up.
    """

    draw: Draw
    factor: tuple[float, float]
    already_a: float
    band: Value | None

    @property
    def least_a(self) -> float:
        return self.factor[0] * self.draw.amps + self.already_a

    @property
    def most_a(self) -> float:
        return self.factor[1] * self.draw.most_a + self.already_a


def tell_starts(load: CircuitLoad, ledger: Ledger) -> None:
    """Hold the start of every motor of a circuit against its device."""
    for draw in load.draws:
        if draw.turns:
            _tell(_start(draw, load), load, ledger)


def _start(draw: Draw, load: CircuitLoad) -> Start:
    kind = load.circuit.device_kind
    band = reference().limit(f"trip-band-{kind.lower()}") if kind in _BANDED else None
    return Start(draw, _factor(draw), _already_a(draw, load), band)


def _factor(draw: Draw) -> tuple[float, float]:
    """Starting current over full-load current: the plate's, else the trade's range."""
    written = _written_factor(draw)
    if written is not None:
        return written, written
    usual = reference().limit("motor-start")
    return usual.low, usual.high


def _written_factor(draw: Draw) -> float | None:
    electric = draw.record.electric if isinstance(draw.record, Machine) else None
    return electric.starting_factor if electric else None


def _already_a(draw: Draw, load: CircuitLoad) -> float:
    """What else may be running on the circuit: no more than its device leaves room for [A]."""
    beside = max(
        sum(bar.amps for bar in load.bars if phase in bar.phases and bar.draw is not draw)
        for phase in draw.phases
    )
    return min(beside, max(0.0, load.circuit.device_a - draw.amps))


def _tell(start: Start, load: CircuitLoad, ledger: Ledger) -> None:
    circuit, draw = load.circuit, start.draw
    trips_a = start.band.low * circuit.device_a if start.band else circuit.device_a
    verdict = judged(start.least_a, start.most_a, trips_a)
    if start.band is None and verdict is Verdict.FAILS:
        verdict = Verdict.UNANSWERED
    working = ledger.work(
        f"power.{draw.key}.start",
        draw.subject,
        _("Start of {name} against the device of {circuit}").format(
            name=draw.name, circuit=circuit.name
        ),
        _("starting factor × full-load current + what already runs on the circuit"),
        _inputs(start, load),
        result=Quantity(start.least_a, "A"),
        verdict=verdict,
        limit=(
            Quantity(trips_a, "A"),
            start.band.source_record if start.band else circuit.origin_of("device_a"),
        ),
        source=reference().limit("motor-start").source_record,
    )
    if verdict is Verdict.FAILS:
        _find(start, load, trips_a, working, ledger)
    elif verdict is Verdict.UNANSWERED:
        _ask(start, load, trips_a, working, ledger)


def _inputs(start: Start, load: CircuitLoad) -> Iterator[Input]:
    draw, circuit = start.draw, load.circuit
    if isinstance(draw.record, Machine) and draw.record.electric and _written_factor(draw):
        yield own(_("Starting factor"), draw.record.electric, "starting_factor")
    else:
        usual = reference().limit("motor-start")
        yield tabled(_("Starting factor straight on the line, least"), usual, usual.low)
        yield tabled(_("Starting factor straight on the line, most"), usual, usual.high)
    yield given(_("Full-load current"), draw.amps, "A", draw.record.origin)
    yield given(_("Already running"), start.already_a, "A", circuit.origin)
    yield own(_("Device"), circuit, "device_a")
    if start.band:
        name = _("Type {kind} may trip from").format(kind=circuit.device_kind)
        yield tabled(name, start.band, start.band.low)


def _find(start: Start, load: CircuitLoad, trips_a: float, working: str, ledger: Ledger) -> None:
    circuit, band = load.circuit, start.band
    assert band is not None
    surely = start.least_a > band.high * circuit.device_a + SLACK
    sure = _("{name} starts with {start}: the {kind} device of {device} trips.")
    perhaps = _("{name} starts with {start}: the {kind} device of {device} may trip at {trips}.")
    says = (sure if surely else perhaps).format(
        name=start.draw.name,
        start=amps(start.least_a),
        kind=circuit.device_kind,
        device=show(circuit.device_a, "a"),
        trips=amps(trips_a),
    )
    mend = _("Ask the electrician for a slower device or a starter that ramps.")
    ledger.find(
        "start", Severity.FIX, circuit.origin_of("device_kind"), says, mend,
        subject=start.draw.subject, working=working, asks=ELECTRICIAN,
    )  # fmt: skip


def _ask(start: Start, load: CircuitLoad, trips_a: float, working: str, ledger: Ledger) -> None:
    if start.draw.missing and start.factor[0] == start.factor[1]:
        return  # the plate is asked for already
    circuit = load.circuit
    words = {
        "name": start.draw.name,
        "least": amps(start.least_a),
        "most": amps(start.most_a),
        "device": show(circuit.device_a, "a"),
        "kind": circuit.device_kind,
        "trips": amps(trips_a),
    }
    if start.band:
        says = _("{name} starts with {least} to {most}; its device may trip at {trips}.")
        mend = _("Ask for its starting current, and write it as `starting_factor`.")
    else:
        says = _("{name} starts with {least} or more behind a device of {device} ({kind}).")
        mend = _("Ask whether the device's curve lets it start.")
    ledger.find(
        "start-unknown", Severity.ASK, circuit.origin_of("device_kind"), says.format(**words),
        mend, subject=start.draw.subject, working=working,
    )  # fmt: skip
