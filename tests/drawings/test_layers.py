"""What is laid over the plan: readable, where it belongs, told apart without colour."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, prepare

from generator.drawings import plan
from generator.drawings.atlas import Atlas
from generator.drawings.ink import (
    Circle,
    Drawing,
    Group,
    Item,
    Label,
    Line,
    Path,
    Pen,
    Polyline,
    Rect,
    Stamp,
    labels_of,
    to_svg,
)
from generator.drawings.ink import (
    Polygon as Outline,
)
from generator.drawings.layers import Laid, Paper, Worked, lay, spots
from generator.drawings.layers.carrying import hauls, width_of
from generator.drawings.layers.circuits import short_name
from generator.drawings.layers.clearing import Clearing, box_of
from generator.drawings.layers.found import place_of
from generator.drawings.manner import PHONE, WIDE
from generator.drawings.measures import metres
from generator.drawings.view import overlaps
from generator.ground.finding import Finding, Severity
from generator.ground.wording import PSEUDO, use
from generator.shop.shop import Shop
from generator.workings.check import Studies
from generator.workings.flow import Leg
from tests.drawings.reading import box_of as read_box
from tests.drawings.reading import overflowing
from tests.workings.rooms import moved

AS_OF = dt.date(2026, 11, 24)
SUBJECTS = ("floor", "power", "air", "met", "carried")
KEYS = {
    "floor": {"escape", "narrow", "walks", "sight", "gear"},
    "power": {"circuits"},
    "air": {"air"},
    "met": {"noise", "light", "hot"},
    "carried": {"carrying"},
}


@dataclass(frozen=True)
class Case:
    """One subject's plan with its layers, and what it was made from."""

    subject: str
    paper: Paper
    laid: Laid
    tags: dict[Finding, str]
    studies: Studies

    @property
    def drawing(self) -> Drawing:
        return self.laid.drawing

    def layer(self, key: str) -> Group:
        """A layer's shapes and its labels, which lie apart on the drawing."""
        name = f"layer layer-{key}"
        found = [i for i in self.drawing.items if isinstance(i, Group) and i.classes == name]
        assert len(found) == 2
        return Group((*found[0].items, *found[1].items), name)

    @property
    def laid_groups(self) -> list[Group]:
        """Every layer, and the pins."""
        return [
            i
            for i in self.drawing.items
            if isinstance(i, Group) and (i.classes.startswith("layer ") or i.classes == "pins")
        ]

    @property
    def words(self) -> set[str]:
        return {label.text for label in labels_of(self.laid_groups)}


class Desk:
    """A shop's studies and papers, made once for many cases."""

    def __init__(self, shop: Shop) -> None:
        self.studies = Studies(shop, AS_OF)
        atlas = Atlas(shop)
        self.papers = {
            "wide": Paper(plan.screen(atlas, WIDE, plan.WIDE_PX)),
            "phone": Paper(plan.screen(atlas, PHONE, plan.PHONE_PX)),
        }

    def case(self, subject: str, paper: str) -> Case:
        s = self.studies
        worked = {
            "floor": Worked(routes=s.routes),
            "power": Worked(power=s.power),
            "air": Worked(air=s.air),
            "met": Worked(noise=s.noise, light=s.light, touch=s.touch),
            "carried": Worked(flow=s.material.flow),
        }[subject]
        surveys = {
            "floor": (s.floor.survey, s.routes.survey),
            "power": (s.power.survey,),
            "air": (s.air.survey,),
            "met": (s.noise.survey, s.light.survey, s.touch.survey),
            "carried": (),
        }[subject]
        found = [f for v in surveys for f in v.findings if f.severity in ("stop", "fix")]
        found.sort(key=lambda f: f.severity is not Severity.STOP)
        placed = spots(s.shop, found, s.floor, s.routes)
        tags = {spot.finding: f"TAG {n}" for n, spot in enumerate(placed, 1)}
        laid = lay(self.papers[paper], worked, placed, tags)
        return Case(subject, self.papers[paper], laid, tags, s)


@pytest.fixture(scope="module")
def demo(demonstration: Atlas) -> Desk:
    return Desk(demonstration.shop)


@pytest.fixture(scope="module", params=[(s, p) for s in SUBJECTS for p in ("wide", "phone")],
                ids="-".join)  # fmt: skip
def case(request: pytest.FixtureRequest, demo: Desk) -> Case:
    return demo.case(*request.param)


@pytest.fixture(scope="module")
def closed(demonstration: Atlas) -> Desk:
    """The counter 400 mm nearer to the sorting table: 460 mm are left between them."""
    return Desk(moved(demonstration.shop, "hand-in-counter", -400, 0))


# --- readable ------------------------------------------------------------------------------------


