"""The board in Chromium, from its file and without a network, as a session leader runs it."""

from __future__ import annotations

import datetime as dt
import functools
import http.server
import json
import re
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page

from tests.board.conftest import Plan, plan_of, with_plan

pytestmark = pytest.mark.browser

LANDSCAPE, PORTRAIT = (1024, 768), (800, 1280)
DAY = dt.datetime(2026, 11, 26)
MINUTE = 60_000
SESSION = "school-class"

Open = Callable[..., Page]


@pytest.fixture(scope="session")
def board(handbook: Path) -> Path:
    """A session's board, copied away from everything around it."""
    return handbook / "sessions" / f"{SESSION}-board.html"


@pytest.fixture(scope="session")
def plan(board: Path) -> Plan:
    return plan_of(board)


@pytest.fixture
def tablet(browser: Browser) -> Iterator[Open]:
    """Open a file on a tablet at a minute of the day; what it fetched is in ``page.requests``."""
    contexts: list[BrowserContext] = []

    def open_page(
        file: Path, minute: float, size: tuple[int, int] = LANDSCAPE, **more: Any
    ) -> Page:
        prepared: list[str] = more.pop("scripts", [])
        context = browser.new_context(
            viewport={"width": size[0], "height": size[1]}, offline=True, **more
        )
        contexts.append(context)
        context.set_default_timeout(5000)
        page = context.new_page()
        page.requests, page.errors = [], []  # type: ignore[attr-defined]
        page.on("request", lambda request: page.requests.append(request.url))  # type: ignore[attr-defined]
        page.on("pageerror", lambda error: page.errors.append(str(error)))  # type: ignore[attr-defined]
        page.clock.install(time=at(minute - 5))
        page.clock.pause_at(at(minute))
        for script in prepared:
            page.add_init_script(script)
        page.goto(file.as_uri())
        return page

    yield open_page
    for context in contexts:
        context.close()


def at(minute: float) -> dt.datetime:
    """A minute of the session's day, in the tablet's own time."""
    return DAY + dt.timedelta(minutes=minute)


def first_of(plan: Plan) -> int:
    return min(int(slot["start"]) for slot in plan["slots"])


def tick_all(page: Page, *, by_hand: bool = False) -> None:
    """Tick every check: by taps, page by page, or at once where that is not what is looked at."""
    if not by_hand:
        page.evaluate(
            "document.querySelectorAll('.tick[aria-checked=false]').forEach(e => e.click())"
        )
        return
    open_ = page.locator(".tick[aria-checked=false]:not([hidden])")
    while page.locator(".tick[aria-checked=false]").count():
        while open_.count():
            open_.first.click()
        if page.locator(".tick[aria-checked=false]").count():
            page.locator("#more").click()


def count_all(page: Page) -> None:
    page.locator(".head [data-go=count]").click()
    page.locator("#count-all").click()


def wait(page: Page, minutes: float) -> None:
    """Let time go by at speed: timers fire at most once, as on a tablet that was asleep."""
    page.clock.fast_forward(round(minutes * MINUTE))
    page.clock.run_for(600)


def started(tablet: Open, board: Path, plan: Plan, **more: Any) -> Page:
    """A board whose session has just begun, on time and with every machine on."""
    first = first_of(plan)
    opens = min([first - 20, *(m["on"] - 1 for m in plan["machines"])])
    page = tablet(board, opens, **more)
    tick_all(page)
    count_all(page)
    for place, machine in enumerate(plan["machines"]):
        now = page.evaluate("Date.now()")
        ahead = at(machine["on"]).timestamp() * 1000 - now
        if machine["on"] < first:
            if ahead > 0:
                wait(page, ahead / MINUTE)
            page.locator("#heat-before .machine").nth(place).locator(".act:visible").first.click()
    wait(page, (at(first).timestamp() * 1000 - page.evaluate("Date.now()")) / MINUTE)
    page.locator("#start").click()
    return page


def countdowns(page: Page) -> list[str]:
    return page.locator(".group .time").all_inner_texts()


# --- nothing comes over the network ------------------------------------------------------------


def test_it_is_one_file_that_fetches_nothing(tablet: Open, board: Path, tmp_path: Path) -> None:
    alone = tmp_path / "board.html"
    alone.write_bytes(board.read_bytes())
    page = tablet(alone, 560)
    page.wait_for_function("document.fonts.check('16px \"Atkinson Hyperlegible\"')")
    fetched = [url for url in page.requests if not url.startswith("data:")]  # type: ignore[attr-defined]
    assert fetched == [alone.as_uri()]
    assert page.errors == []  # type: ignore[attr-defined]
    assert page.locator("#screen-before").is_visible()


