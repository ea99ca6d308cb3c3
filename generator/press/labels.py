"""Labels for containers: a run of sheets for each condition, as many as an ordinary week needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from hashlib import sha256

from generator.drawings import labels
from generator.drawings.label_grid import Grid, plain
from generator.drawings.labels import Face, Run
from generator.drawings.words import word
from generator.ground.paper import paper
from generator.ground.wording import _, ngettext
from generator.press.order import Order
from generator.press.sheet import HELD_DAY, Drawn, Sheet
from generator.reference import reference
from generator.shop.records.material import Part
from generator.workings import labelling
from generator.workings.heat import refusal_of
from generator.workings.labelling import CONDITIONS, Tag

KIND = "label"


def sheets(order: Order) -> Iterator[Sheet]:
    """A run of labels for each condition in which containers are filled."""
    tags = order.studies.labels
    for n, condition in enumerate(CONDITIONS, 1):
        if mine := [tag for tag in tags if tag.condition == condition]:
            name = condition.replace(" ", "-")
            title = _("Labels: {condition}").format(condition=word(condition))
            yield _run(order, mine, (f"labels-{name}", f"LB-{n:02d}", title))


def in_one_run(order: Order, conditions: Sequence[str]) -> Sheet | None:
    """The labels of some conditions, of all where none is named, in one run of sheets."""
    tags = order.studies.labels
    mine = [tag for tag in tags if not conditions or tag.condition in conditions]
    return _run(order, mine, ("labels", "LB-00", _("Labels"))) if mine else None


def grid_of(order: Order) -> Grid:
    """The sheets of labels that the shop prints on; plain paper where it says none."""
    printer = order.shop.shop.printer
    if own := printer.own_label_sheet:
        return Grid(order.paper, own.columns, own.rows, *own.size, *own.first, *own.step)
    if printer.label_sheet:
        row = reference().label_grids[printer.label_sheet]
        return Grid(paper(row.paper), row.columns, row.rows, row.width, row.height, row.left,
                    row.top, row.across, row.down)  # fmt: skip
    return plain(order.paper)


def _run(order: Order, tags: Sequence[Tag], named: tuple[str, str, str]) -> Sheet:
    """One run: each kind of label is drawn once and set as often as it is needed."""
    id_, number, title = named
    grid, offset = grid_of(order), order.shop.shop.printer.label_offset or (0.0, 0.0)
    shop = str(order.shop.shop.name)
    size = (grid.width, grid.height)
    drawn = [(labels.draw(_face(order, tag), size, shop, HELD_DAY), tag) for tag in tags]
    wanted = [label for label, tag in drawn for _n in range(tag.count)]
    run = Run(grid, order.first_label, offset)
    return Sheet(
        id=id_,
        kind=KIND,
        number=number,
        title=title,
        paper=grid.paper,
        body=Drawn(labels.sheets(run, wanted, order.foot(number), title)),
        language=order.language,
        about=tuple(dict.fromkeys(f"stations/{s}" for tag in tags for s in _stations(order, tag))),
        hangs=_stuck(len(wanted), grid),
        shows=sha256("".join(f"{x.content}{tag.count}" for x, tag in drawn).encode()).hexdigest(),
        note=_untold(sum(bool(label.untold) for label, _tag in drawn), grid),
    )


def _stuck(count: int, grid: Grid) -> str:
    says = ngettext("{n} label on a container, {across} x {down} mm",
                    "{n} labels on containers, {across} x {down} mm", count)  # fmt: skip
    return says.format(n=count, across=f"{grid.width:g}", down=f"{grid.height:g}")


def _untold(count: int, grid: Grid) -> str:
    """What a label is too small to say."""
    if not count:
        return ""
    says = ngettext(
        "{n} kind of label has no room for all it should warn of: take one higher than {high} mm.",
        "{n} kinds of label have no room for all they should warn of: take one higher than "
        "{high} mm.",
        count,
    )
    return says.format(n=count, high=f"{grid.height:g}")


def _stations(order: Order, tag: Tag) -> Iterator[str]:
    """Where such containers come from or go to."""
    for station in order.shop.stations_by_number:
        handed = (*station.takes_in, *station.gives)
        if any(h.container == tag.container and h.container for h in handed):
            yield station.id


def _face(order: Order, tag: Tag) -> Face:
    shop = order.shop
    warnings = labelling.warnings(shop, tag)
    if tag.blend:
        blend = shop.blends[tag.blend]
        codes = dict.fromkeys(shop.polymers[part.polymer].code for part in blend.parts)
        shares = ", ".join(_share(order, part) for part in blend.parts)
        return Face(tag.condition, str(blend.name), tuple(codes), shares, warnings)
    if not tag.polymer:
        return Face(tag.condition, "", (), "", warnings)
    polymer = shop.polymers[tag.polymer]
    colour = str(polymer.colours[tag.colour].name) if tag.colour in polymer.colours else ""
    said = colour or tag.colour or _("mixed colours")
    never = bool(refusal_of(polymer))
    return Face(tag.condition, polymer.code, (polymer.code,), said, warnings, never)


def _share(order: Order, part: Part) -> str:
    polymer = order.shop.polymers[part.polymer]
    lot = polymer.colours.get(part.colour or "")
    colour = f" {lot.name}" if lot else ""
    return f"{part.share_percent:g}\u202f% {polymer.code}{colour}"