def test_no_label_leaves_its_box_or_the_drawing(case: Case) -> None:
    assert overflowing(case.drawing) == []


def test_no_label_lands_on_a_number(case: Case) -> None:
    balloons = [each for each in case.paper.screen.placed if each.at]
    for label in labels_of(case.laid_groups):
        assert label.box
        x, y, width, height = label.box
        for each in balloons:
            assert each.at
            near = (min(max(each.at[0], x), x + width), min(max(each.at[1], y), y + height))
            assert math.dist(near, each.at) >= each.radius - 0.1, (label.text, each.balloon.number)


def test_no_label_lands_on_a_symbol_or_on_a_word_of_the_plan(case: Case) -> None:
    screen = case.paper.screen
    kept = [shown.box for shown in screen.placing.shown]
    kept += [read_box(label) for label in labels_of(screen.under)]
    for label in labels_of(case.laid_groups):
        assert label.box
        assert not any(overlaps(label.box, other) for other in kept), label.text


def test_no_label_lands_on_another_whatever_layers_are_on(case: Case) -> None:
    boxes = [(label.text, label.box) for label in labels_of(case.laid_groups)]
    for i, (text, one) in enumerate(boxes):
        for other_text, other in boxes[i + 1 :]:
            assert one and other
            shrunk = (one[0] + 0.1, one[1] + 0.1, one[2] - 0.2, one[3] - 0.2)
            assert not overlaps(shrunk, other), (text, other_text)


def test_no_type_is_too_small_to_read(case: Case) -> None:
    assert min(label.size for label in labels_of(case.laid_groups)) >= 12


def test_labels_stay_apart_in_a_longer_language(demonstration: Atlas) -> None:
    with use(PSEUDO):
        desk = Desk(demonstration.shop)
        for subject in SUBJECTS:
            assert overflowing(desk.case(subject, "wide").drawing) == []


