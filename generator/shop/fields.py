"""The kinds of value a record is made of: quantities with units, points, text, references, dates.

Each kind is an ``Annotated`` alias, so a record reads like the YAML it comes from:
``width_mm: Mm`` is written ``width: 750 mm``. The unit is part of the field's name and never
part of its key.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Any, NamedTuple, TypeVar

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

T = TypeVar("T")

ID_PATTERN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_NOWHERE = Origin("?")


def wrong(message: str, example: str) -> PydanticCustomError:
    """A value that cannot be taken, with a right one to copy."""
    return PydanticCustomError("value", "{message}", {"message": message, "example": example})


def key_of(field_name: str) -> str:
    """The YAML key of a field: its name without the unit (``heat_up_min`` → ``heat_up``)."""
    stem, _sep, suffix = field_name.rpartition("_")
    name = stem if stem and suffix in units.UNITS else field_name
    return name.removesuffix("_")


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
    _origin: Origin = PrivateAttr(default=_NOWHERE)
    _origins: Mapping[str, Origin] = PrivateAttr(default_factory=lambda: MappingProxyType({}))

    @model_validator(mode="wrap")
    @classmethod
    def _remember_where(cls, data: Any, handler: ModelWrapValidatorHandler[Any]) -> Any:
        record = handler(data)
        _name_children(record)
        if isinstance(data, Located):
            record._origin = data.origin
            record._origins = data.origins
        return record

    @property
    def id(self) -> str:
        """The key it stands under in its file."""
        return self._id

    @property
    def origin(self) -> Origin:
        """Where the record begins."""
        return self._origin

    def origin_of(self, field_name: str) -> Origin:
        """Where a field's value was written, or the record's own place if it was left out."""
        return self._origins.get(key_of(field_name), self._origin)

    def wrote(self, field_name: str) -> bool:
        """Whether the shop wrote the field itself."""
        return key_of(field_name) in self._origins


def _name_children(record: Record) -> None:
    for value in record.__dict__.values():
        if isinstance(value, dict):
            for key, child in value.items():
                if isinstance(child, Record):
                    child._id = key


@dataclass(frozen=True, slots=True)
class Measured:
    """Marks a float as a quantity that is written with its unit."""

    unit: str
    least: float | None = None
    most: float | None = None

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
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
        try:
            number = units.parse(value if isinstance(value, str) else repr(value), self.unit)
        except units.UnitError as error:
            raise wrong(str(error), error.example) from None
        self._hold_in_range(number)
        return number

    def _hold_in_range(self, number: float) -> None:
        if self.least is not None and number < self.least:
            bound, word = self.least, _("at least")
        elif self.most is not None and number > self.most:
            bound, word = self.most, _("at most")
        else:
            return
        raise wrong(
            _("{value} is out of range; it can be {word} {bound}").format(
                value=units.show(number, self.unit), word=word, bound=units.show(bound, self.unit)
            ),
            self.example,
        )


# Lengths, areas, volumes
Mm = Annotated[float, Measured("mm", least=0)]
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
Db = Annotated[float, Measured("db", least=0, most=160)]
Lx = Annotated[float, Measured("lx", least=0)]
# Shares
Percent = Annotated[float, Measured("percent", least=0, most=100)]
Fraction = Annotated[float, Field(gt=0, le=1)]
"""A plain number over 0 and up to 1, such as a power factor."""
Factor = Annotated[float, Field(ge=1, le=20)]
"""A plain number from 1 up, such as starting current over full-load current."""


@dataclass(frozen=True, slots=True)
class Reader:
    """Marks a value that is read from one string by a function that may raise UnitError."""

    parse: Callable[[str], Any]
    example: str

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "examples": [self.example]}

    def read(self, value: Any) -> Any:
        """Read the string, or raise PydanticCustomError with a right example."""
        if not isinstance(value, str):
            raise wrong(_("{value} is not in the form asked for").format(value=value), self.example)
        try:
            return self.parse(value)
        except units.UnitError as error:
            raise wrong(str(error), self.example) from None


class Money(NamedTuple):
    """An amount in a currency, by its ISO 4217 code."""

    amount: float
    currency: str


def _read_money(text: str) -> Money:
    match = re.fullmatch(r"(\d+(?:\.\d+)?) ([A-Z]{3})", text.strip())
    if not match:
        raise units.UnitError(
            _("“{text}” is not an amount with its currency").format(text=text[:60]), "12.50 EUR"
        )
    return Money(float(match[1]), match[2])


def _read_clock(text: str) -> dt.time:
    match = re.fullmatch(r"([01]?\d|2[0-3]):([0-5]\d)", text.strip())
    if not match:
        raise units.UnitError(
            _("“{text}” is not a time of day from 00:00 to 23:59").format(text=text[:60]), "16:30"
        )
    return dt.time(int(match[1]), int(match[2]))


_FIRST_YEAR, _LAST_YEAR = 1990, 2100


def read_day(text: str) -> dt.date:
    """Read an ISO 8601 date, and refuse years that can only be a slip of the finger."""
    try:
        day = dt.date.fromisoformat(text.strip())
    except ValueError:
        raise units.UnitError(
            _("“{text}” is not a date (year-month-day)").format(text=text[:60]), "2026-03-14"
        ) from None
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        raise units.UnitError(
            _("the year {year} is out of range; it can be {first} to {last}").format(
                year=day.year, first=_FIRST_YEAR, last=_LAST_YEAR
            ),
            "2026-03-14",
        )
    return day


def _read_id(text: str) -> str:
    if len(text) > 80 or not ID_PATTERN.fullmatch(text):
        raise units.UnitError(
            _("“{text}” is not an id: lower-case words with hyphens").format(text=text[:60]),
            "platen-press",
        )
    return text


def _read_colour(text: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        raise units.UnitError(
            _("“{text}” is not a colour in six hex digits").format(text=text[:60]), '"#2f6f9f"'
        )
    return text.lower()


Point = Annotated[tuple[float, float], Reader(units.parse_point, "3200, 450 mm")]
Size = Annotated[tuple[float, float], Reader(lambda t: units.parse_size(t, 2), "1200 x 600 mm")]
Box = Annotated[
    tuple[float, float, float], Reader(lambda t: units.parse_size(t, 3), "600 x 400 x 320 mm")
]
Period = Annotated[units.Period, Reader(units.parse_period, "3 months")]
Price = Annotated[Money, Reader(_read_money, "12.50 EUR")]
Clock = Annotated[dt.time, Reader(_read_clock, "16:30")]
Day = Annotated[dt.date, Reader(read_day, "2026-03-14")]
Id = Annotated[str, Reader(_read_id, "platen-press")]
Colour = Annotated[str, Reader(_read_colour, '"#2f6f9f"')]


def _read_text(value: Any) -> TextByLanguage:
    if isinstance(value, TextByLanguage):
        return value
    if isinstance(value, str) and value.strip():
        return TextByLanguage(value)
    if _is_map_by_language(value):
        return TextByLanguage(dict(value))
    raise wrong(
        _("this is not text, nor text by language"), "name: {en: Granulator, es: Granuladora}"
    )


def _is_map_by_language(value: Any) -> bool:
    return (
        isinstance(value, dict)
        and bool(value)
        and all(
            isinstance(k, str)
            and re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]+)*", k)
            and isinstance(v, str)
            and v.strip()
            for k, v in value.items()
        )
    )


class _TextSchema:
    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(_read_text)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        by_language = {"type": "object", "additionalProperties": {"type": "string"}}
        return {"anyOf": [{"type": "string"}, by_language]}


Text = Annotated[TextByLanguage, _TextSchema()]


def _as_tuple(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


Many = Annotated[tuple[T, ...], BeforeValidator(_as_tuple)]
"""A YAML list, kept as a tuple."""


@dataclass(frozen=True, slots=True)
class Ref:
    """Marks an id that must exist among the shop's records of one noun.

    ``noun`` is the name of a field of Shop (``stations``) or a dotted path into the room
    (``room.circuits``).
    """

    noun: str


@dataclass(frozen=True, slots=True)
class Counted:
    """Marks a plain count."""

    least: int = 0
    most: int = 1_000_000

    def __get_pydantic_core_schema__(
        self, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.least, "maximum": self.most}

    def read(self, value: Any) -> int:
        """Take a whole number in range, or raise PydanticCustomError."""
        if isinstance(value, bool) or not isinstance(value, int):
            raise wrong(_("{value} is not a whole number").format(value=value), "4")
        if not self.least <= value <= self.most:
            raise wrong(
                _("{value} is out of range; it can be {least} to {most}").format(
                    value=value, least=self.least, most=self.most
                ),
                str(max(self.least, 1)),
            )
        return value


Count = Annotated[int, Counted()]
OneToFive = Annotated[int, Counted(1, 5)]
OneOrMore = Annotated[int, Counted(1)]
