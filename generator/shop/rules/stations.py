"""Rules of stations, machines and stages: what is numbered, ordered and set."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding
from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.draft import Draft
from generator.shop.place import Path
from generator.shop.records.machines import Machine
from generator.shop.records.people import Stage
from generator.shop.records.stations import Station
from generator.shop.rules.shared import doubles


def station_numbers(draft: Draft) -> Iterator[Finding]:
    """Every station has a number of its own: plan, list, card and sign share it."""
    stations = draft.of(Station)
    taken = {station.number for station in stations.values()}
    for number, first, again in doubles((s.number, key) for key, s in stations.items()):
        free = next(n for n in range(1, len(taken) + 2) if n not in taken)
        taken.add(free)
        says = _("The number {n} is already that of `{first}`.").format(n=number, first=first)
        place = draft.place("stations", again)
        mend = _("Give each station its own.")
        yield place.finding("station-number", ("number",), says, mend, f"number: {free}")


def stage_orders(draft: Draft) -> Iterator[Finding]:
    """Every stage has an order of its own."""
    stages = draft.of(Stage)
    last = max((stage.order for stage in stages.values()), default=0)
    for order, first, again in doubles((s.order, key) for key, s in stages.items()):
        says = _("The order {n} is already that of `{first}`.").format(n=order, first=first)
        place = draft.place("stages", again)
        mend = _("Give each stage its own.")
        yield place.finding("stage-order", ("order",), says, mend, f"order: {last + 1}")


def added_once(draft: Draft) -> Iterator[Finding]:
    """A station or a machine is added by one stage."""
    for key in ("adds_stations", "adds_machines"):
        added = (
            (id_, (stage, n))
            for stage, record in draft.of(Stage).items()
            for n, id_ in enumerate(getattr(record, key))
        )
        for id_, (first, _n), (stage, number) in doubles(added):
            says = _("`{id}` is already added by the stage `{first}`.").format(id=id_, first=first)
            path: Path = (key, number)
            mend = _("Leave it out of one of the two.")
            yield draft.place("stages", stage).finding("added-twice", path, says, mend)


def set_points(draft: Draft) -> Iterator[Finding]:
    """No setting is hotter than the highest set point the machine allows."""
    for key, machine in draft.of(Machine).items():
        for path, celsius in _set_points(machine):
            if machine.heat is None or celsius <= machine.heat.highest_c:
                continue
            says = _("{value} is above the machine's highest set point, {highest}.").format(
                value=show(celsius, "c"), highest=show(machine.heat.highest_c, "c")
            )
            mend = _("Correct it, or `highest` under `heat`.")
            example = show(machine.heat.highest_c, "c").replace("\u202f", " ")
            right = f"- {example}" if isinstance(path[-1], int) else f"{path[-1]}: {example}"
            yield draft.place("machines", key).finding("set-point", path, says, mend, right)


def _set_points(machine: Machine) -> Iterator[tuple[Path, float]]:
    for n, setting in enumerate(machine.settings):
        at: Path = ("settings", n)
        if setting.melt_c is not None:
            yield (*at, "melt"), setting.melt_c
        if setting.drying_at_c is not None:
            yield (*at, "drying_at"), setting.drying_at_c
        yield from (((*at, "zones", z), celsius) for z, celsius in enumerate(setting.zones_c))


RULES = (station_numbers, stage_orders, added_once, set_points)
