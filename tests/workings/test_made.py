"""What went into a product and a month's figures, from a log worked by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.shop.shop import Shop
from generator.workings.made import figures, products
from generator.workings.trail import Trail
from tests.small import shop_with
from tests.workings.test_running import PRESSES, making

AS_OF = dt.date(2026, 3, 10)
DONORS = """
cafe: {name: Cafe, brings: []}
school: {name: School, brings: []}
"""
WEIGHED = """date,donor,polymer,kg,rejected_kg,rejected_for,batch
2026-02-28,cafe,pp,10,1,wet,
2026-03-01,cafe,pp,4,1,wet,SO-1
2026-03-02,school,pp,1,0,,SO-1
2026-03-03,school,pp,2,1.5,brittle,
2026-03-03,school,pp,1,1,wet,
2026-03-11,cafe,pp,50,0,,
"""
BATCHES = """date,batch,step,kg,polymer,made_from,blend,product,count
2026-03-02,SO-1,sorted,4,pp,,,,
2026-03-03,FL-1,flake,4,pp,SO-1,,,
2026-03-04,BL-1,blend,2,,FL-1,plain,,
2026-03-05,PD-1,product,1.8,,BL-1,plain,board,20
2026-03-12,PD-2,product,1,,BL-1,plain,board,9
"""


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return shop_with(
        tmp_path,
        machines=PRESSES,
        donors=DONORS,
        weigh_ins_csv=WEIGHED,
        batches_csv=BATCHES,
        **making("press"),
    )


def test_a_product_is_followed_back_to_the_scale(shop: Shop) -> None:
    (made,) = products(shop, Trail(shop), AS_OF)
    assert (made.count, made.kg, made.last and made.last.batch) == (20, 1.8, "PD-1")
    assert [p.id for p in made.polymers] == ["pp"]
    # 3 kg kept from the cafe and 1 kg from the school went into the one label
    assert [(s.donor, s.share) for s in made.sources] == [
        ("cafe", pytest.approx(0.75)),
        ("school", pytest.approx(0.25)),
    ]


def test_the_month_so_far_and_the_one_before(shop: Shop) -> None:
    march, february = figures(shop, AS_OF), figures(shop, AS_OF, 1)
    assert (march.in_kg, march.rejected_kg, march.kept_kg) == (8, 3.5, 4.5)
    assert list(march.why.items()) == [("wet", 2.0), ("brittle", 1.5)]
    assert (march.made_kg, march.pieces) == (1.8, 20)
    assert (february.first, february.until) == (dt.date(2026, 2, 1), dt.date(2026, 2, 28))
    assert (february.in_kg, february.why, february.pieces) == (10, {"wet": 1.0}, 0)


def test_months_before_january_are_last_years(shop: Shop) -> None:
    december = figures(shop, dt.date(2026, 2, 1), 2)
    assert (december.first, december.until) == (dt.date(2025, 12, 1), dt.date(2025, 12, 31))
