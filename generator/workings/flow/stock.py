"""What stands in the store over the weeks to come, if every week is an ordinary one."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.origin import Origin
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.flow.mass import Balance
from generator.workings.intake import latest_count

WEEKS_AHEAD = 12
_CUT = frozenset({"flake", "pellet"})
_STEADY_KG = 0.005


@dataclass(frozen=True, slots=True)
class Level:
    """One polymer's store from week to week.

    ``flake_kg`` and ``waiting_kg`` (not cut yet) are of the last count, ``gain_kg`` what an
    ordinary week adds, ``weeks`` the level now and after each week to come, at least 0. It is
    full after ``full_in`` weeks and empty after ``empty_in``, each None where it never is.
    ``limit_kg`` is the shop's own, None where it has set none.
    """

    polymer: str
    flake_kg: float
    waiting_kg: float
    gain_kg: float
    limit_kg: float | None
    weeks: tuple[float, ...]
    full_in: float | None
    empty_in: float | None
    origin: Origin

    @property
    def now_kg(self) -> float:
        return self.flake_kg + self.waiting_kg

    @property
    def is_full(self) -> bool:
        """Whether nothing more fits by the shop's own limit."""
        return self.limit_kg is not None and self.now_kg >= self.limit_kg


def weeks_until(gap_kg: float, weekly_kg: float) -> float | None:
    r"""Weeks until a store has changed by so much [weeks], None where it never does.

    .. math:: t = \Delta m / \dot m

    Parameters
    ----------
    gap_kg
        What is left to the limit, or to nothing [kg]; at least 0.
    weekly_kg
        What a week brings nearer to it [kg]; it stands still up to 5 g.
    """
    if weekly_kg <= _STEADY_KG:
        return None
    return max(0.0, gap_kg) / weekly_kg


def levels(shop: Shop, masses: Balance) -> tuple[Level, ...]:
    """The store of every polymer that comes in, goes out or stands there."""
    return tuple(_levels(shop, masses))


def _levels(shop: Shop, masses: Balance) -> Iterator[Level]:
    counted = latest_count(shop)
    for polymer in shop.polymers.values():
        rows = [row for row in counted if row.polymer == polymer.id]
        flake = sum(row.kg for row in rows if row.form in _CUT)
        waiting = sum(row.kg for row in rows if row.form not in _CUT)
        gain = masses.into("laid-in", polymer.id) - masses.out_of("drawn", polymer.id)
        if rows or gain:
            place = rows[0].origin if rows else polymer.origin
            yield _level(polymer, flake, waiting, gain, place)


def _level(
    polymer: Polymer, flake: float, waiting: float, gain: float, origin: Origin
) -> Level:  # fmt: skip
    now, limit = flake + waiting, polymer.store_limit_kg
    ahead = tuple(max(0.0, now + gain * week) for week in range(WEEKS_AHEAD + 1))
    full_in = None if limit is None else weeks_until(limit - now, gain)
    full_in = 0.0 if limit is not None and now >= limit else full_in
    return Level(
        polymer.id, flake, waiting, gain, limit, ahead, full_in, weeks_until(now, -gain), origin
    )


def whole_weeks(weeks: float) -> int:
    """Weeks as they are said: begun ones do not count."""
    return math.floor(weeks + 1e-9)
