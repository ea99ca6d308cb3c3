"""The trail of one batch: who feeds whom, from the scale at the door down to the label."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.drawings import type
from generator.drawings.column import lines
from generator.drawings.ink import Drawing, Item, Line, Pen, Point, Polygon, Rect
from generator.drawings.marks import mark_shapes
from generator.ground.wording import N_, _
from generator.shop.records.logs import Batch
from generator.shop.shop import Shop
from generator.workings.trail import History, Trail

_SIZE, _SMALL = 13.0, 12.5
_MOST = 470.0
"""What does not fit in a row as wide as this goes into a row of its own [px]."""
_HIGH, _BETWEEN, _APART = 42.0, 34.0, 12.0
_CHIP = 22.0
STEPS: Mapping[str, str] = {
    "as donated": N_("as donated"),
    "quarantine": N_("in quarantine"),
    "sorted": N_("sorted"),
    "washed": N_("washed"),
    "flake": N_("flake"),
    "blend": N_("blend"),
    "product": N_("product"),
    "purgings": N_("purgings"),
    "refuse": N_("refuse"),
}
"""What a batch went through last, in the order in which material goes."""
_RANKS = tuple(STEPS)


@dataclass(frozen=True, slots=True)
class Node:
    """A label or a source: its two lines, its polymer's code, and its row from the top."""

    key: str
    name: str
    small: str
    code: str
    rank: int

    @property
    def width(self) -> float:
        wide = max(type.width(self.name, _SIZE, True), type.width(self.small, _SMALL))
        return wide + 18 + (_CHIP if self.code else 0.0)


@dataclass(frozen=True, slots=True)
class Link:
    """So much of ``end`` [-] came from ``start``; None where the log does not settle it."""

    start: str
    end: str
    share: float | None


def draw(shop: Shop, trail: Trail, label: str) -> Drawing:
    """The trail of a batch, its sources at the top and itself at the foot.

    Raises KeyError for a label that is not in the log.
    """
    history = trail.back(label)
    links = tuple(_links(trail, history))
    nodes = {node.key: node for node in _nodes(shop, history)}
    rows = _rows(nodes, links)
    width = max(sum(nodes[k].width + _APART for k in row) for row in rows) + 2
    at = _places(nodes, rows, width)
    boxes = [item for key in at for item in _box(nodes[key], at[key])]
    items = [*_drawn_links(nodes, links, at), *boxes, *_shares(nodes, links, at)]
    height = len(rows) * (_HIGH + _BETWEEN) - _BETWEEN + 4
    title = _("What is in {label}").format(label=label)
    return Drawing(width, height, tuple(items), title, _says(nodes, links))


def _says(nodes: Mapping[str, Node], links: Iterable[Link]) -> str:
    """The trail in words, for whoever does not see it."""
    told = [
        _("{end} was made from {start}").format(end=nodes[x.end].name, start=nodes[x.start].name)
        for x in links
    ]
    return "; ".join(told) + "." if told else _("The log says nothing of what it was made from.")


# --- what is in it -----------------------------------------------------------------------------


def _nodes(shop: Shop, history: History) -> Iterator[Node]:
    for brought in history.brought:
        name = type.shorten(str(shop.donors[brought.donor].name), _SIZE, 150, True)
        days = sorted({row.date.isoformat() for row in brought.weigh_ins})
        small = days[0] if len(days) == 1 else f"{days[0]} \u2013 {days[-1]}"
        yield Node(f"donor {brought.donor}", name, small, "", -1)
    for batch in (history.batch, *(held.batch for held in history.held)):
        yield _node(shop, batch)


def _node(shop: Shop, batch: Batch) -> Node:
    rank = _RANKS.index(batch.step)
    words = _("{step} {kg}").format(step=_(STEPS[batch.step]), kg=f"{batch.kg:.1f}\u202fkg")
    code = shop.polymers[batch.polymer].code if batch.polymer else ""
    return Node(batch.batch, batch.batch, words, code, rank)


def _links(trail: Trail, history: History) -> Iterator[Link]:
    for batch in (history.batch, *(held.batch for held in history.held)):
        for parent in trail.made_from(batch.batch):
            yield Link(parent.batch, batch.batch, trail.share(batch, parent))
        for donor in dict.fromkeys(row.donor for row in trail.weighed(batch.batch)):
            yield Link(f"donor {donor}", batch.batch, None if _shared(trail, batch) else 1.0)


