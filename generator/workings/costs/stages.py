"""What each stage of the build-out costs: its machines, what else it names, and its kit."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.shop.records.machines import Machine
from generator.shop.records.people import Stage
from generator.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a stage's costs. ``amount`` is None where nobody has written a price."""

    kind: str
    name: str
    amount: float | None
    subject: str


@dataclass(frozen=True, slots=True)
class StageCost:
    """What a stage costs. ``stage`` is None for what no stage names.

    ``lines`` are machines and what the stage names itself, which its ``budget`` is for;
    ``kit`` are moulds, tools and containers that belong to it, and ``weekly`` what its
    consumables cost in a week.
    """

    stage: Stage | None
    lines: tuple[Line, ...]
    kit: tuple[Line, ...]
    weekly: float
    budget: float | None

    @property
    def total(self) -> float:
        """What is priced of what the budget is for."""
        return sum(line.amount or 0.0 for line in self.lines)

    @property
    def kit_total(self) -> float:
        return sum(line.amount or 0.0 for line in self.kit)

    @property
    def unpriced(self) -> tuple[str, ...]:
        return tuple(line.name for line in self.lines if line.amount is None)

    @property
    def left(self) -> float | None:
        """What is left of the budget; below 0 where it is over."""
        return None if self.budget is None else self.budget - self.total


def stage_costs(shop: Shop, weekly: Mapping[str, float]) -> tuple[StageCost, ...]:
    """Every stage in its order, and what no stage names at the end.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    weekly
        What the consumables of each station cost in a week, by station.
    """
    stages = sorted(shop.stages.values(), key=lambda stage: stage.order)
    machines = {id_: stage.id for stage in stages for id_ in stage.adds_machines}
    stations = {id_: stage.id for stage in stages for id_ in stage.adds_stations}
    kit, running = _kit(shop, machines, stations), _weekly(weekly, stations)
    made = [
        StageCost(
            stage, tuple(_lines(shop, stage)), tuple(kit.get(stage.id, ())),
            running.get(stage.id, 0.0), stage.budget.amount if stage.budget else None,
        )
        for stage in stages
    ]  # fmt: skip
    loose = tuple(_of_machines(m for m in shop.machines.values() if m.id not in machines))
    rest = StageCost(None, loose, tuple(kit.get("", ())), running.get("", 0.0), None)
    return (*made, rest) if loose or rest.kit or rest.weekly else tuple(made)


def _lines(shop: Shop, stage: Stage) -> Iterator[Line]:
    yield from _of_machines(shop.machines[id_] for id_ in stage.adds_machines)
    for cost in stage.other_costs:
        yield Line("other", str(cost.what), cost.price.amount, f"stages/{stage.id}")


def _of_machines(machines: Iterable[Machine]) -> Iterator[Line]:
    for machine in machines:
        price = machine.price.amount if machine.price else None
        yield Line("machine", str(machine.name), price, f"machines/{machine.id}")


def _kit(
    shop: Shop, machines: Mapping[str, str], stations: Mapping[str, str]
) -> Mapping[str, list[Line]]:  # fmt: skip
    """Moulds by the machine they are for, tools by where they are kept; containers by nothing."""
    kit: dict[str, list[Line]] = defaultdict(list)
    for mould in shop.moulds.values():
        price = mould.price.amount if mould.price else None
        stage = machines.get(mould.machines[0], "")
        kit[stage].append(Line("mould", str(mould.name), price, f"moulds/{mould.id}"))
    for tool in shop.tools.values():
        price = tool.price.amount * tool.count if tool.price else None
        stage = stations.get(tool.kept_at, "")
        kit[stage].append(Line("tool", str(tool.name), price, f"tools/{tool.id}"))
    for box in shop.containers.values():
        price = box.price.amount * box.owned if box.price else None
        kit[""].append(Line("container", str(box.name), price, f"containers/{box.id}"))
    return kit


def _weekly(weekly: Mapping[str, float], stations: Mapping[str, str]) -> Mapping[str, float]:
    by_stage: dict[str, float] = defaultdict(float)
    for station, amount in weekly.items():
        by_stage[stations.get(station, "")] += amount
    return by_stage
