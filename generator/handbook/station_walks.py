"""Where help is from a station, as it is walked: extinguisher, first aid, eyewash, the way out."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.words import word
from generator.shop.records.room import Equipment
from generator.shop.records.stations import Station
from generator.workings.floor.lengths import metres
from generator.workings.routes import Journey


@dataclass(frozen=True, slots=True)
class Help:
    """One thing to know the way to: its kind for the symbol, its name, and how far it is."""

    kind: str
    says: str
    small: str


def help_at(desk: Desk, station: Station) -> list[Help]:
    """What must be found at once from a station, and the ways out."""
    hot = any(machine.is_hot for machine in desk.shop.machines_at(station.id))
    kinds = ["extinguisher", "first-aid", *(k for k in ("eyewash",) if _any(desk, k))]
    kinds += ["burn-sink"] if hot else []
    ways = _ways_out(desk, station)
    return [*(_help(desk, station, kind) for kind in kinds), *ways]


def _any(desk: Desk, kind: str) -> bool:
    return bool(desk.shop.equipment_of_kind(kind))


def _help(desk: Desk, station: Station, kind: str) -> Help:
    walk = desk.studies.routes.nearest(kind, station.id)
    if walk is not None:
        return _walked(desk, kind, walk)
    return _not_walked(desk, station, kind)


def _walked(desk: Desk, kind: str, walk: Journey) -> Help:
    thing = desk.shop.room.equipment[walk.end_id.rpartition("/")[2]]
    small = _("{length} to walk, at {grid} on the plan").format(
        length=metres(walk.length_mm), grid=desk.plans.grid(thing.at)
    )
    return Help(kind, str(thing.name), small)


def _not_walked(desk: Desk, station: Station, kind: str) -> Help:
    """Where no walk can be worked out: what can be seen at least."""
    known: tuple[Equipment, ...] = desk.shop.equipment_of_kind(kind)
    if not known:
        return Help(kind, _("{thing}: none on the plan").format(thing=word(kind).capitalize()), "")
    seen = desk.sight.from_station(station, known)
    if seen:
        small = _("in sight, at {grid} on the plan; {metres} m in a straight line").format(
            grid=desk.plans.grid(seen[0].equipment.at), metres=f"{seen[0].straight_m:.1f}"
        )
        return Help(kind, str(seen[0].equipment.name), small)
    says = _("{thing}: no walk is wide enough").format(thing=word(kind).capitalize())
    return Help(kind, says, _("See what is found on floor and walks."))


def _ways_out(desk: Desk, station: Station) -> list[Help]:
    """Every exit with its walk, the nearest first."""
    routes, doors = desk.studies.routes, desk.shop.room.doors
    walks = {id_: routes.to_exit(station.id, id_) for id_ in routes.ground.exits}
    known = sorted((round(w.length_mm, 3), id_) for id_, w in walks.items() if w)
    found = [
        Help(
            "exit", str(doors[id_].name), _("{length} to walk").format(length=metres(length))
        )
        for length, id_ in known
    ]  # fmt: skip
    shut = _("No walkway wide enough leads there: see what is found on floor and walks.")
    return [
        *found,
        *(Help("exit", str(doors[id_].name), shut) for id_, w in walks.items() if not w),
    ]
