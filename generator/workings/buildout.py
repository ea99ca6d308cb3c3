"""The build-out: what the shop is, can do and is found wanting in at each of its stages."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey
from generator.shop.records.machines import Machine
from generator.shop.records.material import Product
from generator.shop.records.people import Session, Stage
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings import commissioning, flow
from generator.workings.check import Studies
from generator.workings.flow import FlowStudy
from generator.workings.partial import copied, without
from generator.workings.signage import Need
from generator.workings.stage import in_order

FROM_THE_START = 0
"""The stage of what no stage adds: it was there before the first."""


# --- when each thing is there ------------------------------------------------------------------


class Arrivals:
    """The number of the stage at which each thing of the shop is there.

    Parameters
    ----------
    shop
        The whole shop.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        stages = in_order(shop)
        self._stations = {id_: s.order for s in reversed(stages) for id_ in s.adds_stations}
        self._machines = {id_: s.order for s in reversed(stages) for id_ in s.adds_machines}

    def station(self, id_: str) -> int:
        """The stage that sets up a station."""
        return self._stations.get(id_, FROM_THE_START)

    def machine(self, id_: str) -> int:
        """The stage at which both a machine and its station are there."""
        machine = self._shop.machines[id_]
        return max(self._machines.get(id_, FROM_THE_START), self.station(machine.station))

    def product(self, product: Product) -> int:
        """The stage at which a product can be made.

        Its mould fits a machine that is there, and so is every station it is finished at.
        """
        fits = min(map(self.machine, self._shop.moulds[product.mould].machines))
        return max([fits, *(self.station(step.station) for step in product.finish)])

    def session(self, session: Session) -> int:
        """The stage at which all a session must have is there."""
        needs = [FROM_THE_START]
        for activity in session.activities.values():
            if activity.must:
                needs += [self.station(activity.station), *map(self.machine, activity.machines)]
                if activity.makes:
                    needs.append(self.product(self._shop.products[activity.makes.product]))
        return max(needs)


# --- one stage ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class Step:
    """The shop as it stands when a stage is reached.

    ``cost`` is what the stage's machines and other things come to, by currency; ``unpriced`` the
    machines without a price, which are not in it.
    """

    stage: Stage
    shop: Shop
    studies: Studies
    room: Studies
    """What depends on nothing but what stands there: the whole shop's own where all does."""
    new_stations: tuple[Station, ...]
    new_machines: tuple[Machine, ...]
    products: tuple[Product, ...]
    new_products: tuple[Product, ...]
    sessions: tuple[Session, ...]
    new_sessions: tuple[Session, ...]
    cost: Mapping[str, float]
    unpriced: tuple[Machine, ...]

    @cached_property
    def surveys(self) -> tuple[Survey, ...]:
        """The subjects that depend on what stands in the room.

        What is missing of signs is told by :attr:`signs`, sign by sign.
        """
        made, room = self.studies, self.room
        return (
            room.floor.survey,
            room.routes.survey,
            room.power.survey,
            made.air.survey,
            room.noise.survey,
            room.touch.survey,
            room.stopping.survey,
            room.bearing.survey,
            self.flow.survey,
            made.refusals.survey(),
            commissioning.survey_of(self.shop),
        )

    @cached_property
    def flow(self) -> FlowStudy:
        """An ordinary week of the shop as it is then."""
        return flow.study(self.shop, self.room.routes.walk_between)

    @property
    def kg_in(self) -> float:
        """What the sources bring in an ordinary week [kg]."""
        return sum(source.weekly_kg for source in self.flow.week.sources)

    @property
    def kg_made(self) -> float:
        """What becomes good parts in an ordinary week [kg]."""
        return sum(making.good_kg for making in self.flow.week.made)

    @property
    def way_out_mm(self) -> float | None:
        """The longest walk to the nearest exit; None where no place has one [mm]."""
        ways = self.room.routes.escape.ways
        return max((way.exits[0].length_mm for way in ways if way.exits), default=None)

    @cached_property
    def signs(self) -> tuple[StageSign, ...]:
        """Every sign that is asked for, and whether it hangs."""
        signage = self.room.signage
        return tuple(StageSign(need, hangs=bool(signage.answers[need])) for need in signage.needs)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is found at this stage."""
        return tuple(f for s in self.surveys for f in s.findings)

    def count(self, severity: Severity) -> int:
        """How many findings are of a severity."""
        return sum(f.severity is severity for f in self.findings)

    @property
    def connected_kw(self) -> float:
        """Plate power of every machine there [kW]."""
        machines = self.shop.machines.values()
        return sum(m.electric.power_kw for m in machines if m.electric)


@dataclass(frozen=True, slots=True)
class StageSign:
    """A sign that a stage asks for."""

    need: Need
    hangs: bool


@dataclass(frozen=True)
class Difference:
    """What a stage brings and takes away: findings, and signs that are asked for first."""

    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    signs: tuple[StageSign, ...]


@dataclass(frozen=True)
class BuildOut:
    """Every stage in order, and when each product and session is first possible."""

    steps: tuple[Step, ...]
    arrivals: Arrivals

    def difference(self, step: Step) -> Difference:
        """Findings and signs against those of the stage before; all are new at the first."""
        before = self.before(step)
        found = before.findings if before else ()
        asked = {(s.need.subject, s.need.codes) for s in before.signs} if before else set()
        signs = tuple(s for s in step.signs if (s.need.subject, s.need.codes) not in asked)
        return Difference(_not_in(step.findings, found), _not_in(found, step.findings), signs)

    def before(self, step: Step) -> Step | None:
        """The stage before, None at the first."""
        index = self.steps.index(step)
        return self.steps[index - 1] if index else None

    def after(self, step: Step) -> Step | None:
        """The stage after, None at the last."""
        index = self.steps.index(step) + 1
        return self.steps[index] if index < len(self.steps) else None


def _not_in(one: Iterable[Finding], other: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings about a record of which the other has none by the same rule."""
    known = {(f.rule, f.subject, f.origin) for f in other}
    return tuple(f for f in one if (f.rule, f.subject, f.origin) not in known)


