"""What is worked out of a session. Times are whole minutes after midnight; ids are the shop's.

A time may be below 0 or above 1440: a press that is ready at one in the morning was switched on
the day before. ``clock`` shows it as a clock does.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey
from generator.shop.records.people import Activity, Session

_DAY_MIN = 24 * 60


def clock(minutes: float) -> str:
    """A time as a clock shows it (``clock(585)`` is ``09:45``)."""
    hours, rest = divmod(round(minutes) % _DAY_MIN, 60)
    return f"{hours:02}:{rest:02}"


@dataclass(frozen=True, slots=True)
class Span:
    """From when to when."""

    start_min: int
    end_min: int

    @property
    def minutes(self) -> int:
        return self.end_min - self.start_min

    @property
    def clock(self) -> str:
        """``09:45–10:00``"""
        return f"{clock(self.start_min)}–{clock(self.end_min)}"


@dataclass(frozen=True, slots=True)
class PlannedSlot:
    """A group at an activity. ``walk_min`` is its walk there from where it was before."""

    group: int
    activity_id: str
    activity: Activity
    start_min: int
    end_min: int
    walk_min: int
    origin: Origin

    @property
    def clock(self) -> str:
        return Span(self.start_min, self.end_min).clock


@dataclass(frozen=True, slots=True)
class GroupPlan:
    """A group from arrival to the end of its last activity.

    ``waits`` are the times with nothing to do: no activity, no walk, no break.
    """

    number: int
    size: int
    slots: tuple[PlannedSlot, ...]
    waits: tuple[Span, ...]

    @property
    def wait_min(self) -> int:
        return sum(wait.minutes for wait in self.waits)


@dataclass(frozen=True, slots=True)
class Switching:
    """When a machine that warms plastic is switched on and off.

    ``on_min`` is counted back from its first use by heating up and soaking; ``ready_min`` is the
    first use itself. It is off when its last use ends, and cold at ``cool_min``.
    """

    machine: str
    on_min: int
    hot_min: int
    """When the set point is reached and soaking begins."""
    ready_min: int
    last_use_min: int
    off_min: int
    cool_min: int

    @property
    def first_use_min(self) -> int:
        return self.ready_min

    @property
    def hot(self) -> Span:
        """From switching on until it is cold again."""
        return Span(self.on_min, self.cool_min)


@dataclass(frozen=True, slots=True)
class HotStand:
    """A time in which plastic stands in a hot machine between two uses.

    ``polymer`` is None where nobody wrote what is in it, ``longest_min`` where nobody knows how
    long that may stand hot. ``purge_by_min`` is when it must be purged, None where it need not be.
    """

    machine: str
    polymer: str | None
    span: Span
    longest_min: int | None

    @property
    def purge_by_min(self) -> int | None:
        if self.longest_min is None or self.span.minutes <= self.longest_min:
            return None
        return self.span.start_min + self.longest_min


@dataclass(frozen=True, slots=True)
class HotHold:
    """How long a polymer may stand hot in a machine, for the board's warning."""

    machine: str
    polymer: str | None
    longest_min: int | None


@dataclass(frozen=True, slots=True)
class Flake:
    """Flake to have ready, of one polymer and colour, runner and purgings included [kg]."""

    polymer: str
    colour: str | None
    kg: float


@dataclass(frozen=True, slots=True)
class Counted:
    """So many of a record: ``id`` is a container, a mould or a role."""

    id: str
    count: int


@dataclass(frozen=True, slots=True)
class Used:
    """An amount of a consumable, in its own unit."""

    consumable: str
    amount: float


@dataclass(frozen=True, slots=True)
class Ppe:
    """Protection by sign code and size; ``age_from`` and ``age_to`` say whom the size fits."""

    code: str
    size: Literal["child", "adult"]
    count: int


@dataclass(frozen=True, slots=True)
class PrintOut:
    """A sheet to print: ``kind`` says which, ``subject`` for which record."""

    kind: Literal["run-sheet", "group-card", "rotation", "visit-pack", "learner-page"]
    subject: str
    count: int


