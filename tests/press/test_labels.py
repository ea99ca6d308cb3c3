from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from generator.drawings import labels as drawn_labels
from generator.drawings import marks
from generator.drawings.ink import Label, labels_of
from generator.drawings.label_grid import Grid, plain
from generator.drawings.labels import Face, Run
from generator.drawings.type import CAPITAL, width
from generator.ground.paper import A4, LETTER, paper
from generator.ground.wording import PSEUDO, use
from generator.press import labels
from generator.press.engine import Press
from generator.press.order import Order
from generator.press.sheet import HELD_DAY, Drawn, Sheet, held_foot
from generator.reference import reference
from tests.drawings.reading import overflowing
from tests.press import reading

GRID_OF_24 = Grid(A4, 3, 8, 63.5, 33.9, 7.25, 12.9, 66.0, 33.9)
SIZES = [(90.0, 63.0), (99.1, 67.7), (63.5, 33.9), (105.0, 57.0), (66.68, 25.4)]
LONG = ("Never heat it", "Only PE-HD: no PVC, POM, PS", "Do not wash or cut before sorting")
FACES = [
    Face("as donated", "PE-HD", ("PE-HD",), "mixed colours", LONG),
    Face("flake", "PP", ("PP",), "blue", LONG[:2]),
    Face("washed", "PC", ("PC",), "clear", LONG[:1], never_heated=True),
    Face(
        "blend", "Meadow after rain", ("PP", "PE-HD"), "70 % PP green, 30 % PE-HD white", LONG[:1]
    ),
    Face("quarantine", "", (), "", LONG[:2]),
    Face("refuse", "", (), "", LONG[:2]),
]


def run_of(count: int, first: int, grid: Grid = GRID_OF_24, **more: object) -> Sheet:
    face = Face("flake", "PP", ("PP",), "blue", ("Only PP: no PVC",))
    label = drawn_labels.draw(face, (grid.width, grid.height), "A shop", HELD_DAY)
    run = Run(grid, first, **more)  # type: ignore[arg-type]
    faces = drawn_labels.sheets(run, [label] * count, held_foot("A shop", "LB-01"), "Labels")
    return Sheet("labels", "label", "LB-01", "Labels", grid.paper, Drawn(faces), "en")


def corners(pdf: bytes, page: int) -> list[tuple[float, float]]:
    """The upper left corner of each label on a printed page, by where its code stands in it."""
    (code,) = (x for x in _one_label() if x.text == "PP")
    printed = [w for w in reading.letters(pdf, page) if w.size > 8 and w.text == "P"]
    first_of_two = printed[::2]
    return [(w.x - code.x, w.baseline - code.y) for w in first_of_two]


def _one_label() -> Sequence[Label]:
    face = Face("flake", "PP", ("PP",), "blue", ("Only PP: no PVC",))
    return list(labels_of(drawn_labels.draw(face, (63.5, 33.9), "A shop", HELD_DAY).items))


def test_31_labels_from_the_7th_of_24_are_18_and_13(press: Press) -> None:
    pdf = press.pdf(run_of(31, 7))
    pages = [corners(pdf, 0), corners(pdf, 1)]
    assert [len(page) for page in pages] == [18, 13]
    cells = [(column, row) for row in range(8) for column in range(3)]
    for page, wanted in zip(pages, (cells[6:], cells[:13]), strict=True):
        for (x, y), (column, row) in zip(page, wanted, strict=True):
            assert x == pytest.approx(7.25 + 66 * column, abs=0.1)
            assert y == pytest.approx(12.9 + 33.9 * row, abs=0.1)


def test_a_printer_s_own_error_is_taken_off(press: Press) -> None:
    at = corners(press.pdf(run_of(1, 1, offset=(0.8, -0.5))), 0)[0]
    assert at == pytest.approx((7.25 - 0.8, 12.9 + 0.5), abs=0.05)


