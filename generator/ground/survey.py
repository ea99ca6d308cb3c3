"""What one subject's checks came to: the workings, the findings, and how many were answered."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.ground.finding import Finding
from generator.ground.working import Verdict, Working


@dataclass(frozen=True, slots=True)
class Survey:
    """One subject looked at whole.

    ``checks`` counts every check made, ``unanswered`` those of them that the shop's data could
    not answer. A survey never says "safe".
    """

    subject: str
    workings: tuple[Working, ...]
    findings: tuple[Finding, ...]
    checks: int
    unanswered: int = 0


def survey(
    subject: str,
    workings: Iterable[Working],
    findings: Iterable[Finding],
    *,
    other_checks: int = 0,
    other_unanswered: int = 0,
) -> Survey:
    """A survey whose checks are its workings with a verdict, and those counted beside them.

    Parameters
    ----------
    subject
        Its key, such as ``power``.
    workings, findings
        What was worked out and found.
    other_checks, other_unanswered
        Checks that leave no working behind, and how many of those had no answer.
    """
    shown = tuple(workings)
    judged = [w for w in shown if w.verdict is not Verdict.INFORMS]
    silent = sum(w.verdict is Verdict.UNANSWERED for w in judged)
    return Survey(
        subject, shown, tuple(findings), len(judged) + other_checks, silent + other_unanswered
    )
