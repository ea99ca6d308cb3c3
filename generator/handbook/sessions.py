"""A session's page and its sheets: run sheet, group cards, visit pack and learner pages."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import rotation
from generator.drawings.files import to_file
from generator.drawings.foot import Foot
from generator.drawings.ink import to_svg
from generator.drawings.rotation import Band, Cell, Hot, Rotation
from generator.ground.finding import Severity
from generator.ground.wording import N_, _, ngettext
from generator.handbook import board
from generator.handbook.desk import Desk
from generator.handbook.glossary import Term, terms
from generator.handbook.page import Asset, Page
from generator.handbook.render import day, render
from generator.handbook.session_dates import dates
from generator.handbook.words import word
from generator.reference import reference
from generator.shop.records.people import Activity, Hazard, Session
from generator.workings.power.sessions import used_by
from generator.workings.reading import SOURCES, Ease
from generator.workings.sessions import Clash, Goal, Proof, SessionStudy, Switching, clock
from generator.workings.sessions.runsheet import run_sheet

_BREAKS = (Severity.STOP, Severity.FIX)
"""Clashes of these a timetable does not hold with; the others are asked or noted."""


def pages(desk: Desk) -> Iterator[Page]:
    """The list of sessions, and for each its page and its sheets."""
    studies = tuple(desk.studies.sessions.sessions.values())
    yield _index(desk, studies)
    for number, study in enumerate(studies, 1):
        yield _session(desk, study, number)
        if study.slots:
            yield _run_sheet(desk, study, number)
            yield _cards(desk, study, number)
        yield _visit(desk, study, number)
        yield from _learner_pages(desk, study, number)


def assets(desk: Desk) -> Iterator[Asset]:
    """What hangs on the wall and what runs a session: rotations and boards."""
    for study in desk.studies.sessions.sessions.values():
        if study.slots:
            yield _wall(desk, study)
    yield from board.assets(desk)


def path_for(session: str, sheet: str = "") -> str:
    """Path of a session's page, or of one of its sheets (``run-sheet``, ``cards``, ``visit``)."""
    return f"sessions/{session}{f'-{sheet}' if sheet else ''}"


def wall_path(session: str) -> str:
    """Where a session's rotation for the wall lies."""
    return f"{path_for(session, 'rotation')}.svg"


# --- does it hold ------------------------------------------------------------------------------


def clashes(study: SessionStudy) -> tuple[Clash, ...]:
    """What the timetable does not hold with, by time."""
    return tuple(c for c in study.clashes if c.severity in _BREAKS)


def answer(study: SessionStudy) -> str:
    """Whether the timetable holds, in a sentence."""
    found = clashes(study)
    if found:
        first = next((c for c in found if c.clock), None)
        said = ngettext("{n} clash", "{n} clashes", len(found)).format(n=len(found))
        if first is None:
            return _("The timetable does not hold: {said}.").format(said=said)
        return _("The timetable does not hold: {said}, the first at {time}.").format(
            said=said, time=first.clock
        )
    if not study.slots:
        return _("No timetable is written yet.")
    return _("The timetable holds, from {start} to {end}.").format(
        start=clock(study.arrival.start_min), end=clock(study.tidy.end_min)
    )


def proven(study: SessionStudy) -> str:
    """What is known about whether there is a better timetable."""
    proof = study.proof
    if not study.slots:
        return _("`benchleaf timetable {id}` proposes one.").format(id=study.session.id)
    if proof is None:
        return _("Written by hand: whether another would be better, nobody has looked.")
    if proof.hash and not proof.belongs:
        return _("Its proof belongs to data that have changed since.")
    return _proof_words(proof)


_GOALS = {
    "optional": N_("activities beyond what must be"),
    "finish": N_("the time of the finish"),
    "waiting": N_("waiting in all"),
    "longest-wait": N_("the longest wait of a group"),
}


def _proof_words(proof: Proof) -> str:
    if proof.status == "best":
        return _(
            "Proven best: no other timetable for the same data finishes earlier or waits less."
        )
    if proof.status == "found":
        open_ = [_gap(goal) for goal in proof.goals if goal.gap]
        return _("The best that was found. Not proven: {gaps}.").format(gaps="; ".join(open_))
    return proof.text


def _gap(goal: Goal) -> str:
    return _("{what} {reached} where {bound} is not ruled out").format(
        what=_(_GOALS[goal.name]), reached=goal.reached, bound=goal.bound
    )


# --- index and page ----------------------------------------------------------------------------


