"""Why no timetable fits: a smallest set of demands that clash, and the cheapest ways out.

The set is found by halving (what can be let go of while the rest still clashes goes), so that of
those left none is there for nothing: without any one of them the others fit together. Whether the
whole session then fits as well is tried for each, and so is every change that is offered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.ground.wording import _, ngettext
from generator.workings.sessions.bounds import too_much
from generator.workings.sessions.demands import Demands, group_sizes
from generator.workings.sessions.feasible import any_timetable
from generator.workings.sessions.loosening import Held, changed, held_to, without
from generator.workings.sessions.results import clock
from generator.workings.sessions.telling import Teller, minutes

_LATER_MIN = tuple(range(5, 65, 5))
_EACH = 1.2
"""The most work for one question, in the solver's own count."""
_FIRST = 0.7
"""Of all the work, what finding the clash may take; the rest is for ways out of it."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One of the demands that clash. ``enough`` is whether the session fits without it alone."""

    key: str
    says: str
    enough: bool


@dataclass(frozen=True, slots=True)
class Change:
    """Something that makes the session fit, as tried. ``cost`` is 1 for the cheapest kind."""

    key: str
    says: str
    cost: int


@dataclass(frozen=True, slots=True)
class Why:
    """Why nothing fits. ``sure`` is whether every question behind it had an answer."""

    reasons: tuple[Reason, ...]
    changes: tuple[Change, ...]
    sure: bool
    work: float


class Asking:
    """Asks whether demands can be kept to, and keeps count of the work.

    Parameters
    ----------
    slot_min, seed
        As for a proposal.
    work
        The most work for all questions together.
    """

    def __init__(self, slot_min: int, seed: int, work: float) -> None:
        self.slot, self.seed, self.left = slot_min, seed, work
        self.spent, self.sure = 0.0, True

    def fits(self, demands: Demands) -> bool:
        """Whether a timetable was found. Where there is no answer, none was."""
        return self._answer(demands) in ("best", "found")

    def clashes(self, demands: Demands) -> bool:
        """Whether there is proof that none can be found."""
        return self._answer(demands) == "impossible"

    def _answer(self, demands: Demands) -> str:
        if not demands.tasks:
            return "best"
        if too_much(demands):
            return "impossible"
        if self.left <= 0:
            self.sure = False
            return "unknown"
        answer = any_timetable(demands, self.slot, self.seed, min(self.left, _EACH))
        self.left -= answer.work
        self.spent += answer.work
        self.sure = self.sure and answer.status != "unknown"
        return answer.status


def explain(teller: Teller, slot_min: int = 5, seed: int = 1, work: float = 8.0) -> Why:
    """Say why no timetable fits a session.

    Parameters
    ----------
    teller
        The session's demands, for which none is known to fit, and its words.
    slot_min, seed, work
        As for a proposal.
    """
    asking, demands = Asking(slot_min, seed, work * _FIRST), teller.demands
    every = held_to(teller)
    alone = tuple(held for held in every if asking.fits(held.without(demands)))
    core = smallest(lambda kept: asking.clashes(_only(demands, every, kept)), every, alone)
    asking.left += work * (1 - _FIRST)
    enough = {held.key for held in alone}
    reasons = tuple(Reason(held.key, held.says, held.key in enough) for held in core)
    return Why(reasons, _ways_out(asking, teller, reasons), asking.sure, asking.spent)


def _only(demands: Demands, every: Sequence[Held], kept: Sequence[Held]) -> Demands:
    names = {held.key for held in kept}
    return without(demands, [held for held in every if held.key not in names])


def smallest(
    clashes: Callable[[Sequence[Held]], bool], held: Sequence[Held], needed: tuple[Held, ...] = ()
) -> tuple[Held, ...]:
    """A smallest set that still clashes: none of it can go.

    Parameters
    ----------
    clashes
        Whether keeping just these is proven impossible.
    held
        Demands that clash together.
    needed
        Those of them without which, alone, there is no clash: they are in every such set.

    References
    ----------
    Junker, "QuickXplain: preferred explanations and relaxations for over-constrained problems",
    2004.
    """
    rest = tuple(each for each in held if each not in needed)
    if not rest or clashes(needed):
        return needed
    found = {*needed, *_halve(clashes, needed, False, rest)}
    return tuple(each for each in held if each in found)


