"""The kinds of value a record is made of: quantities with units, points, text, references, dates.

Each kind is an ``Annotated`` alias, so a record reads like the YAML it comes from:
``width_mm: Mm`` is written ``width: 750 mm``. The unit is part of the field's name and never
part of its key.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any, TypeVar

from babel import Locale
from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    ModelWrapValidatorHandler,
    PrivateAttr,
    model_validator,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from generator.ground import units
from generator.ground.origin import Origin
from generator.ground.wording import Text as TextByLanguage
from generator.ground.wording import _
from generator.ground.yamlfile import Located
from generator.shop.names import FIRST_ID

T = TypeVar("T")

ID_PATTERN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
LANGUAGE_PATTERN = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*")
_NOWHERE = Origin("?")
_LONGEST_QUOTE = 60
_FAR_OFF = 30
_COUNTLESS = 1_000_000  # a bound that only keeps slips of the finger out


def wrong(says: str, example: str, mend: str = "") -> PydanticCustomError:
    """A value that cannot be taken: what is wrong, a right one to copy, what would mend it."""
    return PydanticCustomError("value", "{says}", {"says": says, "mend": mend, "example": example})


def described(value: object) -> str:
    """A value as a fault quotes it: short, and a list or a mapping by its kind alone."""
    if value is None:
        return _("nothing")
    if isinstance(value, dict):
        return _("a mapping")
    if isinstance(value, list | tuple):
        return _("a list")
    text = str(value).lower() if isinstance(value, bool) else str(value)
    return f"`{_short(text)}`"


def _short(text: str) -> str:
    return f"{text[:_LONGEST_QUOTE]}…" if len(text) > _LONGEST_QUOTE else text


def key_of(field_name: str) -> str:
    """The YAML key of a field: its name without the unit (``heat_up_min`` → ``heat_up``)."""
    unit = unit_of(field_name)
    name = field_name.removesuffix(f"_{unit}") if unit else field_name
    return name.removesuffix("_")


def unit_of(field_name: str) -> str:
    """The unit in a field's name, or "" (``heat_up_min`` → ``min``)."""
    stem, _sep, suffix = field_name.rpartition("_")
    return suffix if stem and suffix in units.UNITS else ""


class Record(BaseModel):
    """A frozen thing of the shop that knows where it was written."""

    model_config = ConfigDict(
        extra="forbid",
        strict=True,
        frozen=True,
        alias_generator=key_of,
        use_attribute_docstrings=True,
        arbitrary_types_allowed=True,
    )

    _id: str = PrivateAttr(default="")
    _written: Located | None = PrivateAttr(default=None)

    @model_validator(mode="wrap")
    @classmethod
    def _remember_where(cls, data: Any, handler: ModelWrapValidatorHandler[Any]) -> Any:
        record = handler(data)
        _name_children(record, data)
        if isinstance(data, Located):
            record._written = data
        return record

    @property
    def id(self) -> str:
        """The key it stands under in its file."""
        return str(_private(self, "_id"))

    @property
    def origin(self) -> Origin:
        """Where the record begins: at its id, where it has one."""
        written: Located | None = _private(self, "_written")
        return _NOWHERE if written is None else written.origin

    def origin_of(self, field_name: str) -> Origin:
        """Where a field's value was written, or the record's own place if it was left out."""
        written: Located | None = _private(self, "_written")
        if written is None:
            return _NOWHERE
        return written.origins.get(key_of(field_name), written.origin)

    def wrote(self, field_name: str) -> bool:
        """Whether the shop wrote the field itself."""
        written: Located | None = _private(self, "_written")
        return written is not None and key_of(field_name) in written


def _private(record: Record, name: str) -> Any:
    """A private attribute, past pydantic's look-up, which costs ten times as much."""
    kept = record.__pydantic_private__
    return kept[name] if kept else getattr(record, name)


def _name_children(record: Record, data: Any) -> None:
    """Tell each part that goes by an id what its id is, and that it begins there."""
    for name, value in record.__dict__.items():
        if not isinstance(value, dict):
            continue
        tree = data.get(key_of(name)) if isinstance(data, Located) else None
        for key, child in value.items():
            if isinstance(child, Record):
                child._id = key
                if isinstance(tree, Located) and child._written is not None:
                    child._written.origin = tree.key_origins[key]


