"""Which signs hang and which are missing: the plan with their places, and the list to walk by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import hang_plan
from generator.drawings.atlas import Atlas
from generator.ground.units import show
from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.subjects import Section, subject_page
from generator.press import hanging
from generator.press.signs import papers_at
from generator.workings.floor.lengths import capital, metres
from generator.workings.signage import Place, Posted, SignageStudy, Wanted
from generator.workings.signage.names import place_name

_PATH = "room/signs"


@dataclass(frozen=True, slots=True)
class Line:
    """A sign on the list: its code, what is said of it, whether it hangs as large as it must."""

    code: str
    says: str
    hangs: bool


@dataclass(frozen=True, slots=True)
class Row:
    """A place on the list."""

    name: str
    grid: str
    height: str
    signs: tuple[Line, ...]

    @property
    def lacks(self) -> bool:
        return any(not sign.hangs for sign in self.signs)


def page(desk: Desk) -> Page:
    """Signs: what is missing, what hangs, how large, how high."""
    study = desk.studies.signage
    return subject_page(
        _PATH,
        _("Signs"),
        "RO-06",
        (study.survey,),
        says=hanging.told(study),
        sections=[_list(desk, study)] if study.places else [],
        workings=grouped(desk.shop, study.survey.workings),
    )


def _list(desk: Desk, study: SignageStudy) -> Section:
    """The plan with numbered places, and the list in the order one walks it."""
    atlas, pins = Atlas(desk.shop), hanging.pins(study)
    drawn = [hang_plan.draw(atlas, pins, manner) for manner in (hang_plan.WIDE, hang_plan.PHONE)]
    rows = [_row(desk, place) for place in study.walk]
    listed = render(
        "hang-list",
        _PATH,
        places=rows,
        outside=hanging.outside_words(desk.shop),
        caution=hanging.caution(),
    )
    return Section(
        _("Where signs hang"),
        _(
            "Numbered as one walks the room from the door. Solid numbers have something to hang, "
            "open ones have all they need."
        ),
        pictures=((drawn[0], drawn[1]),),
        extra=Markup(listed),
    )


def _row(desk: Desk, place: Place) -> Row:
    papers = papers_at(desk.shop, place)
    return Row(
        capital(place_name(desk.shop, place.subject)),
        desk.plans.grid(place.spot.at),
        show(place.lower_mm, "mm", 0),
        (*_missing(desk, place), *(_posted(posted, papers) for posted in place.posted)),
    )


def _missing(desk: Desk, place: Place) -> Iterator[Line]:
    papers = papers_at(desk.shop, place)
    for wanted in place.wanted:
        yield Line(wanted.code, _to_print(wanted, papers.get(wanted.code, "")), hangs=False)


def _to_print(wanted: Wanted, paper: str) -> str:
    """How large it must be, on which sheet it is printed, and what asks for it."""
    across, far = wanted.size.across_mm, wanted.size.distance_m
    why = wanted.need.whys[0].rstrip(".")
    if across is None or far is None:
        return _("missing: {why}").format(why=why)
    says = _("missing: {across} at least, read from {far}, on {paper}: {why}")
    return says.format(across=show(across, "mm", 0), far=metres(far * 1000), paper=paper, why=why)


def _posted(posted: Posted, papers: Mapping[str, str]) -> Line:
    needed = posted.size.across_mm if posted.size else None
    has = posted.hung.across_mm
    if needed is None:
        says = _("hangs") if posted.needs else _("hangs, and nothing asks for it")
    elif has is None:
        says = _("hangs; {needed} at least, nobody has measured it")
    elif posted.too_small:
        says = _("hangs, {has}: too small, {needed} at least, on {paper}")
    else:
        says = _("hangs, {has}; {needed} at least")
    shown = {
        "needed": show(needed or 0, "mm", 0),
        "has": show(has or 0, "mm", 0),
        "paper": papers.get(posted.code, ""),
    }
    return Line(posted.code, says.format(**shown), hangs=not posted.too_small)