def test_without_scripts_the_printed_times_stand_there(
    browser: Browser, board: Path, plan: Plan
) -> None:
    context = browser.new_context(java_script_enabled=False, offline=True)
    page = context.new_page()
    page.goto(board.as_uri())
    assert page.locator("table tbody tr").count() == sum(
        s["activity"] != "-break-" for s in plan["slots"]
    )
    assert "red button" in page.locator("body").inner_text()
    assert not page.locator("#start").is_visible()
    context.close()


# --- a session from end to end -----------------------------------------------------------------


def test_nothing_heats_and_nothing_starts_before_its_checks(
    tablet: Open, board: Path, plan: Plan
) -> None:
    page = tablet(board, first_of(plan) - 20)
    heat = page.locator("#heat-before .act:visible").first
    assert heat.is_disabled()
    assert page.locator("#start").is_disabled()
    tick_all(page, by_hand=True)
    assert heat.is_enabled()
    assert page.locator("#start").is_disabled()
    assert page.locator("#start-why").inner_text() == "Count heads first"
    page.locator(".head [data-go=count]").click()
    for digit in "12":
        page.locator(f"[data-digit='{digit}']").click()
    assert "missing" in page.locator("#differs").inner_text()
    page.locator("#count-save").click()
    assert page.locator("#start").is_enabled()
    assert page.locator("#counted").inner_text() == f"12 of {plan['people']['expected']}"
    page.locator(".tick[aria-checked=true]:visible").first.click()
    assert heat.is_disabled()


def test_board_run_sheet_and_data_agree_to_the_minute_over_the_whole_session(
    tablet: Open, handbook: Path, board: Path, plan: Plan
) -> None:
    data = json.loads((handbook / "data" / "sessions.json").read_text("utf-8"))
    told = data["sessions"][SESSION]
    sheet = (handbook / "sessions" / f"{SESSION}-run-sheet.html").read_text("utf-8")
    page = started(tablet, board, plan)
    seen = set()
    now = first_of(plan)
    while now < told["tidy"][1]:
        for slot in told["timetable"]:
            if slot["start"] <= now < slot["end"]:
                row = page.locator(".group").nth(slot["group"] - 1)
                name = told["activities"][slot["activity"]]["name"]
                assert row.locator(".now").inner_text().startswith(name), (now, slot)
                # a second or so has passed since the minute: left is up to that much less
                minutes, seconds = map(int, row.locator(".time").inner_text().split(":"))
                left = minutes + seconds / 60
                assert slot["end"] - now - 0.1 <= left <= slot["end"] - now, (now, slot)
                seen.add((slot["group"], slot["activity"]))
        wait(page, 5 - 0.01)
        now += 5
    assert seen == {(s["group"], s["activity"]) for s in told["timetable"]}
    assert page.locator(".message.warn").count() == 0
    for line in told["run_sheet"]:
        assert f'<th scope="row">{line["time"]}</th>' in sheet
    rows = re.findall(r'<tr class="([a-z]+)"><th scope="row">([0-9:]+)</th>', sheet)
    assert rows == [(line["kind"], line["time"]) for line in told["run_sheet"]]
    assert page.errors == []  # type: ignore[attr-defined]


def test_a_longer_slot_moves_the_others_and_can_be_taken_back(
    tablet: Open, board: Path, plan: Plan
) -> None:
    page = started(tablet, board, plan)
    wait(page, 5)
    before = countdowns(page)
    page.locator(".group .more").first.click()
    after = countdowns(page)
    assert minutes_of(after[0]) - minutes_of(before[0]) == pytest.approx(2)
    assert after[1:] == before[1:]
    page.locator("#undo").click()
    assert countdowns(page) == before
    for _tap in range(8):
        page.locator(".group .more").first.click()
    wait(page, 10)
    # group 1's first slot is 16 minutes longer, of which 10 (and 5 before) are gone
    ends = first_of(plan) + plan["slots"][first_slot(plan, 1)]["takes"] + 16
    nexts = [second_slot(plan, g["n"]) for g in plan["groups"]]
    waiting = {
        s["group"]: dict(s["waits"]) for s in nexts if first_slot(plan, 1) in dict(s["waits"])
    }
    assert set(waiting) >= {1}
    for group, waits in waiting.items():
        if group == 1:
            continue
        row = page.locator(".group").nth(group - 1)
        assert row.locator(".now").inner_text().startswith("Go to")
        left = minutes_of(row.locator(".time").inner_text())
        least = ends + waits[first_slot(plan, 1)] - (first_of(plan) + 15)
        assert left == pytest.approx(least, abs=0.1)


