"""Which colours are worth a crate of their own, and which go together as the rest."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.reference import reference
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.intake import Stream, colour_shares, flake_by_lot

_FOUR_WEEKS = 4


@dataclass(frozen=True, slots=True)
class ColourGroup:
    """Colours of a polymer that are kept together.

    ``colours`` are ids of the polymer's; more than one only in the ``rest``. ``kg`` of flake
    stands here, ``weekly_kg`` comes in, and ``blends`` draw on it.
    """

    polymer: str
    colours: tuple[str, ...]
    rest: bool
    kg: float
    weekly_kg: float
    blends: tuple[str, ...]

    @property
    def too_little(self) -> bool:
        """Whether no blend wants it and little comes, so that it is not worth keeping apart."""
        least = reference().limit("colour-least").low
        return not self.rest and not self.blends and self.weekly_kg * _FOUR_WEEKS < least


def groups(shop: Shop, sources: Iterable[Stream]) -> tuple[ColourGroup, ...]:
    """Every polymer's colours: each that a blend names or of which enough comes in by itself,
    all others as the rest.

    A colour that the shop itself calls ``rest`` is the rest.
    """
    stock, week, blends = flake_by_lot(shop), _weekly(shop, sources), _blends(shop)
    return tuple(
        group
        for polymer in shop.polymers.values()
        if polymer.status == "taken"
        for group in _of(polymer, stock, week, blends)
    )


_Lot = tuple[str, str]


def _weekly(shop: Shop, sources: Iterable[Stream]) -> Mapping[_Lot, float]:
    week: dict[_Lot, float] = defaultdict(float)
    shares = colour_shares(shop)
    for stream in sources:
        for colour, share in shares.get(stream.polymer, {}).items():
            week[stream.polymer, colour] += share * stream.after("granulating")
    return week


def _blends(shop: Shop) -> Mapping[_Lot, list[str]]:
    named: dict[_Lot, list[str]] = defaultdict(list)
    for blend in shop.blends.values():
        for part in blend.parts:
            named[part.polymer, part.colour or ""].append(blend.id)
    return named


def _of(
    polymer: Polymer,
    stock: Mapping[_Lot, float],
    week: Mapping[_Lot, float],
    blends: Mapping[_Lot, list[str]],
) -> Iterator[ColourGroup]:
    least = reference().limit("colour-least").low
    alone: list[str] = []
    rest: list[str] = []
    for colour in polymer.colours:
        lot = (polymer.id, colour)
        enough = blends.get(lot) or week.get(lot, 0.0) * _FOUR_WEEKS >= least
        kept = colour != "rest" and (enough or stock.get(lot))
        (alone if kept else rest).append(colour)
    for colours, is_rest in (*(((c,), False) for c in alone), (tuple(rest), True)):
        lots = [(polymer.id, colour) for colour in colours]
        if lots:
            yield ColourGroup(
                polymer.id, colours, is_rest, sum(stock.get(lot, 0.0) for lot in lots),
                sum(week.get(lot, 0.0) for lot in lots),
                tuple(dict.fromkeys(b for lot in lots for b in blends.get(lot, ()))),
            )  # fmt: skip
