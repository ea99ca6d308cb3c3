"""Rooms for tests, built from the smallest shop by hand, turned, scaled and added to."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar

from generator.shop.fields import Record
from generator.shop.load import load_shop
from generator.shop.records.machines import Machine, Moves
from generator.shop.records.room import Column, Door, Equipment, Fixture, Zone
from generator.shop.records.stations import Station, WorkingSide
from generator.shop.shop import Shop
from tests.small import SMALLEST

Point = tuple[float, float]
R = TypeVar("R", bound=Record)

BASE = load_shop(SMALLEST).shop
assert BASE is not None
_STATION = BASE.stations["cutting"]
_DOOR = BASE.room.doors["green-door"]
_MACHINE = BASE.machines["granulator"]


def changed(record: R, id_: str | None = None, **fields: Any) -> R:
    """A record with some fields changed, and none of what it had already worked out."""
    copy = record.model_copy(update=fields)
    for name in [name for name in copy.__dict__ if name not in type(copy).model_fields]:
        del copy.__dict__[name]
    if id_ is not None:
        copy._id = id_
    return copy


def side(name: str, depth: float, width: float | None = None, service: bool = False) -> WorkingSide:
    base = _STATION.working_sides[0]
    return changed(base, side=name, depth_mm=depth, width_mm=width, service=service)


def station(  # noqa: PLR0917 - as it is read on a plan
    id_: str,
    number: int,
    at: Point,
    size: Point,
    turn: float = 0.0,
    sides: Sequence[WorkingSide] = (),
    **fields: Any,
) -> Station:
    kept = {"number": number, "name": f"S{number}", "at": at, "size": size, "turn_deg": turn}
    return changed(_STATION, id_, **{**kept, "working_sides": tuple(sides), **fields})


def door(id_: str, hinge: Point, latch: Point, **fields: Any) -> Door:
    """A door clear from jamb to jamb."""
    kept = {"name": id_, "clear_width_mm": math.dist(hinge, latch), "lock": "push-bar"}
    return changed(_DOOR, id_, **{**kept, "hinge": hinge, "latch": latch, **fields})


def machine(id_: str, at: str, **fields: Any) -> Machine:
    return changed(_MACHINE, id_, **{"name": id_, "station": at, **fields})


def moves(what: str, to: str, reach: float) -> Moves:
    return Moves.model_validate({"what": what, "side": to, "reach": f"{reach} mm"})


def fixture(id_: str, at: Point, size: Point, turn: float = 0.0, height: float = 900.0) -> Fixture:
    made = Fixture.model_validate({"name": id_, "at": "1, 1 mm", "size": "1 x 1 mm"})
    return changed(made, id_, at=at, size=size, turn_deg=turn, height_mm=height)


def column(id_: str, at: Point, size: Point) -> Column:
    return changed(
        Column.model_validate({"at": "1, 1 mm", "size": "1 x 1 mm"}), id_, at=at, size=size
    )


def equipment(id_: str, kind: str, at: Point, **fields: Any) -> Equipment:
    made = Equipment.model_validate({"kind": kind, "name": id_, "at": "1, 1 mm"})
    return changed(made, id_, at=at, **fields)


def zone(id_: str, kind: str, outline: Sequence[Point] = (), visitors: bool = False) -> Zone:
    made = Zone.model_validate({"name": id_, "kind": kind, "visitors": visitors})
    return changed(made, id_, outline=tuple(outline))


def rectangle(width: float, depth: float) -> tuple[Point, ...]:
    return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))


def by_id(records: Iterable[R]) -> dict[str, R]:
    return {record.id: record for record in records}


def room(
    outline: Sequence[Point],
    doors: Sequence[Door],
    stations: Sequence[Station] = (),
    *,
    machines: Sequence[Machine] = (),
    things: Sequence[Fixture | Column] = (),
    hung: Sequence[Equipment] = (),
    place: str = "UK",
    own: dict[str, float] | None = None,
    zones: Sequence[Zone] = (),
    **shop_fields: Any,
) -> Shop:
    """A shop with this room and nothing else in it. Its board hangs on the first wall."""
    assert BASE is not None
    limit_fields: dict[str, Any] = {"aisle_mm": 900.0, **(own or {})}
    limits = changed(BASE.shop.limits, **limit_fields)
    panel = ((outline[0][0] + outline[1][0]) / 2, (outline[0][1] + outline[1][1]) / 2)
    kinds: dict[str, Any] = {"zones": {**BASE.room.zones, **by_id(zones)}} if zones else {}
    made_room = changed(
        BASE.room,
        outline=tuple(outline),
        doors=by_id(doors),
        fixtures=by_id(t for t in things if isinstance(t, Fixture)),
        columns=by_id(t for t in things if isinstance(t, Column)),
        equipment=by_id(hung),
        supply=changed(BASE.room.supply, panel=panel),
        **kinds,
    )
    identity = changed(BASE.shop, jurisdiction=place, limits=limits)
    return changed(
        BASE,
        shop=identity,
        room=made_room,
        stations=by_id(stations),
        machines=by_id(machines),
        **shop_fields,
    )


# --- turned, scaled ----------------------------------------------------------------------------


def turned(shop: Shop, degrees: float) -> Shop:
    """The same shop with the whole room turned about the origin, and everything in it."""
    angle = math.radians(degrees)
    cos, sin = math.cos(angle), math.sin(angle)

    def turn(point: Point) -> Point:
        return (point[0] * cos - point[1] * sin, point[0] * sin + point[1] * cos)

    return _moved(shop, turn, degrees, 1.0)


def scaled(shop: Shop, factor: float) -> Shop:
    """The same shop with every place and size of the room and what stands in it scaled."""
    return _moved(shop, lambda p: (p[0] * factor, p[1] * factor), 0.0, factor)


def _moved(shop: Shop, place: Callable[[Point], Point], degrees: float, factor: float) -> Shop:
    stations = {i: _stood(s, place, degrees, factor) for i, s in shop.stations.items()}
    return changed(shop, room=_room_moved(shop, place, degrees, factor), stations=stations)


def _room_moved(shop: Shop, place: Callable[[Point], Point], degrees: float, factor: float) -> Any:
    room = shop.room
    named: dict[str, Any] = {
        key: {i: _at(record, place) for i, record in getattr(room, key).items()}
        for key in ("equipment", "signs", "water", "extract_points")
    }
    solid: dict[str, Any] = {
        key: {i: _stood(record, place, degrees, factor) for i, record in getattr(room, key).items()}
        for key in ("columns", "fixtures")
    }
    circuits = {
        i: changed(c, outlets={o: _at(out, place) for o, out in c.outlets.items()})
        for i, c in room.circuits.items()
    }
    return changed(
        room,
        outline=tuple(map(place, room.outline)),
        doors={
            i: changed(
                d,
                hinge=place(d.hinge),
                latch=place(d.latch),
                clear_width_mm=d.clear_width_mm * factor,
            )
            for i, d in room.doors.items()
        },
        windows={
            i: changed(w, start=place(w.start), end=place(w.end)) for i, w in room.windows.items()
        },
        zones={i: changed(z, outline=tuple(map(place, z.outline))) for i, z in room.zones.items()},
        supply=changed(room.supply, panel=place(room.supply.panel)),
        circuits=circuits,
        **named,
        **solid,
    )


def _at(record: R, place: Callable[[Point], Point]) -> R:
    return changed(record, at=place(record.at))  # type: ignore[attr-defined]


def _stood(record: R, place: Callable[[Point], Point], degrees: float, factor: float) -> R:
    held: Any = record
    fields: dict[str, Any] = {
        "at": place(held.at),
        "size": (held.size[0] * factor, held.size[1] * factor),
        "turn_deg": held.turn_deg + degrees,
    }
    if getattr(held, "outline", ()):
        fields["outline"] = tuple((x * factor, y * factor) for x, y in held.outline)
    if sides := getattr(held, "working_sides", ()):
        fields["working_sides"] = tuple(
            changed(s, depth_mm=s.depth_mm * factor, width_mm=s.width_mm and s.width_mm * factor)
            for s in sides
        )
    return changed(record, **fields)


def moved(shop: Shop, id_: str, dx: float, dy: float) -> Shop:
    """The same shop with one station moved [mm]."""
    held = shop.stations[id_]
    there = changed(held, at=(held.at[0] + dx, held.at[1] + dy))
    return changed(shop, stations={**shop.stations, id_: there})
