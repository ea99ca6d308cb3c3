"""The build-out: the stages side by side, and a page for the shop as it stands at each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import plan
from generator.drawings.atlas import Atlas, Link
from generator.drawings.ink import to_svg
from generator.ground import units
from generator.ground.finding import Severity
from generator.ground.prices import money
from generator.ground.survey import Survey
from generator.ground.wording import N_, _, ngettext
from generator.handbook import subjects, words
from generator.handbook.desk import Desk
from generator.handbook.links import address_of, way_up
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.buildout import BuildOut, StageSign, Step
from generator.workings.floor.lengths import metres
from generator.workings.signage.names import place_name

_INDEX = "running/stages"
_ROOT = "root:/"

_SUBJECTS = (
    ("floor", N_("Floor")),
    ("routes", N_("Walks and ways out")),
    ("power", N_("Power")),
    ("air", N_("Air")),
    ("noise", N_("Noise")),
    ("stopping", N_("Stops in sight and in reach")),
    ("bearing", N_("Load on the floor")),
    ("flow", N_("Material flow")),
    ("commissioning", N_("Before first use")),
)
"""What a stage is told in, subject by subject."""


_LINES = (
    (N_("Stations"), "stations"),
    (N_("Machines"), "machines"),
    (N_("Found"), "counts"),
    (N_("Longest way out"), "way_out"),
    (N_("Connected"), "power"),
    (N_("Air"), "air"),
    (N_("Comes in a week"), "kg_in"),
    (N_("Becomes parts a week"), "kg_made"),
    (N_("Tightest in the week"), "limit"),
    (N_("Signs to hang"), "signs"),
    (N_("Costs"), "cost"),
    (N_("Products"), "products"),
    (N_("Sessions"), "sessions"),
)
"""What the stages are held against one another by."""


def pages(desk: Desk) -> Iterator[Page]:
    """The stages side by side, then a page for each."""
    made = desk.buildout
    yield _index(desk, made, {step.stage.id: _plan_of(step) for step in made.steps})
    for step in made.steps:
        yield _stage(made, step, _plan_of(step, _link))


def _link(station: Station) -> str:
    return _ROOT + address_of(station)


def _plan_of(step: Step, link: Link | None = None) -> str:
    """The plan as it is at a stage, narrow enough to stand in a row: too small there to touch."""
    return to_svg(plan.phone(Atlas(step.shop), link), f"stage-{step.stage.order}", classes="stage")


def _set(svg: str, path: str) -> Markup:
    at_root = svg.replace(_ROOT, way_up(path))
    return Markup(at_root.replace("<svg ", '<svg data-search-exclude="" ', 1))


# --- side by side ------------------------------------------------------------------------------


def _index(desk: Desk, made: BuildOut, plans: Mapping[str, str]) -> Page:
    shop, when = desk.shop, made.arrivals
    by_stage = {step.stage.order: step.stage for step in made.steps}
    body = render(
        "stages",
        _INDEX,
        sentence=_where_we_are(made),
        rows=[_row(step) for step in made.steps],
        lines=[(_(label), key) for label, key in _LINES],
        plans={id_: _set(svg, _INDEX) for id_, svg in plans.items()},
        products=sorted(((when.product(p), p) for p in shop.products.values()), key=_first),
        sessions=sorted(((when.session(s), s) for s in shop.sessions.values()), key=_first),
        by_stage=by_stage,
    )
    return Page(_INDEX, _("Stages"), "stages", "RN-04", body)


def _first(row: tuple[int, object]) -> int:
    return row[0]


def _where_we_are(made: BuildOut) -> str:
    if not made.steps:
        return _("No stages are written down.")
    reached = sum(step.stage.reached for step in made.steps)
    said = ngettext(
        "{n} of {count} stage is reached.", "{n} of {count} stages are reached.", reached
    ).format(n=reached, count=len(made.steps))
    following = next((step for step in made.steps if not step.stage.reached), None)
    return said if following is None else f"{said} {_what_next(following)}"


def _what_next(step: Step) -> str:
    stops = step.count(Severity.STOP)
    said = ngettext(
        "“{name}” comes next: as it stands {n} finding would say stop.",
        "“{name}” comes next: as it stands {n} findings would say stop.",
        stops,
    ).format(name=step.stage.name, n=stops)
    if step.stage.due:
        said += " " + _("It is due on {day}.").format(day=day(step.stage.due))
    return said


def _row(step: Step) -> dict[str, object]:
    return {
        "stage": step.stage,
        "stations": len(step.shop.stations),
        "machines": len(step.shop.machines),
        "power": units.show(step.connected_kw, "kw", 1),
        "counts": [
            (severity, step.count(severity))
            for severity in (Severity.STOP, Severity.FIX, Severity.ASK)
        ],
        "cost": cost_words(step),
        "products": len(step.products),
        "sessions": len(step.sessions),
        "way_out": metres(step.way_out_mm) if step.way_out_mm is not None else _("none found"),
        "air": _air(step),
        "kg_in": units.show(step.kg_in, "kg", 0),
        "kg_made": units.show(step.kg_made, "kg", 1),
        "limit": _limit(step),
        "signs": sum(not sign.hangs for sign in step.signs),
    }


def _air(step: Step) -> str:
    """How many findings of each kind the air has at a stage."""
    found = Counter(f.severity for f in step.studies.air.survey.findings)
    kinds = (Severity.STOP, Severity.FIX, Severity.ASK)
    return ", ".join(words.counted(kind, found[kind]) for kind in kinds if found[kind]) or _(
        "nothing found"
    )


def _limit(step: Step) -> str:
    """What limits the week, with the hours it is short of."""
    tightest = step.flow.limits.bottleneck
    if tightest is None:
        return "–"
    if tightest.over:
        return _("{what}, over its hours").format(what=tightest.name)
    return str(tightest.name)


def _figures(step: Step) -> list[tuple[str, str]]:
    """The stage in figures: what is drawn, walked, taken in and made."""
    row = _row(step)
    return [
        (_("Connected"), str(row["power"])),
        (_("Longest way out"), str(row["way_out"])),
        (_("Comes in a week"), str(row["kg_in"])),
        (_("Becomes parts a week"), str(row["kg_made"])),
        (_("Tightest in the week"), str(row["limit"])),
        (_("Signs to hang"), str(row["signs"])),
    ]


def cost_words(step: Step) -> str:
    """What a stage comes to, by currency."""
    return ", ".join(
        money(units.Money(amount, currency)) for currency, amount in step.cost.items()
    ) or _("nothing priced")


# --- one stage ---------------------------------------------------------------------------------


def _stage(made: BuildOut, step: Step, svg: str) -> Page:
    path = f"{_INDEX}/{step.stage.id}"
    difference = made.difference(step)
    body = render(
        "stage",
        path,
        step=step,
        stage=step.stage,
        sentence=_verdict(step),
        plan=_set(svg, path),
        subjects=[(_(title), *_subject(step, key)) for key, title in _SUBJECTS],
        cost=cost_words(step),
        over=_over_budget(step),
        before=made.before(step),
        after=made.after(step),
        signs=_sign_rows(step.shop, difference.signs),
        figures=_figures(step),
        new=subjects.worst_first(difference.new),
        gone=subjects.worst_first(difference.gone),
    )
    title = _("Stage {n}: {name}").format(n=step.stage.order, name=step.stage.name)
    return Page(path, title, "stage", f"RN-04.{step.stage.order}", body, step.stage.origin)


def _verdict(step: Step) -> str:
    """What stands in the way at a stage, in a sentence that never says "safe"."""
    checks = sum(survey.checks for survey in step.surveys)
    stops, fixes = step.count(Severity.STOP), step.count(Severity.FIX)
    if stops:
        says = ngettext(
            "Not to be opened like this: {stops} finding says stop, {fixes} to mend "
            "({checks} checks).",
            "Not to be opened like this: {stops} findings say stop, {fixes} to mend "
            "({checks} checks).",
            stops,
        )
    else:
        says = _("No finding says stop; {fixes} to mend, {asks} to ask about ({checks} checks).")
    return says.format(stops=stops, fixes=fixes, asks=step.count(Severity.ASK), checks=checks)


def _subject(step: Step, key: str) -> tuple[str, str]:
    """One subject's verdict at a stage, and how many checks that rests on."""
    found = [s for s in step.surveys if s.subject == key]
    findings = subjects.worst_first(f for s in found for f in s.findings)
    return subjects.verdict(findings), _counted(found)


