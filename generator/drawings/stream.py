"""A week's material as a stream: bands to scale from the scale at the door to the shelf.

Polymers lie on one another in the same order at every step, each with its own hatch. What a step
loses leaves at its foot, what is laid in stock beside it, and what goes back to the granulator
runs back over the top. On a phone the stream is drawn again, from the top down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.drawings import type
from generator.drawings.column import lines
from generator.drawings.ink import (
    Box,
    Drawing,
    Item,
    Line,
    Path,
    Pen,
    Point,
    Polygon,
    Polyline,
    Rect,
    path_of,
)
from generator.drawings.marks import mark_of
from generator.ground.wording import _
from generator.shop.shop import Shop
from generator.workings.flow import PLACE_WORDS, FlowStudy, Link, MachineHours, Place
from generator.workings.flow.hours import DRIERS
from generator.workings.flow.mass import CUTTERS

LINE: tuple[Place, ...] = (
    "donated", "sorting", "washing", "granulating", "store", "weighing", "forming", "finishing",
    "products",
)  # fmt: skip
"""The steps in the order in which material passes them."""

_STOCK: frozenset[Place] = frozenset({"laid-in", "drawn"})
_SMALL = 13.0
_LEAST_KG = 1e-3
"""Kilograms a week below which a link is only rounding."""


def kg_words(kg: float) -> str:
    """A mass of a week: to 0.1 kg, what is less than a kilogram to 0.01 kg."""
    return f"{kg:.{1 if kg >= 1 else 2}f}\u202fkg"


# --- what is drawn -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Aside:
    """What joins or leaves the stream at a step [kg]: its name, and whether it is stock."""

    name: str
    kg: float
    stock: bool


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the stream.

    ``on`` is what goes on to the next step by polymer, ``out`` what leaves there, ``into`` what
    joins there, ``back`` what goes back from it and ``again`` what comes back to it [kg].
    ``hours`` says of each of its machines what it is wanted for and has, and whether that is
    enough.
    """

    place: Place
    name: str
    come: Mapping[str, float]
    on: Mapping[str, float]
    out: tuple[Aside, ...]
    into: tuple[Aside, ...]
    back: float
    again: float
    hours: tuple[tuple[str, bool], ...]

    @property
    def kg(self) -> float:
        """All that passes the step."""
        return sum(self.come.values()) + self.again + sum(a.kg for a in self.into)


@dataclass(frozen=True)
class Stream:
    """A week's stream: its steps in order, and its polymers, the greatest first."""

    steps: tuple[Step, ...]
    polymers: tuple[str, ...]
    codes: Mapping[str, str]

    @cached_property
    def most_kg(self) -> float:
        return max(step.kg for step in self.steps)

    @property
    def says(self) -> str:
        """The stream in words, for whoever does not see it."""
        return " ".join(self._says(step) for step in self.steps)

    def _says(self, step: Step) -> str:
        aside = [f"{a.name.lower()} {kg_words(a.kg)}" for a in (*step.into, *step.out)]
        told = _("{step}: {kg}").format(step=step.name, kg=kg_words(step.kg))
        return f"{told}; {', '.join(aside)}." if aside else f"{told}."


def stream(shop: Shop, flow: FlowStudy) -> Stream | None:
    """A shop's week as a stream, None where nothing moves in it."""
    links = [link for link in flow.masses.links if link.kg >= _LEAST_KG]
    passed = [p for p in LINE if any(p in (link.start, link.end) for link in links)]
    if not passed:
        return None
    steps = tuple(_step(flow, place) for place in passed)
    most: dict[str, float] = {}
    for step in steps:
        for polymer, kg in (*step.come.items(), *step.on.items()):
            most[polymer] = max(most.get(polymer, 0.0), kg)
    kept = {p for step in steps for p in step.on}
    order = sorted(most, key=lambda p: (p not in kept, -most[p]))
    codes = {id_: shop.polymers[id_].code if id_ else "" for id_ in order}
    return Stream(steps, tuple(order), codes)


