"""The blend bench: a page on which a recipe is picked by fingertip, and the tables it works from.

The browser does the arithmetic, so everything it needs is worked out here: what is refused and
why, what goes with what, what stands in the shop. ``generator.workings.blends.trying`` is the
same arithmetic in Python, and a test holds the two equal.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from itertools import permutations
from typing import Any

from markupsafe import Markup

from generator.drawings import signals
from generator.ground.wording import N_, _
from generator.handbook.desk import Desk
from generator.handbook.ornaments import mark, mark_text
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.handbook.words import word
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, ColourLot, Consumable, Polymer, Product
from generator.shop.shop import Shop
from generator.workings.blends import colour, trying
from generator.workings.blends.grams import stock_g
from generator.workings.blends.told import letdown_of
from generator.workings.built import running_machines
from generator.workings.heat import material_of
from generator.workings.intake import flake_by_lot
from generator.workings.losses import chain_of
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.matrix import Matrix
from generator.workings.moulding.melts import solid_density
from generator.workings.moulding.reasons import (
    Kind,
    Reason,
    of_sharing,
    of_shrinkage,
    of_status,
    of_thirst,
    tolerated_percent,
)

PATH = "material/bench"
_FORMS = ("injection", "press")


def page(desk: Desk) -> Page:
    """The bench."""
    shop = desk.shop
    body = render(
        "bench",
        PATH,
        shop=shop,
        as_of=desk.as_of,
        tables=_in_script(page_tables(desk)),
        blends=[b for b in shop.blends.values() if not desk.refusals.blend(b)],
        products=list(shop.products.values()),
        polymers=_ordered(shop, desk.stock),
        marks={id_: mark(p) for id_, p in shop.polymers.items()},
        counted=max((row.date for row in shop.logs.stock), default=None),
    )
    return Page(PATH, _("Blend bench"), "bench", "ML-08", body)


def _ordered(shop: Shop, stock: Mapping[str, float]) -> list[Polymer]:
    """What is taken first, the fullest store first; what is refused last."""
    order = ("taken", "paused", "refused")
    return sorted(
        shop.polymers.values(), key=lambda p: (order.index(p.status), -stock.get(p.id, 0.0))
    )


def _in_script(data: object) -> Markup:
    """JSON for a script element that keeps the shop's own order of things."""
    return Markup(json.dumps(data, ensure_ascii=False).replace("<", "\\u003c"))


def page_tables(desk: Desk) -> dict[str, Any]:
    """The tables with what only the page's own script wants: words, marks and links."""
    shop = desk.shop
    found = tables(shop, desk.studies.moulding.kit, desk.studies.moulding.matrix)
    return found | {
        "shop": str(shop.shop.name),
        "asOf": day(desk.as_of),
        "says": {key: _(words) for key, words in _SAYS.items()},
        "severities": {key: _severity(key) for key in ("stop", "fix", "ask", "note")},
        "blends": [_blend(blend) for blend in shop.blends.values()],
        "taken": sorted(shop.blends),
    }


def _severity(key: str) -> str:
    """A severity's mark and word, as the page writes it."""
    return f'<span class="sev {key}">{signals.severity_svg(key, size=18)}{word(key)}</span>'


def _blend(blend: Blend) -> dict[str, Any]:
    """A recipe of the shop, to begin from."""
    return {
        "id": blend.id,
        "name": str(blend.name),
        "mixes": blend.mixes,
        "machines": list(blend.machines),
        "parts": [[p.polymer, p.colour or "", p.share_percent] for p in blend.parts],
        "additives": [[a.consumable, a.share_percent] for a in blend.additives],
    }


# --- the tables --------------------------------------------------------------------------------


def tables(shop: Shop, kit: Kit, matrix: Matrix) -> dict[str, Any]:
    """Everything the arithmetic of the bench needs, as plain data.

    Cautions are lists of a key, a severity and words. Masses in grams, densities in kg/m³,
    shares in per cent, temperatures in °C; None where the shop has not said.
    """
    lots = flake_by_lot(shop)
    machines = [m for m in shop.machines.values() if m.process in _FORMS]
    return {
        "cells": colour.CELLS,
        "polymers": {id_: _polymer(kit, p, lots) for id_, p in shop.polymers.items()},
        "dangers": _dangers(shop),
        "pairs": _pairs(shop, kit),
        "windows": {process: dict(_windows(shop, process)) for process in _FORMS},
        "machines": {m.id: _machine(kit, m) for m in machines},
        "stirred": {r.id: _stirred(r) for r in _stirrable(shop)},
        "products": {id_: _product(kit, p) for id_, p in shop.products.items()},
        "loads": {id_: _loads(kit, matrix, p) for id_, p in shop.products.items()},
        "words": {key: _(words) for key, words in _WORDS.items()},
    }


def _cautions(reasons: Iterable[Reason]) -> list[list[str]]:
    found = (trying.caution_of(reason) for reason in reasons)
    return [[c.key, str(c.severity), c.says] for c in found]


