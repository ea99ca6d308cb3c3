"""The plan on a subject's page: layers to switch, the key to them, and what is found on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings.ink import shapes_svg, web_colour
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers import Layer, Spot, Worked, spots
from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.words import word
from generator.shop.records.stations import Station

_DRAWN = (Severity.STOP, Severity.FIX)
"""Questions and notes stay in the list: a plan full of them would hide what to mend."""


@dataclass(frozen=True, slots=True)
class Switch:
    """A layer's switch: its name for the page, its word, its sample, whether it is on at first."""

    key: str
    title: str
    sample: Markup
    on: bool


@dataclass(frozen=True, slots=True)
class KeyLine:
    """A line of the key, shown with its layer."""

    layer: str
    sample: Markup
    words: str


@dataclass(frozen=True, slots=True)
class Found:
    """A finding that is drawn, with the tag it bears there."""

    tag: str
    finding: Finding


_BESIDE = 7
"""So many findings stand beside the plan; the others follow under it with their tags."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A plan with layers, drawn for a wide screen and again for a phone.

    ``found`` are the findings listed beside it, ``tags`` those of all that are drawn on it.
    """

    wide: Markup
    phone: Markup
    switches: tuple[Switch, ...]
    keys: tuple[KeyLine, ...]
    found: tuple[Found, ...]
    tags: Mapping[Finding, str]
    stations: tuple[Station, ...]


def figure(desk: Desk, path: str, worked: Worked, findings: Sequence[Finding]) -> Figure:
    """The plan with some layers, for the page at ``path``.

    Parameters
    ----------
    desk
        The shop and what follows from it.
    path
        The page.
    worked
        The studies whose layers it bears.
    findings
        What was found, the worst first; what has a place on the plan is drawn there.
    """
    placed = _placed(desk, worked, findings)
    tags = numbered(spot.finding for spot in placed)
    laid = desk.plans.layered(path, worked, placed, tags)
    hidden = {layer.key for layer in laid.layers if not layer.on}
    beside = [spot.finding for spot in placed if spot.layer not in hidden][:_BESIDE]
    return Figure(
        laid.wide,
        laid.phone,
        tuple(_switch(layer) for layer in laid.layers),
        tuple(_key_lines(laid.layers)),
        tuple(Found(tags[finding], finding) for finding in beside),
        tags,
        desk.shop.stations_by_number,
    )


def _placed(desk: Desk, worked: Worked, findings: Sequence[Finding]) -> list[Spot]:
    """What has a place, in the order it is numbered: the worst, then measured widths, then what
    is shown at first."""
    to_mend = [finding for finding in findings if finding.severity in _DRAWN]
    routes = worked.routes
    placed = spots(desk.shop, to_mend, desk.studies.floor if routes else None, routes)
    ordered = sorted(
        placed,
        key=lambda s: (_DRAWN.index(s.finding.severity), not s.measures, s.layer in _SHOWN_LATER),
    )
    return ordered[:_MOST]


_MOST = 20
"""So many findings are drawn: more tags than this find no room near their places."""

_SHOWN_LATER = frozenset({"light", "hot"})


def numbered(findings: Iterable[Finding]) -> dict[Finding, str]:
    """A tag for each finding: its severity's word and a number (``FIX 1``)."""
    count: Counter[Severity] = Counter()
    tags = {}
    for finding in findings:
        count[finding.severity] += 1
        tags[finding] = _("{word} {n}").format(
            word=word(finding.severity).upper(), n=count[finding.severity]
        )
    return tags


def _switch(layer: Layer) -> Switch:
    return Switch(layer.key, layer.title, key_svg(layer.keys[0]), layer.on)


def _key_lines(layers: Iterable[Layer]) -> Iterator[KeyLine]:
    for layer in layers:
        for key in layer.keys:
            yield KeyLine(layer.key, key_svg(key), key.words)


def key_svg(key: Key) -> Markup:
    """A sample of a line form, silent to screen readers: its words stand beside it."""
    width, height = SAMPLE
    return Markup(
        f'<svg class="key" width="{width:g}" height="{height:g}"'
        f' viewBox="0 0 {width:g} {height:g}" aria-hidden="true">'
        f"{shapes_svg(key.sample, web_colour)}</svg>"
    )
