"""How dense each of the shop's polymers can come, and which of them a bath says nothing about."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source
from generator.reference import reference
from generator.reference.records import Polymer as Known
from generator.shop.records.material import Polymer
from generator.workings.heat import material_of

_SOFT = "density_solid.plasticised"


@dataclass(frozen=True, slots=True)
class Span:
    """The densities a polymer comes in [kg/m³], from the tables widened by the shop's own."""

    low: float
    high: float
    origin: Origin | Source

    def as_input(self, name: str, end: float) -> Input:
        """One end of it as an input of a working."""
        return Input(name, Quantity(end, "kg/m³"), self.origin)


def span_of(polymer: Polymer) -> Span | None:
    """How dense a polymer comes; None where nobody knows or where a bath says nothing of it."""
    if silent(polymer):
        return None
    own, known = polymer.own.density_kgm3, reference().find_polymer(polymer.code)
    place = polymer.own.origin_of("density_kgm3")
    if known is None:
        return Span(own, own, place) if own is not None else None
    low, high = _tabled(polymer, known)
    if own is not None and not low <= own <= high:
        return Span(min(low, own), max(high, own), place)
    return Span(low, high, known.density_solid.source_record)


def _tabled(polymer: Polymer, known: Known) -> tuple[float, float]:
    """A mark that does not say it is rigid may be plasticised, which comes lighter."""
    low, high = known.density_solid.low, known.density_solid.high
    soft = known.variants.get(_SOFT)
    if soft is None or "-U" in polymer.code.upper():
        return low, high
    return min(low, soft.low), max(high, soft.high)


def silent(polymer: Polymer) -> str:
    """Why a bath says nothing of a polymer, "" where it may."""
    material = material_of(polymer)
    if not material.bases:
        return _("Nobody knows what it is.")
    if "foam" in material.conditions:
        return _("Foam floats whatever it is made of.")
    if material.fillers or material.conditions or material.flame_retardants:
        return _("What is filled, coated or flame-retarded lands anywhere.")
    return ""


def why_silent(polymer: Polymer) -> str:
    """Why a bath says nothing of a polymer without a span."""
    return silent(polymer) or _("How dense it comes is not on record.")
