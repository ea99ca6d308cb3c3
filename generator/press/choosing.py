"""How a sheet is found in the print room: by station, by stage, by session, by wall."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.drawings.shell import Wall
from generator.ground.wording import _
from generator.press.order import Order
from generator.press.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing sheets can be chosen by: its key in ``about``, and what it is called."""

    key: str
    name: str


class Choosing:
    """What each sheet is about, with what follows from it: a station's stage, sessions and wall."""

    def __init__(self, order: Order) -> None:
        self.order, self.shop = order, order.shop

    def tags(self, sheet: Sheet) -> tuple[str, ...]:
        """Everything the sheet may be chosen by."""
        found = dict.fromkeys(tag for key in sheet.about for tag in (key, *self._follows(key)))
        return tuple(found)

    def _follows(self, key: str) -> Iterator[str]:
        noun, _slash, id_ = key.partition("/")
        if noun == "machines" and id_ in self.shop.machines:
            yield from self._of_station(self.shop.machines[id_].station)
        elif noun == "stations" and id_ in self.shop.stations:
            yield from self._of_station(id_)

    def _of_station(self, id_: str) -> Iterator[str]:
        yield f"stations/{id_}"
        if stage := self.shop.stage_of(id_):
            yield f"stages/{stage.id}"
        yield from (f"sessions/{key}" for key in self._sessions_at(id_))
        yield f"walls/{self.wall_key(self.shop.stations[id_].at)}"

    def _sessions_at(self, station: str) -> Iterator[str]:
        for session in self.shop.sessions.values():
            if any(activity.station == station for activity in session.activities.values()):
                yield session.id

    def wall_key(self, point: tuple[float, float]) -> str:
        """The number of the wall nearest to a point, counted round the room."""
        walls = self.order.atlas.shell.walls
        return str(walls.index(self.order.atlas.shell.wall_of(point)) + 1)

    @cached_property
    def walls(self) -> tuple[Choice, ...]:
        """The walls, each by where it faces on the plan and what is in it."""
        walls = self.order.atlas.shell.walls
        return tuple(Choice(f"walls/{n}", self._wall_name(n, w)) for n, w in enumerate(walls, 1))

    def _wall_name(self, number: int, wall: Wall) -> str:
        room = self.shop.room
        shell = self.order.atlas.shell
        inside = [
            str(d.name) for d in room.doors.values() if shell.wall_of(d.hinge, d.latch) == wall
        ]
        says = _("wall {n}, {side} on the plan").format(n=number, side=_side(wall))
        return f"{says}: {', '.join(inside)}" if inside else says

    def choices(self, sheets: Sequence[Sheet]) -> dict[str, tuple[Choice, ...]]:
        """What there is to choose by, of each noun, where any sheet answers to it."""
        used = {tag for sheet in sheets for tag in self.tags(sheet)}
        shop = self.shop
        stations = ((s.id, f"{s.number} {s.name}") for s in shop.stations_by_number)
        stages = sorted(shop.stages.values(), key=lambda stage: stage.order)
        by_noun = {
            "stations": _choices("stations", stations),
            "stages": _choices("stages", ((s.id, f"{s.order} {s.name}") for s in stages)),
            "sessions": _choices("sessions", ((s.id, str(s.name)) for s in shop.sessions.values())),
            "walls": self.walls,
        }
        return {n: kept for n, all_ in by_noun.items() if (kept := _used(all_, used))}


def _used(choices: Iterable[Choice], used: set[str]) -> tuple[Choice, ...]:
    return tuple(choice for choice in choices if choice.key in used)


def _choices(noun: str, named: Iterable[tuple[str, str]]) -> tuple[Choice, ...]:
    return tuple(Choice(f"{noun}/{id_}", name) for id_, name in named)


def _side(wall: Wall) -> str:
    """Which side of the plan a wall is on, as the plan hangs."""
    turn = math.degrees(math.atan2(wall.out[1], wall.out[0])) % 360
    names = (_("right"), _("top"), _("left"), _("bottom"))
    return names[round(turn / 90) % 4]
