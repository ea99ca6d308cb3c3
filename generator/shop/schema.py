"""JSON Schemas: of the shop's files, for editors, and of ``data/shop.json``, for programs.

Both come from the records' own types, so they cannot fall behind them.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import TypeAdapter

from generator.ground import units
from generator.shop.fields import Measured, Record
from generator.shop.folder import NOUNS
from generator.shop.shapes import ByIds, Group, ListOf, Shape, Value, keys_of
from generator.shop.shop import Shop

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def file_schemas() -> dict[str, Schema]:
    """What each file may hold, by the file's name (``stations.yml``)."""
    return {f"{noun}.yml": file_schema(noun) for noun in NOUNS}


def file_schema(noun: str) -> Schema:
    """What the file of a noun, or each file of its folder, may hold."""
    annotation: Any = Shop.model_fields[noun].annotation
    schema = TypeAdapter(annotation).json_schema(by_alias=True)
    for name, part in {**schema.get("$defs", {}), schema.get("title", ""): schema}.items():
        _write_defaults(part, _RECORDS.get(name))
    return {"$schema": DIALECT, **schema, "title": f"{noun}.yml"}


@cache
def data_schema() -> Schema:
    """What ``data/shop.json`` holds under ``shop``.

    Amounts are plain numbers in the unit that their name ends in and ``x-unit`` tells, points
    and sizes lists of millimetres. What the shop left out, and has no default, is left out.
    """
    schema = Shop.model_json_schema(by_alias=False, mode="serialization")
    parts = schema["$defs"]
    parts["Origin"] = {"type": "string", "description": "File, line and column."}
    for name, part in {**parts, "Shop": schema}.items():
        part.pop("required", None)
        if name in _RECORDS or name == "Shop":
            part["properties"] |= _ADDED
    return {"$schema": DIALECT, **schema}


_ADDED = {
    "written_at": {"type": "string", "description": "File, line and column it begins at."},
    "refused": {"type": "string", "description": "Why it is never heated here."},
}


def _records(shape: Shape) -> dict[str, type[Record]]:
    if isinstance(shape, ListOf | ByIds):
        return _records(shape.item)
    if not isinstance(shape, Group):
        return {}
    found = {shape.record.__name__: shape.record}
    for key in shape.keys.values():
        found |= _records(key.shape)
    return found


_RECORDS = _records(Group(Shop))


def _write_defaults(part: Schema, record: type[Record] | None) -> None:
    """Show a default as it would be written (``900 mm``), not as it is stored."""
    for key in keys_of(record).values() if record else ():
        shown = part["properties"][key.name]
        default = shown.get("default")
        if default is None:
            shown.pop("default", None)
        elif isinstance(key.shape, Value) and isinstance(key.shape.marker, Measured):
            shown["default"] = as_written(default, key.shape.marker.unit)


def as_written(value: float, unit: str) -> str:
    """A quantity as it would be written in a file, with plain spaces."""
    return units.show(value, unit).replace(units.NARROW_SPACE, " ")
