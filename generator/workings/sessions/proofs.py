"""What a proposal says of itself: written into the session as one line, and read back by a build.

    best; slots 5 min; seed 1; finish 11:50; waiting 40 min; spread 10 min; data 0a1b2c3d4e5f
    found; slots 5 min; seed 1; finish 11:55 (at best 11:45); waiting 60 min (at best 20 min); ...

The line is data, not prose, so it is the same in every language.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.workings.sessions.demands import Demands, Line, digest
from generator.workings.sessions.results import Goal, Proof, clock

_WORDS = {"optional": "extra", "finish": "finish", "waiting": "waiting", "spread": "spread"}
_GOAL = re.compile(
    r"(extra|finish|waiting|spread) (\S+?)(?: min)?(?: \(at best (\S+?)(?: min)?\))?"
)


def written(
    goals: tuple[Goal, ...], slot_min: int, seed: int, demands: Demands, lines: tuple[Line, ...]
) -> str:
    """The line for a timetable just proposed."""
    status = "found" if any(goal.gap for goal in goals) else "best"
    parts = [status, f"slots {slot_min} min", f"seed {seed}", *map(_goal, goals)]
    return "; ".join([*parts, f"data {digest(demands, lines)}"])


def _goal(goal: Goal) -> str:
    reached, bound = _shown(goal.name, goal.reached), _shown(goal.name, goal.bound)
    at_best = f" (at best {bound})" if goal.gap else ""
    return f"{_WORDS[goal.name]} {reached}{at_best}"


def _shown(name: str, value: int) -> str:
    if name == "finish":
        return clock(value)
    return str(value) if name == "optional" else f"{value} min"


def read(text: str, digest_now: str) -> Proof:
    """A proof as written, and whether it belongs to the data as they stand."""
    parts = [part.strip() for part in text.split(";")]
    kept = dict(part.rsplit(" ", 1) for part in parts if part.startswith(("data ", "seed ")))
    slot = re.search(r"slots (\d+) min", text)
    if parts[0] not in ("best", "found") or "data" not in kept or not slot:
        return Proof("words", text)
    return Proof(
        "best" if parts[0] == "best" else "found", text, tuple(_goals(parts)), int(slot[1]),
        _number(kept.get("seed", "0")), kept["data"], kept["data"] == digest_now,
    )  # fmt: skip


def _goals(parts: list[str]) -> Iterator[Goal]:
    names = {words: name for name, words in _WORDS.items()}
    for part in parts:
        found = _GOAL.fullmatch(part)
        if found:
            reached = _number(found[2])
            bound = _number(found[3]) if found[3] else reached
            yield Goal(names[found[1]], reached, bound)  # type: ignore[arg-type]


def _number(text: str) -> int:
    """Minutes after midnight of a clock, else the number."""
    hours, colon, rest = text.partition(":")
    digits = (hours, rest) if colon else (text, "0")
    if not all(part.isdigit() for part in digits):
        return 0
    return int(hours) * 60 + int(rest) if colon else int(text)
