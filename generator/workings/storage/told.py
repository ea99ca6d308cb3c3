"""What is shown of storage: workings with their inputs, and findings."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.shop.shop import Shop
from generator.workings.filling import Filling
from generator.workings.shown import given, worked_out
from generator.workings.storage.found import Found, Weight
from generator.workings.storage.needs import KindNeed, Need
from generator.workings.storage.shelves import FloorUse, ShelfUse, kept_anywhere


def lot_name(shop: Shop, need: Need) -> str:
    """A lot as it is said: its polymer and its colour."""
    polymer = shop.polymers[need.polymer]
    colour = polymer.colours.get(need.colour)
    return f"{polymer.name} {colour.name if colour else need.colour}".strip()


# --- workings ----------------------------------------------------------------------------------


def workings(shop: Shop, found: Found, filling: Filling) -> Iterator[Working]:
    """Every figure of storage with what it was worked out from."""
    for need in found.lots:
        yield _of_lot(shop, need, filling)
    for kind in found.kinds:
        yield _of_kind(shop, kind, found)
    for use in found.shelves:
        yield _of_shelf(shop, use)
    for weight in found.weights:
        yield _of_weight(shop, weight)
    if found.floor:
        yield _of_floor(found)
    if found.quarantine.boxes:
        yield _of_quarantine(found)


def _of_lot(shop: Shop, need: Need, filling: Filling) -> Working:
    key = ".".join(part for part in (need.polymer, need.colour, need.condition) if part)
    title = _("Containers for {lot}, before it is cut")
    if need.condition == "flake":
        title = _("Containers for {lot} as flake")
    place = shop.polymers[need.polymer].origin
    inputs: tuple[Input, ...] = (
        given(_("Stands here"), round(need.now_kg, 2), "kg", Origin("stock.csv")),
        given(_("A week brings"), round(need.week_kg, 2), "kg", worked_out()),
        given(_("Containers counted"), need.counted, "", Origin("stock.csv")),
    )
    verdict, caution = Verdict.INFORMS, ""
    if need.fill is None:
        verdict, caution = Verdict.UNANSWERED, _("Nobody has written how dense it lies, or which "
                                                 "container keeps it.")  # fmt: skip
    else:
        holds = given(
            _("Goes into one {container}").format(container=need.fill.container.name),
            round(need.fill.content_kg, 2), "kg", place,
        )  # fmt: skip
        inputs = (*inputs, holds, *filling.inputs(need.fill))
        caution = _bound(need)
    return Working(
        f"storage.lot.{key}", f"polymers/{need.polymer}",
        title.format(lot=lot_name(shop, need)),
        _("mass / the least of volume × filled × bulk density, rating, and what one person lifts"),
        inputs, Quantity(need.after_a_week, ""), verdict, caution=caution,
    )  # fmt: skip


def _bound(need: Need) -> str:
    assert need.fill is not None
    if need.counted > need.fewest:
        return _("Counted: {counted}; filled, {fewest} would do.").format(
            counted=need.counted, fewest=need.fewest
        )
    if need.fill.bound == "lift":
        return _("Filled only as far as one person may lift it.")
    return ""


def _of_kind(shop: Shop, kind: KindNeed, found: Found) -> Working:
    box = kind.container
    lots = [n for n in found.lots if n.fill and n.fill.container.id == box.id]
    return Working(
        f"storage.containers.{box.id}", f"containers/{box.id}",
        _("{container}: how many are needed").format(container=box.name),
        _("sum over the lots, each in containers of its own"),
        (
            *(given(lot_name(shop, n), n.now, "", shop.polymers[n.polymer].origin) for n in lots),
            given(_("With what a week brings"), kind.after_a_week, "", worked_out()),
            given(_("At the shop's limits"), kind.at_limit, "", worked_out()),
            given(_("Labels a week"), kind.labels, "", worked_out()),
        ),
        Quantity(kind.now, ""),
        Verdict.HOLDS if kind.spare >= 0 else Verdict.FAILS,
        Quantity(box.owned, ""), box.origin_of("owned"), Quantity(kind.spare, ""),
    )  # fmt: skip


def _of_shelf(shop: Shop, use: ShelfUse) -> Working:
    shelf, station = use.shelf, shop.stations[use.station]
    kept = [
        given(str(shop.containers[kind].name), count, "", shop.containers[kind].origin)
        for kind, count in use.kept.items()
    ]
    spare = use.have_mm - use.need_mm["now"]
    return Working(
        f"storage.shelf.{use.station}.{use.number + 1}", f"stations/{use.station}",
        _("Shelf length taken at {station}").format(station=station.name),
        _("Σ containers × length of shelf each takes, side by side, behind one another, stacked"),
        (
            given(_("Levels"), shelf.levels, "", shelf.origin_of("levels")),
            given(_("Length"), shelf.length_mm, "mm", shelf.origin_of("length_mm")),
            given(_("Depth"), shelf.depth_mm, "mm", shelf.origin_of("depth_mm")),
            given(_("Between levels"), shelf.level_height_mm, "mm",
                  shelf.origin_of("level_height_mm")),
            *kept,
            given(_("Taken after a week"), round(use.need_mm["week"]), "mm", worked_out()),
        ),
        Quantity(round(use.need_mm["now"]), "mm"),
        Verdict.FAILS if use.is_full else Verdict.HOLDS,
        Quantity(use.have_mm, "mm"), shelf.origin, Quantity(round(spare), "mm"),
    )  # fmt: skip


def _of_weight(shop: Shop, weight: Weight) -> Working:
    box = weight.container
    of = shop.polymers[weight.of].name if weight.of else _("its rating")
    return Working(
        f"storage.weight.{box.id}", f"containers/{box.id}",
        _("{container} when full").format(container=box.name),
        _("empty + the least of its rating and the heaviest that fills it"),
        (
            given(_("Empty"), box.empty_kg, "kg", box.origin_of("empty_kg")),
            given(_("Rating"), box.most_kg, "kg", box.origin_of("most_kg")),
            given(_("Filled, by {of}").format(of=of), round(weight.full_kg - box.empty_kg, 2), "kg",
                  box.origin),
        ),
        Quantity(round(weight.full_kg, 2), "kg"),
        Verdict.FAILS if weight.too_heavy else Verdict.HOLDS,
        Quantity(weight.lift.kg, "kg"), weight.lift.origin,
        Quantity(round(weight.lift.kg - weight.full_kg, 2), "kg"),
        _("A screening weight at elbow height, close to the body: lower above the shoulder and "
          "below the knee, and not for children."),
    )  # fmt: skip


def _of_floor(found: Found) -> Working:
    area = sum(use.area_m2 for use in found.floor)
    return Working(
        "storage.floor", "room", _("Floor taken by what finds no shelf"),
        _("Σ stacks × width × depth of a container"),
        tuple(
            given(_("{container}, {n} in stacks of {high}").format(
                container=use.container.name, n=use.count, high=use.high),
                round(use.area_m2, 2), "m²", use.container.origin)
            for use in found.floor
        ),
        Quantity(round(area, 2), "m²"), Verdict.INFORMS,
        Quantity(round(found.free_floor_m2, 1), "m²"), Origin("room.yml"),
        Quantity(round(found.free_floor_m2 - area, 1), "m²"),
        _("The floor that no station stands on is all there is, aisles and working sides in it."),
    )  # fmt: skip


def _of_quarantine(found: Found) -> Working:
    kept = found.quarantine
    return Working(
        "storage.quarantine", "shop", _("Quarantine places taken"), _("batches that wait there"),
        (
            given(_("Boxes owned"), kept.boxes, "", Origin("containers.yml")),
            given(_("Boxes that find a place"), kept.shelved, "", Origin("stations.yml")),
            given(_("Longest stay"), kept.longest_d, "d", kept.origin),
            *(
                given(w.batch.batch, w.days, "d", w.batch.origin)
                for w in kept.waiting
            ),
        ),
        Quantity(len(kept.waiting), ""),
        Verdict.FAILS if kept.free <= 0 or kept.overdue else Verdict.HOLDS,
        Quantity(kept.places, ""), Origin("stations.yml"), Quantity(kept.free, ""),
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def findings(shop: Shop, found: Found) -> Iterator[Finding]:
    """What the lead must know of storage."""
    for pause in found.pauses:
        yield Finding(
            "storage.paused", Severity.FIX, shop.polymers[pause.polymer].origin, pause.says,
            _("Say so at the door, and make or hand on some of it."),
            subject=f"polymers/{pause.polymer}",
        )  # fmt: skip
    for kind in found.kinds:
        yield from _of_owned(kind)
    for use in found.shelves:
        yield from _of_places(shop, use)
    yield from _of_limits(shop, found)
    for weight in found.weights:
        if weight.too_heavy:
            yield _heavy(weight)
    yield from _on_the_floor(shop, found)
    yield from _not_answered(shop, found)
    yield from _in_quarantine(found)


def _of_owned(kind: KindNeed) -> Iterator[Finding]:
    box = kind.container
    if kind.after_a_week <= box.owned:
        return
    severity = Severity.FIX if kind.spare < 0 else Severity.NOTE
    says = _("{container}: {now} are needed now and {week} after a week, and there are {owned}.")
    if kind.now == kind.after_a_week:
        says = _("{container}: {now} are needed now, and there are {owned}.")
    yield Finding(
        "storage.too-few", severity, box.origin_of("owned"),
        says.format(container=box.name, now=kind.now, week=kind.after_a_week, owned=box.owned),
        ngettext("Get {n} more, or fill what is half empty.",
                 "Get {n} more, or fill those that are half empty.",
                 kind.after_a_week - box.owned).format(n=kind.after_a_week - box.owned),
        subject=f"containers/{box.id}", working=f"storage.containers.{box.id}",
    )  # fmt: skip


def _of_places(shop: Shop, use: ShelfUse) -> Iterator[Finding]:
    station = shop.stations[use.station]
    if not use.is_full:
        return
    says = _("The shelves of station {number}, {station}, are full: {need} of {have}.").format(
        number=station.number, station=station.name,
        need=show(round(use.need_mm["now"]), "mm"), have=show(use.have_mm, "mm"),
    )  # fmt: skip
    yield Finding(
        "storage.shelf-full", Severity.NOTE, use.shelf.origin, says,
        _("Empty a container, add a level, or take in less."),
        subject=f"stations/{use.station}", working=f"storage.shelf.{use.station}.{use.number + 1}",
    )  # fmt: skip


def _of_limits(shop: Shop, found: Found) -> Iterator[Finding]:
    """Whether the shelves hold what the shop lets itself keep."""
    shelved = kept_anywhere(shop)
    for kind in found.kinds:
        box = kind.container
        held = [use for use in found.shelves if use.places.get(box.id)]
        places = sum(use.places[box.id] for use in held)
        if (
            box.id not in shelved
            or kind.at_limit <= max(places, kind.now)
            or "flake" not in box.keeps
        ):
            continue
        says = _("The shop's limits let {n} of {container} stand here, and the shelves take "
                 "{places} if nothing else stands on them.").format(
            n=kind.at_limit, container=box.name, places=places
        )  # fmt: skip
        yield Finding(
            "storage.limits", Severity.NOTE, held[0].shelf.origin if held else box.origin, says,
            _("Lower a `store_limit`, or find more shelves."),
            subject=f"containers/{box.id}", working=f"storage.containers.{box.id}",
        )  # fmt: skip


def _heavy(weight: Weight) -> Finding:
    box = weight.container
    says = _("{container} weighs {full} when full, and one person lifts {lift} at most.").format(
        container=box.name, full=show(weight.full_kg, "kg", 1), lift=show(weight.lift.kg, "kg", 1)
    )
    mend = _("Fill it with {may} at most and write that under `most`, or lift it with two.").format(
        may=show(weight.may_hold_kg, "kg", 1)
    )
    return Finding(
        "storage.heavy", Severity.FIX, box.origin_of("most_kg"), says, mend,
        subject=f"containers/{box.id}", working=f"storage.weight.{box.id}",
    )  # fmt: skip


def _on_the_floor(shop: Shop, found: Found) -> Iterator[Finding]:
    """Containers for which there are shelves, and no place on them."""
    shelved = kept_anywhere(shop)
    for use in found.floor:
        if use.container.id in shelved and use.count:
            yield _no_place(use)


def _no_place(use: FloorUse) -> Finding:
    says = ngettext(
        "{n} of {container} finds no place on the shelves that keep it and takes {area} of floor.",
        "{n} of {container} find no place on the shelves that keep them and take {area} of floor.",
        use.count,
    ).format(n=use.count, container=use.container.name, area=show(use.area_m2, "m2", 2))
    return Finding(
        "storage.no-place", Severity.NOTE, use.container.origin, says,
        _("Write the shelves where they stand, or work them off before more is taken in."),
        subject=f"containers/{use.container.id}", working="storage.floor",
    )  # fmt: skip


def _not_answered(shop: Shop, found: Found) -> Iterator[Finding]:
    for need in found.lots:
        if need.fill is None:
            polymer = shop.polymers[need.polymer]
            says = _("How many containers {lot} needs cannot be told: nobody has written how dense "
                     "it lies, or which container keeps it.").format(
                lot=lot_name(shop, need)
            )  # fmt: skip
            yield Finding(
                "storage.density", Severity.NOTE, polymer.origin, says,
                _("Weigh a full pail of it and write its bulk density under `own`."),
                subject=f"polymers/{need.polymer}",
            )  # fmt: skip


def _in_quarantine(found: Found) -> Iterator[Finding]:
    kept = found.quarantine
    for waiting in kept.overdue:
        says = _("{batch} has waited in quarantine for {days} days, and {most} is the longest.")
        yield Finding(
            "storage.quarantine-stay", Severity.FIX, waiting.batch.origin,
            says.format(batch=waiting.batch.batch, days=waiting.days,
                        most=show(kept.longest_d, "d")),
            _("Tell it apart, or let it leave the house."), subject="logs/batches",
            working="storage.quarantine",
        )  # fmt: skip
    if kept.boxes and kept.free <= 0:
        says = _("All {places} quarantine places are taken.").format(places=kept.places)
        yield Finding(
            "storage.quarantine-full", Severity.FIX, Origin("containers.yml"), says,
            _("Hand back whatever is doubtful until one is free."), working="storage.quarantine",
        )  # fmt: skip
