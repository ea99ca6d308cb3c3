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
    by_form: dict[str, str] = {}
    for choice in choices:
        by_form.setdefault(_form(choice), choice)
    found = difflib.get_close_matches(_form(word[:_TOO_LONG]), by_form, 1, _CLOSE_ENOUGH)
    return by_form[found[0]] if found else None


def _form(word: str) -> str:
    return re.sub(r"[\s_-]+", "", word).casefold()
