"""A shop while it is being read: the records that hold, beside the ids of all that are written.

The rules run on a draft, so that what is wrong between records is told together with what is
wrong inside them. A record that does not hold is not in it, and a rule says nothing of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, TypeVar, cast

from babel import Locale

from generator.shop.fields import LANGUAGE_PATTERN, Record
from generator.shop.folder import NOUNS, Written
from generator.shop.logs import ReadLogs
from generator.shop.names import SINGLETONS
from generator.shop.place import Place, value_at
from generator.shop.records.identity import Identity
from generator.shop.records.logs import Logs
from generator.shop.records.people import Hours
from generator.shop.records.room import Room
from generator.shop.references import Known
from generator.shop.shapes import ByIds, Group, keys_of
from generator.shop.shop import Shop

R = TypeVar("R", bound=Record)


class Draft:
    """What could be read of a shop."""

    def __init__(self, written: Written) -> None:
        self.written = written
        self.known = Known(written)
        self.read_logs = ReadLogs(Logs(), [], {})
        self.records: dict[str, dict[str, Record]] = {
            noun: {} for noun in NOUNS if noun not in SINGLETONS
        }
        self._singletons: dict[str, Record] = {}
        self._languages = _languages(written)
        self._currency = _currency(written)

    def add(self, place: Place, record: Record) -> None:
        if place.noun in SINGLETONS:
            self._singletons[place.noun] = record
        else:
            self.records[place.noun][place.id] = record

    def whole(self) -> Shop:
        """The shop, where nothing was at fault."""
        return Shop.model_validate({**self._singletons, **self.records, "logs": self.logs})

    # --- what holds ---

    @property
    def logs(self) -> Logs:
        return self.read_logs.logs

    @property
    def identity(self) -> Identity | None:
        record = self._singletons.get("shop")
        return record if isinstance(record, Identity) else None

    @property
    def room(self) -> Room | None:
        record = self._singletons.get("room")
        return record if isinstance(record, Room) else None

    @property
    def hours(self) -> Hours | None:
        record = self._singletons.get("hours")
        return record if isinstance(record, Hours) else None

    def of(self, kind: type[R]) -> Mapping[str, R]:
        """The records of one type that hold, by id."""
        return cast("Mapping[str, R]", self.records[_NOUN_OF[kind]])

    # --- where it stands ---

    def places(self) -> Iterator[Place]:
        """Every record written, in the order nouns and records are written."""
        for noun in NOUNS:
            for id_ in [""] if noun in SINGLETONS else list(self.known.under(noun)):
                if noun in self.written.trees:
                    yield self.place(noun, id_)

    def place(self, noun: str, id_: str = "") -> Place:
        """Where a record is written, to speak of it."""
        tree = self.written.trees[noun]
        alone = noun in SINGLETONS
        data: Any = tree if alone else tree[id_]
        origin = tree.origin if alone else tree.key_origins[id_]
        return Place(
            noun, id_, _type_of(noun), data, origin,
            self.known.ids, self._languages, self._currency,
        )  # fmt: skip


def _type_of(noun: str) -> type[Record]:
    shape = keys_of(Shop)[noun].shape
    inner = shape.item if isinstance(shape, ByIds) else shape
    assert isinstance(inner, Group)
    return inner.record


_NOUN_OF = {_type_of(noun): noun for noun in NOUNS}


def _languages(written: Written) -> tuple[str, ...]:
    """The codes as written; none where one of them is no code, so that nothing follows on."""
    codes = value_at(written.trees.get("shop"), ("languages",))
    if not isinstance(codes, list):
        return ()
    good = all(isinstance(code, str) and LANGUAGE_PATTERN.fullmatch(code) for code in codes)
    return tuple(codes) if good else ()


def _currency(written: Written) -> str:
    code = value_at(written.trees.get("shop"), ("currency",))
    return code if isinstance(code, str) and code in Locale("en").currencies else ""