def _index(desk: Desk, studies: Sequence[SessionStudy]) -> Page:
    holding = [s for s in studies if s.slots and not clashes(s)]
    sentence = (
        _("No session is written yet.")
        if not studies
        else ngettext(
            "{n} of {all} session has a timetable that holds.",
            "{n} of {all} sessions have a timetable that holds.",
            len(studies),
        ).format(n=len(holding), all=len(studies))
    )
    body = render(
        "sessions",
        "sessions/index",
        shop=desk.shop,
        studies=studies,
        sentence=sentence,
        answer=answer,
        when=lambda study: _when(desk, study.session),
        severity=lambda study: "stop" if clashes(study) else "",
    )
    return Page("sessions/index", _("Sessions"), "sessions", "SE-00", body)


def _when(desk: Desk, session: Session) -> str:
    times = f"{session.start:%H:%M}–{session.end:%H:%M}"
    if session.day:
        return _("{day}, {times}").format(day=day(session.day), times=times)
    if session.weekday:
        coming = next(iter(dates(desk.shop, session, desk.as_of)), None)
        said = _("{weekday}s, {times}").format(
            weekday=word(session.weekday).capitalize(), times=times
        )
        return said if coming is None else _("{said}, next on {day}").format(
            said=said, day=day(coming)
        )  # fmt: skip
    return times


