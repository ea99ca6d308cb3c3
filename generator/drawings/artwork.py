# ruff: noqa: E501  (an outline's path data reads worse in pieces)
"""The figures inside the signs, drawn here, each in a square of 100 units.

A figure is one colour with gaps in the colour of its ground, so it holds at 24 px and in
greyscale. Warning figures stay inside the triangle's field, roughly a circle of 22 about
(50, 62); prohibition figures inside a circle of 34 about the middle.
"""

from __future__ import annotations

from collections.abc import Callable

from generator.drawings.ink import Circle, Path, Pen, Rect, Shape, Stamp, Symbol

Figure = tuple[Shape | Stamp, ...]
Artist = Callable[["Brush"], Figure]


class Brush:
    """Shapes in the figure's colour, and in the ground's to cut gaps."""

    def __init__(self, figure: str, ground: str) -> None:
        self.figure, self.ground = figure, ground

    def fill(self, data: str) -> Path:
        return Path(data, Pen(fill=self.figure))

    def cut(self, data: str) -> Path:
        return Path(data, Pen(fill=self.ground))

    def stroke(self, data: str, width: float) -> Path:
        return Path(data, Pen(stroke=self.figure, width=width, round=True))

    def gap(self, data: str, width: float) -> Path:
        return Path(data, Pen(stroke=self.ground, width=width, round=True))

    def edged(self, data: str, gap: float) -> Path:
        """A filled shape with a gap all round it, to part it from what lies behind."""
        return Path(data, Pen(fill=self.figure, stroke=self.ground, width=2 * gap, round=True))

    def solid(self, data: str) -> Path:
        """The shape itself over its own edge, where :meth:`edged` would eat into it."""
        return Path(data, Pen(fill=self.figure))

    def dot(self, x: float, y: float, radius: float) -> Circle:
        return Circle(x, y, radius, Pen(fill=self.figure))

    def hole(self, x: float, y: float, radius: float) -> Circle:
        return Circle(x, y, radius, Pen(fill=self.ground))

    def ring(self, x: float, y: float, radius: float, width: float) -> Circle:
        return Circle(x, y, radius, Pen(stroke=self.figure, width=width))

    def block(self, x: float, y: float, width: float, height: float, corner: float = 0) -> Rect:
        return Rect(x, y, width, height, Pen(fill=self.figure), corner)

    def slot(self, x: float, y: float, width: float, height: float, corner: float = 0) -> Rect:
        return Rect(x, y, width, height, Pen(fill=self.ground), corner)


# What must be worn or done: white on blue.

_HEAD = (
    "M50 13C64 13 70.5 23 70.5 37C70.5 54 61 66 50 66C39 66 29.5 54 29.5 37C29.5 23 36 13 50 13Z"
)
_BUST = "M40.5 58H59.5V69C61 74 75 74.5 81 80.5A43.4 43.4 0 0 1 19 80.5C25 74.5 39 74 40.5 69Z"
_FINGERS = "M36 49V27.5M46.7 47V20.5M57.3 47V22.5M67.5 50V31"
_PALM = "M31.6 46H71.9V58C71.9 66 68 70 62 70H44C38 70 35 68 32.5 63L31.6 60Z"
_THUMB = "M38 64C31 61 26 53 20.5 46"


def _person(b: Brush) -> Figure:
    return b.fill(_BUST), b.edged(_HEAD, 3), b.solid(_HEAD)


def ears(b: Brush) -> Figure:
    left = "M21.5 31H26C30 31 32.5 35 32.5 41C32.5 47 30 51 26 51H21.5C19.5 51 18.5 50 18.5 48V34C18.5 32 19.5 31 21.5 31Z"
    right = "M78.5 31H74C70 31 67.5 35 67.5 41C67.5 47 70 51 74 51H78.5C80.5 51 81.5 50 81.5 48V34C81.5 32 80.5 31 78.5 31Z"
    band = "M26 36C24 4 76 4 74 36"
    return (
        *_person(b),
        b.gap(band, 12.5),
        b.stroke(band, 5),
        b.edged(left, 3.4),
        b.solid(left),
        b.edged(right, 3.4),
        b.solid(right),
    )


