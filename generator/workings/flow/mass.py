"""The mass balance of an ordinary week: in at the counter, out as products or as something else.

Every kilogram that enters a place leaves it again, is lost there, or stays as stock. Sprues and
what is trimmed off at a bench that hands to the granulator go round once more, where the blend
is of one polymer.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from generator.ground.wording import N_
from generator.shop.records.machines import Machine
from generator.shop.shop import Shop
from generator.workings.flow.making import Making
from generator.workings.heat import refusal_of
from generator.workings.intake import Stream, open_weeks
from generator.workings.losses import Losses

Place = Literal[
    "donated", "rejected", "sorting", "residue", "washing", "sludge", "granulating", "fines",
    "store", "weighing", "stirred-in", "forming", "purgings", "finishing", "trimmings", "products",
    "drawn", "laid-in",
]  # fmt: skip
PLACE_WORDS: Mapping[Place, str] = {
    "donated": N_("Put on the scale"),
    "rejected": N_("Rejected at the counter"),
    "sorting": N_("Sorted"),
    "residue": N_("Sorted out"),
    "washing": N_("Washed and dried"),
    "sludge": N_("Washed off"),
    "granulating": N_("Granulated"),
    "fines": N_("Fines"),
    "store": N_("Flake store"),
    "weighing": N_("Weighed to recipes"),
    "stirred-in": N_("Stirred in"),
    "forming": N_("Formed"),
    "purgings": N_("Purgings"),
    "finishing": N_("Finished"),
    "trimmings": N_("Trimmed off"),
    "products": N_("Products"),
    "drawn": N_("Drawn from stock"),
    "laid-in": N_("Laid in stock"),
}
SOURCES: frozenset[Place] = frozenset({"donated", "stirred-in", "drawn"})
SINKS: frozenset[Place] = frozenset({
    "rejected", "residue", "sludge", "fines", "purgings", "trimmings", "products", "laid-in",
})  # fmt: skip
CUTTERS = frozenset({"granulator", "shredder"})
"""Kinds of machine that cut."""
WASTE: tuple[Place, ...] = ("rejected", "residue", "sludge", "fines", "purgings", "trimmings")


@dataclass(frozen=True, slots=True)
class Link:
    """So much of one polymer going from one place to another a week [kg].

    ``polymer`` is "" for what is stirred in.
    """

    start: Place
    end: Place
    polymer: str
    kg: float


@dataclass(frozen=True, slots=True)
class Balance:
    """Every link of a week. ``at_most`` names polymers whose losses are not all known."""

    links: tuple[Link, ...]
    at_most: frozenset[str]

    def into(self, place: Place, polymer: str | None = None) -> float:
        """What comes into a place a week, of one polymer or of all [kg]."""
        return sum(x.kg for x in self.links if x.end == place and polymer in (None, x.polymer))

    def out_of(self, place: Place, polymer: str | None = None) -> float:
        """What leaves a place a week, of one polymer or of all [kg]."""
        return sum(x.kg for x in self.links if x.start == place and polymer in (None, x.polymer))

    def between(self, start: Place, end: Place, polymer: str | None = None) -> float:
        """What goes from one place to another a week [kg]."""
        pairs = (x for x in self.links if (x.start, x.end) == (start, end))
        return sum(x.kg for x in pairs if polymer in (None, x.polymer))

    @property
    def open_kg(self) -> float:
        """What came in and did not go out: nothing but rounding."""
        come = sum(self.out_of(place) for place in SOURCES)
        gone = sum(self.into(place) for place in SINKS)
        return come - gone

    @property
    def polymers(self) -> tuple[str, ...]:
        """Those that move, in the order in which they come in."""
        return tuple(dict.fromkeys(link.polymer for link in self.links if link.polymer))


@dataclass(frozen=True, slots=True)
class Purge:
    """Plastic pushed out at changes, by polymer a week [kg]; ``measured`` where from the log."""

    by_polymer: Mapping[str, float]
    measured: bool
    rows: int


def balance(
    shop: Shop, sources: Iterable[Stream], makings: Iterable[Making], purge: Purge, losses: Losses
) -> Balance:
    """Every kilogram of an ordinary week, by polymer.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    sources
        What comes in.
    makings
        What is made.
    purge
        What is pushed out at changes.
    losses
        What the steps lose; regrind loses what its polymer does in granulating.
    """
    come = tuple(sources)
    links = [
        *_arriving(shop, come),
        *_working_through(shop, tuple(makings), purge, losses),
    ]
    summed: dict[tuple[Place, Place, str], float] = defaultdict(float)
    for link in links:
        summed[link.start, link.end, link.polymer] += link.kg
    made = [Link(*key, kg) for key, kg in summed.items() if kg > 0]
    made += _stock_links(made)
    unknown = (s.polymer for s in come if any(loss.share is None for loss in s.losses))
    kept = {s.polymer for s in come if s.after("hand-in") > 0 and not _never(shop, s)}
    return Balance(tuple(made), frozenset(kept.intersection(unknown)))


def _never(shop: Shop, source: Stream) -> bool:
    """Whether a source brings what must never be heated: then it goes home, whatever is planned."""
    return bool(refusal_of(shop.polymers[source.polymer]))


def _arriving(shop: Shop, sources: Iterable[Stream]) -> Iterator[Link]:
    for s in sources:
        if _never(shop, s):
            yield Link("donated", "rejected", s.polymer, s.weekly_kg)
            continue
        yield Link("donated", "rejected", s.polymer, s.lost("hand-in"))
        yield Link("donated", "sorting", s.polymer, s.after("hand-in"))
        yield Link("sorting", "residue", s.polymer, s.lost("sorting"))
        yield Link("sorting", "washing", s.polymer, s.after("sorting"))
        yield Link("washing", "sludge", s.polymer, s.lost("washing"))
        yield Link("washing", "granulating", s.polymer, s.after("washing"))
        yield Link("granulating", "fines", s.polymer, s.lost("granulating"))
        yield Link("granulating", "store", s.polymer, s.after("granulating"))


def _working_through(
    shop: Shop, makings: tuple[Making, ...], purge: Purge, losses: Losses
) -> Iterator[Link]:
    cutting = _hands_back(shop)
    for made in makings:
        back = cutting if len(made.polymers) == 1 else None
        stirred = sum(a.share_percent for a in made.blend.additives) / 100
        if stirred:
            yield from _through(made, "", stirred, back)
            yield Link("stirred-in", "weighing", "", stirred * made.formed_kg)
        for polymer, share in made.polymers.items():
            yield from _through(made, polymer, share, back)
            yield Link("store", "weighing", polymer, share * made.formed_kg)
            if back is not None:
                yield from _round_again(made, polymer, share, back, _grind_loss(losses, polymer))
    for polymer, kg in purge.by_polymer.items():
        for start, end in _PURGED:
            yield Link(start, end, polymer, kg)


_PURGED: tuple[tuple[Place, Place], ...] = (
    ("store", "weighing"),
    ("weighing", "forming"),
    ("forming", "purgings"),
)


def _through(
    made: Making, polymer: str, share: float, back: frozenset[str] | None
) -> Iterator[Link]:
    """From the tub to the shelf; what is stirred in goes the same way and never back.

    ``back`` are the stations that hand on to the granulator, None where nothing may go back.
    """
    yield Link("weighing", "forming", polymer, share * made.formed_kg)
    yield Link("forming", "finishing", polymer, share * made.parts_kg)
    yield Link("finishing", "products", polymer, share * made.good_kg)
    again = polymer != "" and back is not None
    sprue_to: Place = "granulating" if again else "trimmings"
    yield Link("forming", sprue_to, polymer, share * made.sprue_kg)
    for step, kg in made.lost_at():
        returned = again and back is not None and step.station in back
        yield Link("finishing", "granulating" if returned else "trimmings", polymer, share * kg)


def _round_again(
    made: Making, polymer: str, share: float, back: frozenset[str], grind: float
) -> Iterator[Link]:
    """Sprues and clean trimmings through the granulator once more."""
    trimmed = sum(kg for step, kg in made.lost_at() if step.station in back)
    kg = share * (made.sprue_kg + trimmed)
    yield Link("granulating", "fines", polymer, grind * kg)
    yield Link("granulating", "store", polymer, (1 - grind) * kg)


def _grind_loss(losses: Losses, polymer: str) -> float:
    found = losses.measured.get(("granulating", polymer, ""))
    return (found.share or 0.0) if found and found.rows >= losses.enough else 0.0


def _hands_back(shop: Shop) -> frozenset[str]:
    """Stations that hand something to where the granulator stands."""
    cutters = {m.station for m in shop.machines.values() if m.kind in CUTTERS}
    return frozenset(
        station.id
        for station in shop.stations.values()
        if any(handover.station in cutters for handover in station.gives)
    )


def _stock_links(links: Iterable[Link]) -> list[Link]:
    """What the store gains or gives up, so that it balances by polymer."""
    gained: dict[str, float] = defaultdict(float)
    for link in links:
        if link.end == "store":
            gained[link.polymer] += link.kg
        elif link.start == "store":
            gained[link.polymer] -= link.kg
    return [
        Link("store", "laid-in", polymer, kg) if kg > 0 else Link("drawn", "store", polymer, -kg)
        for polymer, kg in gained.items()
        if kg
    ]


# --- purgings ----------------------------------------------------------------------------------


def purge_of(shop: Shop, makings: Iterable[Making], losses: Losses) -> Purge:
    """What is pushed out at changes: as logged, else the settings' purge at every change.

    Each blend is taken to be set up once a week on each machine it is run on.
    """
    rows = [b for b in shop.logs.batches if b.step == "purgings" and b.polymer]
    weeks = open_weeks(shop, (batch.date for batch in shop.logs.batches))
    if len(rows) >= losses.enough:
        by: dict[str, float] = defaultdict(float)
        for row in rows:
            by[row.polymer] += row.kg / weeks
        return Purge(by, True, len(rows))
    return Purge(_by_settings(makings), False, len(rows))


def _by_settings(makings: Iterable[Making]) -> Mapping[str, float]:
    purged: dict[str, float] = defaultdict(float)
    changes = {(m.machine.id, m.blend.id): m for m in makings if m.machine}
    for made in changes.values():
        assert made.machine is not None
        host = max(made.polymers, key=lambda p: made.polymers[p])
        purged[host] += purge_kg(made.machine, host)
    return {polymer: kg for polymer, kg in purged.items() if kg}


def purge_kg(machine: Machine, polymer: str) -> float:
    """What a machine is purged with at a change to a polymer [kg], 0 where it is not written."""
    setting = next((s for s in machine.settings if s.polymer == polymer), None)
    return (setting.purge_kg or 0.0) if setting else 0.0
