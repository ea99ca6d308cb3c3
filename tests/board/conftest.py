"""The board's arithmetic, run in Chromium without its page, and its plans."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from generator.ground.resources import resource

Plan = dict[str, Any]
Event = dict[str, Any]
MINUTE = 60_000
_PLAN = re.compile(r'<script type="application/json" id="plan">(.*?)</script>', re.DOTALL)

_RUN = """([plan, events, state]) => {
  const board = boardTime(plan);
  const frozen = (x) => { if (x && typeof x === "object") { Object.freeze(x); Object.values(x).forEach(frozen); } return x; };
  let now = state || board.fresh(events[0].at, 0);
  for (const event of events) now = board.advance(frozen(JSON.parse(JSON.stringify(now))), event, event.at);
  return { state: now, view: board.view(now, events[events.length - 1].at) };
}"""  # noqa: E501


class Reckoner:
    """Runs events through the board's own script. Times are minutes after midnight."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def run(
        self, plan: Plan, events: Iterable[tuple[float, Event]], state: Any = None
    ) -> dict[str, Any]:
        """What the state and the view are after some events, each at its minute.

        Every state goes through text and back, as a reload would take it, and is frozen: a script
        that changed it would fail.
        """
        told = [{**event, "at": round(minute * MINUTE)} for minute, event in events]
        result: dict[str, Any] = self.page.evaluate(_RUN, [plan, told, state])
        return result


@pytest.fixture(scope="session")
def reckoner(browser: Browser) -> Iterator[Reckoner]:
    """The script in an empty page."""
    page = browser.new_page()
    page.add_script_tag(path=resource("site_config") / "board" / "time.js")
    yield Reckoner(page)
    page.close()


def plan_of(board: Path) -> Plan:
    """The plan inside a board's file."""
    found = _PLAN.search(board.read_text(encoding="utf-8"))
    assert found, board
    plan: Plan = json.loads(found[1])
    return plan


def with_plan(board: Path, plan: Plan) -> str:
    """A board's file with another plan in it."""
    text = json.dumps(plan).replace("<", "\\u003c")
    block = f'<script type="application/json" id="plan">{text}</script>'
    return _PLAN.sub(lambda _found: block, board.read_text(encoding="utf-8"))
