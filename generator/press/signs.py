"""Safety signs that are still to be hung, place by place, each as large as it is read from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.drawings import signboard
from generator.drawings.signboard import Board, Posting
from generator.ground.paper import Paper, family_of, paper
from generator.ground.units import show
from generator.ground.wording import _
from generator.press.choosing import Choosing
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.reference import reference
from generator.shop.shop import Shop
from generator.workings.signage import Need, Place, Size, laws
from generator.workings.signage.names import place_name
from generator.workings.signage.sizes import MARGIN_MM
from generator.workings.signage.words import needs_words, words_of

KIND = "sign"


def sheets(order: Order) -> Iterator[Sheet]:
    """A sheet or more for each place that lacks a sign or bears one too small."""
    choosing = Choosing(order)
    for place in order.studies.signage.places:
        for number, board in enumerate(boards_of(order.shop, place), 1):
            yield _sheet(order, choosing, place, number, board)
    yield _assembly(order)


def _assembly(order: Order) -> Sheet:
    """The sign where everybody meets: from how far it is read is not on the plan, so it is as
    large as the shop's own printer makes it."""
    own, need = paper(order.shop.shop.printer.largest), order.studies.signage.outside
    across = own.width - 2 * MARGIN_MM
    (board,) = signboard.boards([Posting(need.code, across)], [own], own)
    factor = reference().limit("sign-viewing-factor-escape").low
    far = show(round(laws.read_from_m(laws.shape_of(need.code), across, factor), 1), "m")
    return Sheet(
        id="sign-assembly",
        kind=KIND,
        number="SG-assembly",
        title=signboard.title_of(board),
        paper=board.paper,
        body=Drawn((signboard.draw(board, order.foot("SG-assembly")),)),
        language=order.language,
        about=("room",),
        hangs=_("outside, at {place}").format(place=order.shop.room.assembly.name),
        note=_("It is read from up to {far}; larger where people come from farther.").format(
            far=far
        ),
    )


def boards_of(shop: Shop, place: Place) -> list[Board]:
    """The sheets that bear what a place lacks, in the shop's own papers where they do."""
    postings = tuple(_postings(shop, place))
    if not postings:
        return []
    own = paper(shop.shop.printer.largest)
    return signboard.boards(postings, _papers(shop), own)


def _papers(shop: Shop) -> Sequence[Paper]:
    """The papers of the shop's family that signs are set on, the smallest first."""
    return family_of(shop.shop.printer.largest)[:_LARGEST]


_LARGEST = 5
"""From A6 to A2, or their kin."""


def _postings(shop: Shop, place: Place) -> Iterator[Posting]:
    for wanted in place.wanted:
        if wanted.size.across_mm is not None:
            yield _posting(shop, wanted.need, wanted.code, wanted.size, wanted.size.across_mm)
    for posted in place.posted:
        needed = posted.size.across_mm if posted.size else None
        if posted.size and needed is not None and posted.too_small:
            yield _posting(shop, posted.needs[0], posted.code, posted.size, needed)


def papers_at(shop: Shop, place: Place) -> dict[str, str]:
    """The paper each sign that is to be hung at a place is printed on."""
    boards = boards_of(shop, place)
    return {posting.code: b.paper.name for b in boards for posting in b.postings}


def _posting(shop: Shop, need: Need, code: str, size: Size, across: float) -> Posting:
    if not needs_words(need):
        return Posting(code, across)
    panels = shop.shop.jurisdiction in reference().panels_in
    words = words_of(shop, code, need.words)
    return Posting(
        code, across, words, size.letter_mm, size.least_letter_mm, need.panel if panels else ""
    )


def _sheet(order: Order, choosing: Choosing, place: Place, number: int, board: Board) -> Sheet:
    name = place.id if number == 1 else f"{place.id}-{number}"
    foot = f"SG-{name}"
    return Sheet(
        id=f"sign-{name}",
        kind=KIND,
        number=foot,
        title=signboard.title_of(board),
        paper=board.paper,
        body=Drawn((signboard.draw(board, order.foot(foot)),)),
        language=order.language,
        about=(place.subject, f"walls/{choosing.wall_key(place.spot.at)}"),
        hangs=hangs(order.shop, place),
        note=_note(order.shop, board),
    )


def _note(shop: Shop, board: Board) -> str:
    """What the print room must know of a sheet of signs."""
    if not board.fits:
        return _("No sheet bears it as large as it must be: buy it as a plate.")
    return copy_shop(shop, board.paper)


def copy_shop(shop: Shop, sheet: Paper) -> str:
    """Where a sheet is printed that is too large for the shop's own printer, else ""."""
    own = paper(shop.shop.printer.largest)
    if own.holds(sheet):
        return ""
    return _("Printed at a copy shop: the printer takes {own}.").format(own=own.name)


def hangs(shop: Shop, place: Place) -> str:
    """Where a place is and how high what is missing hangs there."""
    return _("{place}, lower edge {height} up").format(
        place=place_name(shop, place.subject), height=show(place.lower_mm, "mm", 0)
    )
