"""How much of the voltage is lost along a circuit's cable."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict
from generator.reference import Value, reference
from generator.reference.records import Cable
from generator.shop.records.room import Circuit
from generator.workings.power.formulas import volt_drop_v
from generator.workings.power.loads import CircuitLoad, is_socketed
from generator.workings.power.mains import Mains
from generator.workings.power.telling import ELECTRICIAN, SLACK, Ledger, amps, percent
from generator.workings.shown import given, own, tabled


@dataclass(frozen=True, slots=True)
class Limit:
    """The share of the voltage that may be lost [%], and who says so."""

    percent: float
    origin: Origin | Source


@dataclass(frozen=True, slots=True)
class Drop:
    """Volt drop along a circuit at the current it may carry.

    ``volts`` [V], ``percent`` of the voltage across the load [%] and ``current_a`` [A];
    None where the section is thinner than the table's thinnest. ``limit`` is None where the
    tables have none for the shop's place and the shop has set none.
    """

    current_a: float
    volts: float | None
    percent: float | None
    limit: Limit | None


@dataclass(frozen=True, slots=True)
class _Run:
    """A cable as the table sees it: which column, which row, what the loss is a share of."""

    circuit: Circuit
    three_phase: bool
    voltage: Value
    row: Cable | None

    @property
    def exact(self) -> bool:
        """Whether the table has this very section."""
        return self.row is not None and (
            abs(self.row.section.middle - self.circuit.section_mm2) < SLACK
        )

    def column(self, row: Cable) -> Value:
        return row.three_phase if self.three_phase else row.single_phase

    def volts(self, row: Cable, current_a: float) -> float:
        return volt_drop_v(self.column(row).middle, current_a, self.circuit.cable_m)

    def percent(self, row: Cable, current_a: float) -> float:
        return 100 * self.volts(row, current_a) / self.voltage.middle

    def longest_a(self, row: Cable, limit: float) -> float:
        """The current at which the loss reaches the limit [A]."""
        return limit / self.percent(row, 1.0) if self.circuit.cable_m else float("inf")


def _run(load: CircuitLoad, mains: Mains) -> _Run:
    circuit, across = load.circuit, {draw.connection.across for draw in load.draws}
    to_neutral = len(circuit.phases) == 1 or circuit.serves == "lighting" or "to neutral" in across
    three_phase = len(circuit.phases) == 3 and not to_neutral and "across two" not in across
    voltage = mains.row.to_neutral if to_neutral else mains.row.across
    return _Run(circuit, three_phase, voltage, _row(circuit.section_mm2))


def _row(section_mm2: float) -> Cable | None:
    """The thickest cable of the table that is not thicker: its drop is never too small."""
    fitting = [c for c in reference().cables if c.section.middle <= section_mm2 + SLACK]
    return fitting[-1] if fitting else None


def limit_of(circuit: Circuit, mains: Mains, own_limit: Limit | None) -> Limit | None:
    """What may be lost on a circuit: the shop's own figure, else the one of its place."""
    if own_limit is not None:
        return own_limit
    kind = "lighting" if circuit.serves == "lighting" else "power"
    value = mains.limit(f"voltage-drop-{kind}") or mains.limit("voltage-drop-branch")
    return Limit(value.middle, value.source_record) if value else None


def tell_drop(load: CircuitLoad, mains: Mains, own_limit: Limit | None, ledger: Ledger) -> Drop:
    """Enter the drop along a circuit.

    It is worked out at the circuit's load, at most its device, which lets no more through. A
    load that is not known, and sockets, count as the whole device.

    Parameters
    ----------
    load
        What the circuit carries.
    mains
        How the shop is fed.
    own_limit
        The shop's own limit, where it has set one.
    ledger
        Where the working and what is found are entered.
    """
    circuit, run = load.circuit, _run(load, mains)
    full = is_socketed(circuit) or not load.known
    current = circuit.device_a if full else min(load.flow_a, circuit.device_a)
    drop = Drop(current, None, None, limit_of(circuit, mains, own_limit))
    if run.row is not None:
        volts, percent_ = run.volts(run.row, current), run.percent(run.row, current)
        drop = replace(drop, volts=volts, percent=percent_)
    _tell(run, drop, current if load.known else load.flow_a, ledger)
    return drop


