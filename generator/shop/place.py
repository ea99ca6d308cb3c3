"""Where something stands in the shop's files, and how a fault there is told."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice
from typing import Any

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import ReadingError
from generator.ground.wording import _
from generator.ground.yamlfile import UNREADABLE, Located, LocatedList
from generator.shop.examples import Ids, as_yaml, example, group_example
from generator.shop.fields import Record
from generator.shop.names import SINGLETONS, spoken
from generator.shop.shapes import Group, Shape, shape_at

Path = tuple[str | int, ...]
KEY_ITSELF = "[key]"
"""The last step of a path to a key rather than to its value."""

MOST_FAULTS = 200
"""Of one file or one rule; nobody reads more at once."""


@dataclass(frozen=True, slots=True)
class Place:
    """A record that is being read: its noun, its id ("" for the room and its like), its data."""

    noun: str
    id: str
    record: type[Record]
    data: Any
    origin: Origin
    ids: Ids
    languages: tuple[str, ...] = ()
    currency: str = ""

    @property
    def subject(self) -> str:
        return self.noun if self.noun in SINGLETONS else f"{self.noun}/{self.id}"

    def said(self, path: Path) -> str:
        return spoken(self.noun, path if self.noun in SINGLETONS else (self.id, *path))

    def finding(
        self, rule: str, path: Path, says: str, mend: str = "", right: str = "", *,
        origin: Origin | None = None,
    ) -> Finding:  # fmt: skip
        """A fault at ``path``, its sentence led by where that is in words."""
        where = origin or origin_at(self.data, path, self.origin)
        told = f"{self.said(path)}: {says}"
        return Finding(f"data.{rule}", Severity.FAULT, where, told, mend, right, self.subject)

    def lost(self, path: Path, error: ReadingError) -> Finding:
        """An id at ``path`` that leads nowhere, as ``error`` says it."""
        right = led(path, error.example) if error.example else ""
        return self.finding("unknown-id", path, error.says, error.mend, right)

    def shape(self, path: Path) -> Shape | None:
        return shape_at(Group(self.record), path)

    def owner(self, path: Path) -> type[Record] | None:
        """The record's type that declares the last key of the path."""
        for end in range(len(path) - 1, -1, -1):
            shape = self.shape(path[:end])
            if isinstance(shape, Group):
                return shape.record
        return None


# --- where -------------------------------------------------------------------------------------


def origin_at(data: Any, path: Path, otherwise: Origin) -> Origin:
    """Where the value at ``path`` was written, or the nearest thing above it."""
    origin = otherwise
    for step in path:
        if step == KEY_ITSELF or not _has(data, step):
            break
        origin = data.origins[step]
        data = data[step]
    return origin


def key_origin_at(data: Any, path: Path, otherwise: Origin) -> Origin:
    """Where the key at ``path`` was written; for an item of a list, the item."""
    if not path:
        return otherwise
    above = value_at(data, path[:-1])
    if isinstance(above, Located) and path[-1] in above.key_origins:
        return above.key_origins[str(path[-1])]
    return origin_at(data, path, otherwise)


def value_at(data: Any, path: Path) -> Any:
    """The value at ``path`` as it was read; None where there is none."""
    for step in path:
        if not _has(data, step):
            return None
        data = data[step]
    return data


def _has(data: Any, step: str | int) -> bool:
    if isinstance(data, Located):
        return step in data
    return isinstance(data, LocatedList) and isinstance(step, int) and step < len(data)


def unreadable(value: Any) -> bool:
    """Whether a fault already says that the value, or part of it, could not be read."""
    if isinstance(value, dict):
        return any(unreadable(inner) for inner in value.values())
    if isinstance(value, list):
        return any(unreadable(inner) for inner in value)
    return value is UNREADABLE


# --- right examples ----------------------------------------------------------------------------


def right_line(place: Place, path: Path) -> str:
    """A right example of the value at ``path``, with its key, dash or id before it."""
    shape = place.shape(path)
    if shape is None:
        return ""
    if not path and place.id:
        return as_yaml({place.id: group_example(place.record, place.ids)})
    right = example(shape, place.owner(path), last_key(path), place.ids)
    data = in_currency(right, place.currency)
    return led(path, data)


def last_key(path: Path) -> str:
    """The last key of a path; list items have none of their own."""
    return next((str(step) for step in reversed(path) if isinstance(step, str)), "")


def led(path: Path, data: Any) -> str:
    """An example with its key, or its dash in a list, before it."""
    last = path[-1] if path else None
    if isinstance(last, str):
        return as_yaml({last: data})
    return as_yaml([data]) if isinstance(last, int) else as_yaml(data)


def in_currency(data: Any, currency: str) -> Any:
    """An example of a price in the shop's own currency."""
    if isinstance(data, dict):
        return {key: in_currency(value, currency) for key, value in data.items()}
    return re.sub(r"(?<=\d )EUR\b", currency, data) if isinstance(data, str) and currency else data


# --- not too many ------------------------------------------------------------------------------


def capped(faults: Iterable[Finding], name: str) -> list[Finding]:
    """The first faults, and one that says that there are more; the rest is not even looked for."""
    first = list(islice(faults, MOST_FAULTS + 1))
    if len(first) > MOST_FAULTS:
        says = _("{name} has more than {n} faults; only the first are told.")
        says = says.format(name=name, n=MOST_FAULTS)
        mend = _("Mend these, then look again.")
        first[-1] = Finding("data.more-faults", Severity.FAULT, Origin(name), says, mend)
    return first
