"""How the figures of a working are set: amounts, margins, where each comes from, and a bar."""

from __future__ import annotations

import math

from markupsafe import Markup

from generator.ground.origin import Origin
from generator.ground.units import show_number
from generator.ground.wording import N_, _
from generator.ground.working import Quantity, Source, Verdict, Working

_DIGITS = 4
"""Significant digits: more would claim more than any of these figures can carry."""

_STATUS = {
    "standard": N_("a standard"),
    "published": N_("a published figure"),
    "handbook": N_("a usual figure in the trade: check yours"),
    "assumption": N_("an assumption"),
}


def rounded(value: float) -> float:
    """A value to four significant digits."""
    if value == 0 or not math.isfinite(value):
        return value
    return round(value, _DIGITS - 1 - math.floor(math.log10(abs(value))))


def amount(quantity: Quantity) -> str:
    """A quantity as it is read: rounded, with its unit."""
    number = show_number(rounded(quantity.value))
    return f"{number}\u202f{quantity.unit}" if quantity.unit else number


def _decimals(value: float) -> int:
    """How many decimals a value of so many digits shows: a margin is no finer than its result."""
    if value == 0 or not math.isfinite(value):
        return _DIGITS
    return max(0, _DIGITS - 1 - math.floor(math.log10(abs(value))))


def margin_words(working: Working) -> str:
    """How far a result stays inside its limit, or by how much it fails."""
    margin = working.margin
    if margin is None:
        return ""
    size = amount(Quantity(round(abs(margin.value), _decimals(working.result.value)), margin.unit))
    if margin.value < 0:
        over = working.limit is not None and working.result.value > working.limit.value
        return (_("{size} over") if over else _("{size} short")).format(size=size)
    return _("{size} to spare").format(size=size) if margin.value else _("exact")


def provenance(place: Origin | Source) -> str:
    """Where a figure comes from, and what kind of source that is."""
    if isinstance(place, Origin):
        return f"{place.file}:{place.line}"
    words = [place.cite, f"({_(_STATUS[place.status])})" if place.status in _STATUS else ""]
    if place.jurisdiction:
        words.append(place.jurisdiction)
    return " ".join(word for word in words if word)


_WORDS = {
    Verdict.HOLDS: N_("holds"),
    Verdict.FAILS: N_("fails"),
    Verdict.UNANSWERED: N_("not answered"),
    Verdict.INFORMS: N_("for information"),
}


def verdict_word(verdict: Verdict) -> str:
    """A verdict in words."""
    return _(_WORDS[verdict])


def verdict_class(verdict: Verdict) -> str:
    """The style of a verdict's word."""
    return {Verdict.FAILS: "sev fix", Verdict.UNANSWERED: "sev ask"}.get(verdict, "soft")


_BAR = 320


def bar(working: Working) -> Markup:
    """A result drawn against its limit, both from nothing, for figures of one unit."""
    limit = working.limit
    if (
        limit is None
        or limit.unit != working.result.unit
        or min(limit.value, working.result.value) < 0
    ):
        return Markup("")
    most = max(limit.value, working.result.value) * 1.15 or 1.0
    filled, mark = (_BAR * v / most for v in (working.result.value, limit.value))
    fails = working.verdict is Verdict.FAILS
    title = _("{result} against {limit}").format(result=amount(working.result), limit=amount(limit))
    return Markup(
        '<svg class="bar" width="{w}" height="34" viewBox="0 0 {w} 34" role="img" aria-label="{t}">'
        '<rect x="0" y="8" width="{f:.1f}" height="14" fill="var(--ink)"/>{gap}'
        '<path d="M0 8V26M0 22H{w}" stroke="var(--line-strong)" fill="none"/>'
        '<path d="M{m:.1f} 2V28" stroke="var(--accent)" stroke-width="2.5"/></svg>'
    ).format(w=_BAR, t=title, f=filled, m=mark, gap=_gap(filled, mark) if fails else "")


def _gap(filled: float, mark: float) -> Markup:
    """What is missing up to the limit, or lies beyond it."""
    return Markup(
        '<rect x="{x:.1f}" y="9" width="{w:.1f}" height="12" fill="var(--sheet)"'
        ' stroke="var(--fix-text)" stroke-width="2" stroke-dasharray="4 3"/>'
    ).format(x=min(filled, mark), w=abs(filled - mark))


FILTERS = (amount, provenance)
SENTENCES = (margin_words, verdict_word, verdict_class, bar)
