from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp

from generator.drawings.ink import Drawing, Label, labels_of
from generator.drawings.type import CAPITAL, width
from generator.ground.paper import A4, LETTER
from generator.ground.wording import PSEUDO, use
from generator.press import stations
from generator.press.engine import Press
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.workings.check import Studies
from tests.drawings.reading import overflowing
from tests.press import reading
from tests.press.conftest import DAY
from tests.small import shop_with


def faces(sheet: Sheet) -> tuple[Drawing, ...]:
    assert isinstance(sheet.body, Drawn)
    return sheet.body.faces


@pytest.fixture(scope="module")
def made(order: Order) -> dict[str, Sheet]:
    return {sheet.about[0]: sheet for sheet in stations.sheets(order)}


def test_every_station_has_a_sheet_of_two_faces(order: Order, made: dict[str, Sheet]) -> None:
    assert list(made) == [f"stations/{s.id}" for s in order.shop.stations_by_number]
    for sheet in made.values():
        assert [(f.width, f.height, f.unit) for f in faces(sheet)] == [(210.0, 297.0, "mm")] * 2


@pytest.mark.parametrize("language", ["en", PSEUDO])
def test_no_word_leaves_its_room_or_the_sheet(order: Order, language: str) -> None:
    with use(language):
        for sheet in stations.sheets(replace(order, language=language)):
            for face in faces(sheet):
                assert overflowing(face) == [], sheet.id
                assert list(_outside(face)) == [], sheet.id


def _outside(face: Drawing) -> Iterator[str]:
    """Words that come nearer to the edge of the paper than the frame stands."""
    for label in labels_of(face.items):
        wide = width(label.text, label.size, label.bold)
        left = label.x - {"start": 0.0, "middle": wide / 2, "end": wide}[label.anchor]
        inside = left >= 7 and left + wide <= face.width - 7 and label.y <= face.height - 7
        if not label.turn and not inside:
            yield label.text


def test_number_and_rules_are_as_high_as_their_readers_ask(
    order: Order, made: dict[str, Sheet]
) -> None:
    for station in order.shop.stations_by_number:
        asked, front = order.legible[station.id], faces(made[f"stations/{station.id}"])[0]
        number = max(labels_of(front.items), key=lambda label: label.size)
        assert number.text == str(station.number)
        assert number.size * CAPITAL >= asked.number_mm - 0.05, station.id
        for rule in station.nevers[:3]:
            begins = {x.size for x in labels_of(front.items) if _begins(x, str(rule.say))}
            assert begins and min(begins) * CAPITAL >= asked.rules_mm, (station.id, rule.say)


def _begins(label: Label, rule: str) -> bool:
    """Whether a rule begins with a label that is set beside a sign, and so is no heading."""
    return label.bold and label.x > 25 and rule.startswith(label.text) and label.text != "Wear"


def test_a_name_too_low_for_who_carries_there_is_told(made: dict[str, Sheet], order: Order) -> None:
    far = order.legible["sorting-table"]
    assert far.carried_m > 10
    assert "by its number" in made["stations/sorting-table"].note
    assert made["stations/hand-in-counter"].note == ""


def test_the_code_leads_to_the_page(press: Press, made: dict[str, Sheet]) -> None:
    for key in ("stations/granulator-bay", "stations/round-table"):
        image = pypdfium2.PdfDocument(press.pdf(made[key]))[0].render(scale=150 / 72).to_pil()
        (code,) = zxingcpp.read_barcodes(image)
        assert code.text == f"https://handbook.example/malt-hall/{key}.html"


def test_without_an_address_there_is_no_code(order: Order, press: Press) -> None:
    nowhere = replace(order, address="")
    sheet = next(s for s in stations.sheets(nowhere) if s.id == "station-granulator-bay")
    image = pypdfium2.PdfDocument(press.pdf(sheet))[0].render(scale=150 / 72).to_pil()
    assert not zxingcpp.read_barcodes(image)


def test_both_faces_print_with_their_words_as_text(press: Press, made: dict[str, Sheet]) -> None:
    pdf = press.pdf(made["stations/granulator-bay"])
    for size in reading.page_sizes(pdf):
        assert size == pytest.approx((210, 297), abs=0.01)
    words = " ".join(reading.said(pdf).split())
    for said in ("Granulator bay", "Put a hand or a stick", "Hold point", "Isolator G, granulator"):
        assert said in words
    assert all(reading.fonts(pdf).values())


def test_renaming_one_station_leaves_the_others_current(order: Order) -> None:
    before = {s.id: s.content for s in stations.sheets(order)}
    shop = order.shop
    station = shop.stations["cooling-table"]
    other = station.model_copy(update={"name": type(station.name)("Cooling rack")})
    renamed = shop.model_copy(update={"stations": {**shop.stations, "cooling-table": other}})
    after = stations.sheets(Order(Studies(renamed, DAY), "en", order.address))
    changed = {s.id for s in after if s.content != before[s.id]}
    bear_it = {
        f"station-{s.id}"
        for s in shop.stations_by_number
        if s.id == "cooling-table"
        or any(h.station == "cooling-table" for h in (*s.takes_in, *s.gives))
    }
    assert changed == bear_it


def test_a_shop_that_prints_on_letter_gets_letter(tmp_path: Path) -> None:
    shop = shop_with(tmp_path)
    letter = shop.shop.model_copy(
        update={"printer": shop.shop.printer.model_copy(update={"largest": "Letter"})}
    )
    order = Order(Studies(shop.model_copy(update={"shop": letter}), DAY), "en")
    (sheet,) = stations.sheets(order)
    assert sheet.paper == LETTER != A4
    for face in faces(sheet):
        assert (face.width, face.height) == (215.9, 279.4)
        assert overflowing(face) == [] and list(_outside(face)) == []
