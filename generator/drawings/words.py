"""The few words that drawings set for the shop's coded values."""

from __future__ import annotations

from collections.abc import Mapping

from generator.ground.wording import N_, _

WORDS: Mapping[str, str] = {
    "visitor": N_("visitor"),
    "inducted": N_("inducted"),
    "supervised": N_("supervised"),
    "authorised": N_("authorised"),
    "trainer": N_("trainer"),
    "maintainer": N_("maintainer"),
    "extinguisher": N_("extinguisher"),
    "fire-blanket": N_("fire blanket"),
    "alarm-point": N_("alarm point"),
    "first-aid": N_("first aid"),
    "eyewash": N_("eyewash"),
    "burn-sink": N_("cold water for burns"),
    "isolator": N_("isolator"),
    "emergency-stop": N_("emergency stop"),
    "lock-out-station": N_("locks and tags"),
    "emergency-light": N_("emergency light"),
    "spill-kit": N_("spill kit"),
    "extract": N_("extract point"),
    "water": N_("water"),
    "board": N_("distribution board"),
    "exit": N_("way out"),
    "as donated": N_("as donated"),
    "sorted": N_("sorted"),
    "washed": N_("washed"),
    "flake": N_("flake"),
    "blend": N_("blend"),
    "quarantine": N_("quarantine"),
    "refuse": N_("refuse"),
}


def word(code: str) -> str:
    """The word for a coded value."""
    return _(WORDS[code])
