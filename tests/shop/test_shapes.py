"""Every record of a shop can be described, written and shown by example."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from generator.ground.yamlfile import Located, LocatedList, parse_yaml
from generator.shop.examples import as_yaml, example
from generator.shop.fields import Record, key_of
from generator.shop.folder import NOUNS, file_example
from generator.shop.names import FIRST_ID, ONE_OF, PARTS, RECORDS, SINGLETONS
from generator.shop.shapes import ByIds, Group, ListOf, Shape, Value, keys_of, shape_at
from generator.shop.shop import Shop


def _records(record: type[Record], met: set[type[Record]]) -> set[type[Record]]:
    if record not in met:
        met.add(record)
        for key in keys_of(record).values():
            shape = _inner(key.shape)
            if isinstance(shape, Group):
                _records(shape.record, met)
    return met


def _inner(shape: Shape) -> Shape:
    return _inner(shape.item) if isinstance(shape, ListOf | ByIds) else shape


RECORDS_OF_SHOP = sorted(_records(Shop, set()) - {Shop}, key=lambda record: record.__name__)


def _values(shape: Shape) -> Iterator[Value]:
    shape = _inner(shape)
    if isinstance(shape, Value):
        yield shape
    elif isinstance(shape, Group):
        for key in shape.keys.values():
            yield from _values(key.shape)


def _no_ids(_noun: str) -> tuple[str, ...]:
    return ()


def test_there_are_many_records() -> None:
    assert len(RECORDS_OF_SHOP) > 60


@pytest.mark.parametrize("record", RECORDS_OF_SHOP, ids=lambda record: record.__name__)
def test_no_two_figures_share_a_key(record: type[Record]) -> None:
    keys = [key_of(field) for field in record.model_fields]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("record", RECORDS_OF_SHOP, ids=lambda record: record.__name__)
def test_the_example_of_every_key_can_be_read_in_its_place(record: type[Record]) -> None:
    """As it stands in a file: written as YAML and read again."""
    for key in keys_of(record).values():
        data = {
            other.name: example(other.shape, record, other.name, _no_ids)
            for other in keys_of(record).values()
            if other.required or other is key
        }
        tree, faults = parse_yaml(as_yaml(data), "example.yml")
        assert not faults
        made = record.model_validate(tree)
        assert made.wrote(key.field)


@pytest.mark.parametrize("noun", NOUNS)
def test_the_example_of_every_file_can_be_read(noun: str) -> None:
    tree, faults = parse_yaml(file_example(noun), f"{noun}.yml")
    assert tree and not faults
    shape = keys_of(Shop)[noun].shape
    if isinstance(shape, Group):
        shape.record.model_validate(tree)
    else:
        assert isinstance(shape, ByIds) and isinstance(shape.item, Group)
        shape.item.record.model_validate(tree[FIRST_ID[noun]])


def test_every_noun_and_every_place_an_id_leads_to_has_a_name() -> None:
    assert set(NOUNS) == set(RECORDS) | set(SINGLETONS)
    nouns = {value.noun for key in keys_of(Shop).values() for value in _values(key.shape)} - {""}
    assert nouns <= set(ONE_OF) & set(FIRST_ID)
    for noun in nouns - {n for n in nouns if n.startswith("reference.")}:
        top, *path = noun.split(".")
        assert isinstance(shape_at(keys_of(Shop)[top].shape, tuple(path)), ByIds)


def test_every_part_that_goes_by_id_has_a_name() -> None:
    parts = {
        key.name
        for record in RECORDS_OF_SHOP
        for key in keys_of(record).values()
        if isinstance(key.shape, ByIds)
    }
    assert parts == set(PARTS)


@pytest.mark.parametrize(
    "data",
    [
        {"at": "3200, 450 mm", "phases": ["L1", "L2"]},
        {"use": {"alone": "authorised"}, "hex": "#2f6f9f", "count": 4, "clock": "16:30"},
        {"steps": [{"do": "Close", "why": "true"}, {"do": "12"}], "empty": {}, "none": "null"},
        {"outline": ["0, 0 mm", "1, 0 m"], "yes": True, "share": 0.5, "text": "a: b"},
    ],
)
def test_an_example_reads_back_as_it_was_meant(data: dict[str, Any]) -> None:
    tree, faults = parse_yaml(as_yaml(data), "example.yml")
    assert (tree, faults) == (data, [])
    assert isinstance(tree, Located) and not isinstance(tree, LocatedList)
