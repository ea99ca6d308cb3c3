"""What can be made: the mould matrix, what an order takes, the trial book and faults in parts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from generator.ground.finding import Finding
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Working
from generator.handbook import photos
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render, slug
from generator.handbook.subjects import worst_first
from generator.reference import Value
from generator.shop.records.logs import Trial
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Mould, Polymer
from generator.workings.faults_in_parts import FAULTS, Case, Fault
from generator.workings.moulding import Cell, Entry, Fit, Order

MATRIX, TRIALS, FAULT_PAGE = "material/matrix", "material/trials", "material/faults"
_COUNT = 12
"""How many parts an order on a mould's page is worked out for."""
_FITS = tuple(Fit)
_DECIDES = frozenset({"shot", "clamp", "charge", "pressure", "cycle"})
"""Workings of a run by the end of their ids, without which nobody would try it."""
_RUNS = frozenset({Fit.PROVEN, Fit.POSSIBLE, Fit.FAILED, Fit.ASK})


def trial_anchor(trial: str) -> str:
    """A trial as the target of a link in the trial book."""
    return f"trial-{slug(trial)}"


def pages(desk: Desk) -> Iterator[Page]:
    """The mould matrix, the trial book and the faults in parts."""
    yield _matrix(desk)
    yield _trials(desk)
    yield _faults(desk)