def _polymer(
    kit: Kit, polymer: Polymer, lots: Mapping[tuple[str, str], float]
) -> dict[str, Any]:  # fmt: skip
    density = solid_density(polymer)
    row = reference().find_polymer(polymer.code)
    thirsty = row is not None and row.hygroscopic
    mine = {colour: kg for (id_, colour), kg in lots.items() if id_ == polymer.id}
    return {
        "name": str(polymer.name),
        "mark": mark_text(polymer).unescape(),
        "bases": list(material_of(polymer).bases),
        "status": polymer.status,
        "never": " ".join(kit.refusals.named(polymer.id)),
        "standing": _cautions(of_status(polymer)),
        "wet": _cautions(of_thirst(kit, polymer)) if thirsty else [],
        "shrinkage": _cautions(of_shrinkage(polymer)),
        "density": density.value if density else None,
        "grams": 1000 * sum(mine.values()),
        "colours": {
            id_: _colour(lot, 1000 * mine.get(id_, 0.0)) for id_, lot in polymer.colours.items()
        },
    }


def _colour(lot: ColourLot, grams: float) -> dict[str, Any]:
    return {
        "name": str(lot.name),
        "hex": lot.hex,
        "reflectance": lot.reflectance,
        "grams": grams,
    }


def _dangers(shop: Shop) -> list[dict[str, Any]]:
    """Pairs among the shop's polymers that must never be in one recipe."""
    codes = [polymer.code for polymer in shop.polymers.values()]
    return [
        {"codes": list(d.codes), "one": d.codes[0], "other": d.codes[1], "reason": _(d.reason)}
        for d in reference().never_together(codes)
    ]


def _pairs(shop: Shop, kit: Kit) -> dict[str, dict[str, Any]]:
    """By host and minor, how much of a stranger is borne; left out where the two mix."""
    found: dict[str, dict[str, Any]] = {}
    mild = [p for p in shop.polymers.values() if not kit.refusals.polymer(p.id)]
    for host, minor in permutations(mild, 2):
        worst = reference().compatible(host.code, minor.code).worst
        if worst != "G":
            most = tolerated_percent(host.code, minor.code)
            pair = {"known": worst is not None, "most": most}
            found.setdefault(host.id, {})[minor.id] = pair
    return found


def _windows(shop: Shop, process: Any) -> Iterator[tuple[str, Any]]:
    """By polymer, the melt's lowest and highest temperature, or a caution why there is none."""
    for id_, polymer in shop.polymers.items():
        window = reference().open_window(polymer.code, process)
        if window.temperature is not None:
            yield id_, [window.temperature.low, window.temperature.high]
        else:
            kind: Kind = "ask" if window.stance == "no-figures" else "no"
            reason = Reason(kind, "window", _(window.reason), polymer.origin)
            yield id_, {"caution": _cautions([reason])[0]}


def _machine(kit: Kit, machine: Machine) -> dict[str, Any]:
    return {
        "name": str(machine.name),
        "process": machine.process,
        "setUp": machine.id in running_machines(kit.shop),
        "highest": machine.heat.highest_c if machine.heat else None,
        "sharing": _cautions(of_sharing(kit, machine)),
        "settings": _settings(machine),
    }


def _settings(machine: Machine) -> dict[str, Any]:
    """By polymer, the first setting's melt and what the machine is purged with."""
    found: dict[str, Any] = {}
    for setting in machine.settings:
        row = {"melt": setting.melt_c, "purge": 1000 * (setting.purge_kg or 0.0)}
        found.setdefault(setting.polymer, row)
    return found


def _stirrable(shop: Shop) -> list[Consumable]:
    """Masterbatches, and whatever else a recipe of the shop stirs in."""
    named = {a.consumable for blend in shop.blends.values() for a in blend.additives}
    found = shop.consumables.values()
    return [r for r in found if r.kind == "masterbatch" or r.id in named]


def _stirred(record: Consumable) -> dict[str, Any]:
    usual = letdown_of(record)
    return {
        "name": str(record.name),
        "masterbatch": record.kind == "masterbatch",
        "hex": record.hex,
        "density": record.density_kgm3,
        "grams": stock_g(record),
        "low": usual.low,
        "high": usual.high,
    }


def _product(kit: Kit, product: Product) -> dict[str, Any]:
    mould = kit.shop.moulds[product.mould]
    kept = chain_of(step.loss_percent / 100 for step in product.finish)
    return {
        "name": str(product.name),
        "mould": str(mould.name),
        "machines": [m for m in mould.machines if kit.shop.machines[m].process in _FORMS],
        "cavities": mould.cavities,
        "parts": product.parts,
        "each": product.mass_g / product.parts / kept if kept else 0.0,
        "sprue": mould.sprue_cm3,
        "hosts": [[id_, name] for id_, name in trying.hosts_of(kit, product).items()],
        "blends": list(product.blends),
    }


