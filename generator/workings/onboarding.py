"""The way into a role: whose visits come first, what is done in each, and three questions after.

The questions are drawn from the shop's own records and are the same for the same data: which are
asked follows from a hash of the role and the visit, so that a change elsewhere moves none.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.people import Procedure, Role, Visit
from generator.shop.records.room import Equipment
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import distance_mm
from generator.workings.heat import Refusals

_ASKED = 3


@dataclass(frozen=True, slots=True)
class Task:
    """Something to tick off. ``id`` is stable as long as the visits stay in order."""

    id: str
    kind: Literal["read", "shown", "do"]
    what: str
    procedure: Procedure | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """A question with its answer. ``about`` is what kind of fact it asks for."""

    about: str
    ask: str
    answer: str


@dataclass(frozen=True, slots=True)
class Step:
    """A visit: ``number`` counts from the first on the whole way, ``of_role`` within the role."""

    number: int
    of_role: int
    role: Role
    visit: Visit
    tasks: tuple[Task, ...]
    questions: tuple[Question, ...]


def roles_before(shop: Shop, role: Role) -> tuple[Role, ...]:
    """The roles to have held first, each after its own, and the role itself last."""
    order: dict[str, Role] = {}
    _gather(shop, role, order, set())
    return tuple(order.values())


def _gather(shop: Shop, role: Role, order: dict[str, Role], seen: set[str]) -> None:
    if role.id in seen:  # a circle is a data fault; here it only must end
        return
    seen.add(role.id)
    for before in role.after:
        _gather(shop, shop.roles[before], order, seen)
    order[role.id] = role


def path_to(shop: Shop, role: Role) -> tuple[Step, ...]:
    """Every visit on the way into a role, in order.

    Parameters
    ----------
    shop
        The shop.
    role
        Where the way leads.
    """
    asked: set[str] = set()
    facts = _Facts(shop)
    steps: list[Step] = []
    for each in roles_before(shop, role):
        for of_role, visit in enumerate(each.visits, 1):
            questions = tuple(_chosen(facts.about(each, visit), f"{each.id}.{of_role}", asked))
            asked |= {q.ask for q in questions}
            tasks = tuple(_tasks(shop, each, of_role, visit))
            steps.append(Step(len(steps) + 1, of_role, each, visit, tasks, questions))
    return tuple(steps)


def _tasks(shop: Shop, role: Role, of_role: int, visit: Visit) -> Iterator[Task]:
    key = f"{role.id}.{of_role}"
    for id_ in visit.read:
        procedure = shop.procedures[id_]
        yield Task(f"{key}.read.{id_}", "read", str(procedure.name), procedure)
    for n, text in enumerate(visit.shown, 1):
        yield Task(f"{key}.shown.{n}", "shown", str(text))
    for n, text in enumerate(visit.do, 1):
        yield Task(f"{key}.do.{n}", "do", str(text))


# --- questions ---------------------------------------------------------------------------------


def _rank(key: str, question: Question, part: str) -> str:
    return hashlib.sha256(f"{key}\n{part}\n{question.about}".encode()).hexdigest()


def _chosen(pool: Sequence[Question], key: str, asked: set[str]) -> Iterator[Question]:
    """Three questions of different kinds that were not asked before, by a hash of the visit."""
    fresh = [q for q in pool if q.ask not in asked]
    kinds = sorted({q.about: q for q in fresh}.values(), key=lambda q: _rank(key, q, "kind"))
    for kind in kinds[:_ASKED]:
        same = [q for q in fresh if q.about == kind.about]
        yield min(same, key=lambda q: _rank(key, q, q.ask))


class _Facts:
    """What can be asked about a shop."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._refusals = Refusals(shop)

    def about(self, role: Role, visit: Visit) -> list[Question]:
        """Everything that can be asked after a visit: about what was read and who was shown it."""
        shop = self._shop
        procedures = [shop.procedures[id_] for id_ in visit.read]
        machines = self._machines(role, procedures)
        places = dict.fromkeys(
            [p.station for p in procedures if p.station] + [m.station for m in machines]
        )
        asks = (self._isolator, self._alone, self._run_down, self._hot, self._power)
        return [
            *(q for m in machines for ask in asks for q in ask(m)),
            *(q for id_ in places for q in self._at(shop.stations[id_])),
            *(q for p in procedures for q in self._in_procedure(p)),
            *self._refused(),
            *self._anywhere(),
        ]

    def _machines(self, role: Role, procedures: Sequence[Procedure]) -> list[Machine]:
        """Machines of what was read; where that names none, those the role needs."""
        named = [id_ for p in procedures for id_ in p.machines]
        ids = dict.fromkeys(named or [need.machine for need in role.needs])
        return [self._shop.machines[id_] for id_ in ids]

    # machines

    def _isolator(self, machine: Machine) -> Iterator[Question]:
        for thing in self._shop.isolators_of(machine.id)[:1]:
            ask = _("Where is power taken from the {machine}?").format(machine=machine.name)
            yield Question("isolator", ask, self._place(thing))

    def _place(self, thing: Equipment) -> str:
        near = min(self._shop.stations.values(), key=lambda s: distance_mm(s.at, thing.at))
        return _(
            "{name}: {height} above the floor, nearest to station {number}, {station}."
        ).format(
            name=thing.name,
            height=show(thing.height_mm, "mm"),
            number=near.number,
            station=near.name,
        )

    def _alone(self, machine: Machine) -> Iterator[Question]:
        use = machine.use or self._shop.stations[machine.station].use
        ask = _("From which level may somebody use the {machine} alone?")
        answer = _("{level}.").format(level=_(use.alone).capitalize())
        if use.least_age_years:
            answer = _("{level}, and not under {age} years.").format(
                level=_(use.alone).capitalize(), age=f"{use.least_age_years:g}"
            )
        yield Question("alone", ask.format(machine=machine.name), answer)

    def _run_down(self, machine: Machine) -> Iterator[Question]:
        if machine.run_down_s:
            ask = _("How long does the {machine} run on after stop?").format(machine=machine.name)
            answer = _("{time}. Count it before anything is opened.")
            yield Question("run-down", ask, answer.format(time=show(machine.run_down_s, "s")))

    def _hot(self, machine: Machine) -> Iterator[Question]:
        if machine.heat:
            ask = _("How long does the {machine} take from cold until the first shot?")
            minutes = machine.heat.heat_up_min + machine.heat.soak_min
            answer = _("{time}, and {cool} until it is cold again.").format(
                time=show(minutes, "min"), cool=show(machine.heat.cool_down_min, "min")
            )
            yield Question("heat", ask.format(machine=machine.name), answer)

    def _power(self, machine: Machine) -> Iterator[Question]:
        if machine.electric and machine.electric.restarts is not None:
            ask = _("What does the {machine} do when power comes back after a cut?")
            yes, no = _("It starts by itself: stand clear."), _("It stays off until it is started.")
            answer = yes if machine.electric.restarts else no
            yield Question("power", ask.format(machine=machine.name), answer)

    # stations and procedures

    def _at(self, station: Station) -> Iterator[Question]:
        facts = {"number": station.number, "station": station.name}
        if station.ppe:
            signs = [_(reference().sign(code).refers) for code in station.ppe]
            ask = _("What is worn at station {number}, {station}?").format(**facts)
            yield Question("worn", ask, "; ".join(signs) + ".")
        for rule in station.nevers[:1]:
            ask = _("What must never happen at station {number}, {station}?").format(**facts)
            yield Question("never", ask, f"{rule.say}. {rule.why or ''}".strip())

    def _in_procedure(self, procedure: Procedure) -> Iterator[Question]:
        for step in procedure.steps:
            ask = _("“{procedure}”: {do} Why like this: {key_point}?").format(
                procedure=procedure.name,
                do=_sentence(str(step.do)),
                key_point=str(step.key_point).rstrip("."),
            )
            yield Question("reason", ask, _sentence(str(step.reason)))
            if step.hold:
                ask = _("“{procedure}”: what must be so before you go on to “{do}”?").format(
                    procedure=procedure.name, do=str(step.do).rstrip(".")
                )
                answer = f"{_sentence(str(step.hold.until))} {_sentence(str(step.hold.because))}"
                yield Question("hold", ask, answer)

    # the whole shop

    def _refused(self) -> Iterator[Question]:
        for polymer in self._shop.polymers.values():
            why = self._refusals.polymer(polymer.id) or str(polymer.why or "")
            if polymer.status == "refused" and why:
                ask = _("Somebody brings {polymer}. Is it taken, and why?")
                answer = _("It is refused. {why}").format(why=_sentence(why))
                yield Question("refused", ask.format(polymer=polymer.name), answer)

    def _anywhere(self) -> Iterator[Question]:
        room = self._shop.room
        yield Question(
            "assembly",
            _("Where does everybody meet when the alarm sounds?"),
            _("{name}, {distance} away: {way}.").format(
                name=room.assembly.name,
                distance=show(room.assembly.distance_m, "m"),
                way=str(room.assembly.from_).rstrip("."),
            ),
        )
        for thing in self._shop.equipment_of_kind("first-aid", "eyewash", "extinguisher"):
            ask = _("Where is this: {name}?").format(name=thing.name)
            yield Question("equipment", ask, self._place(thing))


def _sentence(text: str) -> str:
    """Text that ends as a sentence does."""
    return text if text.endswith((".", "!", "?")) else f"{text}."
