"""The pages of the room: verdict, picture, count, findings, workings; and what stations say."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.resources import resource
from generator.ground.survey import Survey
from generator.ground.working import Quantity, Verdict, Working
from generator.handbook import room, stations
from generator.handbook.amounts import bar, margin_words
from generator.handbook.desk import Desk
from generator.handbook.figure import numbered
from generator.handbook.groups import grouped
from generator.handbook.links import working_address, working_anchor
from generator.handbook.page import Page
from generator.handbook.room import sets
from generator.handbook.station_figures import figures_at
from generator.handbook.station_walks import help_at
from generator.handbook.subjects import counted, verdict
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.floor.lengths import metres
from generator.workings.power.together import Allowance, Limit, together
from tests.benchmarks.synthetic_shop import write
from tests.pages import Seen
from tests.small import shop_with
from tests.workings.rooms import moved

AS_OF = dt.date(2026, 11, 24)
DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
SUBJECTS = (
    "room/floor", "room/power", "room/air", "room/noise", "room/loads", "room/signs",
)  # fmt: skip
LAYERS = {
    "room/floor": ["escape", "narrow", "walks", "sight", "gear"],
    "room/power": ["circuits"],
    "room/air": ["air"],
    "room/noise": ["noise", "light", "hot"],
}


def desk_of(shop: Shop) -> Desk:
    return Desk(shop, AS_OF)


@pytest.fixture(scope="module")
def shop() -> Shop:
    found = load_shop(DEMONSTRATION).shop
    assert found is not None
    return found


@pytest.fixture(scope="module")
def desk(shop: Shop) -> Desk:
    return desk_of(shop)


@pytest.fixture(scope="module")
def pages(desk: Desk) -> dict[str, Page]:
    return {page.path: page for page in (*room.pages(desk), *stations.pages(desk))}


@pytest.fixture(scope="module")
def closed(shop: Shop) -> Desk:
    """The counter 400 mm nearer to the sorting table: 460 mm are left between them."""
    return desk_of(moved(shop, "hand-in-counter", -400, 0))


@pytest.fixture(scope="module")
def closed_floor(closed: Desk) -> str:
    return next(iter(room.pages(closed))).body


def plain(text: str) -> str:
    return text.replace("\u202f", " ").replace("\u00a0", " ")


def words(html: str) -> str:
    seen = Seen()
    seen.feed(html)
    return plain(" ".join(seen.words))


def svgs(body: str) -> tuple[str, str]:
    """The plan for a wide screen and the one for a phone."""
    wide, phone = (
        re.search(rf'<svg [^>]*class="{kind}".*?</svg>', body, re.DOTALL)
        for kind in ("wide", "narrow")
    )
    assert wide
    assert phone
    return wide[0], phone[0]


# --- in the order a lead reads -------------------------------------------------------------------


def test_a_page_opens_with_its_verdict_then_picture_count_findings_and_workings(
    pages: dict[str, Page],
) -> None:
    for path in LAYERS:
        body = pages[path].body
        order = [
            body.index('class="verdict"'),
            body.index('<div class="drawing">'),
            body.index(" not answered. Found: "),
            body.index("<article", body.index(" not answered. Found: ")),
            body.index('class="part workings"'),
            body.index('class="caution"'),
        ]
        assert order == sorted(order)


def test_a_verdict_is_a_sentence_with_figures_and_never_calls_anything_safe(
    pages: dict[str, Page],
) -> None:
    for path in SUBJECTS:
        says = re.search(r'<p class="big">(.*?)</p>', pages[path].body)
        assert says
        assert says[1].endswith(".")
        assert re.search(r"\d", says[1])
        assert not re.search(r"\bsafe\b", words(pages[path].body), re.IGNORECASE)


def test_the_verdict_of_the_floor_is_what_the_walks_come_to(
    desk: Desk, pages: dict[str, Page]
) -> None:
    tightest = min(gap.width_mm for gap in desk.studies.routes.bottlenecks)
    longest = max(way.exits[0].length_mm for way in desk.studies.routes.escape.ways)
    says = words(re.findall(r'<p class="big">.*?</p>', pages["room/floor"].body)[0])
    assert f"{tightest:.0f} mm are left" in says
    assert f"an exit is {plain(metres(longest))}" in says


def finding(severity: Severity, line: int = 1, says: str = "It is so.") -> Finding:
    return Finding("floor.x", severity, Origin("room.yml", line), says)


def test_a_stop_wins_over_what_the_subject_would_say() -> None:
    stop, fix = finding(Severity.STOP, says="It is shut."), finding(Severity.FIX)
    assert verdict([stop, fix], "All is reached.") == (
        "Do not open the doors like this. It is shut."
    )
    assert verdict([fix], "All is reached.") == "All is reached."
    assert verdict([fix]) == "It is so."
    assert verdict([]) == "Nothing found."


def test_the_count_says_what_holds_what_was_found_and_what_has_no_answer() -> None:
    made = Survey("floor", (), (finding(Severity.STOP), finding(Severity.ASK)), 20, 3)
    other = Survey("routes", (), (finding(Severity.FIX, 2),), 10, 1)
    assert counted([made, other]) == (
        "30 checks: 24 hold, 4 not answered. Found: 1\u202fstop, 1\u202ffix, 1\u202fask."
    )
    assert counted([Survey("x", (), (), 1, 0)]) == (
        "1 check: 1 hold, 0 not answered. Found: nothing."
    )


def test_notes_alone_are_never_told_as_nothing_found() -> None:
    noted = Survey("storage", (), (finding(Severity.NOTE), finding(Severity.NOTE, 2)), 24, 0)
    assert counted([noted]) == "24 checks: 22 hold, 0 not answered. Found: 2\u202fnote."


# --- the plan and its switches -------------------------------------------------------------------


def test_each_layer_has_a_switch_and_both_plans_bear_it(pages: dict[str, Page]) -> None:
    for path, keys in LAYERS.items():
        body = pages[path].body
        assert re.findall(r'<input type="checkbox" name="layer" value="(\w+)"', body) == keys
        for svg in svgs(body):
            drawn = set(re.findall(r'class="layer layer-(\w+)"', svg))
            assert drawn == set(keys)


def test_a_switch_works_by_the_style_sheet_alone() -> None:
    css = (resource("site_config") / "assets" / "css" / "parts.css").read_text(encoding="utf-8")
    for key in (key for keys in LAYERS.values() for key in keys):
        rule = f'.drawing:has(.layers [value="{key}"]:not(:checked)) .layer-{key}'
        assert rule in css


def test_a_switch_is_a_label_round_its_box(pages: dict[str, Page]) -> None:
    body = pages["room/floor"].body
    labels = re.findall(r"<label><input [^>]*><span>([^<]+)</span>", body)
    assert labels == ["Ways out", "Narrow places", "Walks", "Sight", "Fire gear"]
    assert "<script" not in body


def test_what_is_found_bears_one_tag_on_the_plan_and_in_the_list(pages: dict[str, Page]) -> None:
    for path in LAYERS:
        body = pages[path].body
        listed = re.findall(r'<span class="tag \w+">([^<]+)</span>', body)
        assert listed
        assert len(set(listed)) == len(listed)
        for svg in svgs(body):
            drawn = set(re.findall(r">((?:STOP|FIX) \d+)</text>", svg))
            assert drawn == set(listed)


def test_no_finding_is_told_twice_or_not_at_all(desk: Desk, pages: dict[str, Page]) -> None:
    studies = desk.studies
    surveys = {
        "room/floor": (studies.floor.survey, studies.routes.survey),
        "room/power": (studies.power.survey,),
        "room/air": (studies.air.survey,),
        "room/noise": (studies.noise.survey, studies.light.survey, studies.touch.survey),
        "room/loads": (studies.bearing.survey,),
        "room/signs": (studies.signage.survey,),
    }
    for path, made in surveys.items():
        articles = re.findall(r'<article class="finding.*?</article>', pages[path].body)
        assert len(articles) == sum(len(survey.findings) for survey in made)
        told = words("".join(articles))
        for each in (f for survey in made for f in survey.findings):
            assert plain(each.says).replace("`", "")[:40] in told.replace("`", "")


def test_a_crowded_plan_bears_every_tag_that_its_list_gives(tmp_path: Path) -> None:
    """Of 60 stations' findings as many are drawn as find room; the list holds the others too."""
    found = load_shop(write(tmp_path, 60)).shop
    assert found
    body = next(iter(room.pages(desk_of(found)))).body
    listed = set(re.findall(r'<span class="tag \w+">([^<]+)</span>', body))
    assert len(listed) == 20
    assert set(re.findall(r">((?:STOP|FIX) \d+)</text>", svgs(body)[0])) == listed
    surveys = (desk_of(found).studies.floor.survey, desk_of(found).studies.routes.survey)
    assert body.count("<article") == sum(len(survey.findings) for survey in surveys)