def _counted(surveys: Sequence[Survey]) -> str:
    """How many checks were made, how many found something to mend and how many had no answer."""
    mend = (Severity.STOP, Severity.FIX)
    return _("{checks} checks: {found} to mend, {silent} not answered.").format(
        checks=sum(s.checks for s in surveys),
        found=sum(f.severity in mend for s in surveys for f in s.findings),
        silent=sum(s.unanswered for s in surveys),
    )


def _over_budget(step: Step) -> str:
    budget = step.stage.budget
    if budget is None:
        return ""
    left = budget.amount - step.cost.get(budget.currency, 0.0)
    amount = money(units.Money(abs(left), budget.currency))
    words = (
        _("{amount} under the budget of {budget}")
        if left >= 0
        else _("{amount} over the budget of {budget}")
    )
    return words.format(amount=amount, budget=money(budget))


@dataclass(frozen=True, slots=True)
class SignRow:
    """A sign with the places it is asked for, in words, and how many of them lack it."""

    code: str
    places: str
    hang: int
    missing: int


def _sign_rows(shop: Shop, signs: Iterable[StageSign]) -> list[SignRow]:
    """Signs by code, those with most to hang first."""
    by_code: dict[str, list[StageSign]] = {}
    for sign in signs:
        by_code.setdefault(sign.need.code, []).append(sign)
    rows = [_sign_row(shop, code, asked) for code, asked in by_code.items()]
    return sorted(rows, key=lambda row: -row.missing)


def _sign_row(shop: Shop, code: str, asked: Sequence[StageSign]) -> SignRow:
    places = dict.fromkeys(place_name(shop, sign.need.subject) for sign in asked)
    hang = sum(sign.hangs for sign in asked)
    return SignRow(code, "; ".join(places), hang, len(asked) - hang)
