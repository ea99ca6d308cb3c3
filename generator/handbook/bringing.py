"""Bringing plastic: what a person at the door reads, in a donor's words, on one sheet."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.handbook.words import word
from generator.shop.records.material import Polymer
from generator.shop.records.people import ClosedDays
from generator.workings import intake
from generator.workings.storage import Quarantine
from generator.workings.week import ordinary_week

BRINGING = "material/bringing"
_AHEAD_D = 60
"""So many days ahead a closing is told."""

Answer = Literal["taken", "paused", "refused"]


@dataclass(frozen=True, slots=True)
class Line:
    """A material as a donor meets it: what it comes as, the number on it, and why or why not."""

    polymer: Polymer
    number: str
    examples: str
    says: str


def pages(desk: Desk) -> Iterator[Page]:
    """The donor's sheet."""
    body = render(
        "bringing",
        BRINGING,
        shop=desk.shop,
        sentence=_sentence(desk),
        days=list(_days(desk)),
        closed=list(_closed(desk)),
        taken=list(_lines(desk, "taken")),
        paused=list(_lines(desk, "paused")),
        refused=list(_lines(desk, "refused")),
        unsure=_unsure(desk.studies.material.storage.quarantine),
    )
    yield Page(BRINGING, _("Bringing plastic"), "bringing", "ML-10", body)


def answer(desk: Desk, polymer: Polymer) -> Answer:
    """Whether a polymer is taken now: never what must not be heated, nor what has no room."""
    if desk.refusals.polymer(polymer.id) or polymer.status == "refused":
        return "refused"
    if polymer.status == "paused" or polymer.id in desk.studies.material.storage.paused:
        return "paused"
    return "taken"


def why_paused(desk: Desk, polymer: Polymer) -> str:
    """Why a polymer is paused: for lack of room as storage says it, else as the shop does."""
    for pause in desk.studies.material.storage.pauses:
        if pause.polymer == polymer.id:
            return pause.says
    return str(polymer.why or _("ask at the bench"))


def _sentence(desk: Desk) -> str:
    """What is taken now and what has to wait, by name."""
    told = []
    for kind, says in (("taken", _("Taken now: {names}.")), ("paused", _("Paused: {names}."))):
        names = [str(p.name) for p in desk.shop.polymers.values() if answer(desk, p) == kind]
        if names:
            told.append(says.format(names=", ".join(names)))
    return " ".join(told) or _("Nothing is taken now.")


def _lines(desk: Desk, kind: Answer) -> Iterator[Line]:
    for polymer in desk.shop.polymers.values():
        if answer(desk, polymer) == kind:
            examples = ", ".join(str(example) for example in polymer.examples)
            yield Line(polymer, _number(polymer), examples, _says(desk, polymer, kind))


def _number(polymer: Polymer) -> str:
    """The number in the triangle; a 7 says nothing of what it is."""
    if polymer.recycling_code is None:
        return ""
    return _("number {n} in the triangle").format(n=polymer.recycling_code)


def _says(desk: Desk, polymer: Polymer, kind: Answer) -> str:
    if kind == "taken":
        return _room(desk, polymer)
    if kind == "paused":
        return why_paused(desk, polymer)
    return str(polymer.why or desk.refusals.polymer(polymer.id))


def _room(desk: Desk, polymer: Polymer) -> str:
    """How much more of it may come, in whole kilograms."""
    left = intake.room_for(polymer, desk.stock.get(polymer.id, 0.0)).left_kg
    if left is None:
        return ""
    if left < 1:
        return _("room for less than 1\u202fkg")
    return _("room for {kg} more").format(kg=show(float(int(left)), "kg"))


# --- when --------------------------------------------------------------------------------------


def _days(desk: Desk) -> Iterator[tuple[str, str]]:
    """Collection days: each day on which plastic may be brought, with its hours."""
    for found in ordinary_week(desk.shop):
        hours = [f"{o.from_:%H:%M}\u2013{o.to:%H:%M}" for o in found.openings if o.takes_donations]
        if hours:
            yield word(found.day), ", ".join(hours)


def _closed(desk: Desk) -> Iterator[str]:
    """Days without a door in the weeks to come."""
    ahead = desk.as_of + dt.timedelta(days=_AHEAD_D)
    for days in desk.shop.hours.closed:
        if days.to >= desk.as_of and days.from_ <= ahead:
            yield _closing(days)


def _closing(days: ClosedDays) -> str:
    says = _("Shut from {first} to {last}: {why}")
    return says.format(first=day(days.from_), last=day(days.to), why=days.why)


# --- what nobody can name ----------------------------------------------------------------------


def _unsure(kept: Quarantine) -> str:
    """How many places there are for what nobody can name, and how long it may stay in one."""
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


def _days_words(days: float) -> str:
    return ngettext("{n} day", "{n} days", int(days)).format(n=int(days))
