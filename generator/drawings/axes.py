"""Round steps for an axis, and where a value stands on it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.ground.units import show_number

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis from ``low`` to ``high`` in equal steps, drawn from ``start`` to ``end``."""

    low: float
    high: float
    step: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value stands on the drawing; what lies beyond the axis stands at its end."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + min(max(share, 0.0), 1.0) * (self.end - self.start)

    @property
    def ticks(self) -> tuple[tuple[float, str], ...]:
        """Places on the drawing with their figures."""
        count = round((self.high - self.low) / self.step)
        values = (self.low + i * self.step for i in range(count + 1))
        digits = 0 if self.step >= 1 else math.ceil(-math.log10(self.step) - 1e-9)
        return tuple((self.at(v), show_number(round(v, digits + 2), digits + 1)) for v in values)


def axis(most: float, start: float, end: float, room: float, low: float = 0.0) -> Axis:
    """An axis that reaches past ``most``, with steps no nearer to each other than ``room``."""
    span = max(most - low, 1e-9)
    steps = max(1, int(abs(end - start) / room))
    step = _round_up(span / steps)
    return Axis(low, low + step * math.ceil(span / step - 1e-9), step, start, end)


def _round_up(step: float) -> float:
    """The next of 1, 2, 2.5 and 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(step))
    return next(power * s for s in _STEPS if power * s >= step * (1 - 1e-9))
