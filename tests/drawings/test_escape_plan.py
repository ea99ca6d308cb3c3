"""The escape plan against ISO 23601: sizes, lines, colours, and up is ahead of its reader."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import shapely
from shapely import LineString, Polygon

from generator.drawings import escape_plan
from generator.drawings.atlas import Atlas
from generator.drawings.escape_plan import ROUTE, Brief
from generator.drawings.foot import Foot
from generator.drawings.ink import (
    Circle,
    Drawing,
    Group,
    Item,
    Polyline,
    Rect,
    Stamp,
    labels_of,
    paper_colour,
    to_svg,
)
from generator.drawings.ink import (
    Path as Outline,
)
from generator.drawings.ink import Polygon as Area
from generator.drawings.turned import Turned
from generator.ground.paper import A2, A3
from generator.ground.wording import PSEUDO, use
from generator.reference import reference
from generator.shop.load import load_shop
from generator.workings.check import Studies
from generator.workings.footprint import footprint
from generator.workings.routes import Journey
from generator.workings.signage import EscapePlanPlace
from tests.drawings.reading import box_of, outside, overflowing, overlapping

SHOP = load_shop(Path(__file__).parents[2] / "content" / "shop").shop
assert SHOP is not None
STUDIES = Studies(SHOP, dt.date(2026, 11, 24))
ATLAS = Atlas(SHOP)
PLANS = STUDIES.signage.plans
WAYS: tuple[Journey, ...] = tuple(w.exits[0] for w in STUDIES.routes.escape.ways if w.exits)
FOOT = Foot("Malt Hall Plastics Shop", "EP-street-door", "2026-11-24", "7c1e94b05fd2aa16c0ff")
REF = reference()


def drawn(plan: EscapePlanPlace, *, draft: bool = True, language: str = "en") -> Drawing:
    with use(language):
        return escape_plan.draw(ATLAS, Brief(plan, WAYS, A3, draft, "Not yet."), FOOT)


def flat(items: tuple[Item, ...]) -> Iterator[Item]:
    for item in items:
        yield from flat(item.items) if isinstance(item, Group) else (item,)


each_plan = pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.id)


def test_there_is_one_by_each_exit_and_one_where_the_way_is_longest() -> None:
    assert len(PLANS) == 3
    assert {"street-door", "yard-door"} <= {plan.id for plan in PLANS}
    lengths = {w.start_id.split("/")[1]: w.length_mm for w in WAYS}
    assert PLANS[-1].id == max(lengths, key=lambda id_: lengths[id_])


@each_plan
@pytest.mark.parametrize("language", ["en", PSEUDO])
def test_every_word_has_its_room(plan: EscapePlanPlace, language: str) -> None:
    drawing = drawn(plan, language=language)
    labels = list(labels_of(drawing.items))
    assert overflowing(drawing) == []
    assert overlapping([(label.text, box_of(label)) for label in labels]) == []
    frame = (8.0, 8.0, drawing.width - 16, drawing.height - 16)
    assert not [label.text for label in labels if outside(box_of(label), frame)]


@each_plan
def test_words_are_upright_and_high_enough(plan: EscapePlanPlace) -> None:
    """Capitals and the height of an x of at least 2 mm: the type's x is 0.496 em."""
    for label in labels_of(drawn(plan).items):
        assert label.turn == 0
        assert label.size * 0.496 >= REF.limit("escape-plan-text").low


@each_plan
def test_symbols_lines_and_shares_are_the_standards(plan: EscapePlanPlace) -> None:
    drawing = drawn(plan)
    assert {drawing.width, drawing.height} == {420.0, 297.0}
    stamps = [item for item in flat(drawing.items) if isinstance(item, Stamp)]
    assert min(stamp.size for stamp in stamps) * 0.96 >= REF.limit("escape-plan-symbol").low
    pens = [i.pen for i in flat(drawing.items) if isinstance(i, Area) and i.pen.fill == "ink"]
    walls = [pen.width for pen in pens if pen.width]
    assert max(walls) == REF.limit("escape-plan-wall").low
    assert min(walls) == REF.limit("escape-plan-wall-inner").low
    header = next(i for i in flat(drawing.items) if isinstance(i, Rect)
                  and i.pen.fill == "safety-green" and i.width > 300)  # fmt: skip
    assert header.height / drawing.height >= REF.limit("escape-plan-header").low / 100
    overview = escape_plan._OVERVIEW * escape_plan._OVERVIEW_HIGH
    most = REF.limit("escape-plan-overview").low / 100
    assert overview / (drawing.width * drawing.height) <= most


