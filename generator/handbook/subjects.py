"""A page for each subject that is worked out: the verdict, a picture, findings, every working."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import bars, curves
from generator.drawings.ink import Drawing, to_svg
from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey
from generator.ground.wording import _, ngettext
from generator.handbook import words
from generator.handbook.figure import Figure, key_svg
from generator.handbook.groups import Group
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.tables import Table

_WORST = (Severity.STOP, Severity.FIX, Severity.ASK, Severity.NOTE)


@dataclass(frozen=True)
class Section:
    """A part of a subject's page: charts, curves and tables under one heading.

    ``pictures`` are drawn twice, for a wide screen and for a phone, ``figure`` is the plan with
    layers, and ``extra`` markup of its own kind.
    """

    heading: str
    lead: str = ""
    pictures: tuple[tuple[Drawing, Drawing], ...] = ()
    figure: Figure | None = None
    charts: tuple[bars.Chart, ...] = ()
    plots: tuple[curves.Plot, ...] = ()
    tables: tuple[Table, ...] = ()
    extra: str = ""

    @property
    def pictured(self) -> list[Markup]:
        """Each picture, for a wide screen and for a phone."""
        ids = [f"{_id(self.heading)}-d{n}" for n in range(len(self.pictures))]
        return [_both(*pair, id_) for pair, id_ in zip(self.pictures, ids, strict=True)]

    @property
    def charted(self) -> list[Markup]:
        """Each chart of bars, for a wide screen and for a phone."""
        return [_twice(chart, f"{_id(self.heading)}-{n}") for n, chart in enumerate(self.charts)]

    @property
    def plotted(self) -> list[Drawn]:
        """Each plot with the key to its curves."""
        return [
            Drawn(
                plot.title,
                _svg(to_svg(curves.draw(plot), f"{_id(self.heading)}-p{n}", classes="plot")),
                [(key_svg(key), key.words) for key in plot.keys],
            )
            for n, plot in enumerate(self.plots)
        ]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing as a page sets it, with its title and the key to its line forms."""

    title: str
    svg: Markup
    keys: list[tuple[Markup, str]]


def _twice(chart: bars.Chart, prefix: str) -> Markup:
    return _both(bars.wide(chart), bars.phone(chart), prefix)


def _both(wide: Drawing, phone: Drawing, prefix: str) -> Markup:
    """A drawing as a page sets it: for a wide screen, and drawn again for a phone."""
    large = to_svg(wide, f"{prefix}-wide", classes="wide")
    return _svg(large) + _svg(to_svg(phone, f"{prefix}-phone", classes="narrow"))


def _svg(svg: str) -> Markup:
    return Markup(svg.replace("<svg ", '<svg data-search-exclude="" ', 1))


def _id(heading: str) -> str:
    return "".join(letter if letter.isalnum() else "-" for letter in heading.lower())


def subject_page(
    path: str,
    title: str,
    number: str,
    surveys: Sequence[Survey],
    *,
    says: str = "",
    figure: Figure | None = None,
    sections: Iterable[Section] = (),
    tables: Iterable[Section] = (),
    workings: Iterable[Group],
) -> Page:
    """One subject's page.

    Parameters
    ----------
    path, title, number
        The page's path, title and sheet number.
    surveys
        What was worked out and found.
    says
        The verdict in a sentence, where nothing stops the shop; left out, the worst finding.
    figure
        The plan with this subject's layers, and what is drawn on it.
    sections
        Charts and curves that stand with the picture.
    tables
        What stands after the findings.
    workings
        Every working, in groups that can be looked through.
    """
    findings = worst_first(f for survey in surveys for f in survey.findings)
    drawn = {found.finding for found in figure.found} if figure else set()
    body = render(
        "subject",
        path,
        title=title,
        severity=findings[0].severity if findings else "",
        verdict=verdict(findings, says),
        counts=list(Counter(f.severity.value for f in findings).items()),
        figure=figure,
        sections=list(sections),
        count=counted(surveys),
        findings=[f for f in findings if f not in drawn],
        tags=figure.tags if figure else {},
        beside=bool(drawn),
        tables=list(tables),
        groups=list(workings),
    )
    return Page(path, title, "subject", number, body)


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings by severity, then by file and line."""
    return sorted(findings, key=lambda f: (_WORST.index(f.severity), f.origin))


def verdict(findings: Sequence[Finding], says: str = "") -> str:
    """What a lead reads first: what stops the shop, else how the subject stands."""
    stops = [f for f in findings if f.severity is Severity.STOP]
    if stops:
        return _("Do not open the doors like this. {says}").format(says=stops[0].says)
    if says:
        return says
    return findings[0].says if findings else _("Nothing found.")


def counted(surveys: Iterable[Survey]) -> str:
    """How many checks hold, how many had no answer, and what was found.

    Each finding but a question counts against one check, so that none is told to hold too many.
    """
    made = tuple(surveys)
    checks, silent = sum(s.checks for s in made), sum(s.unanswered for s in made)
    kinds = Counter(f.severity for s in made for f in s.findings)
    holds = checks - silent - sum(n for kind, n in kinds.items() if kind is not Severity.ASK)
    told = [words.counted(kind, kinds[kind]) for kind in _WORST if kinds[kind]]
    says = ngettext(
        "{checks} check: {holds} hold, {silent} not answered. Found: {found}.",
        "{checks} checks: {holds} hold, {silent} not answered. Found: {found}.",
        checks,
    )
    found = ", ".join(told) or _("nothing")
    return says.format(checks=checks, holds=max(holds, 0), silent=silent, found=found)
