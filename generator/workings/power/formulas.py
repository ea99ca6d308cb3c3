"""The formulas of power, each by itself: currents, cables, volt drop, balance, heaters.

Nothing here knows a shop. Arguments and results carry their unit in the name or in brackets.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence


def single_phase_a(
    power_kw: float, voltage_v: float, power_factor: float, efficiency: float = 1.0
) -> float:
    r"""Current of a load between two conductors [A].

    .. math:: I = \frac{1000 P}{V \cos\varphi\ \eta}

    Holds between a phase and neutral with the voltage to neutral, and between two phases with
    the voltage across them; there it flows in both phases.

    Parameters
    ----------
    power_kw
        Electrical power, or shaft power where an efficiency is given [kW].
    voltage_v
        Voltage across the load [V].
    power_factor
        Over 0, at most 1 [-].
    efficiency
        Shaft power over electrical power; 1 unless the power is the shaft's [-].

    References
    ----------
    Textbook; IEC 60050-131, active power of a two-terminal circuit.
    """
    return 1000 * power_kw / (voltage_v * power_factor * efficiency)


def three_phase_a(
    power_kw: float, voltage_v: float, power_factor: float, efficiency: float = 1.0
) -> float:
    r"""Current in each phase of a balanced three-phase load [A].

    .. math:: I = \frac{1000 P}{\sqrt{3}\ V_{LL} \cos\varphi\ \eta}

    Parameters
    ----------
    power_kw
        Electrical power of all three phases, or shaft power where an efficiency is given [kW].
    voltage_v
        Voltage between two phases [V].
    power_factor
        Over 0, at most 1 [-].
    efficiency
        Shaft power over electrical power; 1 unless the power is the shaft's [-].

    References
    ----------
    Textbook.
    """
    return single_phase_a(power_kw, math.sqrt(3) * voltage_v, power_factor, efficiency)


def heater_power_kw(power_kw: float, plate_v: float, supply_v: float) -> float:
    r"""Power of a resistance heater on another voltage than its plate's [kW].

    .. math:: P = P_n \left(\frac{V}{V_n}\right)^2

    Holds for a resistance that does not change with temperature; not for a heater with
    electronic control, nor for motors.

    Parameters
    ----------
    power_kw
        Power on its plate [kW].
    plate_v
        Voltage on its plate [V].
    supply_v
        Voltage it gets [V].

    References
    ----------
    Textbook; Ohm's law.
    """
    return power_kw * (supply_v / plate_v) ** 2


def with_continuous_a(intermittent_a: float, continuous_a: float, factor: float) -> float:
    r"""Current a device is sized for where some of the load runs for hours [A].

    .. math:: I = I_{intermittent} + k\,I_{continuous}

    Parameters
    ----------
    intermittent_a
        Loads that run for less than three hours at a stretch [A].
    continuous_a
        Loads that run for longer [A].
    factor
        1.25 under the NEC; 1 where the rule is that of the IEC [-].

    References
    ----------
    NEC 210.20(A), 215.3.
    """
    return intermittent_a + factor * continuous_a


def as_laid_a(tabulated_a: float, *factors: float) -> float:
    r"""Current a cable carries as it is laid [A].

    .. math:: I_z = I_t\,C_a C_g C_i

    Parameters
    ----------
    tabulated_a
        Current of the cable's table for the way it is laid [A].
    factors
        For ambient temperature, grouping and thermal insulation, each at most 1 in a room
        warmer than the table's [-].

    References
    ----------
    BS 7671 appendix 4; IEC 60364-5-52.
    """
    return tabulated_a * math.prod(factors)


def volt_drop_v(drop_mv: float, current_a: float, length_m: float) -> float:
    r"""Volt drop along a cable at its working temperature [V].

    .. math:: \Delta V = \frac{(mV/A/m)\,I_b\,L}{1000}

    Parameters
    ----------
    drop_mv
        The table's drop for the section, for both conductors of a single-phase cable or
        between phases of a three-phase one [mV/(A·m)].
    current_a
        Design current [A].
    length_m
        From the board to the load, one way [m].

    References
    ----------
    BS 7671 appendix 4.
    """
    return drop_mv * current_a * length_m / 1000


def imbalance_percent(currents_a: Sequence[float]) -> float:
    r"""How far the phases are from carrying the same current [%].

    .. math:: 100\,\frac{\max |I_i - \bar I|}{\bar I}

    0 where nothing flows.

    Parameters
    ----------
    currents_a
        Current in each phase or leg [A].

    References
    ----------
    NEMA MG-1 for voltages; the same ratio of currents is the trade's.
    """
    mean = sum(currents_a) / len(currents_a)
    return 100 * max(abs(i - mean) for i in currents_a) / mean if mean else 0.0


def awg_mm2(gauge: int) -> float:
    r"""Section of a solid conductor by its American gauge [mm²].

    .. math:: \frac{\pi}{4}\left(0.127 \cdot 92^{(36-n)/39}\right)^2

    Parameters
    ----------
    gauge
        14 for 14 AWG [-].

    References
    ----------
    ASTM B258.
    """
    diameter_mm: float = 0.127 * 92 ** ((36 - gauge) / 39)
    return math.pi / 4 * diameter_mm**2


def next_rating_a(current_a: float, ratings_a: Iterable[float]) -> float | None:
    """The smallest standard device that is not below a current, None beyond the largest [A].

    Parameters
    ----------
    current_a
        Current it must carry [A].
    ratings_a
        Standard ratings in any order [A].

    References
    ----------
    IEC 60898; NEC 240.6(A).
    """
    return min((rating for rating in ratings_a if rating >= current_a - 1e-9), default=None)
