"""The words a reader sees for the shop's coded values, and the short sentences made of them."""

from __future__ import annotations

from collections.abc import Mapping

from generator.drawings import words as drawn
from generator.ground import units
from generator.ground.wording import N_, _, ngettext
from generator.shop.records.machines import Machine
from generator.shop.records.material import Container, Mould
from generator.shop.records.people import Procedure
from generator.shop.records.refs import LADDER
from generator.shop.records.stations import Use
from generator.workings.faults_in_parts import STANDING_WORDS, Standing, fault_words
from generator.workings.moulding import FIT_WORDS, Fit

WORDS: Mapping[str, str] = {
    # competence and equipment, as drawings say them
    **drawn.WORDS,
    # severities
    "fault": N_("Fault"),
    "stop": N_("Stop"),
    "fix": N_("Fix"),
    "ask": N_("Ask"),
    "note": N_("Note"),
    # what a polymer's status means today
    "taken": N_("Taken"),
    "paused": N_("Paused"),
    "refused": N_("Refused"),
    # sides of a station
    "front": N_("front"),
    "back": N_("back"),
    "left": N_("left"),
    "right": N_("right"),
    # what undoes a door
    "none": N_("no lock"),
    "thumb-turn": N_("thumb-turn, no key"),
    "push-bar": N_("push bar"),
    "key": N_("needs a key"),
    "bolt": N_("bolted"),
    # which way a door opens
    "out": N_("outwards"),
    "in": N_("inwards"),
    "sliding": N_("by sliding"),
    # where a fan blows, and how a hood begins
    "outside": N_("outside"),
    "recirculating": N_("back into the room"),
    "supply": N_("fresh air in"),
    "plain": N_("plain hood"),
    "flanged": N_("flanged hood"),
    "canopy": N_("canopy hood"),
    # kinds of procedure
    "run": N_("Run"),
    "opening": N_("Opening"),
    "closing": N_("Closing"),
    "upkeep": N_("Upkeep"),
    "changeover": N_("Changeover"),
    "bad-day": N_("Bad day"),
    # what things are made of
    "plastic": N_("plastic"),
    "metal": N_("metal"),
    "textile": N_("textile"),
    "paper": N_("paper"),
    "wood": N_("wood"),
    "aluminium": N_("aluminium"),
    "steel": N_("steel"),
    "brass": N_("brass"),
    "silicone": N_("silicone"),
    # how a hazard is controlled, strongest first
    "eliminate": N_("Done away with:"),
    "substitute": N_("Replaced:"),
    "engineer": N_("Built in:"),
    "administer": N_("By rule:"),
    "protect": N_("Worn:"),
    # what a trial showed
    "good": N_("Good"),
    "usable": N_("Usable"),
    "failed": N_("Failed"),
    # how something came back
    "worn": N_("Worn"),
    "damaged": N_("Damaged"),
    # checks before first use
    "earth-continuity": N_("Earth continuity"),
    "over-temperature-cut-out": N_("Independent over-temperature cut-out"),
    "interlocks": N_("Interlocks"),
    "run-down-time": N_("Run-down time"),
    "no-restart": N_("No restart when power returns"),
    "guards": N_("Guards"),
    # how donations arrive
    "clean": N_("clean"),
    "rinsed": N_("rinsed"),
    "dirty": N_("dirty"),
    "whole": N_("whole pieces"),
    "pieces": N_("broken pieces"),
    "flake": N_("flake"),
    "pellet": N_("pellet"),
    "film": N_("film"),
    "foam": N_("foam"),
    "offcut": N_("offcuts"),
    # why a donation is handed back
    "no mark": N_("no mark"),
    "wrong plastic": N_("wrong plastic"),
    "metal in it": N_("metal in it"),
    "stuck on": N_("something stuck on it"),
    "smell": N_("smell"),
    "wet": N_("wet"),
    "brittle": N_("brittle"),
    "not taken": N_("not taken here"),
    "other": N_("another reason"),
    # what containers keep
    "as donated": N_("plastic as donated"),
    "sorted": N_("sorted plastic"),
    "washed": N_("washed plastic"),
    "blend": N_("blends"),
    "quarantine": N_("quarantine"),
    "refuse": N_("refuse"),
    "purgings": N_("hot purgings"),
    "product": N_("products"),
    "tools": N_("tools"),
    # days
    "monday": N_("Monday"),
    "tuesday": N_("Tuesday"),
    "wednesday": N_("Wednesday"),
    "thursday": N_("Thursday"),
    "friday": N_("Friday"),
    "saturday": N_("Saturday"),
    "sunday": N_("Sunday"),
}
"""What a coded value is called. One word serves one code, wherever it stands."""


