"""When the door is open in an ordinary week."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from generator.shop.records.people import Opening
from generator.shop.records.refs import Weekday
from generator.shop.shop import Shop

WEEK: tuple[Weekday, ...] = get_args(Weekday)


@dataclass(frozen=True, slots=True)
class DayOfWeek:
    """One weekday, its number from Monday = 0, and when the door is open."""

    day: Weekday
    number: int
    openings: tuple[Opening, ...]

    @property
    def takes_donations(self) -> bool:
        """Whether plastic may be brought."""
        return any(o.takes_donations for o in self.openings)


def ordinary_week(shop: Shop) -> tuple[DayOfWeek, ...]:
    """The seven days from Monday, with their openings by the clock."""
    return tuple(
        DayOfWeek(
            day,
            number,
            tuple(sorted((o for o in shop.hours.weekly if o.day == day), key=lambda o: o.from_)),
        )
        for number, day in enumerate(WEEK)
    )
