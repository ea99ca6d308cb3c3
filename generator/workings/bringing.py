"""What is taken at the door now, in a donor's words, and when."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, get_args

from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.shop.records.material import Polymer
from generator.shop.records.people import ClosedDays
from generator.shop.records.refs import Weekday
from generator.shop.shop import Shop
from generator.workings import intake
from generator.workings.heat import Refusals
from generator.workings.storage import StorageStudy
from generator.workings.week import ordinary_week

AHEAD_D = 60
"""So many days ahead a closing is told."""

Answer = Literal["taken", "paused", "refused"]
ANSWERS: tuple[Answer, ...] = get_args(Answer)


@dataclass(frozen=True, slots=True)
class Line:
    """A material as a donor meets it: what it comes as, the number on it, and why or why not."""

    polymer: Polymer
    number: str
    examples: str
    says: str


class Bringing:
    """The donor's sheet on a day.

    Parameters
    ----------
    shop, refusals, storage
        The shop, what must not be heated in it, and where everything waits.
    day
        The day that is asked about.
    """

    def __init__(self, shop: Shop, refusals: Refusals, storage: StorageStudy, day: dt.date) -> None:
        self._shop = shop
        self._refusals = refusals
        self._storage = storage
        self._day = day

    def answer(self, polymer: Polymer) -> Answer:
        """Whether it is taken now: never what must not be heated, nor what has no room."""
        if self._refusals.polymer(polymer.id) or polymer.status == "refused":
            return "refused"
        if polymer.status == "paused" or polymer.id in self._storage.paused:
            return "paused"
        return "taken"

    def why_paused(self, polymer: Polymer) -> str:
        """Why a polymer is paused: for lack of room as storage says it, else as the shop does."""
        for pause in self._storage.pauses:
            if pause.polymer == polymer.id:
                return pause.says
        return str(polymer.why or _("ask at the bench"))

    @cached_property
    def sentence(self) -> str:
        """What is taken now and what has to wait, by name."""
        told = []
        for kind, says in (("taken", _("Taken now: {names}.")), ("paused", _("Paused: {names}."))):
            names = [str(p.name) for p in self._shop.polymers.values() if self.answer(p) == kind]
            if names:
                told.append(says.format(names=", ".join(names)))
        return " ".join(told) or _("Nothing is taken now.")

    def lines(self, kind: Answer) -> Iterator[Line]:
        """Every material with that answer, in the shop's order."""
        for polymer in self._shop.polymers.values():
            if self.answer(polymer) == kind:
                examples = ", ".join(str(example) for example in polymer.examples)
                yield Line(polymer, _number(polymer), examples, self._says(polymer, kind))

    def _says(self, polymer: Polymer, kind: Answer) -> str:
        if kind == "taken":
            return self.room(polymer)
        if kind == "paused":
            return self.why_paused(polymer)
        return str(polymer.why or self._refusals.polymer(polymer.id))

    @cached_property
    def _stock_kg(self) -> dict[str, float]:
        return dict(intake.stock_by_polymer(self._shop))

    def room(self, polymer: Polymer) -> str:
        """How much more of it may come, in whole kilograms rounded down."""
        left = intake.room_for(polymer, self._stock_kg.get(polymer.id, 0.0)).left_kg
        if left is None:
            return ""
        if left < 1:
            return _("room for less than 1\u202fkg")
        return _("room for {kg} more").format(kg=show(float(int(left)), "kg"))

    # when

    def days(self) -> Iterator[tuple[Weekday, str]]:
        """Collection days: each day on which plastic may be brought, with its hours."""
        for found in ordinary_week(self._shop):
            hours = [
                f"{o.from_:%H:%M}\u2013{o.to:%H:%M}" for o in found.openings if o.takes_donations
            ]
            if hours:
                yield found.day, ", ".join(hours)

    def closed(self) -> Iterator[ClosedDays]:
        """Days without a door in the weeks to come."""
        ahead = self._day + dt.timedelta(days=AHEAD_D)
        for days in self._shop.hours.closed:
            if days.to >= self._day and days.from_ <= ahead:
                yield days

    # what nobody can name

    @cached_property
    def unsure(self) -> str:
        """How many places there are for what nobody can name, and how long it may stay in one."""
        kept = self._storage.quarantine
        if not kept.boxes:
            return _("What nobody can name goes home with you.")
        free = max(0, kept.free)
        places = ngettext(
            "What nobody can name waits in a closed box: {free} of {places} place is free.",
            "What nobody can name waits in a closed box: {free} of {places} places are free.",
            kept.places,
        ).format(free=free, places=kept.places)
        stay = _("It waits {days} at most; then we know what it is, or it leaves the house.")
        told = f"{places} {stay.format(days=_days_words(kept.longest_d))}"
        return told if free else f"{told} {_('Until one is free, it goes home with you.')}"


def _number(polymer: Polymer) -> str:
    """The number in the triangle; a 7 says nothing of what it is."""
    if polymer.recycling_code is None:
        return ""
    return _("number {n} in the triangle").format(n=polymer.recycling_code)


def _days_words(days: float) -> str:
    return ngettext("{n} day", "{n} days", int(days)).format(n=int(days))
