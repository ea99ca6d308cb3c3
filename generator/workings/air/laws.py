"""The laws of moving air: capture, ducts, dilution, heat and breath.

Flows are in m³/h, volumes in m³, times in minutes, concentrations in mg/m³ or ppm, unless a
name says otherwise. The mixing factor is 1 where a room mixes perfectly and larger where it
does not; each law that knows it applies it once, so a flow passed to one is never divided by it.
"""

from __future__ import annotations

import math

SECONDS_AN_HOUR = 3600.0
MINUTES_AN_HOUR = 60.0
LITRES_A_M3 = 1000.0
MOLAR_VOLUME_L = 24.45
"""Litres a mole of gas fills at 25 °C and 101.325 kPa."""
_MILLION = 1e6
_NOTHING = 1e-12
_CO2_FACTOR = 0.000179
"""Litres a second of carbon dioxide for each MJ a day, met, K and 1/kPa."""


# --- hoods and ducts ---------------------------------------------------------------------------


def plain_hood_m3h(area_m2: float, distance_m: float, capture_ms: float) -> float:
    """Flow that makes the capture velocity in front of a plain opening.

    ``Q = V · (10 · x² + A)``. Holds for openings no narrower than one to five and up to about
    one and a half diameters in front of them.

    Parameters
    ----------
    area_m2
        Area A of the opening [m²].
    distance_m
        Distance x from the opening to the source [m].
    capture_ms
        Capture velocity V wanted at the source [m/s].

    Returns
    -------
    float
        Flow Q [m³/h].

    References
    ----------
    ACGIH, Industrial Ventilation, hood figures.
    """
    return SECONDS_AN_HOUR * capture_ms * (10 * distance_m**2 + area_m2)


def canopy_m3h(
    perimeter_m: float, height_m: float, capture_ms: float, factor: float = 1.4
) -> float:
    """Flow that makes the capture velocity all round under a canopy.

    ``Q = 1.4 · P · H · V``. Not where people lean under the canopy: what rises passes them.

    Parameters
    ----------
    perimeter_m
        Perimeter P [m].
    height_m
        Height H of the canopy above the source [m].
    capture_ms
        Capture velocity V [m/s].
    factor
        The rule's factor [-].

    Returns
    -------
    float
        Flow Q [m³/h].

    References
    ----------
    ACGIH, Industrial Ventilation, hood figures.
    """
    return SECONDS_AN_HOUR * factor * perimeter_m * height_m * capture_ms


def duct_diameter_mm(flow_m3h: float, velocity_ms: float) -> float:
    """Diameter of the round duct in which a flow has a velocity: ``D = √(4 · Q / (π · v))``.

    Parameters
    ----------
    flow_m3h
        Flow Q [m³/h].
    velocity_ms
        Velocity v along the duct [m/s], more than 0.

    Returns
    -------
    float
        Inner diameter D [mm].
    """
    return 1000 * math.sqrt(4 * flow_m3h / SECONDS_AN_HOUR / (math.pi * velocity_ms))


def duct_velocity_ms(flow_m3h: float, diameter_mm: float) -> float:
    """Velocity of a flow along a round duct: ``v = 4 · Q / (π · D²)``.

    Parameters
    ----------
    flow_m3h
        Flow Q [m³/h].
    diameter_mm
        Inner diameter D [mm], more than 0.

    Returns
    -------
    float
        Velocity v [m/s].
    """
    return 4 * flow_m3h / SECONDS_AN_HOUR / (math.pi * (diameter_mm / 1000) ** 2)


# --- the room's air ----------------------------------------------------------------------------


def mass_concentration_mgm3(ppm: float, molar_mass_gmol: float) -> float:
    """Concentration by mass of a gas at 25 °C: ``mg/m³ = ppm · M / 24.45``.

    Parameters
    ----------
    ppm
        Concentration by volume [ppm].
    molar_mass_gmol
        Molar mass M [g/mol].

    Returns
    -------
    float
        Concentration by mass [mg/m³].
    """
    return ppm * molar_mass_gmol / MOLAR_VOLUME_L


