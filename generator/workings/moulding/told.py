"""What the lead must know of moulding: what does not fit, does not melt, was never tried."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show, show_number
from generator.ground.wording import N_, _
from generator.shop.records.logs import Trial
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Mould, Product
from generator.shop.shop import Shop
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.matrix import Cell, Fit, Matrix
from generator.workings.moulding.melts import unbelieved
from generator.workings.moulding.reasons import Reason, of_fit, of_material
from generator.workings.moulding.trials import Entry

_RESULTS = {"good": N_("good"), "usable": N_("usable"), "failed": N_("failed")}

_MOST_OFF_K = 5.0
"""A card further from the last good trial than this is another setting."""


def findings(kit: Kit, matrix: Matrix) -> Iterator[Finding]:
    """Everything found of a shop's moulds, machines, settings and trials."""
    yield from unbelieved(kit.shop.polymers.values())
    yield from _fits(kit)
    yield from _settings(kit)
    yield from _wet(kit)
    made = made_cells(kit.shop, matrix)
    yield from _no_way(made)
    yield from _untried(matrix, made)
    yield from _minded(made)
    yield from _contradicted(kit, matrix)
    for entry in kit.book.entries:
        yield from _of_entry(kit, entry)


def _finding(
    severity: Severity, rule: str, origin: Origin, says: str, mend: str, *, subject: str
) -> Finding:
    asks = "maintainer" if severity is Severity.ASK else ""
    return Finding(f"moulding.{rule}", severity, origin, says, mend, subject=subject, asks=asks)


# --- moulds and settings -----------------------------------------------------------------------


def _fits(kit: Kit) -> Iterator[Finding]:
    for mould in kit.shop.moulds.values():
        for id_ in mould.machines:
            machine = kit.shop.machines[id_]
            for reason in of_fit(kit, mould, machine):
                says = _("{mould} on {machine}: {reason}").format(
                    mould=mould.name, machine=machine.name, reason=reason.says
                )
                worn = reason.key == "worn"
                mend = (
                    _("Have it looked at before the next run, and write what it is still good for.")
                    if worn
                    else _("Take the machine out of the mould's `machines`, or correct the size.")
                )
                severity = Severity.NOTE if worn else Severity.FIX
                yield _finding(
                    severity, reason.key, reason.origin, says, mend, subject=f"moulds/{mould.id}"
                )


def _settings(kit: Kit) -> Iterator[Finding]:
    """Settings outside the window, or beyond the machine."""
    for machine in kit.shop.machines.values():
        if machine.process not in ("injection", "press"):
            continue
        for setting in machine.settings:
            if kit.refusals.polymer(setting.polymer):
                continue
            melt = kit.melts.of_polymer(setting.polymer)
            for reason in of_material(kit, machine, melt, None):
                if reason.key in _MENDS:
                    yield _of_setting(machine, str(melt.host.name), reason)


_MENDS = {
    "above-window": Severity.FIX,
    "too-cold": Severity.FIX,
    "below-window": Severity.NOTE,
}


def _of_setting(machine: Machine, polymer: str, reason: Reason) -> Finding:
    mends = {
        "above-window": _("Set it inside the window, or show the grade's own data sheet."),
        "too-cold": _("Take the setting out, or correct the machine's `highest`."),
        "below-window": _("Raise it into the window, or log the trial that shows it melts."),
    }
    says = _("{polymer}: {reason}").format(polymer=polymer, reason=reason.says)
    severity, subject = _MENDS[reason.key], f"machines/{machine.id}"
    return _finding(severity, reason.key, reason.origin, says, mends[reason.key], subject=subject)


def _wet(kit: Kit) -> Iterator[Finding]:
    """What is taken, drinks water and cannot be dried."""
    for polymer in kit.shop.polymers.values():
        melt = kit.melts.of_polymer(polymer.id)
        if polymer.status != "taken" or not melt.thirsty or kit.refusals.polymer(polymer.id):
            continue
        found = kit.dryness(polymer)
        if found.standing == "dries":
            continue
        cannot = found.standing == "cannot"
        says = _("{polymer} is taken and must be dried before it is melted. {why}").format(
            polymer=polymer.name, why=found.says
        )
        yield _finding(
            Severity.FIX if cannot else Severity.ASK, "wet", polymer.origin_of("status"), says,
            _("Pause it at the door until the dryer is set for it, checked and signed."),
            subject=f"polymers/{polymer.id}",
        )  # fmt: skip


# --- products ----------------------------------------------------------------------------------

Made = tuple[Product, Blend, tuple[Cell, ...]]


