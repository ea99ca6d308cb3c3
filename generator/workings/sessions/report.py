"""A proposal, or why there is none, as a terminal shows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.ground.wording import _, ngettext
from generator.workings.sessions.demands import Line
from generator.workings.sessions.results import Clash, Goal, clock
from generator.workings.sessions.telling import Teller, minutes


def timetable(teller: Teller, lines: Iterable[Line]) -> Iterator[str]:
    """One line a group and activity, by group."""
    for group, size in enumerate(teller.demands.sizes, start=1):
        yield ngettext("Group {n}, {size} learner", "Group {n}, {size} learners", size).format(
            n=group, size=size
        )
        for line in sorted(lines, key=lambda x: x.start):
            if line.group == group:
                name = teller.session.activities[line.task].name
                yield f"  {clock(line.start)}–{clock(teller.demands.end(line))}  {name}"


def rows(lines: Iterable[Line]) -> list[tuple[int, str, str]]:
    """The lines as they stand in the file: by group, then time."""
    ordered = sorted(lines, key=lambda x: (x.group, x.start))
    return [(line.group, line.task, clock(line.start)) for line in ordered]


def status(goals: Iterable[Goal], slot_min: int) -> Iterator[str]:
    """Whether it is proven best, and what of each goal was reached."""
    reached = tuple(goals)
    if any(goal.gap for goal in reached):
        yield _("Best found so far, with starts every {slot}:").format(slot=minutes(slot_min))
    else:
        yield _("Proven best, with starts every {slot}:").format(slot=minutes(slot_min))
    for goal in reached:
        proven = _("proven") if not goal.gap else _at_best(goal)
        yield f"  {_goal(goal)} ({proven})"


def _at_best(goal: Goal) -> str:
    bound = clock(goal.bound) if goal.name == "finish" else str(goal.bound)
    return _("not proven: no better than {bound} is possible").format(bound=bound)


def _goal(goal: Goal) -> str:
    says = {
        "optional": _("{n} extra activities are done"),
        "finish": _("everybody is done at {clock}"),
        "waiting": _("{n} min between activities in all, walks included"),
        "spread": _("{n} min between the first group done and the last"),
    }[goal.name]
    return says.format(n=goal.reached, clock=clock(goal.reached))


def fixed(clashes: Iterable[Clash]) -> Iterator[str]:
    """What no timetable mends, each with what would."""
    for clash in clashes:
        yield f"  {clash.says}"
        if clash.mend:
            yield f"    {clash.mend.says}"
