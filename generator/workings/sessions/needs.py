"""What a session needs to have ready, what it makes and what energy it takes."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

from generator.shop.records.material import Blend, Container
from generator.shop.records.people import Activity, Session
from generator.shop.shop import Shop
from generator.workings.power.energy import Energy
from generator.workings.sessions.demands import Demands, group_sizes
from generator.workings.sessions.fixed import Around, at_once
from generator.workings.sessions.grid import Grid
from generator.workings.sessions.results import (
    Counted,
    Flake,
    HotStand,
    MadeParts,
    Needs,
    Ppe,
    PrintOut,
    Used,
)

_CHILD_UP_TO_YEARS = 12.0
"""Up to this age the small sizes are laid out; a range that crosses it needs both."""


def needs(
    around: Around, session: Session, made: tuple[MadeParts, ...], purged: tuple[HotStand, ...]
) -> Needs:
    """What to have ready before a session.

    Parameters
    ----------
    around
        The shop and its moulding.
    session
        The session.
    made
        The pieces it makes.
    purged
        The times after which a machine must be purged, each with its flake.
    """
    flake = _flake(around, made, purged)
    moulds = dict.fromkeys(m for a in session.activities.values() for m in a.moulds)
    return Needs(
        flake=flake,
        containers=tuple(_containers(around, session, flake, made)),
        moulds=tuple(Counted(mould, 1) for mould in moulds),
        ppe=tuple(_ppe(around.shop, session)),
        consumables=tuple(_consumables(around, session, made)),
        print_outs=tuple(_print_outs(session)),
        staff=tuple(Counted(member.role, member.count) for member in session.staff),
    )


# --- made --------------------------------------------------------------------------------------


def made_parts(shop: Shop, session: Session) -> tuple[MadeParts, ...]:
    """The pieces of each product, every learner's; shots are whole for each group."""
    counts: dict[tuple[str, str], list[int]] = defaultdict(lambda: [0, 0])
    for activity in session.activities.values():
        if activity.makes is None:
            continue
        product = shop.products[activity.makes.product]
        cavities = shop.moulds[product.mould].cavities
        total = counts[product.id, activity.makes.blend]
        for size in group_sizes(session.learners.count, session.groups):
            pieces = size * activity.makes.each
            total[0] += pieces
            total[1] += -(-pieces * product.parts // cavities)
    return tuple(MadeParts(p, b, count, shots) for (p, b), (count, shots) in counts.items())


def _shot_g(around: Around, part: MadeParts) -> float:
    """A shot with sprue [g], as worked out, else the parts as weighed."""
    product = around.shop.products[part.product]
    mould = around.shop.moulds[product.mould]
    cells = (around.moulding.matrix.cell(mould.id, m, part.blend) for m in mould.machines)
    known = (cell.run.shot_g for cell in cells if cell.run)
    worked_out = next((mass for mass in known if mass), None)
    return worked_out or product.mass_g / product.parts * mould.cavities


# --- flake -------------------------------------------------------------------------------------


def _flake(
    around: Around, made: tuple[MadeParts, ...], purged: tuple[HotStand, ...]
) -> tuple[Flake, ...]:
    masses: dict[tuple[str, str | None], float] = defaultdict(float)
    for part in made:
        kg = part.shots * _shot_g(around, part) / 1000
        for lot, share in _lots(around.shop.blends[part.blend]):
            masses[lot] += kg * share
    for stand in purged:
        if stand.polymer is not None and stand.purge_by_min is not None:
            masses[stand.polymer, None] += _purge_kg(around.shop, stand.machine, stand.polymer)
    return tuple(Flake(p, c, round(kg, 3)) for (p, c), kg in masses.items() if kg)


def _lots(blend: Blend) -> Iterator[tuple[tuple[str, str | None], float]]:
    for part in blend.parts:
        yield (part.polymer, part.colour), part.share_percent / 100


def _purge_kg(shop: Shop, machine: str, polymer: str) -> float:
    settings = (s for s in shop.machines[machine].settings if s.polymer == polymer)
    return next((s.purge_kg or 0.0 for s in settings), 0.0)


# --- containers --------------------------------------------------------------------------------


def _containers(
    around: Around, session: Session, flake: tuple[Flake, ...], made: tuple[MadeParts, ...]
) -> Iterator[Counted]:
    counts: dict[str, int] = defaultdict(int)
    for lot in flake:
        box = _smallest(around.shop, "flake", lot.kg)
        if box:
            counts[box.id] += max(1, math.ceil(lot.kg / box.most_kg))
    blends = {part.blend for part in made}
    for keeps, count in (("blend", len(blends) * session.groups), ("product", session.groups)):
        box = _smallest(around.shop, keeps, 0.0)
        if box and made:
            counts[box.id] += count
    yield from (Counted(id_, count) for id_, count in counts.items())


def _smallest(shop: Shop, keeps: str, kg: float) -> Container | None:
    """The smallest container that keeps something and takes so much, else the largest."""
    fits = sorted(
        (c for c in shop.containers.values() if keeps in c.keeps), key=lambda c: c.volume_l
    )
    return next((c for c in fits if c.most_kg >= kg), fits[-1] if fits else None)


# --- protection --------------------------------------------------------------------------------


def _ppe(shop: Shop, session: Session) -> Iterator[Ppe]:
    """By code: for the learners that can be at its activities at once, and who is with them."""
    learners: dict[str, int] = defaultdict(int)
    adults: dict[str, int] = defaultdict(int)
    for activity in session.activities.values():
        for code in worn(shop, activity):
            learners[code] += at_once(session, activity)
            adults[code] += activity.supervisors
    who = session.learners
    for code, count in learners.items():
        most = min(count, who.count)
        grown = adults[code] + who.adults
        if who.age_from_years <= _CHILD_UP_TO_YEARS:
            yield Ppe(code, "child", most)
        over = most if who.age_to_years > _CHILD_UP_TO_YEARS else 0
        yield Ppe(code, "adult", grown + over)


def worn(shop: Shop, activity: Activity) -> tuple[str, ...]:
    """The mandatory signs at an activity; who does something wears what its station asks too."""
    station = shop.stations[activity.station].ppe if activity.learners == "do" else ()
    return tuple(dict.fromkeys((*activity.ppe, *station)))


# --- what is used up ---------------------------------------------------------------------------


def _consumables(around: Around, session: Session, made: tuple[MadeParts, ...]) -> Iterator[Used]:
    shop = around.shop
    amounts = {
        id_: shop.consumables[id_].use_per_session
        for activity in session.activities.values()
        for id_ in activity.consumables
    }
    for part in made:
        kg = part.shots * _shot_g(around, part) / 1000
        for additive in shop.blends[part.blend].additives:
            stirred = kg * additive.share_percent / 100
            amounts[additive.consumable] = max(amounts.get(additive.consumable, 0.0), stirred)
    yield from (Used(id_, round(amount, 4)) for id_, amount in amounts.items())


def _print_outs(session: Session) -> Iterator[PrintOut]:
    yield PrintOut("run-sheet", session.id, 1)
    yield PrintOut("rotation", session.id, 1)
    yield PrintOut("group-card", session.id, session.groups)
    if session.learners.adults:
        yield PrintOut("visit-pack", session.id, 1)
    for activity in session.activities.values():
        yield PrintOut("learner-page", activity.id, session.groups)


# --- energy ------------------------------------------------------------------------------------


def energy_kwh(energy: Energy, demands: Demands, grid: Grid) -> float | None:
    """Electricity of the machines the session runs [kWh]; None where a machine's is not known.

    Heating up at full power, from there on the machine's own share of it.
    """
    rows = {row.draw.record.id: row for row in energy.running}
    total = 0.0
    for machine, spans in grid.machine_spans.items():
        row = rows.get(machine)
        if row is None:
            continue
        if not row.known:
            return None
        heat = demands.warmth.get(machine)
        warm_up = heat.heat_up if heat else 0
        run = sum(span.minutes for span in spans) - warm_up
        total += row.hour_kwh * run / 60 + (row.heat_up_kwh or 0.0)
    return round(total, 2)