def second_slot(plan: Plan, group: int) -> dict[str, Any]:
    own = [s for s in plan["slots"] if s["group"] == group]
    slot: dict[str, Any] = sorted(own, key=lambda s: s["start"])[1]
    return slot


def minutes_of(text: str) -> float:
    *hours, minutes, seconds = map(int, text.split(":"))
    return (hours[0] * 60 if hours else 0) + minutes + seconds / 60


def first_slot(plan: Plan, group: int) -> int:
    own = [s for s in plan["slots"] if s["group"] == group]
    return int(min(own, key=lambda s: s["start"])["id"])


def test_notes_and_times_are_saved_as_a_text_file(
    tablet: Open, board: Path, plan: Plan, tmp_path: Path
) -> None:
    page = started(tablet, board, plan)
    page.locator(".group .hold").first.click()
    wait(page, 3)
    page.locator(".group .hold").first.click()
    page.locator(".head [data-go=over]").click()
    page.locator("#notes").fill("More salt next time.\nGroup 2 asked about PET.")
    page.locator("#finish").click()
    with page.expect_download() as got:
        page.locator("#save").click()
    got.value.save_as(tmp_path / "notes.txt")
    text = (tmp_path / "notes.txt").read_text("utf-8")
    first = f"{first_of(plan) // 60:02}:{first_of(plan) % 60:02}"
    assert text.startswith(plan["name"])
    assert f"{first}  Started" in text
    assert f"{first}  Group 1 held" in text
    assert re.search(r"\d\d:\d\d  Group 1 went on", text)
    assert "More salt next time.\nGroup 2 asked about PET." in text.replace("\r\n", "\n")


# --- what must survive -------------------------------------------------------------------------


def test_a_reload_changes_nothing(tablet: Open, board: Path, plan: Plan) -> None:
    page = started(tablet, board, plan)
    wait(page, 4)
    page.locator(".group .hold").nth(1).click()
    page.locator(".group .more").first.click()
    wait(page, 3)
    before = (countdowns(page), page.locator("#counted-at").inner_text())
    page.reload()
    assert (countdowns(page), page.locator("#counted-at").inner_text()) == before
    assert page.locator(".group").nth(1).get_attribute("class") == "group held"
    page.clock.fast_forward(2 * MINUTE)  # the tablet was locked
    page.reload()
    held, running = minutes_of(countdowns(page)[1]), minutes_of(countdowns(page)[0])
    assert held == pytest.approx(minutes_of(before[0][1]), abs=0.05)
    assert running == pytest.approx(minutes_of(before[0][0]) - 2, abs=0.05)


def test_a_warning_survives_a_reload_and_a_clock_set_back(
    tablet: Open, board: Path, plan: Plan
) -> None:
    page = started(tablet, board, plan)
    wait(page, 2)
    for _tap in range(20):
        page.locator("#extend-all").click()
    said = page.locator("#message-text").inner_text()
    assert page.locator(".message.warn").is_visible()
    left = countdowns(page)
    page.reload()
    assert page.locator("#message-text").inner_text() == said
    page.clock.set_system_time(at(first_of(plan) - 60))
    page.clock.run_for(600)
    page.reload()
    assert page.locator(".message.warn").is_visible()
    for ours, was in zip(countdowns(page), left, strict=True):
        assert minutes_of(ours) == pytest.approx(minutes_of(was), abs=0.1)
    texts = set()
    while page.locator("#seen").is_visible():
        texts.add(page.locator("#message-text").inner_text())
        page.locator("#seen").click()
    assert said in texts
    assert any("clock went back" in text for text in texts)


def test_the_tablets_new_time_can_be_taken(tablet: Open, board: Path, plan: Plan) -> None:
    page = started(tablet, board, plan)
    wait(page, 2)
    left = countdowns(page)
    page.clock.set_system_time(at(first_of(plan) - 10))
    page.clock.run_for(600)
    page.locator("#take-clock").click()
    shown = page.locator("#clock").inner_text()
    wanted = at(first_of(plan) - 10)
    assert shown == f"{wanted:%H:%M}"
    for ours, was in zip(countdowns(page), left, strict=True):
        assert minutes_of(ours) == pytest.approx(minutes_of(was), abs=0.1)


