"""The shop's facts in hand-written pages."""

from __future__ import annotations

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.handbook.facts import fill
from generator.shop.shop import Shop
from tests.small import shop_with

ROLES = """
keeper:
  name: "Keeper of *keys* & <b>tools</b> #1"
  does: Opens and locks up
  least_age: 18 years
"""
POLYMERS = """
pp: {code: PP, name: Polypropylene, status: taken, own: {drying_at: 80 °C}}
white-pipe: {code: PVC, name: White pipe, status: refused, why: Acid, own: {drying_at: 70 °C}}
"""


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return shop_with(tmp_path_factory.mktemp("shop"), roles=ROLES, polymers=POLYMERS)


@pytest.mark.parametrize(
    ("way", "shown"),
    [
        ("room.ceiling", "2800\u202fmm"),
        ("machines.granulator.name", "Granulator"),
        ("machines.granulator.electric.power", "2.2\u202fkW"),
        ("machines.granulator.heat", "not recorded"),
        ("shop.languages", "en"),
        ("shop.most_people", "8"),
        ("stations.cutting.ppe", "M003, M004"),
        ("room.doors.green-door.exit", "yes"),
        ("polymers.pp.own.drying_at", "80\u202f°C"),
    ],
)
def test_a_way_leads_to_its_fact(shop: Shop, way: str, shown: str) -> None:
    filled = fill(f"It is [={way}].", shop, "page.md")
    assert filled.faults == ()
    assert filled.markdown == f"It is {shown}."


def test_no_mark_in_a_fact_is_read_as_markup(shop: Shop) -> None:
    filled = fill("By [=roles.keeper.name].", shop, "page.md")
    html = markdown.markdown(filled.markdown)
    assert html == "<p>By Keeper of &#42;keys&#42; &#38; &#60;b&#62;tools&#60;/b&#62; &#35;1.</p>"


def test_a_figure_for_heating_what_is_never_heated_is_refused(shop: Shop) -> None:
    filled = fill("Dry at [=polymers.white-pipe.own.drying_at].", shop, "page.md")
    assert "70" not in filled.markdown
    assert "PVC" in filled.markdown
    assert filled.faults == ()


@pytest.mark.parametrize(
    ("way", "mend"),
    [
        ("room.celing", "`ceiling`"),
        ("rom.ceiling", "`room`"),
        ("machines.granulater.name", "`granulator`"),
        ("machines.granulator", "`machines.granulator.name`"),
        ("machines", "`machines.granulator`"),
        ("stations.cutting.working_sides", ""),
        ("hours.weekly", ""),
        ("shop.name.length", ""),
        ("room.ceiling.", ""),
        ("__class__", ""),
        ("shop.model_config", ""),
    ],
)
def test_a_way_that_leads_nowhere_is_a_fault_at_its_place(shop: Shop, way: str, mend: str) -> None:
    filled = fill(f"# Title\n\nIt is [={way}].", shop, "notes/page.md")
    (fault,) = filled.faults
    assert str(fault.origin) == "notes/page.md:3:7"
    assert f"`{way}`" in fault.says
    assert mend in fault.mend
    assert fault.example == "[=room.ceiling]"


@pytest.mark.parametrize(
    ("written", "says", "mend"),
    [
        ("[=machines.granulator]", "is a group", "Name one of: `machines.granulator.name`"),
        ("[=stations.cutting.working_sides]", "is a group", "items of a list cannot be named"),
        ("[=]", "names no fact", "backticks"),
        ("[= ]", "names no fact", "backticks"),
        ("[=room.ceiling and on\n]", "not closed", "backticks"),
        ("[=room.ceiling", "not closed", "backticks"),
    ],
)
def test_a_group_and_an_unfinished_fact_say_so(
    shop: Shop, written: str, says: str, mend: str
) -> None:
    (fault,) = fill(written, shop, "page.md").faults
    assert says in fault.says
    assert mend in fault.mend


@pytest.mark.parametrize("code", ["`[=room.ceiling]`", "``[=] ` [=``", "`[=`"])
def test_between_backticks_a_fact_is_left_as_written(shop: Shop, code: str) -> None:
    filled = fill(f"Write {code}, [=room.ceiling].", shop, "page.md")
    assert filled.faults == ()
    assert filled.markdown == f"Write {code}, 2800\u202fmm."


def test_fenced_code_shows_the_syntax_itself(shop: Shop) -> None:
    page = "```\n[=room.ceiling]\n```\n"
    assert fill(page, shop, "page.md").markdown == page


@given(st.text(alphabet="[=]. \nabroom.ceiling`~#", max_size=60))
def test_any_page_can_be_filled(shop: Shop, page: str) -> None:
    filled = fill(page, shop, "page.md")
    assert filled.faults or filled.markdown.count("\n") == page.count("\n")
