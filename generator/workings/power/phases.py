"""What each phase carries, how even the phases are, and what the main fuse makes of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict
from generator.reference import reference
from generator.shop.records.room import Phase
from generator.workings.power.formulas import imbalance_percent
from generator.workings.power.loads import Bar, CircuitLoad, is_socketed
from generator.workings.power.mains import Mains
from generator.workings.power.telling import (
    ELECTRICIAN,
    SLACK,
    Ledger,
    amps,
    judged,
    named,
    percent,
)
from generator.workings.shown import given, tabled


@dataclass(frozen=True, slots=True)
class Share:
    """One load of a phase with its diversity.

    ``asked_a`` is what it asks of the main fuse at least, ``most_a`` at most [A].
    ``diversity`` is the key of the limit that says so, "" where it counts whole.
    """

    bar: Bar
    circuit: str
    asked_a: float
    most_a: float
    diversity: str = ""
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class PhaseLoad:
    """One line of the supply with everything that hangs on it.

    ``connected_a`` is the plain sum of what is known [A], ``demand_a`` what the main fuse must
    carry at least, with the diversity that is allowed, and ``most_a`` at most [A].
    """

    line: Phase
    shares: tuple[Share, ...]
    fuse_a: float

    @property
    def connected_a(self) -> float:
        return sum(share.bar.amps for share in self.shares)

    @property
    def demand_a(self) -> float:
        return sum(share.asked_a for share in self.shares)

    @property
    def most_a(self) -> float:
        return sum(share.most_a for share in self.shares)


@dataclass(frozen=True, slots=True)
class Balance:
    """How far the phases are from carrying the same [%], and the move that would help most.

    ``move`` is a circuit's id, the line to put it on and the imbalance then [%]; None where no
    move of one circuit helps.
    """

    percent: float
    known: bool
    move: tuple[str, Phase, float] | None


# --- what each line carries --------------------------------------------------------------------


def phases_of(loads: tuple[CircuitLoad, ...], mains: Mains) -> tuple[PhaseLoad, ...]:
    """What hangs on each line, with the diversity the country's rule allows at the main fuse."""
    return tuple(_phase(line, loads, mains) for line in mains.lines)


def _phase(line: Phase, loads: tuple[CircuitLoad, ...], mains: Mains) -> PhaseLoad:
    there = [(load, bar) for load in loads for bar in load.bars if line in bar.phases]
    largest = max(
        (bar for _load, bar in there if bar.draw), key=lambda bar: bar.most_a, default=None
    )
    shares = tuple(_share(load, bar, bar is largest, mains) for load, bar in there)
    return PhaseLoad(line, shares, mains.fuse_a)


def _share(load: CircuitLoad, bar: Bar, is_largest: bool, mains: Mains) -> Share:
    circuit = load.circuit
    if bar.draw is None and mains.diverse and is_socketed(circuit):
        share = reference().limit("diversity-sockets").middle
        asked = share * circuit.device_a
        return Share(bar, circuit.id, asked, asked, "diversity-sockets", share)
    key = "" if is_largest else diversity_of(bar, mains)
    factor = reference().limit(key).high if key else 1.0
    return Share(bar, circuit.id, factor * bar.counted_a, factor * bar.counted_most_a, key, factor)


def diversity_of(bar: Bar, mains: Mains) -> str:
    """The limit that holds the trade's diversity of a load, "" where it counts whole.

    The upper end of its range is used. Fans, and what runs for hours and is no heater, count
    whole, and so does everything where the country's rule is not the IEC's.
    """
    draw = bar.draw
    if draw is None or not mains.diverse:
        return ""
    if draw.character == "heater":
        return "diversity-heaters"
    return "diversity-motors" if draw.character == "motor" and not draw.continuous else ""


def balance_of(
    phases: tuple[PhaseLoad, ...], loads: tuple[CircuitLoad, ...], mains: Mains
) -> Balance | None:
    """How even the lines are with everything connected, None for a supply of one line."""
    if len(phases) < 2:
        return None
    carried = {phase.line: _weighed(phase) for phase in phases}
    known = all(load.known and (mains.diverse or not is_socketed(load.circuit)) for load in loads)
    now = imbalance_percent(list(carried.values()))
    return Balance(now, known, _best_move(carried, loads, now))


def _weighed(phase: PhaseLoad) -> float:
    """What a line carries with sockets at their usual share and the rest whole [A]."""
    return sum(max(s.bar.amps, s.asked_a if s.bar.draw is None else 0) for s in phase.shares)


def _best_move(
    carried: Mapping[Phase, float], loads: tuple[CircuitLoad, ...], now: float
) -> tuple[str, Phase, float] | None:
    moves = [
        (load.circuit.id, line, imbalance_percent(_moved(carried, load, line)))
        for load in loads
        for line in carried
        if len(load.circuit.phases) == 1 and line not in load.circuit.phases
    ]
    best = min(moves, key=lambda move: move[2], default=None)
    return best if best and best[2] < now - 1 else None


def _moved(carried: Mapping[Phase, float], load: CircuitLoad, line: Phase) -> list[float]:
    moved = dict(carried)
    moved[load.circuit.phases[0]] -= load.flow_a
    moved[line] += load.flow_a
    return list(moved.values())


# --- telling -----------------------------------------------------------------------------------