@each_plan
def test_up_is_ahead_of_the_reader(plan: EscapePlanPlace) -> None:
    """The wall it hangs on is above the reader on the sheet, straight."""
    view = Turned(0.02, 100.0, 100.0, plan.turn_deg)
    here, wall = view.at(plan.reader), view.at(plan.spot.at)
    assert wall[0] == pytest.approx(here[0], abs=0.01)
    assert wall[1] < here[1] - 5
    dot = next(i for i in flat(drawn(plan).items) if isinstance(i, Circle) and i.radius == 4.0)
    assert dot.pen.stroke == "safety-blue"


@pytest.mark.parametrize("turn", [0.0, 37.0, 90.0, 180.0, 270.0])
def test_turning_keeps_distances_and_goes_back(turn: float) -> None:
    view = Turned(0.05, 12.0, 90.0, turn)
    a, b = (1200.0, 340.0), (-77.0, 5000.0)
    assert math.dist(view.at(a), view.at(b)) == pytest.approx(math.dist(a, b) * 0.05)
    assert view.floor(view.at(a)) == pytest.approx(a)


@each_plan
def test_it_is_drawn_to_the_scale_it_tells(plan: EscapePlanPlace) -> None:
    drawing = drawn(plan)
    told = next(la.text for la in labels_of(drawing.items) if la.text.startswith("1:"))
    divisor = int(told.split()[0].removeprefix("1:"))
    assert divisor <= REF.limit("escape-plan-scale").low
    pale = [i for i in flat(drawing.items) if isinstance(i, Area) and i.pen.fill == "#eef0ef"]
    first = SHOP.stations_by_number[0]  # type: ignore[union-attr]
    on_paper = sorted(math.dist(*pair) for pair in pairwise(pale[0].points))
    ring = footprint(first)
    on_floor = sorted(math.dist(*pair) for pair in pairwise(ring))
    assert [length * divisor for length in on_paper] == pytest.approx(on_floor)


@each_plan
def test_the_ways_cross_nothing_and_lead_out(plan: EscapePlanPlace) -> None:
    drawing = drawn(plan)
    bands = [i for i in flat(drawing.items) if isinstance(i, Polyline) and i.pen.stroke == ROUTE]
    own = [LineString(b.points) for b in bands if b.pen.width == escape_plan._BAND]
    assert len(own) == 2
    stood_on = shapely.union_all(
        [Polygon(i.points) for i in flat(drawing.items)
         if isinstance(i, Area) and i.pen.fill == "#eef0ef"]
    )  # fmt: skip
    assert all(line.intersection(stood_on).length < 8.5 for line in own)  # the reader's own step
    assert [w.end_id for w in plan.ways] == sorted(
        (w.end_id for w in plan.ways), key=lambda id_: next(
            w.length_mm for w in plan.ways if w.end_id == id_)
    )  # fmt: skip


@each_plan
def test_no_symbol_lies_on_another(plan: EscapePlanPlace) -> None:
    stamps = [i for i in flat(drawn(plan).items) if isinstance(i, Stamp)]
    boxes = [(f"{n} {s.symbol.name}", (s.x, s.y, s.size, s.size)) for n, s in enumerate(stamps)]
    assert overlapping(boxes) == []


@each_plan
def test_draft_lies_across_it_until_it_is_signed(plan: EscapePlanPlace) -> None:
    across = [i for i in flat(drawn(plan).items) if isinstance(i, Outline) and len(i.data) > 400]
    assert len(across) == 1
    signed = drawn(plan, draft=False)
    assert not [i for i in flat(signed.items) if isinstance(i, Outline) and len(i.data) > 400]
    words = [la.text for la in labels_of(signed.items)]
    assert "DRAFT" not in words
    assert "Signed off" in words


def test_it_says_what_it_must() -> None:
    words = " ".join(la.text for la in labels_of(drawn(PLANS[0]).items))
    for said in ("You are here", "assembly point", "112", "2026-11-24", "1:75 on A3"):
        assert said in words


def test_the_sheet_parses_and_is_white() -> None:
    root = ET.fromstring(to_svg(drawn(PLANS[0]), colours=paper_colour))
    assert root.attrib["width"] == "420mm"
    ground = next(e for e in root.iter() if e.tag.endswith("rect"))
    assert ground.attrib["fill"] == "#ffffff"


def test_a_larger_sheet_has_a_larger_scale() -> None:
    plan = PLANS[0]
    small, large = (escape_plan.scale_of(ATLAS, plan, paper) for paper in (A3, A2))
    assert small is not None
    assert large is not None
    assert large < small
