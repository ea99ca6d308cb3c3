"""Does a session's timetable hold, what does it need, and what would be a better one?

``demands`` says what a timetable is held to, in whole minutes; ``rules`` hold a timetable to it;
``fixed`` is what no timetable mends; ``solver`` alone knows the solver, and only a command asks
it. A build checks and never searches.
"""

from generator.workings.sessions.results import (
    Check,
    Clash,
    Counted,
    Flake,
    Goal,
    GroupPlan,
    HotHold,
    HotStand,
    MadeParts,
    Mend,
    Move,
    Needs,
    PlannedSlot,
    Ppe,
    PrintOut,
    Proof,
    SessionsStudy,
    SessionStudy,
    Span,
    Switching,
    Used,
    clock,
)
from generator.workings.sessions.study import study

__all__ = [
    "Check", "Clash", "Counted", "Flake", "Goal", "GroupPlan", "HotHold", "HotStand",
    "MadeParts", "Mend", "Move", "Needs", "PlannedSlot", "Ppe", "PrintOut", "Proof",
    "SessionStudy", "SessionsStudy", "Span", "Switching", "Used", "clock", "study",
]  # fmt: skip
