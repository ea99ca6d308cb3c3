"""The board: one file a session that runs it on a tablet, and what installs it once visited.

The file holds everything it needs, type and script included, and its own policy forbids it to
fetch anything. ``site_config/board/time.js`` reckons, ``board.js`` draws.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from generator.drawings import pictograms, signals
from generator.ground.resources import resource
from generator.ground.wording import _, current_language, ngettext
from generator.handbook.board_words import words
from generator.handbook.desk import Desk
from generator.handbook.page import Asset
from generator.handbook.render import as_json
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.people import Procedure
from generator.shop.records.room import Equipment
from generator.workings.sessions import PlannedSlot, SessionStudy, Switching, clock

_FOLDER = "sessions"
_TYPE = "assets/fonts/atkinson-hyperlegible-latin-{weight}-normal.woff2"
_WEIGHTS = (400, 700)
_BREAK = "-break-"
"""Stands for the break among the activities; no id of a shop begins with a hyphen."""


def path_for(session: str) -> str:
    """Where a session's board lies."""
    return f"{_FOLDER}/{session}-board.html"


def assets(desk: Desk) -> Iterator[Asset]:
    """A board and a manifest for each session with a timetable, their icon and their worker."""
    studies = [s for s in desk.studies.sessions.sessions.values() if s.slots]
    if not studies:
        return
    boards = [asset for study in studies for asset in _of_session(desk, study)]
    icon = Asset(f"{_FOLDER}/board.svg", _read("board/icon.svg"))
    yield from (*boards, icon)
    yield _worker((*boards, icon))


def _of_session(desk: Desk, study: SessionStudy) -> Iterator[Asset]:
    yield Asset(path_for(study.session.id), page(desk, study).encode())
    manifest = {
        "name": title(study),
        "short_name": str(study.session.name),
        "start_url": f"{study.session.id}-board.html",
        "scope": "./",
        "display": "fullscreen",
        "background_color": "#ffffff",
        "theme_color": "#12202a",
        "lang": current_language(),
        "icons": [{"src": "board.svg", "sizes": "any", "type": "image/svg+xml"}],
    }
    text = json.dumps(manifest, ensure_ascii=False, indent=1)
    yield Asset(f"{_FOLDER}/{study.session.id}-board.webmanifest", text.encode())


def _worker(files: tuple[Asset, ...]) -> Asset:
    """The worker with the hash of every file it keeps, so that an old one is never served."""
    hashes = {
        asset.path.removeprefix(f"{_FOLDER}/"): hashlib.sha256(asset.content).hexdigest()
        for asset in files
    }
    script = _read("board/worker.js").decode()
    listed = json.dumps(hashes, sort_keys=True, indent=1)
    return Asset(f"{_FOLDER}/boards.js", script.replace("{/* files */}", listed).encode())


def _read(name: str) -> bytes:
    return (resource("site_config") / name).read_bytes()


def title(study: SessionStudy) -> str:
    """What the board is called."""
    return _("Board: {session}").format(session=study.session.name)


# --- the file ----------------------------------------------------------------------------------