@dataclass(frozen=True, slots=True)
class Measured:
    """Marks a float as a quantity that is written with its unit.

    ``least`` and ``most`` may themselves be written; ``above`` may not.
    """

    unit: str
    least: float | None = None
    most: float | None = None
    above: float | None = None

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        if handler.mode == "serialization":
            return {"type": "number", "x-unit": units.UNITS[self.unit].symbol}
        return {"type": "string", "examples": [self.example]}

    @property
    def example(self) -> str:
        return units.UNITS[self.unit].example

    def read(self, value: Any) -> float:
        """Read ``750 mm`` into 750.0 [the unit of the field].

        Raises
        ------
        PydanticCustomError
            If it is not text with a fitting unit, or lies outside the sensible range.
        """
        number = self._parsed(value)
        self._hold_in_range(value, number)
        return number

    def _hold_in_range(self, value: Any, number: float) -> None:
        if self.least is not None and number < self.least:
            raise self._out_of_range(value, _("at least {bound}"), self.least)
        if self.above is not None and number <= self.above:
            raise self._out_of_range(value, _("more than {bound}"), self.above)
        if self.most is not None and number > self.most:
            raise self._out_of_range(value, _("at most {bound}"), self.most)

    def _parsed(self, value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            says = _("A quantity with its unit is expected here, not {value}.")
            raise wrong(says.format(value=described(value)), self.example)
        try:
            return _parsed(str(value), self.unit)
        except units.ReadingError as error:
            if self._is_far_off(value):
                mend = _("Write the unit it was measured in.")
                raise wrong(error.says, self.example, mend) from None
            if not self._takes(error.example):
                raise wrong(error.says, self.example) from None
            raise wrong(error.says, error.example, error.mend) from None

    def _takes(self, example: str) -> bool:
        """Whether an example made from what was written is right in every way."""
        try:
            self._hold_in_range(example, _parsed(example, self.unit))
        except ValueError:
            return False
        return True

    def _is_far_off(self, value: str | int | float) -> bool:
        """Whether a bare number can hardly be in this unit, so that showing it in it would be
        guessing: 750 where kilowatts are asked for."""
        usual = float(re.match(r"-?[0-9.]+", self.example)[0])  # type: ignore[index]
        try:
            number = abs(float(value))
        except ValueError:
            return False
        return not usual / _FAR_OFF <= number <= usual * _FAR_OFF

    def _out_of_range(self, value: Any, limit: str, bound: float) -> PydanticCustomError:
        says = _("{value} is out of range: it can be {limit}.")
        shown = units.show(bound, self.unit)
        return wrong(
            says.format(value=described(value), limit=limit.format(bound=shown)), self.example
        )


@lru_cache(maxsize=4096)
def _parsed(text: str, unit: str) -> float:
    """Shops write the same few quantities again and again."""
    return units.parse(text, unit)


# Lengths, areas, volumes
Mm = Annotated[float, Measured("mm", least=0, most=1_000_000)]
MmSigned = Annotated[float, Measured("mm")]
M = Annotated[float, Measured("m", least=0)]
M2 = Annotated[float, Measured("m2", least=0)]
Mm2 = Annotated[float, Measured("mm2", least=0)]
Cm2 = Annotated[float, Measured("cm2", least=0)]
Cm3 = Annotated[float, Measured("cm3", least=0)]
L = Annotated[float, Measured("l", least=0)]
Deg = Annotated[float, Measured("deg", least=-360, most=360)]
# Mass, force, pressure
Kg = Annotated[float, Measured("kg", least=0)]
G = Annotated[float, Measured("g", least=0)]
Kpa = Annotated[float, Measured("kpa", least=0)]
Mpa = Annotated[float, Measured("mpa", least=0)]
Kn = Annotated[float, Measured("kn", least=0)]
Kgm3 = Annotated[float, Measured("kgm3", least=1)]
Kgh = Annotated[float, Measured("kgh", least=0)]
# Electricity
Kw = Annotated[float, Measured("kw", least=0)]
V = Annotated[float, Measured("v", least=0)]
A = Annotated[float, Measured("a", least=0)]
Ma = Annotated[float, Measured("ma", least=0)]
# Time
Min = Annotated[float, Measured("min", least=0)]
S = Annotated[float, Measured("s", least=0)]
H = Annotated[float, Measured("h", least=0)]
D = Annotated[float, Measured("d", least=0)]
Years = Annotated[float, Measured("years", least=0, most=120)]
# Heat, air, sound, light
C = Annotated[float, Measured("c", least=-60, most=600)]
K = Annotated[float, Measured("k", least=0)]
M3h = Annotated[float, Measured("m3h", least=0)]
SomeMgh = Annotated[float, Measured("mgh", above=0)]
Db = Annotated[float, Measured("db", least=0, most=160)]
Lx = Annotated[float, Measured("lx", least=0)]
# Shares
Percent = Annotated[float, Measured("percent", least=0, most=100)]
# What must be more than nothing, because something is divided by it or stands on it
SomeMm = Annotated[float, Measured("mm", above=0, most=1_000_000)]
SomeMin = Annotated[float, Measured("min", above=0)]
SomeMm2 = Annotated[float, Measured("mm2", above=0)]
SomeCm2 = Annotated[float, Measured("cm2", above=0)]
SomeCm3 = Annotated[float, Measured("cm3", above=0)]
SomeL = Annotated[float, Measured("l", above=0)]
SomeG = Annotated[float, Measured("g", above=0)]
SomeKg = Annotated[float, Measured("kg", above=0)]
SomeV = Annotated[float, Measured("v", above=0, most=1000)]
SomeA = Annotated[float, Measured("a", above=0)]


@dataclass(frozen=True, slots=True)
class Reader:
    """Marks a value that is read from one string by a function that may raise ReadingError.

    ``data`` is the JSON Schema of what it becomes in ``data/shop.json``.
    """

    parse: Callable[[str], Any]
    example: str
    data: Mapping[str, Any] = field(
        default_factory=lambda: {"type": "string"}, hash=False, compare=False
    )

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        if handler.mode == "serialization":
            return dict(self.data)
        return {"type": "string", "examples": [self.example]}

    def read(self, value: Any) -> Any:
        """Read the string, or raise PydanticCustomError with a right example."""
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            says = _("{value} is not in the form expected here.")
            raise wrong(says.format(value=described(value)), self.example)
        try:
            return self.parse(str(value))
        except units.ReadingError as error:
            if not self._takes(error.example):
                raise wrong(error.says, self.example) from None
            raise wrong(error.says, error.example, error.mend) from None

    def _takes(self, example: str) -> bool:
        """Whether an example made from what was written is right in every way."""
        try:
            self.parse(example)
        except units.ReadingError:
            return False
        return True


class MoneyReader(Reader):
    """Marks an amount of money, which must be in the shop's own currency."""


def _not_this(says: str, text: str, example: str, mend: str = "") -> units.ReadingError:
    return units.ReadingError(says.format(text=_short(text)), mend, example)


def read_clock(text: str) -> dt.time:
    """Read a time of day as the clock shows it."""
    match = re.fullmatch(r"([01]?[0-9]|2[0-3]):([0-5][0-9])", text.strip())
    if not match:
        raise _not_this(_("`{text}` is not a time of day from 00:00 to 23:59."), text, "16:30")
    return dt.time(int(match[1]), int(match[2]))


_FIRST_YEAR, _LAST_YEAR = 1990, 2100


def read_day(text: str) -> dt.date:
    """Read an ISO 8601 date, and refuse years that can only be a slip of the finger."""
    example = "2026-03-14"
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text.strip()):
        raise _not_this(_("`{text}` is not a date as year-month-day."), text, example)
    try:
        day = dt.date.fromisoformat(text.strip())
    except ValueError:
        raise _not_this(_("`{text}` is no day of the calendar."), text, example) from None
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        says = _("The year of `{text}` is out of range: it can be 1990 to 2100.")
        raise _not_this(says, text, example)
    return day


