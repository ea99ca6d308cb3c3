"""Pictures that the trial book names: each in the folder ``photos``, readable, not too large."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Mapping
from pathlib import Path

from generator.ground.csvfile import CsvRow
from generator.ground.finding import Finding, Severity
from generator.ground.nearest import nearest
from generator.ground.origin import Origin
from generator.ground.picture import NotAPictureError, cleaned
from generator.ground.units import ReadingError, show_number
from generator.ground.wording import _
from generator.shop.names import short
from generator.shop.place import capped
from generator.shop.records.logs import Photo, Trial

PHOTOS = "photos"
"""The folder below the shop's, of which nothing is published but what a trial names."""
_MOST_BYTES = 3_000_000
_ENDINGS = (".jpg", ".jpeg", ".png")
_EXAMPLE = "t04.jpg"


def read_photos(
    folder: Path, trials: Iterable[Trial], cells: Mapping[Origin, CsvRow]
) -> tuple[dict[str, Photo], list[Finding]]:
    """The pictures that trials name, and a fault for each that cannot be shown.

    Parameters
    ----------
    folder
        The shop's folder.
    trials
        The rows of the trial book.
    cells
        Where each row's cells stand.
    """
    found: dict[str, Photo] = {}
    faults: list[Finding] = []
    there = _names_in(folder / PHOTOS)
    for trial in trials:
        if not trial.photo or trial.photo in found:
            continue
        try:
            found[trial.photo] = _read(folder / PHOTOS, trial.photo, there)
        except ReadingError as error:
            faults.append(_fault(cells[trial.origin].origin_of("photo"), error))
    return found, list(capped(faults, "trials.csv"))


def _names_in(folder: Path) -> list[str]:
    try:
        return sorted(os.listdir(folder))  # noqa: PTH208 - names, not paths
    except (OSError, ValueError):  # ValueError: a NUL in the path
        return []


def _read(folder: Path, name: str, there: list[str]) -> Photo:
    if "/" in name or "\\" in name or not name.lower().endswith(_ENDINGS):
        says = _("`{name}` is not the name of a picture.").format(name=short(name))
        mend = _("Name a JPEG or PNG that lies in the shop's folder photos.")
        raise ReadingError(says, mend, _EXAMPLE)
    if name not in there:
        says = _("There is no `{name}` in the shop's folder photos.").format(name=short(name))
        mend = _("Put the picture there, or leave the cell empty.")
        raise ReadingError(says, mend, nearest(name, there) or _EXAMPLE)
    return _measured(folder / name, name)


def _measured(path: Path, name: str) -> Photo:
    try:
        about = path.stat()
        data = path.read_bytes() if _may_be_read(about) else b""
        picture = cleaned(data)
    except (OSError, NotAPictureError):
        says = _("`{name}` cannot be read as a JPEG or PNG.").format(name=short(name))
        mend = _("Save it once more as a JPEG.")
        raise ReadingError(says, mend, _EXAMPLE) from None
    if about.st_size > _MOST_BYTES:
        says = _("`{name}` has {mb} MB, too much for a phone to load.").format(
            name=short(name), mb=show_number(about.st_size / 1e6, 1)
        )
        raise ReadingError(says, _("Save it 1600 pixels wide; 3 MB are the most."), _EXAMPLE)
    return Photo(path, picture.width, picture.height)


def _may_be_read(about: os.stat_result) -> bool:
    """A plain file of a size that a camera gives: a pipe would never end."""
    return stat.S_ISREG(about.st_mode) and about.st_size < 100 * _MOST_BYTES


def published(photo: Photo) -> bytes:
    """The picture as readers get it, without what the camera wrote beside it."""
    return cleaned(photo.path.read_bytes()).data


def _fault(origin: Origin, error: ReadingError) -> Finding:
    says = f"`photo`: {error.says}"
    return Finding(
        "data.trial-photo", Severity.FAULT, origin, says, error.mend, error.example, "logs/trials"
    )
