"""What is said of one station on its card and on its sheets, part by part down a column.

Each part is set at its own sizes and measured; who lays out a face decides which parts stand on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.drawings import locator, marks, signals, type
from generator.drawings.atlas import Atlas
from generator.drawings.column import Column, lines, reversed_band
from generator.drawings.ink import Box, Item, Path, Pen, Rect, Stamp, Symbol, path_of
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

_RULE_GAP = 2.6
_THICK, _THIN, _HAIR = 0.5, 0.25, 0.13
_FRAME = Pen(stroke="ink", width=_THICK)
_LADDER: tuple[Level, ...] = LADDER


@dataclass(frozen=True, slots=True)
class Fullness:
    """How much of the card is said; what has no room is left to the handbook."""

    whys: bool = True
    key_points: bool = True
    handovers: int = 6
    steps: int = 99


@dataclass(frozen=True, slots=True)
class Sizes:
    """Type of a face [mm]: of headings, of what must be read first, of the rest, of asides."""

    heading: float = 5.0
    strong: float = 4.8
    body: float = 3.4
    small: float = 3.0
    sign: float = 14.5
    """A safety sign beside a rule."""
    worn: float = 15.0
    """A sign for what is worn."""
    most: int = 3
    """Lines that a rule may take."""


def sign_words(code: str) -> str:
    """What a sign says, from the register, or its code where it is not in it."""
    registered = reference().signs
    return _(registered[code].refers) if code in registered else code


def spoken(station: Station) -> str:
    """What the parts of a station say, in words."""
    says = _("{purpose} Alone: {level}. Wear: {ppe}. Never: {nevers}.")
    return says.format(
        purpose=station.purpose,
        level=word(station.use.alone),
        ppe=", ".join(map(sign_words, station.ppe)) or _("nothing in particular"),
        nevers="; ".join(str(rule.say) for rule in station.nevers) or _("none recorded"),
    )


def place_words(atlas: Atlas, station: Station) -> str:
    """Where it stands on the plan, and how many of what age may be at it."""
    use = station.use
    parts = [_("Place {grid} on the plan.").format(grid=atlas.grid_place(station.at))]
    people = ngettext("One person at a time.", "At most {n} people.", use.people)
    parts.append(people.format(n=use.people))
    if use.least_age_years:
        parts.append(_("From {age:g} years.").format(age=use.least_age_years))
    return " ".join(parts)


class Parts:
    """The parts of one station, at the sizes of one face."""

    def __init__(self, atlas: Atlas, station: Station, sizes: Sizes = Sizes()) -> None:
        self.atlas, self.station, self.sizes = atlas, station, sizes
        self.full = Fullness()

    def rule_between(self, column: Column) -> None:
        """A rule before another part, unless it is the first."""
        if column.items:
            column.rule(_THIN)
            column.gap(_RULE_GAP)

    # --- who may use it ---

    def rungs(self, column: Column) -> None:
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

    def has_drive(self) -> bool:
        machines = self.atlas.shop.machines_at(self.station.id)
        return any(machine.electric or machine.lock_out for machine in machines)

    # --- what must never happen, what goes in and out ---

    def nevers(self, column: Column) -> None:
        column.heading(_("Never"), self.sizes.heading)
        column.gap(1.2)
        for rule in self.station.nevers[:3]:
            self._never(column, rule)
        column.gap(0.5)

    def _never(self, column: Column, rule: Rule) -> None:
        size, start = self.sizes.sign - 2.5 * (not self.full.whys), column.y
        column.add(Stamp(sign(rule.sign or "P001"), column.x, start, size))
        column.text(
            str(rule.say), self.sizes.strong, bold=True, indent=size + 3.5, most=self.sizes.most
        )
        if rule.why and self.full.whys:
            column.gap(0.4)
            column.text(str(rule.why), self.sizes.body, indent=size + 3.5, most=4)
        column.y = max(column.y, start + size) + 2.4

    def flow(self, column: Column) -> None:
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
            part.heading(name, self.sizes.heading)
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
            column.text(str(handover.what), self.sizes.body, bold=True, most=2)
            if where := self._where(handover, way):
                column.text(where, self.sizes.small, colour="ink-soft", most=2)
            column.gap(1)
        if len(handovers) > self.full.handovers:
            more = len(handovers) - self.full.handovers
            says = ngettext("{n} more in the handbook", "{n} more in the handbook", more)
            column.text(says.format(n=more), self.sizes.small, colour="ink-soft")
        if not handovers:
            column.text(_("nothing recorded"), self.sizes.body, colour="ink-soft")

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
        across, high, size, small = 8.4, 6.0, 3.6, self.sizes.small
        x, room = column.x, column.x + column.width
        for key in ids:
            polymer = self.atlas.shop.polymers[key]
            never = bool(refusal_of(polymer))
            iso = marks.iso_mark(polymer.code)
            wide = max(type.width(polymer.code, size, True), type.width(iso, small))
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
                *lines((type.shorten(iso, small, wide),), below, wide, small, colour="ink-soft"),
            )
            x += across + 1.2 + wide + 2.6
        column.y += high + 3.2

    # --- turn it off, help in sight, what to wear ---

    def turn_off(self, column: Column, tall: float) -> locator.Scene:
        self.rule_between(column)
        off = self.atlas.shop.cut_offs(self.station.id)
        turns_off = off or self.has_drive()
        column.heading(
            _("Turn it off, lock it off") if turns_off else _("Where it stands"), self.sizes.heading
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
            says = _("No isolator is recorded for it: ask before it is opened up.")
            column.text(says, self.sizes.body)
        column.gap(0.5)
        return scene

    def help(self, column: Column, scene: locator.Scene) -> None:
        """The nearest extinguisher, first aid and way out that can be seen, and no other."""
        shop = self.atlas.shop
        column.heading(_("In sight from here"), self.sizes.heading)
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
        column.text(name, self.sizes.body, bold=True, indent=size + 2.2, most=2)
        if small:
            column.text(small, self.sizes.small, indent=size + 2.2, most=2)
        column.y = max(column.y, start + size + 0.6) + 1.5

    def wear(self, column: Column) -> None:
        if not self.station.ppe:
            return
        column.heading(_("Wear"), self.sizes.heading)
        column.gap(1.2)
        across = self._worn_across(column.width)
        for start in range(0, len(self.station.ppe), across):
            self._worn(column, self.station.ppe[start : start + across], column.width / across)

    def _worn_across(self, width: float) -> int:
        """Three in a row, or two where a word would be broken."""
        words = " ".join(map(sign_words, self.station.ppe)).split()
        longest = max(type.width(word, self.sizes.small) for word in words)
        return 3 if longest <= width / 3 - 1.4 else 2

    def _worn(self, column: Column, codes: Sequence[str], each: float) -> None:
        size, tallest, below = self.sizes.worn, 0.0, column.y + self.sizes.worn + 0.8
        for i, code in enumerate(codes):
            x = column.x + i * each
            label = type.fit(sign_words(code), self.sizes.small, each - 1.4, 3)
            column.add(
                Stamp(sign(code), x + (each - 1.4 - size) / 2, column.y, size),
                *lines(label.lines, (x, below), each - 1.4, self.sizes.small, anchor="middle"),
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

    def job(self, column: Column) -> None:
        job = self.atlas.shop.main_procedure(self.station.id)
        if job is None:
            return
        shown = job.steps[: self.full.steps]
        lasts = _("about {n:g} min").format(n=job.takes_min)
        column.heading(str(job.name), self.sizes.heading, lasts)
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
            column.text(says.format(n=more), self.sizes.body, colour="ink-soft")

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
            text = type.shorten(name, self.sizes.small, width)
            column.add(*lines((text,), (x, column.y), width, self.sizes.small, colour="ink-soft"))
        column.gap(self.sizes.small * LEADING + 0.6)
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
            fitted = type.fit(str(text), self.sizes.body, width, 5, bold=i == 0)
            column.add(*lines(fitted.lines, (x, top), width, self.sizes.body, bold=i == 0))
            tallest = max(tallest, fitted.height)
        column.add(*lines((str(number),), (column.x, top), 6, self.sizes.body, bold=True))
        column.y = top + tallest + 1.1
        column.rule(_HAIR, "line")

    def _hold(self, column: Column, text: str) -> None:
        """Reversed, so that nobody passes it over."""
        fitted = type.fit(text, self.sizes.body, column.width - 11, 3, bold=True)
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
            *lines(fitted.lines, at, column.width - 11, self.sizes.body, bold=True, colour="sheet"),
        )
        column.y += height


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
