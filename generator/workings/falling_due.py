"""When something falls due that is done again and again, and what that means on a day."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

from generator.ground.units import Period

_MONTH = Period(1, "month")


class State(StrEnum):
    """How a due date stands against a day, the most pressing first."""

    OVERDUE = "overdue"
    MONTH = "month"  # within a month from the day
    LATER = "later"
    UNDATED = "undated"  # nobody has written when it was last done


def state_of(due: dt.date | None, as_of: dt.date) -> State:
    """How a due date stands; what falls due on the day itself is not overdue yet."""
    if due is None:
        return State.UNDATED
    if due < as_of:
        return State.OVERDUE
    return State.MONTH if due <= a_month_on(as_of) else State.LATER


def a_month_on(day: dt.date) -> dt.date:
    """The same day of the next month, or its last where it has no such day."""
    return next_due(day, _MONTH) or day


def next_due(last: dt.date | None, every: Period | None) -> dt.date | None:
    """A period after it was last done; None where either is not known or counts running hours."""
    if last is None or every is None:
        return None
    try:
        return every.after(last)
    except OverflowError:  # past the end of the calendar: not in anybody's time
        return dt.date.max
