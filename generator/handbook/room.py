"""Does the room hold? A page each for floor and walks, power, air, what is met there, and loads."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.subjects import subject_page


def pages(desk: Desk) -> Iterator[Page]:
    """A page for each subject of the room, in the order a reader asks."""
    yield _floor(desk)
    yield _power(desk)
    yield _air(desk)
    yield _met(desk)
    yield _loads(desk)


def _floor(desk: Desk) -> Page:
    floor, routes = desk.studies.floor, desk.studies.routes
    return subject_page(
        "room/floor",
        _("Floor and walks"),
        "RO-01",
        (floor.survey, routes.survey),
        groups=[
            (_("Walks and ways out, worked out"), routes.survey.workings),
            (_("Floor, worked out"), floor.survey.workings),
        ],
    )


def _power(desk: Desk) -> Page:
    power = desk.studies.power
    return subject_page("room/power", _("Power"), "RO-02", (power.survey,))


def _air(desk: Desk) -> Page:
    air = desk.studies.air
    return subject_page("room/air", _("Air"), "RO-03", (air.survey,))


def _met(desk: Desk) -> Page:
    noise, light, touch = desk.studies.noise, desk.studies.light, desk.studies.touch
    return subject_page(
        "room/noise",
        _("Noise, light and hot surfaces"),
        "RO-04",
        (noise.survey, light.survey, touch.survey),
        groups=[
            (_("Noise, worked out"), noise.survey.workings),
            (_("Light, worked out"), light.survey.workings),
            (_("Hot surfaces, worked out"), touch.survey.workings),
        ],
    )


def _loads(desk: Desk) -> Page:
    bearing = desk.studies.bearing
    return subject_page("room/loads", _("Floor load and fire load"), "RO-05", (bearing.survey,))