def _environment() -> Environment:
    env = Environment(
        loader=FileSystemLoader(resource("templates") / "board"),
        extensions=["jinja2.ext.i18n"],
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    env.install_gettext_callables(_, ngettext, newstyle=True)  # type: ignore[attr-defined]
    return env


def _type_inside() -> str:
    """The type as rules that hold it."""
    rules = []
    for weight in _WEIGHTS:
        data = base64.b64encode(_read(_TYPE.format(weight=weight))).decode()
        rules.append(
            f'@font-face{{font-family:"Atkinson Hyperlegible";font-weight:{weight};'
            f"src:url(data:font/woff2;base64,{data}) format('woff2')}}"
        )
    return "".join(rules)


def page(desk: Desk, study: SessionStudy) -> str:
    """A session's board as one HTML document."""
    script = (_read("board/time.js") + _read("board/board.js")).decode()
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    data = plan(desk, study)
    stops = data["emergency"]["stops"]
    return _environment().get_template("board.html.j2").render(
        language=current_language(),
        title=title(study),
        script_hash=Markup(f"'sha256-{digest}'"),
        script=Markup(script),
        style=Markup(_type_inside() + _read("board/board.css").decode()),
        plan=data,
        plan_json=Markup(as_json(data)),
        printed=[_printed(slot) for slot in study.slots],
        short_stop=_("Press: {stop}").format(stop=stops[0]["name"]) if stops else "",
        icon_alarm=Markup(_ALARM),
        stop_symbol=Markup(signals.plan_symbol_svg("emergency-stop", size=52)),
        isolator_symbol=Markup(signals.plan_symbol_svg("isolator", size=52)),
        sign_hot=Markup(pictograms.sign_svg("W017", size=40)),
    )  # fmt: skip


_ALARM = (
    '<svg viewBox="0 0 40 40" aria-hidden="true"><path d="M20 3v22" stroke="currentColor"'
    ' stroke-width="7"/><circle cx="20" cy="34" r="4.5" fill="currentColor"/></svg>'
)


def _printed(slot: PlannedSlot) -> dict[str, str]:
    return {"clock": slot.clock, "group": str(slot.group), "name": str(slot.activity.name)}


# --- what it runs by ---------------------------------------------------------------------------


def plan(desk: Desk, study: SessionStudy) -> dict[str, Any]:
    """Everything a board is run by, as plain data: times in minutes after midnight."""
    session = study.session
    return {
        "id": session.id,
        "hash": study.hash,
        "name": str(session.name),
        "shop": str(desk.shop.shop.name),
        "start": study.arrival.start_min,
        "end": study.tidy.end_min,
        "tidy": study.tidy.minutes,
        "groups": [{"n": group.number, "size": group.size} for group in study.groups],
        "slots": list(_slots(study)),
        "activities": dict(_activities(desk, study)),
        "machines": [_machine(desk, study, s) for s in study.switching],
        "checks": [_check(check) for check in study.checks],
        "people": _people(desk, study),
        "emergency": _emergency(desk),
        "words": words(),
    }


def _check(check: Any) -> dict[str, Any]:
    before = _("before it heats up, {time}") if check.machine else _("before the doors, {time}")
    return {
        "id": check.id,
        "says": check.says,
        "when": before.format(time=clock(check.by_min)),
        "machine": check.machine or None,
    }


def _slots(study: SessionStudy) -> Iterator[dict[str, Any]]:
    """The timetable's lines, then one for each group's part in the break."""
    breaks = list(_breaks(study))
    for place, slot in enumerate(study.slots):
        waits = [list(wait) for wait in study.follows[place]]
        waits += [[b["id"], 0] for b in breaks if b["group"] == slot.group
                  and b["start"] + b["takes"] <= slot.start_min]  # fmt: skip
        at = (slot.start_min, slot.end_min)
        yield _slot(place, slot.group, slot.activity_id, at, waits)
    yield from breaks


def _slot(
    place: int, group: int, activity: str, at: tuple[int, int], waits: list[list[int]]
) -> dict[str, Any]:
    return {
        "id": place,
        "group": group,
        "activity": activity,
        "start": at[0],
        "takes": at[1] - at[0],
        "waits": waits,
    }


def _breaks(study: SessionStudy) -> Iterator[dict[str, Any]]:
    """A break begins for everybody at once, so each group's waits for all that is before it."""
    place = len(study.slots)
    for pause in study.breaks:
        before = [[n, 0] for n, s in enumerate(study.slots) if s.end_min <= pause.start_min]
        for group in study.groups:
            at = (pause.start_min, pause.end_min)
            yield _slot(place, group.number, _BREAK, at, before)
            place += 1


def _activities(desk: Desk, study: SessionStudy) -> Iterator[tuple[str, dict[str, Any]]]:
    for id_, activity in study.session.activities.items():
        station = desk.shop.stations[activity.station]
        yield id_, {"name": str(activity.name), "number": station.number}
    if study.breaks:
        yield _BREAK, {"name": _("Break"), "number": 0}


def _machine(desk: Desk, study: SessionStudy, switching: Switching) -> dict[str, Any]:
    machine = desk.shop.machines[switching.machine]
    own = [h for h in study.holds if h.machine == machine.id]
    known = [h for h in own if h.longest_min is not None]
    held = min(known, key=lambda h: h.longest_min or 0) if known else None
    polymers = [h.polymer for h in own if h.polymer]
    polymer = held.polymer if held else polymers[0] if polymers else None
    return {
        "id": machine.id,
        "name": str(machine.name),
        "number": desk.shop.stations[machine.station].number,
        "polymer": str(desk.shop.polymers[polymer].name) if polymer else "",
        "hold": held.longest_min if held else None,
        "on": switching.on_min,
        "ready": switching.ready_min,
        "off": switching.off_min,
        "warm": switching.ready_min - switching.on_min,
        "cool": switching.cool_min - switching.off_min,
        "uses": _uses(desk, study, machine),
        **_setting(machine, polymer),
        "wear": _wear(desk.shop.main_procedure(machine.station)),
    }


def _uses(desk: Desk, study: SessionStudy, machine: Machine) -> list[int]:
    at = {
        id_
        for id_, a in study.session.activities.items()
        if machine.id in (a.machines or [m.id for m in desk.shop.machines_at(a.station)])
    }
    return [place for place, slot in enumerate(study.slots) if slot.activity_id in at]


def _setting(machine: Machine, polymer: str | None) -> dict[str, Any]:
    """What it is set to and what a purge takes, as the shop writes it."""
    setting = next((s for s in machine.settings if s.polymer == polymer), None)
    heat = setting.melt_c or max(setting.zones_c, default=None) if setting else None
    purge = round(setting.purge_kg * 1000) if setting and setting.purge_kg else 0
    return {"temperature": f"{heat:g}\u202f°C" if heat else "", "purge": purge}


def _wear(procedure: Procedure | None) -> str:
    signs = [_(reference().sign(code).refers) for code in procedure.ppe] if procedure else []
    return ". ".join(signs) + "." if 0 < len(signs) <= 4 else ""


def _people(desk: Desk, study: SessionStudy) -> dict[str, Any]:
    session = study.session
    staff = sum(member.count for member in session.staff)
    learners, adults = session.learners.count, session.learners.adults
    says = _("{learners} learners, {adults} adults with them and {staff} of the shop.")
    return {
        "expected": learners + adults + staff,
        "most": desk.shop.shop.most_people,
        "says": says.format(learners=learners, adults=adults, staff=staff),
    }


# --- emergency ---------------------------------------------------------------------------------


def _emergency(desk: Desk) -> dict[str, Any]:
    shop = desk.shop
    exits = "; ".join(
        _("{door}, to {place}").format(door=d.name, place=d.leads_to)
        for d in shop.room.doors.values()
        if d.exit
    )
    assembly = shop.room.assembly
    return {
        "says": _("A tap on this tablet switches nothing off. Isolators turn off one machine."),
        "number": str(shop.shop.emergency_number),
        "address": str(shop.shop.address),
        "exits": _("Out by: {exits}. Meet: {assembly}.").format(
            exits=exits, assembly=assembly.name
        ),
        "stops": [_stop(desk, e) for e in shop.equipment_of_kind("emergency-stop")],
        "isolators": [_stop(desk, e) for e in shop.equipment_of_kind("isolator")],
        "procedures": [_bad_day(p) for p in shop.procedures.values() if p.kind == "bad-day"],
    }


def _stop(desk: Desk, equipment: Equipment) -> dict[str, str]:
    names = [str(desk.shop.machines[m].name) for m in equipment.isolates]
    cuts = _("Cuts {machines}").format(machines=", ".join(names)) if names else ""
    return {"name": str(equipment.name), "place": desk.plans.place(equipment.at), "cuts": cuts}


def _bad_day(procedure: Procedure) -> Mapping[str, Any]:
    return {
        "name": str(procedure.name),
        "steps": [
            {
                "do": str(step.do),
                "key": str(step.key_point),
                "until": str(step.hold.until) if step.hold else "",
            }
            for step in procedure.steps
        ],
    }
