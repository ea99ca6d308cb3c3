"""From a folder of YAML and CSV to one frozen shop, or every fault that stands in its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from pydantic import ValidationError

from generator.ground.finding import Finding, in_file_order
from generator.ground.units import ReadingError
from generator.shop.faults import Place, faults_of, value_at
from generator.shop.fields import LANGUAGE_PATTERN, Record, read_id
from generator.shop.folder import NOUNS, Written, read_folder
from generator.shop.names import SINGLETONS
from generator.shop.references import Known, faults_of_references
from generator.shop.shapes import ByIds, Group, keys_of
from generator.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Loaded:
    """A shop, or None where there are faults; the faults in file order, each once."""

    shop: Shop | None
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class Draft:
    """What could be read: the records that hold, beside the ids of all that are written."""

    known: Known
    singletons: dict[str, Record] = field(default_factory=dict)
    records: dict[str, dict[str, Record]] = field(default_factory=dict)
    faults: list[Finding] = field(default_factory=list)


def load_shop(folder: Path) -> Loaded:
    """Read the shop in ``folder``: its YAML, then its logs.

    ``shop.yml``, ``room.yml`` and ``hours.yml`` hold one record each, every other noun a
    mapping from id to record in ``<noun>.yml`` or in the files of a folder ``<noun>``.
    ``competence.csv`` is known, but never read here: it says what people may do, and nothing
    that leads to a published page may hold it. Nothing raises, whatever the folder holds.
    """
    written = read_folder(folder)
    draft = Draft(Known(written), faults=list(written.faults))
    languages, currency = _languages(written), _currency(written)
    for place in _places(written, draft.known, currency):
        _read_record(place, draft)
        draft.faults.extend(faults_of_references(place, draft.known, languages))
    return Loaded(_shop(draft), in_file_order(dict.fromkeys(draft.faults)))


def _languages(written: Written) -> tuple[str, ...]:
    """The codes as written; none where one of them is no code, so that nothing follows on."""
    codes = value_at(written.trees.get("shop"), ("languages",))
    if not isinstance(codes, list):
        return ()
    good = all(isinstance(code, str) and LANGUAGE_PATTERN.fullmatch(code) for code in codes)
    return tuple(codes) if good else ()


def _currency(written: Written) -> str:
    code = value_at(written.trees.get("shop"), ("currency",))
    return code if isinstance(code, str) else ""


# --- records -----------------------------------------------------------------------------------


def _places(written: Written, known: Known, currency: str) -> Iterator[Place]:
    for noun in NOUNS:
        shape, tree = keys_of(Shop)[noun].shape, written.trees.get(noun)
        if tree is None:
            continue
        if isinstance(shape, Group):
            yield Place(noun, "", shape.record, tree, tree.origin, known.ids, currency)
        elif isinstance(shape, ByIds) and isinstance(shape.item, Group):
            for key, data in tree.items():
                origin = tree.key_origins[key]
                yield Place(noun, key, shape.item.record, data, origin, known.ids, currency)


def _read_record(place: Place, draft: Draft) -> None:
    if place.noun not in SINGLETONS:
        draft.faults.extend(_odd_id(place))
    try:
        record = place.record.model_validate(place.data)
    except ValidationError as error:
        draft.faults.extend(faults_of(error, place))
        return
    if place.noun in SINGLETONS:
        draft.singletons[place.noun] = record
    else:
        draft.records.setdefault(place.noun, {})[place.id] = record


def _odd_id(place: Place) -> Iterator[Finding]:
    try:
        read_id(place.id)
    except ReadingError as error:
        yield place.finding(
            "id", (), error.says, error.mend, f"{error.example}:", origin=place.origin
        )


def _shop(draft: Draft) -> Shop | None:
    if draft.faults:
        return None
    return Shop.model_validate({**draft.singletons, **draft.records})
