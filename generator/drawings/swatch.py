"""How a blend may look: flakes side by side, or what they melt into. A preview, never a match.

Chips are drawn at what they are: a swatch is 100 mm of flake of some 8 mm. Chips of one colour
and tone are one path, so that a page may hold many swatches.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from generator.drawings.ink import Drawing, Item, Path, Pen, Point, Rect, path_of
from generator.ground.units import show
from generator.ground.wording import _
from generator.workings.blends.colour import Preview, Swatch, toned
from generator.workings.blends.laws import hex_of, rgb_of

SIZE = 160.0
"""Width and height of a swatch [px]."""
_SEAM = 0.6
"""Chips are edged in their own colour, or the ground would show between them."""


def shown(found: Preview, size: float = SIZE) -> Drawing | None:
    """The swatch for how a blend mixes, None where its colour cannot be said.

    Parameters
    ----------
    found
        What the blend may look like.
    size
        Width and height [px].
    """
    if not found.shown:
        return None
    return speckle(found, size) if found.mixes == "speckle" else melt(found, size)


def speckle(found: Preview, size: float = SIZE) -> Drawing | None:
    """Flakes side by side, as many of each as its share by volume; None where one is unknown."""
    if found.swatch is None:
        return None
    hexes = [code for code, _share in found.parts]
    title = _("Preview of flakes side by side")
    return Drawing(size, size, tuple(_chips(found.swatch, hexes, size)), title, said(found))


def melt(found: Preview, size: float = SIZE) -> Drawing | None:
    """What the flakes melt into, one colour; None where it is not known."""
    if not found.melt:
        return None
    ground = Rect(0, 0, size, size, Pen(fill=found.melt))
    return Drawing(size, size, (ground,), _("Preview of the melt"), said(found))


def afar(found: Preview, size: float = SIZE) -> Drawing | None:
    """What flakes run together into from across the room; None where a colour is unknown."""
    if not found.speckle:
        return None
    ground = Rect(0, 0, size, size, Pen(fill=found.speckle))
    return Drawing(size, size, (ground,), _("Preview from across the room"), said(found))


def said(found: Preview) -> str:
    """The colours and their shares, for whoever cannot see the swatch."""
    shares = zip(found.names, found.parts, strict=True)
    words = [f"{show(100 * share, 'percent', 0)} {name}" for name, (_code, share) in shares]
    return _("By volume: {shares}.").format(shares=", ".join(words))


def _chips(swatch: Swatch, hexes: list[str], size: float) -> Iterator[Item]:
    by_ink: dict[str, list[str]] = defaultdict(list)
    inks = {(n, tone): _ink(code, tone) for n, code in enumerate(hexes) for tone in (-1, 0, 1)}
    for chip, tone, part in zip(swatch.chips, swatch.tones, swatch.parts, strict=True):
        by_ink[inks[part, tone]].append(path_of(_at(chip, size), closed=True))
    for ink, rings in by_ink.items():
        yield Path("".join(rings), Pen(fill=ink, stroke=ink, width=_SEAM))


def _ink(code: str, tone: int) -> str:
    return hex_of(toned(rgb_of(code), tone))


def _at(chip: tuple[Point, ...], size: float) -> Iterator[Point]:
    return ((round(x * size, 1), round(y * size, 1)) for x, y in chip)
