"""What may stand under each key of the shop's files, read off the types of the records.

Validation, right examples, references and the check on languages all walk these shapes, so a
key is described once: where its record declares it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType, NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from generator.shop.fields import Measured, MoneyReader, Plain, Reader, Record, Ref, Worded

Marker = Measured | Plain | Reader | Worded


@dataclass(frozen=True, slots=True)
class Value:
    """One value: a quantity, a date, an id, words. ``noun`` is what an id must be found in."""

    marker: Marker | None
    noun: str = ""

    @property
    def is_text(self) -> bool:
        return isinstance(self.marker, Worded)

    @property
    def is_money(self) -> bool:
        return isinstance(self.marker, MoneyReader)


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a few."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Flag:
    """``true`` or ``false``."""


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list."""

    item: Shape


@dataclass(frozen=True, slots=True)
class ByIds:
    """A mapping from id to something."""

    item: Shape


@dataclass(frozen=True, slots=True)
class Group:
    """A record of its own."""

    record: type[Record]

    @property
    def keys(self) -> Mapping[str, Key]:
        return keys_of(self.record)


Shape = Value | Choice | Flag | ListOf | ByIds | Group


@dataclass(frozen=True, slots=True)
class Key:
    """A key of a record. ``optional`` where it may be written and left empty."""

    name: str
    field: str
    shape: Shape
    required: bool
    optional: bool


@lru_cache(maxsize=256)
def keys_of(record: type[Record]) -> Mapping[str, Key]:
    """The keys of a record's type as they are written, in the order they are declared."""
    keys = {}
    for field, info in record.model_fields.items():
        name = info.alias or field
        optional = NoneType in get_args(info.annotation)
        shape = _shape(info.annotation, tuple(info.metadata))
        keys[name] = Key(name, field, shape, info.is_required(), optional)
    return MappingProxyType(keys)


def _shape(annotation: Any, metadata: tuple[Any, ...]) -> Shape:
    annotation, metadata = _stripped(annotation, metadata)
    origin, args = get_origin(annotation), get_args(annotation)
    if origin is Literal:
        return Choice(args)
    if origin is tuple and args[-1] is Ellipsis:
        return ListOf(_shape(args[0], ()))
    if origin is dict:
        return ByIds(_shape(args[1], ()))
    if annotation is bool:
        return Flag()
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return Group(annotation)
    return _value(metadata)


def _stripped(annotation: Any, metadata: tuple[Any, ...]) -> tuple[Any, tuple[Any, ...]]:
    """Take ``| None`` and ``Annotated`` off, keeping what the latter carries."""
    while True:
        origin = get_origin(annotation)
        if origin is Annotated:
            annotation, *more = get_args(annotation)
            metadata = (*more, *metadata)
        elif origin in (Union, UnionType):
            (annotation,) = (a for a in get_args(annotation) if a is not NoneType)
        else:
            return annotation, metadata


def _value(metadata: tuple[Any, ...]) -> Value:
    markers = [m for m in metadata if isinstance(m, Marker)]
    nouns = [m.noun for m in metadata if isinstance(m, Ref)]
    return Value(markers[-1] if markers else None, nouns[-1] if nouns else "")


def shape_at(shape: Shape, path: tuple[str | int, ...]) -> Shape | None:
    """The shape found by walking ``path`` down from ``shape``; None where nothing is known."""
    for step in path:
        if isinstance(shape, Group) and step in shape.keys:
            shape = shape.keys[str(step)].shape
        elif isinstance(shape, ListOf | ByIds):
            shape = shape.item
        else:
            return None
    return shape