def _step(flow: FlowStudy, place: Place) -> Step:
    here = LINE.index(place)
    before, after = LINE[here - 1], LINE[(here + 1) % len(LINE)]
    leaving, coming = _ends(flow, place)
    first = [link for link in leaving if not here]
    return Step(
        place, _(PLACE_WORDS[place]),
        _by_polymer(first or [link for link in coming if link.start == before]),
        _by_polymer(link for link in leaving if link.end == after),
        _asides((link.end, link.kg) for link in leaving if link.end not in LINE),
        _asides((link.start, link.kg) for link in coming if link.start not in LINE),
        sum(link.kg for link in leaving if link.end in LINE and link.end != after),
        sum(link.kg for link in coming if link.start in LINE and link.start != before),
        tuple(_hours(flow, place)),
    )  # fmt: skip


def _ends(flow: FlowStudy, place: Place) -> tuple[list[Link], list[Link]]:
    """The links that leave a place and those that come to it, without what is rounding."""
    moved = [link for link in flow.masses.links if link.kg >= _LEAST_KG]
    return [x for x in moved if x.start == place], [x for x in moved if x.end == place]


def _by_polymer(links: Iterable[Link]) -> dict[str, float]:
    found: dict[str, float] = {}
    for link in links:
        found[link.polymer] = found.get(link.polymer, 0.0) + link.kg
    return found


def _asides(ways: Iterable[tuple[Place, float]]) -> tuple[Aside, ...]:
    found: dict[Place, float] = {}
    for place, kg in ways:
        found[place] = found.get(place, 0.0) + kg
    greatest = sorted(found.items(), key=lambda row: -row[1])
    return tuple(Aside(_(PLACE_WORDS[p]), kg, p in _STOCK) for p, kg in greatest)


def _hours(flow: FlowStudy, place: Place) -> Iterator[tuple[str, bool]]:
    """What is wanted of each machine of a step, what there is, and whether that is enough."""
    for hours in flow.hours.machines:
        if _place_of(hours) == place:
            words = _("{machine} {want} of {have} h").format(
                machine=hours.machine.name, want=f"{hours.want_h:.1f}", have=f"{hours.have_h:.1f}"
            )
            yield words, hours.want_h <= hours.have_h


def _place_of(hours: MachineHours) -> Place:
    if hours.machine.kind in CUTTERS:
        return "granulating"
    return "washing" if hours.machine.kind in DRIERS else "forming"


# --- where it lies -----------------------------------------------------------------------------

_BOX, _LEAD = 14.0, 26.0
"""A step's box and the bands that lead up to the first [px]."""
_ROW = 17.0


@dataclass(frozen=True)
class Lie:
    """Where a stream lies: along its way, and across it from where its bands begin.

    ``at`` are the middles of the steps along the way; ``scale`` is pixels a kilogram.
    """

    stream: Stream
    scale: float
    start: Point
    at: tuple[float, ...]
    down: bool

    def place(self, along: float, across: float) -> Point:
        """A point of the drawing."""
        x, y = self.start
        return (x + across, y + along) if self.down else (x + along, y + across)

    def box(self, along: tuple[float, float], across: tuple[float, float]) -> Box:
        """A box between two places along the way and two across it."""
        (x0, y0), (x1, y1) = self.place(along[0], across[0]), self.place(along[1], across[1])
        return x0, y0, x1 - x0, y1 - y0

    def stacked(self, by: Mapping[str, float]) -> Iterator[tuple[str, float, tuple[float, float]]]:
        """Polymers on one another: each with its mass, and from where to where it lies across."""
        done = 0.0
        for polymer in self.stream.polymers:
            if kg := by.get(polymer):
                yield polymer, kg, (done, done + kg * self.scale)
                done += kg * self.scale

    def deep(self, kg: float) -> float:
        """How wide a band of so many kilograms is, never too thin to be seen [px]."""
        return max(kg * self.scale, 1.2)

    def foot(self, step: Step) -> float:
        """Where what leaves a step begins, under what goes on."""
        return sum(step.on.values()) * self.scale

    def end(self, step: Step) -> float:
        return sum(step.come.values()) * self.scale

    @property
    def most(self) -> float:
        """How far across the widest step reaches."""
        return self.stream.most_kg * self.scale

    @property
    def fall(self) -> float:
        """How far what leaves runs past the widest step [px]."""
        return 12.0 if self.down else 30.0

    def turn(self, width: float) -> float:
        """The radius on which a band of some width turns."""
        return max(7.0, width / 2 + 4.0)

    def aside(self, step: Step) -> float:
        """How far after a step what leaves there runs aside."""
        width = self.deep(sum(a.kg for a in step.out))
        return _BOX / 2 + 4 + self.turn(width)


