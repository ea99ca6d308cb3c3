"""Quantities as people write them (``2 ft 6 in``, ``190 °C``), read by a strict grammar.

The unit table is our own and closed: what is not in it is refused with the right form, never
guessed. Arithmetic is exact (fractions) until the last step, so that ``750 mm`` is 750.0.
A canonical unit goes by the suffix its fields carry (``width_mm``, ``flow_m3h``).
"""

from __future__ import annotations

import calendar
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from babel import Locale

from generator.ground.nearest import nearest
from generator.ground.unittable import AMBIGUOUS, NAMES, SPELLINGS, UNITS, Measure, UnitSpec
from generator.ground.wording import N_, _, ngettext

__all__ = [
    "NARROW_SPACE", "UNITS", "Money", "Period", "ReadingError", "UnitError", "UnitSpec",
    "parse", "parse_money", "parse_period", "parse_point", "parse_size", "show", "show_number",
]  # fmt: skip

NARROW_SPACE = "\u202f"


class ReadingError(ValueError):
    """A value that cannot be read: what is wrong, what would mend it, a right example."""

    def __init__(self, says: str, mend: str = "", example: str = "") -> None:
        super().__init__(" ".join(part for part in (says, mend) if part))
        self.says = says
        self.mend = mend
        self.example = example


class UnitError(ReadingError):
    """A quantity that cannot be read."""


_SIGNED = frozenset({"temperature", "temperature difference", "angle"})
_COMPOUND = frozenset({"length", "time", "mass"})  # 2 ft 6 in, 1 h 30 min, 2 lb 3 oz
_ABSOLUTE_ZERO = Fraction("-273.15")
_LONGEST = 80  # no quantity is longer; keeps the exact arithmetic small
_LARGEST_EXPONENT = 30

_NUMBER = (
    r"(?:[0-9]{1,3}(?: [0-9]{3})+(?:\.[0-9]+)?(?![0-9/])"  # 1 200.5
    r"|(?:[0-9]+ )?[0-9]+/[0-9]+"  # 6 1/2
    r"|(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"  # 0.5, 8e-8
)
_UNIT = r"[^0-9\s.,:;+\-/][^\s]*(?: [^0-9\s.,:;+\-][^\s]*)*"
_ONE_PER = r"(?<= )1/(?:min|s)"  # 1400 1/min is how a nameplate writes a speed of rotation
_TERM = re.compile(rf"(?P<number>{_NUMBER}) ?(?P<unit>{_ONE_PER}|{_UNIT})?(?: |$)")
_SAME = str.maketrans({"º": "°", "˚": "°", "·": "", "⋅": "", "*": "", "^": ""})


# --- reading -----------------------------------------------------------------------------------


def parse(text: str, unit: str, currency: str | None = None) -> float:
    """The quantity written in ``text``, in the canonical unit ``unit`` (a key of UNITS).

    ``currency`` is the ISO 4217 code amounts of money must carry; any code where it is None.
    Raises UnitError, with a right example, for whatever is not plainly such a quantity.
    """
    spec = UNITS[unit]
    if spec.dimension == "money":
        return parse_money(text, unit, currency).amount
    words = _tidy(text, spec)
    if unit == "ratio" and (plain := _plain_ratio(words, spec)) is not None:
        return float(plain)
    return _canonical(_base(words, spec), unit)


@dataclass(frozen=True, slots=True)
class Money:
    """An amount and the ISO 4217 code of its currency."""

    amount: float
    currency: str


def parse_money(text: str, unit: str = "money", currency: str | None = None) -> Money:
    """An amount such as ``12.50 EUR`` or, for ``money_kwh``, ``0.32 EUR/kWh``."""
    spec = _in_currency(UNITS[unit], currency)
    words = _tidy(text, spec)
    found = re.fullmatch(rf"({_NUMBER}) ?([A-Z]{{3}})(?: ?/ ?(\S+))?", words)
    if not found or "/" in found[1]:
        raise _fault(_("`{text}` is not an amount of money with its currency."), text, spec)
    if _key(found[3] or "") != _key(spec.symbol.lstrip("/")):
        raise _fault(_("`{text}` is not an amount of money in the form expected."), text, spec)
    _check_currency(found[2], currency, text, spec)
    return Money(float(_number(found[1], text, spec)), found[2])


_POINT = UnitSpec("mm", "length", "3200, 450 mm")
_SIZE = UnitSpec("mm", "length", "1200 x 600 mm")
_BOX = UnitSpec("mm", "length", "600 x 400 x 320 mm")


def parse_point(text: str) -> tuple[float, float]:
    """The point ``3200, 450 mm`` as (x_mm, y_mm); each may carry a unit of its own."""
    parts = re.split(r", ", _tidy(text, _POINT, listed=True))
    if len(parts) != 2 or "," in "".join(parts):
        raise _fault(_("`{text}` is not a point: x, y and a unit."), text, _POINT, _like())
    x, y = (_coordinate(part, text) for part in _share_unit(parts))
    return x, y


