"""What is told of the signs: how their sizes were worked out, and what is found about them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.ground.finding import Finding, Severity
from generator.ground.paper import paper
from generator.ground.survey import Survey
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import reference
from generator.shop.records.room import Door
from generator.shop.shop import Shop
from generator.workings.floor.lengths import capital, metres, mm
from generator.workings.footprint import door_middle
from generator.workings.part import Part, together
from generator.workings.shown import at_station, given, tabled
from generator.workings.signage.hanging import exit_level_mm, eye_level_mm
from generator.workings.signage.matching import AT_A_THING_MM
from generator.workings.signage.names import listed, place_name, sign_name
from generator.workings.signage.needs import Need
from generator.workings.signage.places import Place, Posted, Wanted
from generator.workings.signage.sizes import MARGIN_MM, Size, is_too_large
from generator.workings.signage.viewing import apart_mm
from generator.workings.signage.words import MOST_LANGUAGES, own_words, words_in

_LEVEL_SLACK_MM = 50.0
_ONLY_WORN = frozenset("M")


def surveyed(shop: Shop, needs: Sequence[Need], places: Sequence[Place], plans: Part) -> Survey:
    """The survey of a shop's signs: one check for each sign that is needed."""
    workings = tuple(w for place in places for w in _workings(shop, place))
    part = Part(workings, tuple(_findings(shop, needs, places)), len(needs))
    return together("signage", (part, plans))


# --- workings ----------------------------------------------------------------------------------


def _workings(shop: Shop, place: Place) -> Iterator[Working]:
    """One for each outline of what is missing, and one for each sign that hangs and is needed."""
    made: set[str] = set()
    for wanted in place.wanted:
        if wanted.size.shape not in made:
            made.add(wanted.size.shape)
            yield from _missing_size(shop, place, wanted)
    for posted in place.posted:
        if posted.size is not None:
            yield from _hung_size(shop, place, posted, posted.size)


def size_id(place: Place, size: Size) -> str:
    """The id of the working behind the size of what is missing at a place."""
    return f"signage.size.{place.id}.{size.shape}"


def _missing_size(shop: Shop, place: Place, wanted: Wanted) -> Iterator[Working]:
    size, across = wanted.size, wanted.size.across_mm
    if across is None or size.distance_m is None:
        return
    most = _widest(shop)
    verdict = Verdict.HOLDS if across <= most else Verdict.FAILS
    yield Working(
        size_id(place, size),
        place.subject,
        _across_title(size).format(place=place_name(shop, place.subject)),
        _formula(),
        _inputs(shop, size),
        Quantity(round(across, 1), "mm"),
        Verdict.UNANSWERED if size.light == "unread" else verdict,
        Quantity(most, "mm"),
        shop.shop.printer.origin_of("largest"),
        Quantity(round(most - across, 1), "mm"),
        _caution(size),
        size.factor.source_record,
    )
    yield Working(
        f"signage.letters.{place.id}.{size.shape}",
        place.subject,
        _("Capitals beside it at {place}").format(place=place_name(shop, place.subject)),
        _("distance over 200, and no less than distance over 300"),
        (_distance(shop, size), tabled(_("divisor"), reference().limit("sign-text-divisor"))),
        Quantity(round(size.letter_mm, 1), "mm"),
        source=reference().limit("sign-text-divisor").source_record,
    )


def _widest(shop: Shop) -> float:
    """The widest sign the printer's largest sheet bears [mm]."""
    return paper(shop.shop.printer.largest).width - 2 * MARGIN_MM


def _across_title(size: Size) -> str:
    return {
        "square": _("Side of a square sign at {place}"),
        "circle": _("Diameter of a round sign at {place}"),
        "triangle": _("Side of a warning triangle at {place}"),
    }[size.shape]


def _formula() -> str:
    return _(
        "the larger of two: as high as distance over factor, and of an area of distance squared "
        "over 2000"
    )


def _distance(shop: Shop, size: Size) -> Input:
    name = _("longest line of sight on the plan")
    return given(name, round(size.distance_m or 0.0, 2), "m", shop.room.origin_of("outline"))


