"""The key by which a piece is told: its mark, what it was, a bath, then how it feels and sounds.

No flame anywhere. Who cannot decide at a step ends in quarantine, and a bath never clears a piece
of PVC: it only confirms what a mark has said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.shop.records.material import Polymer
from generator.workings.apart.baths import Bath
from generator.workings.apart.pairs import Group

Outcome = Literal["taken", "paused", "refused", "quarantine", ""]
_SAYS_NOTHING = 7


@dataclass(frozen=True, slots=True)
class Answer:
    """What is seen and what follows: on to step ``to``, or the end with ``outcome``.

    ``polymers`` are the ids it can still be.
    """

    says: str
    polymers: tuple[str, ...]
    outcome: Outcome
    to: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One question of the key. ``bath`` is what the step needs, if it needs one.

    ``caution`` is what the step must not be taken to show, "" where there is nothing.
    """

    number: int
    asks: str
    answers: tuple[Answer, ...]
    bath: Bath | None = None
    caution: str = ""


class Key:
    """The key of a shop.

    Parameters
    ----------
    polymers
        Everything the shop meets, by id.
    refused
        The ids of what is refused, by its status or because it must never be heated.
    found
        Groups by density, the lightest first.
    baths
        The bath between each group and the next.
    """

    def __init__(
        self,
        polymers: Mapping[str, Polymer],
        refused: frozenset[str],
        found: Sequence[Group],
        baths: Sequence[Bath],
    ) -> None:
        self._polymers, self._refused = polymers, refused
        self._groups, self._baths = found, baths
        held = [p for p in polymers.values() if p.contains]
        self._held = tuple(held)
        self._first_bath = 3 if held else 2
        self._told = [n for n, group in enumerate(found) if self._needs_telling(group)]

    def steps(self) -> tuple[Step, ...]:
        """Every step in order; the first is the mark."""
        return tuple(self._steps())

    def _steps(self) -> Iterator[Step]:
        yield Step(
            1,
            _("Is there a mark: letters between > and <, or a number in a triangle?"),
            tuple(self._by_mark()),
        )
        if self._held:
            yield Step(2, _("Is it one of these, whatever its mark says?"), tuple(self._by_what()))
        for n, bath in enumerate(self._baths):
            number = self._first_bath + n
            yield Step(number, self._how(bath), tuple(self._by_bath(n)), bath, bath.caution)
        for n in self._told:
            answers = tuple(self._by_feel(n))
            yield Step(
                self._number(n), _("Which of these is it?"), answers, caution=self._beware(n)
            )

    def _number(self, group: int) -> int:
        """The step that tells the polymers of a group."""
        return self._first_bath + len(self._baths) + self._told.index(group)

    def outcome(self, ids: Sequence[str]) -> Outcome:
        """What becomes of a piece that can be any of some polymers: the most careful of them."""
        if not ids or any(id_ in self._refused for id_ in ids):
            return "refused"
        paused = any(self._polymers[id_].status == "paused" for id_ in ids)
        return "paused" if paused else "taken"

    # --- the mark

    def _by_mark(self) -> Iterator[Answer]:
        unmarked = tuple(p.id for p in self._polymers.values() if p.code == "unknown")
        for polymer in self._polymers.values():
            if polymer.code != "unknown" and not polymer.contains:
                yield self._marked(polymer)
        yield Answer(
            _("No mark, one that cannot be read, or a 7 with no letters"), unmarked, "refused"
        )

    def _marked(self, polymer: Polymer) -> Answer:
        letters = f">{polymer.code}<"
        says, number = letters, polymer.recycling_code
        if number is not None and number != _SAYS_NOTHING:
            says = _("{letters}, or a {number} in the triangle").format(
                letters=letters, number=number
            )
        if polymer.id in self._refused:
            return Answer(says, (polymer.id,), "refused")
        return Answer(says, (polymer.id,), "", 2 if self._held else self._to_bath())

    def _to_bath(self) -> int | None:
        """The first bath, else the only group's own step; None where there is neither."""
        if self._baths:
            return self._first_bath
        return self._number(self._told[0]) if self._told else None

    # --- what it was

    def _by_what(self) -> Iterator[Answer]:
        for polymer in self._held:
            examples = "; ".join(str(example) for example in polymer.examples)
            says = _("{polymer}: {examples}").format(polymer=polymer.name, examples=examples)
            yield Answer(
                says if examples else str(polymer.name), (polymer.id,),
                "refused" if polymer.id in self._refused else self.outcome((polymer.id,)),
            )  # fmt: skip
        rest = tuple(id_ for group in self._groups for id_ in group.polymers)
        to = self._to_bath()
        yield Answer(_("None of these"), rest, "" if to else "quarantine", to)

    # --- the bath

    def _how(self, bath: Bath) -> str:
        if bath.medium == "water":
            return _("Wet a chip with soap, push it under in water and let go. Does it come up?")
        says = _("Do the same in {name}, {grams} to a litre of water ({density}). Does it come up?")
        return says.format(
            name=bath.name.lower(), grams=show(bath.grams, "g", 0),
            density=show(bath.density, "kgm3", 0),
        )  # fmt: skip

    def _by_bath(self, n: int) -> Iterator[Answer]:
        rest = tuple(id_ for group in self._groups[n + 1 :] for id_ in group.polymers)
        yield self._into(_("It floats"), n)
        if n + 1 < len(self._baths):
            yield Answer(_("It sinks"), rest, "", self._first_bath + n + 1)
        else:
            yield self._into(_("It sinks"), n + 1)
        yield Answer(
            _("It hangs in between, or one chip does so and one does not"), (), "quarantine"
        )

    def _into(self, says: str, n: int) -> Answer:
        group = self._groups[n]
        if n in self._told:
            return Answer(says, group.polymers, "", self._number(n))
        return Answer(says, group.polymers, self.outcome(group.polymers))

    # --- how it feels

    def _beware(self, n: int) -> str:
        names = [
            str(self._polymers[i].name) for i in self._groups[n].polymers if i in self._refused
        ]
        if not names:
            return ""
        says = _("{names} end here too. That a piece came this far clears it of none of them.")
        return says.format(names=", ".join(names))

    def _needs_telling(self, group: Group) -> bool:
        """Whether a group holds several, and not all of them are refused."""
        open_ = [id_ for id_ in group.polymers if id_ not in self._refused]
        return len(group.polymers) > 1 and bool(open_)

    def _by_feel(self, n: int) -> Iterator[Answer]:
        for id_ in self._groups[n].polymers:
            polymer = self._polymers[id_]
            told = "; ".join(str(words) for words in polymer.tell_by)
            says = told or _("By its mark >{code}< alone").format(code=polymer.code)
            yield Answer(says, (id_,), self.outcome((id_,)))
        yield Answer(
            _("None of these, more than one, or the mark says otherwise"), (), "quarantine"
        )


def recipe(bath: Bath) -> str:
    """How a bath is mixed, in words."""
    if bath.medium == "water":
        return _("Plain water, 20 °C.")
    says = _("{grams} to a litre of water ({share} by weight).")
    if show_number(bath.least, 0) == show_number(bath.most, 0):
        will_do = _("It must come out at {most}.")
    else:
        will_do = _("It may come out anywhere from {least} to {most}.")
    return f"{says} {will_do}".format(
        grams=show(bath.grams, "g", 0), share=show(bath.share, "percent", 1),
        least=show_number(bath.least, 0), most=show(bath.most, "kgm3", 0),
    )  # fmt: skip
