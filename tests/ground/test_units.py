from __future__ import annotations

import math
from datetime import date

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from generator.ground.units import (
    UNITS,
    Money,
    Period,
    UnitError,
    parse,
    parse_money,
    parse_period,
    parse_point,
    parse_size,
    show,
    show_number,
)
from generator.ground.unittable import AMBIGUOUS, NAMES, SPELLINGS
from generator.ground.wording import use

N = "\u202f"
REGISTRY = pint.UnitRegistry()

# How the general library spells what it does not read under our spelling.
PINT = {
    '"': "inch", "″": "inch", "′′": "inch", "”": "inch", "'": "foot", "′": "foot", "’": "foot",
    "μm": "micrometer", "sqmm": "mm**2", "sqcm": "cm**2", "sqm": "m**2", "sqin": "inch**2",
    "sqft": "foot**2", "cum": "m**3", "cuin": "inch**3", "cuft": "foot**3", "ccm": "cm**3",
    "USgal": "US_liquid_gallon", "impgal": "imperial_gallon", "kilo": "kilogram",
    "kilos": "kilogram", "gramme": "gram", "grammes": "gram", "lbs": "pound", "kva": "kVA",
    "BTU/h": "international_british_thermal_unit/hour",
    "Btu/h": "international_british_thermal_unit/hour",
    "BTU/hr": "international_british_thermal_unit/hour",
    "BTU/lb": "international_british_thermal_unit/pound",
    "Btu/lb": "international_british_thermal_unit/pound",
    "watthour": "watt*hour", "watthours": "watt*hour", "kilowatthour": "kW*hour",
    "kilowatthours": "kW*hour", "r/min": "revolution/minute", "1/min": "revolution/minute",
    "1/s": "revolution/second", "r/s": "revolution/second", "secs": "second", "sec": "second",
    "mins": "minute", "hrs": "hour", "wk": "week", "°C": "delta_degC", "C": "delta_degC",
    "°F": "delta_degF", "F": "delta_degF", "cfm": "foot**3/minute", "CFM": "foot**3/minute",
    "fpm": "foot/minute", "fc": "lumen/foot**2", "footcandle": "lumen/foot**2",
    "footcandles": "lumen/foot**2", "lb/cuft": "pound/foot**3", "kp": "kilogram_force",
    "tf": "metric_ton_force", "°": "degree", "vol%": "percent", "%vol": "percent", "%": "percent",
    "‰": "permille", "J/(kg°C)": "J/kg/delta_degC", "J/kg°C": "J/kg/delta_degC",
    "kJ/(kg°C)": "kJ/kg/delta_degC", "J/(g°C)": "J/g/delta_degC", "J/g°C": "J/g/delta_degC",
    "W/(m°C)": "W/m/delta_degC", "W/m°C": "W/m/delta_degC", "J/(kgK)": "J/kg/K",
    "J/kgK": "J/kg/K", "kJ/(kgK)": "kJ/kg/K", "kJ/kgK": "kJ/kg/K", "J/(gK)": "J/g/K",
    "J/gK": "J/g/K", "W/(mK)": "W/m/K", "W/mK": "W/m/K", "μg/m3": "microgram/m**3",
    "yrs": "year", "amps": "ampere", "ppb": "mm**3/m**3", "yr": "year",
    "kilojoule": "kJ", "kilojoules": "kJ",
}  # fmt: skip
OF_ITS_OWN = {"dB(A)", "dBA"}  # a weighting, which a unit library knows nothing of
CANONICAL = {
    "length": "m", "area": "m**2", "volume": "m**3", "mass": "kg", "power": "W",
    "apparent power": "VA", "energy": "J", "voltage": "V", "current": "A", "frequency": "Hz",
    "rotation": "revolution/minute", "time": "s", "temperature difference": "K",
    "flow": "m**3/s", "speed": "m/s", "light": "lux", "share": "", "density": "kg/m**3",
    "mass flow": "kg/s", "pressure": "Pa", "force": "N", "angle": "degree",
    "specific energy": "J/kg", "specific heat": "J/kg/K", "heat conductivity": "W/m/K",
    "diffusivity": "m**2/s", "concentration by mass": "mg/m**3", "concentration by volume": "ppm",
    "age": "year",
}  # fmt: skip
SCALED = [
    (dimension, spelling)
    for dimension, known in SPELLINGS.items()
    for spelling in known
    if dimension != "temperature" and spelling not in OF_ITS_OWN
]


