"""Everything that hangs: each kind held to what any sheet must be, and to the cache."""

from __future__ import annotations

import datetime as dt
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from generator.ground.wording import PSEUDO, use
from generator.press import printed, wall
from generator.press.batches import Batch, batches
from generator.press.cache import Cache
from generator.press.choosing import Choosing
from generator.press.engine import Press
from generator.press.order import Order
from generator.press.sheet import HELD_DAY, Drawn, Kept, Sheet
from generator.shop.load import load_shop
from generator.shop.records.logs import Logs
from generator.workings.check import Studies
from tests.drawings.reading import overflowing
from tests.press import reading
from tests.press.conftest import DAY, DEMONSTRATION
from tests.small import SMALLEST, folder_with, shop_with


@pytest.fixture(scope="module")
def whole(order: Order) -> tuple[Sheet, ...]:
    return wall.sheets(order)


@pytest.fixture(scope="module")
def pdfs(press: Press, whole: tuple[Sheet, ...]) -> dict[str, bytes]:
    return {sheet.id: press.pdf(sheet) for sheet in whole}


def test_every_sheet_has_a_name_and_a_number_of_its_own(whole: tuple[Sheet, ...]) -> None:
    assert [k for k, n in Counter(s.id for s in whole).items() if n > 1] == []
    assert [k for k, n in Counter(s.number for s in whole).items() if n > 1] == []
    assert {s.kind for s in whole} <= set(wall.KINDS)


def test_every_page_is_as_large_as_its_paper(
    whole: tuple[Sheet, ...], pdfs: dict[str, bytes]
) -> None:
    for sheet in whole:
        for size in reading.page_sizes(pdfs[sheet.id]):
            assert size == pytest.approx((sheet.paper.width, sheet.paper.height), abs=0.01)


def test_every_sheet_bears_title_language_tags_and_embedded_type(
    whole: tuple[Sheet, ...], pdfs: dict[str, bytes]
) -> None:
    for sheet in whole:
        opened = reading.reader(pdfs[sheet.id])
        assert opened.metadata is not None and opened.metadata.title == sheet.title
        root = opened.trailer["/Root"]
        assert root["/Lang"] == "en" and "/StructTreeRoot" in root, sheet.id
        assert all(reading.fonts(pdfs[sheet.id]).values()), sheet.id


def test_every_sheet_bears_shop_date_and_hash(
    whole: tuple[Sheet, ...], pdfs: dict[str, bytes]
) -> None:
    for sheet in whole:
        said = reading.said(pdfs[sheet.id])
        assert "Malt Hall" in said and "2026-11-24" in said and HELD_DAY not in said, sheet.id
        if sheet.kind != "label":  # each label bears its own
            assert sheet.content[:4] in said and "0000 0000 0000" not in said, sheet.id


@pytest.mark.parametrize("language", ["en", PSEUDO])
def test_no_word_leaves_its_room(order: Order, language: str) -> None:
    with use(language):
        for sheet in wall.sheets(replace(order, language=language)):
            for face in sheet.body.faces if isinstance(sheet.body, Drawn) else ():
                assert overflowing(face) == [], sheet.id


def test_pdfs_are_the_same_to_the_byte(order: Order, press: Press, pdfs: dict[str, bytes]) -> None:
    again = {s.id: press.pdf(s) for s in wall.sheets(Order(Studies(order.shop, DAY), "en",
                                                           order.address))}  # fmt: skip
    assert again == pdfs


# --- what hangs and what is current --------------------------------------------------------------


def test_a_date_alone_makes_no_sheet_stale(order: Order, whole: tuple[Sheet, ...]) -> None:
    later = Order(Studies(order.shop, DAY + dt.timedelta(days=1)), "en", order.address)
    changed = {s.id for s in wall.sheets(later)} & {
        s.id for s, t in zip(wall.sheets(later), whole, strict=True) if s.content != t.content
    }
    assert changed == set()


def test_kinds_that_leave_the_logs_out_show_nothing_of_them(order: Order) -> None:
    bare = order.shop.model_copy(update={"logs": Logs()})
    other = Order(Studies(bare, DAY), "en", order.address)
    with use("en"):
        for kind in wall.WITHOUT_LOGS:
            make = wall.KINDS[kind][1]
            assert [s.content for s in make(order)] == [s.content for s in make(other)], kind