def made_cells(shop: Shop, matrix: Matrix) -> list[Made]:
    """Of each product and blend, the cells it can be made in."""
    return [
        (product, shop.blends[blend], tuple(_cells(shop, matrix, product, blend)))
        for product in shop.products.values()
        for blend in product.blends
    ]


def _cells(shop: Shop, matrix: Matrix, product: Product, blend: str) -> Iterator[Cell]:
    for machine in shop.moulds[product.mould].machines:
        yield matrix.cell(product.mould, machine, blend)


def _no_way(made: Iterable[Made]) -> Iterator[Finding]:
    """A product that no machine can make of a blend it is listed in."""
    for product, blend, cells in made:
        if any(cell.fit not in (Fit.NO, Fit.REFUSED) for cell in cells):
            continue
        why = " ".join(dict.fromkeys(r.says for cell in cells for r in cell.against))
        says = _("{product} cannot be made of {blend}. {why}").format(
            product=product.name, blend=blend.name, why=why
        )
        yield _finding(
            Severity.FIX, "no-way", product.origin_of("blends"), says,
            _("Take the blend out of the product, or mend what stands against it."),
            subject=f"products/{product.id}",
        )  # fmt: skip


def _untried(matrix: Matrix, made: Iterable[Made]) -> Iterator[Finding]:
    """Blends of a mould's products that have no good trial, told once a mould."""
    rows = [(cells[0].mould, blend, cells) for _product, blend, cells in made if cells]
    rows.sort(key=lambda row: row[0].origin)
    for mould, group in groupby(rows, key=lambda row: row[0]):
        blends = {
            str(blend.name): cells for _mould, blend, cells in group if _is_untried(matrix, cells)
        }
        if blends:
            yield _untried_in(mould, blends)


def _is_untried(matrix: Matrix, cells: Iterable[Cell]) -> bool:
    """Never good, and more than another colour of a polymer that was."""
    open_ = [cell for cell in cells if cell.fit not in (Fit.NO, Fit.REFUSED)]
    if not open_ or any(cell.fit is Fit.PROVEN for cell in open_):
        return False
    tried = any(cell.trials for cell in open_)
    return tried or not any(_polymer_is_proven(matrix, cell) for cell in open_)


def _polymer_is_proven(matrix: Matrix, cell: Cell) -> bool:
    if cell.run is None or len(cell.run.melt.parts) > 1:
        return False
    host = cell.run.melt.host
    return matrix.cell_of(cell.mould.id, cell.machine.id, host).fit is Fit.PROVEN


def _untried_in(mould: Mould, blends: dict[str, tuple[Cell, ...]]) -> Finding:
    tried = [t for cells in blends.values() for cell in cells for t in cell.trials]
    so_far = "; ".join(
        _("{trial}: {result}").format(trial=t.trial, result=t.fault or _(_RESULTS[t.result]))
        for t in tried
    )
    says = _("{mould} has no good trial in {blends}, though products are listed in it.").format(
        mould=mould.name, blends=", ".join(blends)
    )
    if so_far:
        says = f"{says} {_('So far {tried}.').format(tried=so_far)}"
    mend = _("Try it before it is promised, and log the line whatever comes of it.")
    return _finding(
        Severity.NOTE, "untried", mould.origin, says, mend, subject=f"moulds/{mould.id}"
    )


def _minded(made: Iterable[Made]) -> Iterator[Finding]:
    """What is to be minded where products are made: once a mould, machine and reason."""
    told = set()
    for _product, _blend, cells in made:
        for cell in cells:
            for reason in cell.reasons:
                key = (cell.mould.id, cell.machine.id, reason.key)
                if reason.key in _MINDED and cell.fit is not Fit.NO and key not in told:
                    told.add(key)
                    yield _mind(cell, reason)
            if (cell.mould.id, cell.machine.id, "cooling") not in told and _opens_early(cell):
                told.add((cell.mould.id, cell.machine.id, "cooling"))
                yield _early(cell)


_MINDED = frozenset({"hot-hold", "clamp", "not-timed"})


def _mind(cell: Cell, reason: Reason) -> Finding:
    mends = {
        "hot-hold": _("Purge between, or put a mould with a heavier shot on it."),
        "clamp": _("Begin with less injection pressure, and look at the parting line."),
        "not-timed": _("Time one from closing to opening, and log it."),
    }
    says = _("{mould} in {material} on {machine}: {reason}").format(
        mould=cell.mould.name, material=cell.material.name, machine=cell.machine.name,
        reason=reason.says,
    )  # fmt: skip
    subject = f"moulds/{cell.mould.id}"
    return _finding(
        Severity.NOTE, reason.key, reason.origin, says, mends[reason.key], subject=subject
    )