def _inputs(shop: Shop, size: Size) -> tuple[Input, ...]:
    found = [_distance(shop, size), tabled(_("distance factor"), size.factor, size.factor.low)]
    if size.reading is not None and size.light == "read":
        origin = size.reading.origin_of("reading_lx")
        found.append(given(_("light there"), size.reading.reading_lx, "lx", origin))
    found.append(tabled(_("distance squared over area"), reference().limit("sign-area-divisor")))
    return tuple(found)


def _caution(size: Size) -> str:
    return {
        "escape": _("Worked out for emergency lighting: it must be found when the lamps are out."),
        "inside": _("Worked out for a sign that is lit from inside."),
        "read": _("Read aslant, or by somebody who sees badly, it must be larger."),
        "unread": _("Nobody has read the light here: worked out for the darkest row of the table."),
    }[size.light]


def _hung_size(shop: Shop, place: Place, posted: Posted, size: Size) -> Iterator[Working]:
    """From how far a hung sign can be read, where its size is written."""
    has, needed = posted.hung.across_mm, size.across_mm
    if needed is None:
        return
    verdict = Verdict.UNANSWERED if has is None else _holds(has >= needed)
    yield Working(
        f"signage.hung.{posted.id}",
        f"room/signs/{posted.id}",
        _("Width of {sign} at {place}").format(
            sign=posted.code, place=place_name(shop, place.subject)
        ),
        _formula(),
        _inputs(shop, size),
        Quantity(round(has if has is not None else needed, 1), "mm"),
        verdict,
        Quantity(round(needed, 1), "mm"),
        _limit_source(size),
        None if has is None else Quantity(round(has - needed, 1), "mm"),
        _caution(size),
        size.factor.source_record,
    )


def _limit_source(size: Size) -> Source:
    return size.factor.source_record


def _holds(holds: bool) -> Verdict:
    return Verdict.HOLDS if holds else Verdict.FAILS


# --- findings ----------------------------------------------------------------------------------


def _findings(shop: Shop, needs: Sequence[Need], places: Sequence[Place]) -> Iterator[Finding]:
    for place in places:
        yield from _missing(shop, place)
        yield from _paper(shop, place)
        for posted in place.posted:
            yield from _hung(shop, place, posted)
    yield from _contradictions(shop, needs)
    yield from _not_measured(shop, [p for place in places for p in place.posted])
    yield from _unread(shop, [w for place in places for w in place.wanted])
    yield from _wordless(shop, needs)


def _missing(shop: Shop, place: Place) -> Iterator[Finding]:
    if not place.wanted:
        return
    codes = [w.code for w in place.wanted]
    says = ngettext("{place} lacks a sign: {signs}.", "{place} lacks {n} signs: {signs}.",
                    len(codes))  # fmt: skip
    only_worn = _ONLY_WORN.issuperset(code[0] for code in codes)
    yield Finding(
        "signage.missing",
        Severity.NOTE if only_worn else Severity.FIX,
        place.wanted[0].need.origin,
        capital(says.format(place=place_name(shop, place.subject), signs=listed(codes),
                            n=len(codes))),
        _("Print what the hang-list has for it, hang it with its lower edge at {height}, and "
          "write it under `signs` of the room.").format(height=mm(place.lower_mm)),
        subject=place.subject,
        working=size_id(place, place.wanted[0].size),
    )  # fmt: skip


def _paper(shop: Shop, place: Place) -> Iterator[Finding]:
    """What the shop's own printer is too small for."""
    large = [w for w in place.wanted if w.paper is None or is_too_large(shop, w.paper)]
    known = [w for w in large if w.size.across_mm is not None]
    if not known:
        return
    worst = max(known, key=lambda w: w.size.across_mm or 0.0)
    says = _("{sign} at {place} is read from {far}, so it must be {across} across; {own} bears "
             "{most}.")  # fmt: skip
    named = worst.paper.name if worst.paper else ""
    mend = (
        _("Have it printed on {paper} at a copy shop.")
        if named
        else _(
            "No sheet of that family bears it: buy it as a plate, or hang a second one half way."
        )
    )
    yield Finding(
        "signage.paper",
        Severity.NOTE,
        worst.need.origin,
        capital(says.format(
            sign=worst.code, place=place_name(shop, place.subject),
            far=metres(1000 * (worst.size.distance_m or 0.0)), across=mm(worst.size.across_mm or 0),
            own=shop.shop.printer.largest, most=mm(_widest(shop)))),
        mend.format(paper=named),
        subject=place.subject,
        working=size_id(place, worst.size),
    )  # fmt: skip


