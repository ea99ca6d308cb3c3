"""How a blend may look, for any page: its preview beside whatever chips were photographed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import swatch
from generator.drawings.ink import Drawing, to_svg
from generator.ground.wording import _
from generator.handbook import photos
from generator.handbook.desk import Desk
from generator.handbook.photos import Shown as Photo
from generator.shop.records.logs import Trial
from generator.shop.records.material import Blend
from generator.workings.blends import Preview


@dataclass(frozen=True, slots=True)
class Shown:
    """A picture with its words."""

    picture: Markup
    title: str
    words: str


@dataclass(frozen=True, slots=True)
class Look:
    """How a ``blend`` may look, by its id. It is false where nothing can be shown or said of it.

    ``chips`` are trials of it that were photographed, the newest first. ``why_not`` says why its
    colour is not shown, "" where it is; ``caution`` what to mind.
    """

    blend: str
    shown: tuple[Shown, ...]
    chips: tuple[tuple[Trial, Photo], ...]
    why_not: str
    caution: str

    def __bool__(self) -> bool:
        return bool(self.shown or self.why_not or self.chips)


def look(desk: Desk, blend: Blend) -> Look:
    """How a blend may look; nothing of one that is refused."""
    found = desk.studies.material.blends.previews.get(blend.id)
    if found is None:
        return Look(blend.id, (), (), "", "")
    tried = [t for t in desk.shop.logs.trials if t.blend == blend.id]
    seen = ((t, photos.shown(desk.shop, t)) for t in reversed(tried))
    chips = tuple((trial, photo) for trial, photo in seen if photo)
    return Look(blend.id, tuple(_shown(found)), chips, found.why_not, found.caution)


def small(desk: Desk, blend: Blend, size: float = 72.0) -> Markup:
    """A blend's swatch alone, "" where its colour cannot be said: its words stand beside it."""
    found = desk.studies.material.blends.previews.get(blend.id)
    drawn = swatch.shown(found, size) if found else None
    return _svg(drawn, f"small-{blend.id}") if drawn else Markup("")


def _shown(found: Preview) -> Iterator[Shown]:
    before = found.mixes == "melt"
    if before and (drawn := swatch.melt(found)):
        words = _("Worked out from the reflectance of each flake.")
        yield _figure(drawn, f"melt-{found.blend}", _("Melted together"), words)
    if drawn := swatch.speckle(found):
        title = _("The flake before it melts") if before else _("Flakes side by side")
        yield _figure(drawn, f"flake-{found.blend}", title, swatch.said(found))
    if not before and (drawn := swatch.afar(found)):
        words = _("Mean of their light, by volume.")
        yield _figure(drawn, f"afar-{found.blend}", _("From across the room"), words)


def _figure(drawn: Drawing, prefix: str, title: str, words: str) -> Shown:
    return Shown(_svg(drawn, prefix), title, words)


def _svg(drawn: Drawing, prefix: str) -> Markup:
    return Markup(to_svg(drawn, prefix, classes="swatch"))
