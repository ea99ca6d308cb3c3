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
from generator.handbook.page import Page
from generator.handbook.render import render

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_PAGES_SHOWN = 4
_MARKUP = re.compile(r"<(svg|script)\b.*?</\1>|<[^>]+>", re.DOTALL)
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


@dataclass(frozen=True, slots=True)
class Term:
    """A word of the trade, what it means, and the forms it is found by."""

    id: str
    word: str
    meaning: str
    forms: tuple[str, ...]

    def stands_in(self, words: set[str], text: str) -> bool:
        """Whether a page holds the term, given its words and its text in small letters."""
        return any(form in text if " " in form else form in words for form in self.forms)


@cache
def terms() -> tuple[Term, ...]:
    """The words that can be explained, in alphabetical order."""
    rows = yaml.load(reference_file("terms.yml").read_text(encoding="utf-8"), Loader=_LOADER)
    made = (_term(word, row) for word, row in rows.items())
    return tuple(sorted(made, key=lambda term: term.word.casefold()))


def _term(word: str, row: dict[str, object]) -> Term:
    also = row.get("also", [])
    forms = [word, *also] if isinstance(also, list) else [word]
    id_ = re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-")
    found_by = tuple(f.lower() + ending for f in forms for ending in ("", "s", "es"))
    return Term(id_, word, str(row["means"]), found_by)


@dataclass(frozen=True, slots=True)
class Used:
    """A term and some of the pages it stands on, as title and address."""

    id: str
    word: str
    meaning: str
    pages: tuple[tuple[str, str], ...]


def glossary(pages: Iterable[Page]) -> Page:
    """The glossary of the terms that stand on the pages given."""
    body = render("glossary", "glossary", terms=list(_used(pages)))
    return Page("glossary", _("Glossary"), "glossary", "GL-01", body)


def plain(markdown: str) -> str:
    """The words of a page without its markup."""
    return unescape(_MARKUP.sub(" ", markdown))


def _used(pages: Iterable[Page]) -> Iterator[Used]:
    places = _places(pages)
    for term in terms():
        if term.id in places:
            yield Used(term.id, _(term.word), _(term.meaning), tuple(places[term.id]))


def _places(pages: Iterable[Page]) -> dict[str, list[tuple[str, str]]]:
    """The first few pages each term stands on, by its id; terms on no page are left out."""
    places: dict[str, list[tuple[str, str]]] = {}
    wanted = list(terms())
    for page in pages:
        if not wanted:
            break
        text = plain(page.body).lower()
        words = set(_WORD.findall(text))
        for term in wanted:
            if term.stands_in(words, text):
                places.setdefault(term.id, []).append((page.title, page.address))
        wanted = [t for t in wanted if len(places.get(t.id, ())) < _PAGES_SHOWN]
    return places
