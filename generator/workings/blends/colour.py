"""What a blend may look like: a preview, never a match. A photographed trial chip decides.

Speckle is the mean light of flakes side by side by volume, and a swatch of chips drawn from the
blend's own seed, so that it is the same on every build. A melt is mixed with one constant where
every reflectance is known.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from generator.ground.wording import N_, _
from generator.shop.records.material import Blend, ColourLot
from generator.shop.shop import Shop
from generator.workings.blends import laws
from generator.workings.moulding.melts import solid_density

CELLS = 12
"""Chips along each side of a swatch: 100 mm of flake of some 8 mm."""

NO_COLOUR = N_("No colour is written for {lots}.")
NO_SHARES = N_("A density is not known, so shares by volume are not.")
NO_REFLECTANCE = N_("No reflectance is written for {lots}.")
TINTS = N_("What is stirred in tints far more than its mass says: photograph a chip.")
CAUTION = N_(
    "A preview on a screen, not a match: the trial chip decides. Natural and clear flake covers "
    "less in a melt than this shows."
)

Chip = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Swatch:
    """A square of side 1 tiled with chips, and which part of the blend each is of.

    ``chips`` are corners of each chip and ``tones`` how it catches the light, -1, 0 or 1; both
    are shared by all swatches, and only ``parts`` is a blend's own. A part has as many chips as
    its share by volume comes to.
    """

    chips: tuple[Chip, ...]
    tones: tuple[int, ...]
    parts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Preview:
    """What a blend may look like.

    ``parts`` are the flakes' colours ``#rrggbb`` with their shares by volume, in the recipe's
    order, and ``names`` what they are called. ``speckle`` and ``melt`` are ``#rrggbb``, "" where
    it cannot be said; ``shown`` is the one for how the blend mixes. ``light`` is the mean of the
    flakes in each band, linear. ``why_not`` says why there is none, ``caution`` what to mind.
    """

    blend: str
    mixes: Literal["speckle", "melt"]
    names: tuple[str, ...]
    parts: tuple[tuple[str, float], ...]
    light: tuple[float, ...]
    speckle: str
    melt: str
    melt_reflectance: float | None
    shown: str
    swatch: Swatch | None
    why_not: str
    caution: str


def preview(shop: Shop, blend: Blend, seed: str = "") -> Preview:
    """What a blend may look like, as far as its colours are written.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    blend
        Its recipe.
    seed
        What its chips are shuffled by, the blend's id where it is left out.
    """
    lots = list(_lots(shop, blend))
    names = tuple(name for name, _lot in lots)
    volumes = _volumes(shop, blend)
    missing = [name for name, lot in lots if lot is None or lot.hex is None]
    hexes = [lot.hex for _name, lot in lots if lot and lot.hex]
    if missing or volumes is None:
        why = _no_colour(missing)
        return Preview(
            blend.id, blend.mixes, names, (), (), "", "", None, "", None, why, _(CAUTION)
        )
    lights = [laws.rgb_of(code) for code in hexes]
    light = laws.speckle(zip(volumes, lights, strict=True))
    flakes = laws.hex_of(light)
    melt, reflectance, why = _melt(blend, lots)
    return Preview(
        blend.id, blend.mixes, names, tuple(zip(hexes, volumes, strict=True)), light, flakes,
        melt, reflectance, flakes if blend.mixes == "speckle" else melt,
        _swatch(seed or blend.id, volumes),
        why if blend.mixes == "melt" else "", _(CAUTION),
    )  # fmt: skip


def _lots(shop: Shop, blend: Blend) -> Iterator[tuple[str, ColourLot | None]]:
    for part in blend.parts:
        polymer = shop.polymers[part.polymer]
        lot = polymer.colours.get(part.colour or "")
        yield (f"{polymer.name} {lot.name}" if lot else str(polymer.name)), lot


def _volumes(shop: Shop, blend: Blend) -> list[float] | None:
    """Shares by volume of the flakes, None where a density is not known."""
    volumes = []
    for part in blend.parts:
        density = solid_density(shop.polymers[part.polymer])
        if density is None:
            return None
        volumes.append(part.share_percent / density.value)
    total = sum(volumes)
    return [volume / total for volume in volumes] if total else None


def _no_colour(missing: list[str]) -> str:
    return _(NO_COLOUR).format(lots=", ".join(missing)) if missing else _(NO_SHARES)


def _melt(
    blend: Blend, lots: list[tuple[str, ColourLot | None]]
) -> tuple[str, float | None, str]:  # fmt: skip
    """The colour of the melt, its reflectance, and why it has none."""
    if blend.additives:
        return "", None, _(TINTS)
    unknown = [name for name, lot in lots if lot is None or lot.reflectance is None]
    if unknown:
        return "", None, _(NO_REFLECTANCE).format(lots=", ".join(unknown))
    bands = [_bands(lot) for _name, lot in lots if lot is not None]
    shares = [part.share_percent for part in blend.parts]
    mixed = tuple(
        laws.melted(zip(shares, (b[n] for b in bands), strict=True)) for n in range(3)
    )  # fmt: skip
    mean = laws.melted(
        (share, lot.reflectance or 0.0)
        for share, (_name, lot) in zip(shares, lots, strict=True)
        if lot is not None
    )
    return laws.hex_of(mixed), mean, ""


def _bands(lot: ColourLot) -> laws.Rgb:
    """A lot's reflectance in three bands: its measured mean, in the proportions of its colour."""
    light = laws.rgb_of(lot.hex or "#808080")
    scale = (lot.reflectance or 0.0) / max(laws.luminance(light), 1e-6)
    red, green, blue = (min(1.0, band * scale) for band in light)
    return red, green, blue