# --- the mould matrix --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Alike:
    """Materials of one mould on one machine for which one answer holds, for the same reasons."""

    materials: tuple[tuple[Polymer | Blend, Trial | None], ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """One answer of a mould on a machine, and every material it holds for."""

    fit: Fit
    alike: tuple[Alike, ...]


@dataclass(frozen=True, slots=True)
class OnMachine:
    """A mould on one of its machines: every material by the answer, the best first."""

    mould: Mould
    machine: Machine
    cells: tuple[Cell, ...]

    @property
    def standings(self) -> tuple[Standing, ...]:
        """The answers that occur, with their materials and reasons."""
        return standings(self.cells)

    @property
    def stopped(self) -> tuple[Standing, ...]:
        """Only what cannot be run, or must not."""
        return standings(c for c in self.cells if c.fit not in _RUNS)

    def in_polymer(self, polymer: Polymer) -> Cell:
        """The cell of a polymer by itself."""
        return next(c for c in self.cells if c.material is polymer)


def on_machines(desk: Desk, mould: Mould) -> list[OnMachine]:
    """A mould on each of its machines."""
    cells: dict[str, list[Cell]] = defaultdict(list)
    for cell in desk.studies.moulding.matrix.of_mould(mould.id):
        cells[cell.machine.id].append(cell)
    return [OnMachine(mould, desk.shop.machines[m], tuple(found)) for m, found in cells.items()]


def standings(cells: Iterable[Cell]) -> tuple[Standing, ...]:
    """Cells by their answer, and within it by their reasons."""
    found: dict[Fit, dict[tuple[str, ...], list[Cell]]] = defaultdict(lambda: defaultdict(list))
    for cell in cells:
        found[cell.fit][why(cell)].append(cell)
    return tuple(_standing(fit, found[fit]) for fit in _FITS if fit in found)


def _standing(fit: Fit, groups: Mapping[tuple[str, ...], list[Cell]]) -> Standing:
    alike = (
        Alike(tuple((c.material, c.last_good) for c in cells), reasons)
        for reasons, cells in groups.items()
    )
    return Standing(fit, tuple(alike))


def why(cell: Cell) -> tuple[str, ...]:
    """What stands against a cell, in words.

    Of a material that the shop refuses, that it does so and nothing else: what a machine would
    have to be set to is no part of a refusal.
    """
    refused = tuple(r.says for r in cell.reasons if r.key == "refused")
    return refused or tuple(r.says for r in cell.reasons)


def _matrix(desk: Desk) -> Page:
    rows = [row for mould in desk.shop.moulds.values() for row in on_machines(desk, mould)]
    body = render(
        "matrix",
        MATRIX,
        shop=desk.shop,
        sentence=_matrix_sentence(rows),
        columns=_columns(desk),
        rows=rows,
        moulds=_by_mould(rows),
        fits=_FITS,
        trial_anchor=trial_anchor,
    )
    return Page(MATRIX, _("Mould matrix"), "matrix", "ML-01", body)


def _columns(desk: Desk) -> list[Polymer]:
    """The polymers worth a column: not refused by the shop or for their heat."""
    found = desk.shop.polymers.values()
    return [p for p in found if p.status != "refused" and not desk.refusals.polymer(p.id)]


def _by_mould(rows: Iterable[OnMachine]) -> list[tuple[Mould, list[OnMachine]]]:
    groups: dict[str, list[OnMachine]] = defaultdict(list)
    for row in rows:
        groups[row.mould.id].append(row)
    return [(found[0].mould, found) for found in groups.values()]


def _matrix_sentence(rows: list[OnMachine]) -> str:
    blends = [c for row in rows for c in row.cells if isinstance(c.material, Blend)]
    proven = {c.mould.id for c in blends if c.fit is Fit.PROVEN}
    untried = list(dict.fromkeys(str(r.mould.name) for r in rows if r.mould.id not in proven))
    says = _("{proven} of {all} moulds have made good parts in a blend of this shop.").format(
        proven=len(proven), all=len({row.mould.id for row in rows})
    )
    if untried:
        says += " " + _("Not yet: {moulds}.").format(moulds=", ".join(untried))
    return says


# --- what an order takes -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Making:
    """A mould on a machine: what an order takes in each material, and what is not run."""

    on: OnMachine
    orders: tuple[Order, ...]
    workings: tuple[Working, ...]


def makings(desk: Desk, mould: Mould) -> list[Making]:
    """What twelve parts take from a mould, on each machine and in each material it is run in."""
    workings = _workings_by(desk)
    return [_making(desk, on, workings) for on in on_machines(desk, mould)]


def _making(desk: Desk, on: OnMachine, workings: Mapping[str, list[Working]]) -> Making:
    cells = [cell for cell in on.cells if cell.fit in _RUNS]
    orders = tuple(_order(desk, cell) for cell in cells)
    return Making(on, orders, tuple(_worked_out(on, cells, workings)))


def _worked_out(
    on: OnMachine, cells: Iterable[Cell], workings: Mapping[str, list[Working]]
) -> Iterator[Working]:
    """All of what was tried in each polymer, and what decides of what was not."""
    tried: dict[str, bool] = {}
    for cell in cells:
        if cell.run:
            host = cell.run.melt.host.id
            tried[host] = tried.get(host, False) or bool(cell.trials)
    for host, all_of_it in tried.items():
        for working in workings.get(f"moulding.{on.mould.id}.{on.machine.id}.{host}", ()):
            if all_of_it or working.id.rpartition(".")[2] in _DECIDES:
                yield working


def _order(desk: Desk, cell: Cell) -> Order:
    study = desk.studies.moulding
    return study.order(cell.mould.id, cell.machine.id, cell.material.id, _COUNT)


def _workings_by(desk: Desk) -> Mapping[str, list[Working]]:
    """Workings of moulds by mould, machine and polymer."""
    found: dict[str, list[Working]] = defaultdict(list)
    for working in desk.studies.moulding.survey.workings:
        found[working.id.rpartition(".")[0]].append(working)
    return found


# --- the trial book ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Kept:
    """An entry of the trial book as a page shows it; ``refused`` is why it shows no settings."""

    entry: Entry
    mould: Mould
    blend: Blend
    refused: str
    melt_window: str
    mould_window: str

    @property
    def best(self) -> Trial | None:
        """The last known good trial, else the last usable one; none of what is refused."""
        return None if self.refused else self.entry.last_usable


def kept(desk: Desk, machine: Machine) -> list[Kept]:
    """The trial book of one machine."""
    return [_kept(desk, e) for e in desk.studies.moulding.book if e.machine == machine.id]


def known_good(desk: Desk, machine: Machine) -> list[Kept]:
    """What was last known to work on a machine, mould by mould."""
    return [entry for entry in kept(desk, machine) if entry.best]


def _kept(desk: Desk, entry: Entry) -> Kept:
    shop = desk.shop
    blend = shop.blends[entry.blend]
    refused = " ".join(desk.refusals.blend(blend))
    return Kept(
        entry, shop.moulds[entry.mould], blend, refused,
        _window(entry.window), _window(entry.mould_window),
    )  # fmt: skip


def _window(window: Value | None) -> str:
    if window is None:
        return ""
    return _("handbook {low} to {high}").format(low=f"{window.low:g}", high=show(window.high, "c"))


def _trials(desk: Desk) -> Page:
    machines = [(m, kept(desk, m)) for m in desk.shop.machines.values()]
    body = render(
        "trials",
        TRIALS,
        shop=desk.shop,
        sentence=_trials_sentence(desk.shop.logs.trials),
        machines=[(machine, found) for machine, found in machines if found],
        photo_of=partial(photos.shown, desk.shop),
        trial_anchor=trial_anchor,
    )
    return Page(TRIALS, _("Trial book"), "trials", "ML-02", body)


def _trials_sentence(trials: tuple[Trial, ...]) -> str:
    if not trials:
        return _("Nothing has been tried yet. Log the first shot, whatever comes of it.")
    good = sum(t.result == "good" for t in trials)
    last = max(trials, key=lambda t: (t.date, t.origin))
    says = ngettext(
        "{n} trial, {good} of them good. The last was {last}.",
        "{n} trials, {good} of them good. The last was {last}.",
        len(trials),
    )
    return says.format(n=len(trials), good=good, last=last.trial)


# --- faults in parts ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Met:
    """A fault: the shots it was logged on, newest first, and what each card says of it."""

    fault: Fault
    logged: tuple[Case, ...]
    cards: tuple[Case, ...]

    @property
    def open(self) -> tuple[Case, ...]:
        """Logged, and no good trial has followed."""
        return tuple(case for case in self.logged if case.mended_by is None)


def _faults(desk: Desk) -> Page:
    study = desk.studies.faults
    shots = list(_shots(desk))
    met = [_met(desk, fault, shots) for fault in FAULTS]
    body = render(
        "faults",
        FAULT_PAGE,
        shop=desk.shop,
        sentence=_faults_sentence(met),
        met=met,
        unread=study.unread,
        findings=_unread_findings(desk),
        trial_anchor=trial_anchor,
    )
    return Page(FAULT_PAGE, _("Faults in parts"), "faults", "ML-03", body)


def _met(desk: Desk, fault: Fault, shots: Iterable[tuple[str, str, str]]) -> Met:
    study = desk.studies.faults
    logged = sorted(study.of_fault(fault.key), key=_newest, reverse=True)
    cards = (study.guide(fault.key, *shot) for shot in shots)
    return Met(fault, tuple(logged), tuple(case for case in cards if case and case.causes))


def _newest(case: Case) -> tuple[str, str]:
    return (case.trial.date.isoformat(), case.trial.trial) if case.trial else ("", "")


def _shots(desk: Desk) -> Iterator[tuple[str, str, str]]:
    """One shot a forming machine, to read its card by: mould, machine and blend.

    The newest that made good parts, else any that can be run.
    """
    study = desk.studies.moulding
    found: dict[str, tuple[str, str, str]] = {}
    for cell in study.matrix.rows:
        if cell.fit in _RUNS and isinstance(cell.material, Blend):
            found.setdefault(cell.machine.id, (cell.mould.id, cell.machine.id, cell.material.id))
    good = [(e.last_good.date, e) for e in study.book if e.last_good and e.machine in found]
    for _day, entry in sorted(good, key=lambda row: row[0]):
        found[entry.machine] = (entry.mould, entry.machine, entry.blend)
    yield from found.values()


def _faults_sentence(met: Iterable[Met]) -> str:
    open_ = [case for row in met for case in row.open if case.trial]
    if not open_:
        return _("Every fault in the log was followed by a good trial.")
    names = ", ".join(case.trial.trial for case in open_ if case.trial)
    return ngettext(
        "{n} logged fault has no good trial after it yet: {trials}.",
        "{n} logged faults have no good trial after them yet: {trials}.",
        len(open_),
    ).format(n=len(open_), trials=names)


def _unread_findings(desk: Desk) -> list[Finding]:
    return worst_first(f for f in desk.studies.faults.survey.findings if f.rule == "faults.unread")