def eyes(b: Brush) -> Figure:
    return (
        *_person(b),
        b.gap("M28 33H72", 4.6),
        b.cut(
            "M30.5 30H47.6C48.6 30 48.9 31.5 48.7 34C48 42.5 45 46.5 39.5 46.5C33.8 46.5 31 42 30.5 34Z"
        ),
        b.cut(
            "M69.5 30H52.4C51.4 30 51.1 31.5 51.3 34C52 42.5 55 46.5 60.5 46.5C66.2 46.5 69 42 69.5 34Z"
        ),
    )


def face_shield(b: Brush) -> Figure:
    visor = "M26 32C24.5 48 26 60 31 71C42 77.5 58 77.5 69 71C74 60 75.5 48 74 32"
    band = "M24 25.5C40 21 60 21 76 25.5V35C60 31 40 31 24 35Z"
    return (
        *_person(b),
        b.gap(visor, 11),
        b.stroke(visor, 4.6),
        b.edged(band, 3),
        b.solid(band),
        b.gap("M56 55L62.5 41M49.5 61L52.5 55", 3.6),
    )


def respirator(b: Brush) -> Figure:
    mask = "M50 37C54 37 56 41.5 60 46.5C64.5 52 63.5 60 59.5 64.5C55 69.5 45 69.5 40.5 64.5C36.5 60 35.5 52 40 46.5C44 41.5 46 37 50 37Z"
    return (
        *_person(b),
        b.gap("M29 34L42 47M71 34L58 47", 4),
        b.edged(mask, 3),
        b.solid(mask),
        b.hole(33.5, 60.5, 12.4),
        b.hole(66.5, 60.5, 12.4),
        b.dot(33.5, 60.5, 9.6),
        b.dot(66.5, 60.5, 9.6),
        b.hole(33.5, 60.5, 3.6),
        b.hole(66.5, 60.5, 3.6),
        b.gap("M46 55.5H54M45.5 61H54.5", 3),
    )


def footwear(b: Brush) -> Figure:
    return (
        b.fill(
            "M30 20C30 17.5 31.5 16 34 16H55C57.5 16 59 17.5 59 20V41C59 47.5 63 49.5 70 51.5C80 54.3 86 58.5 86 66V69H27V64C29 50 30 36 30 20Z"
        ),
        b.gap("M29 26.5H59", 3.4),
        b.gap("M49.5 36.5L60 33M51 45L62 41", 3.4),
        b.gap("M74.5 52C68.5 56.5 66 62 66 70", 3.4),
        b.fill(
            "M27 72.5H86V77C86 79.5 84.5 81 82 81H56L53 77.5H47L44 81H31C28.5 81 27 79.5 27 77Z"
        ),
    )


def hand(b: Brush) -> Figure:
    """A raised open hand, without its cuff."""
    return b.stroke(_FINGERS, 8.8), b.stroke(_THUMB, 9.6), b.fill(_PALM)


def gloves(b: Brush) -> Figure:
    return (
        *hand(b),
        b.fill(
            "M37.5 73.5H68C69.5 73.5 70.5 74.5 70.5 76V84.5C60 91 47 91 35 86.5V76C35 74.5 36 73.5 37.5 73.5Z"
        ),
    )


def clothing(b: Brush) -> Figure:
    return (
        b.fill(
            "M38 17L50 25L62 17L71 20.5C73.5 21.5 75 23 76 25.5L88 54L77.5 60L70 45V84H30V45L22.5 60L12 54L24 25.5C25 23 26.5 21.5 29 20.5Z"
        ),
        b.gap("M38.5 16L50 31L61.5 16", 3.4),
        b.gap("M50 31V85", 3.4),
        b.gap("M70 47V40M30 47V40", 3.4),
        b.gap("M57 42H64M36 68H43M57 68H64", 3.4),
    )


def unplug(b: Brush) -> Figure:
    return (
        b.stroke("M11 62C20 62 18 50 28 50", 6.4),
        b.fill(
            "M26 43C26 36.5 29 33 35 33H40C43 33 44.5 34.5 44.5 37.5V62.5C44.5 65.5 43 67 40 67H35C29 67 26 63.5 26 57Z"
        ),
        b.block(42, 39.2, 14.5, 6.8, 2.5),
        b.block(42, 54, 14.5, 6.8, 2.5),
        b.fill(
            "M74 43C74 36.5 71 33 65 33H64C62 33 61 34.5 61 37V39.2H67V46H61V54H67V60.8H61V63C61 65.5 62 67 64 67H65C71 67 74 63.5 74 57V54H89V46H74Z"
        ),
        b.stroke("M52.5 24L50.5 17M58.5 21V14M64.5 24L66.5 17", 4),
    )