BLOCKED = """Object.defineProperty(window, "localStorage", {
  get() { throw new DOMException("blocked", "SecurityError"); } });"""


def test_where_storage_is_blocked_it_runs_and_says_that_it_cannot_remember(
    tablet: Open, board: Path, plan: Plan
) -> None:
    page = started(tablet, board, plan, scripts=[BLOCKED])
    assert "does not let the page remember" in page.locator("#unkept").inner_text()
    wait(page, 3)
    assert minutes_of(countdowns(page)[0]) > 1
    fits(page)
    assert page.errors == []  # type: ignore[attr-defined]


def test_where_storage_works_nothing_is_said_of_it(tablet: Open, board: Path) -> None:
    assert not tablet(board, 560).locator("#unkept").is_visible()


def test_a_state_torn_by_a_power_cut_gives_way_to_the_one_before(
    tablet: Open, board: Path, plan: Plan
) -> None:
    page = started(tablet, board, plan)
    wait(page, 1)
    torn = """() => {
      const places = [".a", ".b"].map((p) => "benchleaf.board." + %s + p);
      const turn = (k) => { try { return JSON.parse(localStorage.getItem(k)).turn; } catch (e) { return 0; } };
      places.sort((a, b) => turn(b) - turn(a));
      const last = localStorage.getItem(places[0]);
      window.addEventListener("pagehide", () => localStorage.setItem(places[0], last.slice(0, last.length / 2)));
    }""" % json.dumps(SESSION)  # noqa: E501, UP031
    page.evaluate(torn)
    page.reload()
    assert page.locator("#screen-running").is_visible()


def test_a_session_of_another_day_is_asked_about_and_never_thrown_away_unasked(
    tablet: Open, board: Path, plan: Plan
) -> None:
    page = started(tablet, board, plan)
    page.clock.fast_forward(26 * 60 * MINUTE)
    page.reload()
    assert page.locator("#screen-ask").is_visible()
    page.reload()
    page.locator("#ask-go-on").click()
    assert page.locator("#screen-running").is_visible()
    page.clock.fast_forward(30 * 60 * MINUTE)
    page.reload()
    page.locator("#ask-anew").click()
    assert page.locator("#screen-before").is_visible()


# --- emergency ---------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT])
def test_emergency_says_what_it_does_not_do_and_shows_every_step(
    tablet: Open, board: Path, plan: Plan, size: tuple[int, int]
) -> None:
    page = started(tablet, board, plan, size=size)
    page.locator("#screen-running .stopnow").click()
    head = page.locator(".urgent-head").inner_text()
    assert "does not cut power" in head
    assert "press the red button" in head
    body = page.locator("#stops").inner_text()
    for stop in plan["emergency"]["stops"]:
        assert stop["name"] in body
        assert stop["place"] in body
    assert plan["emergency"]["number"] in body
    fits(page)
    for procedure in plan["emergency"]["procedures"]:
        page.get_by_role("button", name=procedure["name"], exact=True).click()
        steps = page.locator("#steps-list").inner_text()
        assert all(step["do"] in steps for step in procedure["steps"])
        fits(page)
    page.keyboard.press("Escape")
    assert page.locator("#stops").is_visible()
    page.keyboard.press("Escape")
    assert page.locator("#screen-running").is_visible()


def test_emergency_is_one_tap_from_every_screen(tablet: Open, board: Path, plan: Plan) -> None:
    page = tablet(board, first_of(plan) - 20)
    for screen in ("", "count", "over"):
        page.evaluate("name => { location.hash = name; }", screen)
        page.locator("[data-go=emergency]:visible").first.click()
        assert page.locator("#screen-emergency").is_visible()


# --- hands, eyes, ears -------------------------------------------------------------------------

