"""Whether every working side is reached from every exit, and where the walkways are too narrow.

A side is reached at a width where a body so wide can come from the exit up to the side's clear
floor. What is too narrow is told once for each place, with everything it cuts off.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from shapely import Point

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _, ngettext
from generator.ground.working import Quantity, Working
from generator.workings.figures import figure
from generator.workings.floor.lengths import capital, mm, whole_mm
from generator.workings.floor.overlap import overlap_mm
from generator.workings.floor.placed import SLACK_MM
from generator.workings.floor.standing import Opening, Standing, Thing, station_name
from generator.workings.footprint import Point as Place
from generator.workings.part import Part
from generator.workings.routes.freefloor import FreeFloor
from generator.workings.routes.gaps import Gap, Narrows, Way
from generator.workings.routes.places import (
    Foot,
    Stand,
    feet_at_door,
    feet_at_stand,
    stands,
)
from generator.workings.shown import given

_INSIDE_MM = 20.0
"""How far inside a door its cell is looked for: jambs may lie a little off the wall."""


class Ground:
    """The floor of one shop as it is walked on: its gaps, and the free floor at any width.

    Parameters
    ----------
    standing
        The room with everything in it.
    """

    def __init__(self, standing: Standing) -> None:
        self.standing = standing
        self.shop = standing.shop
        self.aisle = figure(self.shop, "aisle-one-way", "aisle_mm")
        self.two_way = figure(self.shop, "aisle-two-way", "two_way_aisle_mm")
        self.machine_walk = figure(self.shop, "machine-walkway-minimum", "machine_walk_mm")
        self._free: dict[float, FreeFloor] = {}
        self._door_feet: dict[float, dict[str, tuple[Foot, ...]]] = {}
        self._starts: dict[tuple[str, float], frozenset[int]] = {}
        self.squeezed: dict[tuple[str, Place, str], tuple[Place, ...]] = {}
        """Ways through where an aisle is closed, by side and exit, as they are asked for."""

    @cached_property
    def narrows(self) -> Narrows:
        return Narrows(self.standing)

    @cached_property
    def stands(self) -> tuple[Stand, ...]:
        """Every working and service side."""
        return tuple(stands(self.standing))

    @cached_property
    def worked_at(self) -> tuple[Stand, ...]:
        """The sides that anybody works at; service sides are for maintainers."""
        return tuple(stand for stand in self.stands if not stand.service)

    @property
    def exits(self) -> Mapping[str, Opening]:
        return self.standing.exits

    def free(self, width_mm: float) -> FreeFloor:
        """The free floor of a body of a width."""
        if width_mm not in self._free:
            self._free[width_mm] = FreeFloor(self.standing, self.narrows, width_mm)
        return self._free[width_mm]

    def start_cells(self, stand: Stand, width_mm: float = 0.0) -> frozenset[int]:
        """The cells that somebody at a side is in without leaving its clear floor.

        They are as wide as their shoulders, or as a given width where that is more.
        """
        width = max(width_mm, stand.shoulders_mm)
        if (stand.name, width) not in self._starts:
            grown = stand.area.buffer(1.0)
            cells = self.narrows.cells_in(self.cells_of(stand), grown, width)
            self._starts[stand.name, width] = cells
        return self._starts[stand.name, width]

    def cells_of(self, stand: Stand) -> frozenset[int]:
        """The cell that somebody at a side stands in; none where there is no floor to stand on."""
        found = (self.narrows.cells_at(spot) for spot in stand.spots)
        return next((cells for cells in found if cells), frozenset())

    def door_feet(self, free: FreeFloor) -> Mapping[str, tuple[Foot, ...]]:
        """Where walks to the exits end on a free floor."""
        if free.width_mm not in self._door_feet:
            feet = {id_: feet_at_door(free, opening) for id_, opening in self.exits.items()}
            self._door_feet[free.width_mm] = feet
        return self._door_feet[free.width_mm]

    def home_parts(self, free: FreeFloor) -> frozenset[int]:
        """The parts of a free floor that hold an exit; all, where none holds one."""
        feet = (foot for at_door in self.door_feet(free).values() for foot in at_door)
        found = {free.part_at(foot.at) for foot in feet}
        held = frozenset(part for part in found if part is not None)
        return held or frozenset(range(len(free.parts)))

    def door_cells(self, opening: Opening) -> frozenset[int]:
        """The cell just inside a door, none where something stands in it."""
        return self.narrows.cells_at(opening.inside(_INSIDE_MM))


@dataclass(frozen=True, slots=True)
class Reach:
    """How one side is reached from one exit.

    ``widest`` is the way for the widest body, from the edge of the side's clear floor to the
    exit (None where there is none at all). ``needed_mm`` is the width that must get there,
    ``reached`` whether it does, ``narrow`` what is too narrow on the way that needs the least
    widening.
    """

    stand: Stand
    exit: Opening
    needed_mm: float
    reached: bool
    widest: Way | None
    narrow: tuple[Gap, ...]

    @property
    def bottleneck(self) -> Gap | None:
        """The tightest place of the widest way, None where nothing is in the way, or all is."""
        return self.widest.narrowest if self.widest else None

    @property
    def width_mm(self) -> float | None:
        """The widest body that gets from the exit to the side [mm], 0 where none does; None
        where nothing at all narrows the way."""
        if self.widest is None:
            return 0.0
        return self.bottleneck.width_mm if self.bottleneck else None


@dataclass(frozen=True, slots=True)
class Closed:
    """A place where a walkway is too narrow, or closed, and what that cuts off.

    ``gaps`` are its narrow places, the narrowest first. ``cut`` are the sides and exits that it
    parts from each other.
    """

    gaps: tuple[Gap, ...]
    needed_mm: float
    service: bool
    cut: tuple[tuple[Stand, Opening], ...]


@dataclass(frozen=True, slots=True)
class Reaches:
    """How every side is reached from every exit, and where walkways are too narrow."""

    reaches: tuple[Reach, ...]
    closed: tuple[Closed, ...]
    pinched: tuple[Gap, ...]
    """Places on the main ways that are wide enough for one, not for two to meet."""
    part: Part


def study(ground: Ground) -> Reaches:
    """Find for every side and exit whether the one is reached from the other."""
    reaches = tuple(_reaches(ground))
    closed = tuple(_closed(reaches))
    pinched = tuple(_pinched(ground))
    workings = (*_workings(ground, reaches), *_two_way_workings(ground, pinched))
    findings = [_closed_finding(ground, each) for each in closed]
    findings += [_pinched_finding(ground, gap) for gap in pinched]
    findings += _no_place(ground, reaches)
    return Reaches(reaches, closed, pinched, Part(tuple(workings), tuple(findings)))


# --- from side to exit ---------------------------------------------------------------------------


def _reaches(ground: Ground) -> Iterator[Reach]:
    doors = {id_: ground.door_cells(opening) for id_, opening in ground.exits.items()}
    for stand in ground.stands:
        needed = ground.machine_walk if stand.service else ground.aisle
        free = ground.free(needed.value)
        feet = feet_at_stand(ground.standing, free, stand)
        at_doors = ground.door_feet(free)
        for id_, opening in ground.exits.items():
            yield _reach(ground, stand, opening, doors[id_], _meet(free, feet, at_doors[id_]))


def _reach(
    ground: Ground, stand: Stand, opening: Opening, goals: frozenset[int], reached: bool
) -> Reach:
    needed = (ground.machine_walk if stand.service else ground.aisle).value
    starts = ground.start_cells(stand)
    narrow: tuple[Gap, ...] = ()
    if not reached:
        narrow = _too_narrow(ground, starts, goals, needed)
        # what narrows the side's own clear floor counts where nothing else keeps people off
        starts = starts if narrow else ground.cells_of(stand)
        narrow = narrow or _too_narrow(ground, starts, goals, needed)
    widest = ground.narrows.widest(starts, goals)
    return Reach(stand, opening, needed, reached, widest, narrow)


def _meet(free: FreeFloor, some: Sequence[Foot], others: Sequence[Foot]) -> bool:
    """Whether feet of two places stand on one part of the free floor."""
    parts = {free.part_at(foot.at) for foot in some} - {None}
    return any(free.part_at(foot.at) in parts for foot in others)


def _too_narrow(
    ground: Ground, starts: frozenset[int], goals: frozenset[int], width_mm: float
) -> tuple[Gap, ...]:
    """What is too narrow on the way that needs the least widening."""
    way = ground.narrows.least_widening(starts, goals, width_mm)
    return tuple(gap for gap in way.gaps if not gap.lets_pass(width_mm)) if way else ()


# --- one finding a place -------------------------------------------------------------------------


def _closed(reaches: Sequence[Reach]) -> Iterator[Closed]:
    """Narrow places put together: two that share a thing, on one way, are one place."""
    for service in (False, True):
        cut_off = [r for r in reaches if r.narrow and r.stand.service is service]
        for group in _groups([r.narrow for r in cut_off]):
            pairs = {gap.pair for gap in group}
            cut = [r for r in cut_off if any(gap.pair in pairs for gap in r.narrow)]
            gaps = {gap.pair: gap for gap in sorted(group, key=_narrowest_last)}
            yield Closed(
                tuple(sorted(gaps.values(), key=_narrowest_first)),
                cut[0].needed_mm,
                service,
                tuple((r.stand, r.exit) for r in cut),
            )


def _narrowest_first(gap: Gap) -> float:
    return round(gap.width_mm, 2)


def _narrowest_last(gap: Gap) -> float:
    return -round(gap.width_mm, 2)


def _groups(ways: Sequence[Sequence[Gap]]) -> list[list[Gap]]:
    """Gaps in groups: those between the same things, and neighbours that share one, together."""
    groups: list[list[Gap]] = []
    for way in ways:
        for gap in way:
            touched = [g for g in groups if any(_belong(gap, other, way) for other in g)]
            merged = [gap, *(other for group in touched for other in group)]
            groups = [g for g in groups if g not in touched] + [merged]
    return groups


def _belong(gap: Gap, other: Gap, way: Sequence[Gap]) -> bool:
    shared = (gap.pair & other.pair) - {"room"}
    return gap.pair == other.pair or bool(shared and other in way)


def between(standing: Standing, gap: Gap) -> str:
    """What is left in a gap, as a phrase: ``460 mm are left between …``."""
    one, other = sorted(gap.things, key=lambda thing: (thing is None, _number(thing)))
    width = mm(gap.width_mm)
    if one is None and other is None:
        return _("{width} are left between two walls").format(width=width)
    if one is other:
        says = _("{width} are left in a recess of {thing}")
        return says.format(width=width, thing=standing.name_of(one))
    return _("{width} are left between {one} and {other}").format(
        width=width, one=standing.name_of(one), other=standing.name_of(other)
    )


def _number(thing: Thing | None) -> tuple[int, str]:
    number = getattr(thing.record, "number", 1_000_000) if thing else 0
    return (number, thing.subject if thing else "")


def _origin(ground: Ground, gap: Gap) -> Origin:
    things = sorted((t for t in gap.things if t), key=_number)
    return things[0].origin if things else ground.shop.room.origin_of("outline")


def _subject(gap: Gap) -> str:
    things = sorted((t for t in gap.things if t), key=_number)
    return things[0].subject if things else "room"


def _closed_finding(ground: Ground, closed: Closed) -> Finding:
    places = _(", and ").join(between(ground.standing, gap) for gap in closed.gaps)
    says = _("Only {places}; {needed} are needed. That cuts off {who}.").format(
        places=places, needed=mm(closed.needed_mm), who=_cut_off(closed)
    )
    widen = max(closed.needed_mm - gap.width_mm for gap in closed.gaps)
    gap = closed.gaps[0]
    return Finding(
        "routes.service-closed" if closed.service else "routes.walkway-closed",
        Severity.FIX if closed.service or _overlap(gap) else Severity.STOP,
        _origin(ground, gap),
        says,
        _("Move them {widen} farther apart there.").format(widen=mm(widen)),
        subject=_subject(gap),
        working=_id(closed.cut[0][0]),
    )


def _overlap(gap: Gap) -> bool:
    """Whether the two things of a closed gap overlap so far that this stops the shop already."""
    one, other = gap.things
    if gap.width_mm or one is None or other is None:
        return False
    return overlap_mm(one.polygon, other.polygon) > SLACK_MM


def _cut_off(closed: Closed) -> str:
    """What is cut off from which exit: ``stations 3 and 4 from “Yard door”``."""
    by_exit: dict[str, set[int]] = defaultdict(set)
    for stand, opening in closed.cut:
        by_exit[str(opening.door.name)].add(stand.station.number)
    exits: dict[tuple[int, ...], list[str]] = defaultdict(list)
    for name, numbers in by_exit.items():
        exits[tuple(sorted(numbers))].append(f"“{name}”")
    return "; ".join(_stations_from(numbers, names) for numbers, names in exits.items())


def _stations_from(numbers: Sequence[int], exits: Sequence[str]) -> str:
    says = ngettext("station {numbers} from {exits}", "stations {numbers} from {exits}",
                    len(numbers))  # fmt: skip
    return says.format(numbers=", ".join(map(str, numbers)), exits=_(" and ").join(exits))


def _no_place(ground: Ground, reaches: Iterable[Reach]) -> list[Finding]:
    """Sides cut off though no gap is too narrow: nobody can stand there, or a door is blocked."""
    lost = [r for r in reaches if not r.reached and not r.narrow]
    blocked = {r.exit.door.id: r.exit for r in lost if not ground.door_cells(r.exit)}
    doors = [_door_blocked(ground, opening) for opening in blocked.values()]
    sides = {r.stand.name: r.stand for r in lost if r.exit.door.id not in blocked}
    return [*doors, *map(_nobody_stands, sides.values())]


def _door_blocked(ground: Ground, opening: Opening) -> Finding:
    things = ground.standing.near(Point(opening.inside(_INSIDE_MM)).buffer(1.0))
    name = things[0].name if things else _("something")
    return Finding(
        "routes.door-blocked",
        Severity.STOP,
        opening.door.origin,
        capital(
            _("{thing} stands right before “{door}”.").format(thing=name, door=opening.door.name)
        ),
        _("Move it away from the door."),
        subject=f"room/doors/{opening.door.id}",
    )


def _nobody_stands(stand: Stand) -> Finding:
    return Finding(
        "routes.no-place",
        Severity.FIX,
        stand.station.origin_of("at"),
        _("There is no floor to stand on at {side}.").format(side=stand.name),
        _("Make room there, or correct its place, its turn or its working sides."),
        subject=f"stations/{stand.station.id}",
    )


# --- the width of the way, station by station ----------------------------------------------------


def _id(stand: Stand) -> str:
    return f"routes.width.{stand.station.id}"


def _workings(ground: Ground, reaches: Sequence[Reach]) -> Iterator[Working]:
    """For each station the widest body that reaches its worst side from its worst exit."""
    by_station: dict[str, list[Reach]] = defaultdict(list)
    for reach in reaches:
        if not reach.stand.service:
            by_station[reach.stand.station.id].append(reach)
    for found in by_station.values():
        yield _width_working(ground, found)


def _width_working(ground: Ground, found: Sequence[Reach]) -> Working:
    worst = min(found, key=lambda r: (r.reached, _wide(r)))
    gap, aisle = worst.bottleneck, ground.aisle
    station = worst.stand.station
    where = between(ground.standing, gap) if gap else _("nothing narrows the way")
    wide = _wide(worst)
    return Working(
        _id(worst.stand),
        f"stations/{station.id}",
        _("Widest body between {station} and its farthest exit").format(
            station=station_name(station)
        ),
        _("the narrowest gap on the widest way, from corner to corner or corner to face"),
        (given(capital(where), whole_mm(wide), "mm", _origin(ground, gap) if gap else
               ground.shop.room.origin_of("outline")),),
        Quantity(whole_mm(wide), "mm"),
        aisle.verdict(all(r.reached for r in found)),
        aisle.quantity,
        aisle.origin,
        Quantity(whole_mm(wide - aisle.value), "mm"),
        aisle.caution,
    )  # fmt: skip


def _wide(reach: Reach) -> float:
    """The width of the widest way; the room's own measure where nothing narrows it [mm]."""
    if reach.width_mm is not None:
        return reach.width_mm
    return 2 * reach.stand.area.length


