"""Signs on paper: sizes in millimetres, words in their room, colours and areas."""

from __future__ import annotations

import itertools
import math
from xml.etree import ElementTree as ET

import pytest
from coloraide import Color
from shapely import Polygon

from generator.drawings import signboard
from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, Label, Stamp, labels_of, paper_colour, to_svg
from generator.drawings.pictograms import stamp_size
from generator.drawings.signboard import Posting, boards
from generator.drawings.type import CAPITAL
from generator.ground.paper import A4, A_FAMILY, LETTER_FAMILY, paper
from generator.ground.wording import PSEUDO, use
from generator.reference import reference
from tests.drawings.reading import box_of, outside, overflowing, overlapping

EYES = (("en", "Wear eye protection"), ("ar", "ضع نظارات واقية"), ("hi", "आँखों की सुरक्षा पहनें"))
HOT = (("en", "Hot surface"),)
FOOT = Foot("Malt Hall Plastics Shop", "SG-granulator-bay", "2026-11-20", "7c1e94b05fd2aa16c0ff")


def posting(code: str, far: float, words: tuple[tuple[str, str], ...] = (), **more: str) -> Posting:
    """A sign read from so many metres, by the area rule alone."""
    shape = reference().sign_class(code).shape
    area = far**2 / 2000 * 1e6
    across = {"triangle": math.sqrt(area * 4 / math.sqrt(3))}.get(shape, math.sqrt(area))
    if shape.startswith("circle"):
        across = 2 * math.sqrt(area / math.pi)
    return Posting(code, across, words, far * 5, far * 1000 / 300, **more)


def drawn(*postings: Posting, language: str = "en") -> list[Drawing]:
    with use(language):
        return [signboard.draw(board, FOOT) for board in boards(postings, A_FAMILY[:5], A4)]


SETS = [
    (posting("M004", 3.5, EYES),),
    (posting("W017", 4.0, HOT), posting("M009", 4.0, (("en", "Wear gloves"),))),
    (posting("F001", 9.0),),
    (posting("W024", 3.0, (("en", "Hands can be crushed"),), panel="danger"),),
    tuple(posting(c, 3.2, (("en", reference().sign(c).refers),))
          for c in ("M003", "M004", "M008", "M010", "W024", "M021", "P028")),
]  # fmt: skip


@pytest.mark.parametrize("postings", SETS)
@pytest.mark.parametrize("language", ["en", PSEUDO])
def test_everything_stands_on_its_sheet(postings: tuple[Posting, ...], language: str) -> None:
    for drawing in drawn(*postings, language=language):
        labels = list(labels_of(drawing.items))
        assert overflowing(drawing) == []
        assert overlapping([(label.text, box_of(label)) for label in labels]) == []
        frame = (0.0, 0.0, drawing.width, drawing.height)
        stamps = [i for i in drawing.items if isinstance(i, Stamp)]
        assert stamps
        for stamp in stamps:
            assert not outside((stamp.x + stamp.size * 0.02, stamp.y, stamp.size * 0.96,
                                stamp.size * 0.9), frame)  # fmt: skip


@pytest.mark.parametrize("postings", SETS)
def test_no_sign_is_smaller_than_asked_for_and_none_is_lost(postings: tuple[Posting, ...]) -> None:
    made = [i for d in drawn(*postings) for i in d.items if isinstance(i, Stamp)]
    assert [stamp.symbol.name for stamp in made] == [p.code for p in postings]
    for stamp, asked in zip(made, postings, strict=True):
        assert stamp.size >= stamp_size(asked.code, asked.across) - 1e-6


@pytest.mark.parametrize("postings", SETS)
def test_no_letter_is_lower_than_its_distance_asks_for(postings: tuple[Posting, ...]) -> None:
    """A capital of the type measured: its height over the size it is set at."""
    said = {word for p in postings for _language, text in p.words for word in text.split()}
    least = min(p.least_letter for p in postings)
    for drawing in drawn(*postings):
        words = [la for la in labels_of(drawing.items) if la.text.split()[0] in said]
        assert all(label.size * CAPITAL >= least - 1e-6 for label in words)