def test_no_line_of_any_layer_runs_over_a_label(case: Case) -> None:
    laid = [group for group in case.laid_groups if group.classes != "pins"]
    shapes, labels = laid[: len(laid) // 2], laid[len(laid) // 2 :]
    assert [group.classes for group in shapes] == [group.classes for group in labels]
    assert not list(labels_of(shapes))
    for group in labels:
        assert all(list(labels_of([item])) for item in group.items)
    assert case.drawing.items[-1].classes == "balloons"  # type: ignore[union-attr]


# --- told apart ----------------------------------------------------------------------------------


def pens(items: tuple[Item, ...]) -> Iterator[Pen]:
    for item in items:
        if isinstance(item, Group):
            yield from pens(item.items)
        elif not isinstance(item, Stamp | Label):
            yield item.pen


def test_green_means_a_way_out_and_nothing_else(case: Case) -> None:
    groups = [case.layer(layer.key) for layer in case.laid.layers]
    for group in groups:
        inks = {ink for pen in pens(group.items) for ink in (pen.fill, pen.stroke)}
        inks |= {label.colour for label in labels_of([group])}
        green = inks & {"escape", "safety-green"}
        assert bool(green) == (group.classes == "layer layer-escape")


def test_the_layers_of_a_subject_are_all_there(case: Case) -> None:
    assert {layer.key for layer in case.laid.layers} == KEYS[case.subject]
    for layer in case.laid.layers:
        assert layer.items
        assert layer.keys
        assert set(map(id, case.layer(layer.key).items)) == set(map(id, layer.items))


def test_the_layers_are_named_to_whoever_does_not_see_them(case: Case) -> None:
    says = ", ".join(layer.title for layer in case.laid.layers)
    assert case.drawing.desc.endswith(f"Layers: {says}.")
    assert all(group.hidden for group in case.laid_groups)


def without_colour(item: Item) -> object:
    """What is left of a shape in greyscale: its form, its weight, its dash, dark or pale."""
    if isinstance(item, Line | Polyline | Path | Outline | Rect | Circle):
        pen = item.pen
        dark = pen.fill not in ("none", "sheet", "line")
        return type(item).__name__, pen.dash, round(pen.width, 1), dark, pen.round
    return type(item).__name__


def test_no_two_line_forms_of_a_plan_differ_by_colour_alone(demo: Desk) -> None:
    for subject in SUBJECTS:
        forms = [
            tuple(without_colour(item) for item in key.sample)
            for layer in demo.case(subject, "wide").laid.layers
            for key in layer.keys
            if layer.key not in ("light", "hot", "narrow")
        ]
        assert len(set(forms)) == len(forms)


def test_phases_are_told_by_the_edge(demo: Desk) -> None:
    keys = demo.case("power", "wide").laid.layers[0].keys
    edges = [without_colour(key.sample[0]) for key in keys[:-1]]
    assert len(edges) == len(set(edges)) == 4


# --- where it belongs ----------------------------------------------------------------------------


def test_every_width_that_is_too_small_is_drawn_with_its_tag(demo: Desk) -> None:
    for paper in ("wide", "phone"):
        case = demo.case("floor", paper)
        placed = spots(case.studies.shop, case.tags, case.studies.floor, case.studies.routes)
        measured = [spot for spot in placed if spot.measures]
        assert {spot.finding.rule for spot in measured} == {
            "floor.side-blocked",
            "floor.crush-gap",
        }
        for spot in measured:
            for measure in spot.measures:
                apart = math.dist(measure.start, measure.end)
                assert apart == pytest.approx(measure.left_mm)
                assert f"{measure.left_mm:.0f} left" in case.words
                assert f"needs {measure.needed_mm:.0f}" in case.words
            assert case.tags[spot.finding] in case.words
            assert any(f"{measure.left_mm:.0f}" in spot.finding.says for measure in spot.measures)


def test_every_finding_with_a_place_has_its_tag_on_the_plan(case: Case) -> None:
    assert set(case.tags.values()) <= case.words


def test_a_width_lies_where_it_was_measured(demo: Desk) -> None:
    case = demo.case("floor", "wide")
    view = case.paper.screen.view
    lines = [
        {round(c, 2) for point in (item.start, item.end) for c in point}
        for item in case.layer("narrow").items
        if isinstance(item, Line)
    ]
    placed = spots(case.studies.shop, case.tags, case.studies.floor, case.studies.routes)
    for measure in (m for spot in placed for m in spot.measures):
        ends = view.ring((measure.start, measure.end))
        assert {round(c, 2) for point in ends for c in point} in lines


def test_a_closed_walkway_is_drawn_with_what_is_left_and_needed(closed: Desk) -> None:
    for paper in ("wide", "phone"):
        case = closed.case("floor", paper)
        (stop,) = [f for f in case.tags if f.severity is Severity.STOP]
        assert stop.rule == "routes.walkway-closed"
        assert "station 1 (" in stop.says
        assert "station 2 (" in stop.says
        assert {"460 left", "needs 900", case.tags[stop]} <= case.words
        assert case.tags[stop] == "TAG 1"
        inks = {pen.stroke for pen in pens(case.layer("narrow").items)}
        assert "stop-text" in inks


def test_the_way_out_that_is_cut_off_is_drawn_as_one_that_does_not_hold(
    closed: Desk, demo: Desk
) -> None:
    def words(desk: Desk) -> list[str]:
        layers = {layer.key: layer for layer in desk.case("floor", "wide").laid.layers}
        return [key.words for key in layers["escape"].keys]

    assert "a way out that does not hold" in words(closed)
    assert "a way out that does not hold" not in words(demo)


def test_the_longest_ways_out_are_lettered_and_measured(demo: Desk) -> None:
    case = demo.case("floor", "wide")
    ways = case.studies.routes.escape.ways
    for door in case.studies.routes.ground.exits:
        end = f"room/doors/{door}"
        lengths = [w.exits[0].length_mm for w in ways if w.exits and w.exits[0].end_id == end]
        assert metres(max(lengths)) in case.words
    texts = {label.text for label in labels_of([case.layer("escape")])}
    assert {"a", "b", "c"} <= texts


def test_every_station_with_power_names_its_circuits(demo: Desk) -> None:
    for paper in ("wide", "phone"):
        case = demo.case("power", paper)
        for draw in case.studies.power.machines:
            name = short_name(draw.circuit)
            assert any(word.split()[0] == name for word in case.words), name


def rings(case: Case) -> list[str]:
    texts = [label.text for label in labels_of([case.layer("noise")])]
    return [text for text in texts if not text.startswith("TAG")]


def test_every_station_s_level_stands_on_the_wide_plan(demo: Desk) -> None:
    case = demo.case("met", "wide")
    levels = sorted(place.low_db for place in case.studies.noise.stations)
    shown = sorted(int(text) for text in rings(case))
    assert len(shown) == len(levels)
    for text, level in zip(shown, levels, strict=True):
        assert text == pytest.approx(level, abs=1)
        assert (text >= 85) == (level >= 85)
        assert (text >= 80) == (level >= 80)


def test_a_phone_leaves_out_quiet_places_before_loud_ones(demo: Desk) -> None:
    case = demo.case("met", "phone")
    loud = [p for p in case.studies.noise.stations if p.low_db >= 85]
    assert sum(int(text) >= 85 for text in rings(case)) == len(loud) == 6


def test_hoods_tell_what_they_draw_of_what_they_need(demo: Desk) -> None:
    case = demo.case("air", "wide")
    for hood in case.studies.air.hoods.hoods:
        if hood.outside and hood.has_m3h is not None:
            words = f"{hood.has_m3h:.0f} of {hood.need_m3h:.0f}"
            assert any(word.startswith(words) for word in case.words)


def test_what_is_not_seen_is_all_of_the_room_that_is_not_in_sight(demo: Desk) -> None:
    case = demo.case("floor", "wide")
    view, routes = case.paper.screen.view, case.studies.routes
    areas = [i for i in case.layer("sight").items if isinstance(i, Outline)]
    drawn = sum(Polygon(area.points).area for area in areas) / view.scale**2
    room = Polygon(case.studies.shop.room.outline)
    hidden = room.area - sum(look.together.area for look in routes.watched.outlooks)
    assert drawn == pytest.approx(hidden, rel=0.02)


@pytest.mark.parametrize(
    ("subject", "there"),
    [
        ("stations/platen-press", True),
        ("machines/platen-press", True),
        ("room/doors/yard-door", True),
        ("room/fans/hot-fan", True),
        ("room/supply", True),
        ("room", False),
        ("sessions/anything", False),
        ("", False),
    ],
)
def test_a_record_stands_somewhere_or_nowhere(
    demonstration: Atlas, subject: str, there: bool
) -> None:
    assert (place_of(demonstration.shop, subject) is not None) is there


def test_the_same_shop_is_drawn_the_same(demonstration: Atlas) -> None:
    one, other = Desk(demonstration.shop), Desk(demonstration.shop)
    for subject in SUBJECTS:
        for paper in ("wide", "phone"):
            first, second = (desk.case(subject, paper).drawing for desk in (one, other))
            assert to_svg(first) == to_svg(second)


def test_a_shop_with_nothing_in_it_bears_no_layer_it_has_nothing_for(smallest: Atlas) -> None:
    desk = Desk(smallest.shop)
    assert {layer.key for layer in desk.case("floor", "wide").laid.layers} <= {"escape", "narrow"}
    assert desk.case("air", "wide").laid.layers == ()
    assert overflowing(desk.case("floor", "phone").drawing) == []


# --- where labels find room ----------------------------------------------------------------------

SIZES = st.tuples(st.floats(10, 90), st.floats(8, 40))
SPOTS = st.tuples(st.floats(0, 300), st.floats(0, 200))


@given(st.lists(st.tuples(SIZES, SPOTS), max_size=25))
@settings(max_examples=60)
def test_no_two_labels_share_a_place_and_none_leaves_the_drawing(
    wanted: list[tuple[tuple[float, float], tuple[float, float]]],
) -> None:
    floor, walls = box(0, 0, 300, 200), box(140, 0, 150, 120)
    prepare([floor, walls])
    clearing = Clearing((0, 0, 300, 200), [(40, 40, 30, 30)], walls, [], floor)
    given_ = [b for size, spot in wanted if (b := clearing.take(size, [spot]))]
    for i, one in enumerate(given_):
        assert one[0] >= 0 and one[1] >= 0
        assert one[0] + one[2] <= 300 and one[1] + one[3] <= 200
        assert not overlaps(one, (40, 40, 30, 30))
        assert not box(one[0], one[1], one[0] + one[2], one[1] + one[3]).intersects(walls)
        assert not any(overlaps(one, other) for other in given_[i + 1 :])


@given(st.floats(-180, 180), st.sampled_from(["start", "middle", "end"]), st.booleans())
def test_a_label_s_box_is_what_a_reader_measures(turn: float, anchor: str, bold: bool) -> None:
    label = Label(50, 60, "860 left", 12, bold, anchor, turn=turn)
    assert box_of(label) == pytest.approx(read_box(label))


# --- carrying ------------------------------------------------------------------------------------


def test_legs_between_the_same_stations_are_one_and_their_widths_keep_the_proportion() -> None:
    """By hand: 30 and 10 kg·m one way make 40, half of 80; what is unknown stays thin."""
    line, other = ((0.0, 0.0), (1000.0, 0.0)), ((0.0, 0.0), (0.0, 500.0))
    legs = [
        carried("a", "b", 30.0, line), carried("a", "b", 10.0, line),
        carried("b", "c", 160.0, other), carried("c", "d", None, other),
    ]  # fmt: skip
    found = hauls(legs)
    assert [haul.kgm for haul in found] == [80.0, 40.0, None]
    widths = [width_of(haul.kgm, 80.0) for haul in found]
    assert widths[0] == 2 * widths[1]
    assert widths[2] == min(widths)


def carried(start: str, end: str, kg: float | None, line: tuple[tuple[float, float], ...]) -> Leg:
    way = sum(math.dist(a, b) for a, b in pairwise(line))
    return Leg(start, end, "flake", "", kg, None, way, line, "walked")