FITS = """() => {
  const page = document.scrollingElement, wrong = [];
  if (page.scrollHeight > innerHeight || page.scrollWidth > innerWidth) wrong.push("the page scrolls");
  const seen = [...document.querySelectorAll(".head *, main:not([hidden]) *")]
    .filter((e) => e.checkVisibility() && e.getClientRects().length && !e.closest("svg, h1"));
  for (const e of seen) {
    const r = e.getBoundingClientRect(), name = e.tagName + "#" + e.id + "." + e.className;
    if (r.bottom > innerHeight + 1 || r.right > innerWidth + 1 || r.left < -1) wrong.push("outside: " + name);
    const cut = e.scrollHeight > e.clientHeight + 2 && e.clientHeight && getComputedStyle(e).overflowY !== "visible";
    if (cut && getComputedStyle(e).whiteSpace !== "nowrap") wrong.push("cut: " + name + e.scrollHeight + ">" + e.clientHeight);
  }
  const buttons = seen.filter((e) => e.tagName === "BUTTON").map((e) => [e, e.getBoundingClientRect()]);
  for (const [e, r] of buttons) if (r.height < 56 || r.width < 56) wrong.push("small: " + e.textContent + r.width + "x" + r.height);
  buttons.forEach(([e, r], i) => buttons.slice(i + 1).forEach(([f, s]) => {
    if (r.left < s.right - 1 && s.left < r.right - 1 && r.top < s.bottom - 1 && s.top < r.bottom - 1) wrong.push("overlap: " + e.textContent + " / " + f.textContent);
  }));
  for (const t of seen.filter((e) => e.matches(".time, .clock, #opens"))) if (parseFloat(getComputedStyle(t).fontSize) < 46) wrong.push("small figures");
  return wrong;
}"""  # noqa: E501


def fits(page: Page) -> None:
    """Nothing scrolls, is cut, lies outside, or is too small for a glove."""
    wrong = page.evaluate(FITS)
    assert wrong == [], "\n".join(wrong)


def large(plan: Plan) -> Plan:
    """A plan of eight groups at eight activities with three hot machines, long names and all."""
    name = "Watch the long-named activity that needs two lines"
    activities = {f"a{n}": {"name": f"{name} {n}", "number": n + 10} for n in range(8)}
    slots = [
        {"id": row * 8 + group, "group": group + 1, "activity": f"a{(group + row) % 8}",
         "start": 585 + 20 * row, "takes": 18, "waits": []}
        for row in range(8) for group in range(8)
    ]  # fmt: skip
    machine = plan["machines"][0]
    machines = [{**machine, "id": f"m{n}", "uses": [n, 8 + n]} for n in range(3)]
    groups = [{"n": n + 1, "size": 3} for n in range(8)]
    checks = [{**check, "machine": None} for check in plan["checks"]]
    changes = {"activities": activities, "slots": slots, "groups": groups, "machines": machines}
    return {**plan, **changes, "checks": checks, "end": 780}


@pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT])
@pytest.mark.parametrize("of", ["shop", "large"])
def test_no_screen_scrolls_on_a_tablet_and_every_button_takes_a_glove(  # noqa: PLR0917
    tablet: Open, board: Path, plan: Plan, size: tuple[int, int], of: str, tmp_path: Path
) -> None:
    if of == "large":
        plan = large(plan)
        (tmp_path / "large.html").write_text(with_plan(board, plan), encoding="utf-8")
        board = tmp_path / "large.html"
    page = tablet(board, first_of(plan) - 20, size=size)
    page.clock.run_for(600)
    fits(page)
    tick_all(page)
    count_all(page)
    wait(page, 20)
    fits(page)
    page.locator("#start").click()
    fits(page)
    page.locator(".group .hold").first.click()
    for _tap in range(12):
        page.locator(".group .more").nth(1).click()
    wait(page, 14)
    fits(page)
    for screen in ("count", "over", "emergency"):
        page.evaluate("name => { location.hash = name; }", screen)
        page.clock.run_for(600)
        fits(page)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_and_contrast_is_seven_to_one(
    tablet: Open, board: Path, plan: Plan, scheme: str
) -> None:
    page = tablet(board, first_of(plan) - 20, color_scheme=scheme)
    page.clock.resume()  # axe waits by the page's own timers
    found: list[str] = []
    looked_at: set[str] = set()

    def look(where: str) -> None:
        options = {
            "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"],
            "rules": {"color-contrast-enhanced": {"enabled": True}},
        }
        response = Axe().run(page, options=options).response
        looked_at.update(rule["id"] for rule in response["passes"])
        for violation in response["violations"]:
            found.extend(f"{where}: {violation['id']} {n['html'][:90]}" for n in violation["nodes"])

    look("before")
    tick_all(page)
    count_all(page)
    wait(page, 20)
    page.locator("#start").click()
    page.locator(".group .hold").first.click()
    for _tap in range(20):
        page.locator("#extend-all").click()
    look("running")
    for screen in ("count", "over", "emergency"):
        page.evaluate("name => { location.hash = name; }", screen)
        page.clock.run_for(600)
        look(screen)
    page.locator(".way").first.click()
    look("steps")
    assert found == []
    assert "color-contrast-enhanced" in looked_at


