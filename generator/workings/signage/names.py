"""What the places of signs are called."""

from __future__ import annotations

from collections.abc import Sequence

from generator.ground.wording import _
from generator.reference import reference
from generator.shop.shop import Shop
from generator.workings.shown import at_station


def place_name(shop: Shop, subject: str) -> str:
    """What a sentence calls the thing that signs hang for (``station 12, Platen press``)."""
    noun, _slash, id_ = subject.partition("/")
    if noun == "stations":
        return at_station(shop, id_)
    return _room_name(shop, id_)


def _room_name(shop: Shop, path: str) -> str:
    kind, _slash, id_ = path.partition("/")
    if kind == "doors":
        door, _slash, part = id_.partition("/")
        return _door_words(part).format(door=shop.room.doors[door].name)
    if kind == "equipment":
        return str(shop.room.equipment[id_].name)
    if kind == "zones":
        return _("the way into {zone}").format(zone=shop.room.zones[id_].name)
    if kind == "assembly":
        return str(shop.room.assembly.name)
    return _("the distribution board") if kind == "supply" else _("the sign `{id}`").format(id=id_)


def _door_words(part: str) -> str:
    if part == "inside":
        return _("just inside {door}")
    return _("the way to {door}") if part else "{door}"


def sign_name(code: str) -> str:
    """What a registered sign says, in the current language."""
    return _(reference().sign(code).refers)


def listed(codes: Sequence[str]) -> str:
    """Signs as a sentence lists them: ``M004 (wear eye protection), W017 (hot surface)``."""
    one = _("{code} ({name})")
    return ", ".join(one.format(code=code, name=_lower(sign_name(code))) for code in codes)


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:]