def test_tags_count_by_severity() -> None:
    found = [finding(s, n) for n, s in enumerate([Severity.STOP, Severity.FIX, Severity.FIX])]
    assert list(numbered(found).values()) == ["STOP 1", "FIX 1", "FIX 2"]


def test_the_same_desk_sets_the_same_pages(shop: Shop, pages: dict[str, Page]) -> None:
    for page in room.pages(desk_of(shop)):
        assert page.body == pages[page.path].body


# --- moving one station --------------------------------------------------------------------------


def test_a_station_moved_400_mm_shows_the_stop_with_both_stations_and_both_widths(
    closed_floor: str,
) -> None:
    says = words(re.findall(r'<p class="big">.*?</p>', closed_floor)[0])
    assert says.startswith("Do not open the doors like this.")
    for part in ("station 1 (", "station 2 (", "460 mm", "900 mm are needed"):
        assert part in says
    for svg in svgs(closed_floor):
        texts = [plain(text) for text in re.findall(r">([^<>]+)</text>", svg)]
        at = texts.index("STOP 1")
        assert texts[at + 1 : at + 3] == ["460 left", "needs 900"]
        assert {"1", "2"} <= set(texts)
    beside = re.findall(r'<article class="finding stop">.*?</article>', closed_floor)
    assert len(beside) == 1
    assert "stations.yml:" in beside[0]
    assert "440 mm" in words(beside[0])