# --- bands -------------------------------------------------------------------------------------

_EDGE = Pen(stroke="ink", width=0.9)
_HATCHED_FROM, _UNIT = 5.0, 2.4


def _band(box: Box, code: str) -> Iterator[Item]:
    """A band of one polymer: its tint, its hatch where there is room, and an edge."""
    x, y, width, height = box
    if min(width, height) <= 0:
        return
    if not code:
        yield Rect(*box, Pen("line-strong", "ink", 0.9))
        return
    mark = mark_of(code)
    yield Rect(*box, Pen(mark.tint))
    if min(width, height) >= _HATCHED_FROM:
        yield from mark.hatch(box, _UNIT)
    else:
        yield Rect(*box, Pen(mark.hue))
    yield Rect(x, y, width, height, _EDGE)


def _bands(lie: Lie) -> Iterator[Item]:
    steps, at = lie.stream.steps, lie.at
    first = steps[0]
    for polymer, _kg, across in lie.stacked(first.come):
        along = (at[0] - _BOX / 2 - _LEAD, at[0] - _BOX / 2)
        yield from _band(lie.box(along, across), lie.stream.codes[polymer])
    for number, step in enumerate(steps[:-1]):
        along = (at[number] + _BOX / 2, at[number + 1] - _BOX / 2)
        for polymer, _kg, across in lie.stacked(step.on):
            yield from _band(lie.box(along, across), lie.stream.codes[polymer])


def _boxes(lie: Lie) -> Iterator[Item]:
    for step, along in zip(lie.stream.steps, lie.at, strict=True):
        ends = (along - _BOX / 2, along + _BOX / 2)
        top = -max(step.back, step.again + sum(a.kg for a in step.into)) * lie.scale
        yield Rect(*lie.box(ends, (top - 3, max(lie.end(step), lie.foot(step)) + 3)),
                   Pen("sheet", "ink", 1.8))  # fmt: skip


def _run(lie: Lie, course: Sequence[Point], width: float, colour: str) -> Iterator[Item]:
    """A band that turns: along points, rounded at each but the ends."""
    radius = lie.turn(width)
    places = [lie.place(*point) for point in course]
    data = path_of(places[:1])
    for before, here, after in zip(places, places[1:], places[2:], strict=False):
        (ax, ay), (bx, by) = _towards(here, before, radius), _towards(here, after, radius)
        data += f"L{ax:.2f} {ay:.2f}Q{here[0]:.2f} {here[1]:.2f} {bx:.2f} {by:.2f}"
    data += f"L{places[-1][0]:.2f} {places[-1][1]:.2f}"
    if width > 3:
        yield Path(data, Pen(stroke="ink", width=width + 1.6))
        yield Path(data, Pen(stroke=colour, width=width))
    else:
        yield Path(data, Pen(stroke="ink", width=width))
    yield _head(places[-2], places[-1], width)


def _towards(start: Point, end: Point, far: float) -> Point:
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = (dx * dx + dy * dy) ** 0.5 or 1.0
    share = min(far / long, 0.5)
    return start[0] + dx * share, start[1] + dy * share


def _head(before: Point, tip: Point, width: float) -> Item:
    """A head at the end of a band, a little wider than it."""
    half, (dx, dy) = width / 2 + 3.5, (tip[0] - before[0], tip[1] - before[1])
    long = (dx * dx + dy * dy) ** 0.5 or 1.0
    u, v = dx / long, dy / long
    deep = max(6.0, width * 0.45)
    return Polygon(
        (
            (tip[0] - v * half, tip[1] + u * half), (tip[0] + v * half, tip[1] - u * half),
            (tip[0] + u * deep, tip[1] + v * deep),
        ),
        Pen("ink"),
    )  # fmt: skip


