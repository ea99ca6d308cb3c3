from __future__ import annotations

import re
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ConfigDict, ValidationError

from generator.ground import wording
from generator.ground.wording import Text, _, current_language, ngettext, pseudo, use
from tests.extract_wording import TEMPLATE, extract

PO = """\
msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"

msgid "fault"
msgstr "falta"

msgid "{n} fault"
msgid_plural "{n} faults"
msgstr[0] "{n} falta"
msgstr[1] "{n} faltas"
"""


@pytest.fixture
def catalogues(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty folder for catalogues, in place of the one that ships."""
    monkeypatch.setattr(wording, "resource", lambda _name: tmp_path)
    wording._catalogue.cache_clear()
    yield tmp_path / "wording"
    wording._catalogue.cache_clear()


def put(folder: Path, language: str, text: str = PO) -> Path:
    path = folder / language / "LC_MESSAGES" / "messages.po"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_the_source_language_is_what_the_code_says() -> None:
    assert current_language() == "en"
    assert _("fault") == "fault"
    assert ngettext("{n} fault", "{n} faults", 2) == "{n} faults"
    assert _("") == ""


def test_a_written_catalogue_is_read(catalogues: Path) -> None:
    put(catalogues, "es")
    with use("es"):
        assert _("fault") == "falta"
        assert [ngettext("{n} fault", "{n} faults", n) for n in (1, 2)] == [
            "{n} falta",
            "{n} faltas",
        ]
        assert _("not translated yet") == "not translated yet"
    assert _("fault") == "fault"


def test_a_compiled_catalogue_goes_before_the_written_one(catalogues: Path) -> None:
    po = put(catalogues, "es")
    with po.open("rb") as source, po.with_suffix(".mo").open("wb") as compiled:
        write_mo(compiled, read_po(source))
    po.write_text(PO.replace("falta", "changed since"), encoding="utf-8")
    with use("es"):
        assert _("fault") == "falta"


@pytest.mark.parametrize("language", ["es-MX", "es_MX", "es"])
def test_a_country_falls_back_on_its_language(catalogues: Path, language: str) -> None:
    put(catalogues, "es")
    with use(language):
        assert _("fault") == "falta"


@pytest.mark.parametrize("language", ["de", "../../es", "", "es/../es", "\x00"])
def test_a_language_without_a_catalogue_speaks_the_source_language(
    catalogues: Path, language: str
) -> None:
    put(catalogues, "es")
    with use(language):
        assert _("fault") == "fault"


def test_languages_nest_and_do_not_leak_between_threads() -> None:
    with use("pseudo"):
        with use("en"):
            assert _("fault") == "fault"
        with ThreadPoolExecutor(1) as pool:
            assert pool.submit(current_language).result() == "en"
        assert current_language() == "pseudo"


def test_the_language_is_set_back_when_the_block_fails() -> None:
    with pytest.raises(RuntimeError), use("pseudo"):
        raise RuntimeError
    assert current_language() == "en"


# --- the pseudo-language ---


@pytest.mark.parametrize(
    "kept",
    [
        "{name}",
        "{n:.1f}",
        "%(n)s",
        "%(kg)d",
        "<b>",
        "</b>",
        '<a href="x.html">',
        "&amp;",
        "&#8239;",
        "%%",
    ],
)
def test_the_pseudo_language_keeps_what_is_not_words(kept: str) -> None:
    assert kept in pseudo(f"Write {kept} here")


def test_the_pseudo_language_changes_every_letter() -> None:
    changed = pseudo(
        "The quick brown fox jumps over the lazy dog. SPHINX OF BLACK QUARTZ JUDGE MY VOW"
    )
    assert not re.search("[A-Za-z]", changed)


def test_the_pseudo_language_stays_inside_the_last_tag() -> None:
    assert re.fullmatch(r"<p>\S.*\S</p>", pseudo("<p>Yes, it does</p>"))
    assert pseudo("<br>{n}") == "<br>{n}"


@given(st.text("abcdefghij ABC.,", min_size=1).filter(str.strip))
def test_the_pseudo_language_is_forty_percent_longer(message: str) -> None:
    words = len(message.strip())
    extra = len(pseudo(message)) - len(message)
    assert 0 <= extra - 0.4 * words < 1


@given(
    st.lists(
        st.sampled_from(
            ["Some words ", "{n}", "%(n)s", "<b>", "</b>", "&lt;", "{", "5 % ", "<", "&"]
        )
    ).map("".join)
)
def test_the_pseudo_language_loses_no_placeholder(message: str) -> None:
    found = re.compile(r"\{n\}|%\(n\)s|</?b>|&lt;")
    assert found.findall(pseudo(message)) == found.findall(message)


def test_plurals_speak_the_pseudo_language() -> None:
    with use("pseudo"):
        one, many = (ngettext("{n} fault", "{n} faults", n).format(n=n) for n in (1, 2))
    assert one.startswith("1 ") and many.startswith("2 ")
    assert one != many


# --- the shop's own text ---


def test_a_plain_text_is_the_same_in_every_language() -> None:
    text = Text("  Band\n saw ")
    assert str(text) == text.in_language("es") == "Band saw"
    assert text.languages == ()
    assert text and not Text("")


def test_a_text_by_language_speaks_the_current_one_else_the_first() -> None:
    text = Text({"en": "Band saw", "es": "Sierra  de cinta"})
    assert text.languages == ("en", "es")
    assert text.in_language("es-MX") == "Sierra de cinta"
    assert text.in_language("de") == "Band saw"
    with use("es"):
        assert str(text) == "Sierra de cinta"
    with use("pseudo"):
        assert str(text) == "Band saw"


def test_texts_are_values() -> None:
    assert Text({"en": "a"}) == Text({"en": " a "}) != Text("a")
    assert len({Text("a"), Text("a "), Text({"en": "a"})}) == 2
    with pytest.raises(AttributeError):
        Text("a").entries = ()  # type: ignore[misc]


@pytest.mark.parametrize(
    "value", [{}, {"no language!": "x"}, {"": "x"}, {"en": 1}, {1: "x"}, 5, None, ["a"]]
)
def test_what_is_no_text_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match=r"text|language"):
        Text.read(value)


class Named(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)

    name: Text


def test_a_record_takes_texts_and_gives_them_back() -> None:
    assert Named.model_validate({"name": "a  b"}).name == Text("a b")
    written = {"name": {"en": "Band saw", "es": "Sierra"}}
    assert Named.model_validate(written).model_dump(mode="json") == written
    assert Named.model_json_schema()["properties"]["name"]["anyOf"][0] == {"type": "string"}
    with pytest.raises(ValidationError, match="a text is words"):
        Named.model_validate({"name": 5})


# --- the catalogue's template ---


def test_the_template_holds_every_string_there_is() -> None:
    assert TEMPLATE.read_text(encoding="utf-8") == extract(), (
        "words have changed: refresh with `python -m tests.extract_wording`"
    )


def test_strings_are_found_in_code_and_in_templates() -> None:
    words = extract()
    assert "#: generator/ground/report.py" in words
    assert "#: templates/pages/" in words
