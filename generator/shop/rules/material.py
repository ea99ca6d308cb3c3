"""Rules of material: codes that exist, colours that are kept, shares that make a whole."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding
from generator.ground.units import show_number
from generator.ground.wording import _
from generator.reference import identify
from generator.shop.draft import Draft
from generator.shop.meant import among
from generator.shop.names import short
from generator.shop.records.material import Blend, Polymer

SHARE_TOLERANCE_PERCENT = 0.1


def polymer_codes(draft: Draft) -> Iterator[Finding]:
    """A polymer's code says what it is by a mark that is known, or says ``unknown``."""
    for key, polymer in draft.of(Polymer).items():
        material = identify(polymer.code)
        if not material.unread and polymer.code.strip():
            continue
        says = _("`{code}` is not a mark of ISO 1043 known here.").format(code=short(polymer.code))
        if material.suggestion:
            mend = _("Did you mean `{guess}`?").format(guess=material.suggestion)
        else:
            mend = _("Write the mark, or `unknown` where nobody knows what it is.")
        right = f"code: {material.suggestion or 'unknown'}"
        place = draft.place("polymers", key)
        yield place.finding("polymer-code", ("code",), says, mend, right)


def blend_colours(draft: Draft) -> Iterator[Finding]:
    """The colour of a part of a blend is one its polymer is kept apart by."""
    for key, blend in draft.of(Blend).items():
        for n, part in enumerate(blend.parts):
            if part.colour is None or part.polymer not in draft.known.ids("polymers"):
                continue
            there = draft.known.under("polymers", part.polymer, "colours")
            if part.colour not in there:
                says = _("`{id}` is not a colour of the polymer `{polymer}`.")
                says = says.format(id=part.colour, polymer=part.polymer)
                error = among(
                    says, part.colour, there, _("It has none yet: write it in polymers.yml.")
                )
                yield draft.place("blends", key).lost(("parts", n, "colour"), error)


def blend_shares(draft: Draft) -> Iterator[Finding]:
    """The shares of a blend, parts and additives, make 100 % within 0.1 %."""
    for key, blend in draft.of(Blend).items():
        parts = sum(part.share_percent for part in blend.parts)
        additives = sum(additive.share_percent for additive in blend.additives)
        total = parts + additives
        if abs(total - 100) <= SHARE_TOLERANCE_PERCENT + 1e-9:
            continue
        last = blend.parts[-1].share_percent + 100 - total
        says = _("The blend makes {total} %: {parts} % of parts and {additives} % of additives.")
        says = says.format(
            total=show_number(total, 2),
            parts=show_number(parts, 2),
            additives=show_number(additives, 2),
        )
        right = f"share: {show_number(last, 2)} %" if 0 <= last <= 100 else ""
        mend = _("Make them 100 %.")
        if right:
            mend = _("Make them 100 %, by the last part's share if the others are right.")
        path = ("parts", len(blend.parts) - 1, "share")
        yield draft.place("blends", key).finding("shares", path, says, mend, right)


RULES = (polymer_codes, blend_colours, blend_shares)
