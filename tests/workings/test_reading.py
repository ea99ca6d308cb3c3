"""How hard a text is to read, by counts made by hand."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.wording import Text, use
from generator.shop.shop import Shop
from generator.workings import reading
from generator.workings.check import Studies

PLAIN = "The cat sat on the mat. It was warm."
"""9 words of 3, 3, 3, 2, 3, 3, 2, 3 and 4 letters, 26 in all, in 2 sentences."""


def test_a_text_counted_by_hand() -> None:
    found = reading.ease(PLAIN)
    assert found is not None
    assert (found.words, found.characters, found.sentences) == (9, 26, 2)
    # Senter and Smith: 4.71 * 26/9 + 0.5 * 9/2 - 21.43 = 13.607 + 2.25 - 21.43 = -5.573
    # Coleman and Liau: 0.0588 * 288.9 - 0.296 * 22.2 - 15.8 = 16.987 - 6.578 - 15.8 = -5.391
    assert found.grade == pytest.approx(-5.391, abs=0.002)
    assert found.age_years == 6


def test_long_words_in_one_long_sentence_are_read_by_the_old() -> None:
    hard = " ".join(["polymerisation"] * 30) + "."
    found = reading.ease(hard)
    assert found is not None
    # 4.71 * 14 + 0.5 * 30 - 21.43 = 59.51; 5.88 * 14 - 29.6/30 - 15.8 = 65.53: the harder counts
    assert found.grade == pytest.approx(65.53, abs=0.01)


@pytest.mark.parametrize(
    ("text", "words", "sentences"),
    [
        ("Don't peel it.", 3, 1), ("At 2.9 grams it is full!", 6, 1), ("Why? Because.", 2, 2),
        ("No stop at the end", 5, 1), ("Half-way", 1, 1), ("Three dots... and on.", 4, 2),
    ],
)  # fmt: skip
def test_what_counts_as_a_word_and_as_a_sentence(text: str, words: int, sentences: int) -> None:
    found = reading.ease(text)
    assert found is not None
    assert (found.words, found.sentences) == (words, sentences)


def test_a_text_without_words_has_no_age() -> None:
    assert reading.ease("") is None
    assert reading.ease(" . - !") is None


@given(st.lists(st.sampled_from(["mould", "shot", "a", "granulator"]), min_size=4, max_size=40))
def test_cutting_a_sentence_in_two_never_makes_it_harder(words: list[str]) -> None:
    half = len(words) // 2
    whole = reading.ease(" ".join(words) + ".")
    cut = reading.ease(" ".join(words[:half]) + ". " + " ".join(words[half:]) + ".")
    assert whole is not None
    assert cut is not None
    assert cut.grade <= whole.grade


def _with_question(shop: Shop, question: str) -> tuple[Shop, str]:
    id_, session = next((i, s) for i, s in shop.sessions.items() if s.learners.age_to_years < 15)
    key, activity = next(iter(session.activities.items()))
    harder = activity.model_copy(update={"question": Text(question)})
    changed = session.model_copy(update={"activities": {**session.activities, key: harder}})
    return shop.model_copy(update={"sessions": {id_: changed}}), str(activity.name)


def test_a_page_too_hard_for_those_who_come_is_noted(demonstration: Shop) -> None:
    question = " ".join(["Characterise thermoplastic crystallisation phenomena"] * 12) + "?"
    shop, name = _with_question(demonstration, question)
    with use("en"):
        (found,) = reading.study(shop).survey.findings
    assert found.severity is Severity.NOTE
    assert name in found.says
    assert found.subject.startswith("sessions/")


def test_a_language_the_formulas_were_not_made_for_stays_unanswered(demonstration: Shop) -> None:
    with use("es"):
        study = reading.study(demonstration)
    assert study.pages == {}
    assert study.survey.unanswered == study.survey.checks > 0


def test_the_study_is_among_the_shops_subjects(demonstration: Shop) -> None:
    studies = Studies(demonstration, dt.date(2026, 11, 24))
    assert studies.reading.survey in studies.surveys