def _leaving(lie: Lie) -> Iterator[Item]:
    """What leaves each step, in one band to scale; stock is plain, what is lost is grey."""
    for step, along in zip(lie.stream.steps, lie.at, strict=True):
        if not step.out:
            continue
        width = lie.deep(sum(a.kg for a in step.out))
        across, aside = lie.foot(step) + width / 2, along + lie.aside(step)
        colour = "sheet" if all(a.stock for a in step.out) else "line-strong"
        course = ((along + _BOX / 2, across), (aside, across), (aside, lie.most + lie.fall))
        yield from _run(lie, course, width, colour)


def _joining(lie: Lie) -> Iterator[Item]:
    """What joins from outside: from above into the step, over its bands."""
    for step, along in zip(lie.stream.steps, lie.at, strict=True):
        if not step.into:
            continue
        width = lie.deep(sum(a.kg for a in step.into))
        across = -step.again * lie.scale - width / 2
        aside = along - _BOX / 2 - 12 - lie.turn(width)
        course = ((aside, across - lie.turn(width) - 8), (aside, across), (along - 14, across))
        yield from _run(lie, course, width, "sheet")


def _over(lie: Lie) -> float:
    """How far over the bands what goes back needs to run [px]."""
    backs = [lie.deep(step.back) for step in lie.stream.steps if step.back]
    return sum(2 * lie.turn(w) + 6 for w in backs)


def _returning(lie: Lie) -> Iterator[Item]:
    """What goes back to the granulator, over the top."""
    places = [step.place for step in lie.stream.steps]
    if "granulating" not in places:
        return
    to, done, over = lie.at[places.index("granulating")], 0.0, 0.0
    for step, along in zip(lie.stream.steps, lie.at, strict=True):
        if not step.back:
            continue
        width = lie.deep(step.back)
        out, into = -width / 2, -done - width / 2
        over += 2 * lie.turn(width) + 6
        far = lie.turn(width) + 5
        course = (
            (along + _BOX / 2, out), (along + _BOX / 2 + far, out), (along + _BOX / 2 + far, -over),
            (to - _BOX / 2 - far - 6, -over), (to - _BOX / 2 - far - 6, into), (to - 14, into),
        )  # fmt: skip
        yield from _run(lie, course, width, "line")
        done += width


# --- words -------------------------------------------------------------------------------------


def _inside(lie: Lie) -> Iterator[Item]:
    """Each band's mass on it, wherever it is wide enough to be read."""
    for number, step in enumerate(lie.stream.steps[:-1]):
        middle = (lie.at[number] + lie.at[number + 1]) / 2
        room = lie.at[number + 1] - lie.at[number] - _BOX - 8
        for polymer, kg, across in lie.stacked(step.on):
            code = lie.stream.codes[polymer]
            shown = _shown(lie, code, kg, (room, across[1] - across[0]))
            if shown and code:
                yield from _plate(lie.place(middle, sum(across) / 2), shown)


def _shown(lie: Lie, code: str, kg: float, room: tuple[float, float]) -> tuple[str, ...]:
    """What of a band's code and mass finds room on it."""
    words = kg_words(kg)
    long, deep = (room[1], room[0]) if lie.down else (room[0], room[1])
    for rows in ((f"{code} {words}",), (code, words), (words,)):
        wide = max(type.width(row, _SMALL, True) for row in rows)
        if wide + 5 <= long and len(rows) * _ROW + 2 <= deep:
            return rows
    return ()


def _plate(middle: Point, rows: tuple[str, ...]) -> Iterator[Item]:
    """Words on a ground of their own, over a hatch."""
    width = max(type.width(row, _SMALL, True) for row in rows) + 4
    height = len(rows) * _ROW - 1
    x, y = middle[0] - width / 2, middle[1] - height / 2
    yield Rect(x, y, width, height, Pen("sheet"))
    yield from lines(rows, (x, y), width, _SMALL, bold=True, anchor="middle")


def _block(step: Step) -> list[tuple[str, bool]]:
    """A step's name, what passes it, and what joins it, each with whether it is bold."""
    told = [(step.name, True), (kg_words(step.kg), False)]
    for aside in step.into:
        told.append((f"+ {kg_words(aside.kg)} {aside.name.lower()}", False))
    return told


