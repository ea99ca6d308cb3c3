"""Does the supply carry the machines? Loads, what may run at once, energy, an outage."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.bars import Bar, Chart
from generator.drawings.layers import Worked
from generator.drawings.layers.circuits import phase_words
from generator.ground.prices import money
from generator.ground.units import show, show_number
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.figure import figure
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.room.sets import may_run
from generator.handbook.subjects import Section, subject_page, worst_first
from generator.handbook.tables import Cell, Column, Table, verdict_cell
from generator.handbook.words import restart_sentence
from generator.shop.shop import Shop
from generator.workings.power import PowerStudy
from generator.workings.power.energy import Energy, Running
from generator.workings.power.loads import CircuitLoad
from generator.workings.power.outage import FanStop, Outage
from generator.workings.power.phases import PhaseLoad
from generator.workings.power.sessions import SessionPower
from generator.workings.power.telling import amps, named

_PATH = "room/power"


def page(desk: Desk) -> Page:
    """Power."""
    power, shop = desk.studies.power, desk.shop
    findings = worst_first(power.survey.findings)
    return subject_page(
        _PATH,
        _("Power"),
        "RO-02",
        (power.survey,),
        says=_says(power),
        figure=figure(desk, _PATH, Worked(power=power), findings),
        sections=charts(desk),
        tables=[
            may_run(shop, power.sets),
            _sessions(shop, power.sessions),
            _energy(power.energy),
            _outage(power.outage),
        ],
        workings=grouped(shop, power.survey.workings),
    )


def _says(power: PowerStudy) -> str:
    """Whether everything may run at once, in a sentence."""
    over = [str(load.circuit.name) for load in power.loads if load.bars and _is_over(load)]
    lines = [phase.line for phase in power.phases if phase.demand_a > phase.fuse_a + 1e-6]
    if lines:
        over.append(_("the main fuse on {lines}").format(lines=named(lines)))
    if over:
        return _("Not everything may run at once: it is too much for {what}.").format(
            what=named(over)
        )
    return _("With everything running no circuit and no line of the main fuse carries too much.")


def _is_over(load: CircuitLoad) -> bool:
    return load.design_a > load.circuit.device_a + 1e-6


def charts(desk: Desk) -> list[Section]:
    """Load bars for each circuit and each line."""
    return [_loads(desk.studies.power)]


# --- load bars -----------------------------------------------------------------------------------


def _loads(power: PowerStudy) -> Section:
    circuits = Chart(
        _("Each circuit with everything on it running; the stroke is its device"),
        "A",
        tuple(_circuit_bar(load) for load in power.loads if load.bars),
    )
    phases = Chart(
        _("Each line with everything running; the stroke is the main fuse"),
        "A",
        tuple(_phase_bar(phase) for phase in power.phases),
    )
    return Section(
        _("Loads"),
        charts=tuple(chart for chart in (circuits, phases) if chart.bars),
    )


def _circuit_bar(load: CircuitLoad) -> Bar:
    circuit = load.circuit
    on_line = [bar for bar in load.bars if load.heaviest in bar.phases]
    name = _("{circuit}, {phases}").format(circuit=circuit.name, phases=phase_words(circuit.phases))
    most = sum(bar.counted_most_a for bar in on_line)
    parts = [f"{bar.name}\u00a0{amps(bar.counted_a)}" for bar in on_line]
    return Bar(
        name,
        tuple(bar.counted_a for bar in on_line),
        _of(load.design_a, circuit.device_a),
        circuit.device_a,
        most=min(most, circuit.device_a) if not load.known else 0.0,
        note=", ".join(parts) if len(parts) > 1 else "",
    )


def _phase_bar(phase: PhaseLoad) -> Bar:
    by_circuit: dict[str, float] = {}
    for share in phase.shares:
        by_circuit[share.circuit] = by_circuit.get(share.circuit, 0.0) + share.asked_a
    connected = _("{amps} connected").format(amps=amps(phase.connected_a))
    return Bar(
        phase.line,
        tuple(by_circuit.values()),
        _of(phase.demand_a, phase.fuse_a),
        phase.fuse_a,
        note=_("{connected}; counted with the diversity that the main fuse allows").format(
            connected=connected
        ),
    )


def _of(has: float, limit: float) -> str:
    return _("{has} of {limit}").format(has=show_number(has, 1), limit=show(limit, "a"))


# --- sessions ------------------------------------------------------------------------------------


def _sessions(shop: Shop, sessions: tuple[SessionPower, ...]) -> Section:
    columns = (
        Column(_("Session")),
        Column(_("Runs")),
        Column(_("Fullest")),
        Column(_("Load"), figures=True),
        Column(_("Verdict")),
    )
    rows = tuple(tuple(_session_row(shop, session)) for session in sessions)
    return Section(
        _("Sessions against the limits"),
        _("Each session at its fullest moment, the hot machines on from heating up."),
        tables=(Table(columns, rows),) if rows else (),
    )


def _session_row(shop: Shop, power: SessionPower) -> Iterator[Cell]:
    yield Cell(str(power.session.name))
    worst = power.worst
    if worst is None or worst.busiest is None:
        yield Cell(_("nothing that draws"))
        yield Cell("")
        yield Cell("")
        yield verdict_cell(power.verdict)
        return
    shown = worst.over[0] if worst.over else worst.busiest
    yield Cell(named([str(shop.machines[m].name) for m in worst.machines]))
    when = worst.clock if power.session.timetable else _("no timetable: all at once")
    yield Cell(shown.limit.name, small=when)
    yield Cell(_of(shown.load_a, shown.limit.most_a), working=f"power.session.{power.session.id}")
    yield verdict_cell(power.verdict)


# --- energy --------------------------------------------------------------------------------------


def _energy(energy: Energy) -> Section:
    columns = (
        Column(_("Machine or fan")),
        Column(_("An hour"), figures=True),
        Column(_("Heating up"), figures=True),
        Column(_("A kilogram"), figures=True),
        Column(_("A year"), figures=True),
        Column(_("Costs a year"), figures=True),
    )
    rows = [tuple(_energy_row(energy, running)) for running in energy.running]
    cost = energy.cost(energy.year_kwh)
    rows.append(
        (
            Cell(_("Together"), style="strong"), Cell(""), Cell(""), Cell(""),
            Cell(_kwh(energy.year_kwh, 0), working="power.energy.year", style="strong"),
            Cell(money(cost) if cost else "", working="power.energy.cost" if cost else "",
                 style="strong"),
        )
    )  # fmt: skip
    price = energy.price
    lead = ngettext("Open {n} week of the year", "Open {n} weeks of the year", 2).format(
        n=show_number(energy.weeks, 1)
    )
    if price:
        lead += _("; a kilowatt-hour costs {price}").format(price=money(price))
    return Section(_("Energy and cost"), lead + ".", tables=(Table(columns, tuple(rows)),))


def _energy_row(energy: Energy, running: Running) -> Iterator[Cell]:
    draw = running.draw
    yield Cell(draw.name)
    least = "" if running.known else _("at least")
    yield Cell(_kwh(running.hour_kwh, 2), small=least)
    yield Cell(_kwh(running.heat_up_kwh, 2))
    yield Cell(_kwh(running.kilogram_kwh, 2))
    without = _("hours not written") if running.year_kwh is None else ""
    yield Cell(_kwh(running.year_kwh, 0), small=without)
    cost = energy.cost(running.year_kwh)
    yield Cell(money(cost) if cost else "")


def _kwh(value: float | None, digits: int) -> str:
    return "" if value is None else show(value, "kwh", digits)


# --- outage --------------------------------------------------------------------------------------


def _outage(outage: Outage) -> Section:
    machines = Table(
        (Column(_("Machine")), Column(_("When power comes back"))),
        tuple(
            (
                Cell(str(back.machine.name), record=back.machine),
                Cell(
                    restart_sentence(back.machine),
                    style="" if back.restarts is False else "sev ask" if back.restarts is None
                    else "sev fix",
                ),
            )
            for back in outage.returns
        ),
    )  # fmt: skip
    fans = Table(
        (
            Column(_("Fan")),
            Column(_("Goes off with")),
            Column(_("Goes on heating under it")),
            Column(_("Stays hot"), figures=True),
        ),
        tuple(tuple(_fan_row(stop)) for stop in outage.fans),
    )
    tables = tuple(table for table in (machines, fans) if table.rows)
    return Section(_("When the power goes and comes back"), tables=tables)


def _fan_row(stop: FanStop) -> Iterator[Cell]:
    yield Cell(str(stop.fan.name))
    yield Cell(str(stop.circuit.name) if stop.circuit else _("not recorded"))
    heating = [str(machine.name) for machine in stop.heating]
    yield Cell(named(heating) or _("nothing"), style="sev fix" if heating else "")
    hot = stop.hot_for_min
    working = f"power.fan.{stop.fan.id}.outage" if hot is not None else ""
    yield Cell(_("not recorded") if hot is None else show(hot, "min"), working=working)
