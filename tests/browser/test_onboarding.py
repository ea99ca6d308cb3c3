"""The way into a role on a phone: ticks stay, answers come on a tap, and a file is given out."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.browser.conftest import Open

pytestmark = pytest.mark.browser

PAGE = "onboarding/bench-hand.html"
PHONE = 390


def test_what_is_ticked_is_still_ticked_when_the_page_is_opened_again(read: Open) -> None:
    page = read(PAGE, PHONE)
    count = page.locator("[data-ticks-all]")
    total = page.locator("[data-tick]").count()
    assert count.inner_text() == f"0 of {total} done"
    page.locator("[data-tick]").nth(1).check()
    page.locator("[data-tick]").nth(2).check()
    page.locator("[data-tick]").nth(2).uncheck()
    page.reload()
    assert page.locator("[data-tick]").nth(1).is_checked()
    assert not page.locator("[data-tick]").nth(2).is_checked()
    assert count.inner_text() == f"1 of {total} done"


def test_an_answer_stands_there_only_after_a_tap(read: Open) -> None:
    page = read(PAGE, PHONE)
    question = page.locator(".asked").first
    assert not question.locator("p").is_visible()
    question.locator("summary").click()
    assert question.locator("p").is_visible()


def test_the_ticks_are_given_out_as_a_file(read: Open, tmp_path: Path) -> None:
    page = read(PAGE, PHONE)
    page.locator("[data-tick]").first.check()
    with page.expect_download() as got:
        page.locator("[data-ticks-save]").click()
    got.value.save_as(tmp_path / "ticks.txt")
    lines = (tmp_path / "ticks.txt").read_text(encoding="utf-8").splitlines()
    assert lines[0] == "Becoming a bench hand"
    assert sum(line.startswith("[x] ") for line in lines) == 1
    assert sum(line.startswith("[ ] ") for line in lines) == page.locator("[data-tick]").count() - 1
