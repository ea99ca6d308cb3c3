"""From a folder of YAML and CSV to one frozen shop, or every fault that stands in its way."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import groupby, islice
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from generator.ground.finding import Finding, in_file_order
from generator.ground.units import ReadingError
from generator.ground.yamlfile import Located
from generator.shop.draft import Draft
from generator.shop.faults import faults_of
from generator.shop.fields import Record, read_id
from generator.shop.folder import read_folder
from generator.shop.logs import read_logs
from generator.shop.names import SINGLETONS, file_of
from generator.shop.place import MOST_FAULTS, Place, capped
from generator.shop.references import References
from generator.shop.rules import RULES
from generator.shop.shapes import ByIds
from generator.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Loaded:
    """A shop, or None where there are faults; the faults in file order, each once."""

    shop: Shop | None
    findings: tuple[Finding, ...]


def load_shop(folder: Path) -> Loaded:
    """Read the shop in ``folder``: its YAML, then its logs.

    ``shop.yml``, ``room.yml`` and ``hours.yml`` hold one record each, every other noun a
    mapping from id to record in ``<noun>.yml`` or in the files of a folder ``<noun>``.
    ``competence.csv`` is known, but never read here: it says what people may do, and nothing
    that leads to a published page may hold it. Nothing raises, whatever the folder holds.
    """
    with _no_collecting():
        return _load(folder)


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Half the time went into looking for cycles in trees that have none."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _load(folder: Path) -> Loaded:
    draft, faults = read_draft(folder)
    for rule in RULES:
        faults += islice(rule(draft), MOST_FAULTS)
    shop = None if faults else draft.whole()
    return Loaded(shop, in_file_order(dict.fromkeys(faults)))


def read_draft(folder: Path) -> tuple[Draft, list[Finding]]:
    """What can be read of a shop, and every fault but those of the rules between records."""
    draft = Draft(read_folder(folder))
    references = References(draft.known)
    faults = [*draft.written.faults, *_read_records(draft, references)]
    draft.read_logs = read_logs(folder, draft.known, references.unwritten)
    return draft, faults + draft.read_logs.faults


def _read_records(draft: Draft, references: References) -> Iterator[Finding]:
    for noun, places in groupby(draft.places(), key=lambda place: place.noun):
        yield from capped(_faults_of_noun(places, draft, references), file_of(noun))
    yield from references.faults_of_unwritten()


def _faults_of_noun(
    places: Iterator[Place], draft: Draft, references: References
) -> Iterator[Finding]:
    for place in places:
        yield from _read_record(place, draft)
        yield from references.faults_in(place)


def _read_record(place: Place, draft: Draft) -> Iterator[Finding]:
    yield from _odd_id(place)
    if isinstance(place.data, Located):
        place.data.origin = place.origin  # the line of its id, not that of its first key
    try:
        draft.add(place, place.record.model_validate(place.data))
    except ValidationError as error:
        yield from faults_of(error, place)
        _add_what_holds(place, error, draft)


def _odd_id(place: Place) -> Iterator[Finding]:
    if place.noun in SINGLETONS:
        return
    try:
        read_id(place.id)
    except ReadingError as error:
        right = f"{error.example}:"
        yield place.finding("id", (), error.says, error.mend, right, origin=place.origin)


def _add_what_holds(place: Place, error: ValidationError, draft: Draft) -> None:
    """Keep a record whose faults lie in a few of its named parts, without those parts.

    One faulty circuit must not keep the walls and doors of the room from being looked at.
    """
    paths = [problem["loc"] for problem in error.errors(include_url=False)]
    parts = [path[:2] for path in paths if _is_part(place, path)]
    if len(parts) == len(paths):
        record = _valid(place.record, _without(place.data, {(str(a), str(b)) for a, b in parts}))
        if record is not None:
            draft.add(place, record)


def _is_part(place: Place, path: tuple[Any, ...]) -> bool:
    return len(path) > 1 and isinstance(place.shape(path[:1]), ByIds)


def _valid(record: type[Record], data: Any) -> Record | None:
    try:
        return record.model_validate(data)
    except ValidationError:
        return None


def _without(data: Located, parts: set[tuple[str, str]]) -> Located:
    rest = _copied(data)
    for key in {key for key, _part in parts}:
        rest[key] = _copied(data[key])
    for key, part in parts:
        del rest[key][part]
    return rest


def _copied(data: Located) -> Located:
    copy = Located(data.origin)
    copy.update(data)
    copy.origins, copy.key_origins = data.origins, data.key_origins
    return copy
