"""Session cards: what a group carries, where it is when and what it wears there."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _, ngettext
from generator.press.cards import blocks
from generator.press.cards.blocks import SMALL, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet
from generator.shop.records.people import Activity
from generator.workings.sessions import SessionStudy, Span, clock
from generator.workings.sessions.results import GroupPlan

KIND = "group-card"


def sheets(order: Order) -> Iterator[Sheet]:
    """A card for each group of each session that has a timetable."""
    for number, study in enumerate(order.studies.sessions.sessions.values(), 1):
        for group in study.groups:
            if group.slots:
                yield as_sheet(order, _card(order, study, group, number), order.half)


def _card(order: Order, study: SessionStudy, group: GroupPlan, number: int) -> Card:
    session, pictures = study.session, Pictures()
    size = ngettext("{n} learner", "{n} learners", group.size).format(n=group.size)
    spans = _("Doors {doors}, end {end}").format(
        doors=clock(study.arrival.start_min), end=clock(study.tidy.end_min)
    )
    return Card(
        id=f"group-{session.id}-{group.number}",
        kind=KIND,
        number=f"GC-{number:02d}.{group.number}",
        label=str(session.name),
        title=_("Group {n}").format(n=group.number),
        says=f"{size}. {spans}.",
        blocks=[
            blocks.table(
                "",
                (_("When"), "", _("What"), _("Wear")),
                _lines(order, study, group, pictures),
                wide=2,
            )
        ],
        pictures=pictures,
        about=(f"sessions/{session.id}",),
        hangs=_("carried by group {n}").format(n=group.number),
        badge=str(group.number),
        size=4.4,
        named=_("Group {n}: {session}").format(n=group.number, session=session.name),
    )


def _lines(
    order: Order, study: SessionStudy, group: GroupPlan, pictures: Pictures
) -> list[list[Plain]]:
    """Its activities with the breaks and the tidying between them, by the clock."""
    found = [(s.start_min, _activity(order, s.clock, s.activity, pictures)) for s in group.slots]
    pauses = [*((b, _("Break")) for b in study.breaks), (study.tidy, _("Tidy up, count heads"))]
    found += [(span.start_min, _pause(span, says)) for span, says in pauses]
    return [line for _start, line in sorted(found, key=lambda row: row[0])]


def _pause(span: Span, says: str) -> list[Plain]:
    return [span.clock, "", says, ""]


def _activity(order: Order, when: str, activity: Activity, pictures: Pictures) -> list[Plain]:
    station = order.shop.stations[activity.station]
    watch = _("Watch only, from behind the line.") if activity.learners == "watch" else ""
    what = blocks.lines(str(activity.name), str(station.name), watch)
    worn: list[Plain] = [pictures.sign(code, SMALL) for code in activity.ppe]
    return [when, str(station.number), what, blocks.shown(*worn)]
