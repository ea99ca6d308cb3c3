"""The laws of what stands and what burns: pressure, filling, heat and fire load."""

from __future__ import annotations

import math
from collections.abc import Iterable

STANDARD_GRAVITY = 9.80665
"""Fall of a body [m/s²], by definition."""


def pressure_kpa(mass_kg: float, area_m2: float) -> float:
    """Pressure of a mass on the floor under it: ``p = m · g / A``.

    Parameters
    ----------
    mass_kg
        Mass m [kg].
    area_m2
        Area A it stands on [m²], more than 0.

    Returns
    -------
    float
        Pressure p [kPa], which is kN/m².
    """
    return mass_kg * STANDARD_GRAVITY / area_m2 / 1000


def filled_kg(volume_l: float, bulk_kgm3: float, fill: float) -> float:
    """Mass of loose material in a container: ``m = V · φ · ρ``.

    Parameters
    ----------
    volume_l
        Volume V of the container [l].
    bulk_kgm3
        Bulk density ρ as it lies [kg/m³].
    fill
        Share φ of the volume that is filled [-].

    Returns
    -------
    float
        Mass m [kg].
    """
    return volume_l / 1000 * fill * bulk_kgm3


def heat_mj(parts: Iterable[tuple[float, float]]) -> float:
    """Heat that burning sets free: ``Q = Σ m · Hc``.

    Parameters
    ----------
    parts
        Pairs of mass m [kg] and gross heat of combustion Hc [MJ/kg].

    Returns
    -------
    float
        Heat Q [MJ].
    """
    return math.fsum(mass * heat for mass, heat in parts)


def fire_load_mjm2(parts: Iterable[tuple[float, float]], area_m2: float) -> float:
    """Fire load density: ``q = Σ m · Hc / A``.

    Parameters
    ----------
    parts
        Pairs of mass m [kg] and gross heat of combustion Hc [MJ/kg].
    area_m2
        Floor area A [m²], more than 0.

    Returns
    -------
    float
        Fire load density q [MJ/m²].
    """
    return heat_mj(parts) / area_m2