def test_a_keyboard_does_all_of_it(tablet: Open, board: Path, plan: Plan) -> None:
    page = tablet(board, first_of(plan) - 5)
    tick_all(page)
    page.locator(".head [data-go=count]").focus()
    page.keyboard.press("Enter")
    for digit in "22":
        page.keyboard.press(digit)
    assert page.locator("#typed").inner_text() == "22"
    page.locator("#count-save").focus()
    page.keyboard.press("Space")
    wait(page, 5)
    page.locator("#start").focus()
    page.keyboard.press("Enter")
    names = []
    for _tab in range(14):
        page.keyboard.press("Tab")
        names.append(page.evaluate(
            "document.activeElement.getAttribute('aria-label') || document.activeElement.innerText"
        ))  # fmt: skip
    assert "Hold group 1" in names
    assert "2 minutes more for group 1" in names
    page.locator(".group .hold").first.focus()
    page.keyboard.press("Enter")
    assert page.locator(".group").first.get_attribute("class") == "group held"
    focused = page.evaluate("document.activeElement.getAttribute('aria-label')")
    assert focused == "Group 1 goes on"  # the same button, not one that was drawn anew


def test_only_what_a_leader_would_call_out_is_spoken(tablet: Open, board: Path, plan: Plan) -> None:
    page = started(tablet, board, plan)
    live = "[...document.querySelectorAll('[aria-live]:not([aria-live=off]), [role=status]')]"
    assert page.evaluate(f"{live}.some(e => e.matches('.time'))") is False
    page.evaluate(
        "() => { window.said = []; new MutationObserver(() => window.said.push("
        "document.getElementById('spoken').textContent)).observe("
        "document.getElementById('spoken'), {childList: true, characterData: true}); }"
    )
    page.clock.run_for(60_000)
    assert page.evaluate("said") == []
    own = [s for s in plan["slots"] if s["group"] == 1]
    wait(page, min(own, key=lambda s: s["start"])["takes"])
    assert any("Group 1" in said for said in page.evaluate("said"))


def test_no_name_can_be_typed_but_in_the_notes(tablet: Open, board: Path) -> None:
    page = tablet(board, 560)
    assert page.locator("input").count() == 0
    assert page.locator("textarea").count() == 1
    assert "No names of children" in page.locator("label[for=notes]").inner_text()


# --- installed ---------------------------------------------------------------------------------


@pytest.fixture
def server(handbook: Path) -> Iterator[http.server.ThreadingHTTPServer]:
    """The site on this machine, quietly."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_args: object) -> None:
            return

    handler = functools.partial(Quiet, directory=str(handbook))
    served = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=served.serve_forever, daemon=True).start()
    yield served
    served.shutdown()
    served.server_close()


def test_once_visited_it_opens_with_the_server_gone(
    browser: Browser, server: http.server.ThreadingHTTPServer
) -> None:
    context = browser.new_context()
    page = context.new_page()
    address = f"http://127.0.0.1:{server.server_address[1]}/sessions/{SESSION}-board.html"
    page.goto(address)
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    assert page.locator("link[rel=manifest]").get_attribute("href") == (
        f"{SESSION}-board.webmanifest"
    )
    server.shutdown()
    server.server_close()
    page.reload()
    assert page.locator("#screen-before").is_visible()
    other = page.evaluate(
        "fetch('family-saturday-board.html').then(r => r.text()).then(t => t.length).catch(() => 0)"
    )
    del other  # the page's own policy lets it fetch nothing; that the rest is kept is asked below
    kept = page.evaluate("caches.open('benchleaf-boards').then(c => c.keys()).then(k => k.length)")
    assert kept >= 7
    context.close()


def test_the_worker_knows_each_file_by_its_hash(handbook: Path) -> None:
    import hashlib  # noqa: PLC0415

    script = (handbook / "sessions" / "boards.js").read_text("utf-8")
    listed = json.loads(re.search(r"const FILES = (\{.*?\});", script, re.DOTALL)[1])  # type: ignore[index]
    assert f"{SESSION}-board.html" in listed
    for name, digest in listed.items():
        content = (handbook / "sessions" / name).read_bytes()
        assert hashlib.sha256(content).hexdigest() == digest
