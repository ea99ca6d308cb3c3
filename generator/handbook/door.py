"""The pages for people at the door and for the worst moment: the front page and Emergency."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Any

from generator.ground.finding import Severity
from generator.ground.wording import _, ngettext
from generator.handbook.bringing import closings, donor
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.words import counted, word
from generator.shop.records.people import Opening
from generator.shop.records.room import Equipment
from generator.workings.week import DayOfWeek, ordinary_week


def pages(desk: Desk) -> Iterator[Page]:
    """The front page and Emergency."""
    yield _front(desk)
    yield _emergency(desk)


def _front(desk: Desk) -> Page:
    shop = desk.shop
    week = ordinary_week(shop)
    body = render(
        "index",
        "index",
        shop=shop,
        open_sentence=_open_sentence(week),
        open_now=_("Open now, until {time}"),
        open_later=_("Opens today at {time}"),
        closed=_closed(desk),
        shut=closings(desk),
        week=[_week_row(day) for day in week],
        **donor(desk),
        ways=list(_ways(desk)),
        exits=_exits_line(desk),
        **desk.plans.on_page("index"),
    )
    return Page("index", str(shop.shop.name), "door", "FR-01", body)


def _clock(time: dt.time) -> str:
    return f"{time:%H:%M}"


def _open_sentence(week: tuple[DayOfWeek, ...]) -> str:
    days = [word(day.day) for day in week if day.takes_donations]
    if not days:
        return _("No fixed opening hours: ask before you come")
    return _("Open on {days}").format(days=_listed(days))


def _listed(words: list[str]) -> str:
    if len(words) == 1:
        return words[0]
    return _("{first} and {last}").format(first=", ".join(words[:-1]), last=words[-1])


def _week_row(day: DayOfWeek) -> dict[str, Any]:
    return {
        "day": day.number,
        "word": word(day.day),
        "openings": [(_hours(o), str(o.what)) for o in day.openings],
        "open": " ".join(
            f"{_clock(o.from_)}/{_clock(o.to)}" for o in day.openings if o.takes_donations
        ),
    }


def _closed(desk: Desk) -> str:
    """The days without opening hours, for the page's script: ``2026-10-26/2026-10-31``."""
    return " ".join(f"{days.from_}/{days.to}" for days in desk.shop.hours.closed)


def _hours(opening: Opening) -> str:
    return f"{_clock(opening.from_)}\u2013{_clock(opening.to)}"


def _ways(desk: Desk) -> Iterator[dict[str, str]]:
    shop = desk.shop
    yield {
        "title": _("Bringing plastic"),
        "small": _("What is taken now, what is refused and why"),
        "address": "material/bringing.html",
    }
    yield {
        "title": _("First time helping"),
        "small": _("What you may do, visit by visit"),
        "address": "people/index.html",
    }
    yield {
        "title": _("Looking round"),
        "small": _("What is made here, and of what"),
        "address": "running/made.html",
    }
    yield {
        "title": _("Helping today"),
        "small": _("Stations, steps and settings"),
        "address": "stations/index.html",
    }
    yield {
        "title": _("Opening, closing, a bad day"),
        "small": ngettext("{n} procedure", "{n} procedures", len(shop.procedures)).format(
            n=len(shop.procedures)
        ),
        "address": "procedures/index.html",
    }
    yield {
        "title": _("Running the shop"),
        "small": _tally(desk),
        "address": "findings.html",
    }


def _tally(desk: Desk) -> str:
    counts = [(s, sum(f.severity is s for f in desk.findings)) for s in Severity]
    return ", ".join(counted(s, n) for s, n in counts if n) or _("Nothing open to read")


def _exits_line(desk: Desk) -> str:
    exits = [d for d in desk.shop.room.doors.values() if d.exit]
    return "; ".join(_("{door}, to {place}").format(door=d.name, place=d.leads_to) for d in exits)


def _emergency(desk: Desk) -> Page:
    shop = desk.shop
    body = render(
        "emergency",
        "emergency",
        shop=shop,
        exits=[d for d in shop.room.doors.values() if d.exit],
        number=_dialled(str(shop.shop.emergency_number)),
        stops=[row for row in _stops(desk) if row[0].kind == "emergency-stop"],
        isolators=[row for row in _stops(desk) if row[0].kind == "isolator"],
        water=shop.equipment_of_kind("burn-sink"),
        kit=_kit(desk),
        bad_days=[p for p in shop.procedures.values() if p.kind == "bad-day"],
        place_of=desk.plans.place,
        **desk.plans.on_page("emergency"),
    )
    return Page("emergency", _("Emergency"), "emergency", "EM-01", body)


def _dialled(number: str) -> str:
    """The number as a telephone takes it, or "" where what is written is no number."""
    digits = number.replace(" ", "").replace("-", "")
    return digits if digits.lstrip("+").isdigit() else ""


def _stops(desk: Desk) -> list[tuple[Equipment, str]]:
    stops = desk.shop.equipment_of_kind("emergency-stop", "isolator")
    return [(e, _cuts(desk, e)) for e in sorted(stops, key=lambda e: e.kind != "emergency-stop")]


def _cuts(desk: Desk, equipment: Equipment) -> str:
    names = ", ".join(str(desk.shop.machines[m].name) for m in equipment.isolates)
    place = desk.plans.place(equipment.at)
    if not names:
        return place
    return _("cuts {machines}; {place}").format(machines=names, place=place)


_KIT = (
    "extinguisher",
    "fire-blanket",
    "alarm-point",
    "first-aid",
    "eyewash",
    "burn-sink",
    "spill-kit",
    "lock-out-station",
)


def _kit(desk: Desk) -> list[Equipment]:
    kit = desk.shop.equipment_of_kind(*_KIT)
    return sorted(kit, key=lambda e: _KIT.index(e.kind))
