"""Batches on their pages: found by their label, followed both ways, fetched back whole."""

from __future__ import annotations

import datetime as dt
import re
from functools import cache
from html import unescape

from generator.ground.resources import resource
from generator.handbook import batches
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.shop.load import load_shop
from generator.workings.trail import Trail


@cache
def desk() -> Desk:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return Desk(shop, dt.date(2026, 11, 25))


@cache
def pages() -> dict[str, Page]:
    return {page.path: page for page in batches.pages(desk())}


def words(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def row(path: str, label: str) -> str:
    body = pages()[path].body
    start = body.index(f'id="{batches.anchor(label)}"')
    return body[start : body.index("</tr>", start)]


def test_every_label_stands_in_the_list_once_and_leads_on() -> None:
    body = pages()[batches.BATCHES].body
    targets = {
        path: set(re.findall(r'id="(b-[^"]+)"', page.body)) for path, page in pages().items()
    }
    for batch in desk().shop.logs.batches:
        assert body.count(f'id="{batches.anchor(batch.batch)}"') == 1
        page, _hash, anchor = batches.address(batch).partition(".html#")
        assert anchor in targets[page], batch.batch


def test_a_label_of_any_marks_has_an_anchor_of_its_own() -> None:
    odd = ["A/1", "A_1", "a-1", "Ä1", "A.1", "<b>"]
    anchors = [batches.anchor(label) for label in odd]
    assert len(set(anchors)) == len(odd)
    assert all(re.fullmatch(r"[a-z0-9_-]+", anchor) for anchor in anchors)


def test_a_recall_names_every_product_and_all_that_still_stands() -> None:
    trail = Trail(desk().shop)
    for batch in desk().shop.logs.batches:
        if batch.step != "sorted":
            continue
        told = words(row(batches.RECALL, batch.batch))
        found = trail.recall((batch.batch,))
        for held in (*found.products, *found.standing, *found.passed):
            assert held.batch.batch in told
        if found.count:
            assert f"{found.count} piece" in told


def test_a_product_says_who_brought_what_is_in_it() -> None:
    trail = Trail(desk().shop)
    for batch in desk().shop.logs.batches:
        if batch.step != "product":
            continue
        page = pages()[f"material/batches/{batch.product}-made"].body
        start = page.index(f'id="{batches.anchor(batch.batch)}"')
        told = words(page[start : page.find("\n## ", start) % (len(page) + 1)])
        for brought in trail.back(batch.batch).brought:
            assert str(desk().shop.donors[brought.donor].name) in told


def test_pages_are_one_a_product_and_not_one_a_batch() -> None:
    made = {b.product for b in desk().shop.logs.batches if b.step == "product"}
    assert len(pages()) == len(made) + 2
