"""Every id that points at something, held against what is written, wherever it is nested.

The data is walked as it was read, not as it was validated: a record with a fault still names
others and is still named, so a fault in one file hides no slip in another and breeds none.
The same walk holds texts to the shop's languages and prices to its currency.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from contextlib import suppress
from functools import cached_property, lru_cache
from typing import Any

from generator.ground.finding import Finding
from generator.ground.units import ReadingError
from generator.ground.wording import _, ngettext
from generator.ground.yamlfile import Located
from generator.reference import reference
from generator.shop.examples import example
from generator.shop.fields import ID_PATTERN, MoneyReader, Record, as_id
from generator.shop.folder import Written, file_example
from generator.shop.meant import no_such_id
from generator.shop.names import file_of, listed, short
from generator.shop.place import Path, Place, in_currency, last_key, led, unreadable
from generator.shop.shapes import ByIds, Group, ListOf, Shape, Value, keys_of

_FEW = 12  # ids, more are only counted


class Known:
    """The ids written of each noun, whether or not their records hold."""

    def __init__(self, written: Written) -> None:
        self._written = written
        self._ids: dict[str, Mapping[str, Any]] = {}

    def ids(self, noun: str) -> Mapping[str, Any]:
        """Ids of ``stations``, ``room.zones`` or ``reference.signs``, in the order written.

        One that is no id is there as the id it will be once it is mended.
        """
        if noun not in self._ids:
            top, *path = noun.split(".")
            table = self._reference.get(noun)
            self._ids[noun] = _righted(self.under(top, *path)) if table is None else table
        return self._ids[noun]

    @cached_property
    def _reference(self) -> dict[str, dict[str, None]]:
        supplies = reference().supplies.values()
        return {
            "reference.signs": dict.fromkeys(reference().signs),
            "reference.containers": dict.fromkeys(reference().containers),
            "reference.label_grids": dict.fromkeys(reference().label_grids),
            "reference.substances": dict.fromkeys(reference().substances),
            "reference.supplies": dict.fromkeys(n for s in supplies for n in (*s.aliases, s.key)),
        }

    def under(self, noun: str, *path: str) -> Mapping[str, Any]:
        """What is written at a path (``polymers``, ``pp``, ``colours``), by its keys."""
        tree: Any = self._written.trees.get(noun)
        for step in path:
            tree = tree.get(step) if isinstance(tree, dict) else None
        return tree if isinstance(tree, dict) else {}

    def is_whole(self, noun: str) -> bool:
        """Whether every id of the noun could be read, so that one not there is a slip."""
        if noun.startswith("reference."):
            return True
        top, *path = noun.split(".")
        tree: Any = self._written.trees.get(top, {})
        for step in path:
            tree = tree.get(step, {}) if isinstance(tree, dict) else None
        return isinstance(tree, dict) and top not in self._written.broken


def _righted(written: Mapping[str, Any]) -> Mapping[str, Any]:
    return {_right(key): value for key, value in written.items()}


def _right(key: str) -> str:
    return key if ID_PATTERN.fullmatch(key) else as_id(key) or key


class References:
    """Collects what leads nowhere, record by record.

    Where a noun has no record at all, every id of it is one fault: the file is what is missing.
    """

    def __init__(self, known: Known) -> None:
        self._known = known
        self._unwritten: dict[str, list[tuple[Place, Path, str]]] = defaultdict(list)

    def faults_in(self, place: Place) -> Iterator[Finding]:
        """Ids without a record, texts without the first language, prices in other money."""
        for path, shape, value in _telling(Group(place.record), place.data, ()):
            if shape.is_text:
                yield from _languages(place, path, value)
            elif shape.is_money:
                yield from _currency(place, path, value)
            elif isinstance(value, str | int) and not isinstance(value, bool):
                yield from self._reference(place, path, shape, str(value))

    def _reference(self, place: Place, path: Path, shape: Value, value: str) -> Iterator[Finding]:
        ids = self._known.ids(shape.noun)
        if value in ids or not self._known.is_whole(shape.noun):
            return
        if "reference" not in shape.noun and not ID_PATTERN.fullmatch(value):
            return  # said already: it is no id at all
        if ids:
            yield place.lost(path, no_such_id(value, shape.noun, ids))
        else:
            self._unwritten[shape.noun].append((place, path, value))

    @property
    def unwritten(self) -> set[str]:
        """The nouns that are named in YAML and hold no record."""
        return set(self._unwritten)

    def faults_of_unwritten(self) -> Iterator[Finding]:
        """One fault a noun that is named and never written, at the first place it is named."""
        for noun, uses in self._unwritten.items():
            place, path, _value = uses[0]
            error = unwritten(noun, list(dict.fromkeys(value for *_, value in uses)))
            yield place.finding("unknown-id", path, error.says, error.mend, error.example)


def _telling(shape: Shape, data: Any, path: Path) -> Iterator[tuple[Path, Value, Any]]:
    """The values that point somewhere, the texts by language and the prices, depth first."""
    if isinstance(shape, Value):
        if not shape.is_text or isinstance(data, dict):
            yield path, shape, data
    elif isinstance(shape, Group) and isinstance(data, dict):
        for key, inner in _telling_keys(shape.record):
            if key in data:
                yield from _telling(inner, data[key], (*path, key))
    elif isinstance(shape, ListOf) and isinstance(data, list):
        for number, item in enumerate(data):
            yield from _telling(shape.item, item, (*path, number))
    elif isinstance(shape, ByIds) and isinstance(data, dict):
        for key, item in data.items():
            yield from _telling(shape.item, item, (*path, key))


@lru_cache(maxsize=256)
def _telling_keys(record: type[Record]) -> tuple[tuple[str, Shape], ...]:
    return tuple((key.name, key.shape) for key in keys_of(record).values() if _tells(key.shape))


def _tells(shape: Shape) -> bool:
    if isinstance(shape, Value):
        return bool(shape.noun) or shape.is_text or shape.is_money
    if isinstance(shape, ListOf | ByIds):
        return _tells(shape.item)
    return isinstance(shape, Group) and bool(_telling_keys(shape.record))


# --- ids ---------------------------------------------------------------------------------------


def unwritten(noun: str, ids: list[str]) -> ReadingError:
    """Ids of a noun without any record: what is missing is its file, or its part of a file."""
    says = ngettext(
        "{ids} is named, but {file} holds nothing to find it in.",
        "{ids} are named, but {file} holds nothing to find them in.",
        len(ids),
    )
    says = says.format(ids=_some(ids), file=_part(noun))
    mend = _("Write it there, or delete where it is named.")
    return ReadingError(says, mend, file_example(noun, ids[0]))


def _some(ids: list[str]) -> str:
    if len(ids) <= _FEW:
        return listed(ids)
    more = _("{n} more").format(n=len(ids) - _FEW)
    return _("{ids} and {more}").format(ids=", ".join(f"`{i}`" for i in ids[:_FEW]), more=more)


def _part(noun: str) -> str:
    _top, _dot, key = noun.partition(".")
    return _("`{key}` of {file}").format(key=key, file=file_of(noun)) if key else file_of(noun)


# --- languages and money -----------------------------------------------------------------------


def _languages(place: Place, path: Path, value: Located) -> Iterator[Finding]:
    """A code that is not listed may be the first language mistyped, so it is told alone."""
    if not place.languages or not value or unreadable(value):
        return
    unlisted = [code for code in value if code not in place.languages]
    for code in unlisted:
        yield _unlisted(place, path, code, value)
    if not unlisted and place.languages[0] not in value:
        yield _without_first(place, path, value)


def _without_first(place: Place, path: Path, value: Located) -> Finding:
    first = place.languages[0]
    says = _("The shop's first language, `{code}`, is missing in this text.").format(code=first)
    shape = place.shape(path)
    assert shape is not None
    words = example(shape, place.owner(path), last_key(path), place.ids)
    return place.finding(
        "language", path, says, _("Add it."), led(path, {first: words, **_said(value)})
    )


def _said(value: Located) -> dict[str, str]:
    """The words of a text by language, as short as an example may be."""
    return {code: short(words) for code, words in value.items() if isinstance(words, str)}


def _unlisted(place: Place, path: Path, code: str, value: Located) -> Finding:
    says = _("`{code}` is not among the shop's languages, {languages}.")
    mend = _("Correct it, or add it to `languages` in shop.yml.")
    says = says.format(code=short(code), languages=listed(place.languages))
    free = next((known for known in place.languages if known not in value), place.languages[0])
    right = led((*path, free), _said(value).get(code, "…"))
    return place.finding("language", (*path, code), says, mend, right)


def _currency(place: Place, path: Path, value: Any) -> Iterator[Finding]:
    """A price the shop could not add to its others; what is no price is said elsewhere."""
    shape = place.shape(path)
    assert isinstance(shape, Value)
    assert isinstance(shape.marker, MoneyReader)
    if not place.currency or not isinstance(value, str) or place.currency in value:
        return
    with suppress(ValueError):
        money = shape.marker.read(value)
        says = _("This price is in {other}, and the shop's currency is {code}.")
        says = says.format(other=money.currency, code=place.currency)
        mend = _("Write what it comes to in {code}.").format(code=place.currency)
        right = led(path, in_currency(shape.marker.example, place.currency))
        yield place.finding("currency", path, says, mend, right)
