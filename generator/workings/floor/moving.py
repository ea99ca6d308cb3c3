"""Gaps that close when something moves: between a moving part and what stands beyond it.

A gap must be wide enough for the part of the body that can get into it (ISO 13854), or be
guarded; what cannot crush a body crushes no smaller part.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.shop.records.machines import Machine, Moves
from generator.workings.figures import Figure, figure
from generator.workings.floor.ahead import Ahead, Face, look_ahead
from generator.workings.floor.lengths import falls_short, mm, whole_mm
from generator.workings.floor.sides import face_of
from generator.workings.floor.standing import TOUCHING_MM, Standing, points_of
from generator.workings.footprint import Ring
from generator.workings.part import Part
from generator.workings.shown import own

_BODY_PARTS = ("body", "head", "leg", "arm", "hand", "finger")


def body_part(key: str) -> str:
    """What a sentence calls a part of the body."""
    return {
        "body": _("body"),
        "head": _("head"),
        "leg": _("leg"),
        "arm": _("arm"),
        "hand": _("hand"),
        "finger": _("finger"),
    }[key]


@dataclass(frozen=True, slots=True)
class Squeeze:
    """A part that moves, and what is left beyond it.

    ``swept`` is the floor it moves over, ``left_mm`` what is left between its end and the first
    thing beyond (negative where it strikes), ``beyond`` that thing (None is a wall) or, in
    ``meets``, another machine's moving part; ``crushes`` are the parts of the body for which
    that is too little.
    """

    machine: Machine
    moves: Moves
    number: int
    swept: Ring
    left_mm: float
    ahead: Ahead
    meets: Machine | None
    crushes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Moving:
    """Every moving part."""

    squeezes: tuple[Squeeze, ...]
    part: Part


@dataclass(frozen=True, slots=True)
class _Mover:
    machine: Machine
    moves: Moves
    number: int
    face: Face
    swept: Polygon


def study(standing: Standing) -> Moving:
    """Measure the gap beyond every moving part."""
    gaps = [(key, figure(standing.shop, f"crush-gap-{key}")) for key in _BODY_PARTS]
    movers = list(_movers(standing))
    squeezes = tuple(_squeeze(standing, mover, movers, gaps) for mover in movers)
    workings = tuple(_working(s, gaps[0][1]) for s in squeezes)
    findings = tuple(_finding(standing, s, gaps[0][1]) for s in squeezes if s.crushes)
    return Moving(squeezes, Part(workings, findings))


def _movers(standing: Standing) -> Iterator[_Mover]:
    for machine in standing.shop.machines.values():
        for number, moves in enumerate(machine.moves, 1):
            face = face_of(standing.shop.stations[machine.station], moves.side)
            swept = Polygon(face.strip(moves.reach_mm))
            yield _Mover(machine, moves, number, face, swept)


def _squeeze(
    standing: Standing, mover: _Mover, movers: list[_Mover], gaps: list[tuple[str, Figure]]
) -> Squeeze:
    reach = mover.moves.reach_mm
    ahead = look_ahead(standing, mover.face, passing=[f"stations/{mover.machine.station}"])
    free, meets = ahead.free_mm, None
    strip = Polygon(mover.face.strip(ahead.free_mm, 1.0))
    for other in movers:
        apart = other.machine.station != mover.machine.station
        if apart and other.moves.reach_mm and strip.intersects(other.swept):
            met = mover.face.distance_mm(points_of(strip.intersection(other.swept)))
            if met < free - 0.01:
                free, meets = max(met, 0.0), other.machine
    left = free - reach
    crushes = tuple(key for key, least in gaps if falls_short(left, least.value))
    swept = mover.face.strip(reach)
    return Squeeze(mover.machine, mover.moves, mover.number, swept, left, ahead, meets, crushes)


def _id(squeeze: Squeeze) -> str:
    return f"floor.crush.{squeeze.machine.id}.{squeeze.number}"


def _working(squeeze: Squeeze, body: Figure) -> Working:
    return Working(
        _id(squeeze),
        f"machines/{squeeze.machine.id}",
        _("Gap beyond “{what}” of {machine}").format(
            what=squeeze.moves.what, machine=squeeze.machine.name
        ),
        _("clear floor ahead of the side, less how far the part reaches"),
        (own(_("Reach"), squeeze.moves, "reach_mm"),),
        Quantity(whole_mm(squeeze.left_mm), "mm"),
        Verdict.FAILS if squeeze.crushes else Verdict.HOLDS,
        body.quantity,
        body.origin,
        Quantity(whole_mm(squeeze.left_mm - body.value), "mm"),
        _("Only gaps straight ahead of the part are looked at."),
    )


def _finding(standing: Standing, squeeze: Squeeze, body: Figure) -> Finding:
    beyond = standing.name_of(squeeze.ahead.thing)
    if squeeze.meets:
        beyond = _("what moves on {machine}").format(machine=squeeze.meets.name)
    if squeeze.left_mm < -TOUCHING_MM:
        says = _("“{what}” of {machine} strikes {beyond}: it reaches {over} too far.")
    else:
        says = _(
            "“{what}” of {machine} leaves {left} to {beyond}, where this can be crushed: {parts}."
        )
    return Finding(
        "floor.crush-gap",
        Severity.FIX,
        squeeze.moves.origin,
        says.format(
            what=squeeze.moves.what,
            machine=squeeze.machine.name,
            beyond=beyond,
            left=mm(squeeze.left_mm),
            over=mm(-squeeze.left_mm),
            parts=", ".join(body_part(key) for key in squeeze.crushes),
        ),
        _("Leave {needed} beyond it, or guard the gap.").format(needed=mm(body.value)),
        subject=f"machines/{squeeze.machine.id}",
        working=_id(squeeze),
    )
