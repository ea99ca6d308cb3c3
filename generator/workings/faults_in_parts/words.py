"""The faults a part can have, how each looks, and the words moulders write them with."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.wording import N_, _


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault of a part. ``words`` are what a log may call it, lower case; texts are untranslated.

    ``causes`` are the keys of what brings it about, in the order in which to rule them out:
    what costs nothing to change and can hurt nobody first.
    """

    key: str
    name: str
    looks: str
    words: tuple[str, ...]
    causes: tuple[str, ...]


FAULTS = (
    Fault(
        "short-shot",
        N_("Short shot"),
        N_("The part is not full, or a press sheet has a patch that did not melt together."),
        ("short", "not full", "incomplete", "missing", "cold", "unmelted", "loose flake"),
        (
            "shot-size", "charge", "time-short", "mould-cold", "melt-cold", "pressure-low",
            "not-soaked", "flow-long",
        ),
    ),
    Fault(
        "burn",
        N_("Burn"),
        N_("Brown or black at the end of the flow or the rim, and it smells."),
        ("burn", "brown", "scorch", "charred", "black streak"),
        ("melt-hot", "hot-too-long", "pressure-high", "vents"),
    ),
    Fault(
        "silver-streaks",
        N_("Silver streaks"),
        N_("Silver lines fan out from the gate, or bubbles sit in the part."),
        ("silver", "splay", "streak", "bubble"),
        ("damp", "melt-hot", "hot-too-long", "foreign"),
    ),
    Fault(
        "warp",
        N_("Warp"),
        N_("The part bows or twists after it has left the mould."),
        ("warp", "bow", "twist", "bent"),
        ("opened-early", "mould-hot", "uneven", "pressure-high"),
    ),
    Fault(
        "sink",
        N_("Sink"),
        N_("The surface is drawn in over a thick place or at the rim."),
        ("sink", "dent", "drawn in", "hollow"),
        ("pressure-low", "charge", "hold-short", "melt-hot", "opened-early"),
    ),
    Fault(
        "flash",
        N_("Flash"),
        N_("A thin skin stands out where the halves of the mould meet."),
        ("flash", "burr", "fin"),
        ("clamp-near", "pressure-high", "overfilled", "melt-hot", "parting-line"),
    ),
    Fault(
        "delamination",
        N_("Delamination"),
        N_("The part peels in skins, or its surface shimmers like pearl."),
        ("delamin", "peel", "layer", "pearl", "skin"),
        ("foreign", "melt-cold", "mould-cold", "damp"),
    ),
    Fault(
        "sticking",
        N_("Sticking"),
        N_("The part does not leave the mould, or is pulled out of shape leaving it."),
        ("stick", "stuck", "jam", "pulled out of shape"),
        ("opened-early", "pressure-high", "mould-hot", "melt-hot", "release"),
    ),
)  # fmt: skip
BY_KEY = {fault.key: fault for fault in FAULTS}


def faults_named(words: str) -> tuple[Fault, ...]:
    """The faults that a log's words name, the one named first in front; none for other words."""
    text = words.lower()
    at = {f.key: min((text.find(w) for w in f.words if w in text), default=-1) for f in FAULTS}
    named = [fault for fault in FAULTS if at[fault.key] >= 0]
    exact = [fault for fault in named if fault.key.replace("-", " ") in text]
    return tuple(sorted(exact or named, key=lambda fault: at[fault.key]))


def fault_words(words: str) -> str:
    """A log's words for a fault in the trade's, or as they stand where the trade has none."""
    return ", ".join(_(fault.name).lower() for fault in faults_named(words)) or words
