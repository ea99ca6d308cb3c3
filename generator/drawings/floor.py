"""What stands on the floor, drawn as seen from above: walls, openings, furniture, stations."""

from __future__ import annotations

from dataclasses import dataclass

from generator.drawings.ink import Item, Line, Path, Pen, Point, Polygon, number, path_of
from generator.drawings.shell import Shell, ends_of
from generator.drawings.view import View
from generator.shop.records.room import Column, Door, Fixture, Window
from generator.shop.records.stations import Station
from generator.workings.footprint import clear_area, footprint


@dataclass(frozen=True, slots=True)
class Weights:
    """Widths of line, in the drawing's unit: outlines, fixtures, fine lines."""

    outline: float
    fixture: float
    fine: float


A4 = Weights(0.5, 0.35, 0.18)
A2 = Weights(0.7, 0.5, 0.25)
SCREEN = Weights(1.8, 1.2, 0.8)


def walls(view: View, shell: Shell, weights: Weights, solid: bool = False) -> tuple[Item, ...]:
    """The walls as cut through, hatched, or solid where the scale is small."""
    fill = "ink" if solid else "hatch"
    pen = Pen(fill, "ink", weights.outline)
    return tuple(
        Polygon(view.ring(ring), pen, tuple(view.ring(hole) for hole in holes))
        for ring, holes in shell.masonry
    )


def columns(view: View, shell: Shell, weights: Weights, solid: bool = False) -> tuple[Item, ...]:
    """Columns, inked like the walls."""
    pen = Pen("ink" if solid else "hatch", "ink", weights.outline)
    return tuple(outline(view, column, pen) for column in shell.room.columns.values())


def outline(view: View, thing: Station | Column | Fixture, pen: Pen) -> Polygon:
    """The footprint of a thing."""
    return Polygon(view.ring(footprint(thing)), pen)


def windows(view: View, shell: Shell, weights: Weights) -> tuple[Item, ...]:
    """All windows of the room."""
    return tuple(
        part for each in shell.room.windows.values() for part in window(view, shell, each, weights)
    )


def window(view: View, shell: Shell, pane: Window, weights: Weights) -> tuple[Item, ...]:
    """A window: the opening with a line for the glass."""
    a, b, c, d = view.ring(shell.opening(*ends_of(pane)))
    glass = Line(_middle(a, d), _middle(b, c), Pen(stroke="ink", width=weights.fine * 1.4))
    return Polygon((a, b, c, d), Pen("sheet", "ink", weights.fixture)), glass


def doors(view: View, shell: Shell, weights: Weights) -> tuple[Item, ...]:
    """All doors of the room."""
    return tuple(
        part for each in shell.room.doors.values() for part in leaf(view, shell, each, weights)
    )


def leaf(view: View, shell: Shell, door: Door, weights: Weights) -> tuple[Item, ...]:
    """A door: the jambs, the leaf standing open and the arc it swings through."""
    a, b, c, d = view.ring(shell.opening(door.hinge, door.latch))
    opening = Polygon((a, b, c, d), Pen("sheet"))
    jambs = Path(path_of((a, d)) + path_of((b, c)), Pen(stroke="ink", width=weights.fixture))
    if door.opens == "sliding":
        return opening, jambs, _sliding_leaf(view, shell, door, weights)
    hinge, tip, latch = (view.at(point) for point in swing(shell, door))
    opened = Line(hinge, tip, Pen(stroke="ink", width=weights.outline * 0.9))
    arc = Path(_quarter(hinge, tip, latch), Pen(stroke="ink", width=weights.fine))
    return opening, jambs, arc, opened


def swing(shell: Shell, door: Door) -> tuple[Point, Point, Point]:
    """Hinge, tip of the open leaf and latch jamb on the face the door swings from [mm]."""
    wall = shell.wall_of(door.hinge, door.latch)
    outwards = door.opens == "out"
    face = shell.thickness if outwards else 0.0
    hinge_at, latch_at = wall.station_of(door.hinge), wall.station_of(door.latch)
    reach = abs(latch_at - hinge_at) * (1 if outwards else -1)
    return (
        wall.place(hinge_at, face),
        wall.place(hinge_at, face + reach),
        wall.place(latch_at, face),
    )


def _quarter(centre: Point, start: Point, end: Point) -> str:
    """The quarter circle from start to end about the centre."""
    (cx, cy), (sx, sy), (ex, ey) = centre, start, end
    radius = ((sx - cx) ** 2 + (sy - cy) ** 2) ** 0.5
    sweep = int((sx - cx) * (ey - cy) - (sy - cy) * (ex - cx) > 0)
    r = number(radius)
    return f"{path_of((start,))}A{r} {r} 0 0 {sweep} {number(ex)} {number(ey)}"


def _sliding_leaf(view: View, shell: Shell, door: Door, weights: Weights) -> Item:
    """A sliding leaf, drawn half open along the inner face."""
    wall = shell.wall_of(door.hinge, door.latch)
    hinge_at, latch_at = wall.station_of(door.hinge), wall.station_of(door.latch)
    half = (latch_at - hinge_at) / 2
    start, end = (view.at(wall.place(hinge_at + shift, -60)) for shift in (-half, half))
    return Line(start, end, Pen(stroke="ink", width=weights.outline))


def fixtures(view: View, shell: Shell, weights: Weights) -> tuple[Item, ...]:
    """Built-in furniture, crossed to tell it from a station."""
    items: list[Item] = []
    for fixture in shell.room.fixtures.values():
        ring = view.ring(footprint(fixture))
        items.append(Polygon(ring, Pen("sheet", "ink", weights.fixture)))
        cross = path_of((ring[0], ring[2])) + path_of((ring[1], ring[3]))
        items.append(Path(cross, Pen(stroke="line-strong", width=weights.fine)))
    return tuple(items)


def clear_areas(view: View, station: Station, weights: Weights) -> tuple[Item, ...]:
    """The floor that is kept clear at each working side: pale and dashed."""
    dash = (weights.fine * 7, weights.fine * 5)
    pen = Pen("line", "line-strong", weights.fine, dash, soft=0.28)
    return tuple(
        Polygon(view.ring(clear_area(station, working)), pen) for working in station.working_sides
    )


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