def parse_size(text: str, count: int | None = None) -> tuple[float, ...]:
    """The size ``1200 x 600 mm`` as lengths [mm]; each may carry its own unit.

    ``count`` is how many there must be; two or three where it is None.
    """
    spec = _BOX if count == 3 else _SIZE
    parts = re.split(r" ?[xX×] ?", _tidy(text, spec))
    if len(parts) not in ((count,) if count else (2, 3)):
        raise _fault(_wrong_count(count), text, spec, _like())
    return tuple(_part(part, text, spec) for part in _share_unit(parts))


def _wrong_count(count: int | None) -> str:
    if count == 2:
        return _("`{text}` is not a size: two lengths with x between.")
    if count == 3:
        return _("`{text}` is not a size: three lengths with x between.")
    return _("`{text}` is not a size: two or three lengths with x between.")


def _share_unit(parts: list[str]) -> list[str]:
    """Give one unit at the end to every part; where any other part has one, each needs its own."""
    if any(re.search(r"[^0-9eE.+\-\s/]", part) for part in parts[:-1]):
        return parts
    found = _TERM.fullmatch(parts[-1].lstrip("+-"))
    unit = found["unit"] if found else None
    return [*(f"{part} {unit}" for part in parts[:-1]), parts[-1]] if unit else parts


def _coordinate(part: str, text: str) -> float:
    sign, rest = _sign(part)
    return sign * _part(rest, text, _POINT)


def _part(part: str, text: str, spec: UnitSpec) -> float:
    """One length of several; a fault in it shows the whole, which is what stands in the file."""
    try:
        return _canonical(_base(part, spec), "mm")
    except UnitError as error:
        says = _filled(_("{fault} It stands in `{text}`."), {"fault": error.says})
        raise _fault(says, text, spec, _like()) from None


def _like() -> str:
    return _("Write it like `{example}`.")


def _sign(text: str) -> tuple[int, str]:
    minus = text.startswith("-")
    return (-1 if minus else 1), text.removeprefix("-").lstrip()


def _plain_ratio(words: str, spec: UnitSpec) -> Fraction | None:
    """A share without a unit: ``0.3``, ``1/3`` or ``1 : 25``; None where it carries one."""
    sides = re.fullmatch(rf"({_NUMBER})(?: ?: ?({_NUMBER}))?", words)
    if not sides:
        return None
    under = _number(sides[2] or "1", words, spec)
    if not under:
        raise _fault(_("`{text}` divides by zero."), words, spec)
    return _number(sides[1], words, spec) / under


def _base(words: str, spec: UnitSpec) -> Fraction:
    """The size of the quantity in the base unit of its dimension."""
    sign, rest = _sign(words)
    if sign < 0 and spec.dimension not in _SIGNED:
        raise _fault(_("`{text}` is negative, which {name} cannot be."), words, spec)
    terms = [_term(n, u, words, spec) for n, u in _terms(rest.removeprefix("+"), words, spec)]
    if len(terms) > 1:
        return sign * _sum(terms, words, spec)
    value, measure = terms[0]
    size = (sign * value + measure.shift) * measure.scale
    if spec.dimension == "temperature" and size < _ABSOLUTE_ZERO:
        raise _fault(_("`{text}` is colder than anything can be (-273.15 °C)."), words, spec)
    return size


def _terms(rest: str, text: str, spec: UnitSpec) -> list[tuple[str, str | None]]:
    """Number and unit pairs, covering the text without a gap."""
    terms, at = [], 0
    while at < len(rest):
        found = _TERM.match(rest, at)
        if not found:
            raise _unreadable(text, spec)
        terms.append((found["number"], found["unit"]))
        at = found.end()
    if not terms:
        raise _unreadable(text, spec)
    return terms


def _term(number: str, unit: str | None, text: str, spec: UnitSpec) -> tuple[Fraction, Measure]:
    value = _number(number, text, spec)
    if unit is None:
        raise _unitless(text, spec)
    return value, _measure(unit, text, spec)


def _sum(terms: list[tuple[Fraction, Measure]], text: str, spec: UnitSpec) -> Fraction:
    """Feet and inches, hours and minutes: whole numbers first, each unit smaller than the last."""
    pairs = list(pairwise(terms))
    steps_down = all(low[0] * low[1].scale < high[1].scale for high, low in pairs)
    whole = all(value.denominator == 1 for value, _measure in terms[:-1])
    if spec.dimension not in _COMPOUND or not (steps_down and whole):
        raise _fault(_("`{text}` is more than one quantity."), text, spec)
    return sum((value * measure.scale for value, measure in terms), Fraction(0))