def dilution_m3h(emission_mgh: float, mixing: float, concentration_mgm3: float) -> float:
    """Clean air that keeps a concentration down: ``Q = G · K / C``.

    Weak control: never for a toxic source at one point, which is caught where it arises.

    Parameters
    ----------
    emission_mgh
        Emission G [mg/h].
    mixing
        Mixing factor K [-], applied here and nowhere else.
    concentration_mgm3
        Concentration C aimed at [mg/m³], more than 0.

    Returns
    -------
    float
        Flow Q [m³/h].

    References
    ----------
    ACGIH, Industrial Ventilation.
    """
    return emission_mgh * mixing / concentration_mgm3


def changes_per_hour(flow_m3h: float, volume_m3: float) -> float:
    """Air changes an hour: ``n = Q / V`` [1/h]."""
    return flow_m3h / volume_m3


def purged_share(minutes: float, flow_m3h: float, volume_m3: float, mixing: float = 1.0) -> float:
    """Share of what was in the air that is still there: ``C/C₀ = exp(−Q · t / (K · V))``.

    Holds once nothing is given off any more.

    Parameters
    ----------
    minutes
        Time t [min].
    flow_m3h
        Flow of clean air Q [m³/h].
    volume_m3
        Volume V of the room [m³].
    mixing
        Mixing factor K [-].

    Returns
    -------
    float
        Share left, from 0 to 1 [-].
    """
    return math.exp(-flow_m3h * minutes / MINUTES_AN_HOUR / (mixing * volume_m3))


def purge_minutes(
    share_left: float, flow_m3h: float, volume_m3: float, mixing: float = 1.0
) -> float:
    """Time until a share is left: ``t = −ln(C/C₀) · K · V / Q``; infinite without a flow.

    Parameters
    ----------
    share_left
        Share of the first concentration, over 0 and up to 1 [-].
    flow_m3h
        Flow of clean air Q [m³/h].
    volume_m3
        Volume V of the room [m³].
    mixing
        Mixing factor K [-].

    Returns
    -------
    float
        Time t [min].

    References
    ----------
    Mass balance. CDC, MMWR 43 (RR-13), 1994, table S3-1, has the same law.
    """
    if flow_m3h <= 0:
        return math.inf
    return -math.log(share_left) * mixing * volume_m3 / flow_m3h * MINUTES_AN_HOUR


def build_up_mgm3(
    minutes: float, emission_mgh: float, flow_m3h: float, volume_m3: float, mixing: float = 1.0
) -> float:
    """Concentration while something is given off into clean air.

    ``C = (G / Q′) · (1 − exp(−Q′ · t / V))`` with ``Q′ = Q / K``; without a flow it rises as
    ``G · t / V``.

    Parameters
    ----------
    minutes
        Time t since it began [min].
    emission_mgh
        Emission G [mg/h].
    flow_m3h
        Flow of clean air Q [m³/h].
    volume_m3
        Volume V of the room [m³].
    mixing
        Mixing factor K [-].

    Returns
    -------
    float
        Concentration C [mg/m³].
    """
    hours = minutes / MINUTES_AN_HOUR
    return emission_mgh / volume_m3 * _filled_hours(hours, flow_m3h / mixing / volume_m3)


def steady_mgm3(emission_mgh: float, flow_m3h: float, mixing: float = 1.0) -> float:
    """Concentration in the long run: ``C = G · K / Q``; infinite without a flow.

    Parameters
    ----------
    emission_mgh
        Emission G [mg/h].
    flow_m3h
        Flow of clean air Q [m³/h].
    mixing
        Mixing factor K [-].

    Returns
    -------
    float
        Concentration C [mg/m³].
    """
    return emission_mgh * mixing / flow_m3h if flow_m3h > 0 else math.inf


def _filled_hours(hours: float, rate_per_h: float) -> float:
    """``(1 − exp(−r · t)) / r``, which is t itself where next to nothing is carried off."""
    changes = rate_per_h * hours
    return hours if changes < _NOTHING else hours * -math.expm1(-changes) / changes


# --- heat --------------------------------------------------------------------------------------


def air_heating_kw(
    flow_m3h: float, rise_k: float, density_kgm3: float = 1.2, heat_capacity_kjkgk: float = 1.006
) -> float:
    """Power that warms a flow of air: ``P = Q · ρ · c · ΔT``; 0 where it need not be warmed.

    Parameters
    ----------
    flow_m3h
        Flow Q [m³/h].
    rise_k
        Rise in temperature ΔT [K].
    density_kgm3
        Density ρ of the air [kg/m³].
    heat_capacity_kjkgk
        Heat capacity c of the air [kJ/(kg·K)].

    Returns
    -------
    float
        Power P [kW].
    """
    return flow_m3h / SECONDS_AN_HOUR * density_kgm3 * heat_capacity_kjkgk * max(0.0, rise_k)


