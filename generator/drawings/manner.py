"""How a plan is drawn for the sheet, the wide screen and the phone."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.drawings.floor import A2, SCREEN, Weights


@dataclass(frozen=True, slots=True)
class Manner:
    """Sizes in the drawing's unit, and what is shown at them."""

    text: float
    balloon: float
    """Radius of a balloon."""
    touch: float
    """Radius of what answers a tap."""
    symbol: float
    small: float
    """Symbols drawn at their true places; 0 leaves them out."""
    weights: Weights
    hatch: float
    """Pitch of the wall hatch; 0 draws walls solid."""
    band_off: float
    """From the outer face of a wall to its symbols."""
    details: bool = True
    """Whether furniture, machines, clear floor and zones are drawn."""
    grid: bool = True
    dimensions: int = 1
    """0 for none, 1 for the walls, 2 for their openings too."""
    leaves_out: frozenset[str] = frozenset()
    """Kinds of equipment that have no room."""

    @property
    def band(self) -> float:
        """How far symbols reach from the outer face."""
        return self.band_off + self.symbol

    def at(self, scale: float) -> Manner:
        """The same at a scale [units a mm]: where a metre is hardly more than a line of type,
        machines, furniture and what hangs at the wall's face would only blot."""
        small = scale * 1000 < self.text * 1.4
        return replace(self, details=False, small=0.0) if small else self

    @property
    def solid(self) -> bool:
        return not self.hatch


SHEET = Manner(
    text=4.0,
    balloon=4.6,
    touch=6.0,
    symbol=7.0,
    small=4.6,
    weights=A2,
    hatch=1.7,
    band_off=1.8,
    dimensions=2,
)
WIDE = Manner(
    text=13,
    balloon=12.5,
    touch=22,
    symbol=22,
    small=14,
    weights=SCREEN,
    hatch=5.0,
    band_off=5,
    leaves_out=frozenset({"emergency-light"}),
)
PHONE = Manner(
    text=13,
    balloon=13,
    touch=22,
    symbol=20,
    small=0,
    weights=SCREEN,
    hatch=0,
    band_off=4,
    details=False,
    grid=False,
    dimensions=0,
    leaves_out=frozenset(
        {
            "alarm-point",
            "emergency-light",
            "emergency-stop",
            "fire-blanket",
            "isolator",
            "lock-out-station",
            "spill-kit",
        }
    ),
)
