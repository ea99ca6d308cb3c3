"""What was worked out of a station, in a few figures that each open to their working."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.units import show
from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.links import working_address
from generator.handbook.words import word
from generator.shop.records.stations import Station
from generator.workings.floor.lengths import metres, mm
from generator.workings.power.draws import Draw, current_id
from generator.workings.power.loads import CircuitLoad
from generator.workings.power.telling import amps

_WALKS = "room/floor.html#walks-from-each-station"


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with what it means, and the address of its working below the site's root."""

    label: str
    value: str
    note: str
    address: str


def figures_at(desk: Desk, station: Station) -> list[Figure]:
    """Currents, spare, noise, light, clear floor and walks of a station, where they are known."""
    return [
        *_power(desk, station),
        *_noise(desk, station),
        *_light(desk, station),
        *_sides(desk, station),
        *_walks(desk, station),
    ]


def _power(desk: Desk, station: Station) -> Iterator[Figure]:
    ids = {machine.id for machine in desk.shop.machines_at(station.id)}
    power = desk.studies.power
    draws = [draw for draw in power.machines if not draw.is_fan and draw.id in ids]
    for draw in draws:
        yield _current(draw)
    circuits = {draw.circuit.id for draw in draws}
    for load in power.loads:
        if load.circuit.id in circuits:
            yield _spare(load)


def _current(draw: Draw) -> Figure:
    plate = (
        _("{power}, {volts} between its lines") if len(draw.phases) > 1 else _("{power} at {volts}")
    )
    note = plate.format(
        power=show(draw.power_kw, "kw", 2), volts=show(draw.connection.voltage_v, "v", 0)
    )
    label = _("{machine}, current at full load").format(machine=draw.name)
    least = _("{amps} at least").format(amps=amps(draw.amps))
    value = least if draw.missing else amps(draw.amps)
    return Figure(label, value, note, working_address(current_id(draw)))


def _spare(load: CircuitLoad) -> Figure:
    circuit = load.circuit
    left = circuit.device_a - load.design_a
    value = _("{amps} spare") if left >= 0 else _("{amps} over")
    return Figure(
        _("{circuit}, device {device}").format(
            circuit=circuit.name, device=show(circuit.device_a, "a")
        ),
        value.format(amps=amps(abs(left))),
        _("with everything on it running"),
        working_address(f"power.circuit.{circuit.id}.load"),
    )


def _noise(desk: Desk, station: Station) -> Iterator[Figure]:
    for place in desk.studies.noise.stations:
        if place.station == station.id and place.heard:
            yield Figure(
                _("Noise where somebody works"),
                show(place.low_db, "db", 1),
                _("at least, with all running that may run together"),
                working_address(f"noise.station.{station.id}"),
            )


def _light(desk: Desk, station: Station) -> Iterator[Figure]:
    for task in desk.studies.light.stations:
        if task.station == station.id and task.has_lx is not None:
            yield Figure(
                _("Light on the work"),
                show(task.has_lx, "lx", 0),
                _("{need} needed").format(need=show(task.need_lx, "lx", 0)),
                working_address(f"light.station.{station.id}"),
            )


def _sides(desk: Desk, station: Station) -> Iterator[Figure]:
    for room in desk.studies.floor.sides.sides:
        if room.station.id == station.id:
            side = room.side.side
            label = _("Clear floor, {side}").format(side=word(side))
            if room.side.service:
                label = _("Clear floor, {side}, for the maintainer").format(side=word(side))
            yield Figure(
                label,
                mm(room.free_mm),
                _("{need} needed").format(need=mm(room.needed_mm)),
                working_address(f"floor.side.{station.id}.{side}"),
            )


def _walks(desk: Desk, station: Station) -> Iterator[Figure]:
    routes = desk.studies.routes
    for kind in ("extinguisher", "first-aid"):
        walk = routes.nearest(kind, station.id)
        if walk:
            label = _("Walk to {thing}").format(thing=word(kind))
            yield Figure(label, metres(walk.length_mm), walk.end, _WALKS)
    nearest = routes.to_exit(station.id)
    if nearest:
        others = (routes.to_exit(station.id, id_) for id_ in routes.ground.exits)
        second = [w for w in others if w and w.end_id != nearest.end_id]
        note = "; ".join(
            _("to {exit} {length}").format(exit=w.end, length=metres(w.length_mm)) for w in second
        )
        yield Figure(
            _("Walk out, by {exit}").format(exit=nearest.end),
            metres(nearest.length_mm),
            note,
            working_address(f"routes.exit-nearest.{station.id}"),
        )
