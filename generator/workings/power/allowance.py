"""The limits that machines running together are held to: circuits, outlets and the main fuse."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _
from generator.shop.records.room import Phase
from generator.workings.power.loads import Bar, CircuitLoad, is_socketed
from generator.workings.power.mains import Mains
from generator.workings.power.phases import PhaseLoad
from generator.workings.power.together import Allowance, Limit


def allowance_of(
    loads: tuple[CircuitLoad, ...], phases: tuple[PhaseLoad, ...], mains: Mains, *, most: bool
) -> Allowance:
    """What a choice of machines is held to.

    Fans run all the time, and so does what is written as a circuit's other load. No diversity
    is used: whatever is chosen runs at once, at full load.

    Parameters
    ----------
    loads, phases, mains
        What hangs where.
    most
        Whether to count each load at the most it can be, so that what is allowed surely is;
        else at the least, so that what is forbidden surely is.
    """
    bars = [bar for load in loads for bar in load.bars]
    machines = tuple(bar.draw.id for bar in bars if bar.draw and not bar.draw.is_fan)
    limits = (
        *(limit for load in loads for limit in _of_circuit(load, most)),
        *(limit for load in loads for limit in _of_outlets(load, most)),
        *(_of_line(phase, mains, most) for phase in phases),
    )
    return Allowance(machines, limits)


def _counted(bar: Bar, most: bool) -> float:
    return bar.counted_most_a if most else bar.counted_a


def _is_machine(bar: Bar) -> bool:
    return bar.draw is not None and not bar.draw.is_fan


def _loads(bars: list[Bar], most: bool) -> dict[str, float]:
    return {bar.draw.id: _counted(bar, most) for bar in bars if bar.draw and _is_machine(bar)}


def _of_circuit(load: CircuitLoad, most: bool) -> Iterator[Limit]:
    """Each phase of a circuit against its device; what is plugged in is for those who do so."""
    circuit = load.circuit
    for phase in circuit.phases:
        bars = [bar for bar in load.bars if phase in bar.phases]
        standing = [
            bar.counted_a if bar.draw is None and is_socketed(circuit) else _counted(bar, most)
            for bar in bars
            if not _is_machine(bar)
        ]
        yield Limit(
            "circuit", load.subject, _circuit_name(load, phase), circuit.device_a,
            sum(standing), _loads(bars, most),
        )  # fmt: skip


def _circuit_name(load: CircuitLoad, phase: Phase) -> str:
    name = str(load.circuit.name)
    return f"{name}, {phase}" if len(load.circuit.phases) > 1 else name


def _of_outlets(load: CircuitLoad, most: bool) -> Iterator[Limit]:
    for id_, outlet in load.circuit.outlets.items():
        plugged = [bar for bar in load.bars if bar.draw and bar.draw.outlet == id_]
        if plugged:
            name = _("outlet {outlet} of {circuit}").format(outlet=id_, circuit=load.circuit.name)
            drawn = {b.draw.id: (b.most_a if most else b.amps) for b in plugged if b.draw}
            yield Limit("outlet", load.subject, name, outlet.rating_a, 0.0, drawn)


def _of_line(phase: PhaseLoad, mains: Mains, most: bool) -> Limit:
    bars = [share.bar for share in phase.shares]
    standing = [
        (share.most_a if most else share.asked_a)
        if share.bar.draw is None
        else _counted(share.bar, most)
        for share in phase.shares
        if not _is_machine(share.bar)
    ]
    name = _("main fuse, {line}").format(line=phase.line)
    return Limit("main", "room/supply", name, mains.fuse_a, sum(standing), _loads(bars, most))
