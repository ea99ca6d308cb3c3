"""Right examples: what could stand under a key, made from the key's own type."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from typing import Any

import yaml

from generator.shop.fields import Measured, Plain, Reader, Record
from generator.shop.names import FIRST_ID
from generator.shop.shapes import ByIds, Choice, Flag, Group, ListOf, Shape, Value, keys_of

Ids = Callable[[str], Collection[str]]
"""The ids written of a noun, so that an example names one the shop has."""

# Words for the keys that hold words. "Record.key" wins over "key".
_WORDS: dict[str, Any] = {
    "name": "Granulator",
    "note": "Ask first when the drum is loud",
    "why": "It clogs the screen",
    "what": "Washed flake",
    "do": "Check the guard",
    "say": "Wear eye protection",
    "where": "Nozzle",
    "Identity.name": "Harbour Lane plastics shop",
    "Identity.strapline": "We turn donated plastic into things that last",
    "Identity.emergency_number": 112,
    "Identity.address": "4 Harbour Lane, back yard, blue gate",
    "Identity.directions": "Through the yard, second door on the left",
    "Identity.site_address": "https://shop.example/handbook/",
    "Identity.donations": "Clean and sorted, at the hatch on Tuesdays",
    "Identity.most_people_from": "Agreed with the landlord",
    "Identity.most_people": 20,
    "Use.alone": "authorised",
    "Procedure.level": "authorised",
    "Competence.level": "authorised",
    "Station.purpose": "Clean plastic is cut into flake here",
    "Electric.outlet": "by-the-window",
    "Electric.leakage_note": "3 mA when cold",
    "Moves.what": "The lid swings up",
    "Setting.clean_down": "Brush the rotor and empty the bin",
    "Emission.confirmed_by": "Ventilation engineer",
    "Upkeep.what": "Check the blades",
    "FirstHeatCheck.by": "Electrician",
    "FirstHeatCheck.value": "0.2 ohm",
    "Machine.name": "Granulator",
    "Machine.lock_out": "Switch off at the isolator and hang your lock on it",
    "Prices.rent_month": "500 EUR",
    "Prices.insurance_year": "900 EUR",
    "ColourLot.name": "Bottle green",
    "Polymer.code": "PP",
    "Polymer.name": "Polypropylene",
    "Polymer.examples": "Food tubs",
    "Polymer.tell_by": "Floats, and feels waxy",
    "Container.empty": "2.4 kg",
    "Container.keeps": ["flake"],
    "Container.name": "Grey crate",
    "Mould.wall": "3 mm",
    "Mould.mass": "6 kg",
    "Mould.outer": "180 x 120 x 90 mm",
    "Mould.part_lengths": "80 mm",
    "Mould.name": "Door wedge",
    "Mould.damage": "Scratched near the gate",
    "Blend.name": "Sea speckle",
    "Blend.look": "White flecks on blue",
    "Finish.do": "Cut the sprue off",
    "Product.name": "Door wedge",
    "Product.made_for": "Keeping a room door open",
    "Product.not_for": "Fire doors",
    "Donor.name": "School kitchen",
    "Consumable.name": "Nitrile gloves",
    "Consumable.unit": "pair",
    "Tool.name": "Brass scraper",
    "Tool.use": "Scraping the platens",
    "Tool.check": "No burr on the edge",
    "Hold.until": "The display shows the set point",
    "Hold.because": "Cold melt blocks the nozzle",
    "Step.do": "Close the guard",
    "Step.key_point": "Until the latch clicks",
    "Step.reason": "The motor will not start with it open",
    "Procedure.name": "Make flake",
    "Procedure.done_when": "The bin is weighed and labelled",
    "Control.what": "Interlocked guard",
    "FurtherAction.do": "Fit a longer hopper",
    "Hazard.name": "Rotor",
    "Hazard.harm": "A hand is cut",
    "Hazard.who": "Whoever feeds the hopper",
    "Visit.title": "First evening",
    "Visit.shown": "Exits and alarm point",
    "Visit.do": "Sort one sack",
    "Role.name": "Material keeper",
    "Role.does": "Sorts, weighs and labels what comes in",
    "Role.may": "Refuse a donation",
    "Role.may_not": "Clear a jam",
    "Activity.name": "Sort a sack",
    "Activity.look_at": "How the flakes float",
    "Activity.question": "Why do some of them sink?",
    "Activity.words": "flake",
    "Activity.after": "sort",
    "Session.name": "Class visit",
    "Session.for": "School classes of 10 to 12 year olds",
    "Session.proof": "Found by hand",
    "Stage.name": "Sorting and flake",
    "Stage.goal": "Donations are sorted and cut",
    "Stage.needs": "The landlord agrees to the noise",
    "OtherCost.what": "Cable and outlets",
    "Opening.what": "Open workshop",
    "ClosedDays.why": "Summer break",
    "Contact.name": "Electrician",
    "Contact.reach": "Through the building office",
    "Contact.when": "Weekdays",
    "Duty.name": "Extinguisher test",
    "Room.ceiling": "2900 mm",
    "Supply.main_fuse": "63 A",
    "Supply.panel": "0, 1500 mm",
    "Door.hinge": "2000, 0 mm",
    "Door.latch": "2950, 0 mm",
    "Door.clear_width": "900 mm",
    "Opening.from": "16:00",
    "Opening.to": "20:00",
    "Session.start": "09:30",
    "Session.end": "12:00",
    "Window.start": "4000, 0 mm",
    "Window.end": "5200, 0 mm",
    "ClosedDays.from": "2026-07-27",
    "ClosedDays.to": "2026-08-07",
    "Door.lock": "thumb-turn",
    "Door.name": "Street door",
    "Door.leads_to": "The yard",
    "Zone.name": "Hot side",
    "Zone.outline": ["0, 0 mm", "4000, 0 mm", "4000, 3000 mm"],
    "Station.outline": ["-400, -300 mm", "400, -300 mm", "0, 300 mm"],
    "Fixture.name": "Fitted cupboard",
    "Supply.loop_impedance_note": "0.4 ohm at the board",
    "Circuit.name": "Machines, north wall",
    "Circuit.phases": ["L1"],
    "Fan.name": "Wall fan",
    "Fan.stops_with": "The fire alarm",
    "Hood.name": "Press hood",
    "Equipment.name": "Extinguisher by the street door",
    "Equipment.rating": "6 kg powder",
    "EscapePlan.signed_by": "Fire safety adviser",
    "EscapePlan.content": "7c1e 94b0 5fd2 aa16",
    "SignWords.words": "Glasses on",
    "Assembly.name": "By the big tree",
    "Assembly.from": "Out of the street door and left",
    "Room.name": "Main room",
    "Room.outline": ["0, 0 mm", "8000, 0 mm", "8000, 6000 mm", "0, 6000 mm"],
    "Room.floor_kind": "Sealed concrete",
}


def example(shape: Shape, owner: type[Record] | None, key: str, ids: Ids) -> Any:
    """What could stand under ``key`` of an ``owner``, as plain data."""
    if isinstance(shape, Group):
        return group_example(shape.record, ids)
    if (told := _told(owner, key)) is not None:
        return _as_told(told, shape)
    if isinstance(shape, ListOf):
        item = example(shape.item, owner, key, ids)
        return item if isinstance(item, list) else [item]
    if isinstance(shape, ByIds):
        return {_an_id(key): example(shape.item, owner, key, ids)}
    if isinstance(shape, Choice):
        return shape.words[0]
    return True if isinstance(shape, Flag) else _value(shape, ids)


def group_example(record: type[Record], ids: Ids) -> dict[str, Any]:
    """The keys a record cannot do without; its first key where there are none."""
    keys = keys_of(record)
    wanted = [key for key in keys.values() if key.required] or list(keys.values())[:1]
    return {key.name: example(key.shape, record, key.name, ids) for key in wanted}


def _an_id(key: str) -> str:
    return {"activities": "sort"}.get(key, FIRST_ID.get(f"room.{key}", "first"))


def _told(owner: type[Record] | None, key: str) -> Any:
    """The example written down for a key, or None."""
    own = _WORDS.get(f"{owner.__name__}.{key}") if owner else None
    return _WORDS.get(key) if own is None else own


def _as_told(told: Any, shape: Shape) -> Any:
    """The same example serves a list and one item of it."""
    if isinstance(shape, ListOf):
        return told if isinstance(told, list) else [told]
    return told[0] if isinstance(told, list) else told


def _value(shape: Value, ids: Ids) -> Any:
    return id_example(shape.noun, ids) if shape.noun else marker_example(shape)


def id_example(noun: str, ids: Ids) -> str:
    """An id there is: a telling one where it is among them, else the first."""
    known, usual = ids(noun), FIRST_ID.get(noun, "first")
    return usual if usual in known else next(iter(known), usual)


def marker_example(shape: Value) -> Any:
    """The example of a quantity, a date or another value with a form of its own."""
    if isinstance(shape.marker, Plain):
        return number(shape.marker.example)
    if isinstance(shape.marker, Measured | Reader):
        return shape.marker.example
    return "Granulator"


def number(text: str) -> int | float:
    """The number in an example."""
    return float(text) if "." in text else int(text)


# --- as it stands in a file --------------------------------------------------------------------


class _Dumper(yaml.SafeDumper):
    """Quotes only what this reader would not take for words (``16:30`` stays bare)."""

    yaml_implicit_resolvers: dict[str, Any] = {}


_Dumper.add_implicit_resolver("tag:yaml.org,2002:null", re.compile(r"(?:~|null|)$"), ["~", "n", ""])
_Dumper.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(r"(?:true|false)$"), ["t", "f"])
_Dumper.add_implicit_resolver("tag:yaml.org,2002:int", re.compile(r"[0-9]+$"), list("0123456789"))
_Dumper.add_implicit_resolver(
    "tag:yaml.org,2002:float", re.compile(r"[0-9]*\.[0-9]+$"), list(".0123456789")
)

_INDENT = "  "


def as_yaml(data: Any) -> str:
    """The data as it would stand in a file: short lists and groups on one line."""
    return "\n".join(_lines(data))


def _lines(data: Any) -> list[str]:
    if isinstance(data, dict) and data:
        return [line for key, value in data.items() for line in _entry(f"{key}:", value)]
    if isinstance(data, list) and data:
        return [line for value in data for line in _item(value)]
    return [_flow(data)]


def _entry(key: str, value: Any) -> list[str]:
    if _fits_a_line(value):
        return [f"{key} {_flow(value)}"]
    return [key, *(f"{_INDENT}{line}" for line in _lines(value))]


def _item(value: Any) -> list[str]:
    if not isinstance(value, dict | list):
        return [f"- {_flow(value)}"]
    first, *rest = _lines(value)
    return [f"- {first}", *(f"{_INDENT}{line}" for line in rest)]


def _fits_a_line(value: Any) -> bool:
    inner = list(value.values()) if isinstance(value, dict) else value
    if not isinstance(inner, list):
        return True
    return len(inner) < 4 and not any(isinstance(v, dict | list) or ", " in str(v) for v in inner)


def _flow(value: Any) -> str:
    flow = isinstance(value, dict | list)
    text = yaml.dump(
        value, Dumper=_Dumper, sort_keys=False, allow_unicode=True,
        default_flow_style=flow, width=1000,
    )  # fmt: skip
    return text.strip().removesuffix("...").strip()
