"""What the parts of a shop are called where a sentence speaks of them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from generator.ground.wording import N_, _

SINGLETONS = {"shop": N_("Shop"), "room": N_("Room"), "hours": N_("Hours")}

RECORDS = {
    "stations": N_("Station `{id}`"),
    "machines": N_("Machine `{id}`"),
    "polymers": N_("Polymer `{id}`"),
    "containers": N_("Container `{id}`"),
    "moulds": N_("Mould `{id}`"),
    "blends": N_("Blend `{id}`"),
    "products": N_("Product `{id}`"),
    "donors": N_("Donor `{id}`"),
    "consumables": N_("Consumable `{id}`"),
    "tools": N_("Tool `{id}`"),
    "procedures": N_("Procedure `{id}`"),
    "hazards": N_("Hazard `{id}`"),
    "roles": N_("Role `{id}`"),
    "sessions": N_("Session `{id}`"),
    "stages": N_("Stage `{id}`"),
    "contacts": N_("Contact `{id}`"),
    "duties": N_("Duty `{id}`"),
}

PARTS = {
    "columns": N_("column `{id}`"),
    "doors": N_("door `{id}`"),
    "windows": N_("window `{id}`"),
    "zones": N_("zone `{id}`"),
    "fixtures": N_("fixture `{id}`"),
    "circuits": N_("circuit `{id}`"),
    "outlets": N_("outlet `{id}`"),
    "extract_points": N_("extract point `{id}`"),
    "fans": N_("fan `{id}`"),
    "hoods": N_("hood `{id}`"),
    "water": N_("water point `{id}`"),
    "equipment": N_("equipment `{id}`"),
    "signs": N_("sign `{id}`"),
    "escape_plans": N_("escape plan `{id}`"),
    "colours": N_("colour `{id}`"),
    "activities": N_("activity `{id}`"),
    "upkeep": N_("upkeep `{id}`"),
}

ONE_OF = {
    "stations": N_("a station"),
    "machines": N_("a machine"),
    "polymers": N_("a polymer"),
    "containers": N_("a container"),
    "moulds": N_("a mould"),
    "blends": N_("a blend"),
    "products": N_("a product"),
    "donors": N_("a donor"),
    "consumables": N_("a consumable"),
    "tools": N_("a tool"),
    "procedures": N_("a procedure"),
    "hazards": N_("a hazard"),
    "roles": N_("a role"),
    "sessions": N_("a session"),
    "stages": N_("a stage"),
    "contacts": N_("a contact"),
    "duties": N_("a duty"),
    "room.zones": N_("a zone"),
    "room.doors": N_("a door"),
    "room.circuits": N_("a circuit"),
    "room.equipment": N_("a piece of equipment"),
    "room.fans": N_("a fan"),
    "room.hoods": N_("a hood"),
    "room.extract_points": N_("an extract point"),
    "reference.signs": N_("the code of a sign of ISO 7010 known here"),
    "reference.supplies": N_("a supply known here"),
    "reference.containers": N_("a standard container known here"),
    "reference.label_grids": N_("a sheet of labels known here"),
    "reference.substances": N_("a substance with an exposure limit known here"),
}

# An id to show where the shop has written none yet.
FIRST_ID = {
    "stations": "granulator",
    "machines": "granulator",
    "polymers": "pp",
    "containers": "grey-crate",
    "moulds": "door-wedge",
    "blends": "sea-speckle",
    "products": "door-wedge",
    "donors": "school-kitchen",
    "consumables": "nitrile-gloves",
    "tools": "brass-scraper",
    "procedures": "make-flake",
    "hazards": "rotor",
    "roles": "workshop-lead",
    "sessions": "class-visit",
    "stages": "sorting-and-flake",
    "contacts": "electrician",
    "duties": "extinguisher-test",
    "room.zones": "hot-side",
    "room.doors": "street-door",
    "room.circuits": "machines-north",
    "room.equipment": "isolator-north",
    "room.fans": "wall-fan",
    "room.hoods": "press-hood",
    "room.extract_points": "north-wall",
    "reference.signs": "M004",
    "reference.supplies": "EU-230-400",
    "reference.containers": "euro-600x400-320",
    "reference.label_grids": "a4-24-64x34",
    "reference.substances": "styrene",
}

Path = Sequence[str | int]


def spoken(noun: str, path: Path) -> str:
    """The place in words: ``Station `granulator`, no. 2 of `working_sides`, `depth```."""
    if noun in SINGLETONS:
        return ", ".join([_(SINGLETONS[noun]), *_steps(path)])
    if not path:
        return _("The records of {file}").format(file=file_of(noun))
    return ", ".join([_(RECORDS[noun]).format(id=short(path[0])), *_steps(path[1:])])


def _steps(path: Path) -> list[str]:
    steps: list[str] = []
    rest = list(path)
    while rest:
        step = rest.pop(0)
        if isinstance(step, str) and step in PARTS and rest and isinstance(rest[0], str):
            steps.append(_(PARTS[step]).format(id=short(rest.pop(0))))
        elif rest and isinstance(rest[0], int):
            steps.append(_("no. {n} of `{key}`").format(n=int(rest.pop(0)) + 1, key=short(step)))
        else:
            steps.append(f"`{short(step)}`")
    return steps


def file_of(noun: str) -> str:
    """The file a noun is written in (``room.zones`` in ``room.yml``)."""
    return str(PurePosixPath(f"{noun.split('.', maxsplit=1)[0].replace('_', '-')}.yml"))


def short(word: object) -> str:
    """A key or an id as a sentence quotes it."""
    text = str(word)
    return text if len(text) <= 40 else f"{text[:39]}…"


def listed(words: Sequence[str], last: str = "") -> str:
    """``a``, ``b`` and ``c``; with ``last``, another word than "and" before the last."""
    quoted = [f"`{short(word)}`" for word in words]
    if len(quoted) < 2:
        return "".join(quoted)
    return _("{words} {conjunction} {last_word}").format(
        words=", ".join(quoted[:-1]), conjunction=last or _("and"), last_word=quoted[-1]
    )