def manual(b: Brush) -> Figure:
    return (
        b.fill("M48 31C40 24.5 28 23 15 25V71C28 69 40 70.5 48 77Z"),
        b.fill("M52 31C60 24.5 72 23 85 25V71C72 69 60 70.5 52 77Z"),
        b.gap(
            "M22.5 37C29 36.5 35 37.5 41 40M22.5 47.5C29 47 35 48 41 50.5M22.5 58C29 57.5 35 58.5 41 61",
            3.8,
        ),
        b.gap(
            "M77.5 37C71 36.5 65 37.5 59 40M77.5 47.5C71 47 65 48 59 50.5M77.5 58C71 57.5 65 58.5 59 61",
            3.8,
        ),
    )


# What can hurt: black on yellow.


def general(b: Brush) -> Figure:
    return (
        b.fill(
            "M50 32C53.8 32 56.3 35 56 39L53.9 61C53.5 65.5 46.5 65.5 46.1 61L44 39C43.7 35 46.2 32 50 32Z"
        ),
        b.dot(50, 75, 5.4),
    )


def bolt(b: Brush) -> Figure:
    return (
        b.fill(
            "M53.5 32L37 58.5H47.5L43.5 69.5L39.2 68L42.6 81.5L54.2 74.5L49.8 72.3L61.5 52H50.2L58.5 34.5Z"
        ),
    )


def _skull(b: Brush) -> Figure:
    knobs = [(x, y) for x in (31.5, 68.5) for y in (64.2, 69, 78.2, 83)]
    head = "M50 35.5C60 35.5 66 42 66 50.5C66 55.5 63.5 58.5 59.5 60.5V67.5C59.5 69.5 58 71 56 71H44C42 71 40.5 69.5 40.5 67.5V60.5C36.5 58.5 34 55.5 34 50.5C34 42 40 35.5 50 35.5Z"
    return (
        b.stroke("M33 67L67 80.5M67 67L33 80.5", 5),
        *(b.dot(x, y, 3.2) for x, y in knobs),
        b.edged(head, 2.6),
        b.solid(head),
        b.hole(43.2, 51.5, 4.6),
        b.hole(56.8, 51.5, 4.6),
        b.cut("M50 56L52.8 61H47.2Z"),
        b.gap("M46.8 66.5V71M53.2 66.5V71", 2.4),
    )


def skull(b: Brush) -> Figure:
    return (Stamp(Symbol("skull", _skull(b)), 9.5, 12, 81),)


def hot_surface(b: Brush) -> Figure:
    return (
        b.stroke("M37 71C31 66 32.5 62 37 59C40.5 56.5 40.5 54.5 39 52.5", 4.8),
        b.stroke("M50 71C43.5 65.5 44.5 61.5 50 57C55.5 52.5 55.5 48 50 42", 4.8),
        b.stroke("M63 71C57 66 58.5 62 63 59C66.5 56.5 66.5 54.5 65 52.5", 4.8),
        b.block(26, 76.2, 48, 5.6, 1),
    )


def automatic_start(b: Brush) -> Figure:
    return (
        b.stroke("M60.5 49.5A16.5 16.5 0 1 0 66.2 64", 4.8),
        b.fill("M64.6 45.8L64.4 58L54 52.6Z"),
        b.fill("M52 55L42 66.5H47.6L45.8 75L56.6 62H50.8L54 55Z"),
    )


def crushing(b: Brush) -> Figure:
    return (
        b.block(27, 61, 7, 20.5, 0.8),
        b.block(66, 61, 7, 20.5, 0.8),
        b.fill("M33 65L40.5 71.2L33 77.4Z"),
        b.fill("M67 65L59.5 71.2L67 77.4Z"),
        b.dot(50, 42, 5.8),
        b.block(44, 49.8, 12, 18, 4),
        b.stroke("M47 64V79M53 64V79", 5.2),
    )


