"""Where on the floor a finding lies: measured between two points, or pinned to its record."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.ground.finding import Finding
from generator.shop.shop import Shop
from generator.workings.floor import FloorStudy
from generator.workings.floor.ahead import Ahead, Face
from generator.workings.floor.moving import Squeeze
from generator.workings.floor.sides import SideRoom, face_of
from generator.workings.floor.standing import along
from generator.workings.footprint import Point, Ring, door_middle
from generator.workings.routes import Gap, RouteStudy


@dataclass(frozen=True, slots=True)
class Measure:
    """A clear width: what is left between two points of the floor, and what is needed [mm].

    ``swept`` is what a moving part sweeps before it, empty for what stands still.
    """

    start: Point
    end: Point
    left_mm: float
    needed_mm: float
    swept: Ring = ()


@dataclass(frozen=True, slots=True)
class Spot:
    """A finding's place: the widths it tells of, and the point [mm] where its tag belongs.

    ``layer`` is the layer with which its tag is switched on and off, "" for none.
    """

    finding: Finding
    at: Point
    measures: tuple[Measure, ...] = ()
    layer: str = ""


def spots(
    shop: Shop,
    findings: Iterable[Finding],
    floor: FloorStudy | None = None,
    routes: RouteStudy | None = None,
) -> tuple[Spot, ...]:
    """The findings that have a place on the plan, in their own order.

    Parameters
    ----------
    shop
        The shop.
    findings
        What was found.
    floor, routes
        The studies whose widths are drawn where they are; without them a finding is only
        pinned to its record.
    """
    measured = {
        **(_floor_measures(floor) if floor else {}),
        **(_route_measures(routes) if routes else {}),
    }
    return tuple(s for f in findings if (s := _spot(shop, f, measured.get(f, ()))))


_LAYERS = {"light": "light", "touch": "hot", "noise": "noise"}
"""Which layer brings the tags of a subject's findings; all others are always there."""


def _spot(shop: Shop, finding: Finding, measures: Sequence[Measure]) -> Spot | None:
    layer = _LAYERS.get(finding.rule.partition(".")[0], "")
    if measures:
        return Spot(finding, _middle(measures[0]), tuple(measures), layer)
    at = place_of(shop, finding.subject)
    return Spot(finding, at, (), layer) if at else None


def _middle(measure: Measure) -> Point:
    (ax, ay), (bx, by) = measure.start, measure.end
    return (ax + bx) / 2, (ay + by) / 2


# --- pinned to a record --------------------------------------------------------------------------


def place_of(shop: Shop, subject: str) -> Point | None:
    """Where a record stands on the floor [mm], None for one that stands nowhere."""
    noun, _slash, id_ = subject.rpartition("/")
    finder = _PLACES.get(noun)
    return finder(shop, id_) if finder else None


def _station(shop: Shop, id_: str) -> Point | None:
    return shop.stations[id_].at


def _machine(shop: Shop, id_: str) -> Point | None:
    return shop.stations[shop.machines[id_].station].at


def _door(shop: Shop, id_: str) -> Point | None:
    return door_middle(shop.room.doors[id_])


def _equipment(shop: Shop, id_: str) -> Point | None:
    return shop.room.equipment[id_].at


def _hood(shop: Shop, id_: str) -> Point | None:
    return shop.stations[shop.room.hoods[id_].station].at


def _fan(shop: Shop, id_: str) -> Point | None:
    point = shop.room.fans[id_].extract_point
    return shop.room.extract_points[point].at if point else None


def _circuit(shop: Shop, id_: str) -> Point | None:
    """Before its first outlet, else nowhere: at the board every circuit would be in one place."""
    outlets = list(shop.room.circuits[id_].outlets.values())
    return outlets[0].at if outlets else None


_PLACES: Mapping[str, Callable[[Shop, str], Point | None]] = {
    "stations": _station,
    "machines": _machine,
    "room/doors": _door,
    "room/equipment": _equipment,
    "room/hoods": _hood,
    "room/fans": _fan,
    "room/circuits": _circuit,
    "room": lambda shop, id_: shop.room.supply.panel if id_ == "supply" else None,
}


# --- measured ------------------------------------------------------------------------------------

_Measures = dict[Finding, list[Measure]]


def _by_rule(findings: Iterable[Finding], *rules: str) -> list[Finding]:
    return [f for f in findings if f.rule in rules]


def _route_measures(routes: RouteStudy) -> _Measures:
    """Walkways that are closed or pinched: the study tells each of them once, in this order."""
    findings, found = routes.survey.findings, {}
    told = _by_rule(findings, "routes.walkway-closed", "routes.service-closed")
    for finding, closed in zip(told, routes.reaches.closed, strict=True):
        found[finding] = [_of_gap(gap, closed.needed_mm) for gap in closed.gaps]
    needed = routes.ground.two_way.value
    pinched = _by_rule(findings, "routes.two-way")
    for finding, gap in zip(pinched, routes.reaches.pinched, strict=True):
        found[finding] = [_of_gap(gap, needed)]
    return found


def _of_gap(gap: Gap, needed_mm: float) -> Measure:
    return Measure(*gap.ends, gap.width_mm, needed_mm)


def _floor_measures(floor: FloorStudy) -> _Measures:
    by_working = dict(_worked_on(floor))
    return {
        finding: [by_working[finding.working]]
        for finding in floor.survey.findings
        if finding.rule in _MEASURED and finding.working in by_working
    }


_MEASURED = frozenset({"floor.side-blocked", "floor.service-blocked", "floor.crush-gap",
                       "floor.board"})  # fmt: skip


def _worked_on(floor: FloorStudy) -> Iterator[tuple[str, Measure]]:
    """Widths by the working that holds them against what is needed."""
    for room in floor.sides.sides:
        id_ = f"floor.side.{room.station.id}.{room.side.side}"
        yield id_, _of_side(room)
    limits = {w.id: w.limit.value for w in floor.survey.workings if w.limit}
    for squeeze in floor.moving.squeezes:
        id_ = f"floor.crush.{squeeze.machine.id}.{squeeze.number}"
        yield id_, _of_squeeze(floor, squeeze, limits.get(id_, 0.0))


def _of_side(room: SideRoom) -> Measure:
    face = face_of(room.station, room.side.side, room.side.width_mm)
    start = _before(face, _hit(room.ahead) or face.middle)
    return Measure(start, along(start, face.ahead, room.free_mm), room.free_mm, room.needed_mm)


def _hit(ahead: Ahead) -> Point | None:
    """The middle of what stands ahead."""
    return (ahead.hit.centroid.x, ahead.hit.centroid.y) if ahead.hit else None


def _before(face: Face, point: Point) -> Point:
    """The point of a face straight before another point."""
    across = (-face.ahead[1], face.ahead[0])
    x, y = point[0] - face.middle[0], point[1] - face.middle[1]
    return along(face.middle, across, x * across[0] + y * across[1])


def _of_squeeze(floor: FloorStudy, squeeze: Squeeze, needed_mm: float) -> Measure:
    station = floor.standing.shop.stations[squeeze.machine.station]
    face = face_of(station, squeeze.moves.side)
    start = _before(face, _hit(squeeze.ahead) or face.middle)
    tip = along(start, face.ahead, squeeze.moves.reach_mm)
    end = along(tip, face.ahead, max(squeeze.left_mm, 0.0))
    return Measure(tip, end, squeeze.left_mm, needed_mm, squeeze.swept)
