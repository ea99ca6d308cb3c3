"""What each circuit carries with everything on it running, load by load."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.shop.records.machines import Machine
from generator.shop.records.room import Circuit, Phase
from generator.workings.power.draws import Draw
from generator.workings.power.mains import Mains


@dataclass(frozen=True, slots=True)
class Bar:
    """One load of a circuit, as a drawing stacks them.

    ``amps`` flows in each of its phases at least [A], ``most_a`` at most [A]; the country's
    rule counts both ``factor`` times. ``draw`` is None for what is not written
    machine by machine, such as lamps.
    """

    name: str
    phases: tuple[Phase, ...]
    amps: float
    most_a: float
    factor: float
    origin: Origin
    draw: Draw | None = None

    @property
    def counted_a(self) -> float:
        return self.factor * self.amps

    @property
    def counted_most_a(self) -> float:
        return self.factor * self.most_a


@dataclass(frozen=True, slots=True)
class CircuitLoad:
    """What a circuit carries with everything on it running.

    ``by_phase`` is what each of its phases carries at least, as the rule counts it [A], and
    ``known`` whether that is all of it. ``design_a`` is the most loaded phase.
    """

    circuit: Circuit
    bars: tuple[Bar, ...]
    by_phase: Mapping[Phase, float]
    known: bool

    @property
    def subject(self) -> str:
        return f"room/circuits/{self.circuit.id}"

    @property
    def draws(self) -> tuple[Draw, ...]:
        return tuple(bar.draw for bar in self.bars if bar.draw)

    @property
    def design_a(self) -> float:
        return max(self.by_phase.values())

    @property
    def flow_a(self) -> float:
        """What flows in its most loaded phase at least, whatever the rule counts it as [A]."""
        return max(
            sum(bar.amps for bar in self.bars if phase in bar.phases)
            for phase in self.circuit.phases
        )

    @property
    def heaviest(self) -> Phase:
        """The phase that carries most."""
        return max(self.by_phase, key=self.by_phase.__getitem__)


def is_socketed(circuit: Circuit) -> bool:
    """Whether anything may be plugged in: its load is then whatever its device lets through."""
    return circuit.serves == "sockets" and circuit.other_load_a is None


def is_dark(circuit: Circuit, draws: tuple[Draw, ...]) -> bool:
    """Whether it must carry something that nobody has written down, such as its lamps."""
    unwritten = circuit.other_load_a is None
    return unwritten and (
        circuit.serves == "lighting" or (circuit.serves == "heating" and not draws)
    )


def load_of(circuit: Circuit, draws: Iterable[Draw], mains: Mains) -> CircuitLoad:
    """What a circuit carries with all of ``draws`` running on it."""
    there = tuple(draws)
    bars = tuple(_bars(circuit, there, mains))
    known = not is_dark(circuit, there) and not any(draw.missing for draw in there)
    by_phase = {
        phase: sum(bar.counted_a for bar in bars if phase in bar.phases) for phase in circuit.phases
    }
    return CircuitLoad(circuit, bars, by_phase, known)


def _bars(circuit: Circuit, draws: tuple[Draw, ...], mains: Mains) -> Iterator[Bar]:
    for draw in draws:
        plate = draw.record.electric if isinstance(draw.record, Machine) else draw.record
        assert plate is not None
        factor = mains.continuous_factor if draw.continuous else 1.0
        yield Bar(
            draw.name, draw.phases, draw.amps, draw.most_a, factor,
            plate.origin_of("power_kw"), draw,
        )  # fmt: skip
    rest = _rest(circuit, draws, mains)
    if rest is not None:
        yield rest


def _rest(circuit: Circuit, draws: tuple[Draw, ...], mains: Mains) -> Bar | None:
    """What hangs on a circuit beside machines and fans; lamps burn for hours."""
    words = {"lighting": _("Lamps"), "sockets": _("What is plugged in")}
    name = words.get(circuit.serves, _("What else it carries"))
    least = circuit.other_load_a or 0.0
    open_ended = is_socketed(circuit) or is_dark(circuit, draws)
    if not least and not open_ended:
        return None
    most = circuit.device_a if open_ended else least
    factor = mains.continuous_factor if circuit.serves == "lighting" else 1.0
    return Bar(name, circuit.phases, least, most, factor, circuit.origin_of("other_load_a"))
