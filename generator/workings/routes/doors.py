"""Whether the exits let out everybody who may be in: width, lock, opening direction and swing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.reference import reference
from generator.shop.records.room import Door
from generator.shop.shop import Shop
from generator.workings.figures import Figure, figure
from generator.workings.floor.lengths import mm
from generator.workings.floor.people import most_people
from generator.workings.part import Part
from generator.workings.shown import given, own

_TABLED_MM = (750, 850, 1050)
"""Clear widths for which the UK table gives a number of people."""


@dataclass(frozen=True, slots=True)
class ExitDoor:
    """One exit and how many people it counts for, None where no figure says."""

    door: Door
    people: int | None


@dataclass(frozen=True, slots=True)
class Exits:
    """The exits together.

    ``people`` is how many they count for with the widest left out where the rule leaves it out,
    None where no figure says; ``most`` how many may be in; ``lent_by`` the place whose rule was
    used where the shop's own has none.
    """

    doors: tuple[ExitDoor, ...]
    people: int | None
    most: int
    lent_by: str
    part: Part


def people_through_uk(clear_mm: float, table: Mapping[int, float], each_mm: float) -> int | None:
    """People through one exit door by the UK table; None below its first row.

    A width between two rows counts as the smaller. Above the last row a door counts for its
    whole width over ``each_mm`` where that is more: 1200 mm is 240 people at 5 mm each.
    """
    rows = [width for width in sorted(table) if clear_mm >= width]
    if not rows:
        return None
    by_width = math.floor(clear_mm / each_mm + 1e-9) if rows[-1] == max(table) else 0
    return max(int(table[rows[-1]]), by_width)


def people_through_us(clear_mm: float, each_mm: float, least_mm: float) -> int | None:
    """People through one level exit by width for each; None for a door under the least width."""
    return math.floor(clear_mm / each_mm + 1e-9) if clear_mm >= least_mm else None


def study(shop: Shop) -> Exits:
    """Hold the exits against the largest number of people that may be in."""
    most = most_people(shop)
    doors, lent_by = _counted(shop)
    total = _together(shop, [d.people for d in doors], lent_by)
    workings = tuple(_workings(shop, doors, total, most, lent_by))
    exits = [d.door for d in doors]
    findings = (
        *_too_few(shop, total, most, lent_by),
        *(f for door in exits for f in (*_lock(door), *_direction(door, most))),
    )
    unsaid = sum(door.locked_when_open is None and door.lock not in _FREE for door in exits)
    return Exits(doors, total, most, lent_by, Part(workings, findings, 2 * len(exits), unsaid))


# --- how many ----------------------------------------------------------------------------------


def _counted(shop: Shop) -> tuple[tuple[ExitDoor, ...], str]:
    """Each exit by the shop's own rule, else by the UK table."""
    exits = [door for door in shop.room.doors.values() if door.exit]
    if shop.shop.jurisdiction == "US":
        each = figure(shop, "exit-width-per-person").value
        least = figure(shop, "exit-door-clear-width").value
        counts = [people_through_us(d.clear_width_mm, each, least) for d in exits]
        return tuple(map(ExitDoor, exits, counts)), ""
    table = {width: figure(shop, f"exit-door-people-{width}").value for width in _TABLED_MM}
    each = reference().limit("exit-width-per-person", "UK").low
    counts = [people_through_uk(d.clear_width_mm, table, each) for d in exits]
    return tuple(map(ExitDoor, exits, counts)), figure(shop, "exit-door-people-750").lent_by


def _together(shop: Shop, counts: Sequence[int | None], lent_by: str) -> int | None:
    """All exits together. Where the rule leaves out the widest, it is left out of two or more."""
    known = sorted(count for count in counts if count is not None)
    if not known:
        return None if counts else 0
    by_uk = shop.shop.jurisdiction == "UK" or bool(lent_by)
    left_out = int(figure(shop, "exits-discounted").value) if by_uk and len(counts) > 1 else 0
    return sum(known[: len(known) - left_out])


def _source(shop: Shop) -> Figure:
    key = "exit-width-per-person" if shop.shop.jurisdiction == "US" else "exit-door-people-750"
    return figure(shop, key)


def _workings(
    shop: Shop, doors: Sequence[ExitDoor], total: int | None, most: int, lent_by: str
) -> Iterator[Working]:
    source = _source(shop)
    for exit_ in doors:
        people = Quantity(exit_.people or 0, _("people"))
        yield Working(
            f"routes.exit.{exit_.door.id}",
            f"room/doors/{exit_.door.id}",
            _("People “{door}” counts for").format(door=exit_.door.name),
            _("clear width, by the table of exit doors or by the width for each person"),
            (own(_("Clear width"), exit_.door, "clear_width_mm"), source.as_input),
            people,
            Verdict.INFORMS if exit_.people is not None else Verdict.UNANSWERED,
            caution=source.caution,
        )
    counts = tuple(
        given(str(d.door.name), d.people or 0, _("people"), d.door.origin_of("clear_width_mm"))
        for d in doors
    )
    holds = total is not None and total >= most
    yield Working(
        "routes.exits",
        "room",
        _("People all exits count for"),
        _("the exits added up, without the widest where the rule leaves it out"),
        counts,
        Quantity(total or 0, _("people")),
        Verdict.UNANSWERED if lent_by or total is None else source.verdict(holds),
        Quantity(most, _("people")),
        shop.shop.origin_of("most_people"),
        Quantity((total or 0) - most, _("people")),
        source.caution,
    )