def in_pint(spelling: str) -> str:
    known = PINT.get(spelling)
    return known or "/".join(
        f"{part[:-1]}**{part[-1]}" if part[-1:] in ("2", "3") else part
        for part in spelling.split("/")
    )


@pytest.mark.parametrize(("dimension", "spelling"), SCALED)
def test_every_factor_agrees_with_a_general_unit_library(dimension: str, spelling: str) -> None:
    wanted = REGISTRY.Quantity(1, in_pint(spelling)).to(CANONICAL[dimension] or "dimensionless")
    assert float(SPELLINGS[dimension][spelling].scale) == pytest.approx(wanted.magnitude, rel=1e-12)


@pytest.mark.parametrize(("spelling", "theirs"), [("°C", "degC"), ("°F", "degF"), ("K", "kelvin")])
@pytest.mark.parametrize("value", [0, 32, 190, 374])
def test_temperatures_agree_with_a_general_unit_library(
    spelling: str, theirs: str, value: int
) -> None:
    wanted = REGISTRY.Quantity(value, theirs).to("degC").magnitude
    assert parse(f"{value} {spelling}", "c") == pytest.approx(wanted, abs=1e-9)


def test_every_canonical_unit_is_in_the_table_and_its_example_is_right() -> None:
    for unit, spec in UNITS.items():
        assert spec.dimension in NAMES
        assert math.isfinite(parse(spec.example, unit)), unit
        if spec.dimension not in ("money", "share"):
            number = spec.example.removesuffix(spec.symbol).strip()
            assert parse(spec.example, unit) == float(number)


