"""The hang-list: what to hang where, in the order in which one walks the room."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings import hang_plan
from generator.drawings.hang_plan import Pin
from generator.drawings.ink import Drawing, Stamp
from generator.drawings.pictograms import sign
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet, Typeset
from generator.press.signs import papers_at
from generator.shop.shop import Shop
from generator.workings.floor.lengths import capital
from generator.workings.signage import Place, SignageStudy
from generator.workings.signage.names import place_name, sign_name

KIND = "hang-list"
_NUMBER = "HL-01"
_PICTURE = 6.2


def sheets(order: Order) -> Iterator[Sheet]:
    """One list for the whole room, none where no sign is needed."""
    study = order.studies.signage
    if not study.places:
        return
    yield Sheet(
        id="hang-list",
        kind=KIND,
        number=_NUMBER,
        title=_("Hang-list of signs"),
        paper=order.paper,
        body=Typeset("hang-list", _data(order, study), _pictures(order, study)),
        language=order.language,
        about=("room",),
        hangs=_("carried round the room, not hung"),
    )


def pins(study: SignageStudy) -> tuple[Pin, ...]:
    """The places of signs as a plan numbers them."""
    return tuple(
        Pin(number, place.spot.at, place.spot.into, place.lacking)
        for number, place in enumerate(study.walk, 1)
    )


def told(study: SignageStudy) -> str:
    """What there is to do, in a sentence."""
    missing, places = len(study.wanted), sum(bool(p.wanted) for p in study.places)
    small = sum(sign.too_small for sign in study.posted)
    where = ngettext("{n} place", "{n} places", places).format(n=places)
    says = []
    if missing:
        lacks = ngettext("{n} sign is missing, at {places}.", "{n} signs are missing, at {places}.",
                         missing)  # fmt: skip
        says.append(lacks.format(n=missing, places=where))
    if small:
        too = ngettext("{n} that hangs is too small.", "{n} that hang are too small.", small)
        says.append(too.format(n=small))
    return " ".join(says) or _("Every sign that is asked for hangs.")


def _pictures(order: Order, study: SignageStudy) -> dict[str, Drawing]:
    codes = dict.fromkeys(code for place in study.places for code in place.codes)
    plan = hang_plan.draw(order.atlas, pins(study), hang_plan.PAPER)
    return {"plan": plan, **{code: _picture(code) for code in codes}}


def _picture(code: str) -> Drawing:
    """A sign small beside its words."""
    stamp = Stamp(sign(code), 0.0, 0.0, _PICTURE)
    return Drawing(_PICTURE, _PICTURE, (stamp,), code, sign_name(code), unit="mm")


def _data(order: Order, study: SignageStudy) -> dict[str, Plain]:
    return {
        "title": _("Hang-list of signs"),
        "says": told(study),
        "key": _("Solid numbers have something to hang, open ones have all they need. "
                 "Heights are of the lower edge over the floor."),
        "heads": [_("place"), _("sign"), _("least size"), _("on"), _("height"), _("hung")],
        "plan_width": hang_plan.PAPER.width,
        "places": [_place(order.shop, n, place) for n, place in enumerate(study.walk, 1)],
        "outside": outside_words(order.shop),
        "plans": _plans(study),
        "caution": caution(),
    }  # fmt: skip


def caution() -> str:
    """What comes before the list, and what its figures are."""
    return _(
        "Local rules and a competent person's assessment come before this list. The figures are "
        "drawn for this handbook: where a rule asks for the register's own, buy those."
    )


def outside_words(shop: Shop) -> str:
    """The assembly point, which is not on the plan."""
    says = _("Outside, at {name}: E007 ({sign}). From how far it is read is not on the plan.")
    return says.format(name=shop.room.assembly.name, sign=sign_name("E007"))


def _plans(study: SignageStudy) -> str:
    """Where escape plans hang."""
    if not study.plans:
        return ""
    named = "; ".join(f"EP-{plan.id} {plan.name}" for plan in study.plans)
    return _("Escape plans, each on its own sheet: {plans}.").format(plans=named)


def _place(shop: Shop, number: int, place: Place) -> Plain:
    return {
        "number": number,
        "name": capital(place_name(shop, place.subject)),
        "signs": [*_wanted(shop, place), *_posted(shop, place)],
    }


def _wanted(shop: Shop, place: Place) -> Iterator[Plain]:
    papers = papers_at(shop, place)
    for wanted in place.wanted:
        across = wanted.size.across_mm
        yield {
            "code": wanted.code,
            "name": sign_name(wanted.code),
            "size": "" if across is None else show(across, "mm", 0),
            "paper": papers.get(wanted.code, ""),
            "height": show(place.lower_mm, "mm", 0),
            "hung": False,
        }


def _posted(shop: Shop, place: Place) -> Iterator[Plain]:
    papers = papers_at(shop, place)
    for posted in place.posted:
        across = posted.size.across_mm if posted.size else None
        yield {
            "code": posted.code,
            "name": sign_name(posted.code),
            "size": "" if across is None else show(across, "mm", 0),
            "paper": papers.get(posted.code, "") if posted.too_small else "",
            "height": show(posted.hung.height_mm, "mm", 0),
            "hung": not posted.too_small,
        }
