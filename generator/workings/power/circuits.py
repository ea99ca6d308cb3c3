"""Each circuit held against its device, its cable and its outlets under the country's rule."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict
from generator.reference import Value, reference
from generator.shop.records.room import Circuit
from generator.workings.power.formulas import (
    as_laid_a,
    awg_mm2,
    next_rating_a,
    with_continuous_a,
)
from generator.workings.power.loads import CircuitLoad, is_dark, is_socketed
from generator.workings.power.mains import Mains
from generator.workings.power.telling import ELECTRICIAN, SLACK, Ledger, amps, judged, named
from generator.workings.shown import given, own, tabled

_GAUGES = (14, 12, 10)
_ROUNDED = 0.01
"""Sections are written rounded: 3.3 mm² is 12 AWG."""


def tell_circuit(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    """Hold a circuit against its device, its cable and its outlets."""
    _tell_load(load, mains, ledger)
    if _is_motor_circuit(load, mains):
        _tell_motor_conductor(load, mains, ledger)
        _tell_motor_breaker(load, mains, ledger)
    else:
        _tell_cable(load, mains, ledger)
    _tell_rating(load, mains, ledger)
    _tell_outlets(load, ledger)


def _tell_load(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    circuit, device = load.circuit, load.circuit.device_a
    if not load.bars:
        return
    verdict = judged(load.design_a, load.design_a if load.known else float("inf"), device)
    working = ledger.work(
        f"power.circuit.{circuit.id}.load",
        load.subject,
        _("Load of {circuit} with everything on it running").format(circuit=circuit.name),
        _load_formula(load, mains),
        _load_inputs(load, mains),
        result=Quantity(load.design_a, "A"),
        verdict=verdict,
        limit=(Quantity(device, "A"), circuit.origin_of("device_a")),
        source=mains.continuous.source_record if mains.continuous else None,
    )
    if verdict is Verdict.FAILS:
        _find_overload(load, working, ledger)
    elif is_dark(circuit, load.draws):
        _ask_what_it_carries(load, working, ledger)


def _load_formula(load: CircuitLoad, mains: Mains) -> str:
    told = _("load = sum of the currents on its most loaded phase, {phase}").format(
        phase=load.heaviest
    )
    if mains.continuous:
        runs_on = _("what runs three hours or more counted {factor} times").format(
            factor=mains.continuous_factor
        )
        told = f"{told}, {runs_on}"
    if is_socketed(load.circuit):
        told = f"{told}; {_('what is plugged in besides is whatever its device lets through')}"
    return told


def _load_inputs(load: CircuitLoad, mains: Mains) -> Iterator[Input]:
    for bar in load.bars:
        if load.heaviest in bar.phases and bar.amps:
            yield given(bar.name, bar.amps, "A", bar.origin)
    if mains.continuous:
        yield tabled(_("Factor on what runs for hours"), mains.continuous)


def _find_overload(load: CircuitLoad, working: str, ledger: Ledger) -> None:
    circuit = load.circuit
    says = _(
        "{circuit} carries {load} on {phase} with everything on it running; its device is {device}."
    ).format(
        circuit=circuit.name,
        load=amps(load.design_a),
        phase=load.heaviest,
        device=show(circuit.device_a, "a"),
    )
    ledger.find(
        "overload", Severity.FIX, circuit.origin_of("device_a"), says, _relief(load),
        subject=load.subject, working=working,
    )  # fmt: skip


def _relief(load: CircuitLoad) -> str:
    """What would bring the load within the device."""
    over = load.design_a - load.circuit.device_a
    on_phase = [bar for bar in load.bars if load.heaviest in bar.phases]
    enough = [bar.name for bar in on_phase if bar.counted_a >= over - SLACK]
    if len(on_phase) > 1 and enough:
        without = _("Run it without one of these: {names}. Or have one moved to another circuit.")
        return without.format(names=named(enough))
    if len(on_phase) > 1:
        return _("Have {over} of it moved to other circuits.").format(over=amps(over))
    return _("Have it put on a circuit of {amps} or more.").format(amps=amps(load.design_a))


def _ask_what_it_carries(load: CircuitLoad, working: str, ledger: Ledger) -> None:
    circuit = load.circuit
    says = _("What {circuit} carries is not written.").format(circuit=circuit.name)
    mend = _(
        "Have it read with everything on, and write it as `other_load`: until then it counts as"
        " its whole {device}."
    ).format(device=show(circuit.device_a, "a"))
    ledger.find(
        "other-load", Severity.ASK, circuit.origin_of("serves"), says, mend,
        subject=load.subject, working=working,
    )  # fmt: skip


# --- the cable ---------------------------------------------------------------------------------


def _tell_cable(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    """The device lets through no more than the cable carries."""
    circuit = load.circuit
    carried, small = circuit.cable_rating_a, _small_copper(circuit, mains)
    most = min(carried or float("inf"), small.middle if small else float("inf"))
    by_rule = small is not None and most == small.middle
    fails = circuit.device_a > most + SLACK
    answered = Verdict.HOLDS if carried is not None else Verdict.UNANSWERED
    says_so = small.source_record if small and by_rule else circuit.origin_of("cable_rating_a")
    working = ledger.work(
        f"power.circuit.{circuit.id}.cable",
        load.subject,
        _("Device of {circuit} against its cable").format(circuit=circuit.name),
        _("rating of the device ≤ what the cable carries as laid"),
        [own(_("Device"), circuit, "device_a"), own(_("Section"), circuit, "section_mm2")],
        result=Quantity(circuit.device_a, "A"),
        verdict=Verdict.FAILS if fails else answered,
        limit=None if most == float("inf") else (Quantity(most, "A"), says_so),
    )
    if fails:
        _find_thin_cable(load, most, mains, working, ledger)
    elif carried is None:
        _ask_for_cable(load, working, ledger)


def _small_copper(circuit: Circuit, mains: Mains) -> Value | None:
    """The largest device the American rule lets protect a small conductor, if it is one."""
    if mains.row.rule != "nec" or circuit.section_mm2 > awg_mm2(_GAUGES[-1]) * (1 + _ROUNDED):
        return None
    fitting = [g for g in _GAUGES if awg_mm2(g) * (1 - _ROUNDED) <= circuit.section_mm2]
    gauge = min(fitting, default=_GAUGES[0])
    return reference().small_copper[f"{gauge} AWG"]


def _find_thin_cable(
    load: CircuitLoad, carried: float, mains: Mains, working: str, ledger: Ledger
) -> None:
    circuit = load.circuit
    smaller = max((r for r in mains.row.ratings if r <= carried + SLACK), default=None)
    says = _("{circuit}: its device lets {device} through, and its cable carries {cable}.").format(
        circuit=circuit.name, device=show(circuit.device_a, "a"), cable=show(carried, "a", 1)
    )
    if smaller is None:
        mend = _("Leave it off until the electrician has changed the cable.")
    else:
        mend = _(
            "Leave it off until the electrician has fitted a device of {rating} or a thicker cable."
        ).format(rating=show(smaller, "a"))
    ledger.find(
        "cable", Severity.STOP, circuit.origin_of("device_a"), says, mend,
        subject=load.subject, working=working, asks=ELECTRICIAN,
    )  # fmt: skip


def _ask_for_cable(load: CircuitLoad, working: str, ledger: Ledger) -> None:
    circuit = load.circuit
    in_table = {
        key: circuit.device_a / as_laid_a(1.0, reference().limit(key).middle)
        for key in ("grouping-factor-2", "grouping-factor-3", "ambient-factor-40")
    }
    says = _("What the cable of {circuit} carries as laid is not written ({section}, {length}).")
    mend = _(
        "Ask the installer: at least {device}, so in the cable's table {two} where two circuits"
        " lie together, {three} where three do, {warm} at 40 °C."
    ).format(
        device=show(circuit.device_a, "a"),
        two=amps(in_table["grouping-factor-2"]),
        three=amps(in_table["grouping-factor-3"]),
        warm=amps(in_table["ambient-factor-40"]),
    )
    says = says.format(
        circuit=circuit.name,
        section=show(circuit.section_mm2, "mm2"),
        length=show(circuit.cable_m, "m"),
    )
    ledger.find(
        "cable-rating", Severity.ASK, circuit.origin_of("section_mm2"), says, mend,
        subject=load.subject, working=working,
    )  # fmt: skip


# --- motors under the NEC ----------------------------------------------------------------------


def _is_motor_circuit(load: CircuitLoad, mains: Mains) -> bool:
    """A circuit of motors alone, whose device only guards against short circuits."""
    motors = bool(load.draws) and all(draw.character == "motor" for draw in load.draws)
    return mains.row.rule == "nec" and motors and len(load.bars) == len(load.draws)


def motor_conductor_a(currents_a: Iterable[float], factor: float) -> float:
    r"""What the conductor of a motor circuit must carry under the NEC [A].

    .. math:: k\,I_{largest} + \sum I_{others}

    Parameters
    ----------
    currents_a
        Full-load current of each motor [A].
    factor
        1.25 [-].

    References
    ----------
    NEC 430.22, 430.24.
    """
    largest, *others = sorted(currents_a, reverse=True)
    return with_continuous_a(sum(others), largest, factor)


def motor_breaker_a(
    currents_a: Iterable[float], factor: float, ratings_a: Iterable[float]
) -> float:
    r"""The largest breaker of a motor circuit under the NEC [A].

    The next standard rating from the factor times the largest current, with the other
    currents added. Beyond the standard ratings, the bare product.

    Parameters
    ----------
    currents_a
        Full-load current of each motor [A].
    factor
        2.5 for an inverse-time breaker [-].
    ratings_a
        Standard ratings [A].

    References
    ----------
    NEC 430.52, 430.62.
    """
    largest, *others = sorted(currents_a, reverse=True)
    alone = factor * largest
    return (next_rating_a(alone, ratings_a) or alone) + sum(others)


def _tell_motor_conductor(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    circuit, factor = load.circuit, mains.rule_figure("motor-conductor")
    needed = motor_conductor_a((d.amps for d in load.draws), factor.middle / 100)
    carried = circuit.cable_rating_a
    most = needed if load.known else float("inf")
    verdict = Verdict.UNANSWERED if carried is None else judged(needed, most, carried)
    working = ledger.work(
        f"power.circuit.{circuit.id}.cable",
        load.subject,
        _("Conductor of the motor circuit {circuit}").format(circuit=circuit.name),
        _("125 % of the largest motor's current + the other motors' ≤ what the cable carries"),
        [*_load_inputs(load, mains), tabled(_("Factor on the largest"), factor)],
        result=Quantity(needed, "A"),
        verdict=verdict,
        limit=(Quantity(carried, "A"), circuit.origin_of("cable_rating_a")) if carried else None,
        source=factor.source_record,
    )
    if carried is None:
        _ask_for_cable(load, working, ledger)
    elif verdict is Verdict.FAILS:
        says = _("{circuit}: its motors need a conductor for {needed}, and it carries {cable}.")
        ledger.find(
            "cable", Severity.STOP, circuit.origin_of("cable_rating_a"),
            says.format(circuit=circuit.name, needed=amps(needed), cable=show(carried, "a", 1)),
            _("Leave it off until the electrician has changed the cable."),
            subject=load.subject, working=working, asks=ELECTRICIAN,
        )  # fmt: skip


def _tell_motor_breaker(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    circuit, factor = load.circuit, mains.rule_figure("motor-breaker")
    most = motor_breaker_a(
        (draw.amps for draw in load.draws), factor.middle / 100, mains.row.ratings
    )
    fails = circuit.device_a > most + SLACK
    verdict = Verdict.HOLDS if not fails else Verdict.FAILS if load.known else Verdict.UNANSWERED
    working = ledger.work(
        f"power.circuit.{circuit.id}.breaker",
        load.subject,
        _("Breaker of the motor circuit {circuit}").format(circuit=circuit.name),
        _("breaker ≤ next standard rating from 250 % of the largest motor + the other motors"),
        [own(_("Device"), circuit, "device_a"), tabled(_("Factor on the largest"), factor)],
        result=Quantity(circuit.device_a, "A"),
        verdict=verdict,
        limit=(Quantity(most, "A"), factor.source_record),
        source=factor.source_record,
        caution=_("The code takes the motor's current from its own tables, not from the plate."),
    )
    if verdict is Verdict.FAILS:
        says = _("{circuit}: its breaker is {device}, and for its motors {most} is the most.")
        ledger.find(
            "breaker", Severity.FIX, circuit.origin_of("device_a"),
            says.format(circuit=circuit.name, device=show(circuit.device_a, "a"), most=amps(most)),
            _("Ask the electrician for a breaker that fits the motors."),
            subject=load.subject, working=working, asks=ELECTRICIAN,
        )  # fmt: skip


# --- ratings and outlets -----------------------------------------------------------------------


def _tell_rating(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    """The device is of a standard rating, and no larger than the fuse it hangs behind."""
    circuit, ratings = load.circuit, mains.row.ratings
    ledger.checked()
    if circuit.device_a <= max(ratings) and circuit.device_a not in ratings:
        near = min(ratings, key=lambda rating: abs(rating - circuit.device_a))
        says = _("The device of {circuit} is written as {device}, which is no standard rating.")
        ledger.find(
            "rating", Severity.NOTE, circuit.origin_of("device_a"),
            says.format(circuit=circuit.name, device=show(circuit.device_a, "a")),
            _("Read the device itself; {near} is near.").format(near=show(near, "a")),
            subject=load.subject,
        )  # fmt: skip
    ledger.checked()
    if circuit.device_a > mains.fuse_a + SLACK:
        says = _("The device of {circuit} is {device}, behind a main fuse of {fuse}.")
        ledger.find(
            "rating", Severity.FIX, circuit.origin_of("device_a"),
            says.format(
                circuit=circuit.name,
                device=show(circuit.device_a, "a"),
                fuse=show(mains.fuse_a, "a"),
            ),
            _("The main fuse goes first and takes the whole shop. Ask for a smaller device."),
            subject=load.subject, asks=ELECTRICIAN,
        )  # fmt: skip


def _tell_outlets(load: CircuitLoad, ledger: Ledger) -> None:
    """No machine draws more than its outlet is for."""
    for draw in load.draws:
        outlet = load.circuit.outlets.get(draw.outlet or "")
        if outlet is None:
            continue
        verdict = judged(draw.amps, draw.most_a, outlet.rating_a)
        ledger.checked(verdict is not Verdict.UNANSWERED)
        if verdict is Verdict.FAILS:
            says = _("{name} draws {amps} from an outlet for {rating}.").format(
                name=draw.name, amps=amps(draw.amps), rating=show(outlet.rating_a, "a")
            )
            mend = _("Have it put on an outlet that is for its current.")
            ledger.find(
                "outlet", Severity.STOP, outlet.origin_of("rating_a"), says, mend,
                subject=draw.subject,
            )  # fmt: skip
