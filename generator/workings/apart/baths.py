"""Baths of one density: what floats in them, how they are mixed, and what they cannot part."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from generator.ground.wording import _
from generator.reference import reference
from generator.reference.records import BathPoint, Medium

WATER_GL = 998.2
"""Of a litre of water at 20 °C [g]."""
_EASIEST = ("water", "salt", "sugar", "ethanol")
"""Media in the order in which a bench takes them: what burns comes last."""


@dataclass(frozen=True, slots=True)
class Bath:
    """A bath that parts what is lighter from what is heavier.

    ``density`` [kg/m³] at 20 °C, of ``share`` [% by weight] in water, which is ``grams`` to a
    litre of water. Anything from ``least`` to ``most`` [kg/m³] keeps the margin on both sides.
    ``tabled`` says that the strength stands in the tables and is not read between two rows.
    ``caution`` is "" where the liquid is harmless.
    """

    medium: str
    name: str
    density: float
    share: float
    grams: float
    least: float
    most: float
    tabled: bool
    caution: str


def grams_per_litre(share_percent: float) -> float:
    r"""What goes into a litre of water for a share by weight [g].

    .. math:: g = 998.2\,\frac{w}{100 - w}

    Parameters
    ----------
    share_percent
        Of the whole by weight [%], under 100.
    """
    return WATER_GL * share_percent / (100 - share_percent)


def separates(density: float, lighter_high: float, heavier_low: float, margin: float) -> bool:
    """Whether one surely floats and the other surely sinks in a bath.

    Parameters
    ----------
    density
        Of the bath [kg/m³].
    lighter_high, heavier_low
        The densest of what is to float, the lightest of what is to sink [kg/m³].
    margin
        Between the bath and either [kg/m³].
    """
    return lighter_high + margin <= density <= heavier_low - margin


def share_for(medium: Medium, density: float) -> float | None:
    """Share by weight that gives a density [%], read between two rows; None beyond the table."""
    points = sorted(medium.points, key=lambda point: point.density.middle)
    for low, high in pairwise(points):
        if low.density.middle <= density <= high.density.middle:
            part = (density - low.density.middle) / (high.density.middle - low.density.middle)
            return low.share + part * (high.share - low.share)
    return None


def bath_between(
    lighter_high: float, heavier_low: float, margin: float, *, burning: bool = True
) -> Bath | None:
    """The easiest bath between two densities, None where no liquid of the tables lies there.

    Parameters
    ----------
    lighter_high, heavier_low
        The densest of what is to float, the lightest of what is to sink [kg/m³].
    margin
        To keep from either [kg/m³].
    burning
        Whether a liquid that burns may be taken.
    """
    least, most = lighter_high + margin, heavier_low - margin
    if least > most:
        return None
    media = (reference().media[key] for key in _EASIEST)
    allowed = (medium for medium in media if burning or not medium.caution)
    found = (_of_medium(medium, least, most) for medium in allowed)
    return next((bath for bath in found if bath), None)


def _of_medium(medium: Medium, least: float, most: float) -> Bath | None:
    """Of a medium: the row that keeps furthest from both ends, else a strength between rows."""
    middle = (least + most) / 2
    inside = [p for p in medium.points if least <= p.density.middle <= most]
    if inside:
        best = min(inside, key=lambda point: abs(point.density.middle - middle))
        return _made(medium, best.density.middle, best.share, (least, most), best)
    return _read_between(medium, least, most)


def _read_between(medium: Medium, least: float, most: float) -> Bath | None:
    densities = [point.density.middle for point in medium.points]
    low, high = max(least, min(densities)), min(most, max(densities))
    if low > high:
        return None
    share = share_for(medium, (low + high) / 2)
    return _made(medium, (low + high) / 2, share, (least, most)) if share is not None else None


def _made(
    medium: Medium,
    density: float,
    share: float,
    ends: tuple[float, float],
    point: BathPoint | None = None,
) -> Bath:
    grams = point.per_litre.middle if point and point.per_litre else grams_per_litre(share)
    caution = _(medium.caution) if medium.caution else ""
    return Bath(medium.id, _(medium.name), density, share, grams, *ends, point is not None, caution)


def cautions(baths: Iterable[Bath]) -> Iterator[str]:
    """What to know before trusting these baths, each once."""
    yield from dict.fromkeys(bath.caution for bath in baths if bath.caution)
    yield from (_(note.text) for note in reference().bath_notes)
