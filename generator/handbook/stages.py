"""The build-out: the stages side by side, and a page for the shop as it stands at each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from markupsafe import Markup

from generator.drawings import plan
from generator.drawings.atlas import Atlas
from generator.drawings.ink import to_svg
from generator.ground import units
from generator.ground.finding import Severity
from generator.ground.survey import Survey
from generator.ground.wording import N_, _, ngettext
from generator.handbook import subjects
from generator.handbook.desk import Desk
from generator.handbook.links import address_of, way_up
from generator.handbook.page import Page
from generator.handbook.render import day, money, render
from generator.shop.records.stations import Station
from generator.workings.buildout import BuildOut, Step

_INDEX = "running/stages"
_ROOT = "root:/"

_SUBJECTS = (
    ("floor", N_("Floor")),
    ("power", N_("Power")),
    ("air", N_("Air")),
    ("noise", N_("Noise")),
    ("bearing", N_("Load on the floor")),
    ("commissioning", N_("Before first use")),
)
"""What a stage is told in, subject by subject."""


def pages(desk: Desk) -> Iterator[Page]:
    """The stages side by side, then a page for each."""
    made = desk.buildout
    plans = {step.stage.id: _plan_of(step) for step in made.steps}
    yield _index(desk, made, plans)
    for step in made.steps:
        yield _stage(made, step, plans[step.stage.id])


def _link(station: Station) -> str:
    return _ROOT + address_of(station)


def _plan_of(step: Step) -> str:
    """The plan as it is at a stage, narrow enough to stand in a row."""
    return to_svg(plan.phone(Atlas(step.shop), _link), f"stage-{step.stage.order}", classes="stage")


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
    }


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
        before=_before(made, step),
        after=_after(made, step),
        signs=_new_signs(made, step),
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


def _before(made: BuildOut, step: Step) -> Step | None:
    index = made.steps.index(step)
    return made.steps[index - 1] if index else None


def _after(made: BuildOut, step: Step) -> Step | None:
    index = made.steps.index(step) + 1
    return made.steps[index] if index < len(made.steps) else None


def _new_signs(made: BuildOut, step: Step) -> list[str]:
    """Signs that are first wanted at a stage."""
    before = _before(made, step)
    return [code for code in step.signs if before is None or code not in before.signs]
