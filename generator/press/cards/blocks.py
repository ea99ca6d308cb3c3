"""What a card is made of. Each function gives one block as plain data for ``card.typ``."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from generator.drawings import marks
from generator.drawings.ink import Drawing, Stamp, Symbol
from generator.drawings.pictograms import sign
from generator.drawings.station_parts import sign_words
from generator.ground.paper import Paper
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet, Typeset
from generator.reference import reference
from generator.shop.records.material import Polymer
from generator.workings.heat import refusal_of

Block = dict[str, Plain]

WORN, LEADING, SMALL = 15.0, 11.0, 7.0
"""How large signs stand [mm]: worn, before a line of text, and in the cell of a table."""

_MARK = (16.0, 11.0)


@dataclass
class Pictures:
    """The drawings that a card's blocks name, each held once."""

    held: dict[str, Drawing] = field(default_factory=dict)

    def sign(self, code: str, size: float) -> Plain:
        """The name of a sign's picture, None for a code that is not in the register."""
        if code not in reference().signs:
            return None
        return self._keep(f"{code}-{size:g}", sign(code), (size, size), sign_words(code))

    def mark(self, polymer: Polymer) -> Plain:
        """The name of the picture of a polymer's mark."""
        never = bool(refusal_of(polymer))
        symbol = marks.mark_symbol(polymer.code, _MARK, 1.2, never)
        return self._keep(f"mark-{polymer.id}", symbol, _MARK, marks.iso_mark(polymer.code))

    def _keep(self, name: str, symbol: Symbol, size: tuple[float, float], says: str) -> str:
        if name not in self.held:
            stamp = Stamp(symbol, 0.0, 0.0, max(size))
            self.held[name] = Drawing(*size, (stamp,), says, says, unit="mm")
        return name


@dataclass(frozen=True)
class Card:
    """One card before it is a sheet.

    ``label`` says what kind of card it is, ``badge`` is the number of its station or "", ``says``
    the sentence that answers first. ``size`` is the height of its type [mm].
    """

    id: str
    kind: str
    number: str
    label: str
    title: str
    says: str
    blocks: Sequence[Block]
    pictures: Pictures
    about: tuple[str, ...]
    hangs: str
    badge: str = ""
    size: float = 3.4
    copies: int = 1
    note: str = ""
    named: str = ""
    """What the print room calls it, where its title alone would not tell."""


def as_sheet(order: Order, card: Card, paper: Paper | None = None) -> Sheet:
    """The card on paper, that of the shop's printer unless another is given."""
    data: dict[str, Plain] = {
        "label": card.label,
        "title": card.title,
        "says": card.says,
        "badge": card.badge,
        "size": card.size,
        "blocks": [dict(block) for block in card.blocks],
    }
    return Sheet(
        id=card.id,
        kind=card.kind,
        number=card.number,
        title=card.named or card.title,
        paper=paper or order.paper,
        body=Typeset("card", data, card.pictures.held),
        language=order.language,
        about=card.about,
        copies=card.copies,
        hangs=card.hangs,
        note=card.note,
    )


# --- blocks ------------------------------------------------------------------------------------


def facts(*pairs: tuple[str, str]) -> Block:
    """Short answers side by side, each under its question; empty ones are left out."""
    return {"is": "facts", "rows": [[name, value] for name, value in pairs if value]}


def wear(pictures: Pictures, title: str, codes: Iterable[str]) -> Block:
    """Signs with their words, side by side."""
    rows: list[Plain] = [[pictures.sign(code, WORN), sign_words(code)] for code in codes]
    return {"is": "wear", "title": title, "rows": rows}


def steps(title: str, heads: Sequence[str], rows: Iterable[Block]) -> Block:
    """A job breakdown: numbered rows, each with the hold that comes before it."""
    return {"is": "steps", "title": title, "heads": list(heads), "rows": list(rows)}


def table(
    title: str, heads: Sequence[str], rows: Iterable[Sequence[Plain]], *, wide: int = 0
) -> Block:
    """A table, whose column ``wide`` takes what room is left. A cell may be a picture (`shown`)."""
    cells: list[Plain] = [list(row) for row in rows]
    return {"is": "table", "title": title, "heads": list(heads), "rows": cells, "wide": wide}


def shown(*pictures: Plain) -> Plain:
    """A cell that shows pictures side by side; an empty one where there are none."""
    return {"pictures": [picture for picture in pictures if picture]}


def lines(*words: str) -> Plain:
    """A cell of more than one line: what it says, then what goes with it."""
    return {"lines": [line for line in words if line]}


def look(picture: str, *words: str) -> Block:
    """A picture with its words beside it."""
    return {"is": "look", "picture": picture, "text": lines(*words)}


def ticks(title: str, rows: Iterable[tuple[str, str]]) -> Block:
    """Lines with an open box, and beside them what is to be read or counted."""
    lines: list[Plain] = [[do, expects] for do, expects in rows]
    return {"is": "ticks", "title": title, "rows": lines}


def listed(title: str, rows: Iterable[str], *, numbered: bool = False) -> Block:
    """Lines one under the other."""
    return {"is": "list", "title": title, "rows": list(rows), "numbered": numbered}


def pictured(title: str, rows: Iterable[tuple[Plain, str, str]]) -> Block:
    """Lines with a picture before them: what, and a smaller word under it."""
    lines: list[Plain] = [[picture, says, small] for picture, says, small in rows]
    return {"is": "pictured", "title": title, "rows": lines}


def blanks(*names: str) -> Block:
    """Lines to write on, each over its name."""
    return {"is": "blanks", "rows": list(names)}


def band(text: str) -> Block:
    """A band that nobody overlooks: what refuses, or what this sheet does not do."""
    return {"is": "band", "text": text}
