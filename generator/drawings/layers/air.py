"""Air: hoods, their ducts to the fans, which way it flows, and what each draws."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.drawings.ink import Circle, Item, Path, Pen, Point, Polygon, Polyline, path_of
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part
from generator.drawings.layers.layer import Layer
from generator.ground.units import show
from generator.ground.wording import _
from generator.workings.air import AirStudy, FanAir, HoodAir

_DUCT = 6.0
_TRUNK_MM = 320.0
"""How far before the wall a main duct is drawn: its true course is not in the shop's files."""

_HOOD = 9.0


def draw(board: Board, air: AirStudy) -> Layer | None:
    """Every hood with its duct to where its fan blows, and the flows."""
    if not air.hoods.hoods:
        return None
    by_fan = {fan.fan.id: fan for fan in air.hoods.fans}
    items: list[Item] = []
    for hood in air.hoods.hoods:
        items += _ducted(board, hood, by_fan.get(hood.hood.fan))
    for hood in air.hoods.hoods:
        items += _hood(board, hood)
    for hood in air.hoods.hoods:
        items += _told(board, hood)
    for fan in by_fan.values():
        items += _fan_told(board, fan)
    back = any(not hood.outside for hood in air.hoods.hoods)
    return Layer("air", _("Hoods and ducts"), (*board.under(), *items), tuple(_keys(back)))


def _middle(board: Board, hood: HoodAir) -> Point:
    """A station's hoods side by side over its middle."""
    x, y = board.station_at(hood.station)
    same = [h.id for h in board.shop.room.hoods.values() if h.station == hood.station]
    shift = same.index(hood.hood.id) - (len(same) - 1) / 2
    return x + shift * _HOOD * 2.4, y


def _ducted(board: Board, hood: HoodAir, fan: FanAir | None) -> Iterator[Item]:
    course = _course(board, hood, fan)
    if len(course) < 2:
        return
    board.spare(course, 1.0)
    yield Polyline(course, Pen(stroke="ink", width=_DUCT))
    yield Polyline(course, Pen(stroke="sheet", width=_DUCT - 2.6))
    yield forms.head_at(course, 0.55, "ink", 9.0)


def _course(board: Board, hood: HoodAir, fan: FanAir | None) -> tuple[Point, ...]:
    """Square to the wall the fan blows through, then along it: a diagram, not an installation."""
    point = fan.fan.extract_point if fan else None
    if point is None:
        return ()
    at = board.shop.room.extract_points[point].at
    wall = board.screen.atlas.shell.wall_of(at)
    start = board.view.floor(_middle(board, hood))
    trunk = -_TRUNK_MM
    along = wall.station_of(start), wall.station_of(at)
    stops = (start, wall.place(along[0], trunk), wall.place(along[1], trunk), wall.place(along[1]))
    return board.line(stops)


def _hood(board: Board, hood: HoodAir) -> tuple[Item, ...]:
    x, y = _middle(board, hood)
    board.clearing.keep((x - _HOOD, y - _HOOD, 2 * _HOOD, 2 * _HOOD))
    return hood_mark((x, y), blows_out=hood.outside)


def hood_mark(at: Point, *, blows_out: bool) -> tuple[Item, ...]:
    """A hood as a funnel; one whose air comes back to the room bears a ring with a bar."""
    x, y = at
    w = _HOOD
    ring = ((x - w, y + w * 0.7), (x + w, y + w * 0.7), (x + w * 0.35, y - w * 0.7),
            (x - w * 0.35, y - w * 0.7))  # fmt: skip
    funnel = Polygon(ring, Pen("sheet", "ink", 1.7))
    if blows_out:
        return (funnel, Path(path_of(((x, y + w * 0.45), (x, y - w * 0.45))),
                             Pen(stroke="ink", width=1.5)))  # fmt: skip
    bar = path_of(((x - w * 0.9, y + w * 0.9), (x + w * 0.9, y - w * 0.9)))
    return (
        funnel,
        Circle(x, y, w * 1.1, Pen(stroke="ink", width=1.3)),
        Path(bar, Pen(stroke="ink", width=1.3)),
    )


def _told(board: Board, hood: HoodAir) -> tuple[Item, ...]:
    at = _middle(board, hood)
    part = Part(_flow_words(hood), not hood.measured, "sheet", "ink", "ink",
                () if hood.measured else (3, 2))  # fmt: skip
    rows: Sequence[Sequence[Part]] = [[part]]
    if board.narrow:
        return ()
    return board.label(rows, [(at[0], at[1] + 26), (at[0], at[1] - 26)], led=at, reach=70.0)


def _flow_words(hood: HoodAir) -> str:
    """``340 of 371 m³/h``: what it draws, of what it needs."""
    need = show(hood.need_m3h, "m3h", 0)
    if not hood.outside:
        return _("counts as 0")
    flow = hood.has_m3h if hood.has_m3h is not None else hood.left_m3h
    if flow is None:
        return _("? of {need}").format(need=need)
    return _("{flow} of {need}").format(flow=f"{flow:.0f}", need=need)


def _fan_told(board: Board, fan: FanAir) -> tuple[Item, ...]:
    point = fan.fan.extract_point
    if point is None or fan.has_m3h is None:
        return ()
    x, y = board.view.at(board.shop.room.extract_points[point].at)
    words = Part(_("{fan} {flow}").format(fan=fan.fan.name, flow=show(fan.has_m3h, "m3h", 0)), True,
                 "ink", "sheet", "ink")  # fmt: skip
    if board.narrow:
        words = Part(show(fan.has_m3h, "m3h", 0), True, "ink", "sheet", "ink")
    return board.label([[words]], [(x, y - 40), (x, y - 62), (x, y + 40)], led=(x, y), must=True)


def _keys(back: bool) -> Iterator[Key]:
    middle = (SAMPLE[0] / 2, SAMPLE[1] / 2)
    yield Key(hood_mark(middle, blows_out=True), _("hood, with what it draws of what it needs"))
    duct = ((2.0, middle[1]), (SAMPLE[0] - 2, middle[1]))
    yield Key(
        (
            Polyline(duct, Pen(stroke="ink", width=_DUCT)),
            Polyline(duct, Pen(stroke="sheet", width=_DUCT - 2.6)),
            forms.head_at(duct, 0.55, "ink", 9.0),
        ),
        _("duct and flow, as a diagram: not its true course"),
    )
    if back:
        yield Key(hood_mark(middle, blows_out=False), _("gives its air back: counts as nothing"))
