from __future__ import annotations

import pytest

from generator.ground.nearest import nearest

IDS = ["band-saw", "belt-sander", "platen-press", "granulator"]


@pytest.mark.parametrize(
    ("word", "wanted"),
    [
        ("granulater", "granulator"),
        ("Platen_Press", "platen-press"),
        ("bandsaw", "band-saw"),
        ("belt sender", "belt-sander"),
        ("kiln", None),
        ("", None),
    ],
)
def test_finds_the_word_meant(word: str, wanted: str | None) -> None:
    assert nearest(word, IDS) == wanted


def test_of_equally_close_words_the_first_wins() -> None:
    assert nearest("press-c", ["press-a", "press-b"]) == "press-a"
    assert nearest("press-c", ["press-b", "press-a"]) == "press-b"


def test_nothing_known_suggests_nothing() -> None:
    assert nearest("word", []) is None
