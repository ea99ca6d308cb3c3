"""What a shot weighs, how much melt it takes, and how large a cavity makes a wanted part."""

from __future__ import annotations

from collections.abc import Iterable

from generator.ground.units import show
from generator.ground.wording import _
from generator.workings.moulding.errors import UnworkableError

SHRINKAGE_MOST_PERCENT = 6.0
"""No thermoplastic shrinks more: what reads so is a figure for something else."""


def mass_g(volume_cm3: float, density_kgm3: float) -> float:
    r"""Mass of plastic that fills a volume, cold [g].

    .. math:: m = \rho V

    Parameters
    ----------
    volume_cm3
        Cold volume of parts, sprue and runner [cm³].
    density_kgm3
        Of the solid [kg/m³].
    """
    return volume_cm3 * density_kgm3 / 1000


def cold_volume_cm3(cavity_cm3: float, shrinkage_percent: float) -> float:
    r"""Volume of what comes out of a cavity, cold [cm³].

    .. math:: V = V_c (1 - S)^3

    Parameters
    ----------
    cavity_cm3
        Volume of the cavity itself [cm³].
    shrinkage_percent
        Linear shrinkage [%].

    Raises
    ------
    UnworkableError
        Where the shrinkage is not between 0 and 6 %.
    """
    return cavity_cm3 * (1 - checked_shrinkage(shrinkage_percent) / 100) ** 3


def cavity_mm(part_mm: float, shrinkage_percent: float) -> float:
    r"""Length to cut in the mould for a wanted length of the cold part [mm].

    .. math:: L_c = \frac{L}{1 - S}

    Parameters
    ----------
    part_mm
        Wanted length of the cold part [mm].
    shrinkage_percent
        Linear shrinkage [%].

    Raises
    ------
    UnworkableError
        Where the shrinkage is not between 0 and 6 %.

    References
    ----------
    Handbook; ISO 294-4 defines the shrinkage on the cavity's length.
    """
    return part_mm / (1 - checked_shrinkage(shrinkage_percent) / 100)


def checked_shrinkage(percent: float) -> float:
    """The shrinkage [%] where it can be one.

    Raises
    ------
    UnworkableError
        Where it is under 0 or over 6 %.
    """
    if not 0 <= percent <= SHRINKAGE_MOST_PERCENT:
        says = _(
            "A shrinkage of {shown} is not believed: no thermoplastic shrinks more than {most}. "
            "Data sheets print 0.09 mm/mm where they mean something else."
        )
        most = show(SHRINKAGE_MOST_PERCENT, "percent")
        raise UnworkableError(says.format(shown=show(percent, "percent", 2), most=most))
    return percent


def melt_cm3(mass_of_shot_g: float, melt_density_kgm3: float) -> float:
    r"""Volume of a shot as melt [cm³].

    .. math:: V_m = m / \rho_m

    Parameters
    ----------
    mass_of_shot_g
        Parts, sprue and runner [g].
    melt_density_kgm3
        Of the melt [kg/m³].
    """
    return mass_of_shot_g / melt_density_kgm3 * 1000


def with_reserve(volume_cm3: float, reserve_percent: float) -> float:
    r"""Melt the barrel must hold for a shot [cm³].

    .. math:: V = V_m (1 + r)

    Parameters
    ----------
    volume_cm3
        Volume of the shot as melt [cm³].
    reserve_percent
        What stays in front of the plunger or screw [%].
    """
    return volume_cm3 * (1 + reserve_percent / 100)


def blend_density_kgm3(shares: Iterable[tuple[float, float]]) -> float:
    r"""Density of a blend by mass [kg/m³].

    .. math:: \frac{1}{\rho} = \frac{\sum w_i/\rho_i}{\sum w_i}

    Holds where the parts do not dissolve in one another.

    Parameters
    ----------
    shares
        Of each part, its share by mass and its density [kg/m³]; the shares need not make 1.
    """
    parts = tuple(shares)
    return sum(share for share, _density in parts) / sum(share / rho for share, rho in parts)


def volume_share(shares: Iterable[tuple[float, float]], number: int) -> float:
    r"""Share by volume of one part of a blend [-].

    .. math:: \phi_k = \frac{w_k/\rho_k}{\sum w_i/\rho_i}

    Parameters
    ----------
    shares
        Of each part, its share by mass and its density [kg/m³].
    number
        Which part, from 0.
    """
    volumes = [share / density for share, density in shares]
    return volumes[number] / sum(volumes)
