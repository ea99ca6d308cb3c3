"""What the trade knows: tables of figures, each with its source, its place and its standing."""

from generator.reference.lookup import NoFigureError, NoSuchRowError, Reference, reference
from generator.reference.marks import Filler, Material, identify
from generator.reference.records import (
    BOUND_WORDS,
    STATUS_WORDS,
    Cause,
    Container,
    Danger,
    Limit,
    MachineClass,
    Match,
    Polymer,
    Ppe,
    Process,
    Sign,
    SignClass,
    Supply,
    Value,
    Window,
)

__all__ = [
    "BOUND_WORDS", "STATUS_WORDS", "Cause", "Container", "Danger", "Filler", "Limit",
    "MachineClass", "Match", "Material", "NoFigureError", "NoSuchRowError", "Polymer", "Ppe",
    "Process", "Reference", "Sign", "SignClass", "Supply", "Value", "Window", "identify",
    "reference",
]  # fmt: skip