def _number(written: str, text: str, spec: UnitSpec) -> Fraction:
    exponent = re.search(r"[eE]([+-]?[0-9]+)$", written)
    if exponent and abs(int(exponent[1])) > _LARGEST_EXPONENT:
        raise _fault(_("`{text}` is too large or too small to be meant."), text, spec)
    whole, _space, part = written.rpartition(" ") if "/" in written else ("", "", written)
    try:
        return Fraction(whole or 0) + Fraction(part.replace(" ", ""))
    except ZeroDivisionError:
        raise _fault(_("`{text}` divides by zero."), text, spec) from None


def _measure(unit: str, text: str, spec: UnitSpec) -> Measure:
    known, key = SPELLINGS[spec.dimension], _key(unit)
    spelling = _spelling(key, known)
    if spelling is None:
        raise _wrong_unit(unit, key, text, spec)
    return known[spelling]


def _spelling(key: str, known: Iterable[str]) -> str | None:
    """The unit as the table spells it. Case is forgiven unless it turns m (milli) into M (mega)."""
    if key in known:
        return key
    folded = [name for name in known if name.casefold() == key.casefold()]
    same = [n for n in folded if (len(n) > 3 and n.isalpha()) or _emms(n) == _emms(key)]
    return same[0] if same else None


def _emms(word: str) -> list[str]:
    return [letter for letter in word if letter in "mM"]


def _key(unit: str) -> str:
    """One form for m², m^2 and m2, for J/(kg·K) and J/(kg K)."""
    return "".join(unicodedata.normalize("NFKC", unit.translate(_SAME)).split())


def _canonical(base: Fraction, unit: str) -> float:
    if unit == "ratio":
        return float(base)
    symbol, dimension, _example = UNITS[unit]
    measure = SPELLINGS[dimension][_key(symbol)]
    return float(base / measure.scale - measure.shift)


def _tidy(text: str, spec: UnitSpec, *, listed: bool = False) -> str:
    """The text with single spaces and plain minus signs. Commas may only stand in a list."""
    words = " ".join(text.replace("−", "-").split())
    if not words:
        raise _fault(_("Nothing is written where {name} is expected."), text, spec)
    if len(words) > _LONGEST:
        raise _fault(_("`{text}` is too long to be {name}."), text, spec)
    if not listed and re.search(r"[0-9], ?[0-9]", words):
        raise _comma(words, spec)
    return words


# --- refusing ----------------------------------------------------------------------------------


def _fault(says: str, text: str, spec: UnitSpec, mend: str = "", example: str = "") -> UnitError:
    example = example or spec.example
    name = _(NAMES[spec.dimension])
    mend = mend or _("Write {name} like `{example}`.")
    fill = {"text": _short(text), "name": name, "example": example}
    return UnitError(_filled(says, fill), _filled(mend, fill), example)


def _filled(template: str, fill: dict[str, str]) -> str:
    """Like str.format, but what the user wrote may hold braces of its own."""
    return re.sub(r"\{(\w+)\}", lambda found: fill.get(found[1], found[0]), template)


def _short(text: str) -> str:
    words = "".join(c if c.isprintable() else "\ufffd" for c in " ".join(text.split()))
    return words if len(words) <= 40 else words[:39] + "…"


def _unitless(text: str, spec: UnitSpec) -> UnitError:
    if not re.fullmatch(rf"[+-]?{_NUMBER}", text):
        return _unreadable(text, spec)
    return _fault(
        _("`{text}` has no unit."), text, spec, _("Write `{example}`."), f"{text} {spec.symbol}"
    )


def _comma(text: str, spec: UnitSpec) -> UnitError:
    decimal = re.sub(r"(?<=[0-9]), ?(?=[0-9])", ".", text)
    if text.count(",") != 1:
        return _fault(_("`{text}` has commas among its digits."), text, spec)
    if not re.search(r",[0-9]{3}(?![0-9])", text):
        mend = _("Write a decimal point: `{example}`.")
        return _fault(_("`{text}` has a decimal comma."), text, spec, mend, decimal)
    whole = text.replace(",", "")
    mend = _filled(_("Write `{whole}` or `{decimal}`."), {"whole": whole, "decimal": decimal})
    return _fault(_("`{text}` may mean thousands or a decimal."), text, spec, mend, whole)


def _unreadable(text: str, spec: UnitSpec) -> UnitError:
    return _fault(_("`{text}` is not {name}: a number and its unit."), text, spec)


def _wrong_unit(unit: str, key: str, text: str, spec: UnitSpec) -> UnitError:
    dimension, why, example = AMBIGUOUS.get(key, ("", "", ""))
    if dimension == spec.dimension:
        says = _("`{text}` can be read in more than one way.") + " " + _(why)
        return _fault(says, text, spec, example=example)
    for dimension, known in SPELLINGS.items():
        if key in known:
            return _other_dimension(text, dimension, spec)
    return _unknown_unit(unit, text, spec)


