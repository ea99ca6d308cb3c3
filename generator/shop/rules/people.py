"""Rules of people and time: what ends after it starts, what waits for what."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from generator.ground.finding import Finding
from generator.ground.wording import _, ngettext
from generator.shop.draft import Draft
from generator.shop.meant import among
from generator.shop.names import short
from generator.shop.place import Path
from generator.shop.records.people import Role, Session
from generator.shop.rules.shared import circles, in_words

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def opening_hours(draft: Draft) -> Iterator[Finding]:
    """A day's opening ends after it begins, and so do the days the shop stays shut."""
    if draft.hours is None:
        return
    place = draft.place("hours")
    for n, opening in enumerate(draft.hours.weekly):
        if opening.to <= opening.from_:
            says = _("It ends at {end}, which is not after {start}.")
            says = says.format(end=f"{opening.to:%H:%M}", start=f"{opening.from_:%H:%M}")
            right = f"to: {_later(opening.from_)}"
            yield place.finding("ends-before", ("weekly", n, "to"), says, "", right)
    for n, closed in enumerate(draft.hours.closed):
        if closed.to < closed.from_:
            says = _("It ends on {end}, before {start}.").format(end=closed.to, start=closed.from_)
            path = ("closed", n, "to")
            yield place.finding("ends-before", path, says, "", f"to: {closed.from_}")


def _later(time: dt.time) -> str:
    return f"{min(time.hour + 2, 23):02}:59" if time.hour > 20 else f"{time.hour + 2:02}:00"


def session_times(draft: Draft) -> Iterator[Finding]:
    """A session ends after it starts, and its day is the weekday it names."""
    for key, session in draft.of(Session).items():
        place = draft.place("sessions", key)
        if session.end <= session.start:
            says = _("It ends at {end}, which is not after {start}.")
            says = says.format(end=f"{session.end:%H:%M}", start=f"{session.start:%H:%M}")
            yield place.finding("ends-before", ("end",), says, "", f"end: {_later(session.start)}")
        if session.day and session.weekday and _weekday(session.day) != session.weekday:
            says = _("{day} is a `{real}`, not a `{weekday}`.").format(
                day=session.day, real=_weekday(session.day), weekday=session.weekday
            )
            right = f"weekday: {_weekday(session.day)}"
            mend = _("Correct one of the two, or leave one out.")
            yield place.finding("weekday", ("weekday",), says, mend, right)


def _weekday(day: dt.date) -> str:
    return _WEEKDAYS[day.weekday()]


def learners(draft: Draft) -> Iterator[Finding]:
    """The oldest learners are not younger than the youngest, and no group is empty."""
    for key, session in draft.of(Session).items():
        place, who = draft.place("sessions", key), session.learners
        if who.age_to_years < who.age_from_years:
            says = _("They are {from_age:g} to {to_age:g} years old, which is the wrong way round.")
            says = says.format(from_age=who.age_from_years, to_age=who.age_to_years)
            right = f"age_to: {who.age_from_years:g} years"
            yield place.finding("ages", ("learners", "age_to"), says, "", right)
        if session.groups > who.count:
            says = ngettext(
                "{groups} groups cannot be made of {n} learner.",
                "{groups} groups cannot be made of {n} learners.",
                who.count,
            ).format(groups=session.groups, n=who.count)
            yield place.finding("groups", ("groups",), says, "", f"groups: {who.count}")


def activity_ids(draft: Draft) -> Iterator[Finding]:
    """What an activity comes after, and what a timetable names, are activities of the session."""
    for key, session in draft.of(Session).items():
        there = draft.known.under("sessions", key, "activities")
        for path, id_ in _named_activities(session):
            if id_ in there:
                continue
            says = _("`{id}` is not an activity of this session.").format(id=short(id_))
            error = among(says, id_, there, _("It has none."))
            yield draft.place("sessions", key).lost(path, error)


def _named_activities(session: Session) -> Iterator[tuple[Path, str]]:
    for key, activity in session.activities.items():
        yield from ((("activities", key, "after", n), id_) for n, id_ in enumerate(activity.after))
    yield from ((("timetable", n, "activity"), s.activity) for n, s in enumerate(session.timetable))


def timetable_lines(draft: Draft) -> Iterator[Finding]:
    """A line of a timetable is for one of the session's groups and starts within its hours."""
    for key, session in draft.of(Session).items():
        place = draft.place("sessions", key)
        for n, slot in enumerate(session.timetable):
            if slot.group > session.groups:
                says = ngettext(
                    "There is no group {group}: the session has {n} group.",
                    "There is no group {group}: the session has {n} groups.",
                    session.groups,
                ).format(group=slot.group, n=session.groups)
                path: Path = ("timetable", n, "group")
                yield place.finding("groups", path, says, "", f"group: {session.groups}")
            if session.start < session.end and not session.start <= slot.start < session.end:
                says = _("{time} is outside the session, {start} to {end}.").format(
                    time=f"{slot.start:%H:%M}",
                    start=f"{session.start:%H:%M}",
                    end=f"{session.end:%H:%M}",
                )
                path, right = ("timetable", n, "start"), f"start: {session.start:%H:%M}"
                yield place.finding("outside-session", path, says, "", right)


def activity_order(draft: Draft) -> Iterator[Finding]:
    """No activity waits for itself, straight or round a circle."""
    for key, session in draft.of(Session).items():
        for circle in circles({k: a.after for k, a in session.activities.items()}):
            says = _("The activities wait for one another: {circle}.")
            path: Path = ("activities", circle[0], "after")
            mend = _("Take one of them out of an `after`.")
            place = draft.place("sessions", key)
            yield place.finding("circle", path, says.format(circle=in_words(circle)), mend)


def role_order(draft: Draft) -> Iterator[Finding]:
    """No role is reached only after itself, straight or round a circle."""
    for circle in circles({key: role.after for key, role in draft.of(Role).items()}):
        says = _("The roles can only be reached after one another: {circle}.")
        place, mend = draft.place("roles", circle[0]), _("Take one of them out of an `after`.")
        yield place.finding("circle", ("after",), says.format(circle=in_words(circle)), mend)


RULES = (
    opening_hours,
    session_times,
    learners,
    activity_ids,
    timetable_lines,
    activity_order,
    role_order,
)
