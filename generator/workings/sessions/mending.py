"""The nearest change that mends a clash: each is tried, and counts only if the clash is then
gone and no new one has come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from generator.ground.wording import _, ngettext
from generator.workings.sessions.demands import Demands, Line
from generator.workings.sessions.results import Mend, Move, clock
from generator.workings.sessions.rules import Broken, Key, broken
from generator.workings.sessions.telling import Teller, listed, minutes

_STEPS_MIN = (1, 2, 3, 4, *range(5, 181, 5))
"""How far a line is moved, the nearest first."""
_MOST_TRIES = 120


def mend(teller: Teller, lines: Sequence[Line], found: Broken, before: Iterable[Broken]) -> Mend:
    """The nearest change that mends one clash, or the words for asking for another plan."""
    known = {each.key for each in before}
    for n, moved in enumerate(_moves(teller.demands, lines, found)):
        if n >= _MOST_TRIES:
            break
        if _is_gone(teller.demands, _moved(lines, moved), found, known):
            return Mend(_in_words(teller, moved), moved)
    for changed, says in _loosened(teller, found):
        if _is_gone(changed, lines, found, known):
            return Mend(says)
    return Mend(_("No move of one line mends it; have a new timetable proposed."))


def _is_gone(demands: Demands, lines: Iterable[Line], found: Broken, known: set[Key]) -> bool:
    after = {each.key for each in broken(demands, lines)}
    return found.key not in after and after <= known


def _moved(lines: Iterable[Line], moves: tuple[Move, ...]) -> tuple[Line, ...]:
    to = {(m.group, m.activity_id, m.from_min): m.to_min for m in moves}
    moved = [replace(x, start=to.pop((x.group, x.task, x.start), x.start)) for x in lines]
    return (*moved, *(Line(group, task, start) for (group, task, _old), start in to.items()))


# --- moves of the timetable ------------------------------------------------------------------


def _moves(demands: Demands, lines: Sequence[Line], found: Broken) -> Iterator[tuple[Move, ...]]:
    """Moves to try: one line, then two that change places, then everything later."""
    if found.demand == "must":
        yield from _additions(demands, found)
        return
    yield from _single(found)
    yield from _swaps(lines, found)
    yield from _later(lines, found)


def _additions(demands: Demands, found: Broken) -> Iterator[tuple[Move, ...]]:
    task, group = str(found.about[0]), int(found.about[1])
    for start in range(demands.opens, demands.closes, 5):
        yield (Move(group, task, start, start),)


def _single(found: Broken) -> Iterator[tuple[Move, ...]]:
    for step in _STEPS_MIN[:20]:
        for line in reversed(found.lines):
            yield (_by(line, step),)
            yield (_by(line, -step),)


def _by(line: Line, step: int) -> Move:
    return Move(line.group, line.task, line.start, line.start + step)


def _swaps(lines: Sequence[Line], found: Broken) -> Iterator[tuple[Move, ...]]:
    """A line changes places with another of its group, or with another group's at its task."""
    for line in found.lines:
        for other in lines:
            if other != line and (other.group == line.group) != (other.task == line.task):
                yield (
                    Move(line.group, line.task, line.start, other.start),
                    Move(other.group, other.task, other.start, line.start),
                )


def _later(lines: Sequence[Line], found: Broken) -> Iterator[tuple[Move, ...]]:
    """Everything from a minute on moves later."""
    since = found.lines[-1].start if found.lines else found.minute
    for step in _STEPS_MIN[:13]:
        if since is not None:
            yield tuple(_by(line, step) for line in lines if line.start >= since)


def _in_words(teller: Teller, moves: tuple[Move, ...]) -> str:
    first = moves[0]
    if first.from_min == first.to_min:
        says = _("Put group {n} at {activity} at {clock}.")
        activity = teller.task(first.activity_id)
        return says.format(n=first.group, activity=activity, clock=clock(first.to_min))
    if len(moves) > 2:
        says = _("Move everything from {clock} on by {step}.")
        since = min(move.from_min for move in moves)
        return says.format(clock=clock(since), step=minutes(first.to_min - first.from_min))
    says = _("Move {moves}.")
    return says.format(moves=listed([_one(teller, move) for move in moves]))


def _one(teller: Teller, move: Move) -> str:
    line = Line(move.group, move.activity_id, move.from_min)
    return _("{line} from {start} to {end}").format(
        line=teller.line(line), start=clock(move.from_min), end=clock(move.to_min)
    )


# --- changes of what the timetable is held to ------------------------------------------------


def _loosened(teller: Teller, found: Broken) -> Iterator[tuple[Demands, str]]:
    """Demands one step looser, each with the words for it, the smallest step first."""
    demands = teller.demands
    if found.demand in ("supervisors", "attended"):
        yield from _more_staff(teller)
    if found.demand == "tidy":
        more = demands.end(found.lines[0]) - demands.closes
        says = _("End the session {more} later.").format(more=minutes(more))
        yield demands.with_(closes=demands.closes + more), says
    if found.demand == "tools":
        tool, count = str(found.about[0]), int(found.about[1])
        more = len(found.lines) - count
        says = ngettext("Get {n} more of {tool}.", "Get {n} more of {tool}.", more)
        name = teller.tool(tool)
        changed = demands.with_(tools={**demands.tools, tool: count + more})
        yield changed, says.format(n=more, tool=name)


def _more_staff(teller: Teller) -> Iterator[tuple[Demands, str]]:
    """One more of a role that is on the staff already."""
    demands = teller.demands
    for role in demands.staff:
        changed = demands.with_(staff={**demands.staff, role: demands.staff[role] + 1})
        yield changed, _("Put on one more: {role}.").format(role=teller.role(role))
