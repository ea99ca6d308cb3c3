"""Signs, escape plans and the hang-list as they come from a printer."""

from __future__ import annotations

import datetime as dt
import itertools
from typing import Any

import pytest

from generator.drawings.ink import Stamp
from generator.drawings.pictograms import stamp_size
from generator.ground.paper import paper
from generator.press import escape, hanging, signs
from generator.press.engine import Press
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.shop.records.room import EscapePlan, SignWords
from generator.shop.shop import Shop
from generator.workings.check import Studies
from generator.workings.signage.names import place_name
from tests.press.conftest import DAY
from tests.press.reading import page_sizes, reader, words
from tests.workings.rooms import changed

SIGNED = {"signed_by": "Fire safety adviser", "signed": "2026-10-01"}


@pytest.fixture(scope="module")
def printed(order: Order) -> tuple[Sheet, ...]:
    """Every sign and escape plan, and the hang-list."""
    return (*signs.sheets(order), *escape.sheets(order), *hanging.sheets(order))


def test_every_missing_sign_is_on_one_sheet(order: Order, printed: tuple[Sheet, ...]) -> None:
    study = order.studies.signage
    said = [s.title for s in printed if s.kind == signs.KIND]
    wanted = [w.code for w in study.wanted] + [p.code for p in study.posted if p.too_small]
    wanted.append(study.outside.code)
    told = [w for title in said for w in title.replace(",", "").split() if w in set(wanted)]
    assert sorted(told) == sorted(wanted)


def test_pages_are_their_papers_to_the_tenth_of_a_millimetre(
    press: Press, printed: tuple[Sheet, ...]
) -> None:
    for sheet in printed[::4]:
        for width, height in page_sizes(press.pdf(sheet)):
            assert width == pytest.approx(sheet.paper.width, abs=0.1), sheet.id
            assert height == pytest.approx(sheet.paper.height, abs=0.1), sheet.id


def test_a_sign_is_as_large_as_its_working(order: Order, printed: tuple[Sheet, ...]) -> None:
    needed = {
        (place.id, wanted.code): wanted.size.across_mm
        for place in order.studies.signage.places
        for wanted in place.wanted
    }
    stamped = {
        (sheet.id.removeprefix("sign-"), item.symbol.name): item.size
        for sheet in printed
        if sheet.kind == signs.KIND and isinstance(sheet.body, Drawn)
        for item in sheet.body.faces[0].items
        if isinstance(item, Stamp)
    }
    for (place, code), across in needed.items():
        sizes = [s for (id_, c), s in stamped.items()
                 if c == code and (id_ == place or id_.rpartition("-")[0] == place)]  # fmt: skip
        assert across is not None
        assert sizes and max(sizes) >= stamp_size(code, across) - 1e-6, (place, code)


def test_words_are_text_in_embedded_type(press: Press, printed: tuple[Sheet, ...]) -> None:
    sheet = next(s for s in printed if s.id.startswith("sign-granulator"))
    pdf = press.pdf(sheet)
    said = " ".join(word.text for word in words(pdf))
    assert "Hands can be" in said.replace("crushed", "")
    page: Any = reader(pdf).pages[0]
    for font in page["/Resources"]["/Font"].values():
        below = font.get_object()["/DescendantFonts"][0].get_object()
        assert {"/FontFile2", "/FontFile3"} & set(below["/FontDescriptor"].get_object())


def test_signs_say_their_words_in_three_languages(press: Press, order: Order) -> None:
    words_of = {"en": "Glasses on", "ar": "ضع نظارات واقية", "hi": "चश्मा पहनें"}
    row = SignWords.model_validate({"sign": "M004", "words": words_of})
    identity = changed(order.shop.shop, languages=("en", "ar", "hi"))
    room = changed(order.shop.room, sign_words=(row,))
    shop = changed(order.shop, shop=identity, room=room)
    bench = next(
        s for s in signs.sheets(Order(Studies(shop, DAY), "en")) if s.id == "sign-mixing-bench"
    )
    text = " ".join(reader(press.pdf(bench)).pages[0].extract_text().split())
    assert "Glasses on" in text
    assert any("\u0600" <= letter <= "\u06ff" or "\ufb50" <= letter <= "\ufeff" for letter in text)
    assert any("\u0900" <= letter <= "\u097f" for letter in text)