def test_used_labels_of_a_started_sheet_stay_bare(press: Press) -> None:
    image = pypdfium2.PdfDocument(press.pdf(run_of(2, 7)))[0].render(scale=2, grayscale=True)
    ink = np.asarray(image.to_pil()) < 200
    per_mm = ink.shape[1] / 210
    assert not ink[: int((12.9 + 2 * 33.9) * per_mm)].any()
    assert ink[int((12.9 + 2 * 33.9) * per_mm) :].any()


@given(st.integers(0, 200), st.integers(1, 24))
def test_every_label_has_a_place_of_its_own_and_none_is_lost(count: int, first: int) -> None:
    places = list(GRID_OF_24.places(count, first))
    assert len(set(places)) == len(places) == count
    assert {page for page, _x, _y in places} == set(
        range(GRID_OF_24.pages(count, first) if count else 0)
    )


def test_a_label_that_no_sheet_has_is_refused() -> None:
    with pytest.raises(ValueError, match="1 to 24"):
        list(GRID_OF_24.places(1, 25))


@pytest.mark.parametrize("row", reference().label_grids.values(), ids=lambda row: row.id)
def test_a_known_sheet_of_labels_fits_its_paper(row: object) -> None:
    r = row
    size = paper(r.paper)  # type: ignore[attr-defined]
    right = r.left + (r.columns - 1) * r.across + r.width  # type: ignore[attr-defined]
    foot = r.top + (r.rows - 1) * r.down + r.height  # type: ignore[attr-defined]
    assert right == pytest.approx(size.width - r.left, abs=0.1)  # type: ignore[attr-defined]
    assert foot == pytest.approx(size.height - r.top, abs=0.6)  # type: ignore[attr-defined]
    assert r.across >= r.width and r.down >= r.height  # type: ignore[attr-defined]


@pytest.mark.parametrize("kind", [A4, LETTER])
def test_plain_paper_is_cut_along_marks_that_touch_no_label(kind: object) -> None:
    grid = plain(kind)  # type: ignore[arg-type]
    assert grid.left >= 8 and grid.top >= 8
    sheet = run_of(grid.on_a_sheet, 1, grid)
    assert isinstance(sheet.body, Drawn) and len(sheet.body.faces) == 1


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]:g}x{size[1]:g}")
@pytest.mark.parametrize("language", ["en", PSEUDO])
@pytest.mark.parametrize("face", FACES, ids=lambda face: face.condition)
def test_no_word_leaves_its_room_or_the_label(
    face: Face, language: str, size: tuple[float, float]
) -> None:
    with use(language):
        label = drawn_labels.draw(face, size, "Malt Hall Plastics Shop", HELD_DAY)
        drawing = drawn_labels.sheets(
            Run(Grid(A4, 1, 1, *size, 0, 0, *size)), [label], held_foot("", ""), ""
        )[0]
    assert overflowing(drawing) == []
    for word in labels_of(drawing.items):
        left, top, wide, high = word.box or (0, 0, 0, 0)
        assert word.size >= 2.5
        assert left >= 0 and top >= 0, word
        assert left + wide <= size[0] + 0.01 and top + high <= size[1] + 0.01, word


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]:g}x{size[1]:g}")
def test_lines_of_a_label_do_not_run_into_one_another(size: tuple[float, float]) -> None:
    for face in FACES:
        label = drawn_labels.draw(face, size, "A shop", HELD_DAY)
        level = [x for x in labels_of(label.items) if not x.turn and x.box]
        for one, other in itertools.combinations(level, 2):
            assert not _over(one, other), (one.text, other.text)


