"""From what comes in a week to what goes out: masses, hours, the bottleneck, stock and carrying.

An ordinary week is worked out: what the sources bring as logged or as written, and what the
products want. Where the log has enough rows its figures are used and said to be measured.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.survey import Survey, survey
from generator.shop.shop import Shop
from generator.workings.flow.carrying import Carrying, Leg, Walk, Walked
from generator.workings.flow.hours import Counting, Crew, Hours, MachineHours, Task
from generator.workings.flow.limits import Limit, Limits, OneMore, Week, limits_of
from generator.workings.flow.making import Making, Makings
from generator.workings.flow.mass import (
    PLACE_WORDS,
    SINKS,
    SOURCES,
    WASTE,
    Balance,
    Link,
    Place,
    Purge,
    balance,
    purge_of,
)
from generator.workings.flow.stock import Level, levels
from generator.workings.flow.told import findings, in_words, workings
from generator.workings.intake import Stream, streams
from generator.workings.losses import Losses

__all__ = [
    "PLACE_WORDS", "SINKS", "SOURCES", "WASTE", "Balance", "Crew", "FlowStudy", "Hours", "Leg",
    "Level", "Limit", "Limits", "Link", "MachineHours", "Making", "OneMore", "Place", "Purge",
    "Stream", "Task", "Walk", "Walked", "Week", "in_words", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class FlowStudy:
    """An ordinary week, worked out.

    Parameters
    ----------
    week
        What comes in, what is made, every link of the mass balance, the hours and the stores.
    purge
        What is pushed out at changes.
    limits
        What limits the week, the tightest first, and what more of anything would change.
    legs
        What is carried how far; ``carried_kgm`` adds up what is known of it.
    says
        What limits this week, in words.
    survey
        Workings and findings, with how many checks were answered.
    """

    week: Week
    purge: Purge
    limits: Limits
    legs: tuple[Leg, ...]
    says: str
    survey: Survey

    @property
    def masses(self) -> Balance:
        """Every link of the week's mass balance, with widths to scale for a drawing."""
        return self.week.masses

    @property
    def hours(self) -> Hours:
        return self.week.hours

    @property
    def stores(self) -> tuple[Level, ...]:
        """What stands in stock now and over the weeks to come."""
        return self.week.stores

    @property
    def carried_kgm(self) -> float:
        return sum(leg.kgm or 0.0 for leg in self.legs)


def study(
    shop: Shop,
    walk: Walk | None = None,
    losses: Losses | None = None,
    makings: Makings | None = None,
) -> FlowStudy:
    """Work out an ordinary week.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    walk
        The walk between two stations by id, such as a route study's ``walk_between``; straight
        lines, marked so, where it is left out.
    losses, makings
        What the steps lose and what is made, where they were worked out before.
    """
    known = losses or Losses(shop)
    made = (makings or Makings(shop)).weekly
    sources = streams(shop, known)
    purge = purge_of(shop, made, known)
    masses = balance(shop, sources, made, purge, known)
    hours = Counting(shop, made, masses, known).hours
    week = Week(shop, sources, made, masses, hours, levels(shop, masses))
    limits = limits_of(week)
    legs = Carrying(shop, masses, made, walk).legs()
    shown = workings(week, limits, purge, legs)
    unsure = sum(leg.kg is None for leg in legs) + (hours.people_have_h is None)
    checked = survey(
        "flow", shown, findings(week, limits, legs), other_checks=len(legs) + 1,
        other_unanswered=unsure,
    )  # fmt: skip
    return FlowStudy(week, purge, limits, legs, in_words(week, limits), checked)