def flammable(b: Brush) -> Figure:
    return (
        b.fill(
            "M51.5 31C52.5 40 65 46.5 65 59C65 68 58.5 73 50 73C41.5 73 35 68 35 59.5C35 52 39.5 48.5 41.5 42.5C44 45 45 47.5 45 50.5C49 45.5 51.8 38.5 51.5 31Z"
        ),
        b.cut(
            "M50.8 53.5C52 58 56.5 60 56.5 65C56.5 68.5 53.8 70.5 50 70.5C46.2 70.5 43.5 68.5 43.5 65C43.5 60 49.5 58.5 50.8 53.5Z"
        ),
        b.block(33, 77, 34, 4.8, 1),
    )


def sharp(b: Brush) -> Figure:
    blade = "M44.5 34.5L53.5 31.5L66 63.5L60.5 61Z"
    return (
        b.stroke("M38 69.5H62", 8.4),
        b.fill("M23.5 66.5L38 64.5C44 64 47 66 47 70V76C47 79.5 45 81.5 41 81.5H29L20.5 81.5Z"),
        b.gap("M37.5 74.7H48", 2.4),
        b.edged(blade, 2.4),
        b.solid(blade),
        b.fill(
            "M63.5 75C65.5 78 66.5 79 66.5 80.5C66.5 82 65.2 83 63.5 83C61.8 83 60.5 82 60.5 80.5C60.5 79 61.5 78 63.5 75Z"
        ),
    )


def hand_crushing(b: Brush) -> Figure:
    return (
        b.block(46.5, 34, 7, 11),
        b.block(38, 44.5, 24, 6, 0.8),
        b.fill(
            "M25 68.5L32.5 62.5C35 60.5 38 59.5 41.5 59.5H59C61.2 59.5 62.5 60.6 62.5 62.4C62.5 64.2 61.2 65.3 59 65.3H49.5L52 68.5C53.4 70.4 52.4 72 50.2 72H31.5L27 74.5Z"
        ),
        b.block(23, 77, 54, 4.4, 0.8),
    )


def rollers(b: Brush) -> Figure:
    return (
        b.dot(38, 68.5, 10.8),
        b.dot(62, 68.5, 10.8),
        b.gap("M32.6 70A5.6 5.6 0 0 1 42.8 66.6", 2.8),
        b.cut("M38.9 66.6H47.1L43 72.8Z"),
        b.gap("M67.4 70A5.6 5.6 0 0 0 57.2 66.6", 2.8),
        b.cut("M61.1 66.6H52.9L57 72.8Z"),
        b.block(44.5, 36, 11, 11, 2),
        b.stroke("M46.3 45V52.5M50 45V58M53.7 45V52.5", 3.2),
    )


# What must not be done: black under a red bar.


def smoking(b: Brush) -> Figure:
    return (
        b.block(19, 55, 48, 9.5),
        b.slot(31, 54, 3, 12),
        b.block(70, 55, 8.5, 9.5),
        b.stroke("M74.5 49C74.5 42 66 43.5 66 37C66 32 69 30 72 29.5", 4.6),
        b.stroke("M66.5 49C66.5 44 58.5 45 58.5 38.5C58.5 34 61 32 63 31", 4.6),
    )


def open_flame(b: Brush) -> Figure:
    return (
        b.fill(
            "M51 15C52.5 26 63.5 31.5 63.5 43C63.5 51 58 55.5 50 55.5C42 55.5 36.5 51 36.5 43.5C36.5 36.5 41 33 42.5 27.5C45 29.5 46 32 46 35C49.5 30 51.5 22.5 51 15Z"
        ),
        b.cut(
            "M50.5 36C51.5 40.5 56.5 42 56.5 47.5C56.5 51.5 53.5 53 50 53C46.5 53 43.5 51.5 43.5 47.5C43.5 43 49.5 40.5 50.5 36Z"
        ),
        b.block(46.5, 52, 7, 33, 1),
    )


def pressing(b: Brush) -> Figure:
    return (
        b.block(74, 31, 6.5, 38),
        b.stroke("M40 43H66", 9),
        b.fill(
            "M18.5 45L30 40.5C33 39 36 38.5 40 38.5H47V66C47 69.5 45 71.5 41.5 71.5H33C28 71.5 25 70.5 22 68.5L18.5 66.5Z"
        ),
        b.stroke("M43 52H50M43 60H49M42 67.2H47", 8),
        b.gap("M40 47.7H53M40 56H53.5M40 64H52", 2.6),
        b.stroke("M34 45L45 33.5", 8),
    )


