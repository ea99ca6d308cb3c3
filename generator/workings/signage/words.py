"""The words under a sign, in as many of the shop's languages as one sign bears."""

from __future__ import annotations

from generator.ground.wording import SOURCE_LANGUAGE, Text, _, use
from generator.reference import reference
from generator.shop.shop import Shop
from generator.workings.signage.needs import Need

MOST_LANGUAGES = 3
"""More on one sign are read by nobody."""


def words_of(shop: Shop, code: str, given: str = "") -> tuple[tuple[str, str], ...]:
    """Pairs of a language and the words under a sign in it, the shop's first language first.

    ``given`` are words of the need itself, in the first language. A language without words of
    its own is left out.
    """
    own = own_words(shop, code)
    languages = shop.shop.languages[:MOST_LANGUAGES]
    found = [(language, words_in(own, code, language)) for language in languages]
    if given and own is None:
        found[0] = (languages[0], given)
    return tuple((language, words) for language, words in found if words)


def own_words(shop: Shop, code: str) -> Text | None:
    """What the shop itself writes under a sign."""
    return next((row.words for row in shop.room.sign_words if row.sign == code), None)


def words_in(own: Text | None, code: str, language: str) -> str:
    """The words under a sign in one language, "" where there are none in it."""
    if own is not None and (not own.languages or _speaks(own, language)):
        return own.in_language(language)
    source = reference().sign(code).refers
    with use(language):
        words = _(source)
    is_source = language.partition("-")[0] == SOURCE_LANGUAGE
    return words if is_source or words != source else ""


def _speaks(own: Text, language: str) -> bool:
    base = language.replace("_", "-").partition("-")[0]
    return language in own.languages or base in own.languages


def needs_words(need: Need) -> bool:
    """Whether a sign is set with words: an exit's arrow and what hangs by a thing need none."""
    return need.code[0] not in "EF"