def _set(
    texts: Iterable[tuple[str, bool]], at: Point, width: float, colours: Sequence[str] = ()
) -> tuple[list[Item], float]:
    """Texts under one another, each broken into lines that fit; and how far down they reach."""
    items: list[Item] = []
    x, y = at
    for number, (text, bold) in enumerate(texts):
        fitted = type.fit(text, _SMALL, width, 0, bold)
        colour = colours[number] if number < len(colours) else "ink"
        items += lines(fitted.lines, (x, y), width, _SMALL, bold=bold, colour=colour)
        y += fitted.height
    return items, y


def _tall(texts: Iterable[tuple[str, bool]], width: float) -> float:
    return sum(type.fit(text, _SMALL, width, 0, bold).height for text, bold in texts)


def _gone(step: Step) -> list[tuple[str, bool]]:
    return [row for a in step.out for row in ((a.name, False), (kg_words(a.kg), True))]


def _ends_of(lie: Lie, by: Mapping[str, float]) -> list[tuple[str, float]]:
    """A label for each polymer at an end of the stream, with where its band lies across.

    What never passes the counter stands together.
    """
    kept = {p for step in lie.stream.steps for p in step.on} | (
        {p for step in lie.stream.steps[-1:] for p in step.come}
    )
    found, rest = [], []
    for polymer, kg, across in lie.stacked(by):
        middle = sum(across) / 2
        if polymer in kept and lie.stream.codes[polymer]:
            found.append((f"{lie.stream.codes[polymer]} {kg_words(kg)}", middle))
        elif polymer:
            rest.append((kg, middle))
    if rest:
        words = _("not taken {kg}").format(kg=kg_words(sum(kg for kg, _at in rest)))
        found.append((words, sum(at for _kg, at in rest) / len(rest)))
    return found


_NICE = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def _bar(lie: Lie, at: Point) -> Iterator[Item]:
    """How wide some kilograms a week are drawn."""
    kg = next((n for n in _NICE if n * lie.scale >= 16), _NICE[-1])
    x, y = at
    size = kg * lie.scale
    long, deep = (size, 7.0) if lie.down else (7.0, size)
    yield Rect(x, y, long, deep, Pen("ink"))
    words = _("{kg} a week").format(kg=f"{kg:g}\u202fkg")
    width = type.width(words, _SMALL) + 1
    place = (x, y + 10) if lie.down else (x + 13, y + deep / 2 - 8)
    yield from lines((words,), place, width, _SMALL)


# --- on a wide screen --------------------------------------------------------------------------

_WIDTH, _TALL, _PITCH = 980.0, 150.0, 86.0
_NAMES = 120.0
"""Left and right of a wide stream, for the polymers' names [px]."""


def wide(found: Stream, width: float = _WIDTH) -> Drawing:
    """The stream from left to right."""
    lie, top = _laid_wide(found, width)
    words, foot = _words_wide(lie, top)
    return Drawing(width, foot, (*_drawn(lie), *words), _title(), found.says)


def _title() -> str:
    return _("Where a week's material goes, to scale")


def _drawn(lie: Lie) -> Iterator[Item]:
    for part in (_leaving, _returning, _joining, _bands, _boxes, _inside):
        yield from part(lie)


def _laid_wide(found: Stream, width: float) -> tuple[Lie, float]:
    """As large as its width lets it be: what leaves a step needs room before the next."""
    tall = _TALL
    while True:
        lie = Lie(found, tall / found.most_kg, (0.0, 0.0), (0.0,) * len(found.steps), False)
        pitches = [max(_PITCH, _past(lie, step) + 30) for step in found.steps[:-1]]
        after = max(_NAMES, _past(lie, found.steps[-1]))
        needed = _NAMES + _LEAD + sum(pitches) + _BOX + after
        if needed <= width or tall < 30:
            break
        tall *= 0.9
    spare = max(0.0, width - needed) / max(len(pitches), 1)
    at = _sums(_NAMES + _LEAD + _BOX / 2, [pitch + min(spare, 40.0) for pitch in pitches])
    blocks = [_tall(_block(s), _room(at, n, width)) for n, s in enumerate(found.steps)]
    top = max(blocks) + 8
    start = (0.0, top + _over(lie) + 14)
    return Lie(found, lie.scale, start, at, False), top


