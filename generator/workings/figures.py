"""Figures to hold a shop against: its own first, else its place's, else one lent by another.

A lent figure judges nothing. What is held against it stays unanswered, and becomes a question
for whoever knows the place's rule.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show_number
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict
from generator.reference import reference
from generator.reference.records import Value
from generator.shop.shop import Shop

_LENDERS = ("UK", "US")


@dataclass(frozen=True, slots=True)
class Figure:
    """A limit or planning figure with where it comes from.

    ``lent_by`` is the place it holds for where that is not the shop's, else "".
    """

    name: str
    value: float
    unit: str
    origin: Origin | Source
    lent_by: str = ""

    @property
    def quantity(self) -> Quantity:
        return Quantity(self.value, self.unit)

    @property
    def as_input(self) -> Input:
        return Input(self.name, self.quantity, self.origin)

    def verdict(self, holds: bool) -> Verdict:
        """What holding against it comes to: nothing, where the figure is lent."""
        if self.lent_by:
            return Verdict.UNANSWERED
        return Verdict.HOLDS if holds else Verdict.FAILS

    def question(self, working: str, place: Origin, says: str, asks: str, subject: str) -> Finding:
        """What to ask about a lent figure: what the shop has, and that the rule is not known.

        ``working`` is the id of what is held against it, and the rule; ``says`` a sentence with
        the shop's own figures; ``place`` where the lead looks.
        """
        shown = show_number(self.value, 2)
        lent = _("For {name} the tables have only the figure for {place}, {value}.").format(
            name=f"“{self.name}”", place=self.lent_by, value=f"{shown}\u202f{self.unit}"
        )
        return Finding(
            working,
            Severity.ASK,
            place,
            f"{says} {lent}",
            _("Ask which figure applies here."),
            subject=subject,
            working=working,
            asks=asks,
        )

    @property
    def caution(self) -> str:
        """What to say beside a result that is held against it."""
        if not self.lent_by:
            return ""
        says = _("The tables have no such figure for this place; this is the one for {place}.")
        return says.format(place=self.lent_by)


def figure(shop: Shop, key: str, own: str = "") -> Figure:
    """The figure to hold a shop against.

    Parameters
    ----------
    shop
        Its jurisdiction chooses, and its own limits win.
    key
        A row of the limits.
    own
        The field of the shop's own limits that wins over the row, "" where it has none.
    """
    title = _(reference().limits[key].title)
    written = getattr(shop.shop.limits, own) if own else None
    if written is not None:
        return Figure(title, written, _UNIT_OF_OWN, shop.shop.limits.origin_of(own))
    value, lent_by = _tabled(key, shop.shop.jurisdiction)
    return Figure(title, value.low, value.unit, value.source_record, lent_by)


_UNIT_OF_OWN = "mm"


def _tabled(key: str, place: str) -> tuple[Value, str]:
    """The place's figure, or the first that another lends, with the lender."""
    found = reference().find_limit(key, place)
    if found is not None:
        return found, ""
    lent = ((reference().find_limit(key, lender), lender) for lender in _LENDERS)
    return next((value, lender) for value, lender in lent if value is not None)