def _loads(kit: Kit, matrix: Matrix, product: Product) -> dict[str, Any]:
    """By machine, what stands against the mould there: under "" whatever is run, and under a
    polymer in that one. Left out where nothing does."""
    found: dict[str, Any] = {}
    for machine in kit.shop.machines.values():
        if machine.process in _FORMS:
            found[machine.id] = dict(_against(kit, matrix, product, machine))
    return {id_: against for id_, against in found.items() if against}


def _against(
    kit: Kit, matrix: Matrix, product: Product, machine: Machine
) -> Iterator[tuple[str, Any]]:
    if cautions := _cautions(trying.fits(kit, product, machine)):
        yield "", cautions
    for id_ in (id_ for id_ in kit.shop.polymers if not kit.refusals.polymer(id_)):
        if cautions := _cautions(trying.loads(kit, matrix, product, machine, id_)):
            yield id_, cautions


# --- words -------------------------------------------------------------------------------------

_WORDS = {
    "short": trying.SHORT,
    "notCounted": trying.NOT_COUNTED,
    "letdown": trying.LETDOWN,
    "noDensity": trying.NO_DENSITY,
    "otherHost": trying.OTHER_HOST,
    "notSetUp": trying.NOT_SET_UP,
    "unknownPair": trying.UNKNOWN_PAIR,
    "together": N_("{one} with {other}: {reason}"),
    "noProcess": N_("{machine} forms no parts in a mould."),
    "noOverlap": N_("Its polymers have no melt temperature in common."),
    "span": N_("{low} to {high}"),
    "tooCold": N_("{machine} ends at {highest}, and it wants {wants}."),
    "noSetting": N_(
        "{machine} has no setting for it. The tables give {wants}: begin at the bottom."
    ),
    "aboveWindow": N_(
        "{machine} is set to {set}, above the {high} at which an open machine alarms."
    ),
    "belowWindow": N_("{machine} is set to {set}, under its window of {wants}."),
    "layers": N_("{share} {minor} in {host} comes off in layers: no share is known to hold."),
    "layersMost": N_("{share} {minor} in {host} comes off in layers: it takes {limit} at most."),
    "noColour": colour.NO_COLOUR,
    "noShares": colour.NO_SHARES,
    "noReflectance": colour.NO_REFLECTANCE,
    "tints": colour.TINTS,
}
"""Sentences with figures in them, which the browser sets in as the workings do."""

_SAYS = {
    "none": N_("Touch a flake to begin, or open a written recipe."),
    "noStock": N_("none counted"),
    "notCounted": N_("not counted by mass"),
    "neverTile": N_("never heated"),
    "notWith": N_("not with {host}"),
    "littleWith": N_("{most} at most in {host}"),
    "less": N_("Less: {what}"),
    "more": N_("More: {what}"),
    "away": N_("Take out {what}"),
    "partsOf": N_("Parts of {what}"),
    "shareOf": N_("Per cent of {what}"),
    "inThePan": N_("All in the pan"),
    "partsMass": N_("of it parts: {n} from {shots} shots, with what finishing takes off"),
    "sprue": N_("of it sprue and flash"),
    "purge": N_("of it to purge with"),
    "volume": N_("Volume, cold"),
    "notKnown": N_("not known"),
    "later": N_("(not set up yet)"),
    "pieces": N_("Pieces"),
    "toWeigh": N_("Grams to weigh out"),
    "noLook": N_("Touch a flake to see it."),
    "noLookRefused": N_("Nothing is shown of a refused recipe."),
    "melted": N_("Melted together"),
    "byReflectance": N_("Worked out from the reflectance of each flake."),
    "preview": N_("preview"),
    "before": N_("The flake before it melts"),
    "flakes": N_("Flakes side by side"),
    "afar": N_("From across the room"),
    "meanLight": N_("Mean of their light, by volume."),
    "byVolume": N_("By volume: {shares}."),
    "nothingYet": N_("Nothing yet."),
    "nothingToMind": N_("Nothing was found against it. That is not a promise: try a few first."),
    "refused": N_("Refused: do not make it."),
    "unnamed": N_("Recipe"),
    "forShop": N_("For blends.yml:"),
    "cardTitle": N_("Recipe card"),
    "cardCaution": N_("Weigh to the tenth and tick each line. A trial chip decides the colour."),
    "batch": N_("Batch label"),
    "weighed": N_("Weighed by, on"),
    "chip": N_("Trial chip"),
    "setting": N_("{machine} is set to {melt} for it."),
    "noSetting": N_("{machine} has no written temperature for it: ask whoever is in charge."),
    "footTotal": N_("{total} in the pan, {n} lines"),
    "told": N_("{total} in the pan, {n} things to mind."),
    "copy": N_("Copy the line"),
    "copied": N_("Copied"),
    "stop": N_("Stop"),
    "fix": N_("Fix"),
    "ask": N_("Ask"),
    "note": N_("Note"),
}
"""What the page's script says."""
