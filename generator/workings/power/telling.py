"""What every part of the subject says: workings, findings, verdicts and how figures read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.units import NARROW_SPACE, show, show_number
from generator.ground.wording import N_, _
from generator.ground.working import Input, Quantity, Source, Verdict, Working

CAUTION = N_("A planning aid. The local code and a licensed electrician decide.")
ELECTRICIAN = "electrician"
SLACK = 1e-6
"""Two figures nearer than this are the same: a load of exactly its limit is within it."""


@dataclass(slots=True)
class Ledger:
    """What is worked out and found, in the order it is looked at."""

    workings: list[Working] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    checks: int = 0
    unanswered: int = 0

    def work(
        self,
        id_: str,
        subject: str,
        title: str,
        formula: str,
        inputs: Iterable[Input],
        *,
        result: Quantity,
        verdict: Verdict = Verdict.INFORMS,
        limit: tuple[Quantity, Origin | Source] | None = None,
        source: Source | None = None,
        caution: str = "",
    ) -> str:
        """Enter a working and give back its id; the margin is limit less result."""
        bound, bound_source = limit or (None, None)
        margin = Quantity(bound.value - result.value, bound.unit) if bound else None
        caution = f"{caution} {_(CAUTION)}".lstrip()
        self.workings.append(
            Working(
                id_, subject, title, formula, tuple(inputs), result, verdict,
                bound, bound_source, margin, caution, source,
            )
        )  # fmt: skip
        return id_

    def find(
        self,
        rule: str,
        severity: Severity,
        origin: Origin,
        says: str,
        mend: str,
        *,
        subject: str,
        working: str = "",
        asks: str = "",
    ) -> None:
        """Enter a finding; one that asks does so of the electrician unless somebody is named."""
        asked = asks or (ELECTRICIAN if severity is Severity.ASK else "")
        self.findings.append(
            Finding(f"power.{rule}", severity, origin, says, mend, "", subject, working, asked)
        )

    def checked(self, answered: bool = True) -> None:
        """Count a check that leaves no working behind."""
        self.checks += 1
        self.unanswered += not answered

    def survey(self) -> Survey:
        return survey(
            "power",
            self.workings,
            self.findings,
            other_checks=self.checks,
            other_unanswered=self.unanswered,
        )


def judged(least: float, most: float, limit: float) -> Verdict:
    """Whether something known to lie from ``least`` to ``most`` is within a limit."""
    if least > limit + SLACK:
        return Verdict.FAILS
    return Verdict.HOLDS if most <= limit + SLACK else Verdict.UNANSWERED


def amps(value: float) -> str:
    """A current as it reads in a sentence: ``22.7 A``."""
    return show(value, "a", 1)


def percent(value: float) -> str:
    return f"{show_number(value, 1)}{NARROW_SPACE}%"


def named(names: Sequence[str]) -> str:
    """``saw``, ``saw and drill``, ``saw, drill and sander``; parted by semicolons alone where a
    name has a comma of its own."""
    if len(names) < 2 or any("," in name for name in names):
        return "; ".join(names)
    return _("{names} and {last}").format(names=", ".join(names[:-1]), last=names[-1])
