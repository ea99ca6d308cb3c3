"""Out of the door: what leaves in a week, with the refuse, down the drain, or home again."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from generator.drawings.bars import Bar, Chart
from generator.drawings.stream import kg_words
from generator.ground.units import show
from generator.ground.wording import N_, _
from generator.handbook.costs import price
from generator.handbook.desk import Desk
from generator.handbook.groups import Fold, Group
from generator.handbook.links import way_up
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page
from generator.handbook.tables import Cell, Column, Table, verdict_cell
from generator.shop.shop import Shop
from generator.workings.waste import WASTE_WORDS, Drain, Waste, WasteStudy

LEAVING = "running/waste"

_WAY_WORDS = {
    "handed back": N_("goes home with whoever brought it"),
    "refuse": N_("leaves with the refuse"),
    "water": N_("into the wash water and its screens"),
}


def pages(desk: Desk) -> Iterator[Page]:
    """The page of what leaves."""
    yield _page(desk)


def _page(desk: Desk) -> Page:
    found, shop = desk.studies.material.waste, desk.shop
    return subject_page(
        LEAVING,
        _("Out of the door"),
        "RN-07",
        (found.survey,),
        says=says(shop, found),
        sections=(_streams(shop, found), *_water(found)),
        tables=(_asked(desk),),
        workings=_groups(found),
    )


def says(shop: Shop, found: WasteStudy) -> str:
    """What leaves with the refuse and for how much, what goes home, what goes down the drain."""
    told = [_("{kg} leave with the refuse in a week.").format(kg=kg_words(found.refuse_kg))]
    if found.fee is not None:
        told[0] = _("{kg} leave with the refuse in a week, for {fee}.").format(
            kg=kg_words(found.refuse_kg), fee=price(shop, found.fee.amount)
        )
    rejected = found.of("rejected")
    if rejected and rejected.kg:
        told.append(_("{kg} are handed back at the counter.").format(kg=kg_words(rejected.kg)))
    if found.water.washed_off_kg:
        told.append(_off(found))
    return " ".join(told)


def _off(found: WasteStudy) -> str:
    water = found.water
    if water.litres is None:
        says = _("{kg} are washed off, into water that nobody has measured.")
    else:
        says = _("{kg} are washed off into {litres} of water.")
    litres = show(water.litres or 0.0, "l", 0)
    return says.format(kg=kg_words(water.washed_off_kg), litres=litres)


# --- what leaves -------------------------------------------------------------------------------


def _streams(shop: Shop, found: WasteStudy) -> Section:
    ranked = sorted(found.streams, key=lambda s: -(s.kg or 0.0))
    chart = Chart(_("What leaves in a week"), _("kg"), tuple(map(_bar, ranked)))
    columns = (
        Column(_("What")), Column(_("kg a week"), True), Column(_("Where to")), Column(_("Of")),
    )  # fmt: skip
    table = Table(columns, tuple(_row(shop, stream) for stream in ranked))
    return Section(
        _("In kilograms a week"), charts=(chart,) if ranked else (),
        tables=(table,) if ranked else (),
    )  # fmt: skip


def _bar(stream: Waste) -> Bar:
    shown = _("not known") if stream.kg is None else kg_words(stream.kg)
    return Bar(
        _(WASTE_WORDS[stream.key]), (stream.kg or 0.0,), shown, note=_(_WAY_WORDS[stream.way])
    )


def _row(shop: Shop, stream: Waste) -> tuple[Cell, ...]:
    of = sorted(stream.by_polymer.items(), key=lambda row: -row[1])
    named = ", ".join(f"{shop.polymers[p].name} {kg_words(kg)}" for p, kg in of)
    kg = _("not known") if stream.kg is None else f"{stream.kg:.2f}"
    return (
        Cell(_(WASTE_WORDS[stream.key])), Cell(kg, working=f"waste.{stream.key}", style="strong"),
        Cell(_(_WAY_WORDS[stream.way])), Cell(named or _("no plastic of the shop")),
    )  # fmt: skip


# --- water -------------------------------------------------------------------------------------


def _water(found: WasteStudy) -> Iterator[Section]:
    water = found.water
    if not water.washed_kg:
        return
    lead = _("{kg} are washed in a week.").format(kg=kg_words(water.washed_kg))
    if water.per_kg is not None:
        lead += " " + _("{litres} of water go to a kilogram.").format(
            litres=show(water.per_kg, "l", 0)
        )
    columns = (Column(_("Drain")), Column(_("Mesh of its screen"), True), Column(_("Verdict")))
    rows = tuple(map(_drain, water.drains))
    yield Section(
        _("Wash water and its screens"), lead, tables=(Table(columns, rows),) if rows else ()
    )


def _drain(drain: Drain) -> tuple[Cell, ...]:
    mesh = drain.point.catch_screen_mm
    words = _("not written") if mesh is None else show(mesh, "mm", 2)
    return Cell(drain.id), Cell(words, working=f"waste.screen.{drain.id}"), verdict_cell(
        drain.verdict
    )  # fmt: skip


# --- whom to ask -------------------------------------------------------------------------------

_SHEETS = (
    ("waste", N_("Questions for the waste authority")),
    ("water", N_("Questions for the water company")),
    ("insurer", N_("Questions for the insurer")),
)


def _asked(desk: Desk) -> Section:
    """The sheets for those who must answer, where something is open for them."""
    up = way_up(LEAVING)
    open_for = {finding.asks for finding in desk.findings if finding.asks}
    links = Markup("").join(
        Markup('<li><a href="{up}questions/{key}.html">{words}</a></li>').format(
            up=up, key=key, words=_(words)
        )
        for key, words in _SHEETS
        if key in open_for
    )
    extra = Markup('<ul class="plain">{links}</ul>').format(links=links) if links else Markup("")
    lead = "" if links else _("Nothing is open for the waste authority or the water company.")
    return Section(_("Whom to ask"), lead, extra=extra)


def _groups(found: WasteStudy) -> tuple[Group, ...]:
    rows = found.survey.workings
    return (Group(_("Workings"), (Fold("", rows),)),) if rows else ()
