from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from generator.drawings import foot
from generator.drawings.ink import Drawing, Item, Label, Pen, Rect
from generator.drawings.type import width
from generator.ground.paper import A4, A5, FAMILIES, LETTER, Paper, paper
from generator.press.cache import Cache
from generator.press.engine import Press
from generator.press.letters import STAND_IN, missing, settable
from generator.press.sheet import Drawn, Sheet, held_foot
from tests.press import reading

PRESS = Press("A shop", dt.date(2026, 4, 16))


def sheet(*items: Item, paper: Paper = A4, title: str = "A sheet", language: str = "en") -> Sheet:
    base = foot.draw(held_foot("A shop", "T-01"), (13, paper.height - 16, 180, 9), 3)
    drawing = Drawing(paper.width, paper.height, (*items, *base), title, "What it shows", unit="mm")
    return Sheet("a-sheet", "test", "T-01", title, paper, Drawn((drawing,)), language)


def label(text: str, x: float = 20, y: float = 50, size: float = 10, **more: object) -> Label:
    return Label(x, y, text, size, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["A6", "A5", "A4", "A3", "A2", "Half Letter", "Letter", "Tabloid"])
@pytest.mark.parametrize("turned", [False, True])
def test_a_page_is_as_large_as_its_paper(name: str, turned: bool) -> None:
    kind = paper(name).turned if turned else paper(name)
    (size,) = reading.page_sizes(PRESS.pdf(sheet(paper=kind)))
    assert size == pytest.approx((kind.width, kind.height), abs=0.01)


def test_the_a_family_halves_from_sheet_to_sheet() -> None:
    for small, large in zip(FAMILIES["A"], FAMILIES["A"][1:], strict=False):
        assert (large.width, large.height // 2) == (small.height, small.width)
        assert large.holds(small) and not small.holds(large)


def test_a_label_stands_where_the_drawing_put_it() -> None:
    pdf = PRESS.pdf(sheet(label("Heft", 20, 50), label("mitte", 105, 80, anchor="middle"),
                          label("ende", 190, 110, anchor="end")))  # fmt: skip
    found = {word.text: word for word in reading.words(pdf)}
    assert found["Heft"].x0 == pytest.approx(20, abs=0.1)
    assert (found["mitte"].x0 + found["mitte"].x1) / 2 == pytest.approx(105, abs=0.1)
    assert found["ende"].x1 == pytest.approx(190, abs=0.1)
    assert found["Heft"].size == pytest.approx(10, abs=0.01)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_a_turned_label_turns_about_its_own_point(anchor: str) -> None:
    pdf = PRESS.pdf(sheet(label("turned", 60, 140, 8, turn=-90, anchor=anchor)))
    chars = [c for c in reading.letters(pdf) if c.turned]
    low, high = min(c.top for c in chars), max(c.bottom for c in chars)
    wanted = {"start": high, "middle": (low + high) / 2, "end": low}[anchor]
    assert wanted == pytest.approx(140, abs=0.6)
    assert all(50 < c.x0 < 62 for c in chars)


def test_words_are_real_text_in_type_that_is_inside() -> None:
    pdf = PRESS.pdf(sheet(label("Zerkleinerer"), label("مطحنة", 20, 80), label("चक्की", 20, 110)))
    fonts = reading.fonts(pdf)
    assert fonts and all(fonts.values()), fonts
    assert "Zerkleinerer" in reading.said(pdf)
    assert any("Arabic" in name for name in fonts)


def test_shop_text_is_never_markup() -> None:
    hostile = '#panic("no") *bold* $x$ ] @ref <tag> \\ "quoted" // end'
    assert hostile in reading.said(PRESS.pdf(sheet(label(hostile), title=hostile)))


def test_title_language_and_tags() -> None:
    opened = reading.reader(PRESS.pdf(sheet(label("bonjour"), title="Une feuille", language="fr")))
    root = opened.trailer["/Root"]
    assert opened.metadata.title == "Une feuille"
    assert root["/Lang"] == "fr"
    assert root["/MarkInfo"]["/Marked"] is not None and "/StructTreeRoot" in root
    meta = root["/Metadata"].get_object().get_data().decode()
    assert "pdfuaid:part" in meta and "pdfaid:part" in meta


def test_a_letter_no_font_has_is_told_and_stood_in_for() -> None:
    text = "sort 分 out"
    assert missing(text) == ("分",)
    assert "分" not in settable(text)
    assert STAND_IN in settable(text) or "?" in settable(text)
    PRESS.pdf(sheet(label(text)))


def test_the_same_sheet_gives_the_same_bytes() -> None:
    made = sheet(label("same"))
    assert PRESS.pdf(made) == PRESS.pdf(made)
    assert PRESS.pdf(made) != replace(PRESS, as_of=dt.date(2026, 4, 17)).pdf(made)


def test_a_foot_bears_the_date_and_the_hash_of_what_is_shown() -> None:
    made, other = sheet(label("this")), sheet(label("that"))
    words = reading.said(PRESS.pdf(made))
    assert "2026-04-16" in words and held_foot("", "").fingerprint not in words
    assert made.content[:4] in words
    assert made.content != other.content == sheet(label("that")).content


def test_marks_to_cut_along_stand_clear_of_artwork_over_the_edge() -> None:
    full = Rect(-3, -3, A5.width + 6, A5.height + 6, Pen("#123456"))
    pdf = replace(PRESS, marked=True).pdf(sheet(full, paper=A5))
    page = reading.reader(pdf).pages[0]
    assert float(page.mediabox.width) * reading.MM == pytest.approx(A5.width + 20, abs=0.01)
    assert reading.page_sizes(pdf)[0] == pytest.approx((A5.width, A5.height), abs=0.01)
    lines = reading.lines(pdf)
    assert len(lines) == 8
    assert all(not (-3 < x < A5.width + 3 and -3 < y < A5.height + 3) for x, y in lines)


def test_a_pack_has_a_bookmark_a_sheet() -> None:
    pdf = PRESS.pack("All", [sheet(title="One"), sheet(title="Two", paper=LETTER)])
    opened = reading.reader(pdf)
    assert [mark.title for mark in opened.outline] == ["One", "Two"]
    assert len(opened.pages) == 2


def test_what_was_set_before_is_taken_from_the_cache(tmp_path: Path) -> None:
    kept = replace(PRESS, cache=Cache(tmp_path / "kept"))
    made = sheet(label("once"))
    first = kept.pdf(made)
    (file,) = (tmp_path / "kept").iterdir()
    file.write_bytes(b"from the cache")
    assert kept.pdf(made) == b"from the cache"
    file.unlink()
    assert kept.pdf(made) == first


def test_lines_are_as_wide_as_they_were_measured() -> None:
    """Layouts measure words before the engine sets them: the two must agree."""
    for text, bold in (("Sorting table, 14.5 kg", False), ("AVATAR Wolf", True), ("Töpfe", True)):
        (word,) = [w for w in reading.words(PRESS.pdf(sheet(label(text, bold=bold)))) if w.size > 9]
        assert word.x1 - word.x0 == pytest.approx(width(text, 10, bold), abs=0.05)
