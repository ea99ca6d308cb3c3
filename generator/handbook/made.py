"""What we make: the page for a visitor, from the batch log and the scale at the door."""

from __future__ import annotations

from collections.abc import Sequence

from babel.dates import format_date

from generator.drawings import counts
from generator.drawings.counts import Column
from generator.drawings.ink import Drawing
from generator.ground.units import show
from generator.ground.wording import _, locale, ngettext
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.running import chart
from generator.workings import made
from generator.workings.made import Figures, Made
from generator.workings.trail import Trail

_MONTHS = 4


def page(desk: Desk) -> Page:
    """Every product with what went into it, and the month's figures."""
    path = "running/made"
    rows = made.products(desk.shop, Trail(desk.shop), desk.as_of)
    months = [made.figures(desk.shop, desk.as_of, back) for back in range(_MONTHS)]
    body = render(
        "made",
        path,
        shop=desk.shop,
        as_of=desk.as_of,
        sentence=_sentence(months[0]),
        picture=chart(_by_month(months), "by-month"),
        months=[(_month_name(m), m) for m in months[:2]],
        made=[m for m in rows if m.last],
        not_yet=[m for m in rows if not m.last],
        source_words=lambda row: _source_words(desk, row),
    )
    return Page(path, _("What we make"), "made", "RN-05", body)


def _month_name(figures: Figures) -> str:
    return format_date(figures.first, "MMMM y", locale=locale())


def _sentence(month: Figures) -> str:
    return ngettext(
        "So far in {month}: {kept} taken in, {back} handed back, and {n} piece made, {made} of it.",
        "So far in {month}: {kept} taken in, {back} handed back, and {n} pieces made, {made} of "
        "them.",
        month.pieces,
    ).format(
        month=_month_name(month),
        kept=show(month.kept_kg, "kg", 1),
        back=show(month.rejected_kg, "kg", 1),
        n=month.pieces,
        made=show(month.made_kg, "kg", 1),
    )


def _by_month(months: Sequence[Figures]) -> Drawing:
    """Kilograms taken in, month by month, this one last."""
    rows = [
        Column(
            format_date(m.first, "MMM", locale=locale()), round(m.kept_kg), pressing=m is months[0]
        )
        for m in reversed(months)
    ]
    said = ", ".join(f"{row.label} {row.count}" for row in rows)
    return counts.columns(rows, _("Plastic taken in, in kg by month"), said)


def _source_words(desk: Desk, row: Made) -> str:
    """Who brought what is in it, with shares where the log settles them."""
    return ", ".join(
        f"{desk.shop.donors[s.donor].name}"
        + (f" {s.share * 100:.0f}\u202f%" if s.share is not None else "")
        for s in row.sources
    )