def _tell(run: _Run, drop: Drop, least_a: float, ledger: Ledger) -> None:
    if not drop.current_a:
        return
    if run.row is None or drop.percent is None:
        ledger.checked(answered=False)
        _ask_for_section(run, drop, "", ledger)
        return
    verdict = _verdict(run, drop, least_a)
    working = _work(run, run.row, drop, verdict, ledger)
    if verdict is Verdict.FAILS:
        _find(run, run.row, drop, working, ledger)
    elif verdict is Verdict.UNANSWERED and drop.limit is not None and not run.exact:
        _ask_for_section(run, drop, working, ledger)


def _work(run: _Run, row: Cable, drop: Drop, verdict: Verdict, ledger: Ledger) -> str:
    circuit, limit = run.circuit, drop.limit
    caution = _("From the board on: what is lost before it comes on top.")
    if limit and verdict is not Verdict.HOLDS:
        reach = _("It holds up to {current}.").format(
            current=amps(run.longest_a(row, limit.percent))
        )
        caution = f"{reach} {caution}"
    return ledger.work(
        f"power.circuit.{circuit.id}.drop",
        f"room/circuits/{circuit.id}",
        _("Volt drop along {circuit}").format(circuit=circuit.name),
        _("drop = (mV per ampere and metre × current × length ÷ 1000) ÷ voltage"),
        _inputs(run, drop),
        result=Quantity(run.percent(row, drop.current_a), "%"),
        verdict=verdict,
        limit=(Quantity(limit.percent, "%"), limit.origin) if limit else None,
        source=run.column(row).source_record,
        caution=caution,
    )


def _verdict(run: _Run, drop: Drop, least_a: float) -> Verdict:
    if run.row is None or drop.percent is None or drop.limit is None:
        return Verdict.UNANSWERED
    if drop.percent <= drop.limit.percent + SLACK:
        return Verdict.HOLDS
    certain = run.exact and run.percent(run.row, least_a) > drop.limit.percent + SLACK
    return Verdict.FAILS if certain else Verdict.UNANSWERED


def _inputs(run: _Run, drop: Drop) -> Iterator[Input]:
    circuit = run.circuit
    if run.row is not None:
        yield tabled(
            _("Drop of {section}").format(section=show(run.row.section.middle, "mm2")),
            run.column(run.row),
        )
    yield given(_("Current"), drop.current_a, "A", circuit.origin_of("device_a"))
    yield own(_("Length"), circuit, "cable_m")
    yield own(_("Section"), circuit, "section_mm2")
    yield tabled(_("Voltage"), run.voltage)


def _find(run: _Run, row: Cable, drop: Drop, working: str, ledger: Ledger) -> None:
    circuit, limit = run.circuit, drop.limit.percent if drop.limit else 0.0
    says = _(
        "{circuit} loses {percent} of its voltage along {length} of {section} at {current};"
        " {limit} is the most."
    ).format(
        circuit=circuit.name,
        percent=percent(run.percent(row, drop.current_a)),
        length=show(circuit.cable_m, "m"),
        section=show(circuit.section_mm2, "mm2"),
        current=amps(drop.current_a),
        limit=percent(limit),
    )
    ledger.find(
        "drop", Severity.FIX, circuit.origin_of("section_mm2"), says,
        _mend(run, row, drop.current_a, limit),
        subject=f"room/circuits/{circuit.id}", working=working, asks=ELECTRICIAN,
    )  # fmt: skip


def _mend(run: _Run, row: Cable, current_a: float, limit: float) -> str:
    up_to = amps(run.longest_a(row, limit))
    thick = [c for c in reference().cables if run.percent(c, current_a) <= limit + SLACK]
    if thick:
        section = show(thick[0].section.middle, "mm2")
        mend = _("It holds up to {up_to}; {section} would do for all of it.")
        return mend.format(up_to=up_to, section=section)
    return _("It holds up to {up_to}, and no cable of the table does for all of it.").format(
        up_to=up_to
    )


def _ask_for_section(run: _Run, drop: Drop, working: str, ledger: Ledger) -> None:
    circuit = run.circuit
    says = _("The volt drop of {circuit} is not known: the table has no {section}.").format(
        circuit=circuit.name, section=show(circuit.section_mm2, "mm2")
    )
    mend = _("Ask for the drop of this cable at {current} over {length}.").format(
        current=amps(drop.current_a), length=show(circuit.cable_m, "m")
    )
    ledger.find(
        "drop-unknown", Severity.ASK, circuit.origin_of("section_mm2"), says, mend,
        subject=f"room/circuits/{circuit.id}", working=working,
    )  # fmt: skip
