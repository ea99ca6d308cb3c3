"""The laws of sound: levels added, spread out with distance, and averaged over a day.

Levels are A-weighted, in dB(A).
"""

from __future__ import annotations

import math
from collections.abc import Iterable

DAY_H = 8.0
SILENCE_DB = -math.inf
"""The level where nothing sounds."""


def energy(level_db: float) -> float:
    """Energy of a level against that of 0 dB: ``10^(L/10)``; 0 for silence."""
    return 10 ** (level_db / 10)


def level(of_energy: float) -> float:
    """Level of an energy: ``10 · log₁₀(E)``; silence for none."""
    return 10 * math.log10(of_energy) if of_energy > 0 else SILENCE_DB


def summed_db(levels_db: Iterable[float]) -> float:
    """Level of several sounds at once: ``L = 10 · log₁₀(Σ 10^(Lᵢ/10))``.

    Parameters
    ----------
    levels_db
        Level of each by itself [dB(A)].

    Returns
    -------
    float
        Level of all together [dB(A)]; ``SILENCE_DB`` for none.
    """
    return level(math.fsum(map(energy, levels_db)))


def spread_db(level_db: float, from_m: float, to_m: float) -> float:
    """Level of a point source at another distance: ``L₂ = L₁ − 20 · log₁₀(r₂ / r₁)``.

    In a free field. Indoors walls throw sound back, so the level falls off less: optimistic.

    Parameters
    ----------
    level_db
        Level L₁ [dB(A)] at the distance ``from_m``.
    from_m, to_m
        Distances r₁ and r₂ [m], more than 0.

    Returns
    -------
    float
        Level L₂ at ``to_m`` [dB(A)].
    """
    return level_db - 20 * math.log10(to_m / from_m)


def exchange_factor(exchange_db: float) -> float:
    """The q in ``q · log₁₀``: 10 for 3 dB, which is equal energy, and 16.61 for 5 dB."""
    return 10.0 if exchange_db == 3 else exchange_db / math.log10(2)


def daily_exposure_db(parts: Iterable[tuple[float, float]], exchange_db: float = 3.0) -> float:
    """Exposure of a day, as the level that eight hours of it would have.

    ``LEX,8h = q · log₁₀(Σ Tᵢ · 10^(Lᵢ/q) / 8)`` with q = 10 for an exchange rate of 3 dB (equal
    energy, EU and UK) and 16.61 for 5 dB (US: the time-weighted average).

    Parameters
    ----------
    parts
        Pairs of hours Tᵢ [h] and level Lᵢ [dB(A)].
    exchange_db
        Rise in level that halves the time allowed [dB].

    Returns
    -------
    float
        Daily exposure [dB(A)]; ``SILENCE_DB`` where nothing sounds.

    References
    ----------
    Directive 2003/10/EC with ISO 1999; 29 CFR 1910.95, appendix A.
    """
    q = exchange_factor(exchange_db)
    dose = math.fsum(hours * 10 ** (level_db / q) for hours, level_db in parts)
    return q * math.log10(dose / DAY_H) if dose > 0 else SILENCE_DB


def hours_allowed(level_db: float, limit_db: float, exchange_db: float = 3.0) -> float:
    """Time in which a level alone reaches a daily limit: ``T = 8 / 2^((L − limit)/exchange)``.

    Parameters
    ----------
    level_db
        Level L [dB(A)].
    limit_db
        Daily limit or action value [dB(A)].
    exchange_db
        Rise in level that halves the time allowed [dB].

    Returns
    -------
    float
        Time T [h].

    References
    ----------
    29 CFR 1910.95, table G-16a; NIOSH has the same law with 85 dB and 3 dB.
    """
    return DAY_H / 2 ** ((level_db - limit_db) / exchange_db)
