"""The shop as readers may know it: its logs without what somebody wrote in their own words.

A note in a log is for the shop and may name anybody. Pages, data, drawings, prints and exports are
all made from what this leaves, so that no template has to remember what it must not show.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any, get_type_hints

from generator.shop.logs import LOGS
from generator.shop.records.logs import Logs, OwnWords, PrintRun, Trial
from generator.shop.shop import Shop
from generator.workings.faults_in_parts.words import faults_named

_IS_A_RUN = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)+ [0-9a-f]{16}")
"""A sheet's id and what its foot bears, as ``benchleaf printed`` writes them."""


def for_readers(shop: Shop) -> Shop:
    """A shop whose logs hold only what may be published.

    Notes and reasons in own words are left out; a photograph goes by its trial's label. A part's
    fault stays as far as the trade has a word for it, a colour as far as the shop keeps one of
    that name.

    Parameters
    ----------
    shop
        The shop as it was read; it is left as it is. What was gone through already stays the same.
    """
    colours = {id_ for polymer in shop.polymers.values() for id_ in polymer.colours}
    logs = {log: _rows(getattr(shop.logs, log), row, colours) for log, row in LOGS.items()}
    seen = ((_published(t), shop.logs.photos.get(t.photo)) for t in shop.logs.trials)
    photos = {name: photo for name, photo in seen if photo}
    return shop.model_copy(update={"logs": Logs(**logs, photos=photos)})


def _rows(rows: Iterable[Any], kind: type, colours: set[str]) -> tuple[Any, ...]:
    nothing = dict.fromkeys(own_words(kind), "")
    return tuple(replace(row, **nothing | _left(row, colours)) for row in rows)


def _left(row: Any, colours: set[str]) -> dict[str, str]:
    """What takes the place of cells that are not wholly in own words."""
    left: dict[str, str] = {}
    if isinstance(row, Trial):
        left["photo"] = _published(row)
        left["fault"] = ", ".join(f.key.replace("-", " ") for f in faults_named(row.fault))
    if isinstance(row, PrintRun) and not _IS_A_RUN.fullmatch(f"{row.sheet} {row.content}"):
        left |= {"sheet": "", "content": ""}
    if hasattr(row, "colour") and row.colour not in colours:
        left["colour"] = ""
    return left


def _published(trial: Trial) -> str:
    """What a trial's picture is called outside: its file may be called after anybody."""
    ending = ".png" if trial.photo.lower().endswith(".png") else ".jpg"
    return re.sub(r"[^\w-]+", "-", trial.trial).lower() + ending if trial.photo else ""


def own_words(row: type) -> tuple[str, ...]:
    """The columns of a kind of row that are written in somebody's own words."""
    hints = get_type_hints(row, include_extras=True)
    marks = {name: getattr(hint, "__metadata__", ()) for name, hint in hints.items()}
    return tuple(name for name, own in marks.items() if any(isinstance(m, OwnWords) for m in own))
