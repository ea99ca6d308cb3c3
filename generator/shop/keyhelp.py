"""What may be written in a shop's files, as a list to read: each key with a right example."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import yaml

from generator.shop.examples import example
from generator.shop.fields import Record
from generator.shop.shapes import ByIds, Choice, Group, Key, ListOf, Shape, keys_of
from generator.shop.shop import Shop

_NOT_WRITTEN = "logs"
"""Read from CSV, whose first line names its columns."""


def nouns() -> tuple[str, ...]:
    """The files a shop may hold, by name without ending, in reading order."""
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
