"""Why a material is refused, how hot the machines are that would meet it, and where it goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.units import show
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.heat import Refusals

_STARTS = "decomposition.hydrogen-chloride-from"


@dataclass(frozen=True, slots=True)
class TurnedAway:
    """A material that is refused here.

    ``reason`` is why it must never be heated, "" where the shop refuses it for reasons of its
    own, which are ``why``. ``hot`` says how far machines of this shop are above where it begins
    to decompose, where a figure is known. ``never_with`` are dangers with other materials, cold
    ones too. ``looks`` says how it is told here.
    """

    polymer: Polymer
    reason: str
    why: str
    hot: tuple[str, ...]
    never_with: tuple[str, ...]
    looks: tuple[str, ...]

    @property
    def says(self) -> str:
        """The whole answer, in sentences."""
        told = (self.why, self.reason, *self.hot, *self.never_with)
        return " ".join(sentence for sentence in told if sentence)


def turned_away(shop: Shop, refusals: Refusals) -> tuple[TurnedAway, ...]:
    """Everything the shop refuses, or must refuse."""
    return tuple(
        _of(shop, polymer, refusals.polymer(polymer.id))
        for polymer in shop.polymers.values()
        if polymer.status == "refused" or refusals.polymer(polymer.id)
    )


def _of(shop: Shop, polymer: Polymer, reason: str) -> TurnedAway:
    return TurnedAway(
        polymer, reason, str(polymer.why or ""), tuple(_hot(shop, polymer)),
        tuple(_never_with(shop, polymer)), tuple(str(words) for words in polymer.tell_by),
    )  # fmt: skip


def _hot(shop: Shop, polymer: Polymer) -> Iterator[str]:
    """How far the shop's forming machines are set above where it begins to come apart."""
    known = reference().find_polymer(polymer.code)
    starts = known.variants.get(_STARTS) if known else None
    if starts is None:
        return
    for machine in shop.machines.values():
        set_at = [s.melt_c for s in machine.settings if s.melt_c is not None]
        if set_at and max(set_at) > starts.low:
            says = _(
                "{machine} is set to {set}, {over} above the {starts} at which it comes apart."
            )
            over = max(set_at) - starts.low
            yield says.format(
                machine=machine.name, set=_span(set_at), over=show(over, "k", 0),
                starts=show(starts.low, "c", 0),
            )  # fmt: skip


def _span(set_at: list[float]) -> str:
    low, high = min(set_at), max(set_at)
    if low == high:
        return show(high, "c", 0)
    return _("{low} to {high}").format(low=f"{low:.0f}", high=show(high, "c", 0))


def _never_with(shop: Shop, polymer: Polymer) -> Iterator[str]:
    codes = [p.code for p in shop.polymers.values()]
    own = set(reference().identify(polymer.code).bases)
    for danger in reference().never_together(codes):
        if own & set(danger.codes):
            yield _("{one} with {other}: {reason}").format(
                one=danger.codes[0], other=danger.codes[1], reason=_(danger.reason)
            )


def named(found: tuple[TurnedAway, ...], words: str) -> tuple[TurnedAway, ...]:
    """Those a visitor may mean by some words (``grey pipe``), by name, example or mark."""
    wanted = words.lower().split()
    return tuple(one for one in found if _mentions(one.polymer, wanted))


def _mentions(polymer: Polymer, wanted: list[str]) -> bool:
    texts = (polymer.name, polymer.code, *polymer.examples, *polymer.tell_by)
    return any(all(word in str(text).lower() for word in wanted) for text in texts)
