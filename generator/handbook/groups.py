"""Workings in groups that a reader can look through: by the room, then station by station."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.ground.wording import _, ngettext
from generator.ground.working import Verdict, Working
from generator.handbook.amounts import verdict_word
from generator.shop.shop import Shop

_FOLDED_FROM = 4
"""A heading with fewer workings than this shows them straight away."""

_ORDER = (Verdict.FAILS, Verdict.UNANSWERED, Verdict.HOLDS, Verdict.INFORMS)


@dataclass(frozen=True, slots=True)
class Fold:
    """A few workings about one thing, folded under its name.

    ``number`` is its station's, 0 for what is no station. Without a name they are not folded.
    """

    name: str
    rows: tuple[Working, ...]
    number: int = 0

    @property
    def state(self) -> str:
        """What they come to: ``1 fails, 3 hold``; how many there are where none is judged."""
        counts = Counter(w.verdict for w in self.rows)
        judged = [v for v in _ORDER if counts[v] and v is not Verdict.INFORMS]
        told = [f"{counts[v]}\u202f{verdict_word(v)}" for v in judged]
        return ", ".join(told) or ngettext("{n} figure", "{n} figures", len(self.rows)).format(
            n=len(self.rows)
        )

    @property
    def worst(self) -> Verdict:
        return min((w.verdict for w in self.rows), key=_ORDER.index)


@dataclass(frozen=True, slots=True)
class Group:
    """Workings under one heading."""

    heading: str
    folds: tuple[Fold, ...]


@dataclass(frozen=True, slots=True)
class _Home:
    """Where a working belongs: under which heading, in which fold of it."""

    heading: str
    name: str
    number: int
    rank: tuple[int, int]


def grouped(shop: Shop, workings: Iterable[Working]) -> Iterator[Group]:
    """Every working under the heading of what it is about, in a fold for each thing."""
    homes: dict[_Home, list[Working]] = {}
    for working in workings:
        homes.setdefault(_home(shop, working.subject), []).append(working)
    by_heading: dict[str, list[Fold]] = {}
    for home in sorted(homes, key=lambda h: h.rank):
        fold = Fold(home.name, tuple(homes[home]), home.number)
        by_heading.setdefault(home.heading, []).append(fold)
    for heading, folds in by_heading.items():
        yield Group(heading, tuple(_unfolded(folds)))


def _unfolded(folds: Sequence[Fold]) -> list[Fold]:
    """One thing alone, or a working a thing, needs no fold."""
    rows = tuple(w for fold in folds for w in fold.rows)
    if len(rows) < _FOLDED_FROM or len(folds) == 1 or all(len(f.rows) == 1 for f in folds):
        return [Fold("", rows)]
    return list(folds)


def _home(shop: Shop, subject: str) -> _Home:
    noun, _slash, id_ = subject.rpartition("/")
    finder = _HOMES.get(noun)
    if finder:
        return finder(shop, id_)
    if subject == "room/supply":
        return _Home(_("Supply and main fuse"), _("Supply and main fuse"), 0, (0, 0))
    return _Home(_("The room as a whole"), _("Room and doors"), 0, (0, 1))


def _station(shop: Shop, id_: str) -> _Home:
    station = shop.stations[id_]
    heading = _("Station by station")
    return _Home(heading, str(station.name), station.number, (2, station.number))


def _machine(shop: Shop, id_: str) -> _Home:
    return _station(shop, shop.machines[id_].station)


def _circuit(shop: Shop, id_: str) -> _Home:
    place = list(shop.room.circuits).index(id_)
    name = str(shop.room.circuits[id_].name)
    return _Home(_("Circuit by circuit"), name, 0, (1, place))


def _fan(shop: Shop, id_: str) -> _Home:
    place = list(shop.room.fans).index(id_)
    return _Home(_("Fans"), str(shop.room.fans[id_].name), 0, (3, place))


def _hood(shop: Shop, id_: str) -> _Home:
    return _station(shop, shop.room.hoods[id_].station)


def _session(shop: Shop, id_: str) -> _Home:
    place = list(shop.sessions).index(id_)
    return _Home(_("Session by session"), str(shop.sessions[id_].name), 0, (4, place))


def _role(shop: Shop, id_: str) -> _Home:
    place = list(shop.roles).index(id_)
    return _Home(_("Role by role"), str(shop.roles[id_].name), 0, (5, place))


def _container(shop: Shop, id_: str) -> _Home:
    place = list(shop.containers).index(id_)
    return _Home(_("Containers"), str(shop.containers[id_].name), 0, (6, place))


_HOMES: Mapping[str, Callable[[Shop, str], _Home]] = {
    "stations": _station,
    "machines": _machine,
    "room/circuits": _circuit,
    "room/fans": _fan,
    "room/hoods": _hood,
    "sessions": _session,
    "roles": _role,
    "containers": _container,
}
