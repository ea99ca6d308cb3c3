"""The one date that whatever falls due is told against."""

from __future__ import annotations

import datetime as dt
import os
import re
from pathlib import Path

from generator.ground.wording import _

_CLOCK = "SOURCE_DATE_EPOCH"


class NoDateError(ValueError):
    """What was given as a date is none; the message is a sentence that says what would be."""


def as_of(given: str | dt.date | None) -> dt.date:
    """The date given, else the day of ``SOURCE_DATE_EPOCH`` (UTC), else today.

    Raises
    ------
    NoDateError
        If what is given, or ``SOURCE_DATE_EPOCH``, is no date.
    """
    if isinstance(given, dt.datetime):
        return given.date()
    if isinstance(given, dt.date):
        return given
    if given:
        return _from_text(given)
    epoch = os.environ.get(_CLOCK)
    return _from_epoch(epoch) if epoch else dt.datetime.now().astimezone().date()


def day_in_settings(folder: Path) -> str | None:
    """The ``as_of`` of the ``mkdocs.yml`` nearest above a shop's folder, None where none has one.

    Only that line is looked for: what else such a file says may be read by MkDocs alone.
    """
    for above in folder.resolve().parents:
        settings = above / "mkdocs.yml"
        if settings.is_file():
            text = settings.read_text(encoding="utf-8", errors="replace")
            found = re.search(r"^\s+as_of:\s*['\"]?([0-9-]+)", text, re.MULTILINE)
            return found[1] if found else None
    return None


def _from_text(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise NoDateError(
            _("`{text}` is no date; write it as year, month and day: `2026-04-16`.").format(
                text=text
            )
        ) from None


def _from_epoch(text: str) -> dt.date:
    try:
        return dt.datetime.fromtimestamp(int(text), dt.UTC).date()
    except (ValueError, OverflowError, OSError):
        raise NoDateError(
            _("{name} is `{text}`; it holds whole seconds since 1970.").format(
                name=_CLOCK, text=text
            )
        ) from None