# --- the swatch --------------------------------------------------------------------------------


def _swatch(seed: str, volumes: list[float]) -> Swatch:
    """As many chips of each part as its share comes to, shuffled by the blend's own seed."""
    counts = apportioned(volumes, CELLS * CELLS)
    parts = [n for n, count in enumerate(counts) for _chip in range(count)]
    return Swatch(swatch_chips(CELLS), swatch_tones(CELLS), tuple(_shuffled(parts, seed)))


def apportioned(shares: list[float], seats: int) -> list[int]:
    """Whole numbers in proportion to some shares that make ``seats``, by largest remainder."""
    total = sum(shares)
    exact = [seats * share / total if total else 0.0 for share in shares]
    whole = [int(x) for x in exact]
    order = sorted(range(len(shares)), key=lambda n: (whole[n] - exact[n], n))
    for n in order[: seats - sum(whole)]:
        whole[n] += 1
    return whole


def _shuffled(parts: list[int], seed: str) -> list[int]:
    """Shuffled by a generator so plain that any other program draws the same."""
    state, mixed = zlib.crc32(seed.encode()) or 1, list(parts)
    for n in range(len(mixed) - 1, 0, -1):
        state = _next(state)
        other = state % (n + 1)
        mixed[n], mixed[other] = mixed[other], mixed[n]
    return mixed


def _next(state: int) -> int:
    """Marsaglia's xorshift, 13, 17, 5, in 32 bits."""
    state ^= state << 13 & 0xFFFFFFFF
    state ^= state >> 17
    state ^= state << 5 & 0xFFFFFFFF
    return state


@lru_cache(maxsize=8)
def swatch_chips(cells: int) -> tuple[Chip, ...]:
    """Chips that tile a square of side 1 without gap or overlap, row by row from the top left.

    The inner corners of a grid are moved by up to a third of a chip, always the same way.
    """
    corners = _corners(cells)
    return tuple(
        (corners[row, col], corners[row, col + 1], corners[row + 1, col + 1], corners[row + 1, col])
        for row in range(cells)
        for col in range(cells)
    )


def _corners(cells: int) -> Mapping[tuple[int, int], tuple[float, float]]:
    state, corners = 2463534242, {}
    for row in range(cells + 1):
        for col in range(cells + 1):
            x, y = col / cells, row / cells
            if 0 < row < cells and 0 < col < cells:
                state = _next(state)
                x += (state % 1000 / 1000 - 0.5) * 2 / 3 / cells
                y += (state // 1000 % 1000 / 1000 - 0.5) * 2 / 3 / cells
            corners[row, col] = (round(x, 4), round(y, 4))
    return corners


@lru_cache(maxsize=8)
def swatch_tones(cells: int) -> tuple[int, ...]:
    """How each chip catches the light, chip by chip as ``swatch_chips`` has them.

    As many are lighter as are darker, so that the mean of a colour stays.
    """
    return tuple(tone - 1 for tone in _shuffled([n % 3 for n in range(cells**2)], "tones"))


def toned(light: laws.Rgb, tone: int) -> laws.Rgb:
    """A chip's light as it lies turned to the window or away from it, in each band [-].

    By a fifth of what a band has left to black or to white, whichever is nearer: the mean of a
    lighter and a darker chip is the light itself.
    """
    red, green, blue = (band + tone * _TURNED * min(band, 1 - band) for band in light)
    return red, green, blue


_TURNED = 0.2