def test_no_sheet_but_the_printers_own_is_asked_of_it_without_saying(
    order: Order, printed: tuple[Sheet, ...]
) -> None:
    own = paper(order.shop.shop.printer.largest)
    large = [s for s in printed if s.kind != hanging.KIND and not own.holds(s.paper)]
    assert len(large) > 3
    assert all("copy shop" in sheet.note for sheet in large)
    assert not [s for s in printed if own.holds(s.paper) and "copy shop" in s.note]


def test_renaming_a_station_makes_only_its_own_signs_stale(order: Order) -> None:
    stations = dict(order.shop.stations)
    stations["band-saw"] = changed(stations["band-saw"], name="Ribbon saw")
    renamed = Order(Studies(changed(order.shop, stations=stations), DAY), "en", order.address)
    before = {s.id: s.content for s in signs.sheets(order)}
    after = {s.id: s.content for s in signs.sheets(renamed)}
    assert before == after  # a sign does not bear its station's name


def test_the_hang_list_has_every_place_in_order(press: Press, order: Order) -> None:
    (sheet,) = hanging.sheets(order)
    pdf = press.pdf(sheet)
    text = " ".join(page.extract_text() for page in reader(pdf).pages).replace("\n", " ")
    text = " ".join(text.split())
    names = [place_name(order.shop, p.subject) for p in order.studies.signage.walk]
    for name in dict.fromkeys(names):
        assert name.split(",")[0].split()[-1] in text, name
    assert "E007" in text


# --- escape plans ------------------------------------------------------------------------------


def _plans(shop: Shop) -> list[Sheet]:
    return list(escape.sheets(Order(Studies(shop, DAY), "en")))


def _written(order: Order, **more: str) -> Shop:
    plan = EscapePlan.model_validate({"at": "5100, 11200 mm", **more})
    return changed(order.shop, room=changed(order.shop.room, escape_plans={"yard": plan}))


def _says(press: Press, sheet: Sheet) -> str:
    return " ".join(word.text for word in words(press.pdf(sheet)))


def test_a_plan_is_a_draft_until_it_is_signed(order: Order, press: Press) -> None:
    (draft,) = _plans(_written(order))
    (signed,) = _plans(_written(order, **SIGNED))
    assert "DRAFT" in _says(press, draft)
    assert "DRAFT" not in _says(press, signed)
    assert "2026-10-01" in _says(press, signed)
    assert draft.content == signed.content


@pytest.mark.parametrize("left_out", ["signed", "signed_by"])
def test_half_a_signature_is_none(order: Order, press: Press, left_out: str) -> None:
    half = {key: value for key, value in SIGNED.items() if key != left_out}
    (sheet,) = _plans(_written(order, **half))
    assert "DRAFT" in _says(press, sheet)


def test_a_plan_that_changed_since_it_was_signed_is_a_draft_again(
    order: Order, press: Press
) -> None:
    (first,) = _plans(_written(order))
    shown = " ".join(first.content[i : i + 4] for i in range(0, 16, 4))
    shop = _written(order, **SIGNED, content=shown)
    (held,) = _plans(shop)
    assert "DRAFT" not in _says(press, held)
    stations = dict(shop.stations)
    stations["round-table"] = changed(stations["round-table"], at=(8600.0, 3040.0))
    (moved,) = _plans(changed(shop, stations=stations))
    assert "DRAFT" in _says(press, moved)
    assert "2026-10-01" in _says(press, moved)


def test_letter_country_hangs_no_plan_smaller_than_a3(order: Order) -> None:
    identity = order.shop.shop
    printer = changed(identity.printer, largest="Letter")
    shop = changed(order.shop, shop=changed(identity, printer=printer))
    for sheet in _plans(shop):
        assert min(sheet.paper.width, sheet.paper.height) >= 297
        assert max(sheet.paper.width, sheet.paper.height) >= 420


def test_sheets_are_told_apart(printed: tuple[Sheet, ...]) -> None:
    for one, other in itertools.combinations(printed, 2):
        assert one.id != other.id
        assert one.number != other.number
    assert dt.date(2026, 11, 24) == DAY
