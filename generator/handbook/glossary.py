"""A glossary of the words this handbook really uses, each with the pages it stands on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from html import unescape

import yaml

from generator.ground.resources import reference_file
from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render

_PAGES_SHOWN = 4
_MARKUP = re.compile(r"<(svg|script)\b.*?</\1>|<[^>]+>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Term:
    """A word of the trade, what it means, and the forms it is found by."""

    id: str
    word: str
    meaning: str
    pattern: re.Pattern[str]


@cache
def terms() -> tuple[Term, ...]:
    """The words that can be explained, in alphabetical order."""
    rows = yaml.safe_load(reference_file("terms.yml").read_text(encoding="utf-8"))
    made = (_term(word, row) for word, row in rows.items())
    return tuple(sorted(made, key=lambda term: term.word.casefold()))


def _term(word: str, row: dict[str, object]) -> Term:
    also = row.get("also", [])
    forms = [word, *also] if isinstance(also, list) else [word]
    pattern = r"\b(?:" + "|".join(re.escape(form) for form in forms) + r")(?:s|es)?\b"
    id_ = re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-")
    return Term(id_, word, str(row["means"]), re.compile(pattern, re.IGNORECASE))


@dataclass(frozen=True, slots=True)
class Used:
    """A term and some of the pages it stands on, as title and address."""

    id: str
    word: str
    meaning: str
    pages: tuple[tuple[str, str], ...]


def glossary(desk: Desk, pages: Iterable[Page]) -> Page:  # noqa: ARG001
    """The glossary of the terms that stand on the pages given."""
    body = render("glossary", "glossary", terms=list(_used(tuple(pages))))
    return Page("glossary", _("Glossary"), "glossary", "GL-01", body)


def plain(markdown: str) -> str:
    """The words of a page without its markup."""
    return unescape(_MARKUP.sub(" ", markdown))


def _used(pages: tuple[Page, ...]) -> Iterator[Used]:
    texts = [(page, plain(page.body)) for page in pages]
    whole = "\n".join(text for _page, text in texts)
    for term in terms():
        if term.pattern.search(whole):
            found = (page for page, text in texts if term.pattern.search(text))
            places = tuple(
                (p.title, p.address) for p, _n in zip(found, range(_PAGES_SHOWN), strict=False)
            )
            yield Used(term.id, term.word, _(term.meaning), places)
