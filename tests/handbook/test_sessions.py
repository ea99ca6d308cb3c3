"""Sessions on pages and in files: what each says, and that all say the same."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
import re
from collections.abc import Iterator
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from jsonschema import Draft202012Validator

from generator.drawings import rotation
from generator.drawings.ink import to_svg
from generator.drawings.rotation import Band, Cell, Hot, Rotation
from generator.ground.wording import use
from generator.handbook import board, session_dates, session_files, sessions
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.shop.records.people import Session
from generator.shop.shop import Shop
from generator.workings.sessions import SessionStudy
from generator.workings.sessions.runsheet import run_sheet
from tests.drawings.reading import overflowing, texts

AS_OF = dt.date(2026, 11, 24)


@pytest.fixture(scope="module")
def desk(demonstration: Shop) -> Desk:
    return Desk(demonstration, AS_OF)


@pytest.fixture(scope="module")
def pages(desk: Desk) -> dict[str, Page]:
    with use("en"):
        return {page.path: page for page in sessions.pages(desk)}


def studies(desk: Desk) -> list[SessionStudy]:
    return list(desk.studies.sessions.sessions.values())


def a_study(desk: Desk) -> SessionStudy:
    return next(s for s in studies(desk) if s.slots)


# --- one minute everywhere ---------------------------------------------------------------------


def test_run_sheet_board_and_data_tell_the_same_minutes(desk: Desk) -> None:
    for study in studies(desk):
        data = session_files.told(desk.shop, study)
        plan = board.plan(desk, study)
        told = {(s["group"], s["activity"], s["start"], s["end"]) for s in data["timetable"]}
        shown = {
            (s["group"], s["activity"], s["start"], s["start"] + s["takes"])
            for s in plan["slots"]
            if s["activity"] != "-break-"
        }
        moves = {
            (slot.group, slot.activity_id, line.minute, slot.end_min)
            for line in run_sheet(study, desk.shop)
            for slot in line.moves
        }
        assert told == shown == moves
        on = {(m["id"], m["on"], m["ready"], m["off"]) for m in plan["machines"]}
        assert on == {(s["machine"], s["on_min"], s["ready_min"], s["off_min"])
                      for s in data["switching"]}  # fmt: skip


def test_every_wait_of_a_board_is_kept_by_its_own_plan(desk: Desk) -> None:
    waits = 0
    for study in studies(desk):
        slots = {s["id"]: s for s in board.plan(desk, study)["slots"]}
        assert list(slots) == list(range(len(slots)))
        for slot in slots.values():
            for before, gap in slot["waits"]:
                earlier = slots[before]
                assert slot["start"] >= earlier["start"] + earlier["takes"] + gap
                waits += 1
    assert waits > 20


def test_a_run_sheet_is_in_the_order_of_the_clock_and_leaves_nothing_out(desk: Desk) -> None:
    for study in studies(desk):
        lines = run_sheet(study, desk.shop)
        assert [line.minute for line in lines] == sorted(line.minute for line in lines)
        kinds = [line.kind for line in lines]
        assert kinds.count("doors") == kinds.count("end") == 1
        if study.slots:
            assert kinds.count("on") == kinds.count("off") == len(study.switching)
            assert sum(len(line.moves) for line in lines) == len(study.slots)


# --- the files ---------------------------------------------------------------------------------


def test_the_data_keep_to_their_schema(desk: Desk) -> None:
    files = {a.path: a.content for a in session_files.assets(desk)}
    schema = json.loads(files[session_files.SCHEMA_PATH])
    Draft202012Validator.check_schema(schema)
    data = json.loads(files[session_files.PATH])
    Draft202012Validator(schema).validate(data)
    assert set(data["sessions"]) == set(desk.shop.sessions)
    data["sessions"]["another"] = {"name": "without the rest"}
    assert not Draft202012Validator(schema).is_valid(data)


def unfolded(content: bytes) -> list[str]:
    """Content lines as RFC 5545, 3.1 has them: CRLF ends, folds of 75 octets."""
    assert content.endswith(b"\r\n")
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert max(map(len, content.split(b"\r\n"))) <= 75
    return content.decode("utf-8").replace("\r\n ", "").split("\r\n")[:-1]


_LINE = re.compile(r"([A-Z-]+)((?:;[A-Z-]+=(?:\"[^\"]*\"|[^\";:,]+))*):(.*)")


def parsed(lines: Iterator[str], name: str = "") -> dict[str, Any]:
    """A component by the grammar of RFC 5545: its properties, and the components in it."""
    found: dict[str, Any] = {"properties": {}, "inside": []}
    for line in lines:
        match = _LINE.fullmatch(line)
        assert match, line
        key, value = match[1], match[3]
        if key == "END":
            assert value == name
            return found
        if key == "BEGIN":
            found["inside"].append((value, parsed(lines, value)))
        else:
            assert key not in found["properties"], f"{key} twice"
            found["properties"][key] = value
    assert not name, f"{name} is not ended"
    return found


def plain(text: str) -> str:
    """A text value without its escapes (RFC 5545, 3.3.11)."""
    assert not re.search(r"(?<!\\)(?:\\\\)*[;,]", text)
    return re.sub(r"\\([\\;,nN])", lambda m: "\n" if m[1] in "nN" else m[1], text)


def test_a_calendar_is_one_that_any_calendar_reads(desk: Desk) -> None:
    study = a_study(desk)
    asset = session_dates.asset(desk, study)
    ((name, calendar),) = parsed(iter(unfolded(asset.content)))["inside"]
    assert name == "VCALENDAR"
    assert calendar["properties"]["VERSION"] == "2.0"
    assert "PRODID" in calendar["properties"]
    events = [event for kind, event in calendar["inside"] if kind == "VEVENT"]
    assert len(events) == len(calendar["inside"])
    wanted = list(session_dates.dates(desk.shop, study.session, AS_OF))
    assert len(events) == len(wanted) > 5
    assert len({event["properties"]["UID"] for event in events}) == len(events)
    zone = ZoneInfo(desk.shop.shop.time_zone)
    for event, date in zip(events, wanted, strict=True):
        stamps = [event["properties"][key] for key in ("DTSTART", "DTEND")]
        utc = [dt.datetime.strptime(s, "%Y%m%dT%H%M%SZ").replace(tzinfo=dt.UTC) for s in stamps]
        local = [moment.astimezone(zone).replace(tzinfo=None) for moment in utc]
        session = study.session
        assert local == [dt.datetime.combine(date, t) for t in (session.start, session.end)]
        said = plain(event["properties"]["DESCRIPTION"])
        assert all(f"{line.clock} {line.says}" in said for line in run_sheet(study, desk.shop))
        for kind, alarm in event["inside"]:
            assert kind == "VALARM"
            assert {"ACTION", "TRIGGER", "DESCRIPTION"} <= set(alarm["properties"])


def test_a_session_is_held_on_no_closed_day_and_stays_at_its_hour_when_clocks_change(
    desk: Desk,
) -> None:
    session = next(s for s in desk.shop.sessions.values() if s.weekday)
    held = list(session_dates.dates(desk.shop, session, AS_OF))
    assert {d.strftime("%A").lower() for d in held} == {session.weekday}
    closed = dt.date.fromordinal(held[1].toordinal())
    hours = desk.shop.hours
    shut = hours.model_copy(
        update={"closed": (hours.closed[0].model_copy(update={"from_": closed, "to": closed}),)}
    )
    without = desk.shop.model_copy(update={"hours": shut})
    assert closed not in list(session_dates.dates(without, session, AS_OF))
    spring = Desk(desk.shop, dt.date(2027, 3, 20))  # clocks change on 28 March 2027
    study = spring.studies.sessions.sessions[session.id]
    events = parsed(iter(unfolded(session_dates.asset(spring, study).content)))["inside"][0][1]
    hours_utc = {e["properties"]["DTSTART"][9:11] for _kind, e in events["inside"]}
    assert len(hours_utc) == 2


def test_a_session_on_one_day_is_one_event(desk: Desk) -> None:
    session = next(iter(desk.shop.sessions.values()))
    once = session.model_copy(update={"day": dt.date(2027, 1, 5), "weekday": None})
    assert list(session_dates.dates(desk.shop, once, AS_OF)) == [dt.date(2027, 1, 5)]


# --- pages -------------------------------------------------------------------------------------


def test_every_session_has_its_page_and_its_sheets(desk: Desk, pages: dict[str, Page]) -> None:
    for study in studies(desk):
        id_ = study.session.id
        assert sessions.path_for(id_) in pages
        assert sessions.path_for(id_, "visit") in pages
        for sheet in ("run-sheet", "cards"):
            assert (sessions.path_for(id_, sheet) in pages) == bool(study.slots)
        for activity in study.session.activities.values():
            told = activity.we_do or activity.look_at or activity.question
            assert (f"sessions/{id_}-{activity.id}-page" in pages) == bool(told)


def test_a_page_opens_with_whether_the_timetable_holds(desk: Desk, pages: dict[str, Page]) -> None:
    for study in studies(desk):
        head = pages[sessions.path_for(study.session.id)].body.split("\n## ")[0]
        with use("en"):
            assert sessions.answer(study) in head
        found = sessions.clashes(study)
        assert ("does not hold" in head) == bool(found)
        for clash in found:
            assert clash.clock in head


def test_a_clash_is_told_with_its_minute_and_its_mend(demonstration: Shop) -> None:
    """The second group comes ten minutes early to where the first still is."""
    id_, session = next((i, s) for i, s in demonstration.sessions.items() if s.timetable)
    moved = _early(session)
    shop = demonstration.model_copy(update={"sessions": {id_: moved}})
    with use("en"):
        broken_desk = Desk(shop, AS_OF)
        (study,) = studies(broken_desk)
        page = next(p for p in sessions.pages(broken_desk) if p.path == sessions.path_for(id_))
        found = sessions.clashes(study)
        assert found
        assert "The timetable does not hold" in page.body
        assert all(clash.clock in page.body for clash in found)
        mends = [clash.mend.says for clash in found if clash.mend]
        assert mends
        assert any(mend[:40] in page.body for mend in mends)


def _early(session: Session) -> Session:
    last = max(session.timetable, key=lambda s: s.start)
    start = (dt.datetime.combine(AS_OF, last.start) - dt.timedelta(minutes=10)).time()
    rows = [s.model_copy(update={"start": start}) if s is last else s for s in session.timetable]
    return session.model_copy(update={"timetable": tuple(rows)})


def test_a_card_holds_all_a_group_does_and_nobody_elses(desk: Desk) -> None:
    for study in studies(desk):
        with use("en"):
            made = sessions.cards(desk, study)
        assert [card.group for card in made] == [group.number for group in study.groups]
        for card in made:
            own = [s for s in study.slots if s.group == card.group]
            assert [line.time for line in card.lines if line.number] == [s.clock for s in own]


def test_a_visit_pack_is_made_of_the_shops_own_words(desk: Desk, pages: dict[str, Page]) -> None:
    visitors = desk.shop.shop.visitors
    assert visitors is not None
    for study in studies(desk):
        body = pages[sessions.path_for(study.session.id, "visit")].body
        for line in (*visitors.bring, *visitors.briefing, visitors.photos, visitors.access):
            assert str(line).replace("'", "&#39;") in body
    bare = desk.shop.shop.model_copy(update={"visitors": None})
    shop = desk.shop.model_copy(update={"shop": bare})
    with use("en"):
        packs = [p for p in sessions.pages(Desk(shop, AS_OF)) if p.kind == "visit"]
    assert packs
    assert all("written under visitors in shop.yml" in pack.body for pack in packs)


def test_learner_words_lead_to_the_glossary_where_it_explains_them(
    pages: dict[str, Page],
) -> None:
    learner = [page for page in pages.values() if page.kind == "learner"]
    linked = [page for page in learner if "glossary.html#" in page.body]
    assert len(linked) > len(learner) / 2
    assert all("Reads like age" in page.body for page in learner)


# --- the chart ---------------------------------------------------------------------------------


def a_rotation(groups: int) -> Rotation:
    names = ("Read", "Watch four long-named markers being shot by the plunger", "Übersetzung")
    cells = tuple(
        Cell(g, 600 + 20 * n, 615 + 20 * n, names[(g + n) % 3], 10 + n, watch=n == 1)
        for g in range(1, groups + 1)
        for n in range(6)
    )
    bands = (Band(570, 600, "Arrival"), Band(715, 716, "Break"), Band(720, 735, "Tidy up"))
    hot = Hot("Plunger injector", 11, 560, 580, 590, 700, 740, ((600, 615), (640, 655)))
    numbers = tuple(range(1, groups + 1))
    return Rotation("Rotation", numbers, cells, bands, (hot, hot), clashes=(640,))


@pytest.mark.parametrize("groups", [1, 4, 8])
def test_nothing_written_on_the_chart_leaves_its_box(groups: int) -> None:
    shown = a_rotation(groups)
    held = rotation.Foot("Shop", "SE-1", "2026-11-24", "0" * 64)
    drawings = [
        rotation.wide(shown), rotation.phone(shown),
        rotation.wall(shown, ["Thursdays, 09:30 to 12:00"], held),
    ]  # fmt: skip
    for drawing in drawings:
        assert overflowing(drawing) == []


def test_the_phones_chart_is_drawn_anew_and_says_the_same(desk: Desk) -> None:
    study = a_study(desk)
    with use("en"):
        shown = sessions.drawn(desk, study)
        wide, phone = rotation.wide(shown), rotation.phone(shown)
    assert phone.width <= 360 < wide.width
    assert phone.desc == wide.desc
    assert min(text.size for text in texts(to_svg(phone))) >= 12
    for slot in study.slots:
        assert str(slot.activity.name) in wide.desc


def test_no_session_no_files(desk: Desk) -> None:
    shop = desk.shop.model_copy(update={"sessions": {}})
    with use("en"):
        bare = Desk(shop, AS_OF)
        assert [page.path for page in sessions.pages(bare)] == ["sessions/index"]
        assert [a.path for a in session_files.assets(bare)] == [
            session_files.PATH, session_files.SCHEMA_PATH,
        ]  # fmt: skip


def test_a_session_without_a_timetable_is_told_so_and_gets_no_board(desk: Desk) -> None:
    id_, session = next(iter(desk.shop.sessions.items()))
    bare = session.model_copy(update={"timetable": (), "proof": None})
    shop = desk.shop.model_copy(update={"sessions": {id_: bare}})
    with use("en"):
        empty = Desk(shop, AS_OF)
        page = next(p for p in sessions.pages(empty) if p.path == sessions.path_for(id_))
        assert "No timetable is written yet" in page.body
        assert not any("board" in a.path for a in session_files.assets(empty))


def test_a_proof_that_belongs_to_other_data_is_never_shown_as_one(desk: Desk) -> None:
    study = a_study(desk)
    if study.proof is None:
        pytest.skip("no session is proven yet")
    stale = dataclasses.replace(study, proof=dataclasses.replace(study.proof, belongs=False))
    with use("en"):
        assert "changed since" in sessions.proven(stale)
