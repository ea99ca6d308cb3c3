"""The page of storage, held against what was worked out and against counting by hand."""

from __future__ import annotations

import datetime as dt
import re
from functools import cache
from html import unescape

from generator.ground.resources import resource
from generator.handbook import storage
from generator.handbook.desk import Desk
from generator.shop.load import load_shop
from generator.workings.intake import latest_count


@cache
def desk() -> Desk:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return Desk(shop, dt.date(2026, 11, 25))


@cache
def words() -> str:
    (page,) = storage.pages(desk())
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", page.body)))


def test_the_page_opens_with_how_many_labels_and_which_containers_are_short() -> None:
    found = desk().studies.material.storage
    opening = words().split("How many")[0]
    printed = sum(tag.count for tag in desk().studies.labels)
    assert f"Print {printed} labels" in opening
    for kind in found.kinds:
        short = kind.after_a_week > kind.container.owned
        assert (f"of {kind.container.name}" in opening) == short


def test_every_kind_stands_with_its_labels_and_what_to_get() -> None:
    for kind in desk().studies.material.storage.kinds:
        missing = kind.after_a_week - kind.container.owned
        row = (
            f"{kind.container.name} {kind.labels} {kind.now} {kind.after_a_week} "
            f"{kind.at_limit} {kind.container.owned} {missing if missing > 0 else 'none'}"
        )
        assert row in words()


def test_labels_of_kinds_add_up_to_what_is_said() -> None:
    kinds = desk().studies.material.storage.kinds
    assert f"All together {sum(kind.labels for kind in kinds)}" in words()


def test_every_lot_that_was_counted_stands_before_or_after_granulating() -> None:
    before, after = words().split("As flake")
    for row in latest_count(desk().shop):
        colour = desk().shop.polymers[row.polymer].colours.get(row.colour)
        name = f"{desk().shop.polymers[row.polymer].name} {colour.name if colour else row.colour}"
        assert name in (after if row.form in ("flake", "pellet") else before)


def test_weights_shelves_floor_fire_and_quarantine_stand_on_the_page() -> None:
    found = desk().studies.material.storage
    for weight in found.weights:
        assert f"{weight.full_kg:.1f} of {weight.lift.kg:.1f} kg" in words()
    for use in found.shelves:
        assert f"{use.need_mm['now'] / 1000:.1f} {use.need_mm['week'] / 1000:.1f}" in words()
    for load in desk().studies.bearing.fire:
        assert f"{load.density_mjm2:.0f}" in words()
    for waiting in found.quarantine.waiting:
        assert waiting.batch.batch in words()


def test_a_paused_polymer_is_said_first() -> None:
    limit = desk().stock["pp"] - 1
    shop = desk().shop
    full = shop.polymers["pp"].model_copy(update={"store_limit_kg": limit})
    changed = shop.model_copy(update={"polymers": {**shop.polymers, "pp": full}})
    says = storage.says(Desk(changed, dt.date(2026, 11, 25)))
    assert says.startswith("Paused for Polypropylene")