@dataclass(frozen=True, slots=True)
class Needs:
    """What to have ready."""

    flake: tuple[Flake, ...] = ()
    containers: tuple[Counted, ...] = ()
    moulds: tuple[Counted, ...] = ()
    ppe: tuple[Ppe, ...] = ()
    consumables: tuple[Used, ...] = ()
    print_outs: tuple[PrintOut, ...] = ()
    staff: tuple[Counted, ...] = ()


@dataclass(frozen=True, slots=True)
class MadeParts:
    """Pieces of a product made in the session."""

    product: str
    blend: str
    count: int
    shots: int


@dataclass(frozen=True, slots=True)
class Check:
    """Something to be looked at and ticked before the doors open, or before a machine heats up.

    ``by_min`` is the latest time, ``machine`` "" where it is about the room.
    """

    id: str
    before: Literal["doors", "heat"]
    says: str
    by_min: int
    machine: str = ""


@dataclass(frozen=True, slots=True)
class Move:
    """A line of the timetable moved to another time."""

    group: int
    activity_id: str
    from_min: int
    to_min: int


@dataclass(frozen=True, slots=True)
class Mend:
    """The nearest change after which a clash is gone and no other has come.

    ``moves`` are the lines that move; empty where the change is not one of times.
    """

    says: str
    moves: tuple[Move, ...] = ()


@dataclass(frozen=True, slots=True)
class Clash:
    """Two things of a session that cannot both be.

    ``demand`` is the stable id of what is broken (``walk``, ``station``, ``supervisors`` ...).
    ``minute`` is when it first shows, None where it does at no one time. ``groups`` and
    ``activities`` are those it is about.
    """

    demand: str
    minute: int | None
    says: str
    severity: Severity
    origin: Origin
    groups: tuple[int, ...] = ()
    activities: tuple[str, ...] = ()
    mend: Mend | None = None

    @property
    def clock(self) -> str:
        return "" if self.minute is None else clock(self.minute)


@dataclass(frozen=True, slots=True)
class Goal:
    """What a proposal reached of one objective, and the best that could be."""

    name: Literal["optional", "finish", "waiting", "spread"]
    reached: int
    bound: int

    @property
    def gap(self) -> int:
        return abs(self.reached - self.bound)


@dataclass(frozen=True, slots=True)
class Proof:
    """What a proposal said of itself, read back from the session.

    ``belongs`` is whether its hash is that of the data and timetable as they stand. ``text`` is
    as written; where it is not one of ours the ``status`` is ``words``.
    """

    status: Literal["best", "found", "words"]
    text: str
    goals: tuple[Goal, ...] = ()
    slot_min: int = 0
    seed: int = 0
    hash: str = ""
    belongs: bool = False


@dataclass(frozen=True, slots=True)
class SessionStudy:
    """Everything worked out of one session.

    ``slots`` are by time, then group. ``breaks`` is at most one, for everybody at once. ``hash``
    is of what the timetable depends on, the timetable with it. ``follows`` tells for each slot
    which earlier ones must be over before it begins, by their place in ``slots``, with the
    minutes between: what moves along when one of them is late.
    """

    session: Session
    arrival: Span
    tidy: Span
    slots: tuple[PlannedSlot, ...]
    groups: tuple[GroupPlan, ...]
    breaks: tuple[Span, ...]
    switching: tuple[Switching, ...]
    hot_stands: tuple[HotStand, ...]
    holds: tuple[HotHold, ...]
    needs: Needs
    made: tuple[MadeParts, ...]
    energy_kwh: float | None
    checks: tuple[Check, ...]
    clashes: tuple[Clash, ...]
    proof: Proof | None
    hash: str
    follows: tuple[tuple[tuple[int, int], ...], ...] = ()

    @property
    def finish_min(self) -> int | None:
        """When the last activity ends, None without a timetable."""
        return max((slot.end_min for slot in self.slots), default=None)

    def at(self, minute: int) -> tuple[PlannedSlot, ...]:
        """What runs at a minute."""
        return tuple(s for s in self.slots if s.start_min <= minute < s.end_min)


@dataclass(frozen=True, slots=True)
class SessionsStudy:
    """Every session by its id, with the findings of all."""

    sessions: Mapping[str, SessionStudy]
    survey: Survey
