"""The whole subject of power, looked at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from generator.ground.finding import Severity
from generator.ground.survey import Survey
from generator.ground.wording import _
from generator.ground.working import Quantity
from generator.shop.shop import Shop
from generator.workings.power.allowance import allowance_of
from generator.workings.power.circuits import tell_circuit
from generator.workings.power.draws import Draw, draws_of, tell_draws
from generator.workings.power.drop import Drop, tell_drop
from generator.workings.power.drop import Limit as DropLimit
from generator.workings.power.energy import Energy, energy_of, tell_energy
from generator.workings.power.loads import CircuitLoad, load_of
from generator.workings.power.mains import Mains, mains_of
from generator.workings.power.outage import Outage, outage_of, tell_outage
from generator.workings.power.phases import (
    Balance,
    PhaseLoad,
    balance_of,
    phases_of,
    tell_balance,
    tell_main_fuse,
)
from generator.workings.power.residual import tell_residual
from generator.workings.power.sessions import SessionPower, sessions_of, tell_sessions
from generator.workings.power.starts import tell_starts
from generator.workings.power.telling import Ledger
from generator.workings.power.together import Allowance, Together, together
from generator.workings.power.voltages import tell_voltages


@dataclass(frozen=True, slots=True)
class PowerStudy:
    """Everything worked out about a shop's power.

    Attributes
    ----------
    survey
        Workings, findings and counts.
    mains
        The supply, its lines and the rule it is held to.
    machines
        What each machine and fan draws, in file order, fans last.
    loads
        Each circuit's loads, to be stacked against its device.
    drops
        Volt drop along each circuit, by its id.
    phases
        Each line's loads with their diversity, against the main fuse.
    balance
        How even the lines are; None for a supply of one line.
    sets
        Which machines may run together, every load counted at the most it can be.
    known
        The limits with every load at the least it can be: what breaks these surely does.
    sessions
        Each session's machines over time.
    energy
        Energy and cost of each machine, and of the year.
    outage
        What happens when the power goes and comes back.
    """

    survey: Survey
    mains: Mains
    machines: tuple[Draw, ...]
    loads: tuple[CircuitLoad, ...]
    drops: Mapping[str, Drop]
    phases: tuple[PhaseLoad, ...]
    balance: Balance | None
    sets: Together
    known: Allowance
    sessions: tuple[SessionPower, ...]
    energy: Energy
    outage: Outage


def study(shop: Shop) -> PowerStudy:
    """Look at a shop's power whole.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    ledger, mains = Ledger(), mains_of(shop)
    draws = draws_of(shop, mains)
    loads = _loads(shop, draws, mains)
    phases = phases_of(loads, mains)
    balance = balance_of(phases, loads, mains)
    known = allowance_of(loads, phases, mains, most=False)
    sets = together(allowance_of(loads, phases, mains, most=True))
    sessions = sessions_of(shop, known, sets.allowance)
    energy, outage = energy_of(shop, draws), outage_of(shop)

    _tell_supply(mains, ledger)
    tell_draws(draws, mains, ledger)
    tell_voltages(draws, mains, ledger)
    drops = _tell_loads(shop, loads, mains, ledger)
    tell_residual(loads, mains, ledger)
    tell_main_fuse(phases, mains, ledger)
    if balance is not None:
        tell_balance(balance, phases, loads, ledger)
    _tell_sets(sets, shop, ledger)
    tell_sessions(sessions, shop, ledger)
    tell_energy(energy, shop, ledger)
    tell_outage(outage, ledger)
    return PowerStudy(
        ledger.survey(), mains, draws, loads, drops, phases, balance, sets, known, sessions,
        energy, outage,
    )  # fmt: skip


def _loads(shop: Shop, draws: tuple[Draw, ...], mains: Mains) -> tuple[CircuitLoad, ...]:
    by_circuit: dict[str, list[Draw]] = defaultdict(list)
    for draw in draws:
        by_circuit[draw.circuit.id].append(draw)
    return tuple(load_of(c, by_circuit[c.id], mains) for c in shop.room.circuits.values())


def _tell_loads(
    shop: Shop, loads: tuple[CircuitLoad, ...], mains: Mains, ledger: Ledger
) -> dict[str, Drop]:
    limits = shop.shop.limits
    share = limits.volt_drop_percent
    own = None if share is None else DropLimit(share, limits.origin_of("volt_drop_percent"))
    drops = {}
    for load in loads:
        tell_circuit(load, mains, ledger)
        drops[load.circuit.id] = tell_drop(load, mains, own, ledger)
        tell_starts(load, ledger)
    if any(drop.limit is None for drop in drops.values()):
        _ask_for_drop_limit(mains, ledger)
    return drops


def _ask_for_drop_limit(mains: Mains, ledger: Ledger) -> None:
    ledger.find(
        "drop-limit", Severity.ASK, mains.own.origin_of("profile"),
        _("The tables hold no limit on the volt drop for {place}.").format(place=mains.place),
        _("Ask how much may be lost, and write it as `volt_drop` under `limits` in shop.yml."),
        subject="room/supply",
    )  # fmt: skip


def _tell_supply(mains: Mains, ledger: Ledger) -> None:
    """The supply is one of the shop's own country, and its rule is in the tables."""
    row, origin = mains.row, mains.own.origin_of("profile")
    ledger.checked()
    if row.region != mains.place:
        says = _("The supply is that of {region}, and the shop is held to the limits of {place}.")
        ledger.find(
            "supply", Severity.FIX, origin, says.format(region=row.region, place=mains.place),
            _("Correct `profile`, or `jurisdiction` in shop.yml."), subject="room/supply",
        )  # fmt: skip
    if row.rule_status == "assumption":
        ledger.checked(answered=False)
        ledger.find(
            "rule", Severity.ASK, origin,
            _("The tables do not hold the rule of {place}; circuits are held to the IEC's.").format(
                place=mains.place
            ),
            _("Ask which rule sizes a circuit here, and how it differs."), subject="room/supply",
        )  # fmt: skip


def _tell_sets(sets: Together, shop: Shop, ledger: Ledger) -> None:
    """Enter how many sets there are, and what is in none of them."""
    working = ledger.work(
        "power.together",
        "room/supply",
        _("Largest choices of machines that may run together"),
        _(
            "a choice is allowed where the currents of all its machines, fans and standing loads"
            " with them, stay within every circuit, outlet and phase of the main fuse"
        ),
        [],
        result=Quantity(float(sets.count), ""),
        caution="" if sets.complete else _("There are more than these."),
    )
    for id_ in sets.never:
        machine, over = shop.machines[id_], sets.allowance.over([id_])
        assert machine.electric is not None
        says = _("{name} is in no choice that may run: alone it may be too much for {limit}.")
        ledger.find(
            "never", Severity.NOTE, machine.electric.origin_of("circuit"),
            says.format(name=machine.name, limit=over[0].limit.name),
            _("See what is found or asked about its circuit and the main fuse."),
            subject=f"machines/{id_}", working=working,
        )  # fmt: skip
    if not sets.complete:
        most = max(len(group.sets) for group in sets.groups)
        says = _("More choices of machines may run together than the {n} that are listed.")
        ledger.find(
            "sets", Severity.NOTE, shop.room.supply.origin, says.format(n=most),
            _("Any one choice, and every session, is still looked at exactly."),
            subject="room/supply", working=working,
        )  # fmt: skip
