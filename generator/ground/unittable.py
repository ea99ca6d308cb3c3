"""The fixed table of units: what is not in it is refused, never guessed."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from generator.ground.wording import N_


class UnitSpec(NamedTuple):
    """A canonical unit: the symbol to show, what it measures, a right example."""

    symbol: str
    dimension: str
    example: str


class Measure(NamedTuple):
    """``base = (value + shift) × scale``, exactly."""

    scale: Fraction
    shift: Fraction = Fraction(0)


UNITS: dict[str, UnitSpec] = {
    "mm": UnitSpec("mm", "length", "750 mm"),
    "cm": UnitSpec("cm", "length", "75 cm"),
    "m": UnitSpec("m", "length", "12.5 m"),
    "mm2": UnitSpec("mm²", "area", "2.5 mm²"),
    "cm2": UnitSpec("cm²", "area", "120 cm²"),
    "m2": UnitSpec("m²", "area", "64 m²"),
    "cm3": UnitSpec("cm³", "volume", "45 cm³"),
    "l": UnitSpec("l", "volume", "60 l"),
    "m3": UnitSpec("m³", "volume", "1.2 m³"),
    "g": UnitSpec("g", "mass", "38 g"),
    "kg": UnitSpec("kg", "mass", "25 kg"),
    "t": UnitSpec("t", "mass", "1.2 t"),
    "w": UnitSpec("W", "power", "750 W"),
    "kw": UnitSpec("kW", "power", "4 kW"),
    "kva": UnitSpec("kVA", "apparent power", "30 kVA"),
    "kwh": UnitSpec("kWh", "energy", "3.2 kWh"),
    "v": UnitSpec("V", "voltage", "230 V"),
    "a": UnitSpec("A", "current", "16 A"),
    "ma": UnitSpec("mA", "current", "30 mA"),
    "hz": UnitSpec("Hz", "frequency", "50 Hz"),
    "rpm": UnitSpec("rpm", "rotation", "1400 rpm"),
    "s": UnitSpec("s", "time", "45 s"),
    "min": UnitSpec("min", "time", "25 min"),
    "h": UnitSpec("h", "time", "1.5 h"),
    "d": UnitSpec("d", "time", "14 d"),
    "c": UnitSpec("°C", "temperature", "190 °C"),
    "k": UnitSpec("K", "temperature difference", "15 K"),
    "m3h": UnitSpec("m³/h", "flow", "850 m³/h"),
    "ms": UnitSpec("m/s", "speed", "0.5 m/s"),
    "lx": UnitSpec("lx", "light", "500 lx"),
    "db": UnitSpec("dB(A)", "sound", "82 dB(A)"),
    "percent": UnitSpec("%", "share", "30 %"),
    "ratio": UnitSpec("", "share", "0.3"),
    "kgm3": UnitSpec("kg/m³", "density", "950 kg/m³"),
    "kgh": UnitSpec("kg/h", "mass flow", "12 kg/h"),
    "mgh": UnitSpec("mg/h", "mass flow", "40 mg/h"),
    "kpa": UnitSpec("kPa", "pressure", "600 kPa"),
    "mpa": UnitSpec("MPa", "pressure", "80 MPa"),
    "kn": UnitSpec("kN", "force", "100 kN"),
    "deg": UnitSpec("°", "angle", "90°"),
    "kjkg": UnitSpec("kJ/kg", "specific energy", "600 kJ/kg"),
    "mjkg": UnitSpec("MJ/kg", "specific energy", "43 MJ/kg"),
    "jkgk": UnitSpec("J/(kg·K)", "specific heat", "2100 J/(kg·K)"),
    "wmk": UnitSpec("W/(m·K)", "heat conductivity", "0.2 W/(m·K)"),
    "m2s": UnitSpec("m²/s", "diffusivity", "8e-8 m²/s"),
    "mgm3": UnitSpec("mg/m³", "concentration by mass", "10 mg/m³"),
    "ppm": UnitSpec("ppm", "concentration by volume", "50 ppm"),
    "years": UnitSpec("years", "age", "16 years"),
    "money": UnitSpec("", "money", "12.50 EUR"),
    "money_kwh": UnitSpec("/kWh", "money", "0.32 EUR/kWh"),
    "money_kg": UnitSpec("/kg", "money", "0.40 EUR/kg"),
    "money_m3": UnitSpec("/m³", "money", "2.10 EUR/m³"),
    "money_h": UnitSpec("/h", "money", "15 EUR/h"),
}

_FOOT, _INCH, _POUND = Fraction("0.3048"), Fraction("0.0254"), Fraction("0.45359237")
_GRAVITY, _BTU = Fraction("9.80665"), Fraction("1055.05585262")
_POUND_FORCE = _POUND * _GRAVITY

# One line a unit: every spelling it goes by, then its size in the first unit with size 1.
# Spellings stand without spaces, dots and superscripts, as ``_key`` leaves them.
_TABLE: dict[str, dict[str, Fraction | str | int]] = {
    "length": {
        "mm millimetre millimetres millimeter millimeters": "0.001",
        "cm centimetre centimetres centimeter centimeters": "0.01",
        "m metre metres meter meters": 1,
        "km kilometre kilometres kilometer kilometers": 1000,
        "μm um micron microns micrometre micrometres": "0.000001",
        'in inch inches " ″ ′′ ”': _INCH,
        "ft foot feet ' ′ ’": _FOOT,
        "yd yard yards": 3 * _FOOT,
    },
    "area": {
        "mm2 sqmm": "0.000001",
        "cm2 sqcm": "0.0001",
        "m2 sqm": 1,
        "in2 sqin": _INCH**2,
        "ft2 sqft": _FOOT**2,
    },
    "volume": {
        "mm3": "0.000000001",
        "cm3 cc ccm ml millilitre millilitres milliliter milliliters": "0.000001",
        "l litre litres liter liters dm3": "0.001",
        "m3 cum": 1,
        "in3 cuin": _INCH**3,
        "ft3 cuft": _FOOT**3,
        "USgal": 231 * _INCH**3,
        "impgal": "0.00454609",
    },
    "mass": {
        "mg milligram milligrams": "0.000001",
        "g gram grams gramme grammes": "0.001",
        "kg kilo kilos kilogram kilograms": 1,
        "t tonne tonnes": 1000,
        "lb lbs pound pounds": _POUND,
        "oz ounce ounces": _POUND / 16,
    },
    "power": {
        "mW milliwatt milliwatts": "0.001",
        "W watt watts": 1,
        "kW kilowatt kilowatts": 1000,
        "MW megawatt megawatts": 1_000_000,
        "hp horsepower": 550 * _FOOT * _POUND_FORCE,
        "BTU/h Btu/h BTU/hr": _BTU / 3600,
    },
    "apparent power": {"VA": 1, "kVA": 1000},
    "energy": {
        "J joule joules": 1,
        "kJ kilojoule kilojoules": 1000,
        "MJ megajoule megajoules": 1_000_000,
        "Wh watthour watthours": 3600,
        "kWh kilowatthour kilowatthours": 3_600_000,
        "MWh": 3_600_000_000,
    },
    "voltage": {"mV": "0.001", "V volt volts": 1, "kV kilovolt kilovolts": 1000},
    "current": {
        "mA milliamp milliamps milliampere milliamperes": "0.001",
        "A amp amps ampere amperes": 1,
        "kA": 1000,
    },
    "frequency": {"Hz hertz": 1, "kHz kilohertz": 1000},
    "rotation": {"rpm r/min 1/min": 1, "1/s r/s": 60},
    "time": {
        "ms millisecond milliseconds": "0.001",
        "s sec secs second seconds": 1,
        "min mins minute minutes": 60,
        "h hr hrs hour hours": 3600,
        "d day days": 86_400,
        "wk week weeks": 604_800,
    },
    "temperature difference": {"K kelvin °C C": 1, "°F F": "5/9"},
    "flow": {
        "m3/h m3/hr": "1/3600",
        "m3/min": "1/60",
        "m3/s": 1,
        "l/h": "1/3600000",
        "l/min": "1/60000",
        "l/s": "0.001",
        "cfm CFM ft3/min": _FOOT**3 / 60,
    },
    "speed": {
        "mm/s": "0.001",
        "cm/s": "0.01",
        "m/s": 1,
        "m/min": "1/60",
        "km/h": "1/3.6",
        "ft/min fpm": _FOOT / 60,
        "ft/s": _FOOT,
    },
    "light": {"lx lux": 1, "fc footcandle footcandles": 1 / _FOOT**2},
    "sound": {"dB(A) dBA": 1},
    "share": {"% percent": "0.01", "‰": "0.001"},
    "density": {
        "kg/m3": 1,
        "g/cm3 g/cc g/ml kg/l kg/dm3": 1000,
        "g/l": 1,
        "lb/ft3 lb/cuft": _POUND / _FOOT**3,
    },
    "mass flow": {
        "mg/h": "1/3600000000",
        "g/h": "1/3600000",
        "g/min": "1/60000",
        "g/s": "0.001",
        "kg/h kg/hr": "1/3600",
        "kg/min": "1/60",
        "kg/s": 1,
        "t/h": "1/3.6",
        "lb/h lb/hr": _POUND / 3600,
    },
    "pressure": {
        "Pa N/m2": 1,
        "hPa mbar": 100,
        "kPa": 1000,
        "bar": 100_000,
        "MPa N/mm2": 1_000_000,
        "GPa": 1_000_000_000,
        "psi": _POUND_FORCE / _INCH**2,
    },
    "force": {
        "N newton newtons": 1,
        "kN kilonewton kilonewtons": 1000,
        "MN": 1_000_000,
        "kgf kp": _GRAVITY,
        "tf": 1000 * _GRAVITY,
        "lbf": _POUND_FORCE,
    },
    "angle": {"° deg degree degrees": 1},
    "specific energy": {
        "J/kg": 1,
        "kJ/kg J/g": 1000,
        "MJ/kg": 1_000_000,
        "Wh/kg": 3600,
        "kWh/kg": 3_600_000,
        "BTU/lb Btu/lb": _BTU / _POUND,
    },
    "specific heat": {
        "J/(kgK) J/kgK J/kg/K J/(kg°C) J/kg°C": 1,
        "kJ/(kgK) kJ/kgK kJ/kg/K J/(gK) J/gK J/g/K kJ/(kg°C) J/(g°C) J/g°C": 1000,
    },
    "heat conductivity": {"W/(mK) W/mK W/m/K W/(m°C) W/m°C": 1},
    "diffusivity": {"m2/s": 1, "mm2/s": "0.000001", "cm2/s": "0.0001"},
    "concentration by mass": {"μg/m3 ug/m3": "0.001", "mg/m3": 1, "g/m3": 1000},
    "concentration by volume": {"ppm": 1, "ppb": "0.001", "%vol vol%": 10_000},
    "age": {"years year yr yrs": 1},
}


def _measures(units: dict[str, Fraction | str | int]) -> dict[str, Measure]:
    return {
        name: Measure(_fraction(size)) for names, size in units.items() for name in names.split()
    }


def _fraction(size: Fraction | str | int) -> Fraction:
    if not isinstance(size, str):
        return Fraction(size)
    over, _slash, under = size.partition("/")
    return Fraction(over) / Fraction(under or 1)


SPELLINGS: dict[str, dict[str, Measure]] = {d: _measures(u) for d, u in _TABLE.items()}
SPELLINGS["temperature"] = {
    **dict.fromkeys(("°C", "C", "degC", "celsius"), Measure(Fraction(1))),
    **dict.fromkeys(("°F", "F", "degF", "fahrenheit"), Measure(Fraction(5, 9), Fraction(-32))),
    **dict.fromkeys(("K", "kelvin"), Measure(Fraction(1), Fraction("-273.15"))),
}

NAMES = {
    "length": N_("a length"),
    "area": N_("an area"),
    "volume": N_("a volume"),
    "mass": N_("a mass"),
    "power": N_("a power"),
    "apparent power": N_("an apparent power"),
    "energy": N_("an energy"),
    "voltage": N_("a voltage"),
    "current": N_("a current"),
    "frequency": N_("a frequency"),
    "rotation": N_("a speed of rotation"),
    "time": N_("a time"),
    "temperature": N_("a temperature"),
    "temperature difference": N_("a temperature difference"),
    "flow": N_("an air or water flow"),
    "speed": N_("a speed"),
    "light": N_("a light level"),
    "sound": N_("a sound level"),
    "share": N_("a share"),
    "density": N_("a density"),
    "mass flow": N_("a mass per time"),
    "pressure": N_("a pressure"),
    "force": N_("a force"),
    "angle": N_("an angle"),
    "specific energy": N_("an energy per mass"),
    "specific heat": N_("a heat capacity per mass"),
    "heat conductivity": N_("a heat conductivity"),
    "diffusivity": N_("a thermal diffusivity"),
    "concentration by mass": N_("a mass in air"),
    "concentration by volume": N_("a share of air"),
    "age": N_("an age"),
    "money": N_("an amount of money"),
}

# Spellings that mean different sizes to different people: the dimension, why, how to write it.
AMBIGUOUS = {
    **dict.fromkeys(
        ("gal", "gallon", "gallons"),
        ("volume", N_("A gallon is 3.79 l in the US and 4.55 l in Britain."), "20 US gal"),
    ),
    **dict.fromkeys(
        ("ton", "tons"),
        ("mass", N_("A ton is 907, 1000 or 1016 kg, depending on who says it."), "1.2 t"),
    ),
    "dB": ("sound", N_("dB alone does not say how the level was weighted."), "82 dB(A)"),
}
