"""The word or id that was most likely meant, or what there is to choose from."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from generator.ground.nearest import nearest
from generator.ground.units import ReadingError
from generator.ground.wording import _
from generator.shop.fields import described
from generator.shop.names import ONE_OF, file_of, listed, short

_FEW = 12


def no_such_word(value: Any, words: Collection[str]) -> ReadingError:
    """A value that is not one of a few words: the nearest, and all there are."""
    guess = nearest(value, words) if isinstance(value, str) else None
    says = _("{value} is not one of the words known here.").format(value=described(value))
    known = _("It can be {words}.").format(words=listed(list(words), _("or")))
    mend = f"{_('Did you mean `{guess}`?').format(guess=guess)} {known}" if guess else known
    return ReadingError(says, mend, guess or next(iter(words), ""))


def no_such_id(id_: str, noun: str, ids: Collection[str]) -> ReadingError:
    """An id that leads nowhere: the nearest there is, or all of a few."""
    if noun.startswith("reference."):
        return _no_such_code(id_, noun, ids)
    says = _("`{id}` is not {one_of} in {file}.")
    says = says.format(id=short(id_), one_of=_(ONE_OF[noun]), file=file_of(noun))
    return among(says, id_, ids, _("None is written yet."))


def _no_such_code(code: str, noun: str, codes: Collection[str]) -> ReadingError:
    """Nobody writes a code into the tables, so the nearest in the same row of codes are listed."""
    says = _("`{id}` is not {one_of}.").format(id=short(code), one_of=_(ONE_OF[noun]))
    near = [c for c in codes if c[:1].casefold() == code[:1].casefold()] or list(codes)
    if nearest(code, codes) or len(codes) <= _FEW:
        return among(says, code, codes, _("None is written yet."))
    mend = _("Codes near it: {ids}.").format(ids=listed(near[:_FEW]))
    return ReadingError(says, mend, near[0])


def among(says: str, word: str, there: Collection[str], otherwise: str) -> ReadingError:
    """As ``says``, with what was meant of those there; ``otherwise`` where there are none."""
    guess = nearest(word, there)
    if guess:
        mend = _("Did you mean `{guess}`?").format(guess=guess)
    elif not there:
        mend = otherwise
    elif len(there) <= _FEW:
        mend = _("Written there: {ids}.").format(ids=listed(list(there)))
    else:
        mend = _("Name one of the {n} there, or write it there first.").format(n=len(there))
    return ReadingError(says, mend, guess or next(iter(there), ""))
