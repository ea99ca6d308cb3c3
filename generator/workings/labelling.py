"""Which labels the shop's containers need, how many of each, and what each must warn of.

A label is for one polymer and colour in one condition, since a container holds no more than that.
Counts are what an ordinary week fills anew, as the storage workings have it; in quarantine as many
as there are places.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.ground.units import show
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.material import Container, Polymer
from generator.shop.records.refs import Condition
from generator.shop.shop import Shop
from generator.workings.filling import Filling
from generator.workings.flow.making import Makings
from generator.workings.heat import refusal_of
from generator.workings.intake import Stream, streams
from generator.workings.losses import Losses
from generator.workings.material import MaterialStudy
from generator.workings.moulding.kit import Kit

CONDITIONS: tuple[Condition, ...] = (
    "as donated",
    "sorted",
    "washed",
    "flake",
    "blend",
    "quarantine",
    "refuse",
)
"""What containers hold, in the order in which the material goes."""

_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class Tag:
    """One kind of label and how many of it are needed.

    ``polymer``, ``colour``, ``blend`` and ``container`` are ids, "" where the label bears none.
    """

    condition: Condition
    polymer: str = ""
    colour: str = ""
    blend: str = ""
    container: str = ""
    count: int = 1


def study(shop: Shop, material: MaterialStudy, kit: Kit | None = None) -> tuple[Tag, ...]:
    """Every label an ordinary week needs, condition by condition.

    Parameters
    ----------
    shop
        The shop.
    material
        What was worked out of where its material goes and waits.
    kit
        What runs are worked out from, where moulding has made it before.
    """
    filling = Filling(shop)
    made = (
        *_as_donated(shop, filling, streams(shop, Losses(shop))),
        *_of_lots(filling, material),
        *_of_blends(shop, Makings(shop, kit)),
        *_of_doubt(shop, material),
        *_of_refuse(shop, material),
    )
    return tuple(sorted(made, key=lambda tag: CONDITIONS.index(tag.condition)))


def _as_donated(shop: Shop, filling: Filling, sources: Iterable[Stream]) -> Iterator[Tag]:
    """A label for each container that is filled at the counter, its colours still mixed."""
    counts: dict[tuple[str, str], int] = defaultdict(int)
    for stream in sources:
        named, kg = shop.donors[stream.donor].container, stream.after("hand-in")
        fill = filling.best(stream.polymer, "as donated")
        if named:
            fill = filling.fill(shop.containers[named], stream.polymer, "as donated") or fill
        if fill and kg > 0 and shop.polymers[stream.polymer].status == "taken":
            counts[stream.polymer, fill.container.id] += fill.count(kg)
    for (polymer, container), count in counts.items():
        yield Tag("as donated", polymer, container=container, count=count)


def _of_lots(filling: Filling, material: MaterialStudy) -> Iterator[Tag]:
    """Sorted and cut as storage counts them; washed as many as the sorted ones fill anew."""
    for lot in material.storage.lots:
        condition: Condition = "flake" if lot.condition == "flake" else "sorted"
        if lot.labels and lot.fill:
            box = lot.fill.container.id
            yield Tag(condition, lot.polymer, lot.colour, container=box, count=lot.labels)
        wet = filling.for_lot(lot.polymer, "washed", lot.week_kg)
        if condition == "sorted" and wet and lot.week_kg > 0:
            box, count = wet.container.id, wet.count(lot.week_kg)
            yield Tag("washed", lot.polymer, lot.colour, container=box, count=count)


def _of_blends(shop: Shop, makings: Makings) -> Iterator[Tag]:
    """A label for each tub that the week's blends fill."""
    box = _box_for(shop, "blend")
    masses: dict[str, float] = defaultdict(float)
    for making in makings.weekly:
        masses[making.blend.id] += making.formed_kg
    for blend, kg in masses.items():
        if box and kg > 0:
            yield Tag("blend", blend=blend, container=box.id, count=_boxes(kg, box))


def _of_doubt(shop: Shop, material: MaterialStudy) -> Iterator[Tag]:
    box, places = _box_for(shop, "quarantine"), material.storage.quarantine.places
    if box and places:
        yield Tag("quarantine", container=box.id, count=places)


def _of_refuse(shop: Shop, material: MaterialStudy) -> Iterator[Tag]:
    box, kg = _box_for(shop, "refuse"), material.waste.refuse_kg
    if box and kg > 0:
        yield Tag("refuse", container=box.id, count=_boxes(kg, box))


def _box_for(shop: Shop, condition: Condition) -> Container | None:
    boxes = [c for c in shop.containers.values() if condition in c.keeps]
    return max(boxes, key=lambda c: c.most_kg, default=None)


def _boxes(kg: float, box: Container) -> int:
    return math.ceil(round(kg / box.most_kg, 9))


# --- what a label warns of -----------------------------------------------------------------------


def warnings(shop: Shop, tag: Tag) -> tuple[str, ...]:
    """What must not be done with what a container holds, the worst first."""
    said = (*of_polymers(shop, tag), *_of_condition(tag), *_of_container(shop, tag))
    return tuple(dict.fromkeys(said))


def of_polymers(shop: Shop, tag: Tag) -> Iterator[str]:
    """What its polymers ask for."""
    for polymer in _polymers(shop, tag):
        if refusal_of(polymer):
            yield _("Never heat it")
        if tag.polymer and (strangers := _strangers(shop, polymer)):
            says = _("Only {code}; above all no {codes}")
            yield says.format(code=polymer.code, codes=", ".join(strangers))
        known = reference().find_polymer(polymer.code)
        if known and known.hygroscopic:
            yield _("Do not melt it undried")


def _polymers(shop: Shop, tag: Tag) -> list[Polymer]:
    if tag.polymer:
        return [shop.polymers[tag.polymer]]
    parts = shop.blends[tag.blend].parts if tag.blend else ()
    return [shop.polymers[id_] for id_ in dict.fromkeys(part.polymer for part in parts)]


def _strangers(shop: Shop, polymer: Polymer) -> tuple[str, ...]:
    """This shop's other polymers that must not meet it, then those that spoil it."""
    found: dict[str, bool] = {}
    for other in shop.polymers.values():
        if other.code in (polymer.code, "unknown"):
            continue
        match = reference().compatible(polymer.code, other.code)
        danger = bool(reference().never_together((polymer.code, other.code)))
        if danger or match.refused or match.worst in ("N", "X"):
            found.setdefault(other.code, danger or match.refused)
    return tuple(sorted(found, key=lambda code: not found[code]))[:_MOST_NAMED]


def _of_condition(tag: Tag) -> Iterator[str]:
    words: Mapping[str, tuple[str, ...]] = {
        "as donated": (_("Do not wash or cut before sorting"),),
        "sorted": (_("No piece without a readable mark"),),
        "washed": (_("Do not close it while damp"),),
        "flake": (_("Do not top up from another batch"),),
        "blend": (_("Weighed: add nothing more"),),
        "quarantine": (_("Do not sort, cut or heat it"), _("Do not move it from its place")),
        "refuse": (_("Take nothing out"), _("Do not heat it")),
    }
    yield from words.get(tag.condition, ())


def _of_container(shop: Shop, tag: Tag) -> Iterator[str]:
    if tag.container and tag.condition not in ("quarantine",):
        most = show(shop.containers[tag.container].most_kg, "kg")
        yield _("No more than {most}").format(most=most)