def read_id(text: str) -> str:
    """Take an id: lower-case words and numbers with hyphens between."""
    if len(text) > 80 or not ID_PATTERN.fullmatch(text):
        mend = _("An id is lower-case letters a to z and digits, with single hyphens between.")
        raise _not_this(_("`{text}` is not an id."), text, as_id(text) or "platen-press", mend)
    return text


def as_id(text: str) -> str:
    """The id nearest to what was written: ``Spin Dryer_2`` gives ``spin-dryer-2``."""
    return re.sub(r"[^a-z0-9]+", "-", text[:80].lower()).strip("-")


def _read_colour(text: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        says = _("`{text}` is not a colour in six hex digits.")
        mend = _("In quotes, because a bare # begins a comment.")
        raise _not_this(says, text, "#2f6f9f", mend)
    return text.lower()


def _read_language(text: str) -> str:
    if not LANGUAGE_PATTERN.fullmatch(text):
        raise _not_this(_("`{text}` is not a language code."), text, "en")
    return text


def _read_currency(text: str) -> str:
    if text not in Locale("en").currencies:
        raise _not_this(_("`{text}` is not an ISO 4217 currency code."), text, "EUR")
    return text


def _read_time_zone(text: str) -> str:
    if not re.fullmatch(r"[A-Za-z]+(?:/[A-Za-z0-9_+-]+){1,2}|UTC", text):
        raise _not_this(_("`{text}` is not the name of a time zone."), text, "Europe/Berlin")
    return text


def _size_of(count: int, example: str) -> Callable[[str], tuple[float, ...]]:
    def read(text: str) -> tuple[float, ...]:
        try:
            size = units.parse_size(text)
        except units.ReadingError as error:
            raise units.ReadingError(error.says, "", example) from None
        if len(size) != count:
            says = _("`{text}` has {n} lengths where {count} are expected.")
            raise units.ReadingError(
                says.format(text=_short(text), n=len(size), count=count), "", example
            )
        if not all(0 < length <= 1_000_000 for length in size):
            raise _not_this(
                _("Each length of `{text}` must be over 0 and up to 1 km."), text, example
            )
        return size

    return read


def _money(unit: str) -> MoneyReader:
    per = units.UNITS[unit].symbol
    amount = {"type": "number", "x-unit": f"currency{per}"}
    form = {"type": "object", "properties": {"amount": amount, "currency": {"type": "string"}}}
    example = units.UNITS[unit].example
    return MoneyReader(lambda text: units.parse_money(text, unit), example, form)


def _lengths(count: int) -> Mapping[str, Any]:
    items = {"type": "number", "x-unit": "mm"}
    return {"type": "array", "items": items, "minItems": count, "maxItems": count}


def _size(count: int, example: str) -> Reader:
    return Reader(_size_of(count, example), example, _lengths(count))


Size = Annotated[tuple[float, float], _size(2, "1200 x 600 mm")]
Box = Annotated[tuple[float, float, float], _size(3, "600 x 400 x 320 mm")]
Point = Annotated[tuple[float, float], Reader(units.parse_point, "3200, 450 mm", _lengths(2))]
Period = Annotated[units.Period, Reader(units.parse_period, "3 months")]
Price = Annotated[units.Money, _money("money")]
PricePerKwh = Annotated[units.Money, _money("money_kwh")]
PricePerKg = Annotated[units.Money, _money("money_kg")]
PricePerM3 = Annotated[units.Money, _money("money_m3")]
PricePerH = Annotated[units.Money, _money("money_h")]
Clock = Annotated[dt.time, Reader(read_clock, "16:30")]
Day = Annotated[dt.date, Reader(read_day, "2026-03-14")]
Id = Annotated[str, Reader(read_id, "platen-press")]
Code = Annotated[str, Reader(str.strip, "M004")]
Colour = Annotated[str, Reader(_read_colour, "#2f6f9f")]
Language = Annotated[str, Reader(_read_language, "en")]
Currency = Annotated[str, Reader(_read_currency, "EUR")]
TimeZone = Annotated[str, Reader(_read_time_zone, "Europe/Berlin")]


def _as_words(value: Any) -> Any:
    """A whole number is the words it is written with (an emergency number, a door number)."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _read_text(value: Any) -> TextByLanguage:
    """Take words, or words by language."""
    if isinstance(value, dict):
        value = {code: _as_words(words) for code, words in value.items()}
    try:
        text = TextByLanguage.read(_as_words(value))
    except ValueError as error:
        if isinstance(value, dict):
            raise wrong(_("This is not text by language: {why}.").format(why=error), "") from None
        says = _("Words are expected here, not {value}.").format(value=described(value))
        mend = _("Put quotes around it if it is meant as words.")
        raise wrong(says, "", "" if isinstance(value, list) else mend) from None
    if not all(words for _code, words in text.entries):
        raise wrong(_("There are no words here."), "")
    return text


class Worded:
    """Marks text: one string, or one a language."""

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(_read_text)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        words: Any = "string" if handler.mode == "serialization" else ["string", "integer"]
        by_language = {"type": "object", "additionalProperties": {"type": words}}
        return {"anyOf": [{"type": words}, by_language]}


Text = Annotated[TextByLanguage, Worded()]


def _as_tuple(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


Many = Annotated[tuple[T, ...], BeforeValidator(_as_tuple)]
"""A YAML list, kept as a tuple."""
Some = Annotated[tuple[T, ...], BeforeValidator(_as_tuple), Field(min_length=1)]
"""A list that cannot be empty."""


@dataclass(frozen=True, slots=True)
class Ref:
    """Marks an id that must exist among the shop's records of one noun.

    ``noun`` is the name of a field of Shop (``stations``) or a dotted path into the room
    (``room.circuits``).
    """

    noun: str

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        shown = {**handler(schema), "x-id-of": self.noun}
        return shown | {"examples": [FIRST_ID[self.noun]]} if "examples" in shown else shown


@dataclass(frozen=True, slots=True)
class Plain:
    """Marks a number without a unit: a count, or a share such as a power factor.

    ``least`` and ``most`` may themselves be written; ``above`` may not.
    """

    example: str
    whole: bool = False
    least: float | None = None
    most: float | None = None
    above: float | None = None

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        bounds = {"minimum": self.least, "maximum": self.most, "exclusiveMinimum": self.above}
        written = {name: bound for name, bound in bounds.items() if bound is not None}
        return {"type": "integer" if self.whole else "number", **written}

    def read(self, value: Any) -> float:
        """Take a number in range, or raise PydanticCustomError."""
        number = value if self.whole else float(value) if _is_number(value) else value
        if not _is_number(value) or (self.whole and not isinstance(value, int)):
            kind = (
                _("{value} is not a whole number.") if self.whole else _("{value} is not a number.")
            )
            raise wrong(kind.format(value=described(value)), self.example)
        if not self._in_range(number):
            says = _("{value} is out of range: it can be {range}.")
            says = says.format(value=described(value), range=self._range(number))
            raise wrong(says, self.example)
        return number

    def _in_range(self, number: float) -> bool:
        return (
            math.isfinite(number)
            and (self.least is None or number >= self.least)
            and (self.above is None or number > self.above)
            and (self.most is None or number <= self.most)
        )

    def _range(self, number: float) -> str:
        """What it can be; where one bound only catches slips, the bound that was passed."""
        least = _("at least {bound}") if self.above is None else _("more than {bound}")
        least = least.format(bound=self.least if self.above is None else self.above)
        most = _("at most {bound}").format(bound=self.most)
        if self.most is None or self.most >= _COUNTLESS:
            return most if self.most is not None and number > self.most else least
        return f"{least}, {most}"


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


Count = Annotated[int, Plain("4", whole=True, least=0, most=1_000_000)]
OneOrMore = Annotated[int, Plain("4", whole=True, least=1, most=1_000_000)]
OneToSeven = Annotated[int, Plain("5", whole=True, least=1, most=7)]
OneToFive = Annotated[int, Plain("3", whole=True, least=1, most=5)]
Fraction = Annotated[float, Plain("0.85", above=0, most=1)]
"""A plain number over 0 and up to 1, such as a power factor."""
Factor = Annotated[float, Plain("6", least=1, most=20)]
"""A plain number from 1 up, such as starting current over full-load current."""
Amount = Annotated[float, Plain("12", least=0, most=1_000_000_000)]
"""A plain number of whatever the record counts in."""
