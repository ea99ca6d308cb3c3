"""A station on one sheet of A4, for the wall beside it.

Order: which station, who may use it, what must never happen, what to wear, what goes in and
out, how to turn it off, the job in short. Everything is set at its own size and measured; where
it does not all fit, what is least needed at the machine goes first, and says where it went.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.drawings import foot as sheet_foot
from generator.drawings import locator, marks, signals, type
from generator.drawings.atlas import Atlas
from generator.drawings.column import Column, lines, reversed_band
from generator.drawings.foot import Foot
from generator.drawings.ink import Box, Drawing, Item, Line, Path, Pen, Rect, Stamp, Symbol, path_of
from generator.drawings.measures import metres, millimetres
from generator.drawings.pictograms import sign
from generator.drawings.type import LEADING
from generator.drawings.words import word
from generator.ground.wording import _, ngettext
from generator.reference import reference
from generator.shop.records.people import Step
from generator.shop.records.refs import LADDER, Level, Rule
from generator.shop.records.room import Equipment
from generator.shop.records.stations import Handover, Station
from generator.workings.heat import refusal_of

WIDTH, HEIGHT = 210.0, 297.0
_EDGE = 7.0
_LEFT, _RIGHT = 13.0, 197.0
_FOOT = 9.0
_SPLIT = 132.0
"""Where the left column ends and the right one begins, a gap apart."""

_GUTTER = 6.0
_RULE_GAP = 2.6
_THICK, _THIN, _HAIR = 0.5, 0.25, 0.13
_LIMIT = HEIGHT - _EDGE - _FOOT
_PICTURES = ((46.0, True), (37.0, True), (46.0, False), (37.0, False), (28.0, False))
"""Heights of the excerpt, and whether the help in sight is listed under it."""

_FRAME = Pen(stroke="ink", width=_THICK)
_HEADING, _BODY, _SMALL = 5.0, 3.4, 3.0
_LADDER: tuple[Level, ...] = LADDER


@dataclass(frozen=True, slots=True)
class Fullness:
    """How much of the card is said; what has no room is left to the handbook."""

    whys: bool = True
    key_points: bool = True
    handovers: int = 6
    steps: int = 99


_FULLNESS: tuple[Fullness, ...] = (
    Fullness(),
    Fullness(handovers=3),
    Fullness(handovers=2),
    Fullness(whys=False, handovers=3),
    Fullness(whys=False, handovers=2),
    Fullness(key_points=False, handovers=2),
    Fullness(whys=False, key_points=False, handovers=2),
    *(
        Fullness(whys=False, key_points=False, handovers=1, steps=steps)
        for steps in (99, 9, 8, 7, 6, 5, 4, 3, 2, 1, 0)
    ),
)


def draw(atlas: Atlas, station: Station, foot: Foot) -> Drawing:
    """The card of one station, A4 upright, in millimetres."""
    card = _Card(atlas, station)
    return Drawing(
        WIDTH,
        HEIGHT,
        card.items(foot),
        _("Station {number}: {name}").format(number=station.number, name=station.name),
        card.described(),
        unit="mm",
        hatch=locator.ON_CARD.hatch,
    )


def _sign_words(code: str) -> str:
    """What a sign says, from the register, or its code where it is not in it."""
    registered = reference().signs
    return _(registered[code].refers) if code in registered else code


class _Card:
    """A card as it is being set."""

    def __init__(self, atlas: Atlas, station: Station) -> None:
        self.atlas, self.station = atlas, station
        self.full = _FULLNESS[0]
        self.heights: dict[tuple[object, ...], float] = {}
        self.head = self._head()
        self.ladder = self._ladder(self.head.y)
        self.right, self.scene = self._right(self.ladder.y + 3.5)

    def items(self, foot: Foot) -> tuple[Item, ...]:
        """Everything on the sheet, with as much said as fits."""
        top, limit = self.ladder.y, _LIMIT
        room = limit - top - 3.5
        self.full = next((full for full in _FULLNESS if self._height(full) <= room), _FULLNESS[-1])
        left = self._left(Column(_LEFT, top + 3.5, _SPLIT - _LEFT))
        between = _SPLIT + _GUTTER / 2
        return (
            Rect(0, 0, WIDTH, HEIGHT, Pen("sheet")),
            *(item for part in (self.head, self.ladder, left, self.right) for item in part.items),
            Line((between, top), (between, limit), Pen(stroke="line-strong", width=_THIN)),
            Rect(_EDGE, _EDGE, WIDTH - 2 * _EDGE, HEIGHT - 2 * _EDGE, _FRAME),
            Line((_EDGE, limit), (WIDTH - _EDGE, limit), _FRAME),
            *sheet_foot.draw(foot, (_LEFT, limit, _RIGHT - _LEFT, _FOOT), _SMALL),
        )

    def described(self) -> str:
        """The card in words."""
        station = self.station
        says = _("{purpose} Alone: {level}. Wear: {ppe}. Never: {nevers}. {where}")
        never = "; ".join(str(rule.say) for rule in station.nevers)
        return says.format(
            purpose=station.purpose,
            level=word(station.use.alone),
            ppe=", ".join(_sign_words(code) for code in station.ppe) or _("nothing in particular"),
            nevers=never or _("none recorded"),
            where=self.scene.described(),
        )

    def _height(self, full: Fullness) -> float:
        """How high the left column is when so much is said; each part is set once a form."""
        self.full = full
        return sum(self._part_height(part, key) for part, key in self._parts())

    def _part_height(self, part: Callable[[Column], None], key: tuple[object, ...]) -> float:
        if key not in self.heights:
            column = Column(_LEFT, 0.0, _SPLIT - _LEFT)
            part(column)
            self.heights[key] = column.y + _RULE_GAP
        return self.heights[key]

    # --- which station ---

    def _head(self) -> Column:
        station, number = self.station, str(self.station.number)
        block = 44.0 if len(number) < 3 else 58.0
        column = Column(_EDGE + block + 6, _EDGE + 4, _RIGHT - _EDGE - block - 6)
        size = _name_size(str(station.name), column.width)
        column.text(str(station.name), size, bold=True, most=2)
        column.gap(1.5)
        column.text(str(station.purpose), 4.4, most=3)
        column.gap(1.2)
        column.text(self._place(), _BODY, colour="ink-soft", most=3)
        bottom = max(column.y + 3.5, _EDGE + 42)
        height = bottom - _EDGE
        digits = min(46.0, block * 1.45 / len(number), height * 1.05)
        column.add(
            reversed_band(_EDGE, _EDGE, block, height),
            *lines(
                (number,),
                (_EDGE, _EDGE + (height - digits * LEADING) / 2),
                block,
                digits,
                bold=True,
                colour="sheet",
                anchor="middle",
            ),
            Line((_EDGE, bottom), (WIDTH - _EDGE, bottom), _FRAME),
        )
        column.y = bottom
        return column

    def _place(self) -> str:
        use = self.station.use
        parts = [_("Place {grid} on the plan.").format(grid=self.atlas.grid_place(self.station.at))]
        people = ngettext("One person at a time.", "At most {n} people.", use.people)
        parts.append(people.format(n=use.people))
        if use.least_age_years:
            parts.append(_("From {age:g} years.").format(age=use.least_age_years))
        return " ".join(parts)

    # --- who may use it ---

    def _ladder(self, top: float) -> Column:
        column = Column(_LEFT, top + 3.5, _RIGHT - _LEFT)
        aside = _("solid: alone · hatched: with somebody authorised beside · open: keeps off")
        column.heading(_("Who may use it"), _HEADING, aside)
        column.gap(1.5)
        self._rungs(column)
        if self._has_drive():
            column.gap(1.2)
            column.text(_("Opened up only by a maintainer, locked off."), _BODY, bold=True)
        column.gap(2.5)
        column.rule(_THIN, over=_LEFT - _EDGE)
        return column

    def _rungs(self, column: Column) -> None:
        """The ladder as steps that rise to the right, each under its name."""
        steps = list(rungs(self.station))
        share, gap = column.width / len(steps), 1.6
        names = [type.fit(word(level), 4.2, share - gap, 2, bool(state)) for level, state in steps]
        rises = [3.0 + 2.0 * i for i in range(len(steps))]
        height = max(rise + name.height for rise, name in zip(rises, names, strict=True)) + 0.8
        for i, (_level, state) in enumerate(steps):
            x, bottom = column.x + i * share, column.y + height
            box = (x, bottom - rises[i], share - gap, rises[i])
            at = (x, box[1] - names[i].height - 0.6)
            colour = "ink" if state else "ink-soft"
            column.add(*_rung(box, state))
            column.add(*lines(names[i].lines, at, box[2], 4.2, bold=bool(state), colour=colour))
        column.y += height

    def _has_drive(self) -> bool:
        machines = self.atlas.shop.machines_at(self.station.id)
        return any(machine.electric or machine.lock_out for machine in machines)

    # --- left: nevers, in and out, the job ---

    def _left(self, column: Column) -> Column:
        for part, _key in self._parts():
            self._part(column)
            part(column)
        return column

    def _parts(self) -> Iterator[tuple[Callable[[Column], None], tuple[object, ...]]]:
        """What the left column holds, each part with what its height depends on."""
        full = self.full
        if self.station.nevers:
            yield self._nevers, ("nevers", full.whys)
        if self.station.takes_in or self.station.gives:
            yield self._flow, ("flow", full.handovers)
        if self.atlas.shop.main_procedure(self.station.id):
            yield self._job, ("job", full.key_points, full.steps)

    def _nevers(self, column: Column) -> None:
        column.heading(_("Never"), _HEADING)
        column.gap(1.2)
        for rule in self.station.nevers[:3]:
            self._never(column, rule)
        column.gap(0.5)

    def _part(self, column: Column) -> None:
        """A rule before another part, unless it is the first."""
        if column.items:
            column.rule(_THIN)
            column.gap(_RULE_GAP)

    def _never(self, column: Column, rule: Rule) -> None:
        size, start = 14.5 if self.full.whys else 12.0, column.y
        column.add(Stamp(sign(rule.sign or "P001"), column.x, start, size))
        column.text(str(rule.say), 4.8, bold=True, indent=size + 3.5, most=3)
        if rule.why and self.full.whys:
            column.gap(0.4)
            column.text(str(rule.why), _BODY, indent=size + 3.5, most=4)
        column.y = max(column.y, start + size) + 2.4

    def _flow(self, column: Column) -> None:
        """What comes in and what goes out, side by side, with an arrow between."""
        arrow, top = 7.0, column.y
        width = (column.width - arrow) / 2
        sides = [
            (_("In"), self.station.takes_in, _("from")),
            (_("Out"), self.station.gives, _("to")),
        ]
        parts = []
        for i, (name, handovers, way) in enumerate(sides):
            part = Column(column.x + i * (width + arrow), top, width)
            part.heading(name, _HEADING)
            part.gap(1)
            self._handovers(part, handovers, way)
            parts.append(part)
            column.add(*part.items)
        bottom = max(part.y for part in parts)
        column.add(
            Stamp(
                signals.inked(signals.ARROW, "ink"), column.x + width + 0.9, top + 0.6, arrow - 2.2
            )
        )
        column.y = bottom + 1

    def _handovers(self, column: Column, handovers: Sequence[Handover], way: str) -> None:
        polymers = dict.fromkeys(p for handover in handovers for p in handover.polymers)
        if polymers:
            self._polymers(column, list(polymers))
        for handover in handovers[: self.full.handovers]:
            column.text(str(handover.what), _BODY, bold=True, most=2)
            if where := self._where(handover, way):
                column.text(where, _SMALL, colour="ink-soft", most=2)
            column.gap(1)
        if len(handovers) > self.full.handovers:
            more = len(handovers) - self.full.handovers
            says = ngettext("{n} more in the handbook", "{n} more in the handbook", more)
            column.text(says.format(n=more), _SMALL, colour="ink-soft")
        if not handovers:
            column.text(_("nothing recorded"), _BODY, colour="ink-soft")

    def _where(self, handover: Handover, way: str) -> str:
        shop, parts = self.atlas.shop, []
        if handover.station:
            other = shop.stations[handover.station]
            parts.append(f"{way} {other.number} {other.name}")
        if handover.container:
            parts.append(str(shop.containers[handover.container].name))
        return ", ".join(parts)

    def _polymers(self, column: Column, ids: list[str]) -> None:
        """Marks with their codes, as many to a row as stand in it."""
        across, high, size = 8.4, 6.0, 3.6
        x, room = column.x, column.x + column.width
        for key in ids:
            polymer = self.atlas.shop.polymers[key]
            never = bool(refusal_of(polymer))
            iso = marks.iso_mark(polymer.code)
            wide = max(type.width(polymer.code, size, True), type.width(iso, _SMALL))
            wide = min(wide, column.width - across - 1.2)
            if x > column.x and x + across + 1.2 + wide > room:
                x, column.y = column.x, column.y + high + 2.4
            mark = marks.mark_symbol(polymer.code, (across, high), 0.42, never)
            column.add(Stamp(mark, x, column.y + 0.6, mark.size))
            at = (x + across + 1.2, column.y - 0.4)
            code = type.shorten(polymer.code, size, wide, True)
            below = (at[0], at[1] + size * 1.12)
            column.add(
                *lines((code,), at, wide, size, bold=True),
                *lines((type.shorten(iso, _SMALL, wide),), below, wide, _SMALL, colour="ink-soft"),
            )
            x += across + 1.2 + wide + 2.6
        column.y += high + 3.2

    # --- right: wear, turn it off, help in sight ---

    def _right(self, top: float) -> tuple[Column, locator.Scene]:
        """The right column: for want of room the picture shrinks, then the help in sight goes."""
        for tall, with_help in _PICTURES:
            column = Column(_SPLIT + _GUTTER, top, _RIGHT - _SPLIT - _GUTTER)
            self._wear(column)
            scene = self._turn_off(column, tall)
            if with_help:
                self._part(column)
                self._help(column, scene)
            if column.y <= _LIMIT:
                break
        return column, scene

    def _turn_off(self, column: Column, tall: float) -> locator.Scene:
        self._part(column)
        off = self.atlas.shop.cut_offs(self.station.id)
        turns_off = off or self._has_drive()
        column.heading(
            _("Turn it off, lock it off") if turns_off else _("Where it stands"), _HEADING
        )
        column.gap(1)
        excerpt = replace(locator.ON_CARD, width=column.width, height=tall)
        scene = locator.Scene(self.atlas, self.station, excerpt, (column.x, column.y))
        column.add(scene.item())
        column.gap(tall + 2)
        for equipment in off[:4]:
            row = str(equipment.name), self._reach(scene, equipment)
            self._row(column, signals.plan_symbol(equipment.kind), *row)
        if turns_off and not any(equipment.kind == "isolator" for equipment in off):
            column.text(_("No isolator is recorded for it: ask before it is opened up."), _BODY)
        column.gap(0.5)
        return scene

    def _help(self, column: Column, scene: locator.Scene) -> None:
        """The nearest extinguisher, first aid and way out that can be seen, and no other."""
        shop = self.atlas.shop
        column.heading(_("In sight from here"), _HEADING)
        column.gap(1)
        for kind, nothing in (
            ("extinguisher", _("No extinguisher in sight")),
            ("first-aid", _("No first aid in sight")),
        ):
            seen = self.atlas.sight.from_station(self.station, shop.equipment_of_kind(kind))
            symbol = signals.plan_symbol(kind)
            if seen:
                far = _("{far} in a straight line").format(far=metres(seen[0].straight_m * 1000))
                self._row(column, symbol, str(seen[0].equipment.name), far)
            else:
                self._row(column, symbol, nothing, "")
        door = scene.way_out
        name = str(door[0].name) if door else _("No way out in sight")
        self._row(column, sign("E002"), name, metres(door[1]) if door else "")

    def _row(self, column: Column, symbol: Symbol, name: str, small: str) -> None:
        """A symbol with its name and a line under it."""
        size, start = 7.4, column.y
        column.add(Stamp(symbol, column.x, start + 0.4, size))
        column.text(name, _BODY, bold=True, indent=size + 2.2, most=2)
        if small:
            column.text(small, _SMALL, indent=size + 2.2, most=2)
        column.y = max(column.y, start + size + 0.6) + 1.5

    def _wear(self, column: Column) -> None:
        if not self.station.ppe:
            return
        column.heading(_("Wear"), _HEADING)
        column.gap(1.2)
        each, size = column.width / 3, 15.0
        for start in range(0, len(self.station.ppe), 3):
            tallest = 0.0
            for i, code in enumerate(self.station.ppe[start : start + 3]):
                x = column.x + i * each
                label = type.fit(_sign_words(code), _SMALL, each - 1.4, 3)
                column.add(
                    Stamp(sign(code), x + (each - 1.4 - size) / 2, column.y, size),
                    *lines(
                        label.lines, (x, column.y + size + 0.8), each - 1.4, _SMALL, anchor="middle"
                    ),
                )
                tallest = max(tallest, label.height)
            column.y += size + tallest + 2.2

    def _reach(self, scene: locator.Scene, equipment: Equipment) -> str:
        """Where it is from where you stand: only what can be seen is given a distance."""
        high = millimetres(equipment.height_mm)
        if not scene.seen(equipment):
            says = _("not in sight: place {grid}, {high} mm up")
            return says.format(grid=self.atlas.grid_place(equipment.at), high=high)
        far = metres(scene.distance(equipment))
        return _("{far} from you, {high} mm up").format(far=far, high=high)

    # --- the job in short ---

    def _job(self, column: Column) -> None:
        job = self.atlas.shop.main_procedure(self.station.id)
        if job is None:
            return
        shown = job.steps[: self.full.steps]
        column.heading(str(job.name), _HEADING, _("about {n:g} min").format(n=job.takes_min))
        column.gap(0.8)
        columns = self._columns(column)
        self._headings(column, columns)
        for number, step in enumerate(shown, 1):
            self._step(column, columns, number, step)
        column.gap(1)
        if more := len(job.steps) - len(shown):
            says = ngettext(
                "{n} more step on its page in the handbook",
                "{n} more steps on its page in the handbook",
                more,
            )
            column.text(says.format(n=more), _BODY, colour="ink-soft")

    def _columns(self, column: Column) -> list[tuple[float, float]]:
        """Left edge and width of step and key point, as far as they are shown."""
        number, gap = 6.5, 3.5
        room = column.width - number
        if not self.full.key_points:
            return [(column.x + number, room)]
        half = room * 0.52
        return [(column.x + number, half - gap), (column.x + number + half, room - half)]

    def _headings(self, column: Column, columns: list[tuple[float, float]]) -> None:
        if len(columns) == 1:
            return
        names = (_("Step"), _("Key point"))
        for (x, width), name in zip(columns, names, strict=False):
            text = type.shorten(name, _SMALL, width)
            column.add(*lines((text,), (x, column.y), width, _SMALL, colour="ink-soft"))
        column.gap(_SMALL * LEADING + 0.6)
        column.rule(_THIN)

    def _step(
        self, column: Column, columns: list[tuple[float, float]], number: int, step: Step
    ) -> None:
        if step.hold:
            self._hold(column, _("Hold point: {until}").format(until=step.hold.until))
        column.gap(1.1)
        top, tallest = column.y, 0.0
        for i, ((x, width), text) in enumerate(
            zip(columns, (step.do, step.key_point), strict=False)
        ):
            fitted = type.fit(str(text), _BODY, width, 5, bold=i == 0)
            column.add(*lines(fitted.lines, (x, top), width, _BODY, bold=i == 0))
            tallest = max(tallest, fitted.height)
        column.add(*lines((str(number),), (column.x, top), 6, _BODY, bold=True))
        column.y = top + tallest + 1.1
        column.rule(_HAIR, "line")

    def _hold(self, column: Column, text: str) -> None:
        """Reversed, so that nobody passes it over."""
        fitted = type.fit(text, _BODY, column.width - 11, 3, bold=True)
        pause = signals.inked(signals.PAUSE, "sheet")
        height, at = fitted.height + 2.2, (column.x + 8, column.y + 1.1)
        column.add(
            reversed_band(column.x, column.y, column.width, height),
            Stamp(
                pause,
                column.x + 1.9,
                column.y + height / 2 - 2.1,
                4.2,
            ),
            *lines(fitted.lines, at, column.width - 11, _BODY, bold=True, colour="sheet"),
        )
        column.y += height


def _name_size(name: str, width: float) -> float:
    """The largest of a few sizes at which a name stands in one line, else in two."""
    for size in (22.0, 18.0, 15.0, 12.5):
        if type.width(name, size, bold=True) <= width:
            return size
    for size in (15.0, 12.5, 10.5):
        fitted = type.fit(name, size, width, 2, bold=True)
        if not fitted.cut and not any(line.endswith("-") for line in fitted.lines):
            return size
    return 9.0


def _rung(box: Box, state: str) -> Iterator[Item]:
    """A step: solid, hatched or open."""
    yield Rect(*box, Pen("ink" if state == "alone" else "sheet", "ink", _THICK))
    if state == "beside":
        data = "".join(path_of(line) for line in marks.slants(box, 1.6, rising=True))
        yield Path(data, _FRAME)
        yield Rect(*box, _FRAME)


def rungs(station: Station) -> Iterator[tuple[Level, str]]:
    """Each level with ``alone``, ``beside`` or "", from the lowest up."""
    use = station.use
    if use.alone == "maintainer":
        yield from ((level, "") for level in _LADDER)
        yield "maintainer", "alone"
        return
    alone = _LADDER.index(use.alone)
    beside = _LADDER.index(use.beside) if use.beside in _LADDER else alone
    for i, level in enumerate(_LADDER):
        yield level, "alone" if i >= alone else "beside" if i >= beside else ""
