"""Clashes of a timetable in the shop's words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.shop.records.people import Session
from generator.shop.shop import Shop
from generator.workings.sessions.demands import Demands, Line
from generator.workings.sessions.results import Clash, clock
from generator.workings.sessions.rules import Broken
from generator.workings.shown import at_station


def listed(names: list[str]) -> str:
    """Names as a sentence lists them."""
    if len(names) < 2:
        return "".join(names)
    return _("{first} and {last}").format(first=", ".join(names[:-1]), last=names[-1])


@dataclass(frozen=True)
class Teller:
    """Says what is broken.

    Parameters
    ----------
    shop, session
        Whose words it uses.
    demands
        What the timetable is held to.
    """

    shop: Shop
    session: Session
    demands: Demands

    def clash(self, found: Broken) -> Clash:
        """A clash in words, with the line of the file it stands on; its mend is still to come."""
        return Clash(
            found.demand,
            found.minute,
            self.says(found),
            Severity.STOP if found.demand == "attended" else Severity.FIX,
            self.origin(found),
            tuple(dict.fromkeys(line.group for line in found.lines)) or self._groups(found),
            tuple(dict.fromkeys(line.task for line in found.lines)) or self._tasks(found),
        )

    def _groups(self, found: Broken) -> tuple[int, ...]:
        return (int(found.about[1]),) if found.demand == "must" else ()

    def _tasks(self, found: Broken) -> tuple[str, ...]:
        return (str(found.about[0]),) if found.demand == "must" else ()

    def origin(self, found: Broken) -> Origin:
        """The line of the timetable that comes last, else the timetable, else the session."""
        if found.lines:
            last = max(found.lines, key=lambda line: line.start)
            for slot in self.session.timetable:
                if (slot.group, slot.activity) == (last.group, last.task):
                    return slot.origin
        return self.session.origin_of("timetable")

    # --- names

    def task(self, id_: str) -> str:
        return f"“{self.session.activities[id_].name}”"

    def line(self, line: Line) -> str:
        """``group 2 at “Mix a blend”``"""
        return _("group {n} at {activity}").format(n=line.group, activity=self.task(line.task))

    def timed(self, line: Line) -> str:
        """``group 2 at “Mix a blend” (10:05–10:20)``"""
        return f"{self.line(line)} ({clock(line.start)}–{clock(self.demands.end(line))})"

    def machine(self, id_: str) -> str:
        return str(self.shop.machines[id_].name)

    def role(self, id_: str) -> str:
        return str(self.shop.roles[id_].name)

    def station(self, id_: str) -> str:
        return at_station(self.shop, id_)

    def tool(self, id_: str) -> str:
        return f"“{self.shop.tools[id_].name}”"

    def mould(self, id_: str) -> str:
        return f"“{self.shop.moulds[id_].name}”"

    # --- sentences

    def says(self, found: Broken) -> str:
        """One sentence, beginning with the minute where there is one."""
        sentence = _SENTENCES[found.demand](self, found)
        if found.minute is None:
            return sentence
        return _("{clock}: {what}").format(clock=clock(found.minute), what=sentence)

    def both(self, found: Broken) -> str:
        return listed([self.timed(line) for line in found.lines])


def _must(t: Teller, b: Broken) -> str:
    says = _("Group {n} never gets to {activity}, which everybody does.")
    return says.format(n=b.about[1], activity=t.task(str(b.about[0])))


def _twice(t: Teller, b: Broken) -> str:
    says = _("group {n} does {activity} a second time.")
    return says.format(n=b.lines[1].group, activity=t.task(b.lines[1].task))


def _arrival(t: Teller, b: Broken) -> str:
    says = _("{line} begins before arrival is over at {opens}.")
    return says.format(line=t.line(b.lines[0]), opens=clock(t.demands.opens))


def _tidy(t: Teller, b: Broken) -> str:
    says = _("{line} goes on until {end}, when tidying has begun.")
    return says.format(line=t.line(b.lines[0]), end=clock(t.demands.end(b.lines[0])))


def _group(t: Teller, b: Broken) -> str:
    says = _("group {n} is at {one} until {end} and at {other} from {start}.")
    one, other = b.lines
    return says.format(
        n=one.group, one=t.task(one.task), end=clock(t.demands.end(one)),
        other=t.task(other.task), start=clock(other.start),
    )  # fmt: skip


def _walk(t: Teller, b: Broken) -> str:
    one, other = b.lines
    says = _("group {n} leaves {one} at {end} and needs {walk} for the walk to {other}.")
    return says.format(
        n=one.group, one=t.task(one.task), end=clock(t.demands.end(one)),
        walk=minutes(int(b.about[0])), other=t.task(other.task),
    )  # fmt: skip


def minutes(count: int) -> str:
    """A number of minutes as a sentence has it."""
    return show(count, "min", 0)


def _order(t: Teller, b: Broken) -> str:
    if len(b.lines) == 1:
        says = _("group {n} is at {activity} without having been at {before}.")
        before = t.task(str(b.about[0]))
        return says.format(n=b.lines[0].group, activity=t.task(b.lines[0].task), before=before)
    one, other = b.lines
    gap, end = int(b.about[0]), t.demands.end(one)
    says = _("group {n} begins {other}, which comes after {one}; it ends at {end}.")
    if gap and other.start >= end:
        says = _("group {n} begins {other} too soon: {gap} must pass after {one} ends at {end}.")
    return says.format(
        n=one.group, one=t.task(one.task), other=t.task(other.task), gap=minutes(gap),
        end=clock(end),
    )  # fmt: skip


def _capacity(t: Teller, b: Broken) -> str:
    task = t.demands.tasks[b.lines[0].task]
    says = ngettext(
        "{who} are at {activity}, which takes {n} group at once.",
        "{who} are at {activity}, which takes {n} groups at once.",
        task.groups,
    )
    who = listed([_("group {n}").format(n=line.group) for line in b.lines])
    return says.format(who=who, activity=t.task(task.id), n=task.groups)


def _station(t: Teller, b: Broken) -> str:
    says = _("{both} are both at {station}.")
    return says.format(both=t.both(b), station=t.station(str(b.about[0])))


def _machine(t: Teller, b: Broken) -> str:
    return _("{both} both need {machine}.").format(
        both=t.both(b), machine=t.machine(str(b.about[0]))
    )


def _setup(t: Teller, b: Broken) -> str:
    says = _("{machine} needs {setup} between {one} and {other}, for mould or material.")
    one, other = b.lines
    return says.format(
        machine=t.machine(str(b.about[0])), setup=minutes(int(b.about[1])), one=t.timed(one),
        other=t.timed(other),
    )  # fmt: skip


def _mould(t: Teller, b: Broken) -> str:
    says = _("{both} both need the mould {mould}.")
    one = t.demands.tasks[b.lines[0].task]
    if one.cools and t.demands.end(b.lines[0]) <= b.lines[1].start:
        says = _("the mould {mould} still cools from {one}, {cools} long, and {other} needs it.")
    return says.format(
        both=t.both(b), mould=t.mould(str(b.about[0])),
        one=t.timed(b.lines[0]), other=t.line(b.lines[1]), cools=minutes(one.cools),
    )  # fmt: skip


def _tools(t: Teller, b: Broken) -> str:
    count = int(b.about[1])
    says = ngettext(
        "{who} each need {tool}; there is {n}.", "{who} each need {tool}; there are {n}.", count
    )
    tool = t.tool(str(b.about[0]))
    return says.format(who=listed([t.timed(x) for x in b.lines]), tool=tool, n=count)


def _supervisors(t: Teller, b: Broken) -> str:
    roles = [str(role) for role in b.about]
    tasks = [t.demands.tasks[id_] for id_ in dict.fromkeys(line.task for line in b.lines)]
    asked, have = sum(x.supervisors for x in tasks), sum(t.demands.staff.get(r, 0) for r in roles)
    if not roles:
        alone = [t.task(task.id) for task in tasks]
        return _("nobody on the staff may take charge of {what}.").format(what=listed(alone))
    says = ngettext(
        "{what} need {asked} to take charge, and of {roles} there is {n}.",
        "{what} need {asked} to take charge, and of {roles} there are {n}.",
        have,
    )
    return says.format(
        what=listed([t.task(task.id) for task in tasks]), asked=asked,
        roles=listed(list(map(t.role, roles))), n=have,
    )  # fmt: skip


def _attended(t: Teller, b: Broken) -> str:
    says = _("{machine} begins to heat, and nobody on the staff is authorised on it.")
    return says.format(machine=t.machine(str(b.about[0])))


def _power(t: Teller, b: Broken) -> str:
    name, load, most, *drawing = b.about
    says = _("{machines} together may draw {load} through {limit}, which carries {most}.")
    return says.format(
        machines=listed([t.machine(str(m)) for m in drawing]),
        load=show(int(load) / 1000, "a", 1), limit=name, most=show(int(most) / 1000, "a", 1),
    )  # fmt: skip


def _hold(t: Teller, b: Broken) -> str:
    one, other = b.lines
    polymer = t.demands.tasks[one.task].polymer
    says = _("{polymer} has stood hot in {machine} for {longest} since {one}; next is {other}.")
    return says.format(
        polymer=t.shop.polymers[polymer].name if polymer else "",
        machine=t.machine(str(b.about[0])), longest=minutes(int(b.about[1])),
        one=t.timed(one), other=t.timed(other),
    )  # fmt: skip


def _break(_teller: Teller, b: Broken) -> str:
    says = _("nowhere between the activities is everybody free for the break of {length}.")
    return says.format(length=minutes(int(b.about[0])))


_SENTENCES: dict[str, Callable[[Teller, Broken], str]] = {
    "must": _must, "twice": _twice, "arrival": _arrival, "tidy": _tidy, "group": _group,
    "walk": _walk, "order": _order, "capacity": _capacity, "station": _station,
    "machine": _machine, "setup": _setup, "mould": _mould, "tools": _tools,
    "supervisors": _supervisors, "attended": _attended, "power": _power, "hold": _hold,
    "break": _break,
}  # fmt: skip
