"""How hard the text on a learner page is to read, against the age of those who come.

English only: the formulas were fitted to it. Texts in other languages stay unanswered.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _, current_language
from generator.ground.working import Source
from generator.shop.records.people import Activity, Session
from generator.shop.shop import Shop

SOURCES = (
    Source("Senter and Smith, Automated Readability Index, AMRL-TR-66-220 (1967)", "published"),
    Source("Coleman and Liau, J Applied Psychology 60 (1975) 283", "published"),
)
"""Two counts of letters, words and sentences, neither of which has to guess at syllables."""
_WORD = re.compile(r"[^\W_]+(?:[’'.-][^\W_]+)*")
_SENTENCE_END = re.compile(r"[.!?]+(?=\s|$)")
_SCHOOL_FROM_YEARS = 5
"""Age at the start of grade 0: a reader in grade 1 has turned 6."""
_FEW = 100
"""Fewer words than the passages the formulas were fitted to."""


@dataclass(frozen=True, slots=True)
class Ease:
    """A text's sentences, words and characters, its school grade and the age that reads it."""

    sentences: int
    words: int
    characters: int
    grade: float

    @property
    def age_years(self) -> int:
        """The age at which it is read with ease, never below the first year at school."""
        return max(round(self.grade), 1) + _SCHOOL_FROM_YEARS

    @property
    def is_short(self) -> bool:
        """Whether it has fewer words than the measure was made for."""
        return self.words < _FEW


def ease(text: str) -> Ease | None:
    r"""How hard an English text is to read, by the harder of two; None for one without words.

    .. math::

        g_1 = 4.71 \frac{c}{w} + 0.5 \frac{w}{s} - 21.43 \qquad
        g_2 = 5.88 \frac{c}{w} - 29.6 \frac{s}{w} - 15.8

    with characters :math:`c` (letters and digits), words :math:`w` and sentences :math:`s`.
    Both are school grades of the United States; five years more is the reader's age. They were
    fitted to prose of some hundred words: on a few sentences they are a hint.

    References
    ----------
    Senter and Smith, Automated Readability Index, AMRL-TR-66-220 (1967). Coleman and Liau, A
    computer readability formula designed for machine scoring, J Applied Psychology 60 (1975) 283.
    """
    words = _WORD.findall(text)
    if not words:
        return None
    sentences = max(len(_SENTENCE_END.findall(text)), 1)
    characters = sum(letter.isalnum() for word in words for letter in word)
    long, run = characters / len(words), len(words) / sentences
    by_length = 4.71 * long + 0.5 * run - 21.43
    by_letters = 5.88 * long - 29.6 / run - 15.8
    return Ease(sentences, len(words), characters, max(by_length, by_letters))


def text_of(activity: Activity) -> str:
    """What a learner reads of an activity, each part closed like a sentence."""
    parts = (activity.we_do, activity.look_at, activity.question)
    texts = (str(part).strip() for part in parts if part is not None)
    return " ".join(text if text.endswith((".", "!", "?")) else f"{text}." for text in texts)


@dataclass(frozen=True, slots=True)
class ReadingStudy:
    """How hard each learner page is, by session and activity."""

    pages: Mapping[tuple[str, str], Ease]
    survey: Survey


def study(shop: Shop) -> ReadingStudy:
    """Measure every learner page in the language the handbook is made in."""
    texts = {
        (session.id, activity.id): text
        for session in shop.sessions.values()
        for activity in session.activities.values()
        if (text := text_of(activity))
    }
    english = current_language().partition("-")[0] in ("en", "pseudo")
    pages = {key: found for key, text in texts.items() if english and (found := ease(text))}
    hard = list(_hard(shop, pages))
    silent = 0 if english else len(texts)
    checks = {"other_checks": len(texts), "other_unanswered": silent}
    return ReadingStudy(pages, survey("reading", (), hard, **checks))


def _hard(shop: Shop, pages: Mapping[tuple[str, str], Ease]) -> Iterator[Finding]:
    for session in shop.sessions.values():
        for activity in session.activities.values():
            found = pages.get((session.id, activity.id))
            if found and found.age_years > session.learners.age_to_years:
                yield _finding(session, activity, found)


def _finding(session: Session, activity: Activity, found: Ease) -> Finding:
    says = _(
        "“{session}”: the page of {activity} reads like age {age}, and the oldest who come are "
        "{oldest}."
    )
    return Finding(
        "reading.too-hard", Severity.NOTE, activity.origin,
        says.format(session=session.name, activity=activity.name, age=found.age_years,
                    oldest=f"{session.learners.age_to_years:g}"),
        _("Shorter sentences and shorter words in `we_do`, `look_at` and `question`: now {w} words "
          "in {s} sentences.").format(w=found.words, s=found.sentences),
        subject=f"sessions/{session.id}",
    )  # fmt: skip