def _session(desk: Desk, study: SessionStudy, number: int) -> Page:
    session, path = study.session, path_for(study.session.id)
    body = render(
        "session",
        path,
        shop=desk.shop,
        study=study,
        session=session,
        sentence=answer(study),
        proven=proven(study),
        when=_when(desk, session),
        broken=clashes(study),
        asked=[c for c in study.clashes if c.severity not in _BREAKS],
        chart=_chart(desk, study) if study.slots else None,
        sheets=list(_sheets(study)),
        switching=[_switch_row(desk, s) for s in study.switching],
        stands=study.hot_stands,
        ppe=list(_ppe(study)),
        check_groups=list(_check_groups(desk, study)),
        print_outs=list(_print_outs(study)),
        clock=clock,
        findings=desk.findings_on(f"sessions/{session.id}"),
        ease=lambda a: desk.studies.reading.pages.get((session.id, a.id)),
        learner_path=lambda a: f"{_learner_path(session, a).removeprefix('sessions/')}.html",
    )
    return Page(path, str(session.name), "session", f"SE-{number:02d}", body, session.origin)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of a session as its page links it."""

    title: str
    small: str
    address: str


def _sheets(study: SessionStudy) -> Iterator[Sheet]:
    id_ = study.session.id
    if study.slots:
        yield Sheet(_("Board for the tablet"), _("Runs the session; works without a network"),
                    f"{id_}-board.html")  # fmt: skip
        yield Sheet(_("Run sheet"), _("Minute by minute, for the leader"), f"{id_}-run-sheet.html")
        yield Sheet(_("Group cards"), _("One a group"), f"{id_}-cards.html")
        yield Sheet(_("Rotation for the wall"), _("A3 across"), f"{id_}-rotation.svg")
        yield Sheet(_("Calendar"), _("For any calendar that takes .ics"), f"{id_}.ics")
    yield Sheet(_("Visit pack"), _("For whoever brings the group"), f"{id_}-visit.html")


def _switch_row(desk: Desk, s: Switching) -> dict[str, object]:
    return {"machine": desk.shop.machines[s.machine], "s": s}


def _ppe(study: SessionStudy) -> Iterator[tuple[str, str]]:
    """Each sign with how many of which size."""
    sizes = {"child": N_("{n} in a child's size"), "adult": N_("{n} in an adult's size")}
    codes = dict.fromkeys(p.code for p in study.needs.ppe)
    for code in codes:
        own = [p for p in study.needs.ppe if p.code == code]
        yield code, ", ".join(_(sizes[p.size]).format(n=p.count) for p in own)


def _check_groups(desk: Desk, study: SessionStudy) -> Iterator[tuple[str, list[str]]]:
    """Checks under what they come before, by time."""
    groups: dict[tuple[int, str], list[str]] = {}
    for check in study.checks:
        groups.setdefault((check.by_min, check.machine), []).append(check.says)
    for (minute, machine), says in groups.items():
        if machine:
            title = _("Before {machine} heats up, {time}")
            name = desk.shop.machines[machine].name
            yield title.format(machine=name, time=clock(minute)), says
        else:
            yield _("Before the doors open, {time}").format(time=clock(minute)), says


_PRINTED = {
    "run-sheet": N_("run sheet"),
    "group-card": N_("group cards"),
    "rotation": N_("rotation for the wall"),
    "visit-pack": N_("visit pack"),
}


def _print_outs(study: SessionStudy) -> Iterator[str]:
    """What to print; learner pages in one line, since all are wanted alike."""
    pages_ = [p for p in study.needs.print_outs if p.kind == "learner-page"]
    for sheet in study.needs.print_outs:
        if sheet.kind != "learner-page":
            yield _("{n} × {what}").format(n=sheet.count, what=_(_PRINTED[sheet.kind]))
    if pages_:
        yield ngettext(
            "{n} × the page of each of {all} activity",
            "{n} × the page of each of {all} activities",
            len(pages_),
        ).format(n=max(p.count for p in pages_), all=len(pages_))


# --- the chart ---------------------------------------------------------------------------------


def drawn(desk: Desk, study: SessionStudy) -> Rotation:
    """The rotation as the chart draws it."""
    shop = desk.shop
    return Rotation(
        title=str(study.session.name),
        groups=tuple(group.number for group in study.groups),
        cells=tuple(
            Cell(
                s.group, s.start_min, s.end_min, str(s.activity.name),
                shop.stations[s.activity.station].number, s.activity.learners == "watch",
            )
            for s in study.slots
        ),
        bands=tuple(_bands(study)),
        machines=tuple(_hot(desk, study, s) for s in study.switching),
        clashes=tuple(c.minute for c in clashes(study) if c.minute is not None),
    )  # fmt: skip


def _bands(study: SessionStudy) -> Iterator[Band]:
    yield Band(study.arrival.start_min, study.arrival.end_min, _("Arrival"))
    for pause in study.breaks:
        yield Band(pause.start_min, pause.end_min, _("Break"))
    yield Band(study.tidy.start_min, study.tidy.end_min, _("Tidy up"))


def _hot(desk: Desk, study: SessionStudy, s: Switching) -> Hot:
    machine = desk.shop.machines[s.machine]
    uses = [
        (slot.start_min, slot.end_min)
        for slot in study.slots
        if machine in used_by(slot.activity, desk.shop)
    ]
    number = desk.shop.stations[machine.station].number
    return Hot(
        str(machine.name), number, s.on_min, s.hot_min, s.ready_min, s.off_min, s.cool_min,
        tuple(uses),
    )  # fmt: skip


def _chart(desk: Desk, study: SessionStudy) -> Markup:
    figure = drawn(desk, study)
    wide = to_svg(rotation.wide(figure), "rotation-wide", classes="wide")
    phone = to_svg(rotation.phone(figure), "rotation-phone", classes="narrow")
    both = wide + phone
    return Markup(both.replace("<svg ", '<svg data-search-exclude="" '))


_NO_HASH = "0" * 64


def _wall(desk: Desk, study: SessionStudy) -> Asset:
    """The rotation as a file for A3, with a hash of what it shows."""
    says = [_("{when}. {whom}").format(when=_when(desk, study.session), whom=study.session.for_)]
    number, shop = f"SE-{study.session.id}", str(desk.shop.shop.name)
    unhashed = Foot(shop, number, desk.as_of.isoformat(), _NO_HASH)
    text = to_file(rotation.wall(drawn(desk, study), says, unhashed)).decode()
    content = hashlib.sha256(text.replace(unhashed.as_of, "").encode()).hexdigest()
    hashed = Foot(shop, number, unhashed.as_of, content)
    file = text.replace(unhashed.fingerprint, hashed.fingerprint)
    return Asset(wall_path(study.session.id), file.encode())


# --- sheets ------------------------------------------------------------------------------------


def _run_sheet(desk: Desk, study: SessionStudy, number: int) -> Page:
    path = path_for(study.session.id, "run-sheet")
    lines = run_sheet(study, desk.shop)
    title = _("Run sheet: {session}").format(session=study.session.name)
    body = render(
        "run-sheet",
        path,
        shop=desk.shop,
        study=study,
        session=study.session,
        title=title,
        when=_when(desk, study.session),
        lines=lines,
        staff=_staff(desk, study),
        stops=desk.shop.equipment_of_kind("emergency-stop"),
        place_of=desk.plans.place,
        board_address=f"{study.session.id}-board.html",
    )
    return Page(path, title, "run-sheet", f"SE-{number:02d}.R", body, study.session.origin)


def _staff(desk: Desk, study: SessionStudy) -> str:
    rows = [(m.count, desk.shop.roles[m.role].name) for m in study.session.staff]
    return ", ".join(_("{n} × {role}").format(n=n, role=role) for n, role in rows)


@dataclass(frozen=True, slots=True)
class CardLine:
    """A line of a group's card."""

    time: str
    what: str
    number: int
    place: str
    signs: tuple[str, ...]
    watch: bool


@dataclass(frozen=True, slots=True)
class GroupCard:
    """What a group carries: where it is when."""

    group: int
    size: int
    lines: tuple[CardLine, ...]


def cards(desk: Desk, study: SessionStudy) -> tuple[GroupCard, ...]:
    """A card for each group, as plain data."""
    return tuple(
        GroupCard(g.number, g.size, tuple(_card_lines(desk, study, g.number))) for g in study.groups
    )


