"""What may be written in a shop's files, as a list to read: each key with a right example."""

from __future__ import annotations

import ast
import datetime as dt
import inspect
from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, Field, fields
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

import yaml

from generator.ground.wording import _
from generator.shop.competence import Sign
from generator.shop.examples import example
from generator.shop.fields import Plain, Record, Ref
from generator.shop.logs import LOGS
from generator.shop.names import FIRST_ID
from generator.shop.records.logs import OwnWords
from generator.shop.shapes import ByIds, Choice, Group, Key, ListOf, Shape, keys_of
from generator.shop.shop import Shop

_NOT_WRITTEN = "logs"
"""Read from CSV, whose first line names its columns."""

_TABLES: Mapping[str, type] = {
    **{log.replace("_", "-"): row for log, row in LOGS.items()},
    "competence": Sign,
}


def tables() -> tuple[str, ...]:
    """The CSV files a shop may hold, by name without ending."""
    return tuple(_TABLES)


def nouns() -> tuple[str, ...]:
    """The YAML files a shop may hold, by name without ending, in reading order."""
    return tuple(key.replace("_", "-") for key in keys_of(Shop) if key != _NOT_WRITTEN)


def lines(noun: str) -> Iterator[str]:
    """The keys of one file, indented as they are written.

    Parameters
    ----------
    noun
        One of :func:`nouns`.

    Raises
    ------
    KeyError
        If a shop has no such file.
    """
    shape = _files()[noun].shape
    if isinstance(shape, ByIds):
        yield "an-id:"
        yield from _inside(shape.item, 1)
    else:
        yield from _inside(shape, 0)


def _files() -> Mapping[str, Key]:
    return {key.replace("_", "-"): found for key, found in keys_of(Shop).items()}


def _inside(shape: Shape, depth: int) -> Iterator[str]:
    if isinstance(shape, Group):
        for key in shape.keys.values():
            yield from _key(shape.record, key, depth)


def _key(record: type[Record], key: Key, depth: int) -> Iterator[str]:
    indent = "  " * depth
    note = _note(record, key)
    inner = _group_in(key.shape)
    if inner is None:
        yield f"{indent}{key.name}: {_written(record, key)}{note}"
        return
    yield f"{indent}{key.name}:{note}"
    if isinstance(key.shape, ByIds):
        yield f"{indent}  an-id:"
        yield from _inside(inner, depth + 2)
    elif isinstance(key.shape, ListOf):
        first, *rest = _inside(inner, depth + 2)
        yield f"{indent}  - {first.strip()}"
        yield from rest
    else:
        yield from _inside(inner, depth + 1)


def _note(record: type[Record], key: Key) -> str:
    """Whether a key is needed, which words it takes, and what it means."""
    means = " ".join((record.model_fields[key.field].description or "").split())
    inner = key.shape.item if isinstance(key.shape, ListOf) else key.shape
    words = f"one of: {', '.join(map(str, inner.words))}." if isinstance(inner, Choice) else ""
    said = " ".join(part for part in ("Needed." if key.required else "", words, means) if part)
    return f"  # {said}" if said else ""


def _group_in(shape: Shape) -> Group | None:
    inner = shape.item if isinstance(shape, ByIds | ListOf) else shape
    return inner if isinstance(inner, Group) else None


def _written(record: type[Record], key: Key) -> str:
    data: Any = example(key.shape, record, key.name, lambda _noun: ())
    text = yaml.safe_dump(data, default_flow_style=True, allow_unicode=True, width=1000)
    return text.removesuffix("\n").removesuffix("\n...").strip()


# --- CSV ---------------------------------------------------------------------------------------


def columns(table: str) -> Iterator[str]:
    """What may stand in a CSV file: its first line, an example of a second, and each column.

    Parameters
    ----------
    table
        One of :func:`tables`.

    Raises
    ------
    KeyError
        If a shop has no such table.
    """
    row = _TABLES[table]
    hints = get_type_hints(row, include_extras=True)
    made = [field for field in fields(row) if field.name != "origin"]
    yield ",".join(field.name for field in made)
    yield ",".join(_cell(field, hints[field.name]) for field in made)
    yield ""
    yield f"# {_in_a_line(row.__doc__ or '')}"
    said = _said_of(row)
    for field in made:
        yield f"# {field.name}: {_of_column(field, hints[field.name], said)}".rstrip(": ")


def _in_a_line(told: str) -> str:
    return " ".join(told.split()).replace("``", "`")


_CELLS = {
    "person": "P-07",
    "level": "authorised",
    "end": "19:30",
    "machine": "granulator",
    "batch": "FL-041",
    "trial": "T12",
    "task": "knives",
    "made_from": "WA-030 WA-031",
    "colour": "white",
}
_BY_TYPE: Mapping[Any, str] = {dt.date: "2026-03-14", dt.time: "16:30"}


def _cell(field: Field[Any], hint: Any) -> str:
    """What could stand in a column; nothing in one that may be left empty."""
    if field.default is not MISSING:
        return ""
    marks = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
    by_mark: Mapping[type, Callable[[Any], str]] = {
        Ref: lambda mark: FIRST_ID.get(mark.noun, ""),
        Plain: lambda mark: str(mark.example),
    }
    found = [by_mark[type(m)](m) for m in marks if type(m) in by_mark]
    words = _words(hint)
    example = found[0] if found else words[0] if words else _BY_TYPE.get(hint, "")
    return _CELLS.get(field.name) or str(example) or field.name


def _words(hint: Any) -> tuple[str, ...]:
    """The words a column is held to."""
    if get_origin(hint) is Literal:
        return tuple(word for word in get_args(hint) if word)
    inner = get_args(hint) if get_origin(hint) is not Annotated else get_args(hint)[:1]
    return tuple(word for part in inner for word in _words(part))


def _of_column(field: Field[Any], hint: Any, said: Mapping[str, str]) -> str:
    """Whether a column is needed, the words it takes, what it means, whether it is published."""
    words = ", ".join(_words(hint))
    own = get_origin(hint) is Annotated and any(isinstance(m, OwnWords) for m in get_args(hint))
    told = (
        _("Needed.") if field.default is MISSING else "",
        _("One of: {words}.").format(words=words) if words else "",
        said.get(field.name, ""),
        _("In own words, for the shop alone: never published.") if own else "",
    )
    return " ".join(filter(None, told))


def _said_of(row: type) -> Mapping[str, str]:
    """What stands under each field of a row's class."""
    (made,) = ast.parse(inspect.getsource(row)).body
    assert isinstance(made, ast.ClassDef)
    said = {}
    for line, after in zip(made.body, made.body[1:], strict=False):
        told = isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant)
        if isinstance(line, ast.AnnAssign) and isinstance(line.target, ast.Name) and told:
            said[line.target.id] = _in_a_line(str(after.value.value))  # type: ignore[attr-defined]
    return said
