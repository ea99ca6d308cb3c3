"""Circuits and phases: what each station hangs on, told by name and by the form of its edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from generator.drawings.ink import Item, Line, Pen, Rect, Stamp
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers.board import Board, Part
from generator.drawings.layers.layer import Layer
from generator.drawings.signals import plan_symbol
from generator.ground.wording import _
from generator.shop.records.room import Circuit, Phase
from generator.workings.power.draws import Draw
from generator.workings.power.study import PowerStudy

_DASHES: dict[Phase, tuple[float, ...]] = {"L1": (), "L2": (5, 3), "L3": (7, 2, 1.5, 2)}
_OUTLET = 13.0


def draw(board: Board, power: PowerStudy) -> Layer | None:
    """The outlets where they are, and at each powered station its circuits with their phases."""
    at_station = _by_station(board, power.machines)
    if not at_station:
        return None
    circuits = board.shop.room.circuits.values()
    items: list[Item] = [] if board.narrow else list(_outlets(board, circuits))
    for station, draws in at_station.items():
        items += _connected(board, station, draws)
    phases = {d.phases for draws in at_station.values() for d in draws}
    keys = [*_keys(phases), *([] if board.narrow else [_outlet_key()])]
    return Layer("circuits", _("Circuits and phases"), (*board.under(), *items), tuple(keys))


def short_name(circuit: Circuit) -> str:
    """What the label at the board says: the first word of its name where that is a number."""
    name = str(circuit.name)
    first = name.split(maxsplit=1)[0] if name.split() else circuit.id
    return first if any(letter.isdigit() for letter in first) else name


def phase_words(phases: Sequence[Phase]) -> str:
    """``L2``, ``L1 L2``, or ``L1–3`` for all three."""
    return "L1–3" if len(phases) == 3 else " ".join(phases)


def _by_station(board: Board, draws: Sequence[Draw]) -> dict[str, list[Draw]]:
    """What hangs where, fans at the station of their first hood."""
    found: dict[str, list[Draw]] = {}
    hoods = board.shop.room.hoods.values()
    for each in draws:
        hood = next((h for h in hoods if each.is_fan and h.fan == each.id), None)
        station = hood.station if hood else getattr(each.record, "station", "")
        if station:
            found.setdefault(station, []).append(each)
    return found


def edge(phases: Sequence[Phase], text: str) -> Part:
    """A label whose edge tells its phase: solid, dashed, dash and dot; reversed for more."""
    if len(phases) > 1:
        return Part(text, True, "ink", "sheet", "ink")
    return Part(text, True, "sheet", "ink", "ink", _DASHES[phases[0]])


def _connected(board: Board, station: str, draws: Sequence[Draw]) -> Iterator[Item]:
    at = board.station_at(station)
    seen = {(d.circuit.id, d.phases): d for d in draws}
    parts = [edge(d.phases, _words(board, d)) for d in seen.values()]
    rows = [parts] if len(parts) < 2 or not board.narrow else [[part] for part in parts]
    yield from board.label(rows, [at, *_round(at)], led=at, reach=54.0, must=True)


def _words(board: Board, drawn: Draw) -> str:
    name = short_name(drawn.circuit)
    return name if board.narrow else f"{name} {phase_words(drawn.phases)}"


def _round(at: tuple[float, float]) -> list[tuple[float, float]]:
    x, y = at
    return [(x, y + 24), (x, y - 24), (x + 40, y), (x - 40, y)]


def _outlets(board: Board, circuits: Iterable[Circuit]) -> Iterator[Item]:
    symbol = plan_symbol("outlet")
    for circuit in circuits:
        for outlet in circuit.outlets.values():
            x, y = board.view.at(outlet.at)
            box = (x - _OUTLET / 2, y - _OUTLET / 2, _OUTLET, _OUTLET)
            board.clearing.keep(box)
            yield Stamp(symbol, box[0], box[1], _OUTLET)


def _keys(used: set[tuple[Phase, ...]]) -> Iterator[Key]:
    for phase, dash in _DASHES.items():
        if (phase,) in used:
            pen = Pen("sheet", "ink", 1.4, dash)
            yield Key((_frame(pen),), _("on {phase}").format(phase=phase))
    if any(len(phases) > 1 for phases in used):
        yield Key((_frame(Pen("ink", "ink", 1.4)),), _("on more than one phase"))


def _frame(pen: Pen) -> Item:
    return Rect(3, 1.5, SAMPLE[0] - 6, SAMPLE[1] - 3, pen)


def _outlet_key() -> Key:
    stamp = Stamp(plan_symbol("outlet"), (SAMPLE[0] - 16) / 2, 1, 16)
    wall = Line((8, 17), (SAMPLE[0] - 8, 17), Pen(stroke="ink", width=1.2))
    return Key((wall, stamp), _("socket or fixed connection"))