def _shared(trail: Trail, batch: Batch) -> bool:
    """Whether several sources went into one label."""
    return len({row.donor for row in trail.weighed(batch.batch)}) > 1


# --- where it lies -----------------------------------------------------------------------------


def _rows(nodes: Mapping[str, Node], links: Iterable[Link]) -> list[list[str]]:
    """Rows from the top; in each, what feeds the left of the next row stands left."""
    by_rank: dict[int, list[str]] = defaultdict(list)
    for key, node in nodes.items():
        by_rank[node.rank].append(key)
    feeds: dict[str, list[str]] = defaultdict(list)
    for link in links:
        feeds[link.start].append(link.end)
    place: dict[str, float] = {}
    rows: list[list[str]] = []
    for rank in sorted(by_rank, reverse=True):
        keys = sorted(by_rank[rank], key=lambda k: _middle(place, feeds[k]))
        place.update({key: float(n) for n, key in enumerate(keys)})
        rows = [*_broken(nodes, keys), *rows]
    return rows


def _middle(place: Mapping[str, float], keys: list[str]) -> float:
    known = [place[key] for key in keys if key in place]
    return sum(known) / len(known) if known else 0.0


def _broken(nodes: Mapping[str, Node], keys: list[str]) -> list[list[str]]:
    """A row in as many rows as it takes to be no wider than a phone."""
    rows: list[list[str]] = [[]]
    for key in keys:
        taken = sum(nodes[k].width + _APART for k in rows[-1])
        if rows[-1] and taken + nodes[key].width > _MOST:
            rows.append([])
        rows[-1].append(key)
    return rows


def _places(
    nodes: Mapping[str, Node], rows: list[list[str]], width: float
) -> dict[str, Point]:  # fmt: skip
    """The top left corner of every box, each row in the middle."""
    at = {}
    for number, row in enumerate(rows):
        x = (width - sum(nodes[k].width + _APART for k in row) + _APART) / 2
        for key in row:
            at[key] = (x, 2 + number * (_HIGH + _BETWEEN))
            x += nodes[key].width + _APART
    return at


# --- ink ---------------------------------------------------------------------------------------


def _box(node: Node, at: Point) -> Iterator[Item]:
    x, y = at
    chip = _CHIP if node.code else 0.0
    yield Rect(x, y, node.width, _HIGH, Pen("sheet", "ink", 1.4))
    if chip:
        yield from mark_shapes(node.code, (x, y, chip, _HIGH), 2.4, frame=1.4)
    room = node.width - 12 - chip
    yield from lines((node.name,), (x + chip + 6, y + 4), room, _SIZE, bold=True)
    yield from lines((node.small,), (x + chip + 6, y + 21), room, _SMALL, colour="ink-soft")


def _drawn_links(
    nodes: Mapping[str, Node], links: Iterable[Link], at: Mapping[str, Point]
) -> Iterator[Item]:
    for link in links:
        start, end = _foot(nodes, at, link.start), _head(nodes, at, link.end)
        yield Line(start, (end[0], end[1] - 5), Pen(stroke="ink", width=1.5))
        tip = ((end[0] - 4, end[1] - 7), (end[0] + 4, end[1] - 7), end)
        yield Polygon(tip, Pen("ink"))


def _shares(
    nodes: Mapping[str, Node], links: Iterable[Link], at: Mapping[str, Point]
) -> Iterator[Item]:
    for link in links:
        yield from _share(link, _foot(nodes, at, link.start), _head(nodes, at, link.end))


def _foot(nodes: Mapping[str, Node], at: Mapping[str, Point], key: str) -> Point:
    x, y = at[key]
    return x + nodes[key].width / 2, y + _HIGH


def _head(nodes: Mapping[str, Node], at: Mapping[str, Point], key: str) -> Point:
    x, y = at[key]
    return x + nodes[key].width / 2, y


def _share(link: Link, start: Point, end: Point) -> Iterator[Item]:
    """A link's share on it; nothing where it is all of it, a question where nobody knows."""
    if link.share is not None and link.share > 0.995:
        return
    words = "?" if link.share is None else f"{100 * link.share:.0f}\u202f%"
    width = type.width(words, _SMALL) + 6
    x, y = start[0] + 0.3 * (end[0] - start[0]), start[1] + 0.3 * (end[1] - start[1])
    yield Rect(x - width / 2, y - 8, width, 16, Pen("sheet"))
    yield from lines((words,), (x - width / 2, y - 8), width, _SMALL, anchor="middle")
