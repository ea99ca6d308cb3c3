"""Which signs a shop needs: what its exits, equipment, machines, rules and hazards ask for.

One function a rule; its name is the rule's stable id.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.people import Hazard
from generator.shop.records.room import Zone
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.floor.standing import Standing
from generator.workings.footprint import Point, door_middle

Audience = Literal["room", "stations", "approach", "eyes"]
"""Who must read it: everybody on the floor who can see it, whoever comes up to some stations,
whoever comes up to the thing itself, or somebody at certain places."""

_KEPT_OUT = ("hot", "dusty", "finishing")
"""Kinds of zone in which somebody who strays in can be hurt."""

_PANEL_OF_SEVERITY = {5: "danger", 4: "warning", 3: "caution", 2: "caution", 1: "notice"}


@dataclass(frozen=True, slots=True)
class Need:
    """A sign that something asks for.

    ``codes`` are the signs any one of which will do, the usual one first. ``subject`` is the
    record it belongs to, and what hangs for one subject hangs together. ``at`` is where the
    thing is [mm], None for a station, beside which it hangs. ``whys`` say what asks for it.
    ``severity`` is that of the worst hazard behind it, 0 where no hazard is. ``stations`` and
    ``eyes`` are those at which it must be read, where its audience is one of them.
    """

    rule: str
    codes: tuple[str, ...]
    subject: str
    audience: Audience
    whys: tuple[str, ...]
    origin: Origin
    at: Point | None = None
    severity: int = 0
    words: str = ""
    stations: tuple[str, ...] = ()
    eyes: tuple[Point, ...] = ()

    @property
    def code(self) -> str:
        return self.codes[0]

    @property
    def panel(self) -> str:
        """The signal word for it, where the place uses panels ("" for exits and equipment)."""
        if self.code[0] in "EF":
            return ""
        if self.severity:
            return _PANEL_OF_SEVERITY[self.severity]
        return "warning" if self.code[0] == "W" else "notice"


def needs(standing: Standing) -> tuple[Need, ...]:
    """Every sign the shop needs, each once for its subject, in the order it is asked for."""
    rules = (equipment, board, entrance, closed_zones, machines, worn, nevers, hazards)
    found = (need for rule in rules for need in rule(standing.shop))
    return tuple(_each_once((*exits(standing), *found)))


def outside(shop: Shop) -> Need:
    """The sign at the assembly point, which is not on the plan."""
    asked = reference().signs_asked_for["assembly"]
    assembly = shop.room.assembly
    return Need(
        "assembly", asked.codes, "room/assembly", "approach", (_(asked.reason),), assembly.origin
    )


def _each_once(found: Iterable[Need]) -> Iterator[Need]:
    """One need for each sign of a subject, with every reason for it and the worst severity."""
    known: dict[tuple[str, str], Need] = {}
    for need in found:
        key = (need.subject, need.code)
        before = known.get(key)
        known[key] = need if before is None else _joined(before, need)
    yield from known.values()


def _joined(one: Need, other: Need) -> Need:
    whys = tuple(dict.fromkeys((*one.whys, *other.whys)))
    return replace(one, whys=whys, severity=max(one.severity, other.severity))


def _asked(
    key: str, subject: str, origin: Origin, audience: Audience, at: Point | None = None
) -> Iterator[Need]:
    """A need for each code of a row of the registry."""
    row = reference().signs_asked_for.get(key)
    station = subject.removeprefix("stations/")
    for code in row.codes if row else ():
        need = Need(key, (code,), subject, audience, (_(row.reason if row else ""),), origin, at)
        yield need if station == subject else replace(need, stations=(station,))


def exits(standing: Standing) -> Iterator[Need]:
    """A sign over every exit, its figure going the way most people come along the wall."""
    row = reference().signs_asked_for["exit"]
    middle = standing.room.centroid
    for id_, opening in standing.exits.items():
        door, (x, y) = opening.door, opening.middle
        out = (-opening.inward[0], -opening.inward[1])
        codes = going(out, (x - middle.x, y - middle.y))
        yield Need(
            "exit", codes, f"room/doors/{id_}", "room", (_(row.reason),),
            door.origin_of("exit"), door_middle(door),
        )  # fmt: skip


def going(facing: Point, onward: Point) -> tuple[str, str]:
    """The way-out sign to the right or to the left of somebody facing it, the fitting one first."""
    right, left = reference().signs_asked_for["exit"].codes
    across = onward[0] * facing[1] - onward[1] * facing[0]
    return (right, left) if across >= 0 else (left, right)


def equipment(shop: Shop) -> Iterator[Need]:
    """A sign at each thing that must be found at once."""
    for id_, thing in shop.room.equipment.items():
        subject, key = f"room/equipment/{id_}", f"equipment-{thing.kind}"
        served = tuple(dict.fromkeys(shop.machines[m].station for m in thing.isolates))
        audience: Audience = "stations" if served else "room"
        for need in _asked(key, subject, thing.origin_of("kind"), audience, thing.at):
            yield replace(need, stations=served)


def board(shop: Shop) -> Iterator[Need]:
    """A sign on the distribution board."""
    supply = shop.room.supply
    yield from _asked("board", "room/supply", supply.origin_of("panel"), "approach", supply.panel)


def entrance(shop: Shop) -> Iterator[Need]:
    """What is forbidden in the whole room, at the door people come in by."""
    id_, door = next(iter(shop.room.doors.items()))
    subject, at = f"room/doors/{id_}/inside", door_middle(door)
    yield from _asked("entrance", subject, door.origin, "approach", at)
    for rule in shop.shop.rules:
        if rule.sign and rule.sign.startswith("P"):
            yield Need(
                "entrance", (rule.sign,), subject, "approach", (str(rule.say),),
                rule.origin_of("sign"), at,
            )  # fmt: skip


def closed_zones(shop: Shop) -> Iterator[Need]:
    """A sign where a zone begins in which visitors are not to stand and could be hurt."""
    words = _(reference().sign_gap("no-unauthorised-access").text)
    for id_, zone in shop.room.zones.items():
        if zone.outline and not zone.visitors and zone.kind in _KEPT_OUT:
            for need in _asked(
                "closed-zone", f"room/zones/{id_}", zone.origin_of("visitors"), "approach",
                _border(zone),
            ):  # fmt: skip
                yield replace(need, words=words)


def _border(zone: Zone) -> Point:
    """A first guess at the zone's entrance, put right where it is hung."""
    xs, ys = zip(*zone.outline, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def machines(shop: Shop) -> Iterator[Need]:
    """What a machine asks for by what it is and does."""
    for machine in shop.machines.values():
        for key, origin in _traits(shop, machine):
            yield from _asked(key, f"stations/{machine.station}", origin, "stations")


def _traits(shop: Shop, machine: Machine) -> Iterator[tuple[str, Origin]]:
    """Rows of the registry that a machine falls under, each with where that is written."""
    yield f"machine-{machine.kind}", machine.origin_of("kind")
    if machine.hot_surfaces:
        yield "hot", machine.origin_of("hot_surfaces")
    if machine.electric and machine.electric.restarts is not False and _turns(machine):
        yield "restarts", machine.electric.origin
    if machine.run_down_s and _turns(machine) and machine.kind == "spin-dryer":
        yield "runs-down", machine.origin_of("run_down_s")
    if machine.lock_out and machine.guard_openings:
        yield "lock-out", machine.origin_of("lock_out")
    loud = reference().find_limit("noise-upper-action", shop.shop.jurisdiction)
    if machine.noise and loud and machine.noise.level_db >= loud.low:
        yield "loud", machine.noise.origin_of("level_db")


def _turns(machine: Machine) -> bool:
    """Whether something in it moves, so that starting or running on can hurt."""
    return bool(machine.guard_openings or machine.moves or machine.run_down_s)


def worn(shop: Shop) -> Iterator[Need]:
    """What must be worn at a station."""
    for station in shop.stations.values():
        for code in station.ppe:
            why = _("worn at station {number}").format(number=station.number)
            yield _at(station, "worn", code, why, station.origin_of("ppe"))


def nevers(shop: Shop) -> Iterator[Need]:
    """The sign of each thing that must never happen at a station."""
    for station in shop.stations.values():
        for rule in station.nevers:
            if rule.sign and rule.sign[0] not in "EF":
                yield _at(station, "never", rule.sign, str(rule.say), rule.origin_of("sign"))


def hazards(shop: Shop) -> Iterator[Need]:
    """The sign a hazard's control asks for, wherever the hazard is met."""
    for hazard in shop.hazards.values():
        for control in hazard.controls:
            if control.sign and control.sign[0] not in "EF":
                for id_ in _stations_of(shop, hazard):
                    need = _at(
                        shop.stations[id_], "hazard", control.sign, str(hazard.name),
                        control.origin_of("sign"),
                    )  # fmt: skip
                    yield replace(need, severity=hazard.before.severity)


def _stations_of(shop: Shop, hazard: Hazard) -> tuple[str, ...]:
    at_machines = (shop.machines[id_].station for id_ in hazard.machines)
    return tuple(dict.fromkeys((*hazard.stations, *at_machines)))


def _at(station: Station, rule: str, code: str, why: str, origin: Origin) -> Need:
    return Need(
        rule, (code,), f"stations/{station.id}", "stations", (why,), origin, stations=(station.id,)
    )
