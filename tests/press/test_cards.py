"""Cards: each says what the shop's records say, and nothing that its readers must not do."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import replace
from typing import Any, cast

import pdfplumber
import pytest

from generator.ground.paper import A4, A5
from generator.ground.wording import PSEUDO, use
from generator.press.cards import checks, donor, groups, jobs, machines, recipes, roles, tags
from generator.press.engine import Press
from generator.press.order import Order
from generator.press.sheet import Sheet, Typeset
from generator.workings import checksheets
from generator.workings.check import Studies
from generator.workings.sessions import clock
from generator.workings.sessions.runsheet import run_sheet
from tests.press import reading


def one(sheets: list[Sheet], id_: str) -> Sheet:
    (found,) = [sheet for sheet in sheets if sheet.id == id_]
    return found


def blocks_of(sheet: Sheet) -> list[dict[str, Any]]:
    assert isinstance(sheet.body, Typeset)
    return cast("list[dict[str, Any]]", sheet.body.data["blocks"])


def said(press: Press, sheet: Sheet) -> str:
    return " ".join(reading.said(press.pdf(sheet)).split())


def plain(words: object) -> str:
    return " ".join(str(words).replace("\u202f", " ").split())


# --- procedures --------------------------------------------------------------------------------


def test_a_procedure_card_bears_every_step_and_every_hold(order: Order, press: Press) -> None:
    for sheet in jobs.procedures(order):
        procedure = order.shop.procedures[sheet.id.removeprefix("procedure-")]
        words = plain(said(press, sheet))
        assert words.count("Hold point") == sum(step.hold is not None for step in procedure.steps)
        blocks = blocks_of(sheet)
        (steps,) = [block for block in blocks if block["is"] == "steps"]
        assert [row["do"] for row in steps["rows"]] == [str(s.do) for s in procedure.steps]


def test_a_bad_day_names_only_the_buttons_of_its_own_machines(order: Order, press: Press) -> None:
    jam = said(press, one(list(jobs.bad_days(order)), "bad-day-clear-granulator-jam"))
    assert "Red button in the wing" in jam and "Isolator G" in jam
    assert "Red button on the column" not in jam and "Isolator S" not in jam


def test_a_bad_day_without_a_machine_names_every_red_button(order: Order, press: Press) -> None:
    fire = said(press, one(list(jobs.bad_days(order)), "bad-day-fire"))
    buttons = order.shop.equipment_of_kind("emergency-stop")
    assert len(buttons) > 1 and all(str(button.name) in fire for button in buttons)


def test_a_bad_day_is_one_page_and_says_that_it_cuts_nothing(order: Order, press: Press) -> None:
    for sheet in jobs.bad_days(order):
        pdf = press.pdf(sheet)
        assert len(reading.page_sizes(pdf)) == 1, sheet.id
        assert "This sheet cuts no power" in reading.said(pdf)
        assert str(order.shop.shop.emergency_number) in reading.said(pdf)


# --- machines ----------------------------------------------------------------------------------


def test_a_machine_card_refuses_what_its_heat_must_not_meet(order: Order, press: Press) -> None:
    pp = order.shop.machines["screw-injector"].settings[0]
    pvc = pp.model_copy(update={"polymer": "pvc"})
    machine = order.shop.machines["screw-injector"].model_copy(update={"settings": (pp, pvc)})
    shop = order.shop.model_copy(
        update={"machines": {**order.shop.machines, "screw-injector": machine}}
    )
    other = replace(order, studies=Studies(shop, dt.date(2026, 11, 24)))
    words = said(press, one(list(machines.sheets(other)), "machine-screw-injector"))
    assert "Never PVC" in words
    table = words.split("Settings")[1].split("Never PVC")[0]
    assert "PP" in table and "PVC" not in table


def test_a_machine_card_gives_its_lock_out_step_by_step(order: Order, press: Press) -> None:
    for sheet in machines.sheets(order):
        machine = order.shop.machines[sheet.id.removeprefix("machine-")]
        words = plain(said(press, sheet))
        assert all(plain(step)[:20] in words for step in machine.lock_out)


# --- people ------------------------------------------------------------------------------------


def test_a_sign_off_sheet_holds_the_roles_own_visits_and_no_others(
    order: Order, press: Press
) -> None:
    for sheet in roles.sheets(order):
        role = order.shop.roles[sheet.id.removeprefix("sign-off-")]
        words = plain(said(press, sheet))
        assert words.count("initials of both") == len(role.visits)
        assert all(plain(visit.title) in words for visit in role.visits)


def test_check_sheets_bear_every_line_of_the_days_sheets(order: Order) -> None:
    found = list(checks.sheets(order))
    for sheet in (
        checksheets.opening(order.studies.running),
        checksheets.closing(order.studies.running),
    ):
        blocks = blocks_of(one(found, f"check-{sheet.kind}"))
        ticked = sum(len(b["rows"]) for b in blocks if b["is"] == "ticks")
        assert ticked == sheet.count


# --- sessions ----------------------------------------------------------------------------------


def test_a_group_card_agrees_with_the_run_sheet_to_the_minute(order: Order, press: Press) -> None:
    found = list(groups.sheets(order))
    for study in order.studies.sessions.sessions.values():
        for line in run_sheet(study, order.shop):
            for slot in line.moves:
                card = one(found, f"group-{study.session.id}-{slot.group}")
                words = plain(said(press, card))
                assert slot.clock in words
                assert line.clock == clock(slot.start_min)
    assert found and all(sheet.paper == A5 for sheet in found)


# --- recipes, tags, donors ---------------------------------------------------------------------


def test_the_grams_on_a_recipe_card_add_up_to_what_stands_over_them(order: Order) -> None:
    bench = order.studies.material.blends.bench
    for sheet in recipes.sheets(order):
        blend = order.shop.blends[sheet.id.removeprefix("recipe-")]
        if not order.studies.refusals.blend(blend):
            assert sum(i.grams for i in bench.weighed(blend, 1000)) == pytest.approx(1000)
            assert "Weigh" in str(sheet.body)


def test_a_refused_blend_gets_a_card_that_says_why_and_weighs_nothing(
    order: Order, press: Press
) -> None:
    blend = next(iter(order.shop.blends.values()))
    part = blend.parts[0].model_copy(update={"polymer": "pvc", "colour": None})
    changed = blend.model_copy(update={"parts": (part,)})
    shop = order.shop.model_copy(update={"blends": {**order.shop.blends, blend.id: changed}})
    other = replace(order, studies=Studies(shop, dt.date(2026, 11, 24)))
    words = said(press, one(list(recipes.sheets(other)), f"recipe-{blend.id}"))
    assert "Refused" in words and "Weigh" not in words


def test_a_price_tag_says_what_it_must_not_be_used_for(order: Order, press: Press) -> None:
    sheet = one(list(tags.sheets(order)), "price-tag-door-wedge")
    product = order.shop.products["door-wedge"]
    words = plain(said(press, sheet))
    assert "3.50 EUR" in words and "32.4 g" in words and ">PE-HD<" in words
    assert words.count("3.50 EUR") == tags.ON_A_SHEET
    assert all(plain(what) in words for what in product.not_for)
    assert len(reading.page_sizes(press.pdf(sheet))) == 1


def test_the_donors_sheet_answers_for_every_polymer_on_one_page(order: Order, press: Press) -> None:
    (sheet,) = donor.sheets(order)
    pdf = press.pdf(sheet)
    assert len(reading.page_sizes(pdf)) == 1 and sheet.paper == A4
    words = plain(reading.said(pdf))
    for polymer in order.shop.polymers.values():
        assert plain(polymer.name) in words
    assert words.index("Yes, please") < words.index("No, never") < words.index("Grey pipe")


# --- type --------------------------------------------------------------------------------------


@pytest.mark.parametrize("language", ["en", PSEUDO])
def test_no_letter_is_smaller_than_the_hand_or_the_wall_asks_for(
    order: Order, press: Press, language: str
) -> None:
    """2.5 mm in the hand, 3 mm of type on the wall of A4; nothing leaves the page."""
    with use(language):
        turned = replace(order, language=language)
        sheets = [next(iter(jobs.procedures(turned))), *jobs.bad_days(turned),
                  *list(groups.sheets(turned))[:1], *list(tags.sheets(turned))[:2]]  # fmt: skip
    for sheet in sheets:
        least = 3.0 if sheet.kind == jobs.BAD_DAY else 2.5
        for char, width, height in _letters(press.pdf(sheet)):
            assert char["size"] * 25.4 / 72 >= least - 0.01, (sheet.id, char["text"])
            assert char["x0"] >= 0 and char["x1"] <= width and char["bottom"] <= height


def _letters(pdf: bytes) -> list[tuple[dict[str, float], float, float]]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return [
            (char, page.width, page.height)
            for page in opened.pages
            for char in page.chars
            if char["text"].strip()
        ]
