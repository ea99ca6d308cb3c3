"""Small pieces of HTML and SVG that templates set between their words."""

from __future__ import annotations

from markupsafe import Markup, escape

from generator.drawings import marks, pictograms, signals, standings
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.material import Polymer
from generator.workings.heat import material_of, refusal_of


def picto(code: str, size: float = 48) -> Markup:
    """A safety sign, silent to screen readers: its words stand beside it."""
    return Markup(pictograms.sign_svg(code, size=size))


def sign_name(code: str) -> str:
    """What a sign says."""
    return _(reference().sign(code).refers)


def equipment_symbol(kind: str, size: float = 44) -> Markup:
    """What stands for a kind of equipment on the plan."""
    return Markup(signals.plan_symbol_svg(kind, size=size))


def severity_mark(severity: str, size: float = 18) -> Markup:
    """The shape that stands for a severity."""
    return Markup(signals.severity_svg(severity, size=size))


def standing_mark(key: str) -> Markup:
    """The shape that stands for whether a thing can be made (``proven``, ``no``)."""
    return Markup(standings.standing_svg(key))


def hold_mark() -> Markup:
    """The mark of a hold point."""
    return Markup(signals.hold_svg())


def arrow() -> Markup:
    """Onward."""
    return Markup(signals.arrow_svg())


def mark_code(polymer: Polymer) -> str:
    """The code a polymer is marked by: its first base, or what the shop wrote."""
    material = material_of(polymer)
    return material.bases[0] if material.bases else polymer.code


def mark(polymer: Polymer) -> Markup:
    """A polymer's mark: hue and hatch, struck through where it is never heated."""
    return Markup(marks.chip_svg(mark_code(polymer), never_heated=bool(refusal_of(polymer))))


def big_mark(polymer: Polymer) -> Markup:
    """A polymer's mark at the head of its page."""
    code = mark_code(polymer)
    never = bool(refusal_of(polymer))
    return Markup(marks.chip_svg(code, never_heated=never, width=96, height=60))


def mark_text(polymer: Polymer) -> Markup:
    """A polymer's ISO 1043 mark, or its name in the shop where it has none."""
    material = material_of(polymer)
    text = marks.iso_mark(material.code) if material.known else str(polymer.name)
    return escape(text)


ORNAMENTS = (
    picto,
    sign_name,
    equipment_symbol,
    severity_mark,
    standing_mark,
    hold_mark,
    arrow,
    mark,
    big_mark,
    mark_text,
)
"""What templates may call by name."""
