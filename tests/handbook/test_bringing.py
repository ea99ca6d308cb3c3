"""The donor's sheet: what is taken now, in a donor's words, and what storage has to say to it."""

from __future__ import annotations

import datetime as dt
import re
from functools import cache
from html import unescape

from generator.ground.resources import resource
from generator.handbook import bringing, material
from generator.handbook.desk import Desk
from generator.shop.load import load_shop
from generator.shop.shop import Shop

DAY = dt.date(2026, 11, 25)


@cache
def shop() -> Shop:
    found = load_shop(resource("content") / "shop").shop
    assert found is not None
    return found


def body(found: Shop, day: dt.date = DAY) -> str:
    (page,) = bringing.pages(Desk(found, day))
    return page.body


def words(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def part(found: Shop, heading: str) -> str:
    return words(body(found).split(f"## {heading}")[1].split("\n## ")[0])


def full(polymer: str) -> Shop:
    """The shop with more of a polymer than it lets itself keep."""
    limit = Desk(shop(), DAY).stock[polymer] - 1
    changed = shop().polymers[polymer].model_copy(update={"store_limit_kg": limit})
    return shop().model_copy(update={"polymers": {**shop().polymers, polymer: changed}})


def test_each_material_stands_under_its_answer_in_a_donors_words() -> None:
    heads = {"taken": "Yes, please", "paused": "Not now", "refused": "No, never"}
    desk = Desk(shop(), DAY)
    for polymer in shop().polymers.values():
        told = part(shop(), heads[desk.studies.bringing.answer(polymer)])
        for example in polymer.examples:
            assert " ".join(str(example).split()) in told


def test_what_must_not_be_heated_is_never_asked_for_whatever_the_shop_wrote() -> None:
    taken = shop().polymers["pvc"].model_copy(update={"status": "taken"})
    changed = shop().model_copy(update={"polymers": {**shop().polymers, "pvc": taken}})
    assert str(taken.name) in part(changed, "No, never")
    assert str(taken.name) not in part(changed, "Yes, please")


def test_a_full_store_pauses_its_polymer_on_the_sheet_and_at_the_front() -> None:
    assert "Polypropylene" in part(shop(), "Yes, please")
    told = part(full("pp"), "Not now")
    assert "Paused for Polypropylene" in told
    assert "110" not in part(full("pp"), "Yes, please")
    (row,) = [r for r in material.taken_rows(Desk(full("pp"), DAY)) if r.polymer.id == "pp"]
    assert row.word == "Paused"
    assert "is the limit" in row.why


def test_the_sheet_opens_with_what_and_when() -> None:
    opening = words(body(shop()).split("## ")[0])
    assert "Taken now: Polypropylene" in opening
    assert "Wednesday 14:00–19:00" in opening
    assert "Thursday" not in opening  # school groups only


def test_a_closing_is_told_when_it_is_near_and_forgotten_when_it_is_past() -> None:
    assert "Winter closing" in words(body(shop()))
    assert "Autumn break" not in words(body(shop()))
    assert "Winter closing" not in words(body(shop(), dt.date(2026, 9, 1)))


def test_quarantine_says_its_places_and_the_longest_stay() -> None:
    told = part(shop(), "Not sure what it is?")
    assert "7 of 8 places are free" in told
    assert "28 days at most" in told


def test_why_the_oven_refuses_the_grey_pipe_is_one_tap_away() -> None:
    row = body(shop()).split("Grey pipe", 1)[1].split("</li>")[0]
    assert "acid gas" in row
    assert "material/purity.html#refused-pvc" in row
