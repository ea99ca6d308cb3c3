"""Words: every fixed string a user reads, and the shop's own text by language.

Strings in the code stand in English and are looked up in
``site_config/wording/<language>/LC_MESSAGES/messages.mo`` (or ``.po``). The language
``pseudo`` is made, not translated: it accents every letter and adds 40 % of length, so that
a string that escaped the catalogue, or a box that is too tight, is seen at once.
"""

from __future__ import annotations

import datetime as dt
import gettext as gnu
import io
import math
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from generator.ground.resources import resource

SOURCE_LANGUAGE = "en"
PSEUDO = "pseudo"

_language: ContextVar[str] = ContextVar("language", default=SOURCE_LANGUAGE)
_CODE = re.compile(r"[A-Za-z]{2,8}(?:[-_][A-Za-z0-9]{1,8})*")


# --- fixed strings -----------------------------------------------------------------------------


def _(message: str) -> str:
    """The message in the current language."""
    return _catalogue(_language.get()).gettext(message) if message else ""


def ngettext(singular: str, plural: str, number: int) -> str:
    """The form of the message that goes with ``number``, in the current language."""
    return _catalogue(_language.get()).ngettext(singular, plural, number)


def N_(message: str) -> str:  # noqa: N802 - the name string extractors look for
    """Mark a string for the catalogue where it is written; ``_`` translates it where it is used."""
    return message


def current_language() -> str:
    return _language.get()


def locale() -> Locale:
    """The reader's conventions; a made-up language keeps to English ones."""
    code = "en-GB" if current_language() == "en" else current_language()
    try:
        return Locale.parse(code, sep="-")
    except (UnknownLocaleError, ValueError):
        return Locale("en", "GB")


def day_words(day: dt.date) -> str:
    """A date in the manner of the reader's language (``24 November 2026``)."""
    return format_date(day, format="long", locale=locale())


@contextmanager
def use(language: str) -> Iterator[None]:
    """Speak ``language`` inside the block (``en``, ``pt-BR``, ``pseudo``)."""
    token = _language.set(language)
    try:
        yield
    finally:
        _language.reset(token)


@lru_cache(maxsize=64)
def _catalogue(language: str) -> gnu.NullTranslations:
    if language == PSEUDO:
        return _Pseudo()
    for code in _fallbacks(language):
        folder = resource("site_config") / "wording" / code / "LC_MESSAGES"
        if found := _load(folder):
            return found
    return gnu.NullTranslations()


def _fallbacks(language: str) -> tuple[str, ...]:
    """``pt-BR`` is looked for as ``pt_BR``, then as ``pt``; what is no language code, nowhere."""
    if not _CODE.fullmatch(language):
        return ()
    whole = language.replace("-", "_")
    return tuple(dict.fromkeys((whole, whole.split("_")[0])))


def _load(folder: Path) -> gnu.GNUTranslations | None:
    compiled, written = folder / "messages.mo", folder / "messages.po"
    if compiled.is_file():
        return gnu.GNUTranslations(io.BytesIO(compiled.read_bytes()))
    if written.is_file():
        return gnu.GNUTranslations(_compiled(written))
    return None


def _compiled(po: Path) -> io.BytesIO:
    mo = io.BytesIO()
    with po.open("rb") as file:
        write_mo(mo, read_po(file))
    mo.seek(0)
    return mo


# --- the pseudo-language -----------------------------------------------------------------------

_KEEP = re.compile(
    r"(\{[^{}]*\}"  # {placeholder}
    r"|%\([^)]*\)[#0 +-]*[\d.]*[a-zA-Z]|%%"  # %(named)s
    r"|<[^<>]*>"  # a tag
    r"|&(?:#\w+|\w+);)"  # an entity
)
_ACCENTS = str.maketrans(
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz",
    "ÅßÇÐÉƑĜĤÎĴĶĻṀÑÖÞǪŘŠŢÛṼŴẊÝŽåƀçðéƒĝĥîĵķļɱñöþǫřšţûṽŵẋýž",
)
_PADDING = " ļöñĝéř"
_LONGER = 0.4