def _opens_early(cell: Cell) -> bool:
    run = cell.run
    if run is None or run.cooling is None or run.mould.cooling_s is None or cell.fit is Fit.NO:
        return False
    hold = run.how.hold.value if run.how.hold else 0.0
    return run.mould.cooling_s + hold < run.cooling.mean_s


def _early(cell: Cell) -> Finding:
    run = cell.run
    assert run is not None and run.cooling is not None and run.mould.cooling_s is not None
    says = _(
        "{mould} is opened after {own} of cooling; in {material} even the mean of its wall needs"
        " {mean} and the middle {middle}."
    ).format(
        mould=cell.mould.name, material=cell.material.name, own=show(run.mould.cooling_s, "s", 0),
        mean=show(run.cooling.mean_s, "s", 0), middle=show(run.cooling.middle_s, "s", 0),
    )  # fmt: skip
    return _finding(
        Severity.NOTE, "opens-early", run.mould.origin_of("cooling_s"), says,
        _("Wait longer, or look for warp and sink and write down that there is none."),
        subject=f"moulds/{cell.mould.id}",
    )  # fmt: skip


def _contradicted(kit: Kit, matrix: Matrix) -> Iterator[Finding]:
    for entry in kit.book.entries:
        cell, trial = matrix.cell(entry.mould, entry.machine, entry.blend), entry.last_good
        if not cell.contradicted or trial is None:
            continue
        says = _("Trial {trial} made good parts where the figures say no. {why}").format(
            trial=trial.trial, why=" ".join(r.says for r in cell.against)
        )
        mend = _("One of the figures is wrong: measure it again.")
        yield _finding(
            Severity.NOTE, "contradicted", cell.against[0].origin, says, mend,
            subject=f"moulds/{cell.mould.id}",
        )  # fmt: skip


# --- the trial book ----------------------------------------------------------------------------


def _of_entry(kit: Kit, entry: Entry) -> Iterator[Finding]:
    good = entry.last_good
    if good is not None:
        yield from _off_card(kit, entry, good)
        yield from _too_hot(entry, good)
        yield from _weighed(kit, entry, good)


def _off_card(kit: Kit, entry: Entry, good: Trial) -> Iterator[Finding]:
    """A machine's card that says otherwise than the last good trial."""
    card = entry.card
    if good.melt_c is None or card is None or card.melt_c is None:
        return
    if abs(card.melt_c - good.melt_c) <= _MOST_OFF_K:
        return
    says = _("The card of {machine} says {card}, and trial {trial} was good at {good}.")
    yield _finding(
        Severity.NOTE, "card-differs", card.origin_of("melt_c"),
        says.format(machine=kit.shop.machines[entry.machine].name, card=show(card.melt_c, "c"),
                    trial=good.trial, good=show(good.melt_c, "c")),
        _("Write on the card what was good, or log the trial that was better."),
        subject=f"machines/{entry.machine}",
    )  # fmt: skip


def _too_hot(entry: Entry, good: Trial) -> Iterator[Finding]:
    """Good parts made above the window are still made in fume."""
    if good.melt_c is None or entry.window is None or good.melt_c <= entry.window.high:
        return
    says = _("Trial {trial} ran at {good}, above the {high} at which an open machine alarms.")
    yield _finding(
        Severity.FIX, "trial-above-window", good.origin,
        says.format(trial=good.trial, good=show(good.melt_c, "c"),
                    high=show(entry.window.high, "c")),
        _("Do not run it so again; find good parts inside the window."),
        subject=f"machines/{entry.machine}",
    )  # fmt: skip


def _weighed(kit: Kit, entry: Entry, good: Trial) -> Iterator[Finding]:
    """A good part that weighs other than its volume and density say."""
    spread = kit.figure("part-mass-spread").value
    density = kit.melts.of_blend(kit.shop.blends[entry.blend]).density
    if not good.part_g or density is None:
        return
    mould = kit.shop.moulds[entry.mould]
    worked = mould.part_volume_cm3 * density.value / 1000
    off = 100 * (good.part_g / worked - 1)
    if abs(off) <= spread:
        return
    says = _("{mould} weighed {scale} in trial {trial}; its volume and density make {worked}.")
    yield _finding(
        Severity.NOTE, "weighs-otherwise", good.origin,
        says.format(mould=mould.name, scale=show(good.part_g, "g", 1), trial=good.trial,
                    worked=f"{show(worked, 'g', 1)} ({show_number(off, 0)} %)"),
        _("Weigh ten, or correct the mould's `part_volume`."),
        subject=f"moulds/{mould.id}",
    )  # fmt: skip
