"""The known word somebody most likely meant."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

_CLOSE_ENOUGH = 0.6  # below this a suggestion misleads more often than it helps
_TOO_LONG = 80  # comparing grows with the square of the length


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice closest to ``word``, or None where none is close.

    Case, spaces, hyphens and underscores are not held against a word, so that
    ``Floor_Plan`` finds ``floor-plan``. Of equally close choices the first wins.
    """
    matcher = difflib.SequenceMatcher(autojunk=False)
    matcher.set_seq2(_form(word[:_TOO_LONG]))
    best, likeness = None, 0.0
    for choice in choices:
        matcher.set_seq1(_form(choice))
        if matcher.real_quick_ratio() > likeness and (ratio := matcher.ratio()) > likeness:
            best, likeness = choice, ratio
    return best if likeness >= _CLOSE_ENOUGH else None


def _form(word: str) -> str:
    return re.sub(r"[\s_-]+", "", word).casefold()
