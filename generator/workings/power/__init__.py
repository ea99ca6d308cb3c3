"""Whether the supply carries the machines: currents, circuits, phases, what may run together,
energy, and what happens when the power goes.

The formulas stand in ``formulas``; each other module looks at one question of a shop.
"""

from generator.workings.power.study import PowerStudy, study

__all__ = ["PowerStudy", "study"]
