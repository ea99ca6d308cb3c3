from __future__ import annotations

import datetime as dt

import pytest

from generator.drawings.ink import Drawing, Label, Pen, Rect
from generator.ground.paper import A5, LETTER, Paper
from generator.press import engine
from generator.press.engine import Press, PressError
from generator.press.sheet import Plain, Sheet, Typeset
from tests.press import reading

PRESS = Press("A shop", dt.date(2026, 4, 16))

TEMPLATE = b"""
#import "house.typ": drawing
#let body(data, pictures) = {
  text(size: 6mm, weight: 700, data.head)
  parbreak()
  for line in data.lines { par(line) }
  box(width: 40mm, height: 20mm, drawing(pictures.box))
}
"""


@pytest.fixture(autouse=True)
def template(monkeypatch: pytest.MonkeyPatch) -> None:
    templates = {**engine._templates(), "trial.typ": TEMPLATE}
    monkeypatch.setattr(engine, "_templates", lambda: templates)


def sheet(lines: list[Plain], paper: Paper = A5) -> Sheet:
    box = Drawing(40, 20, (Rect(1, 1, 38, 18, Pen("none", "ink", 0.5)), Label(5, 12, "boxed", 4)),
                  "A box", "A box with a word in it", unit="mm")  # fmt: skip
    body = Typeset("trial", {"head": "Heading", "lines": lines}, {"box": box})
    return Sheet("trial", "test", "T-01", "A trial", paper, body, "en")


def test_running_text_fills_as_many_pages_as_it_needs() -> None:
    pdf = PRESS.pdf(sheet([f"Line {n}: " + "word " * 30 for n in range(60)], LETTER))
    sizes = reading.page_sizes(pdf)
    assert len(sizes) > 1
    for size in sizes:
        assert size == pytest.approx((LETTER.width, LETTER.height), abs=0.01)


def test_every_page_of_running_text_has_a_foot() -> None:
    made = sheet([f"Line {n}: " + "word " * 30 for n in range(60)])
    for page in reading.reader(PRESS.pdf(made)).pages:
        said = page.extract_text()
        assert "A shop" in said and "2026-04-16" in said and made.content[:4] in said


def test_data_is_never_markup_and_a_picture_keeps_its_words() -> None:
    hostile = '#panic("no") *x* $y$ @z <t> //'
    said = reading.said(PRESS.pdf(sheet([hostile])))
    assert hostile in said and "boxed" in said


def test_other_words_are_another_sheet() -> None:
    assert sheet(["one"]).content != sheet(["two"]).content == sheet(["two"]).content


def test_what_the_engine_says_against_a_sheet_stops_it() -> None:
    body = Typeset("trial", {"head": "Heading"})
    wrong = Sheet("trial", "test", "T-01", "A trial", A5, body, "en")
    with pytest.raises(PressError, match="A trial"):
        PRESS.pdf(wrong)
