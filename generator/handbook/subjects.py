"""A page for each subject that is worked out: the verdict, a picture, findings, every working."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey
from generator.ground.wording import _, ngettext
from generator.ground.working import Working
from generator.handbook.page import Page
from generator.handbook.render import render

_WORST = (Severity.STOP, Severity.FIX, Severity.ASK, Severity.NOTE)


def subject_page(
    path: str,
    title: str,
    number: str,
    surveys: Sequence[Survey],
    *,
    pictures: Iterable[Markup] = (),
    tables: Iterable[tuple[str, Markup]] = (),
    groups: Sequence[tuple[str, Sequence[Working]]] | None = None,
) -> Page:
    """One subject's page.

    Parameters
    ----------
    path, title, number
        The page's path, title and sheet number.
    surveys
        What was worked out and found.
    pictures
        Drawings that stand under the verdict.
    tables
        Parts of the page that come before the findings, with their headings.
    groups
        Workings under headings; left out, all of them under one.
    """
    findings = worst_first(f for survey in surveys for f in survey.findings)
    workings = groups or [(_("Workings"), [w for survey in surveys for w in survey.workings])]
    body = render(
        "subject",
        path,
        title=title,
        severity=findings[0].severity if findings else "",
        verdict=verdict(findings),
        count=counted(surveys),
        pictures=list(pictures),
        tables=list(tables),
        findings=findings,
        workings=[(heading, rows) for heading, rows in workings if rows],
    )
    return Page(path, title, "subject", number, body)


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings by severity, then by file and line."""
    return sorted(findings, key=lambda f: (_WORST.index(f.severity), f.origin))


def verdict(findings: Sequence[Finding]) -> str:
    """The worst that was found, in one sentence."""
    if not findings:
        return _("Nothing found.")
    first = findings[0]
    if first.severity is Severity.STOP:
        return _("Do not open the doors like this. {says}").format(says=first.says)
    if first.severity is Severity.FIX:
        return first.says
    asks = sum(f.severity is Severity.ASK for f in findings)
    if asks:
        return ngettext(
            "Nothing found to mend; {n} question is open.",
            "Nothing found to mend; {n} questions are open.",
            asks,
        ).format(n=asks)
    return _("Nothing found to mend.")


def counted(surveys: Iterable[Survey]) -> str:
    """How many checks were made, how many found nothing and how many had no answer."""
    made = tuple(surveys)
    checks = sum(s.checks for s in made)
    silent = sum(s.unanswered for s in made)
    found = sum(f.severity in (Severity.STOP, Severity.FIX) for s in made for f in s.findings)
    return _(
        "{checks} checks made: {found} found something to mend, {silent} not answered."
    ).format(checks=checks, found=found, silent=silent)