def test_the_demonstration_shop_shows_no_stop(pages: dict[str, Page]) -> None:
    assert "STOP" not in pages["room/floor"].body


# --- workings ------------------------------------------------------------------------------------


def test_every_working_stands_once_folded_and_closed(desk: Desk, pages: dict[str, Page]) -> None:
    every = (w.id for survey in desk.studies.surveys for w in survey.workings)
    ids = [id_ for id_ in every if working_address(id_).startswith("room/")]
    anchors = [
        anchor
        for path in SUBJECTS
        for anchor in re.findall(r'<div class="in" id="([^"]+)"', pages[path].body)
    ]
    assert len(set(anchors)) == len(anchors)
    assert set(anchors) == {working_anchor(id_) for id_ in ids}
    for path in SUBJECTS:
        assert not re.search(r"<details[^>]* open", pages[path].body)


def test_every_link_to_a_working_leads_to_one(pages: dict[str, Page]) -> None:
    anchors = {
        f"{path}.html#{anchor}"
        for path in SUBJECTS
        for anchor in re.findall(r'id="([^"]+)"', pages[path].body)
    }
    anchors.add("room/floor.html#walks-from-each-station")
    links = [
        link.removeprefix("../")
        for page in pages.values()
        for link in re.findall(r'href="([^"]*room/\w+\.html#[^"]*)"', page.body)
    ]
    assert len(links) > 200
    assert [link for link in links if link not in anchors] == []
    assert "## Walks from each station" in pages["room/floor"].body


def test_groups_hold_every_working_once_and_read_by_number(desk: Desk) -> None:
    workings = [w for survey in desk.studies.surveys for w in survey.workings]
    groups = list(grouped(desk.shop, workings))
    rows = [w.id for group in groups for fold in group.folds for w in fold.rows]
    assert sorted(rows) == sorted(w.id for w in workings)
    (by_station,) = [g for g in groups if g.heading == "Station by station"]
    numbers = [fold.number for fold in by_station.folds]
    assert numbers == sorted(numbers) == [s.number for s in desk.shop.stations_by_number]


def test_a_fold_says_what_it_comes_to(desk: Desk) -> None:
    workings = [w for survey in desk.studies.surveys for w in survey.workings]
    for group in grouped(desk.shop, workings):
        for fold in group.folds:
            fails = sum(w.verdict is Verdict.FAILS for w in fold.rows)
            assert (f"{fails} fails" in plain(fold.state)) == bool(fails)