def _past(lie: Lie, step: Step) -> float:
    """How far after a step what leaves there reaches."""
    width = lie.deep(sum(a.kg for a in step.out)) if step.out else 0.0
    return lie.aside(step) + width / 2 + 4 if step.out else _BOX


def _sums(first: float, steps: Iterable[float]) -> tuple[float, ...]:
    found = [first]
    for step in steps:
        found.append(found[-1] + step)
    return tuple(found)


def _room(at: Sequence[float], number: int, width: float) -> float:
    """The width of a step's column of words."""
    end = at[number + 1] if number + 1 < len(at) else width + _BOX / 2
    return end - at[number] - 6


def _words_wide(lie: Lie, top: float) -> tuple[list[Item], float]:
    items: list[Item] = []
    under = lie.start[1] + lie.most + lie.fall + 16
    steps = lie.stream.steps
    feet = []
    for number, step in enumerate(steps):
        x, room = lie.at[number] - _BOX / 2, _room(lie.at, number, _WIDTH)
        items += _set(_block(step), (x, top - 8 - _tall(_block(step), room)), room)[0]
        items += (gone := _set(_gone(step), (x, under), room))[0]
        feet.append(gone[1])
    foot = max(feet) + 8
    timed, end = _hours_wide(lie, foot)
    named = (*_named(lie, steps[0].come, 0.0), *_named_after(lie))
    bar = _bar(lie, (2.0, under + 4))
    return [*items, *timed, *named, *bar], end


def _hours_wide(lie: Lie, y: float) -> tuple[list[Item], float]:
    """Under a rule: what each step's machines are wanted for, of what they have."""
    if not any(step.hours for step in lie.stream.steps):
        return [], y + 4
    items: list[Item] = [Line((0, y), (_WIDTH, y), Pen(stroke="line-strong", width=1))]
    head = [(_("Machine hours, wanted of there"), False)]
    drawn, end = _set(head, (0, y + 6), lie.at[0] - _BOX, ("ink-soft",))
    items += drawn
    for number, step in enumerate(lie.stream.steps):
        x, room = lie.at[number] - _BOX / 2, _room(lie.at, number, _WIDTH)
        texts = [(words, not enough) for words, enough in step.hours]
        colours = ["ink" if enough else "fix-text" for _words, enough in step.hours]
        drawn, reached = _set(texts, (x, y + 6), room, colours)
        items, end = [*items, *drawn], max(end, reached)
    return items, end + 4


def _named(lie: Lie, by: Mapping[str, float], x: float) -> Iterator[Item]:
    """Polymers before the first step, apart from one another and led to their bands."""
    edge = lie.at[0] - _BOX / 2 - _LEAD
    for words, middle, y in _spread(lie, by):
        width = _NAMES - 12
        yield from lines((words,), (x, y - 8), width, _SMALL, bold=True, anchor="end")
        yield Line((x + width + 3, y), (edge, middle), Pen(stroke="ink", width=0.9))


def _named_after(lie: Lie) -> Iterator[Item]:
    """Polymers in what is made, after the last step."""
    last = lie.stream.steps[-1]
    if last.place != "products":
        return
    x = lie.at[-1] + _BOX / 2
    for words, middle, y in _spread(lie, last.come):
        yield Line((x, middle), (x + 9, y), Pen(stroke="ink", width=0.9))
        yield from lines((words,), (x + 12, y - 8), _NAMES, _SMALL, bold=True)


def _spread(lie: Lie, by: Mapping[str, float]) -> Iterator[tuple[str, float, float]]:
    """Labels at an end: the middle of each band, and a place for its words apart from others."""
    last = -1e9
    for words, across in _ends_of(lie, by):
        middle = lie.start[1] + across
        last = max(middle, last + _ROW)
        yield words, middle, last


# --- on a phone --------------------------------------------------------------------------------

_PHONE, _LEFT, _ACROSS = 350.0, 102.0, 112.0
_LEAST_PITCH = 92.0


