"""What validation complains about, in plain words, at its line, with a right example."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from generator.ground.finding import Finding
from generator.ground.nearest import nearest
from generator.ground.origin import Origin
from generator.ground.textfile import fault
from generator.ground.wording import _, ngettext
from generator.ground.yamlfile import UNREADABLE, Located, LocatedList
from generator.shop.examples import Ids, as_yaml, example, group_example, marker_example, number
from generator.shop.fields import Plain, Record, as_id, described, key_of
from generator.shop.names import SINGLETONS, listed, short, spoken
from generator.shop.shapes import Choice, Group, ListOf, Shape, Value, keys_of, shape_at

Path = tuple[str | int, ...]
_FEW_KEYS = 12
_KEY_ITSELF = "[key]"


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
        plain = fault(rule, where, f"{self.said(path)}: {says}", mend, right)
        return Finding(
            plain.rule, plain.severity, where, plain.says, plain.mend, plain.example, self.subject
        )

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
        if step == _KEY_ITSELF or not _has(data, step):
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


# --- what --------------------------------------------------------------------------------------


def faults_of(error: ValidationError, place: Place) -> Iterator[Finding]:
    """Every complaint once: keys too many and too few by record, then the values."""
    unknown: dict[Path, list[str]] = defaultdict(list)
    missing: dict[Path, list[str]] = defaultdict(list)
    for problem in error.errors(include_url=False):
        path, kind = problem["loc"], problem["type"]
        if kind == "extra_forbidden":
            unknown[path[:-1]].append(str(path[-1]))
        elif kind == "missing":
            missing[path[:-1]].append(str(path[-1]))
        elif not unreadable(value_at(place.data, path)):
            yield _value_fault(place, path, kind, problem.get("ctx") or {})
    for path, keys in unknown.items():
        yield from (_unknown_key(place, path, key, missing[path]) for key in keys)
    for path, keys in missing.items():
        if keys:
            yield _missing_keys(place, path, keys)


def _unknown_key(place: Place, path: Path, key: str, missing: list[str]) -> Finding:
    """The nearest known key is what was meant, so it is not said to be missing as well."""
    shape = place.shape(path)
    assert isinstance(shape, Group)
    guess = _meant(key, shape.record, value_at(place.data, path))
    if guess in missing:
        missing.remove(guess)
    says = _("The key `{key}` is not known here.").format(key=short(key))
    right = _line(place, (*path, guess)) if guess else ""
    mend = _cut_by_comma() if key[:1].isdigit() else _keys_known(key, guess, shape.record)
    return place.finding(
        "unknown-key", path, says, mend, right,
        origin=key_origin_at(place.data, (*path, key), place.origin),
    )  # fmt: skip


def _cut_by_comma() -> str:
    return _("Inside braces a comma ends a value: leave it out of a number, or use quotes.")


def _meant(key: str, record: type[Record], written: Any) -> str | None:
    keys = [name for name in keys_of(record) if name not in written]
    if key_of(key) in keys:
        return key_of(key)
    return nearest(key, keys) or nearest(key_of(key), keys)


def _keys_known(key: str, guess: str | None, record: type[Record]) -> str:
    keys = list(keys_of(record))
    parts = []
    if guess and guess == key_of(key):
        parts.append(_("The unit goes with the value, and the key is `{guess}`."))
    elif guess:
        parts.append(_("Did you mean `{guess}`?"))
    if not guess or len(keys) <= _FEW_KEYS:
        parts.append(_("Known here: {keys}."))
    return " ".join(parts).format(guess=guess, keys=listed(keys))


def _missing_keys(place: Place, path: Path, keys: list[str]) -> Finding:
    says = ngettext("{keys} is missing.", "{keys} are missing.", len(keys))
    right = "\n".join(_line(place, (*path, key)) for key in keys)
    return place.finding(
        "missing-key", path, says.format(keys=listed(keys)),
        ngettext("Add the line.", "Add the lines.", len(keys)), right,
        origin=key_origin_at(place.data, path, place.origin),
    )  # fmt: skip


def _line(place: Place, path: Path) -> str:
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


# --- values ------------------------------------------------------------------------------------


def _value_fault(place: Place, path: Path, kind: str, context: Mapping[str, Any]) -> Finding:
    if path and path[-1] == _KEY_ITSELF:
        return _odd_id(place, path, context)
    value = value_at(place.data, path)
    if value is None:
        return _nothing(place, path)
    rule, says, mend, right = _SAY.get(kind, _odd)(place, path, value, context)
    return place.finding(rule, path, says, mend, right)


def _odd_id(place: Place, path: Path, context: Mapping[str, Any]) -> Finding:
    right = f"{as_id(str(path[-2])) or 'first'}:"
    return place.finding(
        "id", path[:-2], context.get("says", ""), context.get("mend", ""), right,
        origin=key_origin_at(place.data, path[:-1], place.origin),
    )  # fmt: skip


def _nothing(place: Place, path: Path) -> Finding:
    key, owner = str(path[-1]) if path else "", place.owner(path)
    known = keys_of(owner).get(key) if owner else None
    mend = "" if known is None or known.required else _("Write it, or delete the key.")
    says = _("Nothing is written here.")
    return place.finding("empty", path, says, mend, _line(place, path))


Said = tuple[str, str, str, str]


def _custom(place: Place, path: Path, value: Any, context: Mapping[str, Any]) -> Said:
    shape = place.shape(path)
    text = context.get("example", "")
    if isinstance(shape, Value) and shape.is_text:
        return "value", context["says"], context["mend"], _line(place, path)
    if isinstance(shape, Value) and shape.noun:
        guess = nearest(value, place.ids(shape.noun)) if isinstance(value, str) else None
        right = led(path, guess) if guess else _line(place, path)
        return "value", context["says"], context["mend"], right
    if isinstance(shape, Value) and text == str(marker_example(shape)):
        return "value", context["says"], _beside(context["mend"], text), _line(place, path)
    data = number(text) if isinstance(shape, Value) and isinstance(shape.marker, Plain) else text
    right = led(path, in_currency(data, place.currency))
    return "value", context["says"], _beside(context["mend"], text), right


def _beside(mend: str, text: str) -> str:
    """What to do, without the sentence that only repeats the example shown below it."""
    sentences = re.split(r"(?<=[.?!]) ", mend)
    return " ".join(s for s in sentences if f"`{text}`" not in s)


def _choice(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    shape = place.shape(path)
    words = list(shape.words) if isinstance(shape, Choice) else []
    guess = nearest(value, words) if isinstance(value, str) else None
    says = _("{value} is not one of the words known here.").format(value=described(value))
    known = _("It can be {words}.").format(words=listed(words, _("or")))
    mend = f"{_('Did you mean `{guess}`?').format(guess=guess)} {known}" if guess else known
    return "word", says, mend, led(path, guess or words[0])


def _flag(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:  # noqa: ARG001
    no = str(value).strip().lower() in ("no", "n", "off", "0", "never", "none")
    says = _("{value} is neither `true` nor `false`.").format(value=described(value))
    return "yes-or-no", says, _("Yes is written `true`, no is written `false`."), led(path, not no)


def _words(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("Words are expected here, not {value}.").format(value=described(value))
    plain = not isinstance(value, dict | list)
    mend = _("Put quotes around it if it is meant as words.") if plain else ""
    return "value", says, mend, _line(place, path)


def _group(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("{value} stands where keys with values of their own are expected.")
    return "shape", says.format(value=_begin(value)), "", _line(place, path)


def _list(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("{value} stands where a list is expected.").format(value=_begin(value))
    return "shape", says, _begun_with_dashes(place.shape(path)), _line(place, path)


def _begun_with_dashes(shape: Shape | None) -> str:
    if isinstance(shape, ListOf) and isinstance(shape.item, Group):
        return _("Begin each item with a dash.")
    return _("Put brackets round it, or begin each item with a dash.")


def _too_few(place: Place, path: Path, _value: Any, _context: Mapping[str, Any]) -> Said:
    return "empty", _("The list is empty, and at least one is needed."), "", _line(place, path)


def _odd(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("{value} cannot be read here.").format(value=described(value))
    return "value", says, "", _line(place, path)


def _begin(value: Any) -> str:
    words = described(value)
    return words[:1].upper() + words[1:]


_SAY: dict[str, Callable[[Place, Path, Any, Mapping[str, Any]], Said]] = {
    "value": _custom,
    "literal_error": _choice,
    "bool_type": _flag,
    "string_type": _words,
    "model_type": _group,
    "dict_type": _group,
    "tuple_type": _list,
    "too_short": _too_few,
}
