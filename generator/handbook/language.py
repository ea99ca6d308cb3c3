"""Which of a shop's languages a handbook is made in."""

from __future__ import annotations

from generator.ground.wording import PSEUDO, _
from generator.shop.shop import Shop


class NoSuchLanguageError(ValueError):
    """A language the shop is not written in; the message is a sentence that names those it is."""


def language_of(shop: Shop, wanted: str = "") -> str:
    """The language wanted, the made-up one for trying things out included, else the shop's first.

    Raises
    ------
    NoSuchLanguageError
        If the shop is not written in it.
    """
    known = shop.shop.languages
    if wanted in ("", *known, PSEUDO):
        return wanted or known[0]
    says = _("language: the shop has no `{wanted}`; it is written in {known}.")
    raise NoSuchLanguageError(says.format(wanted=wanted, known=", ".join(known)))