@pytest.mark.parametrize(
    ("text", "unit", "wanted"),
    [
        ("750 mm", "mm", 750.0),
        ("75cm", "mm", 750.0),
        ("2 ft 6 in", "mm", 762.0),  # 30 in × 25.4
        ("2 ft 6 1/2 in", "mm", 774.7),  # 30.5 in × 25.4
        ("2' 6\"", "mm", 762.0),
        ("1 200 mm", "mm", 1200.0),
        (f"1{N}200 mm", "mm", 1200.0),
        ("12 500 000.5 g", "g", 12_500_000.5),
        ("  750\u00a0mm ", "mm", 750.0),
        ("1 h 30 min", "min", 90.0),
        ("25 min", "s", 1500.0),
        ("1 d 6 h", "h", 30.0),
        ("0.5 kW", "w", 500.0),
        (".5 kW", "w", 500.0),
        ("2.2 kw", "kw", 2.2),
        ("750 Watts", "kw", 0.75),
        ("190 °C", "c", 190.0),
        ("190 ºC", "c", 190.0),
        ("374 °F", "c", 190.0),
        ("-5 °C", "c", -5.0),
        ("−5 °C", "c", -5.0),
        ("463.15 K", "c", 190.0),
        ("15 K", "k", 15.0),
        ("27 °F", "k", 15.0),
        ("90 cfm", "m3h", 152.9109715968),  # 90 × 0.3048³ × 60
        ("100 l/s", "m3h", 360.0),
        ("850 m^3 / h", "m3h", 850.0),
        ("1400 1/min", "rpm", 1400.0),
        ("30 %", "percent", 30.0),
        ("30 %", "ratio", 0.3),
        ("0.3", "ratio", 0.3),
        ("1 : 25", "ratio", 0.04),
        ("0.95 g/cm³", "kgm3", 950.0),
        ("8 bar", "kpa", 800.0),
        ("10 tf", "kn", 98.0665),
        ("2.1 kJ/(kg·K)", "jkgk", 2100.0),
        ("2100 J/(kg K)", "jkgk", 2100.0),
        ("8e-8 m²/s", "m2s", 8e-8),
        ("0.08 mm²/s", "m2s", 8e-8),
        ("90°", "deg", 90.0),
        ("-90 deg", "deg", -90.0),
        ("82 dB(A)", "db", 82.0),
        ("2.5 sq mm", "mm2", 2.5),
        ("16 years", "years", 16.0),
        ("5 US gal", "l", 18.92705892),  # 231 in³ each
        ("0.32 EUR/kWh", "money_kwh", 0.32),
    ],
)
def test_reads_what_people_write(text: str, unit: str, wanted: float) -> None:
    assert parse(text, unit) == pytest.approx(wanted, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "unit", "says", "example"),
    [
        ("750", "mm", "`750` has no unit.", "750 mm"),
        ("1 200", "mm", "`1 200` has no unit.", "1 200 mm"),
        ("0.3", "percent", "`0.3` has no unit.", "0.3 %"),
        ("4 kg", "mm", "`4 kg` is a mass, where a length is expected.", "750 mm"),
        ("10 t", "kn", "`10 t` is a mass, where a force is expected.", "100 kN"),
        ("5 kilowats", "kw", "`kilowats` in `5 kilowats` is not a unit known here.", "4 kW"),
        ("5 MM", "mm", "`MM` in `5 MM` is not a unit known here.", "750 mm"),
        ("4,5 kW", "kw", "`4,5 kW` has a decimal comma.", "4.5 kW"),
        ("1,200 mm", "mm", "`1,200 mm` may mean thousands or a decimal.", "1200 mm"),
        ("1,200,000 mm", "mm", "`1,200,000 mm` has commas among its digits.", "750 mm"),
        ("-3 mm", "mm", "`-3 mm` is negative, which a length cannot be.", "750 mm"),
        ("2 ft 14 in", "mm", "`2 ft 14 in` is more than one quantity.", "750 mm"),
        ("2.5 ft 6 in", "mm", "`2.5 ft 6 in` is more than one quantity.", "750 mm"),
        ("6 in 2 ft", "mm", "`6 in 2 ft` is more than one quantity.", "750 mm"),
        ("1 kW 500 W", "kw", "`1 kW 500 W` is more than one quantity.", "4 kW"),
        ("12 34 mm", "mm", "`12 34 mm` is not a length: a number and its unit.", "750 mm"),
        ("1 2345 mm", "mm", "`1 2345 mm` is not a length: a number and its unit.", "750 mm"),
        ("nan mm", "mm", "`nan mm` is not a length: a number and its unit.", "750 mm"),
        ("inf mm", "mm", "`inf mm` is not a length: a number and its unit.", "750 mm"),
        ("1e999 mm", "mm", "`1e999 mm` is too large or too small to be meant.", "750 mm"),
        ("1/0 in", "mm", "`1/0 in` divides by zero.", "750 mm"),
        ("1 : 0", "ratio", "`1 : 0` divides by zero.", "0.3"),
        ("", "mm", "Nothing is written where a length is expected.", "750 mm"),
        ("-300 °C", "c", "`-300 °C` is colder than anything can be (-273.15 °C).", "190 °C"),
        ("{0} {x}", "mm", "`{0} {x}` is not a length: a number and its unit.", "750 mm"),
        (
            "5 gal", "l",
            "`5 gal` can be read in more than one way. "
            "A gallon is 3.79 l in the US and 4.55 l in Britain.", "20 US gal",
        ),
        (
            "85 dB", "db",
            "`85 dB` can be read in more than one way. "
            "dB alone does not say how the level was weighted.", "82 dB(A)",
        ),
    ],
)  # fmt: skip
def test_refuses_what_could_be_meant_otherwise(
    text: str, unit: str, says: str, example: str
) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, unit)
    assert (caught.value.says, caught.value.example) == (says, example)
    assert caught.value.mend


def test_suggests_the_nearest_unit() -> None:
    with pytest.raises(UnitError, match="Did you mean `kilowatts`"):
        parse("5 kilowats", "kw")


def test_every_example_shown_for_an_ambiguous_unit_is_right() -> None:
    by_dimension = {spec.dimension: unit for unit, spec in UNITS.items()}
    for spelling, (dimension, _why, shown) in AMBIGUOUS.items():
        assert math.isfinite(parse(shown, by_dimension[dimension]))
        assert all(spelling not in known for known in SPELLINGS.values())


