"""A shop without some of its stations and machines, and without whatever hung on them.

A reference to what is gone is taken out where it may be left out; where it may not, the record
that made it goes too, and so on until nothing refers to anything that is not there.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin, get_type_hints

from generator.shop.fields import Record, Ref
from generator.shop.records.logs import Logs
from generator.shop.records.material import Mould
from generator.shop.records.people import Activity, Hazard, Procedure, Session
from generator.shop.shop import Shop

R = TypeVar("R", bound=Record)
Gone = dict[str, set[str]]
"""Ids that are not there, by noun."""


def without(shop: Shop, stations: Iterable[str], machines: Iterable[str]) -> Shop:
    """The shop without some stations, the machines on them, and some machines more.

    Parameters
    ----------
    shop
        The shop; it is left as it is.
    stations, machines
        What is not there.
    """
    bare = set(stations)
    also = {m.id for m in shop.machines.values() if m.station in bare}
    gone: Gone = {"stations": bare, "machines": {*machines, *also}}
    if not (gone["stations"] or gone["machines"]):
        return shop
    left = copied(shop, {"moulds": _rehomed(shop, gone)})
    while True:
        known = sum(map(len, gone.values()))
        left = _pass(left, gone)
        if sum(map(len, gone.values())) == known:
            return copied(left, {"logs": _logs(left.logs, gone)})


def _pass(shop: Shop, gone: Gone) -> Shop:
    """Prune every noun once, and note what went."""
    update: dict[str, Any] = {}
    for noun in _nouns():
        rows: Mapping[str, Record] = getattr(shop, noun)
        kept = {}
        for id_, record in rows.items():
            pruned = None if id_ in gone.get(noun, ()) else prune(record, gone)
            if pruned is None:
                gone.setdefault(noun, set()).add(id_)
            else:
                kept[id_] = pruned
        update[noun] = kept
    update["room"] = _room(shop, gone)
    return copied(shop, update)


@cache
def _nouns() -> tuple[str, ...]:
    hints = get_type_hints(Shop)
    return tuple(name for name in Shop.model_fields if get_origin(hints[name]) is dict)


def _room(shop: Shop, gone: Gone) -> Any:
    """The room without hoods over what is gone, and without fans that no hood is left for."""
    room = prune(shop.room, gone)
    if room is None:
        return shop.room
    used = {h.fan for h in room.hoods.values()}
    idle = {h.fan for h in shop.room.hoods.values()} - used
    return copied(room, {"fans": {id_: f for id_, f in room.fans.items() if id_ not in idle}})


def _rehomed(shop: Shop, gone: Gone) -> dict[str, Mould]:
    """Moulds whose shelf is gone stand at the first machine that is left."""
    homes = {id_: m.station for id_, m in shop.machines.items() if id_ not in gone["machines"]}
    return {id_: _home(mould, homes, gone) for id_, mould in shop.moulds.items()}


def _home(mould: Mould, homes: Mapping[str, str], gone: Gone) -> Mould:
    place = next((homes[m] for m in mould.machines if m in homes), None)
    if mould.kept_at not in gone["stations"] or place is None:
        return mould
    return copied(mould, {"kept_at": place})


# --- one record --------------------------------------------------------------------------------


def prune(record: R, gone: Gone) -> R | None:
    """A record without what is gone, or None where it cannot be without it."""
    if not _stands(record, gone):
        return None
    update: dict[str, Any] = {}
    for name, how in _plan(type(record)):
        value = getattr(record, name)
        pruned = _value(value, how, gone)
        if pruned is value:
            continue
        if _is_missing(pruned, how):
            return None
        update[name] = pruned
    return _tidied(copied(record, update), record) if update else record


def _stands(record: Record, gone: Gone) -> bool:
    """Whether a record still means what it did: a job needs every machine it names."""
    machines = gone["machines"]
    if isinstance(record, Procedure):
        bare = record.station in gone["stations"]
        return not bare and machines.isdisjoint(record.machines)
    if isinstance(record, Activity):
        made = record.makes is not None and record.makes.product in gone.get("products", ())
        return not made and machines.isdisjoint(record.machines)
    if isinstance(record, Hazard) and (record.stations or record.machines):
        there = {*record.stations} - gone["stations"] or {*record.machines} - machines
        return bool(there)
    return True


def _tidied(record: R, before: R) -> R | None:
    """A session without an activity that must be is no session; else its order is mended."""
    if not isinstance(record, Session) or not isinstance(before, Session):
        return record
    lost = before.activities.keys() - record.activities.keys()
    if any(before.activities[id_].must for id_ in lost):
        return None
    left = {
        id_: copied(a, {"after": tuple(x for x in a.after if x not in lost)})
        for id_, a in record.activities.items()
    }
    slots = tuple(s for s in record.timetable if s.activity not in lost)
    return copied(record, {"activities": left, "timetable": slots})


@dataclasses.dataclass(frozen=True, slots=True)
class _How:
    """How a field is pruned: the noun its ids are of, and whether it may be left out or empty."""

    noun: str
    optional: bool
    least_one: bool


@cache
def _plan(kind: type[Record]) -> tuple[tuple[str, _How], ...]:
    """The fields of a record that hold ids or records."""
    hints = get_type_hints(kind, include_extras=True)
    found = ((name, _how(hints[name])) for name in kind.model_fields)
    return tuple((name, how) for name, how in found if how is not None)


def _how(hint: Any) -> _How | None:
    parts = list(_parts(hint))
    nouns = [p.noun for p in parts if isinstance(p, Ref)]
    holds = any(isinstance(p, type) and issubclass(p, Record) for p in parts)
    if not nouns and not holds:
        return None
    least = any(getattr(p, "min_length", None) for p in parts)
    return _How(nouns[0] if nouns else "", NoneType in parts, least)


def _parts(hint: Any) -> Iterable[Any]:
    """Every type and mark in a hint, at any depth."""
    yield hint
    if get_origin(hint) in (Annotated, Union, UnionType, tuple, dict):
        for part in get_args(hint):
            yield from _parts(part)
    for mark in getattr(hint, "metadata", ()):
        yield from (mark, *getattr(mark, "metadata", ()))


def _value(value: Any, how: _How, gone: Gone) -> Any:
    """A value without what is gone; None where nothing is left of it."""
    if isinstance(value, str):
        return None if value in gone.get(how.noun, ()) else value
    if isinstance(value, Record):
        return prune(value, gone)
    if isinstance(value, dict):
        rows = {key: _value(item, how, gone) for key, item in value.items()}
        kept = {key: item for key, item in rows.items() if item is not None}
        return value if all(kept.get(key) is item for key, item in value.items()) else kept
    if isinstance(value, tuple):
        items = [_value(item, how, gone) for item in value]
        same = all(new is old for new, old in zip(items, value, strict=True))
        return value if same else tuple(item for item in items if item is not None)
    return value


def _is_missing(value: Any, how: _How) -> bool:
    if value is None:
        return not how.optional
    return how.least_one and value == ()


def copied(record: R, update: Mapping[str, Any]) -> R:
    """A copy with some fields changed, and nothing that was looked up in the old one."""
    copy = record.model_copy(update=update)
    for name in copy.__dict__.keys() - type(copy).model_fields.keys():
        del copy.__dict__[name]
    return copy


def _logs(logs: Logs, gone: Gone) -> Logs:
    """Rows about what is there."""
    every = ((f.name, getattr(logs, f.name)) for f in dataclasses.fields(logs))
    kept: dict[str, Any] = {name: _rows(x, gone) for name, x in every if isinstance(x, tuple)}
    return dataclasses.replace(logs, **kept)


_COLUMNS = (("station", "stations"), ("machine", "machines"), ("mould", "moulds"))


def _rows(rows: tuple[Any, ...], gone: Gone) -> tuple[Any, ...]:
    return tuple(
        row
        for row in rows
        if not any(getattr(row, name, "") in gone.get(noun, ()) for name, noun in _COLUMNS)
    )