def _over(one: Label, other: Label) -> bool:
    """Whether capitals and descenders of two lines meet."""

    def box(x: Label) -> tuple[float, float, float, float]:
        wide = width(x.text, x.size, x.bold)
        left = x.x - {"start": 0.0, "middle": wide / 2, "end": wide}[x.anchor]
        return left, x.y - CAPITAL * x.size, left + wide, x.y + 0.1 * x.size

    a, b = box(one), box(other)
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def test_the_demonstration_s_labels_are_as_many_as_its_storage_needs(order: Order) -> None:
    made = {sheet.id: sheet for sheet in labels.sheets(order)}
    lots = order.studies.material.storage.lots
    flake = sum(lot.labels for lot in lots if lot.condition == "flake")
    assert made["labels-flake"].hangs.startswith(f"{flake} labels")
    places = order.studies.material.storage.quarantine.places
    assert made["labels-quarantine"].hangs.startswith(f"{places} labels")


def test_where_a_run_begins_changes_no_label(order: Order) -> None:
    contents = {s.id: s.content for s in labels.sheets(order)}
    later = {s.id: s.content for s in labels.sheets(replace(order, first_label=5))}
    assert contents == later


# --- told apart ----------------------------------------------------------------------------------

_CODES = list(marks.MARKS)
_VISION = ("protan", "deutan", "tritan")


@pytest.mark.parametrize("vision", _VISION)
def test_hues_stay_apart_in_every_colour_vision(vision: str) -> None:
    hues = {code: Color(marks.MARKS[code].hue).filter(vision) for code in _CODES}
    for one, other in itertools.combinations(_CODES, 2):
        far = hues[one].delta_e(hues[other], method="2000")
        assert far > 4 or marks.MARKS[one].hatch is not marks.MARKS[other].hatch


def _printed_marks(press: Press) -> dict[str, np.ndarray]:  # type: ignore[type-arg]
    """Each polymer's mark as it prints on a label, in grey, cut out of the page."""
    grid = Grid(A4, 2, 5, 99.0, 55.0, 6.0, 10.0, 99.0, 55.0)
    faces = [Face("flake", code, (code,), "blue", ()) for code in _CODES]
    made = [drawn_labels.draw(face, (99.0, 55.0), "A shop", HELD_DAY) for face in faces]
    sheets = drawn_labels.sheets(Run(grid), made, held_foot("A shop", "LB-01"), "Labels")
    sheet = Sheet("l", "label", "LB-01", "Labels", A4, Drawn(sheets), "en")
    image = pypdfium2.PdfDocument(press.pdf(sheet))[0].render(scale=6, grayscale=True)
    grey, per_mm = np.asarray(image.to_pil()).astype(float), 6 * 72 / 25.4
    found = {}
    for code, (_page, x, y) in zip(_CODES, grid.places(len(_CODES)), strict=True):
        left, top = x + 4 + 14.5 * 0.36 + 0.6, y + 4.6
        found[code] = grey[int(top * per_mm) : int((top + 45) * per_mm),
                           int(left * per_mm) : int((left + 7.6) * per_mm)]  # fmt: skip
    return found


def test_a_grey_copy_tells_all_polymers_apart_by_their_hatch(press: Press) -> None:
    """The tint is taken out: of all the ink of any two, two fifths stand in one of them alone."""
    hatches = {code: grey < (grey.min() + grey.max()) / 2
               for code, grey in _printed_marks(press).items()}  # fmt: skip
    for one, other in itertools.combinations(_CODES, 2):
        a, b = hatches[one], hatches[other]
        high, wide = min(a.shape[0], b.shape[0]), min(a.shape[1], b.shape[1])
        a, b = a[:high, :wide], b[:high, :wide]
        assert (a ^ b).sum() > 0.4 * (a | b).sum(), (one, other)


def test_conditions_differ_without_colour() -> None:
    """Where material has come to is a filled dot, a frame or a band, never a hue."""
    shapes = {face.condition: drawn_labels.draw(face, (90, 63), "", "").content
              for face in (Face(c, "PP", ("PP",), "x", ()) for c in
                           ("as donated", "sorted", "washed", "flake", "blend", "quarantine", "refuse"))}  # fmt: skip  # noqa: E501
    assert len(set(shapes.values())) == 7
