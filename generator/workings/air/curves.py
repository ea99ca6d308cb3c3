"""A quantity over time, as points to draw."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

_STEPS = 60


@dataclass(frozen=True, slots=True)
class Curve:
    """A quantity over time.

    ``key`` tells the curves of one drawing apart (``mixing-3``), ``label`` says it in words,
    ``points`` are pairs of minutes and value in ``unit``.
    """

    key: str
    label: str
    unit: str
    points: tuple[tuple[float, float], ...]


def curve(key: str, label: str, unit: str, minutes: float, law: Callable[[float], float]) -> Curve:
    """Sample a law of time evenly from 0 to ``minutes``."""
    times = [minutes * step / _STEPS for step in range(_STEPS + 1)]
    return Curve(key, label, unit, tuple((t, law(t)) for t in times))
