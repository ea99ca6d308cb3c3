"""Photographed trial chips: where each is published, and what it shows in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.page import Asset
from generator.handbook.words import word
from generator.shop.photos import published
from generator.shop.records.logs import Trial
from generator.shop.shop import Shop

_FOLDER = "photos"


@dataclass(frozen=True, slots=True)
class Shown:
    """A trial's picture: its address below the site's root, its size [px], what it shows."""

    address: str
    width: int
    height: int
    alt: str


def assets(desk: Desk) -> Iterator[Asset]:
    """Every photographed trial's picture, without what the camera wrote beside it."""
    for name, photo in desk.shop.logs.photos.items():
        yield Asset(_address(name), published(photo))


def shown(shop: Shop, trial: Trial) -> Shown | None:
    """A trial's picture, None where it names none."""
    photo = shop.logs.photos.get(trial.photo)
    if photo is None:
        return None
    alt = _("What came of trial {trial}: {mould} in {blend}, {result}").format(
        trial=trial.trial, mould=shop.moulds[trial.mould].name,
        blend=shop.blends[trial.blend].name, result=word(trial.result),
    )  # fmt: skip
    return Shown(_address(trial.photo), photo.width, photo.height, alt)


def _address(name: str) -> str:
    return f"{_FOLDER}/{name}"
