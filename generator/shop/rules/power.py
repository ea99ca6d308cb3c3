"""Rules of power: phases and outlets that can be there. What they can carry is worked out later."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding
from generator.ground.wording import _, ngettext
from generator.reference import Supply, reference
from generator.shop.draft import Draft
from generator.shop.meant import among
from generator.shop.names import listed, short
from generator.shop.place import led
from generator.shop.records.machines import Electric, Machine
from generator.shop.rules.shared import doubles

_COUNT = {"one": 1, "two": 2, "three": 3}
_LINES = ("L1", "L2", "L3")


def circuit_phases(draft: Draft) -> Iterator[Finding]:
    """A circuit names each of its phases once."""
    for key, circuit in draft.room.circuits.items() if draft.room else ():
        numbered = ((phase, n) for n, phase in enumerate(circuit.phases))
        for phase, _first, again in doubles(numbered):
            says = _("`{phase}` is named twice.").format(phase=phase)
            path = ("circuits", key, "phases", again)
            right = led(path[:-1], list(dict.fromkeys(circuit.phases)))
            yield draft.place("room").finding("phases", path, says, _("Name it once."), right)


def supply_profile(draft: Draft) -> Iterator[Finding]:
    """The supply has no more phases than its profile: a split phase has two legs."""
    if draft.room is None:
        return
    supply = draft.room.supply
    row = next((r for r in reference().supplies.values() if _is(r, supply.profile)), None)
    legs = 3 if row is None or row.phases == 3 else row.legs
    if row is None or _COUNT[supply.phases] <= legs:
        return
    says = ngettext(
        "`{profile}` is {name}, which has {n} phase.",
        "`{profile}` is {name}, which has {n} phases.",
        legs,
    ).format(profile=supply.profile, name=_(row.name), n=legs)
    mend = _("Correct `phases` of the supply, or its `profile`.")
    path = ("supply", "phases")
    yield draft.place("room").finding("phases", path, says, mend, f"phases: {_words(legs)}")


def _is(row: Supply, profile: str) -> bool:
    return profile in (row.key, *row.aliases)


def supply_phases(draft: Draft) -> Iterator[Finding]:
    """All circuits together use no more phases than the supply has."""
    if draft.room is None:
        return
    has, used = _COUNT[draft.room.supply.phases], set[str]()
    for key, circuit in draft.room.circuits.items():
        if len(used | set(circuit.phases)) <= has:
            used |= set(circuit.phases)
            continue
        says = ngettext(
            "With {phases} the circuits use more than the one phase of the supply.",
            "With {phases} the circuits use more than the {n} phases of the supply.",
            has,
        ).format(phases=listed(circuit.phases), n=has)
        mend = _("Correct them, or `phases` of the supply.")
        path = ("circuits", key, "phases")
        right = led(path, sorted(used) or list(_LINES[:has]))
        yield draft.place("room").finding("phases", path, says, mend, right)


def machine_phases(draft: Draft) -> Iterator[Finding]:
    """A machine needs no more phases than its circuit has."""
    for key, electric in _electric(draft):
        circuit = draft.room.circuits.get(electric.circuit) if draft.room else None
        if circuit is None or len(set(circuit.phases)) < len(circuit.phases):
            continue  # what the circuit has is in doubt
        if _COUNT[electric.phases] <= len(circuit.phases):
            continue
        needs, has = _COUNT[electric.phases], len(circuit.phases)
        says = _("It needs {needs} phases, and its circuit `{circuit}` has {n}.")
        says = says.format(needs=needs, circuit=electric.circuit, n=has)
        fitting = _circuit_with(draft, needs)
        mend = _("Correct `phases`, or name a circuit that has them.")
        right = f"circuit: {fitting}" if fitting else f"phases: {_words(has)}"
        path = ("electric", "circuit" if fitting else "phases")
        yield draft.place("machines", key).finding("phases", path, says, mend, right)


def _electric(draft: Draft) -> Iterator[tuple[str, Electric]]:
    for key, machine in draft.of(Machine).items():
        if machine.electric is not None:
            yield key, machine.electric


def _circuit_with(draft: Draft, phases: int) -> str | None:
    circuits = draft.room.circuits.items() if draft.room else ()
    return next((key for key, circuit in circuits if len(circuit.phases) >= phases), None)


def _words(phases: int) -> str:
    return next(word for word, count in _COUNT.items() if count == min(phases, 3))


def outlets(draft: Draft) -> Iterator[Finding]:
    """The outlet a machine names is one of its circuit's."""
    for key, electric in _electric(draft):
        if electric.outlet is None or electric.circuit not in draft.known.ids("room.circuits"):
            continue
        there = draft.known.under("room", "circuits", electric.circuit, "outlets")
        if electric.outlet not in there:
            says = _("`{id}` is not an outlet of the circuit `{circuit}`.")
            says = says.format(id=short(electric.outlet), circuit=electric.circuit)
            otherwise = _("The circuit has none: write it in room.yml.")
            error = among(says, electric.outlet, there, otherwise)
            yield draft.place("machines", key).lost(("electric", "outlet"), error)


RULES = (circuit_phases, supply_profile, supply_phases, machine_phases, outlets)