def _halve(
    clashes: Callable[[Sequence[Held]], bool],
    kept: tuple[Held, ...],
    grown: bool,
    held: tuple[Held, ...],
) -> tuple[Held, ...]:
    if grown and clashes(kept):
        return ()
    if len(held) == 1:
        return held
    first, second = held[: len(held) // 2], held[len(held) // 2 :]
    from_second = _halve(clashes, (*kept, *first), bool(first), second)
    from_first = _halve(clashes, (*kept, *from_second), bool(from_second), first)
    return (*from_first, *from_second)


# --- ways out ----------------------------------------------------------------------------------

_Way = tuple[Change, Demands]


def _ways_out(asking: Asking, teller: Teller, reasons: Sequence[Reason]) -> tuple[Change, ...]:
    """The changes after which it fits, the cheapest kind first."""
    enough = {reason.key for reason in reasons if reason.enough}
    tried = {reason.key for reason in reasons}
    found = [
        change
        for change, demands in _ways(teller, reasons)
        if change.key in enough or (change.key not in tried and asking.fits(demands))
    ]
    found += _finer(asking, teller.demands)
    later = _least_later(asking, teller)
    return tuple(sorted((*found, *later), key=lambda change: change.cost))


def _finer(asking: Asking, demands: Demands) -> list[Change]:
    """Whether it fits where activities may start at any minute."""
    if asking.slot == 1:
        return []
    finer = Asking(1, asking.seed, min(asking.left, _EACH))
    fits = finer.fits(demands)
    asking.left -= finer.spent
    asking.spent += finer.spent
    says = _("Let activities start at any minute: give `--slot 1`.")
    return [Change("slot", says, 0)] if fits else []


def _least_later(asking: Asking, teller: Teller) -> list[Change]:
    """How much later it must end at least, by halving; none where no hour later helps."""
    demands, closes = teller.demands, teller.demands.closes
    low, high = -1, len(_LATER_MIN) - 1
    if not asking.fits(demands.with_(closes=closes + _LATER_MIN[high])):
        return []
    while high - low > 1:
        middle = (low + high) // 2
        fits = asking.fits(demands.with_(closes=closes + _LATER_MIN[middle]))
        low, high = (low, middle) if fits else (middle, high)
    later = _LATER_MIN[high]
    says = _("Begin tidying {later} later, at {clock}.")
    says = says.format(later=minutes(later), clock=clock(closes + later))
    return [Change(f"tidy={later}", says, 2)]


def _ways(teller: Teller, reasons: Sequence[Reason]) -> Iterator[_Way]:
    """Changes to try, of what the reasons are about."""
    named = {reason.key.partition(":")[0]: reason for reason in reasons}
    demands = teller.demands
    for role, count in _who(demands, reasons):
        more = demands.with_(staff={**demands.staff, role: count + 1})
        says = _("Put on one more {role}.").format(role=teller.role(role))
        yield Change(f"more:{role}", says, 1), more
    if len(demands.sizes) > 1:
        yield _fewer_groups(teller)
    if "break" in named:
        yield Change("break", _("Leave out the break."), 3), demands.with_(break_min=0)
    for reason in reasons:
        yield from _of_reason(teller, reason)


def _who(demands: Demands, reasons: Sequence[Reason]) -> Iterator[tuple[str, int]]:
    """The roles of whom one more may help: those named, and who may do their work."""
    names = {reason.key.partition(":")[2] for reason in reasons}
    for role, count in demands.staff.items():
        crews = [t.crew for t in demands.tasks.values() if role in t.crew]
        if role in names or any(crew & names for crew in crews):
            yield role, count


def _fewer_groups(teller: Teller) -> _Way:
    sizes = teller.demands.sizes
    count = len(sizes) - 1
    merged = group_sizes(sum(sizes), count)
    says = ngettext(
        "Make {n} group, with {most} learners in the largest.",
        "Make {n} groups, with {most} learners in the largest.",
        count,
    ).format(n=count, most=merged[0])
    return Change("groups", says, 2), teller.demands.with_(sizes=merged)


def _of_reason(teller: Teller, reason: Reason) -> Iterator[_Way]:
    kind, _colon, rest = reason.key.partition(":")
    demands = teller.demands
    if kind == "capacity":
        says = _("Have room for one group more at {activity}.").format(activity=teller.task(rest))
        wider = changed(demands, rest, lambda x: replace(x, groups=x.groups + 1))
        yield Change(f"room:{rest}", says, 3), wider
    if kind == "must":
        says = _("Leave out {activity}.").format(activity=teller.task(rest))
        held = next(h for h in held_to(teller) if h.key == reason.key)
        yield Change(reason.key, says, 4), held.without(demands)
    if kind == "tools":
        says = _("Get one more of {tool}.").format(tool=teller.tool(rest))
        more = demands.with_(tools={**demands.tools, rest: demands.tools[rest] + 1})
        yield Change(f"more:{rest}", says, 1), more


def in_words(why: Why) -> Iterator[str]:
    """Why nothing fits and what would mend it, a line each."""
    yield _("No timetable fits. These cannot all hold:")
    for reason in why.reasons:
        alone = _("without this one, all the rest fits") if reason.enough else ""
        yield f"  - {reason.says}" + (f" ({alone})" if alone else "")
    if not why.sure:
        yield _("Not every question had an answer in the time given: fewer of them may do.")
    if why.changes:
        yield _("It fits, as tried, with any one of these:")
        yield from (f"  - {change.says}" for change in why.changes)
    else:
        yield _("No single small change was found that makes it fit.")
