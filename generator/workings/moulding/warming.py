"""Heat that plastic takes up, the power that gives it, and how long a mass of metal warms."""

from __future__ import annotations

import math

from generator.ground.units import show
from generator.ground.wording import _
from generator.reference import Polymer
from generator.workings.moulding.errors import UnworkableError

_NOTHING = 1e-12
"""A share of the power too small to matter, and small enough to drown in rounding."""


def heat_kjkg(
    start_c: float,
    change_c: float,
    end_c: float,
    *,
    solid_jkgk: float,
    melt_jkgk: float,
    latent_kjkg: float,
) -> float:
    r"""Heat to bring plastic from one temperature to another [kJ/kg].

    .. math:: h = c_s (T_c - T_0) + L + c_m (T - T_c)

    Sources disagree by some 10 %; enthalpy charts of PE-HD run from 650 to 750 kJ/kg.

    Parameters
    ----------
    start_c, end_c
        Before and after [°C].
    change_c
        Where it melts, or softens if amorphous [°C].
    solid_jkgk, melt_jkgk
        Heat capacity below and above that [J/(kg·K)].
    latent_kjkg
        Latent heat as crystalline as it comes, 0 if amorphous [kJ/kg].

    References
    ----------
    Handbook heat capacities; textbook energy balance.
    """
    if end_c <= change_c:
        return solid_jkgk * (end_c - start_c) / 1000
    solid = solid_jkgk * (change_c - start_c) / 1000
    return solid + latent_kjkg + melt_jkgk * (end_c - change_c) / 1000


def heat_of(polymer: Polymer, start_c: float, change_c: float, end_c: float) -> float:
    """As ``heat_kjkg``, with a polymer's figures of the tables."""
    return heat_kjkg(
        start_c, change_c, end_c, solid_jkgk=polymer.cp_solid.middle,
        melt_jkgk=polymer.cp_melt.middle, latent_kjkg=polymer.latent.middle,
    )  # fmt: skip


def heater_kw(rate_kgh: float, heat: float, efficiency: float) -> float:
    r"""Power of the heaters that bring a flow of plastic to temperature [kW].

    .. math:: P = \frac{\dot m\,h}{3600\,\eta}

    Parameters
    ----------
    rate_kgh
        Plastic an hour [kg/h].
    heat
        Heat it takes up [kJ/kg].
    efficiency
        Share of the power that reaches the plastic [-].
    """
    return rate_kgh * heat / 3600 / efficiency


def warm_up_s(heat_jk: float, power_w: float, rise_k: float, loss_wk: float = 0.0) -> float:
    r"""Time in which a heated mass reaches a temperature [s].

    .. math:: t = -\frac{m c}{G}\ln\left(1 - \frac{G\,\Delta T}{P}\right), \qquad
        t = \frac{m c\,\Delta T}{P}\ \text{where}\ G = 0

    The mass is taken as one temperature throughout, so soaking comes on top.

    Parameters
    ----------
    heat_jk
        Mass times heat capacity [J/K].
    power_w
        Of the heaters [W].
    rise_k
        Wanted above the room [K].
    loss_wk
        To the room, for each kelvin above it [W/K].

    Raises
    ------
    UnworkableError
        Where the losses at that temperature are as large as the power: it never gets there.
    """
    if loss_wk * rise_k >= power_w:
        says = _("{power} never warms it by {rise}: that is what it loses to the room by then.")
        shown = {"power": show(power_w, "w", 0), "rise": show(rise_k, "k", 0)}
        raise UnworkableError(says.format(**shown))
    without_loss = heat_jk * rise_k / power_w
    lost = loss_wk * rise_k / power_w
    if lost < _NOTHING:
        return without_loss
    return without_loss * -math.log1p(-lost) / lost