def eating(b: Brush) -> Figure:
    return (
        b.stroke("M27.5 27V39M34 27V39M40.5 27V39", 4),
        b.fill(
            "M25.5 37H42.5V42C42.5 47 39.5 49 36.8 50V76C36.8 79 31.2 79 31.2 76V50C28.5 49 25.5 47 25.5 42Z"
        ),
        b.fill("M50 41H76L72.5 74C72.3 76 71.5 77 69.5 77H56.5C54.5 77 53.7 76 53.5 74Z"),
        b.gap("M51 49.5H76", 3),
        b.stroke("M62 41L66 25H73", 4.2),
    )


def gloved_hand(b: Brush) -> Figure:
    seams = b.gap("M46.7 51V60M57.3 51V60", 3)
    return (Stamp(Symbol("glove", (*gloves(b), seams)), 14, 13, 74),)


def walking(b: Brush) -> Figure:
    return (
        b.dot(52.5, 22.5, 6.8),
        b.stroke("M50.5 38L48.5 54", 12),
        b.stroke("M49.5 55L57.5 66L60 81", 7.6),
        b.stroke("M47.5 55L43.5 68L32.5 78", 7.6),
        b.stroke("M53 36L61 46.5L69 49", 6),
        b.stroke("M48.5 36L39 44L36.5 54.5", 6),
    )


# The way out and what helps: white on green.


def _exit(b: Brush, flip: bool) -> Figure:
    def x(value: float) -> float:
        return 100 - value if flip else value

    def line(*points: tuple[float, float]) -> str:
        return "M" + "L".join(f"{x(px):g} {y:g}" for px, y in points)

    door = line((60, 12), (90, 12), (90, 88), (60, 88)) + "Z"
    arrow = line((63.5, 46), (75, 46), (75, 38.5), (87, 50), (75, 61.5), (75, 54), (63.5, 54)) + "Z"
    return (
        b.fill(door),
        b.cut(arrow),
        b.dot(x(39), 22.5, 7),
        b.stroke(line((34.5, 39), (30.5, 55)), 12.5),
        b.stroke(line((32, 57), (42, 66), (41.5, 83)), 7.4),
        b.stroke(line((29.5, 57), (25, 69.5), (12.5, 73.5)), 7.4),
        b.stroke(line((37, 37), (44.5, 47.5), (52.5, 46)), 6),
        b.stroke(line((33, 36), (22, 39), (17, 49)), 6),
    )


def exit_left(b: Brush) -> Figure:
    return _exit(b, True)


def exit_right(b: Brush) -> Figure:
    return _exit(b, False)


def first_aid(b: Brush) -> Figure:
    return (b.fill("M39 16H61V39H84V61H61V84H39V61H16V39H39Z"),)


def assembly(b: Brush) -> Figure:
    arrow = "M{0} {1}L{2} {3}"
    strokes = "".join(
        arrow.format(50 + sx * 38, 50 + sy * 38, 50 + sx * 28, 50 + sy * 28)
        for sx in (-1, 1)
        for sy in (-1, 1)
    )
    heads = [
        b.fill(
            f"M{50 + sx * 21:g} {50 + sy * 21:g}L{50 + sx * 36:g} {50 + sy * 22:g}L{50 + sx * 22:g} {50 + sy * 36:g}Z"
        )
        for sx in (-1, 1)
        for sy in (-1, 1)
    ]
    return (
        b.stroke(strokes, 7),
        *heads,
        b.dot(50, 31, 6.5),
        b.block(43, 40, 14, 28, 5),
        b.dot(32.5, 42, 5.2),
        b.block(27, 49.5, 11, 21, 4.5),
        b.dot(67.5, 42, 5.2),
        b.block(62, 49.5, 11, 21, 4.5),
    )


def eyewash(b: Brush) -> Figure:
    return (
        b.fill("M12 38C24 20 40 14 50 14C60 14 76 20 88 38C76 54 62 59 50 59C38 59 24 54 12 38Z"),
        b.cut(
            "M20.5 38C30 25 41 20.5 50 20.5C59 20.5 70 25 79.5 38C70 49.5 60 53 50 53C40 53 30 49.5 20.5 38Z"
        ),
        b.dot(50, 36.5, 12.5),
        b.hole(50, 36.5, 5),
        b.stroke("M34 84C34 74 36 70 40 65.5M66 84C66 74 64 70 60 65.5M50 84V67.5", 5.6),
        b.block(22, 85, 56, 6, 2),
    )