def _too_few(shop: Shop, total: int | None, most: int, lent_by: str) -> Iterator[Finding]:
    origin = shop.room.origin_of("doors")
    if total == 0:
        yield Finding(
            "routes.no-exit",
            Severity.STOP,
            origin,
            _("No door of the room is written down as an exit."),
            _("Write `exit: true` at the doors that are ways out."),
            subject="room",
        )
    elif lent_by or total is None:
        says = _("The exits let out {total} people by the rule at hand; up to {most} are in.")
        known = total if total is not None else _("an unknown number of")
        source = _source(shop)
        yield _ask_exits(source, origin, says.format(total=known, most=most))
    elif total < most:
        yield Finding(
            "routes.exits",
            Severity.STOP,
            origin,
            _("The exits count for {total} people; up to {most} are in at once.").format(
                total=total, most=most
            ),
            _("Let no more than {total} in at once, or have a wider way out made.").format(
                total=total
            ),
            subject="room",
            working="routes.exits",
        )


def _ask_exits(source: Figure, origin: Origin, says: str) -> Finding:
    if source.lent_by:
        return source.question("routes.exits", origin, says, "fire", "room")
    return Finding(
        "routes.exits",
        Severity.ASK,
        origin,
        says,
        _("Ask how many people a door so narrow counts for."),
        subject="room",
        working="routes.exits",
        asks="fire",
    )


# --- locks and leaves ----------------------------------------------------------------------------

_FREE = ("none", "push-bar")
"""Locks that hold nobody in, whether locked or not."""


def _lock(door: Door) -> Iterator[Finding]:
    """What keeps a door shut from inside; what nobody has said counts as locked."""
    if door.lock in _FREE:
        return
    if door.lock == "thumb-turn":
        yield from _thumb_turn(door)
        return
    lock = {"key": _("a key"), "bolt": _("a bolt")}[door.lock]
    if door.locked_when_open:
        severity, says = Severity.STOP, _("“{door}” is locked with {lock} while people are in.")
    elif door.locked_when_open is None:
        severity = Severity.STOP
        says = _("“{door}” is held by {lock}, and nobody has said that it is open in sessions.")
    else:
        severity = Severity.FIX
        says = _("“{door}” is held by {lock}: one day somebody forgets to open it.")
    mend = _("Fit a push bar, or another lock that opens from inside without a key.")
    word = _Word("routes.exit-lock", severity, says.format(door=door.name, lock=lock), mend)
    yield word.of(door, "lock")


def _thumb_turn(door: Door) -> Iterator[Finding]:
    if door.locked_when_open is None:
        says = _("Nobody has written down whether “{door}” is locked while people are in.")
        mend = _("Look, and write `locked_when_open: false` or `true` at the door.")
        word = _Word("routes.exit-lock", Severity.FIX, says.format(door=door.name), mend)
        yield word.of(door, "lock")
    elif door.locked_when_open:
        says = _("“{door}” is locked with a thumb-turn while people are in.")
        mend = _("Ask whether a lock that must be turned is right on this way out.")
        word = _Word("routes.exit-lock", Severity.ASK, says.format(door=door.name), mend, "fire")
        yield word.of(door, "locked_when_open")


def _direction(door: Door, most: int) -> Iterator[Finding]:
    if door.opens == "out":
        return
    way = {"in": _("opens inwards, against the way out"), "sliding": _("slides")}[door.opens]
    says = _("“{door}” {way}; its clear width is {width} and up to {most} people are in.").format(
        door=door.name, way=way, width=mm(door.clear_width_mm), most=most
    )
    mend = _("Ask whether it may, for so many people.")
    yield _Word("routes.exit-opens", Severity.ASK, says, mend, "fire").of(door, "opens")


@dataclass(frozen=True, slots=True)
class _Word:
    """What is said of a door: the rule, how bad, a sentence, what mends it, and who is asked."""

    rule: str
    severity: Severity
    says: str
    mend: str
    asks: str = ""

    def of(self, door: Door, field: str) -> Finding:
        return Finding(
            self.rule,
            self.severity,
            door.origin_of(field),
            self.says,
            self.mend,
            subject=f"room/doors/{door.id}",
            asks=self.asks,
        )