def test_states_follow_the_last_run(whole: tuple[Sheet, ...], tmp_path: Path) -> None:
    folder = tmp_path
    first, second = whole[0], whole[1]
    stale = replace(second, body=Kept("f" * 64))
    printed.note(folder, [first, stale], dt.date(2026, 11, 1))
    printed.note(folder, [first], dt.date(2026, 11, 20))
    shop = shop_with(tmp_path, printed_csv=(folder / "printed.csv").read_text())
    states = printed.states(whole[:3], shop.logs.printed)
    assert [states[s.id].word for s in whole[:3]] == ["current", "changed", "never"]
    assert states[first.id].printed == dt.date(2026, 11, 20)


def test_a_print_run_that_cannot_be_read_is_a_fault(tmp_path: Path) -> None:
    text = "date,sheet,content\n2026-13-01,floor-plan,12\n"
    loaded = load_shop(folder_with(tmp_path, printed_csv=text))
    assert loaded.shop is None
    assert [str(f.origin) for f in loaded.findings] == ["printed.csv:2:1"]


# --- the cache -----------------------------------------------------------------------------------


def _set(order: Order, press: Press) -> tuple[tuple[Batch, ...], dict[str, bytes]]:
    made = batches(order, press)
    return made, {name: data for batch in made for name, data in batch.files()}


def _never(_order: Order) -> Iterator[Sheet]:
    raise AssertionError("it was drawn again")
    yield


def test_what_has_not_changed_is_not_drawn_again(
    order: Order, press: Press, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = replace(press, cache=Cache(tmp_path / "cache"))
    new, files = _set(order, kept)
    monkeypatch.setattr(wall, "KINDS", {k: (t, _never) for k, (t, _m) in wall.KINDS.items()})
    old, again = _set(order, kept)
    assert again == files
    assert [(s.id, s.content, s.about, s.paper, s.note) for b in old for s in b.sheets] == [
        (s.id, s.content, s.about, s.paper, s.note) for b in new for s in b.sheets
    ]


def test_a_cache_that_lost_a_file_is_filled_again(
    order: Order, press: Press, tmp_path: Path
) -> None:
    kept = replace(press, cache=Cache(tmp_path / "cache"))
    _new, files = _set(order, kept)
    for path in list((tmp_path / "cache").iterdir())[::3]:
        path.unlink()
    assert _set(order, kept)[1] == files


def test_a_weigh_in_draws_the_labels_again_and_no_station(
    order: Order, press: Press, tmp_path: Path
) -> None:
    kept = replace(press, cache=Cache(tmp_path / "cache"))
    _set(order, kept)
    shop = load_shop(DEMONSTRATION).shop
    assert shop is not None
    logs = replace(shop.logs, weigh_ins=shop.logs.weigh_ins[:-40])
    less = shop.model_copy(update={"logs": logs})
    after = batches(Order(Studies(less, DAY), "en", order.address), kept)
    drawn = {batch.kind for batch in after if not batch.keys}
    assert drawn == set(wall.KINDS) - wall.WITHOUT_LOGS


# --- choosing ------------------------------------------------------------------------------------


def test_a_station_s_sheet_is_found_by_stage_session_and_wall(order: Order) -> None:
    choosing = Choosing(order)
    sheet = next(s for s in wall.sheets(order) if s.id == "station-sorting-table")
    tags = choosing.tags(sheet)
    session = next(
        s.id for s in order.shop.sessions.values()
        if any(a.station == "sorting-table" for a in s.activities.values())
    )  # fmt: skip
    stage = order.shop.stage_of("sorting-table")
    assert stage is not None
    assert {f"stages/{stage.id}", f"sessions/{session}", "stations/sorting-table"} <= set(tags)
    assert any(tag.startswith("walls/") for tag in tags)
    named = {c.key for choices in choosing.choices([sheet]).values() for c in choices}
    assert named <= set(tags)


# --- what cannot be printed ----------------------------------------------------------------------


def test_letters_no_font_has_are_told_beside_the_sheet(press: Press, tmp_path: Path) -> None:
    text = (SMALLEST / "stations.yml").read_text(encoding="utf-8")
    shop = shop_with(tmp_path, stations=re.sub("name: .*", "name: Schneiden 切", text, count=1))
    (station, *_rest) = batches(Order(Studies(shop, DAY), "en"), press)
    assert "切" in station.sheets[0].note
    assert list(station.files())