def word(code: str) -> str:
    """The word for a coded value, or the code itself where the shop uses one of its own."""
    return _(WORDS[code]) if code in WORDS else code


def counted(severity: str, count: int) -> str:
    """``2 fix``: how many findings of one severity."""
    return f"{count}\u202f{word(severity).lower()}"


def use_sentence(use: Use) -> str:
    """Who may use a station or machine alone, in one short sentence."""
    return _may(use.alone, use.least_age_years)


def _may(level: str, age_years: float) -> str:
    if level == "visitor":
        says = _("Anybody")
    elif level == "maintainer":
        says = _("Only a maintainer")
    else:
        says = _("If {level}").format(level=word(level))
    if age_years:
        says += _(", and {age} or over").format(age=f"{age_years:g}")
    return says


def rungs(use: Use) -> list[tuple[str, str, str]]:
    """The competence ladder of a station: level, ``may``, ``with`` or "", and its word."""
    if use.alone == "maintainer":
        nobody_else = [(level, "", word(level)) for level in LADDER]
        return [*nobody_else, ("maintainer", "may", word("maintainer"))]
    alone = LADDER.index(use.alone)
    beside = LADDER.index(use.beside) if use.beside in LADDER else alone
    return [
        (level, "may" if i >= alone else "with" if i >= beside else "", word(level))
        for i, level in enumerate(LADDER)
    ]


def level_sentence(procedure: Procedure) -> str:
    """Who may do a procedure."""
    return _may(procedure.level, procedure.least_age_years)


def people_sentence(count: int) -> str:
    """How many people a job takes."""
    return ngettext("One person", "{count} people", count).format(count=count)


def machine_line(machine: Machine) -> str:
    """What a machine draws and how hot it gets, in a line."""
    parts = []
    if machine.electric:
        parts.append(units.show(machine.electric.power_kw, "kw"))
        parts.append(units.show(machine.electric.voltage_v, "v"))
    if machine.heat:
        parts.append(_("up to {heat}").format(heat=units.show(machine.heat.highest_c, "c")))
    return ", ".join(parts) or _("no drive, no heat")


def mould_line(mould: Mould) -> str:
    """What a mould is, in a line."""
    cavities = ngettext("{n} cavity", "{n} cavities", mould.cavities).format(n=mould.cavities)
    part = units.show(mould.part_volume_cm3, "cm3")
    return _("{cavities}, {part} a part").format(cavities=cavities, part=part)


def container_line(container: Container) -> str:
    """What a container holds, in a line."""
    keeps = ", ".join(word(k) for k in container.keeps)
    return _("{litres}, {keeps}; {count} owned").format(
        litres=units.show(container.volume_l, "l"), keeps=keeps, count=container.owned
    )


def restart_sentence(machine: Machine) -> str:
    """What a machine does when power comes back."""
    if machine.electric is None:
        return _("Nothing: it has no drive of its own")
    restarts = machine.electric.restarts
    if restarts is None:
        return _("Nobody has tried: expect it to start")
    return _("It starts by itself: stand clear") if restarts else _("It stays off until started")


def fit_word(fit: str) -> str:
    """Whether a mould can be run, in a word."""
    return _(FIT_WORDS[Fit(fit)])


def standing_word(standing: str) -> str:
    """What the figures say of a cause."""
    return _(STANDING_WORDS[Standing(standing)])


SENTENCES = (
    word,
    counted,
    use_sentence,
    rungs,
    level_sentence,
    people_sentence,
    machine_line,
    mould_line,
    container_line,
    restart_sentence,
    fit_word,
    standing_word,
    fault_words,
)
"""What templates may call by name."""