class _Pseudo(gnu.NullTranslations):
    def gettext(self, message: str) -> str:
        return pseudo(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return pseudo(msgid1 if n == 1 else msgid2)


def pseudo(message: str) -> str:
    """The message accented and 40 % longer, with placeholders, tags and entities left whole."""
    parts = _KEEP.split(message)  # every second part is one to keep
    words = parts[::2]
    length = sum(len(word.strip()) for word in words)
    parts[::2] = [word.translate(_ACCENTS) for word in words]
    return "".join(_padded(parts, math.ceil(length * _LONGER)))


def _padded(parts: list[str], extra: int) -> list[str]:
    """Add the padding behind the last words, so that it stays inside the last tag."""
    spoken = [i for i in range(0, len(parts), 2) if parts[i].strip()]
    if not spoken:
        return parts
    last = parts[spoken[-1]]
    end = len(last.rstrip())
    parts[spoken[-1]] = f"{last[:end]}{_padding(extra)}{last[end:]}"
    return parts


def _padding(length: int) -> str:
    """Words rather than one long run, so that padded text still breaks into lines."""
    text = (_PADDING * (length // len(_PADDING) + 1))[:length]
    return text[:-1] + "ļ" if text.endswith(" ") else text


# --- the shop's own text -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True, init=False)
class Text:
    """A shop's own text: one string, or one a language.

    ``Text("Spin dryer")`` or ``Text({"en": "Spin dryer", "es": "Centrifugadora"})``.
    ``str()`` gives it in the current language, else in the first one written. Runs of
    white space count as one space. Raises ValueError for an empty map, a key that is no
    language code or a value that is no string.
    """

    entries: tuple[tuple[str, str], ...]

    def __init__(self, text: str | Mapping[str, str]) -> None:
        entries = (("", text),) if isinstance(text, str) else tuple(text.items())
        if not entries:
            raise ValueError(_("a text by language needs at least one language"))
        object.__setattr__(self, "entries", tuple(_entry(*e, plain=text is e[1]) for e in entries))

    def __str__(self) -> str:
        return self.in_language(_language.get())

    def __bool__(self) -> bool:
        return any(words for _code, words in self.entries)

    @property
    def languages(self) -> tuple[str, ...]:
        """The language codes written, in their order; none for a plain string."""
        return tuple(code for code, _words in self.entries if code)

    def in_language(self, code: str) -> str:
        """The text in ``code``, else in its base language, else in the first one written."""
        by_code = dict(self.entries)
        for wanted in (code, code.replace("_", "-").split("-")[0]):
            if wanted in by_code:
                return by_code[wanted]
        return self.entries[0][1]

    @classmethod
    def read(cls, value: object) -> Text:
        """A Text from what a data file holds; ValueError says what was expected."""
        if isinstance(value, Text):
            return value
        if isinstance(value, str | Mapping):
            return cls(value)
        raise ValueError(_("a text is words, or a map from language to words"))

    @classmethod
    def __get_pydantic_core_schema__(
        cls, _source: Any, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            cls.read, serialization=core_schema.plain_serializer_function_ser_schema(cls._plain)
        )

    @classmethod
    def __get_pydantic_json_schema__(
        cls, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        words = {"type": "string"}
        return {
            "anyOf": [words, {"type": "object", "additionalProperties": words, "minProperties": 1}]
        }

    def _plain(self) -> str | dict[str, str]:
        return dict(self.entries) if self.languages else self.entries[0][1]


def _entry(code: object, words: object, *, plain: bool) -> tuple[str, str]:
    if not isinstance(code, str) or not (plain or _CODE.fullmatch(code)):
        raise ValueError(_("`{code}` is not a language code such as `en`").format(code=code))
    if not isinstance(words, str):
        raise ValueError(_("the text for `{code}` is not words").format(code=code))
    return code, " ".join(words.split())