def _hung(shop: Shop, place: Place, posted: Posted) -> Iterator[Finding]:
    own = {need.subject for need in posted.needs}
    against = [need for need in posted.against if need.subject not in own]
    if against:
        yield _hung_against(shop, posted, against[0])
    if not posted.needs:
        if not against:
            yield from _unneeded(shop, posted)
        return
    if posted.size is not None:
        yield from _out_of_sight(shop, place, posted, posted.size)
        yield from _too_small(shop, place, posted, posted.size)
    yield from _level(posted)


def _hung_against(shop: Shop, posted: Posted, need: Need) -> Finding:
    """A sign that says the opposite of what is asked for where it hangs."""
    says = _("{sign}, “{name}”, hangs at {place}, which asks for {other}: {why}.").format(
        sign=posted.code,
        name=sign_name(posted.code),
        place=place_name(shop, need.subject),
        other=listed([need.code]),
        why=need.whys[0].rstrip("."),
    )
    return Finding(
        "signage.contradiction",
        Severity.FIX,
        posted.hung.origin_of("sign"),
        says,
        _("Take it down there: nobody can obey both."),
        subject=f"room/signs/{posted.id}",
    )


def _unneeded(shop: Shop, posted: Posted) -> Iterator[Finding]:
    """A sign that nothing asks for, or that points at a door which is no exit."""
    door = _door_at(shop, posted)
    says = _("{sign}, “{name}”, hangs and nothing here asks for it.")
    mend = _("Take it down, or write down what it is there for: a hazard's control, a never.")
    if posted.code in reference().signs_asked_for["exit"].codes and door and not door.exit:
        says = _("{sign}, “{name}”, hangs at {door}, which is no exit.")
        mend = _("Take it down, or make the door an exit.")
    yield Finding(
        "signage.nothing-asks",
        Severity.FIX if posted.code[0] == "E" else Severity.NOTE,
        posted.hung.origin_of("sign"),
        says.format(sign=posted.code, name=sign_name(posted.code), door=door.name if door else ""),
        mend,
        subject=f"room/signs/{posted.id}",
    )


def _door_at(shop: Shop, posted: Posted) -> Door | None:
    doors = shop.room.doors.values()
    near = (d for d in doors if apart_mm(door_middle(d), posted.hung.at) <= AT_A_THING_MM)
    return next(near, None)


def _out_of_sight(shop: Shop, place: Place, posted: Posted, size: Size) -> Iterator[Finding]:
    if size.distance_m is None:
        yield Finding(
            "signage.out-of-sight",
            Severity.FIX,
            posted.hung.origin_of("at"),
            capital(_("{sign} for {place} is out of sight of everybody who must read it.").format(
                sign=posted.code, place=place_name(shop, place.subject))),
            _("Hang it where no wall and nothing tall stands before it."),
            subject=f"room/signs/{posted.id}",
        )  # fmt: skip


def _too_small(shop: Shop, place: Place, posted: Posted, size: Size) -> Iterator[Finding]:
    needed, has = size.across_mm, posted.hung.across_mm
    if needed is None or size.distance_m is None:
        return
    far = metres(1000 * size.distance_m)
    named = {"sign": posted.code, "place": place_name(shop, place.subject), "far": far}
    where = (posted.hung.origin_of("across_mm"), f"room/signs/{posted.id}")
    working = f"signage.hung.{posted.id}"
    if has is not None and has < needed:
        says = _("{sign} at {place} is {has} across and can be read from {reach}; it is in sight "
                 "from {far}, which asks for {needed}.")  # fmt: skip
        yield Finding(
            "signage.too-small", Severity.FIX if posted.code[0] == "E" else Severity.NOTE, where[0],
            capital(says.format(
                has=mm(has), reach=metres(1000 * size.bears(has)), needed=mm(needed), **named)),
            _("Hang one of {needed}, or a second one half way.").format(needed=mm(needed)),
            subject=where[1], working=working,
        )  # fmt: skip
    letter = posted.hung.letter_mm
    if letter is not None and letter < size.least_letter_mm:
        says = _("Letters at {sign} at {place} are {has} high; read from {far} they are to be "
                 "{needed} at the least.")  # fmt: skip
        yield Finding(
            "signage.letters", Severity.NOTE, posted.hung.origin_of("letter_mm"),
            says.format(has=mm(letter), needed=mm(size.least_letter_mm), **named),
            _("Set the words larger."), subject=where[1], working=working,
        )  # fmt: skip


