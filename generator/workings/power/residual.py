"""Residual current protection and earthing: what only an electrician can confirm."""

from __future__ import annotations

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.machines import Electric
from generator.shop.records.room import Circuit
from generator.workings.power.loads import CircuitLoad
from generator.workings.power.mains import Mains
from generator.workings.power.telling import Ledger, named

_SLOW_START = 3.0
"""Below this multiple of its full-load current a motor is started by electronics."""
_ROOM_ABOVE = 1.2
"""American devices trip between 4 and 6 mA where the table says about 5."""


def tell_residual(loads: tuple[CircuitLoad, ...], mains: Mains, ledger: Ledger) -> None:
    """Ask about every circuit whose protection the trade's rules would have otherwise."""
    for load in loads:
        if _has_sockets(load.circuit):
            _sensitivity(load, mains, ledger)
            _type(load, mains, ledger)
        _drives(load, mains, ledger)
        _leaking_heaters(load, ledger)
    _earthing(loads, mains, ledger)


def _has_sockets(circuit: Circuit) -> bool:
    up_to = reference().limit("residual-current-up-to").middle
    return any(o.kind != "fixed" and o.rating_a <= up_to for o in circuit.outlets.values())


def _ask(ledger: Ledger, load: CircuitLoad, asked: tuple[str, str], says: str, mend: str) -> None:
    """Enter what is asked: the rule's name and the field it is about."""
    rule, field = asked
    ledger.find(rule, Severity.ASK, load.circuit.origin_of(field), says, mend, subject=load.subject)


def _sensitivity(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    """Sockets up to 32 A are behind a residual current device of 30 mA, in the US about 5."""
    circuit, value = load.circuit, reference().limit("residual-current", mains.place)
    most = value.middle * (_ROOM_ABOVE if value.bound == "about" else 1.0)
    fits = circuit.rcd_ma is not None and circuit.rcd_ma <= most
    ledger.checked(fits)
    if fits:
        return
    usual = show(value.middle, "ma")
    if circuit.rcd_ma is None:
        says = _("The sockets of {circuit} have no residual current device that is written.")
    else:
        says = _("The sockets of {circuit} have a residual current device of {there}.")
    says = says.format(circuit=circuit.name, there=show(circuit.rcd_ma or 0, "ma"))
    mend = _("Ask whether they need one of {usual}, and write what is there.").format(usual=usual)
    _ask(ledger, load, ("rcd", "rcd_ma"), says, mend)


def _type(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    """A residual current device sees pulsing direct current as well: type A at least."""
    circuit = load.circuit
    if circuit.rcd_ma is None or mains.row.rule == "nec":
        return
    fits = circuit.rcd_type not in (None, "AC")
    ledger.checked(fits)
    if circuit.rcd_type is None:
        says = _("The type of the residual current device of {circuit} is not written.")
        mend = _("Read it off the device: type A is the least, F or B where a drive hangs on it.")
    elif circuit.rcd_type == "AC":
        says = _("{circuit} has a residual current device of type AC, blind to pulsing currents.")
        mend = _("Ask for one of type A at least, F or B where a drive hangs on it.")
    else:
        return
    _ask(ledger, load, ("rcd-type", "rcd_type"), says.format(circuit=circuit.name), mend)


def _electrics(load: CircuitLoad) -> list[tuple[str, Electric, bool]]:
    """Machines of a circuit: name, plate, whether it heats."""
    rows = [(draw, getattr(draw.record, "electric", None)) for draw in load.draws]
    return [(d.name, e, d.character in ("heater", "mixed")) for d, e in rows if e is not None]


def _drives(load: CircuitLoad, mains: Mains, ledger: Ledger) -> None:
    """A drive's leakage can be a direct current, which types A and AC do not see."""
    circuit = load.circuit
    if circuit.rcd_ma is None or mains.row.rule == "nec":
        return
    driven = [
        name for name, e, _hot in _electrics(load)
        if e.starting_factor is not None and e.starting_factor < _SLOW_START
    ]  # fmt: skip
    if not driven:
        return
    fits = circuit.rcd_type in ("F", "B")
    ledger.checked(fits)
    if not fits:
        says = _(
            "{names} starts softly, as a drive does, behind the type {type} device of {circuit}."
        )
        says = says.format(names=named(driven), type=circuit.rcd_type or "?", circuit=circuit.name)
        mend = _("Ask whether the drive needs type F or B.")
        _ask(ledger, load, ("rcd-drive", "rcd_type"), says, mend)


def _leaking_heaters(load: CircuitLoad, ledger: Ledger) -> None:
    """Heaters that have stood cold and damp leak, and can trip a sensitive device."""
    circuit, most = load.circuit, reference().limit("residual-current").middle
    if circuit.rcd_ma is None or circuit.rcd_ma > most:
        return
    unread = [name for name, e, hot in _electrics(load) if hot and e.leakage_note is None]
    heats = any(hot for _name, _electric, hot in _electrics(load))
    if heats:
        ledger.checked(not unread)
    if unread:
        says = _(
            "No current leaking to earth when cold is written for {names}, "
            "behind {rcd} on {circuit}."
        ).format(names=named(unread), rcd=show(circuit.rcd_ma, "ma"), circuit=circuit.name)
        mend = _("Have it measured cold, after a damp week: a heater can trip the device.")
        _ask(ledger, load, ("leakage", "rcd_ma"), says, mend)


def _earthing(loads: tuple[CircuitLoad, ...], mains: Mains, ledger: Ledger) -> None:
    """The earthing is known, and with an earth electrode every circuit has a device."""
    own = mains.own
    bare = [load for load in loads if load.circuit.rcd_ma is None]
    ledger.checked(own.earthing != "unknown" and not (own.earthing == "TT" and bare))
    if own.earthing == "unknown":
        says = _("How the supply is earthed is not written.")
        mend = _("Ask which system it is (TN-S, TN-C-S, TT) and what it asks of each circuit.")
    elif own.earthing == "TT" and bare:
        says = _(
            "The supply has its own earth electrode (TT), and {names} no device is written for."
        )
        says = says.format(names=named([str(load.circuit.name) for load in bare]))
        mend = _("Ask which residual current device stands before them.")
    else:
        return
    ledger.find(
        "earthing", Severity.ASK, own.origin_of("earthing"), says, mend, subject="room/supply"
    )