def _card_lines(desk: Desk, study: SessionStudy, group: int) -> Iterator[CardLine]:
    found = [(s.start_min, _card_line(desk, s.clock, s.activity)) for s in study.slots
             if s.group == group]  # fmt: skip
    found += [(b.start_min, CardLine(b.clock, _("Break"), 0, "", (), False)) for b in study.breaks]
    tidy = study.tidy
    found.append((tidy.start_min, CardLine(tidy.clock, _("Tidy up"), 0, "", (), False)))
    yield from (line for _start, line in sorted(found, key=lambda row: row[0]))


def _card_line(desk: Desk, times: str, activity: Activity) -> CardLine:
    station = desk.shop.stations[activity.station]
    return CardLine(
        times, str(activity.name), station.number, str(station.name), activity.ppe,
        activity.learners == "watch",
    )  # fmt: skip


def _cards(desk: Desk, study: SessionStudy, number: int) -> Page:
    path = path_for(study.session.id, "cards")
    title = _("Group cards: {session}").format(session=study.session.name)
    body = render(
        "group-cards", path, title=title, session=study.session, cards=cards(desk, study),
        shop=desk.shop,
    )  # fmt: skip
    return Page(path, title, "group-cards", f"SE-{number:02d}.G", body, study.session.origin)


def _visit(desk: Desk, study: SessionStudy, number: int) -> Page:
    session, path = study.session, path_for(study.session.id, "visit")
    title = _("Visit pack: {session}").format(session=session.name)
    body = render(
        "visit",
        path,
        shop=desk.shop,
        study=study,
        session=session,
        title=title,
        when=_when(desk, session),
        visitors=desk.shop.shop.visitors,
        adults=_adults(desk, session),
        risks=list(_risks(desk, session)),
        signs=list(dict.fromkeys(c for a in session.activities.values() for c in a.ppe)),
        clock=clock,
        exits=[d for d in desk.shop.room.doors.values() if d.exit],
        contact=next((c for c in desk.shop.contacts.values() if "school" in c.answers), None),
        coming=[day(d) for d in dates(desk.shop, session, desk.as_of)][:4],
    )
    return Page(path, title, "visit", f"SE-{number:02d}.V", body, session.origin)


def _adults(desk: Desk, session: Session) -> str:
    most = desk.shop.shop.limits.learners_per_adult
    said = ngettext(
        "{n} adult comes with {learners} learners.",
        "{n} adults come with {learners} learners.",
        session.learners.adults,
    ).format(n=session.learners.adults, learners=session.learners.count)
    if most:
        said += " " + _(
            "This shop takes at most {n} learners to an adult, its own people counted."
        ).format(n=f"{most:g}")
    return said


def _risks(desk: Desk, session: Session) -> Iterator[Hazard]:
    """The hazards met where the session's activities are, the worst that is left first."""
    at = {activity.station for activity in session.activities.values()}
    met = {h.id: h for station in sorted(at) for h in desk.shop.hazards_at(station)}
    yield from sorted(met.values(), key=lambda h: (-h.after.likelihood * h.after.severity, h.id))


# --- learner pages -----------------------------------------------------------------------------


def _learner_path(session: Session, activity: Activity) -> str:
    return f"sessions/{session.id}-{activity.id}-page"


def _learner_pages(desk: Desk, study: SessionStudy, number: int) -> Iterator[Page]:
    for place, activity in enumerate(study.session.activities.values(), 1):
        if activity.we_do or activity.look_at or activity.question:
            yield _learner_page(desk, study, activity, f"SE-{number:02d}.L{place}")


def _learner_page(desk: Desk, study: SessionStudy, activity: Activity, number: str) -> Page:
    session = study.session
    path = _learner_path(session, activity)
    found = desk.studies.reading.pages.get((session.id, activity.id))
    title = _("{activity}: {session}").format(activity=activity.name, session=session.name)
    body = render(
        "learner",
        path,
        shop=desk.shop,
        session=session,
        activity=activity,
        station=desk.shop.stations[activity.station],
        words=[(text, _term(str(text))) for text in activity.words],
        reads=_reads(found),
        sources="; ".join(source.cite for source in SOURCES),
        signs=[(code, _(reference().sign(code).refers)) for code in activity.ppe],
    )
    return Page(path, title, "learner", number, body, activity.origin)


def _reads(found: Ease | None) -> str:
    if found is None:
        return _("How hard this page is to read was not measured: only English is.")
    said = _("Reads like age {age}: {words} words in {sentences} sentences.").format(
        age=found.age_years, words=found.words, sentences=found.sentences
    )
    return said + " " + _("A hint, for so short a text.") if found.is_short else said


def _term(text: str) -> Term | None:
    """The glossary's term for a word that learners meet, if it explains it."""
    lower = text.lower()
    return next((t for t in terms() if lower in t.forms), None)
