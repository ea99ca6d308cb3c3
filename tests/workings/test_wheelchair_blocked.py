"""A side that nobody can stand at is not reached by a wheelchair either."""

from pathlib import Path

from generator.shop.load import load_shop
from generator.workings import routes
from tests.workings.rooms import moved

SHOP = Path(__file__).parent.parent.parent / "content" / "shop"


def test_a_blocked_side_counts_as_not_reached() -> None:
    shop = load_shop(SHOP).shop
    assert shop is not None
    (table,) = (s for s in shop.stations.values() if s.number == 18)
    x, y = table.at
    blocked = moved(shop, table.id, 8300 - x, 3440 - y)
    found = {f.rule: f.says for f in routes.study(blocked).survey.findings}
    assert "routes.no-place" in found, "nobody can stand at one of its sides"
    assert "station 18" in found["routes.wheelchair"]
    assert "every working side" not in found["routes.wheelchair"]