def test_milli_never_turns_into_mega() -> None:
    for text, unit in (("5 mW", "w"), ("5 MW", "w")):
        assert parse(text, unit) == {"5 mW": 0.005, "5 MW": 5e6}[text]
    for text, unit in (("5 Mg", "g"), ("5 mpa", "mpa"), ("5 ML", "l"), ("5 mwh", "kwh")):
        with pytest.raises(UnitError):
            parse(text, unit)


def test_money_carries_its_currency() -> None:
    assert parse_money("12.50 EUR") == Money(12.5, "EUR")
    assert parse("1 250 CHF", "money", "CHF") == 1250.0
    with pytest.raises(UnitError, match="not in the shop's currency, EUR") as caught:
        parse("3 CHF/kg", "money_kg", "EUR")
    assert caught.value.example == "0.40 EUR/kg"
    with pytest.raises(UnitError, match="`XQZ` is not an ISO 4217"):
        parse("3 XQZ", "money")
    for text in ("12.50", "12.50 €", "EUR 12.50", "-3 EUR", "12,50 EUR", "3 EUR/kg"):
        with pytest.raises(UnitError):
            parse(text, "money")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("3200, 450 mm", (3200.0, 450.0)),
        ("3.2 m, 450 mm", (3200.0, 450.0)),
        ("-120, −45.5 cm", (-1200.0, -455.0)),
        ("3 200, 4 500 mm", (3200.0, 4500.0)),
        ("10 ft 6 in, 2 ft", (3200.4, 609.6)),
    ],
)
def test_reads_points(text: str, wanted: tuple[float, float]) -> None:
    assert parse_point(text) == pytest.approx(wanted)


@pytest.mark.parametrize(
    "text",
    ["", "3200 mm", "3200, 450", "3200,450 mm", "1,5, 2,5 m", "1, 2, 3 mm", "1 m, 2", "a, b mm"],
)
def test_refuses_points(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse_point(text)
    assert caught.value.example == "3200, 450 mm"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("1200 x 600 mm", (1200.0, 600.0)),
        ("1200×600 mm", (1200.0, 600.0)),
        ("0.6 x 0.4 x 0.32 m", (600.0, 400.0, 320.0)),
        ("1.2 m x 600 mm", (1200.0, 600.0)),
        ("4 ft x 2 ft 6 in", (1219.2, 762.0)),
    ],
)
def test_reads_sizes(text: str, wanted: tuple[float, ...]) -> None:
    assert parse_size(text) == pytest.approx(wanted)
    assert parse_size(text, len(wanted)) == pytest.approx(wanted)


@pytest.mark.parametrize(
    "text", ["", "1200 mm", "1200 x 600", "1 x 2 x 3 x 4 mm", "-1 x 2 mm", "1 m x 2", "4 kg x 2 kg"]
)
def test_refuses_sizes(text: str) -> None:
    with pytest.raises(UnitError):
        parse_size(text)


def test_a_box_has_three_sides_and_a_rectangle_two() -> None:
    for text, count in (("1200 x 600 mm", 3), ("600 x 400 x 320 mm", 2)):
        with pytest.raises(UnitError) as caught:
            parse_size(text, count)
        assert len(parse_size(caught.value.example, count)) == count


@pytest.mark.parametrize(
    ("text", "count", "unit", "shown"),
    [
        ("3 months", 3, "month", "3 months"),
        ("1 Year", 1, "year", "1 year"),
        ("2weeks", 2, "week", "2 weeks"),
        ("40 running hours", 40, "running hour", "40 running hours"),
    ],
)
def test_reads_periods(text: str, count: int, unit: str, shown: str) -> None:
    assert parse_period(text) == Period(count, unit)
    assert str(parse_period(text)) == shown


@pytest.mark.parametrize("text", ["", "0 days", "3", "months", "1.5 years", "-1 day", "3 hours"])
def test_refuses_periods(text: str) -> None:
    with pytest.raises(UnitError):
        parse_period(text)