def shower(b: Brush) -> Figure:
    return (
        b.stroke("M84 12H50V20", 6),
        b.fill("M33 30C33 22.5 40 19 50 19C60 19 67 22.5 67 30Z"),
        b.stroke("M36 37L33 45M45 37L43.5 45M55 37L56.5 45M64 37L67 45", 4),
        b.dot(50, 54, 6.6),
        b.fill("M42 63.5H58C61.5 63.5 63.5 65.5 63.5 69V90H36.5V69C36.5 65.5 38.5 63.5 42 63.5Z"),
        b.stroke("M27 51L24 59M73 51L76 59M24.5 66L22 74M75.5 66L78 74", 4),
    )


def emergency_stop(b: Brush) -> Figure:
    return (
        b.fill("M50 39L35 22.5H44.5V10H55.5V22.5H65Z"),
        b.fill(
            "M22 59C22 49.5 33 44 50 44C67 44 78 49.5 78 59C78 61 77 62 75 62H25C23 62 22 61 22 59Z"
        ),
        b.block(38, 65.5, 24, 8.5),
        b.block(20, 77.5, 60, 11, 2),
    )


def cold_tap(b: Brush) -> Figure:
    """A tap running on a hand: no registered figure, for the place where a burn is cooled."""
    return (
        b.fill("M20 30H58C68 30 74 36 74 46V52H63V47C63 43 61 41 57 41H20Z"),
        b.block(36, 17, 9, 14),
        b.stroke("M28 17H53", 6.5),
        b.stroke("M68.5 57V63", 6),
        b.fill(
            "M12 73C20 68 27 66 35 66H76C79.5 66 81.5 68 81.5 70.5C81.5 73 79.5 75 76 75H58L60 79C62.5 83 61 88 55.5 88H28L12 90Z"
        ),
        b.gap("M49 75H60", 3),
    )


# What fights a fire: white on red.


def extinguisher(b: Brush) -> Figure:
    return (
        b.fill(
            "M34 42C34 35 39 31.5 45.5 31.5H50.5C57 31.5 62 35 62 42V85C62 88 60.5 89.5 57.5 89.5H38.5C35.5 89.5 34 88 34 85Z"
        ),
        b.block(43.5, 20, 9, 14),
        b.stroke("M38 12.5L56 16M40 21.5H58", 5),
        b.stroke("M53 24C68 24 74 32 74 46V58", 4.6),
        b.fill("M70.8 56H77.2L79.5 72H68.5Z"),
        b.slot(39.5, 49, 17, 20, 1.5),
    )


def alarm(b: Brush) -> Figure:
    fist = "M37 69C37 65 39 63 42 63H62C66 63 68.5 66 68.5 70V80C68.5 86 65 90 60 90H47C42 90 39 87 37.5 83L31 71C29 67 34 64 37 69Z"
    return (
        b.fill("M22 10H78V60H22Z"),
        b.cut("M28.5 16.5H71.5V53.5H28.5Z"),
        b.ring(50, 35, 13, 5),
        b.gap("M50 38V66", 16),
        b.dot(50, 35, 5),
        b.stroke("M50 37.5V68", 9),
        b.edged(fist, 3),
        b.solid(fist),
        b.fill("M45.5 60H54.5V70H45.5Z"),
        b.gap("M57.5 63V70M63.5 64V70", 2.4),
    )


def blanket(b: Brush) -> Figure:
    return (
        b.stroke("M28 26V17C28 10.5 38 10.5 38 17V26M62 26V17C62 10.5 72 10.5 72 17V26", 4.6),
        b.fill(
            "M20 25H80V78C76 84 71 84 68 79C64 73.5 59 73.5 56 79C53 84 47 84 44 79C41 73.5 36 73.5 32 79C29 84 24 84 20 78Z"
        ),
        b.cut(
            "M51 33C52 41 62.5 45.5 62.5 55C62.5 62.5 57 66.5 50 66.5C43 66.5 37.5 62.5 37.5 55.5C37.5 49.5 41.5 46.5 43 42C45.5 44 46.3 46 46.3 48.5C49.5 44.5 51.3 39 51 33Z"
        ),
    )