def tell_main_fuse(phases: tuple[PhaseLoad, ...], mains: Mains, ledger: Ledger) -> None:
    """Hold what each line asks for against the main fuse; what is over is one finding."""
    over, open_ = [], []
    for phase in phases:
        verdict = judged(phase.demand_a, phase.most_a, phase.fuse_a)
        working = ledger.work(
            f"power.main.{phase.line.lower()}",
            "room/supply",
            _("Demand on {line} with everything connected").format(line=phase.line),
            _main_formula(mains),
            _main_inputs(phase, mains),
            result=Quantity(phase.demand_a, "A"),
            verdict=verdict,
            limit=(Quantity(phase.fuse_a, "A"), mains.own.origin_of("main_fuse_a")),
            source=_main_source(phase, mains),
        )
        if verdict is Verdict.FAILS:
            over.append((phase, working))
        elif verdict is Verdict.UNANSWERED:
            open_.append((phase, working))
    if over:
        _find_over(over, mains, ledger)
    if open_:
        _ask_for_loads(open_, mains, ledger)


def _main_formula(mains: Mains) -> str:
    if mains.diverse:
        return _("demand = sum of each load × its diversity; the largest load counts whole")
    if mains.continuous:
        return _("demand = sum of the loads, what runs for hours counted {factor} times").format(
            factor=mains.continuous_factor
        )
    return _("demand = sum of the loads, without diversity")


def _main_inputs(phase: PhaseLoad, mains: Mains) -> Iterator[Input]:
    for share in phase.shares:
        name = share.bar.name
        if share.diversity:
            name = _("{name} × {factor}").format(name=name, factor=share.factor)
        yield given(name, share.asked_a, "A", share.bar.origin)
    for key in _diversities(phase):
        row = reference().limits[key]
        yield tabled(_(row.title), row.values[0], row.values[0].high)
    if mains.continuous:
        yield tabled(_("Factor on what runs for hours"), mains.continuous)


def _diversities(phase: PhaseLoad) -> tuple[str, ...]:
    return tuple(dict.fromkeys(s.diversity for s in phase.shares if s.diversity))


def _main_source(phase: PhaseLoad, mains: Mains) -> Source | None:
    keys = _diversities(phase)
    value = reference().limit(keys[0]) if keys else mains.continuous
    return value.source_record if value else None


def _find_over(over: list[tuple[PhaseLoad, str]], mains: Mains, ledger: Ledger) -> None:
    lines = named([f"{phase.line} {amps(phase.demand_a)}" for phase, _working in over])
    told = (
        _("With the usual diversity everything asks for {lines}; the main fuse is {fuse}.")
        if mains.diverse
        else _("Everything connected asks for {lines}; the main fuse is {fuse}.")
    )
    ledger.find(
        "main-fuse", Severity.FIX, mains.own.origin_of("main_fuse_a"),
        told.format(lines=lines, fuse=show(mains.fuse_a, "a")),
        _(
            "Hang what may run together at the board and keep to it, or ask for a larger supply"
            " or a switch that sheds load."
        ),
        subject="room/supply", working=over[0][1], asks=ELECTRICIAN,
    )  # fmt: skip


def _ask_for_loads(open_: list[tuple[PhaseLoad, str]], mains: Mains, ledger: Ledger) -> None:
    lines = [
        _("{line} {least} to {most}").format(
            line=phase.line, least=amps(phase.demand_a), most=amps(phase.most_a)
        )
        for phase, _working in open_
    ]
    unknown = dict.fromkeys(
        share.bar.name for phase, _working in open_ for share in phase.shares
        if share.most_a > share.asked_a + SLACK
    )  # fmt: skip
    says = _("Everything connected asks for {lines}; the main fuse is {fuse}.")
    ledger.find(
        "main-fuse-unknown", Severity.ASK, mains.own.origin_of("main_fuse_a"),
        says.format(lines=named(lines), fuse=show(mains.fuse_a, "a")),
        _("Have measured or read what is not known: {names}.").format(names=named(list(unknown))),
        subject="room/supply", working=open_[0][1],
    )  # fmt: skip


def tell_balance(
    balance: Balance, phases: tuple[PhaseLoad, ...], loads: tuple[CircuitLoad, ...], ledger: Ledger
) -> None:
    """Enter how even the phases are; past the trade's lower flag it is worth a look."""
    flag = reference().limit("current-imbalance-flag")
    known = Verdict.HOLDS if balance.percent <= flag.high + SLACK else Verdict.FAILS
    working = ledger.work(
        "power.balance",
        "room/supply",
        _("Imbalance of the phases with everything connected"),
        _("largest difference from the mean ÷ mean"),
        [given(phase.line, _weighed(phase), "A", loads[0].circuit.origin) for phase in phases],
        result=Quantity(balance.percent, "%"),
        verdict=known if balance.known else Verdict.UNANSWERED,
        limit=(Quantity(flag.high, "%"), flag.source_record),
        source=flag.source_record,
    )
    if balance.percent > flag.low + SLACK and balance.known:
        _find_imbalance(balance, phases, loads, working, ledger)


def _find_imbalance(
    balance: Balance,
    phases: tuple[PhaseLoad, ...],
    loads: tuple[CircuitLoad, ...],
    working: str,
    ledger: Ledger,
) -> None:
    flag = reference().limit("current-imbalance-flag")
    says = _("The phases carry {lines} with everything connected: {percent} from even.").format(
        lines=named([f"{phase.line} {amps(_weighed(phase))}" for phase in phases]),
        percent=percent(balance.percent),
    )
    severe = balance.percent > flag.high
    ledger.find(
        "imbalance", Severity.FIX if severe else Severity.NOTE, loads[0].circuit.origin, says,
        _move(balance, loads), subject="room/supply", working=working, asks=ELECTRICIAN,
    )  # fmt: skip


def _move(balance: Balance, loads: tuple[CircuitLoad, ...]) -> str:
    if balance.move is None:
        return _("No move of one circuit makes it better; ask when the next one is laid.")
    id_, line, then = balance.move
    name = next(load.circuit.name for load in loads if load.circuit.id == id_)
    return _("With {circuit} on {line} it would be {percent}.").format(
        circuit=name, line=line, percent=percent(then)
    )