@pytest.mark.parametrize(
    ("period", "start", "wanted"),
    [
        ("10 days", date(2026, 2, 25), date(2026, 3, 7)),
        ("2 weeks", date(2026, 12, 25), date(2027, 1, 8)),
        ("1 month", date(2026, 1, 31), date(2026, 2, 28)),
        ("1 month", date(2028, 1, 31), date(2028, 2, 29)),
        ("3 months", date(2026, 11, 30), date(2027, 2, 28)),
        ("1 year", date(2028, 2, 29), date(2029, 2, 28)),
        ("12 months", date(2026, 12, 1), date(2027, 12, 1)),
    ],
)
def test_periods_follow_the_calendar(period: str, start: date, wanted: date) -> None:
    assert parse_period(period).after(start) == wanted


def test_no_calendar_counts_running_hours() -> None:
    assert parse_period("40 running hours").after(date(2026, 1, 1)) is None


@pytest.mark.parametrize(
    ("value", "unit", "wanted"),
    [
        (750.0, "mm", f"750{N}mm"),
        (12_500.0, "mm", f"12{N}500{N}mm"),
        (0.1 + 0.2, "kg", f"0.3{N}kg"),
        (-0.0, "c", f"0{N}°C"),
        (90.0, "deg", "90°"),
        (30.0, "percent", f"30{N}%"),
        (0.25, "ratio", "0.25"),
        (1.0, "years", f"1{N}year"),
        (16.0, "years", f"16{N}years"),
        (8e-8, "m2s", f"8e-8{N}m²/s"),
    ],
)
def test_shows_a_quantity(value: float, unit: str, wanted: str) -> None:
    assert show(value, unit) == wanted


def test_shows_money_and_rounds() -> None:
    assert show(0.32, "money_kwh", currency="EUR") == f"0.32{N}EUR/kWh"
    assert show(1.0 / 3, "kg", 2) == f"0.33{N}kg"
    assert show_number(1250.0, 1) == "1250"


SIGNED = {"temperature", "temperature difference", "angle"}


@given(
    unit=st.sampled_from([u for u, s in UNITS.items() if s.dimension != "money"]), data=st.data()
)
def test_what_is_shown_is_read_back(unit: str, data: st.DataObject) -> None:
    least = -200.0 if UNITS[unit].dimension in SIGNED else 0.0
    value = data.draw(st.floats(least, 1e12, allow_subnormal=False).filter(_writable))
    assert parse(show(value, unit), unit) == pytest.approx(value, rel=1e-11, abs=1e-11)


def _writable(value: float) -> bool:
    return value == 0 or abs(value) > 1e-25  # beyond that an exponent is refused as a slip


@given(
    amount=st.floats(0, 1e9, allow_subnormal=False).filter(_writable),
    unit=st.sampled_from(["money", "money_kg", "money_kwh"]),
)
def test_money_shown_is_read_back(amount: float, unit: str) -> None:
    shown = show(amount, unit, currency="EUR")
    assert parse(shown, unit, "EUR") == pytest.approx(amount, rel=1e-11)


NEARLY = st.lists(
    st.sampled_from(
        [*"0123456789.,-+/:eEx×'\" \u202f{}%°", "mm", "kW", " ft ", "in", "EUR", "1e9", "²"]
    )
).map("".join)


@given(text=st.text() | NEARLY, unit=st.sampled_from(list(UNITS)))
@example(text="1e99999999999 mm", unit="mm")
@example(text="9" * 5000 + " mm", unit="mm")
@example(text="\ud800 mm", unit="mm")
@example(text="٣ mm", unit="mm")
def test_junk_is_refused_in_words_or_read(text: str, unit: str) -> None:
    for read in (lambda: [parse(text, unit)], lambda: parse_point(text), lambda: parse_size(text)):
        try:
            assert all(math.isfinite(value) for value in read())
        except UnitError as error:
            assert error.says and error.example
            assert len(error.says) < 200


@given(text=st.text() | NEARLY)
def test_junk_is_no_period(text: str) -> None:
    try:
        assert parse_period(text).count > 0
    except UnitError as error:
        assert error.example == "3 months"


def test_refusals_speak_the_current_language() -> None:
    with use("pseudo"), pytest.raises(UnitError) as caught:
        parse("750", "mm")
    assert "`750`" in caught.value.says
    assert "has no unit" not in caught.value.says
