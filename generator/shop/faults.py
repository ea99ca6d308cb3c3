"""What validation complains about, in plain words, at its line, with a right example."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from pydantic import ValidationError

from generator.ground.finding import Finding
from generator.ground.nearest import nearest
from generator.ground.wording import _, ngettext
from generator.shop.examples import marker_example, number
from generator.shop.fields import Plain, Record, as_id, described, key_of
from generator.shop.meant import no_such_word
from generator.shop.names import listed, short
from generator.shop.place import (
    KEY_ITSELF,
    Path,
    Place,
    in_currency,
    key_origin_at,
    led,
    right_line,
    unreadable,
    value_at,
)
from generator.shop.shapes import Choice, Group, ListOf, Shape, Value, keys_of

_FEW_KEYS = 12


# --- keys --------------------------------------------------------------------------------------


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
    right = right_line(place, (*path, guess)) if guess else ""
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
    right = "\n".join(right_line(place, (*path, key)) for key in keys)
    return place.finding(
        "missing-key", path, says.format(keys=listed(keys)),
        ngettext("Add the line.", "Add the lines.", len(keys)), right,
        origin=key_origin_at(place.data, path, place.origin),
    )  # fmt: skip


# --- values ------------------------------------------------------------------------------------


def _value_fault(place: Place, path: Path, kind: str, context: Mapping[str, Any]) -> Finding:
    if path and path[-1] == KEY_ITSELF:
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
    return place.finding("empty", path, says, mend, right_line(place, path))


Said = tuple[str, str, str, str]


def _custom(place: Place, path: Path, value: Any, context: Mapping[str, Any]) -> Said:
    shape = place.shape(path)
    text = context.get("example", "")
    if isinstance(shape, Value) and shape.is_text:
        return "value", context["says"], context["mend"], right_line(place, path)
    if isinstance(shape, Value) and shape.noun:
        guess = nearest(value, place.ids(shape.noun)) if isinstance(value, str) else None
        right = led(path, guess) if guess else right_line(place, path)
        return "value", context["says"], context["mend"], right
    if isinstance(shape, Value) and text == str(marker_example(shape)):
        return "value", context["says"], _beside(context["mend"], text), right_line(place, path)
    data = number(text) if isinstance(shape, Value) and isinstance(shape.marker, Plain) else text
    right = led(path, in_currency(data, place.currency))
    return "value", context["says"], _beside(context["mend"], text), right


def _beside(mend: str, text: str) -> str:
    """What to do, without the sentence that only repeats the example shown below it."""
    sentences = re.split(r"(?<=[.?!]) ", mend)
    return " ".join(s for s in sentences if f"`{text}`" not in s)


def _choice(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    shape = place.shape(path)
    assert isinstance(shape, Choice)
    error = no_such_word(value, shape.words)
    return "word", error.says, error.mend, led(path, error.example)


def _flag(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:  # noqa: ARG001
    no = str(value).strip().lower() in ("no", "n", "off", "0", "never", "none")
    says = _("{value} is neither `true` nor `false`.").format(value=described(value))
    return "yes-or-no", says, _("Yes is written `true`, no is written `false`."), led(path, not no)


def _words(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("Words are expected here, not {value}.").format(value=described(value))
    plain = not isinstance(value, dict | list)
    mend = _("Put quotes around it if it is meant as words.") if plain else ""
    return "value", says, mend, right_line(place, path)


def _group(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("{value} stands where keys with values of their own are expected.")
    return "shape", says.format(value=_begin(value)), "", right_line(place, path)


def _list(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("{value} stands where a list is expected.").format(value=_begin(value))
    return "shape", says, _begun_with_dashes(place.shape(path)), right_line(place, path)


def _begun_with_dashes(shape: Shape | None) -> str:
    if isinstance(shape, ListOf) and isinstance(shape.item, Group):
        return _("Begin each item with a dash.")
    return _("Put brackets round it, or begin each item with a dash.")


def _too_few(place: Place, path: Path, _value: Any, _context: Mapping[str, Any]) -> Said:
    return "empty", _("The list is empty, and at least one is needed."), "", right_line(place, path)


def _odd(place: Place, path: Path, value: Any, _context: Mapping[str, Any]) -> Said:
    says = _("{value} cannot be read here.").format(value=described(value))
    return "value", says, "", right_line(place, path)


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