def _level(posted: Posted) -> Iterator[Finding]:
    """Whether it hangs at the height it should."""
    is_exit = any(need.rule == "exit" for need in posted.needs)
    if posted.code[0] in "EF" and not is_exit:
        return
    low, high = exit_level_mm() if is_exit else eye_level_mm()
    has = posted.hung.height_mm
    if low - _LEVEL_SLACK_MM <= has <= high + _LEVEL_SLACK_MM:
        return
    says = _("{sign} hangs with its lower edge at {has}; {low} to {high} is usual.")
    yield Finding(
        "signage.height",
        Severity.FIX if is_exit else Severity.NOTE,
        posted.hung.origin_of("height_mm"),
        says.format(sign=posted.code, has=mm(has), low=mm(low), high=mm(high)),
        _("Move it by {mm}.").format(mm=mm(low - has if has < low else has - high)),
        subject=f"room/signs/{posted.id}",
    )


def _contradictions(shop: Shop, needs: Sequence[Need]) -> Iterator[Finding]:
    """Two signs of one subject that cannot both be obeyed."""
    by_subject: dict[str, dict[str, Need]] = {}
    for need in needs:
        by_subject.setdefault(need.subject, {})[need.code] = need
    for codes in by_subject.values():
        for row in reference().sign_contradictions:
            if codes.keys() >= set(row.codes):
                one, other = (codes[code] for code in row.codes)
                yield _contradiction(shop, one, other, row.reason)


def _contradiction(shop: Shop, one: Need, other: Need, reason: str) -> Finding:
    says = _("{place} asks for {signs}. {reason} ({one}; {other})").format(
        place=place_name(shop, one.subject),
        signs=listed([one.code, other.code]),
        reason=_(reason),
        one=one.whys[0],
        other=other.whys[0],
    )
    return Finding(
        "signage.contradiction",
        Severity.FIX,
        one.origin,
        capital(says),
        _("Say for which job each holds, and hang only the one that holds beside what turns."),
        subject=one.subject,
    )


def _not_measured(shop: Shop, posted: Sequence[Posted]) -> Iterator[Finding]:
    silent = [p for p in posted if p.needs and p.hung.across_mm is None]
    if silent:
        says = ngettext(
            "Nobody has written how wide the one sign is that hangs.",
            "Of {n} signs that hang nobody has written how wide they are.",
            len(silent),
        )
        yield Finding(
            "signage.not-measured",
            Severity.NOTE,
            shop.room.origin_of("signs"),
            says.format(n=len(silent)),
            _("Measure them and write `across` at each: `across: 150 mm`."),
            subject="room",
        )


def _unread(shop: Shop, wanted: Sequence[Wanted]) -> Iterator[Finding]:
    """Stations without a light reading, for which signs are worked out for the dark."""
    dark = [w.need for w in wanted if w.size.light == "unread"]
    ids = dict.fromkeys(id_ for need in dark for id_ in need.stations)
    if ids:
        names = "; ".join(at_station(shop, id_) for id_ in ids)
        says = _("Signs are worked out for {lux} where the light is not read: {stations}.")
        yield Finding(
            "signage.light",
            Severity.NOTE,
            shop.room.origin_of("light"),
            says.format(stations=names, lux=show(5, "lx", 0)),
            _("Read the light there and write it under `light` of the room: signs may be smaller."),
            subject="room",
        )


def _wordless(shop: Shop, needs: Sequence[Need]) -> Iterator[Finding]:
    """Languages of the shop in which there are no words for a sign that is needed."""
    codes = dict.fromkeys(need.code for need in needs if need.code[0] not in "EF")
    for language in shop.shop.languages[:MOST_LANGUAGES]:
        lost = [c for c in codes if not words_in(own_words(shop, c), c, language)]
        if lost:
            says = _("For {n} signs there are no words in `{language}`: {codes}.")
            yield Finding(
                "signage.words",
                Severity.NOTE,
                shop.shop.origin_of("languages"),
                says.format(n=len(lost), language=language, codes=", ".join(lost)),
                _("Write them under `sign_words` of the room."),
                subject="room",
            )