def test_svg_is_in_millimetres_of_its_paper() -> None:
    (drawing,) = drawn(posting("W017", 3.0, (("en", "Hot surface"),)))
    root = ET.fromstring(to_svg(drawing, colours=paper_colour))
    sizes = {(p.width, p.height) for p in A_FAMILY} | {(p.height, p.width) for p in A_FAMILY}
    shown = (float(root.attrib["width"][:-2]), float(root.attrib["height"][:-2]))
    assert root.attrib["width"].endswith("mm")
    assert shown in sizes
    assert [float(v) for v in root.attrib["viewBox"].split()[2:]] == list(shown)


def test_the_sheet_is_the_smallest_that_bears_it() -> None:
    """9 m: a square of 201.2 mm stands on A4; 10 m: 223.6 mm does not."""
    assert boards([posting("F001", 9.0)], A_FAMILY[:5], A4)[0].paper.name == "A4"
    assert boards([posting("F001", 10.0)], A_FAMILY[:5], A4)[0].paper.name == "A3"
    assert boards([posting("F001", 9.0)], LETTER_FAMILY[:5], paper("Letter"))[0].paper.name == (
        "Letter"
    )


def test_what_no_sheet_bears_is_told() -> None:
    (board,) = boards([posting("F001", 40.0)], A_FAMILY[:5], A4)
    assert not board.fits
    assert overflowing(signboard.draw(board, FOOT)) == []


def test_several_share_no_sheet_larger_than_the_printers() -> None:
    made = boards(SETS[-1], A_FAMILY[:5], A4)
    assert len(made) > 1
    assert all(A4.holds(board.paper) for board in made)


def test_three_languages_stand_under_one_sign_each_marked_as_its_own() -> None:
    (drawing,) = drawn(*SETS[0])
    labels = [label for label in labels_of(drawing.items) if label.language]
    assert [k for k, _g in itertools.groupby(label.language for label in labels)] == [
        "en", "ar", "hi"
    ]  # fmt: skip
    assert 'xml:lang="ar"' in to_svg(drawing)
    arabic = [label for label in labels if label.language == "ar"]
    assert " ".join(label.text for label in arabic) == EYES[1][1]


def test_a_triangle_of_an_across_has_its_area() -> None:
    """The black band's outer edge, corners rounded: at least the area that was asked for."""
    size = stamp_size("W017", 100.0)
    path = Polygon([(50, 11), (94.4, 88), (5.6, 88)]).buffer(2.7)
    assert path.area * (size / 100) ** 2 >= math.sqrt(3) / 4 * 100**2 * 0.999


def test_panels_have_their_colours_and_contrast() -> None:
    for key, row in reference().panels.items():
        code = "W024" if key != "notice" else "M004"
        (drawing,) = drawn(posting(code, 3.0, (("en", "Words"),), panel=key))
        word = next(label for label in labels_of(drawing.items) if label.text == row.word)
        assert word.colour == row.text
        assert Color(row.text).contrast(row.colour) >= 4.5
        assert f'fill="{row.colour}"' in to_svg(drawing, colours=paper_colour)


def test_words_are_black_on_white() -> None:
    (drawing,) = drawn(*SETS[0])
    words = [label for label in labels_of(drawing.items) if label.language]
    assert {label.colour for label in words} == {"black"}
    assert Color(paper_colour("black")).contrast("white") >= 4.5


def test_no_word_is_broken() -> None:
    for postings in SETS:
        for drawing in drawn(*postings):
            words = [la for la in labels_of(drawing.items) if isinstance(la, Label) and la.bold]
            assert not [la.text for la in words if la.text.endswith("-")]
