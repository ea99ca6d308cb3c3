"""Where each record's page lies, and how one page points at another."""

from __future__ import annotations

from generator.shop.fields import Record
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Container, Mould, Polymer
from generator.shop.records.people import Hazard, Procedure, Role, Session
from generator.shop.records.stations import Station

FOLDERS: dict[type[Record], str] = {
    Station: "stations",
    Machine: "machines",
    Polymer: "polymers",
    Container: "containers",
    Mould: "moulds",
    Blend: "blends",
    Procedure: "procedures",
    Role: "roles",
    Session: "sessions",
}
"""The nouns with a page each."""


def path_of(record: Record) -> str:
    """Path of a record's page without its ending.

    Raises
    ------
    KeyError
        If the record's noun has no pages.
    """
    if isinstance(record, Hazard):
        return "hazards"
    return f"{FOLDERS[type(record)]}/{record.id}"


def address_of(record: Record) -> str:
    """Address of a record's page below the site's root (``stations/granulator.html``)."""
    if isinstance(record, Hazard):
        return f"hazards.html#{record.id}"
    return f"{path_of(record)}.html"


def subject_address(subject: str) -> str:
    """Address of the page about a finding's subject (``machines/granulator``), or ""."""
    noun, _slash, id_ = subject.partition("/")
    if noun == "hazards":
        return f"hazards.html#{id_}"
    if noun == "stages":
        return f"running/stages/{id_}.html"
    return f"{noun}/{id_}.html" if noun in FOLDERS.values() else ""


def card_path(station: str) -> str:
    """Path of a station's one-page card."""
    return f"cards/{station}"


def way_up(path: str) -> str:
    """What leads from a page back to the site's root (``../`` for ``stations/granulator``)."""
    return "../" * path.count("/")


_WORKED_ON = {
    "floor": "room/floor",
    "routes": "room/floor",
    "power": "room/power",
    "air": "room/air",
    "noise": "room/noise",
    "light": "room/noise",
    "touch": "room/noise",
    "signage": "room/signs",
    "bearing": "room/loads",
    "flow": "material/week",
    "storage": "material/storage",
    "trail": "material/batches",
    "waste": "running/waste",
    "costs": "running/costs",
}
"""The page on which each subject's workings stand."""


def working_anchor(id_: str) -> str:
    """A working's id as the target of a link."""
    return "w-" + id_.replace(".", "-")


def working_address(id_: str) -> str:
    """Address of a working below the site's root, "" for one that stands on no page."""
    page = _WORKED_ON.get(id_.partition(".")[0])
    return f"{page}.html#{working_anchor(id_)}" if page else ""