def working(result: float, limit: float, margin: float, verdict_: Verdict) -> Working:
    return Working(
        "x", "room", "X", "x", (), Quantity(result, "A"), verdict_, Quantity(limit, "A"),
        margin=Quantity(margin, "A"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("result", "limit", "margin", "says"),
    [
        (22.73, 20.0, -2.729, "2.73 A over"),
        (460.0, 900.0, -440.0, "440 A short"),
        (12.5, 16.0, 3.5, "3.5 A to spare"),
        (16.0, 16.0, 0.0, "exact"),
        (48.51, 40.0, -8.5117, "8.51 A over"),
    ],
)
def test_a_margin_is_no_finer_than_its_result(
    result: float, limit: float, margin: float, says: str
) -> None:
    verdict_ = Verdict.FAILS if margin < 0 else Verdict.HOLDS
    assert plain(margin_words(working(result, limit, margin, verdict_))) == says


def test_a_bar_shows_what_is_missing_only_where_it_fails() -> None:
    assert "dasharray" in bar(working(460, 900, -440, Verdict.FAILS))
    assert "dasharray" not in bar(working(950, 900, 50, Verdict.HOLDS))


# --- what may run together -----------------------------------------------------------------------


def test_the_table_of_choices_has_a_dot_for_each_machine_of_each(desk: Desk) -> None:
    allowed = desk.studies.power.sets
    html = sets.may_run(desk.shop, allowed).extra
    rows = re.findall(r"<tr>(.*?)</tr>", html)[1:]
    (group,) = allowed.groups
    everywhere = [m for m in group.machines if all(m in one for one in group.sets)]
    assert len(rows) == len(group.sets)
    dots = sorted(row.count('class="dot"') for row in rows)
    assert dots == sorted(len(one) - len(everywhere) for one in group.sets)


def test_choices_beyond_what_anybody_looks_through_are_counted(desk: Desk) -> None:
    """Any three of seven machines: 35 choices; any four of eight: 70, of which 40 are listed."""
    ids = list(desk.shop.machines)[:8]
    limit = Limit("main", "room/supply", "main fuse", 4.0, 0.0, dict.fromkeys(ids, 1.0))
    html = sets.may_run(desk.shop, together(Allowance(tuple(ids), (limit,)))).extra
    assert html.count("<tr>") - 1 == 40
    assert "30 smaller choices are left out." in html


# --- the station's own page ----------------------------------------------------------------------


def test_a_station_tells_the_walks_that_were_worked_out(desk: Desk, pages: dict[str, Page]) -> None:
    routes = desk.studies.routes
    for station in desk.shop.stations_by_number:
        body = words(pages[f"stations/{station.id}"].body)
        for kind in ("extinguisher", "first-aid", "eyewash"):
            walk = routes.nearest(kind, station.id)
            assert walk
            assert f"{walk.end} {plain(metres(walk.length_mm))} to walk, at" in body
        for id_, door in desk.shop.room.doors.items():
            walk = routes.to_exit(station.id, id_)
            assert walk
            assert f"{door.name} {plain(metres(walk.length_mm))} to walk" in body


def test_the_nearest_exit_is_told_first(desk: Desk) -> None:
    for station in desk.shop.stations_by_number:
        exits = [h.small for h in help_at(desk, station) if h.kind == "exit"]
        lengths = [float(re.findall(r"[\d.]+", small)[0]) for small in exits]
        assert lengths == sorted(lengths)


def test_where_no_walk_leads_the_page_says_so(closed: Desk) -> None:
    """Behind the counter nobody gets out with an aisle's width; what is in sight is told."""
    cupboard = closed.shop.stations["quarantine-cupboard"]
    told = help_at(closed, cupboard)
    assert [h.small for h in told if h.kind == "exit"] == [
        "No walkway wide enough leads there: see what is found on floor and walks."
    ] * 2
    assert all("to walk" not in h.small for h in told)
    assert any("in sight" in h.small or "no walk is wide enough" in h.says for h in told)


def test_a_shop_without_gear_says_that_there_is_none(tmp_path: Path) -> None:
    desk = desk_of(shop_with(tmp_path))
    (station,) = desk.shop.stations.values()
    says = [h.says for h in help_at(desk, station)]
    assert "Extinguisher: none on the plan" in says
    assert "First aid: none on the plan" in says


def test_a_station_s_figures_are_those_of_the_workings(desk: Desk) -> None:
    by_id = {w.id: w for survey in desk.studies.surveys for w in survey.workings}
    by_address = {working_anchor(id_): w for id_, w in by_id.items()}
    seen = 0
    for station in desk.shop.stations_by_number:
        for figure in figures_at(desk, station):
            worked = by_address.get(figure.address.partition("#")[2])
            if worked is None:
                assert figure.address.endswith("#walks-from-each-station")
                continue
            value = float(re.findall(r"[\d.]+", plain(figure.value))[0])
            known = [worked.result.value, *([abs(worked.margin.value)] if worked.margin else [])]
            assert any(value == pytest.approx(k, abs=0.06) for k in known), figure
            seen += 1
    assert seen > 80


def test_what_is_found_of_a_station_and_its_machines_stands_on_its_page(
    desk: Desk, pages: dict[str, Page]
) -> None:
    for station in desk.shop.stations_by_number:
        body = words(pages[f"stations/{station.id}"].body)
        for each in desk.findings_on(*desk.subjects_at(station)):
            assert plain(each.says).replace("`", "")[:40] in body.replace("`", "")
    saw = desk.subjects_at(desk.shop.stations["band-saw"])
    rules = {f.rule for f in desk.findings_on(*saw)}
    assert {"floor.guard-distance", "light.dark"} <= rules