# --- ways on which people meet -------------------------------------------------------------------


def _main_ways(ground: Ground) -> Iterator[tuple[frozenset[int], frozenset[int]]]:
    """The ways on which people meet: from exit to exit, and from where visitors are to each."""
    doors = [ground.door_cells(opening) for opening in ground.exits.values()]
    yield from combinations(doors, 2)
    zones = ground.shop.room.zones
    for stand in ground.worked_at:
        if zones[stand.station.zone].visitors:
            starts = ground.start_cells(stand)
            yield starts, frozenset().union(*doors)


def _pinched(ground: Ground) -> Iterator[Gap]:
    """Gaps that two people cannot pass, though one can, each pair of things once."""
    found: dict[frozenset[str], Gap] = {}
    for starts, goals in _main_ways(ground):
        way = ground.narrows.least_widening(starts, goals, ground.two_way.value)
        for gap in way.gaps if way else ():
            alone = gap.lets_pass(ground.aisle.value)
            if alone and not gap.lets_pass(ground.two_way.value):
                known = found.get(gap.pair, gap)
                found[gap.pair] = min(known, gap, key=_narrowest_first)
    yield from found.values()


def _two_way_workings(ground: Ground, pinched: Sequence[Gap]) -> Iterator[Working]:
    if not ground.exits:
        return
    ways = (ground.narrows.widest(a, b) for a, b in _main_ways(ground))
    gaps = [way.narrowest for way in ways if way and way.narrowest]
    if not gaps:
        return
    worst, limit = min(gaps, key=_narrowest_first), ground.two_way
    yield Working(
        "routes.main-ways",
        "room",
        _("Narrowest place on the ways where people meet"),
        _("the narrowest gap between the exits, and from where visitors are to the nearest exit"),
        (given(between(ground.standing, worst), whole_mm(worst.width_mm), "mm",
               _origin(ground, worst)),),
        Quantity(whole_mm(worst.width_mm), "mm"),
        limit.verdict(not pinched and worst.lets_pass(limit.value)),
        limit.quantity,
        limit.origin,
        Quantity(whole_mm(worst.width_mm - limit.value), "mm"),
        limit.caution,
    )  # fmt: skip


def _pinched_finding(ground: Ground, gap: Gap) -> Finding:
    limit = ground.two_way
    says = _("{place}, on a way where people meet; {needed} are needed.").format(
        place=between(ground.standing, gap), needed=mm(limit.value)
    )
    return Finding(
        "routes.two-way",
        Severity.FIX,
        _origin(ground, gap),
        says,
        _("Move them {widen} farther apart, or let people pass one way only there.").format(
            widen=mm(limit.value - gap.width_mm)
        ),
        subject=_subject(gap),
        working="routes.main-ways",
    )
