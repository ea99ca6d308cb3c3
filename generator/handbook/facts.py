"""The shop's facts inside hand-written Markdown: ``[=machines.granulator.mass]``.

What stands between ``[=`` and ``]`` is the way to a fact, key by key, as the YAML has it. A
quantity is set with its unit, text in the reader's language, a list with commas, and nothing that
a fact holds is read as Markdown or HTML. A way that leads nowhere is a data fault with the page's
file and line. A figure for heating what is never heated is refused, in words, here as elsewhere.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from typing import Any

from generator.ground import units
from generator.ground.finding import Finding, Severity
from generator.ground.nearest import nearest
from generator.ground.origin import Origin
from generator.ground.prices import money
from generator.ground.wording import _
from generator.handbook.render import as_markdown, day
from generator.shop.fields import Record, key_of, unit_of
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.heat import refusal_of

_FACT = re.compile(r"\[=[^\S\n]*([^\[\]\n]*?)[^\S\n]*(\]|(?=[\[\n])|\Z)")
_FENCE = re.compile(r"^(```|~~~).*?^\1[^\n]*$", re.MULTILINE | re.DOTALL)
_SPAN = re.compile(r"(?<!`)(`+)(?!`)[^\n]*?(?<!`)\1(?!`)")
_MOST_NAMED = 8
_LOGS = "logs"  # rows that may name somebody, and no single facts


class NoSuchFactError(LookupError):
    """A way that leads nowhere: the step that failed and the nearest that would not."""

    def __init__(self, step: str, near: str | None) -> None:
        self.step = step
        self.near = near
        super().__init__(step)


class IsAGroupError(LookupError):
    """A way that ends too early, and the steps that lead on: none from a list."""

    def __init__(self, steps: list[str]) -> None:
        self.steps = steps
        super().__init__(*steps)


@dataclass(frozen=True, slots=True)
class Filled:
    """A page with its facts set in, and what could not be found."""

    markdown: str
    faults: tuple[Finding, ...]


def fill(markdown: str, shop: Shop, file: str) -> Filled:
    """Set the shop's facts into a page.

    Parameters
    ----------
    markdown
        The page. Fenced code and code between backticks are left alone.
    shop
        The shop.
    file
        The page's path, for faults.
    """
    code = [match.span() for way in (_FENCE, _SPAN) for match in way.finditer(markdown)]
    faults: list[Finding] = []

    def fact(match: re.Match[str]) -> str:
        if any(start <= match.start() < end for start, end in code):
            return match[0]
        origin = Origin(file, *_line_and_column(match))
        if not match[1] or not match[2]:
            faults.append(_unfinished(match, origin))
            return match[0]
        try:
            return as_markdown(look_up(shop, match[1]))
        except IsAGroupError as error:
            faults.append(_group(error, match[1], origin))
            return match[0]
        except NoSuchFactError as error:
            faults.append(_fault(error, match, origin))
            return match[0]

    return Filled(_FACT.sub(fact, markdown), tuple(faults))


def _line_and_column(match: re.Match[str]) -> tuple[int, int]:
    before = match.string[: match.start()]
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def _fault(error: NoSuchFactError, match: re.Match[str], origin: Origin) -> Finding:
    mend = _("Did you mean `{near}`?").format(near=error.near) if error.near else ""
    return Finding(
        "data.unknown-fact",
        Severity.FAULT,
        origin,
        _("`{way}` leads to no fact of the shop: `{step}` is not there.").format(
            way=match[1], step=error.step
        ),
        mend,
        "[=room.ceiling]",
    )


def _unfinished(match: re.Match[str], origin: Origin) -> Finding:
    says = _("`[=` is not closed: its `]` is missing.") if match[1] else _("`[=` names no fact.")
    mend = _("Write the way to a fact and `]`; between backticks it is left as written.")
    return Finding("data.unknown-fact", Severity.FAULT, origin, says, mend, "[=room.ceiling]")


def _group(error: IsAGroupError, way: str, origin: Origin) -> Finding:
    says = _("`{way}` is a group, not one fact.").format(way=way)
    named = ", ".join(f"`{way}.{step}`" for step in error.steps[:_MOST_NAMED])
    mend = _("The items of a list cannot be named here: write it out in words.")
    if named:
        mend = _("Name one of: {named}").format(named=named)
    return Finding("data.unknown-fact", Severity.FAULT, origin, says, mend, "[=room.ceiling]")


def look_up(shop: Shop, way: str) -> str:
    """The fact at the end of a way, as it is shown.

    Raises
    ------
    NoSuchFactError
        If a step is not there.
    IsAGroupError
        If the way ends at a whole record or a list of them.
    """
    here: Any = shop
    unit = ""
    for step in way.split("."):
        if step == "own" and isinstance(here, Polymer) and (refusal := refusal_of(here)):
            return refusal
        here, unit = _follow(here, step)
    if _is_whole(here):
        raise IsAGroupError(_steps(here))
    return _shown(here, unit)


def _is_whole(here: Any) -> bool:
    """Whether a way ends too early: at a record, or at a list of them."""
    inside = here[:1] if isinstance(here, tuple) else (here,)
    return any(isinstance(item, Record | dict) for item in inside)


def _steps(here: Any) -> list[str]:
    if isinstance(here, Record):
        return [key_of(name) for name in type(here).model_fields if name != _LOGS]
    return list(here) if isinstance(here, dict) else []


def _follow(here: Any, step: str) -> tuple[Any, str]:
    if isinstance(here, dict) and step in here:
        return here[step], ""
    if isinstance(here, Record):
        for name in type(here).model_fields:
            if name != _LOGS and key_of(name) == step:
                return getattr(here, name), unit_of(name)
    raise NoSuchFactError(step, nearest(step, _steps(here)))


def _shown(value: Any, unit: str) -> str:
    if value is None:
        return _("not recorded")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, tuple):
        return ", ".join(_shown(item, unit) for item in value)
    return _worded(value) or (units.show(value, unit) if unit else str(value))


def _worded(value: Any) -> str:
    """A date, a time of day or an amount in the manner of the reader's language, else ""."""
    if isinstance(value, units.Money):
        return money(value)
    if isinstance(value, dt.date):
        return day(value)
    if isinstance(value, dt.time):
        return f"{value:%H:%M}"
    return ""