def study(shop: Shop, as_of: dt.date, whole: Studies | None = None) -> BuildOut:
    """Take the shop apart by its stages.

    Parameters
    ----------
    shop
        The whole shop.
    as_of
        The date it is told against.
    whole
        What was worked out of the whole shop: taken over for a stage at which it is whole and
        reached.
    """
    arrivals = Arrivals(shop)
    steps = tuple(_step(shop, stage, arrivals, as_of, whole) for stage in in_order(shop))
    return BuildOut(steps, arrivals)


def shop_at(shop: Shop, number: int, arrivals: Arrivals | None = None) -> Shop:
    """The shop as it stands when the stage of a number is reached."""
    when = arrivals or Arrivals(shop)
    stations = [id_ for id_ in shop.stations if when.station(id_) > number]
    machines = [id_ for id_ in shop.machines if when.machine(id_) > number]
    part = without(shop, stations, machines)
    stages = {id_: _reached(s) for id_, s in part.stages.items() if s.order <= number}
    if stages == part.stages:
        return part
    return copied(part, {"stages": stages})


def _reached(stage: Stage) -> Stage:
    return stage if stage.reached else stage.model_copy(update={"reached": True})


def _step(
    shop: Shop, stage: Stage, arrivals: Arrivals, as_of: dt.date, whole: Studies | None
) -> Step:
    part, order = shop_at(shop, stage.order, arrivals), stage.order
    products = {p.id: arrivals.product(p) for p in shop.products.values()}
    sessions = {s.id: arrivals.session(s) for s in shop.sessions.values()}
    studies = whole if whole is not None and part is shop else Studies(part, as_of)
    all_there = (
        part.stations.keys() == shop.stations.keys()
        and part.machines.keys() == shop.machines.keys()
    )
    return Step(
        stage=stage,
        shop=part,
        studies=studies,
        room=whole if whole is not None and all_there else studies,
        new_stations=tuple(s for s in shop.stations_by_number if s.id in stage.adds_stations),
        new_machines=tuple(m for m in shop.machines.values() if arrivals.machine(m.id) == order),
        products=tuple(shop.products[id_] for id_, n in products.items() if n <= order),
        new_products=tuple(shop.products[id_] for id_, n in products.items() if n == order),
        sessions=tuple(shop.sessions[id_] for id_, n in sessions.items() if n <= order),
        new_sessions=tuple(shop.sessions[id_] for id_, n in sessions.items() if n == order),
        cost=_cost(shop, stage),
        unpriced=tuple(m for m in _added(shop, stage) if m.price is None),
    )


def _added(shop: Shop, stage: Stage) -> tuple[Machine, ...]:
    return tuple(shop.machines[id_] for id_ in stage.adds_machines)


def _cost(shop: Shop, stage: Stage) -> Mapping[str, float]:
    """What a stage comes to, by currency."""
    total: dict[str, float] = {}
    prices = [m.price for m in _added(shop, stage)] + [c.price for c in stage.other_costs]
    for price in prices:
        if price is not None:
            total[price.currency] = total.get(price.currency, 0.0) + price.amount
    return total
