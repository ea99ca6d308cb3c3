"""The demonstration shop's handbook as it stands in its folder."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path
from posixpath import normpath
from urllib.parse import unquote, urlsplit

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.shop.shop import Shop
from tests import canary
from tests.building import Built, build_demonstration, copy_demonstration, names_in, tree
from tests.pages import Seen, seen

_OUTSIDE = re.compile(r"^(?:[a-z][a-z0-9+.-]*:)?//", re.IGNORECASE)
_NOT_FETCHED = ("http://www.w3.org/",)  # names of XML vocabularies


@cache
def _read(page: Path) -> Seen:
    return seen(page)


def _pages(site: Path) -> dict[str, Seen]:
    return {name: _read(site / name) for name in names_in(site) if name.endswith(".html")}


def test_the_build_says_nothing_worse_than_information(built: Built) -> None:
    assert "Documentation built in" in built.said
    assert re.findall(r"^(?:WARNING|ERROR).*", built.said, re.MULTILINE) == []


def test_every_record_with_a_page_has_one(handbook: Path, demonstration: Shop) -> None:
    nouns = (
        "stations machines polymers containers moulds blends procedures roles".split()  # noqa: SIM905
    )
    wanted = {f"{noun}/{id_}.html" for noun in nouns for id_ in getattr(demonstration, noun)}
    wanted |= {f"cards/{id_}.html" for id_ in demonstration.stations}
    assert len(wanted) > 80
    assert wanted - set(names_in(handbook)) == set()


def test_every_hand_written_page_is_published_with_its_facts(
    handbook: Path, demonstration: Shop
) -> None:
    page = _read(handbook / "house-rules.html")
    assert f"At most {demonstration.shop.most_people} people" in " ".join(page.words)
    texts = [(handbook / name).read_text("utf-8") for name in _pages(handbook)]
    assert not any("[=" in text for text in texts)


def test_every_internal_link_leads_to_a_file_and_an_anchor(handbook: Path) -> None:
    files, pages = set(names_in(handbook)), _pages(handbook)
    broken = []
    for name, page in pages.items():
        for link in page.links:
            parts = urlsplit(link)
            if parts.scheme or parts.netloc:
                continue
            target = normpath(str(Path(name).parent / unquote(parts.path))) if parts.path else name
            target = "index.html" if target == "." else target
            if target not in files and name != "404.html":
                broken.append(f"{name}: {link}")
            elif parts.fragment and target in pages:
                anchors = pages[target].ids
                if unquote(parts.fragment) not in anchors:
                    broken.append(f"{name}: {link}")
    assert broken == []


def test_no_page_leads_to_another_host(handbook: Path) -> None:
    outside = {
        f"{name}: {link}"
        for name, page in _pages(handbook).items()
        for link in page.links
        if _OUTSIDE.match(link)
    }
    assert outside == set()


def test_no_style_sheet_fetches_from_another_host(handbook: Path) -> None:
    sheets = [name for name in names_in(handbook) if name.endswith((".css", ".html"))]
    fetched = re.compile(r"(?:url\(|@import)\s*[\"']?((?:https?:)?//[^\"')\s]+)")
    found = [
        url for name in sheets for url in fetched.findall((handbook / name).read_text("utf-8"))
    ]
    assert len(sheets) > 100
    assert [url for url in found if not url.startswith(_NOT_FETCHED)] == []


def test_every_page_has_a_heading_a_language_and_a_title_of_its_own(handbook: Path) -> None:
    pages = {name: page for name, page in _pages(handbook).items() if name != "404.html"}
    assert {name: page.headings for name, page in pages.items() if len(page.headings) != 1} == {}
    assert {name for name, page in pages.items() if not page.headings[0].strip()} == set()
    assert {page.language for page in pages.values()} == {"en"}
    titles = Counter(page.title.strip() for page in pages.values())
    assert [title for title, count in titles.items() if count > 1 or not title] == []


def test_no_page_uses_an_id_twice(handbook: Path) -> None:
    twice = {
        name: [id_ for id_, count in Counter(page.ids).items() if count > 1]
        for name, page in _pages(handbook).items()
    }
    assert {name: ids for name, ids in twice.items() if ids} == {}


def test_emergency_is_linked_from_every_page(handbook: Path) -> None:
    without = [
        name
        for name, page in _pages(handbook).items()
        if not any(link.split("#")[0].endswith("emergency.html") for link in page.links)
    ]
    assert without == []


def test_the_granulators_card_is_two_links_from_the_front_page(
    handbook: Path, demonstration: Shop
) -> None:
    granulators = [m for m in demonstration.machines.values() if m.kind == "granulator"]
    assert granulators
    for machine in granulators:
        station = f"stations/{machine.station}.html"
        assert station in _read(handbook / "index.html").links
        assert f"../cards/{machine.station}.html" in _read(handbook / station).links


def test_the_shops_own_files_are_never_published(handbook: Path) -> None:
    data = (".yml", ".yaml", ".csv")
    assert [name for name in names_in(handbook) if name.lower().endswith(data)] == []
    assert not (handbook / "shop").exists()


@pytest.fixture(scope="module")
def again(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The same handbook from another folder, with a name in every note and in a register."""
    folder = copy_demonstration(tmp_path_factory.mktemp("again"))
    assert canary.put_in_logs(folder / "content" / "shop") > 100
    canary.put_in_registers(folder / "content")
    result = build_demonstration(folder / "site", folder)
    assert result.status == 0, result.said
    return result


def test_two_builds_of_the_same_day_are_the_same_to_the_byte_whatever_notes_say(
    handbook: Path, again: Built
) -> None:
    one, other = tree(handbook), tree(again.site)
    assert sorted(one) == sorted(other)
    assert [name for name in one if one[name] != other[name]] == []


def test_nobody_in_the_register_or_in_a_note_is_ever_named(again: Built) -> None:
    assert canary.traces(again.site) == []
    assert [file for file in names_in(again.site) if "competence" in file.lower()] == []


def test_an_export_names_nobody_either(again: Built, tmp_path: Path) -> None:
    shop = again.site.parent / "content" / "shop"
    run = CliRunner().invoke(main, ["export", str(tmp_path / "out"), "--shop", str(shop)])
    assert run.exit_code == 0, run.output
    assert len(names_in(tmp_path / "out")) > 100
    assert canary.traces(tmp_path / "out") == []
