"""Every id that points at something, held against what is written, wherever it is nested.

The data is walked as it was read, not as it was validated: a record with a fault still names
others and is still named, so a fault in one file hides no slip in another and breeds none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

from generator.ground.finding import Finding
from generator.ground.nearest import nearest
from generator.ground.wording import _
from generator.ground.yamlfile import Located
from generator.shop.examples import as_yaml
from generator.shop.faults import Path, Place, unreadable
from generator.shop.fields import ID_PATTERN, Record
from generator.shop.folder import Written
from generator.shop.names import ONE_OF, file_of, listed, short
from generator.shop.shapes import ByIds, Group, ListOf, Shape, Value, keys_of

_FEW = 12


class Known:
    """The ids written of each noun, whether or not their records hold."""

    def __init__(self, written: Written, signs: Sequence[str] = ()) -> None:
        self._written = written
        self._signs = tuple(signs)

    def ids(self, noun: str) -> tuple[str, ...]:
        """Ids of ``stations``, ``room.zones`` or ``reference.signs``."""
        if noun == "reference.signs":
            return self._signs
        return self.under(*noun.split("."))

    def under(self, noun: str, *path: str) -> tuple[str, ...]:
        """The keys written at a path (``polymers``, ``pp``, ``colours``)."""
        tree: Any = self._written.trees.get(noun)
        for step in path:
            tree = tree.get(step) if isinstance(tree, dict) else None
        return tuple(tree) if isinstance(tree, dict) else ()

    def is_whole(self, noun: str) -> bool:
        """Whether every id of the noun could be read, so that one not there is a slip."""
        if noun == "reference.signs":
            return bool(self._signs)
        top, *path = noun.split(".")
        if top in self._written.broken:
            return False
        tree: Any = self._written.trees.get(top, {})
        for step in path:
            tree = tree.get(step, {}) if isinstance(tree, dict) else None
        return isinstance(tree, dict)


def faults_of_references(place: Place, known: Known, languages: Sequence[str]) -> Iterator[Finding]:
    """Ids that lead nowhere, and text that lacks the shop's first language."""
    for path, shape, value in _leaves(Group(place.record), place.data, ()):
        if shape.is_text:
            yield from _languages(place, path, value, languages)
        elif isinstance(value, str | int) and not isinstance(value, bool):
            yield from _reference(place, path, shape, str(value), known)


def _leaves(shape: Shape, data: Any, path: Path) -> Iterator[tuple[Path, Value, Any]]:
    """The values that point somewhere and the texts by language, depth first."""
    if isinstance(shape, Value):
        if isinstance(data, dict) if shape.is_text else shape.noun:
            yield path, shape, data
    elif isinstance(shape, Group) and isinstance(data, dict):
        for key, inner in _telling_keys(shape.record):
            if key in data:
                yield from _leaves(inner, data[key], (*path, key))
    elif isinstance(shape, ListOf) and isinstance(data, list):
        for number, item in enumerate(data):
            yield from _leaves(shape.item, item, (*path, number))
    elif isinstance(shape, ByIds) and isinstance(data, dict):
        for key, item in data.items():
            yield from _leaves(shape.item, item, (*path, key))


@lru_cache(maxsize=256)
def _telling_keys(record: type[Record]) -> tuple[tuple[str, Shape], ...]:
    return tuple((key.name, key.shape) for key in keys_of(record).values() if _tells(key.shape))


def _tells(shape: Shape) -> bool:
    if isinstance(shape, Value):
        return bool(shape.noun) or shape.is_text
    if isinstance(shape, ListOf | ByIds):
        return _tells(shape.item)
    return isinstance(shape, Group) and any(_tells(key.shape) for key in shape.keys.values())


# --- ids ---------------------------------------------------------------------------------------


def _reference(
    place: Place, path: Path, shape: Value, value: str, known: Known
) -> Iterator[Finding]:
    ids = known.ids(shape.noun)
    if value in ids or not known.is_whole(shape.noun):
        return
    if shape.marker is not None and not ID_PATTERN.fullmatch(value):
        return  # said already: no id at all
    yield unknown_id(place, path, value, shape.noun, ids)


def unknown_id(place: Place, path: Path, value: str, noun: str, ids: Sequence[str]) -> Finding:
    """The id at ``path`` leads nowhere: the nearest there is, or all of a few."""
    if noun == "reference.signs":
        says = _("`{id}` is not the code of a sign of ISO 7010 known here.").format(id=short(value))
    else:
        says = _("`{id}` is not {one_of} in {file}.").format(
            id=short(value), one_of=_(ONE_OF[noun]), file=file_of(noun)
        )
    guess = nearest(value, ids)
    right = led(path, guess or ids[0]) if ids else ""
    return place.finding("unknown-id", path, says, meant(guess, ids), right)


def meant(guess: str | None, ids: Sequence[str]) -> str:
    """Which one was meant, or what there is to choose from."""
    if guess:
        return _("Did you mean `{guess}`?").format(guess=guess)
    if not ids:
        return _("None is written yet: write it first, or delete this.")
    if len(ids) <= _FEW:
        return _("Written there: {ids}.").format(ids=listed(ids))
    return _("Write it there first, or name one of the {n} there.").format(n=len(ids))


def led(path: Path, value: Any) -> str:
    """A value with its key, or its dash in a list, before it."""
    return as_yaml([value]) if isinstance(path[-1], int) else as_yaml({path[-1]: value})


# --- languages ---------------------------------------------------------------------------------


def _languages(
    place: Place, path: Path, value: Located, languages: Sequence[str]
) -> Iterator[Finding]:
    if not languages or unreadable(value):
        return
    if languages[0] not in value:
        says = _("The shop's first language, `{code}`, is missing in this text.")
        first = next(iter(value.values()), "")
        right = led(path, {languages[0]: "…", **dict(list(value.items())[:2])}) if first else ""
        yield place.finding("language", path, says.format(code=languages[0]), "", right)
    for code in value:
        if code not in languages:
            yield _unlisted(place, (*path, code), code, languages)


def _unlisted(place: Place, path: Path, code: str, languages: Sequence[str]) -> Finding:
    says = _("`{code}` is not among the shop's languages, {languages}.")
    mend = _("Add it to `languages` in shop.yml, or correct it.")
    right = as_yaml({"languages": [*languages, code]})
    return place.finding(
        "language", path, says.format(code=short(code), languages=listed(languages)), mend, right
    )