def phone(found: Stream, width: float = _PHONE) -> Drawing:
    """The stream drawn again from the top down, with its words beside it."""
    lie = _laid_phone(found)
    words, foot = _words_phone(lie, width)
    return Drawing(width, foot, (*_drawn(lie), *words), _title(), found.says)


def _laid_phone(found: Stream) -> Lie:
    flat = Lie(found, _ACROSS / found.most_kg, (0.0, 0.0), (0.0,) * len(found.steps), True)
    left = min(_LEFT + _over(flat), _PHONE - _ACROSS - 90)
    tall = [_tall(_side(step), _LEFT) + 14 for step in found.steps]
    out = [_past(flat, s) + _tall(_gone(s), 80) * 0.5 + 16 for s in found.steps]
    pitches = [max(_LEAST_PITCH, *both) for both in zip(tall[:-1], out[:-1], strict=True)]
    head = (len(_ends_of(flat, found.steps[0].come)) + 1) * _ROW + _LEAD + 12
    return Lie(found, flat.scale, (left, 0.0), _sums(head + _BOX / 2, pitches), True)


def _side(step: Step) -> list[tuple[str, bool]]:
    """All that stands beside a step on a phone."""
    return [*_block(step), *((words, not enough) for words, enough in step.hours)]


def _words_phone(lie: Lie, width: float) -> tuple[list[Item], float]:
    items, foot = [*_over_first(lie)], 0.0
    for step, along in zip(lie.stream.steps, lie.at, strict=True):
        colours = ["ink"] * len(_block(step))
        colours += ["ink-soft" if enough else "fix-text" for _words, enough in step.hours]
        drawn, under = _set(_side(step), (0, along - _BOX / 2 - 4), _LEFT - 6, colours)
        beside, end = _beside(lie, step, along, width)
        items, foot = [*items, *drawn, *beside], max(under, end)
    after, end = _after_last(lie, foot)
    bar = _bar(lie, (lie.start[0], end + 6))
    return [*items, *after, *bar], end + 36


def _beside(lie: Lie, step: Step, along: float, width: float) -> tuple[list[Item], float]:
    """What leaves a step, beside the head of its band."""
    x = lie.start[0] + lie.most + lie.fall + 14
    rows = _gone(step)
    half = _tall(rows, width - x) / 2
    return _set(rows, (x, along + lie.aside(step) - half), width - x)


def _over_first(lie: Lie) -> Iterator[Item]:
    """Polymers over the first step, the leftmost highest so that no line crosses a word."""
    edge = lie.at[0] - _BOX / 2 - _LEAD
    for number, (words, x, led) in enumerate(_led(lie, lie.stream.steps[0].come)):
        yield from _word_at(words, led, number * _ROW)
        yield Polyline(((x, edge), (led, edge - 8), (led, (number + 0.5) * _ROW)), _EDGE)


def _after_last(lie: Lie, foot: float) -> tuple[list[Item], float]:
    """Polymers in what is made, under the last step."""
    last, edge = lie.stream.steps[-1], lie.at[-1] + _BOX / 2 + 3
    if last.place != "products":
        return [], max(foot, edge + lie.fall)
    named = _led(lie, last.come)
    items: list[Item] = []
    for number, (words, x, led) in enumerate(named):
        y = edge + 12 + (len(named) - 1 - number) * _ROW
        items.append(Polyline(((x, edge), (led, edge + 8), (led, y + _ROW / 2)), _EDGE))
        items += _word_at(words, led, y)
    return items, max(foot, edge + 12 + len(named) * _ROW)


_APART = 7.0
"""From one line to the next where bands are too thin for it [px]."""


def _led(lie: Lie, by: Mapping[str, float]) -> list[tuple[str, float, float]]:
    """Labels at an end on a phone: each with its band's middle, and where its line stands."""
    found, last = [], 0.0
    for words, across in _ends_of(lie, by):
        x = lie.start[0] + across
        last = max(x, last + _APART)
        found.append((words, x, last))
    return found


def _word_at(words: str, led: float, y: float) -> Iterator[Item]:
    """Words after their line, on two lines where the paper ends."""
    rows = tuple(type.wrap(words, _SMALL, _PHONE - led - 5, bold=True))
    yield from lines(rows, (led + 4, y), _PHONE - led - 4, _SMALL, bold=True)