def _other_dimension(text: str, dimension: str, spec: UnitSpec) -> UnitError:
    says = _filled(
        _("`{text}` is {found}, where {name} is expected."), {"found": _(NAMES[dimension])}
    )
    return _fault(says, text, spec)


def _unknown_unit(unit: str, text: str, spec: UnitSpec) -> UnitError:
    says = _filled(_("`{unit}` in `{text}` is not a unit known here."), {"unit": _short(unit)})
    guess = nearest(unit, SPELLINGS[spec.dimension])
    if guess is None:
        return _fault(says, text, spec)
    mend = _("Did you mean `{guess}`? Write {name} like `{example}`.")
    return _fault(says, text, spec, _filled(mend, {"guess": guess}))


def _in_currency(spec: UnitSpec, currency: str | None) -> UnitSpec:
    return spec._replace(example=spec.example.replace("EUR", currency)) if currency else spec


def _check_currency(code: str, wanted: str | None, text: str, spec: UnitSpec) -> None:
    if wanted and code != wanted:
        says = _filled(_("`{text}` is not in the shop's currency, {code}."), {"code": wanted})
        raise _fault(says, text, spec)
    if code not in Locale("en").currencies:
        says = _filled(_("`{code}` is not an ISO 4217 currency code."), {"code": code})
        raise _fault(says, text, spec)


# --- showing -----------------------------------------------------------------------------------


def show(value: float, unit: str, digits: int | None = None, currency: str = "") -> str:
    """The quantity as it is read: ``12 500 mm``, ``190 °C``, ``90°``, ``0.32 EUR/kWh``.

    ``digits`` is how many decimals to keep at most; trailing zeros never show.
    """
    symbol = f"{currency}{UNITS[unit].symbol}" if unit.startswith("money") else UNITS[unit].symbol
    if unit == "years":
        symbol = ngettext("year", "years", int(value) if value == int(value) else 2)
    gap = "" if symbol in ("", "°") else NARROW_SPACE
    return f"{show_number(value, digits)}{gap}{symbol}"


def show_number(value: float, digits: int | None = None) -> str:
    """A number without trailing zeros, in groups of three from 10 000 up."""
    rounded = value if digits is None else round(value, digits)
    exact = Decimal(f"{rounded:.12g}")
    if exact and not Decimal("1e-6") <= abs(exact) < Decimal("1e15"):
        return f"{exact.normalize():e}".replace("e+", "e")
    plain = f"{exact:,f}" if abs(exact) >= 10_000 else f"{exact:f}"
    plain = plain.rstrip("0").rstrip(".") if "." in plain else plain
    return "0" if plain == "-0" else plain.replace(",", NARROW_SPACE)


# --- calendar periods --------------------------------------------------------------------------

_PERIODS = {"day": 1, "week": 7, "month": 1, "year": 12, "running hour": 0}


@dataclass(frozen=True, slots=True)
class Period:
    """How often: ``count`` of ``unit`` (day, week, month, year or running hour)."""

    count: int
    unit: str

    def __str__(self) -> str:
        one, many = f"{{n}} {self.unit}", f"{{n}} {self.unit}s"
        return ngettext(one, many, self.count).format(n=self.count)

    def after(self, start: date) -> date | None:
        """The date one period after ``start``; None for running hours, which no calendar counts.

        A month that lacks the day ends on its last one (31 January and a month: 28 February).
        Raises OverflowError past the year 9999.
        """
        if self.unit == "running hour":
            return None
        steps = self.count * _PERIODS[self.unit]
        if self.unit in ("day", "week"):
            return start + timedelta(days=steps)
        return _months_after(start, steps)


_PERIOD_WORDS = (  # for the catalogue: Period builds these from its unit
    N_("{n} day"), N_("{n} week"), N_("{n} month"), N_("{n} year"), N_("{n} running hour"),
)  # fmt: skip


def _months_after(start: date, months: int) -> date:
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    if year > 9999:
        raise OverflowError(f"year {year}")
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last))


def parse_period(text: str) -> Period:
    """A period such as ``3 months`` or ``40 running hours``, as a whole count of one unit."""
    words = " ".join(text.split())
    found = re.fullmatch(
        r"([0-9]{1,5}) ?(running hour|day|week|month|year)s?", words, re.IGNORECASE
    )
    if found and int(found[1]):
        return Period(int(found[1]), found[2].lower())
    says = _filled(_("`{text}` is not a period."), {"text": _short(text)})
    mend = _("Write a whole number of days, weeks, months, years or running hours.")
    raise UnitError(says, mend, "3 months")
