"""The way into a role and its questions, on a small shop worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.onboarding import path_to, roles_before
from tests.building import CONTENT
from tests.small import shop_with

VISIT = "{{title: {title}, {rest} signs_off: inducted, takes: 60 min}}"


def visit(title: str, rest: str = "") -> str:
    return VISIT.format(title=title, rest=rest)


ROLES = f"""
keeper:
  name: Keeper
  does: Opens
  least_age: 18 years
  after: [cutter, helper]
  visits: [{visit("Keys")}]
helper: {{name: Helper, does: Helps, least_age: 16 years, visits: [{visit("Door")}]}}
cutter:
  name: Cutter
  does: Cuts
  least_age: 18 years
  after: [helper]
  needs: [{{machine: granulator, level: authorised}}]
  visits:
    - {visit("Beside", "read: [cut], shown: [The rotor], do: [Hang a lock, Count],")}
    - {visit("Alone")}
"""
PROCEDURES = """
cut:
  name: Cut
  kind: run
  machines: [granulator]
  level: authorised
  takes: 20 min
  done_when: Done
  steps:
    - {do: Look in, key_point: With a lamp, reason: Somebody may have left a tool}
"""
MACHINES = """
granulator: {name: Granulator, kind: granulator, station: cutting, run_down: 9 s}
"""


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return shop_with(tmp_path, roles=ROLES, procedures=PROCEDURES, machines=MACHINES)


def test_roles_come_after_all_that_come_before_them_and_each_once(shop: Shop) -> None:
    assert [r.id for r in roles_before(shop, shop.roles["keeper"])] == [
        "helper",
        "cutter",
        "keeper",
    ]
    assert [r.id for r in roles_before(shop, shop.roles["helper"])] == ["helper"]


def test_visits_are_counted_along_the_whole_way(shop: Shop) -> None:
    steps = path_to(shop, shop.roles["keeper"])
    assert [(s.number, s.role.id, s.of_role, str(s.visit.title)) for s in steps] == [
        (1, "helper", 1, "Door"),
        (2, "cutter", 1, "Beside"),
        (3, "cutter", 2, "Alone"),
        (4, "keeper", 1, "Keys"),
    ]
    assert [(t.id, t.what) for t in steps[1].tasks] == [
        ("cutter.1.read.cut", "Cut"),
        ("cutter.1.shown.1", "The rotor"),
        ("cutter.1.do.1", "Hang a lock"),
        ("cutter.1.do.2", "Count"),
    ]


def test_what_is_ticked_on_one_way_counts_on_another(shop: Shop) -> None:
    short = path_to(shop, shop.roles["cutter"])
    long = path_to(shop, shop.roles["keeper"])
    ids = {t.id for s in short for t in s.tasks}
    assert ids
    assert ids <= {t.id for s in long for t in s.tasks}


def test_the_answers_are_the_shops_own(shop: Shop) -> None:
    asked = {q.about: q for s in path_to(shop, shop.roles["keeper"]) for q in s.questions}
    known = {
        "run-down": "9 s",
        "alone": "Authorised",
        "worn": "Wear ear protection",
        "reason": "Somebody may have left a tool.",
        "assembly": "The sluice rail, 30 m away",
    }
    told = {about: q.answer for about, q in asked.items() if about in known}
    assert len(told) >= 3
    for about, answer in told.items():
        assert known[about].replace(" ", "") in answer.replace("\u202f", "").replace(" ", ""), about


@pytest.fixture(scope="module")
def demonstration() -> Shop:
    loaded = load_shop(CONTENT / "shop")
    assert loaded.shop is not None
    return loaded.shop


def test_every_visit_of_the_demonstration_asks_three_things_of_three_kinds(
    demonstration: Shop,
) -> None:
    for role in demonstration.roles.values():
        steps = path_to(demonstration, role)
        assert steps == path_to(demonstration, role)
        asked = [q.ask for step in steps for q in step.questions]
        assert len(asked) == len(set(asked)) == 3 * len(steps), role.id
        assert all(len({q.about for q in s.questions}) == 3 for s in steps)
        assert all(q.answer for s in steps for q in s.questions)