# --- people ------------------------------------------------------------------------------------


def outdoor_air_m3h(people: int, area_m2: float, person_ls: float, area_lsm2: float) -> float:
    """Outdoor air for people and floor: ``Q = Rp · N + Ra · A``.

    Parameters
    ----------
    people
        Number of people N.
    area_m2
        Floor area A [m²].
    person_ls
        Outdoor air for each person Rp [l/s].
    area_lsm2
        Outdoor air for each square metre Ra [l/(s·m²)].

    Returns
    -------
    float
        Flow Q [m³/h].

    References
    ----------
    ASHRAE 62.1, ventilation rates.
    """
    return (person_ls * people + area_lsm2 * area_m2) * SECONDS_AN_HOUR / LITRES_A_M3


def people_for(space: float, space_per_person: float) -> int:
    """How many people a space is enough for, rounded down (m² by m², m³ by m³)."""
    return math.floor(space / space_per_person)


def carbon_dioxide_ls(
    basal_mjd: float, activity_met: float, temperature_k: float, pressure_kpa: float
) -> float:
    """Carbon dioxide one person breathes out: ``g = BMR · M · (T / P) · 0.000179``.

    Parameters
    ----------
    basal_mjd
        Basal metabolic rate BMR [MJ/day].
    activity_met
        Activity M [met].
    temperature_k
        Temperature T of the air [K].
    pressure_kpa
        Pressure P of the air [kPa].

    Returns
    -------
    float
        Flow of carbon dioxide g [l/s].

    References
    ----------
    Persily and de Jonge 2017, doi 10.1111/ina.12383.
    """
    return basal_mjd * activity_met * temperature_k / pressure_kpa * _CO2_FACTOR


def carbon_dioxide_ppm(
    minutes: float,
    start_ppm: float,
    *,
    outdoor_ppm: float,
    breathed_ls: float,
    flow_m3h: float,
    volume_m3: float,
) -> float:
    """Carbon dioxide in a room with people in it.

    ``C(t) = Css + (C₀ − Css) · exp(−Q · t / V)``; without outdoor air it rises as
    ``10⁶ · N·g · t / V``. It says how much air people have. It never proves fume is caught.

    Parameters
    ----------
    minutes
        Time t since they came [min].
    start_ppm, outdoor_ppm
        Concentration C₀ when they came, and outdoors [ppm].
    breathed_ls
        Carbon dioxide they breathe out together N·g [l/s].
    flow_m3h
        Outdoor air Q [m³/h].
    volume_m3
        Volume V of the room [m³].

    Returns
    -------
    float
        Concentration C(t) [ppm].

    References
    ----------
    Batterman 2017, Int. J. Environ. Res. Public Health 14, 145.
    """
    hours = minutes / MINUTES_AN_HOUR
    added_m3h = breathed_ls * SECONDS_AN_HOUR / LITRES_A_M3
    rate = flow_m3h / volume_m3
    left = (start_ppm - outdoor_ppm) * math.exp(-rate * hours)
    return outdoor_ppm + left + _MILLION * added_m3h / volume_m3 * _filled_hours(hours, rate)


def carbon_dioxide_steady_ppm(outdoor_ppm: float, breathed_ls: float, flow_m3h: float) -> float:
    """Carbon dioxide in the long run: ``Css = Co + 10⁶ · N·g / Q``; infinite without a flow.

    Parameters
    ----------
    outdoor_ppm
        Concentration outdoors Co [ppm].
    breathed_ls
        Carbon dioxide people breathe out together N·g [l/s].
    flow_m3h
        Outdoor air Q [m³/h].

    Returns
    -------
    float
        Concentration Css [ppm].
    """
    if flow_m3h <= 0:
        return math.inf if breathed_ls > 0 else outdoor_ppm
    return outdoor_ppm + _MILLION * breathed_ls * SECONDS_AN_HOUR / LITRES_A_M3 / flow_m3h
