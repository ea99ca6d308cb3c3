"""Pages of what can be made, read as a reader meets them."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from functools import cache
from html import unescape
from pathlib import Path
from xml.etree import ElementTree as ET

import markdown
import pytest

from generator.ground.resources import resource
from generator.handbook import book, keeping_apart, making
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.faults_in_parts import FAULTS
from generator.workings.for_readers import for_readers
from generator.workings.moulding import FIT_WORDS, Fit
from tests.pages import seen
from tests.small import shop_with

AS_OF = dt.date(2026, 11, 25)


@cache
def desk() -> Desk:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return Desk(shop, AS_OF)


@cache
def pages() -> dict[str, Page]:
    """Every page of the demonstration shop, by its path."""
    return {page.path: page for page in book.make(desk().shop, AS_OF, "en").pages}


@cache
def html(path: str) -> str:
    return markdown.markdown(pages()[path].body, extensions=["toc", "md_in_html"])


def words(text: str) -> str:
    """Text without its tags, its spaces collapsed."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())


def said(path: str) -> str:
    return words(html(path))


def part(path: str, heading: str) -> str:
    """The part under one heading, as HTML."""
    after = html(path).split(f">{heading}</h2>", 1)[1]
    return after.split("<h2", 1)[0]


# --- the mould matrix --------------------------------------------------------------------------


def test_every_cell_of_every_mould_has_its_word_and_each_no_its_reason() -> None:
    matrix = desk().studies.moulding.matrix
    for mould in desk().shop.moulds.values():
        on_page = part(making.MATRIX, str(mould.name))
        for cell in matrix.of_mould(mould.id):
            shown = _cells_of(on_page, str(cell.machine.name))
            word, reason = shown[str(cell.material.name)]
            assert word == FIT_WORDS[cell.fit]
            assert reason or cell.fit not in (Fit.NO, Fit.REFUSED)
            if cell.against:
                assert _normal(making.why(cell)[0]) in reason


def _cells_of(on_page: str, machine: str) -> dict[str, tuple[str, str]]:
    """Word and reason of each material, under the heading of a machine."""
    after = next(p for p in on_page.split("<h3>")[1:] if machine in p.split("</h3>")[0])
    tree = ET.fromstring(re.search(r'<div class="fits">.*?\n</div>\n?$', _cut(after), re.S)[0])  # type: ignore[index]
    found = {}
    for group in tree:
        word = "".join(group[0].itertext()).strip()
        for item in group[1]:
            reason = _normal(" ".join("".join(p.itertext()) for p in item.iter("p")))
            named = [e for e in item.iter("span") if e.get("class") == "fit-name"]
            for name in named or [item[0]]:
                found["".join(name.itertext()).strip()] = (word, reason)
    return found


def _cut(after: str) -> str:
    """A machine's block of answers alone, without named entities."""
    start = after.index('<div class="fits">')
    block = after[start:]
    end = block.index("\n</div>\n", block.rindex("</ul></div>")) + len("\n</div>\n")
    return block[:end]


def _normal(text: str) -> str:
    return " ".join(text.split())


def test_the_matrix_says_which_moulds_have_no_good_part() -> None:
    good = {t.mould for t in desk().shop.logs.trials if t.result == "good"}
    lede = said(making.MATRIX).split("proven")[0]
    for mould in desk().shop.moulds.values():
        assert (str(mould.name) in lede) is (mould.id not in good)


def test_what_is_never_heated_is_told_its_refusal_and_nothing_else() -> None:
    for cell in desk().studies.moulding.matrix.of_mould("drawer-pull"):
        if cell.fit is Fit.REFUSED:
            assert making.why(cell) == (desk().refusals.polymer(cell.material.id),)


def test_a_polymer_the_shop_refuses_is_told_no_temperature_of_a_machine() -> None:
    for mould in desk().shop.moulds:
        for cell in desk().studies.moulding.matrix.of_mould(mould):
            if getattr(cell.material, "status", "") == "refused" and cell.fit is Fit.NO:
                own = str(getattr(cell.material, "why", ""))
                for line in making.why(cell):
                    assert "°C" not in line.replace(own, "")


# --- orders ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mould", "machine", "blend"),
    [("drawer-pull", "screw-injector", "pp-slate"), ("wedge-six", "platen-press", "hd-gravel"),
     ("drawer-pull", "screw-injector", "pp")],
)  # fmt: skip
def test_a_moulds_page_says_what_twelve_take(mould: str, machine: str, blend: str) -> None:
    order = desk().studies.moulding.order(mould, machine, blend, 12)
    assert words(order.says) in said(f"moulds/{mould}")


def test_twelve_drawer_pulls_as_counted_by_hand() -> None:
    """Set 8 min, 12 shots of 100 s by trial T30, clean down 15 min; heat up and soak beside."""
    heat = desk().shop.machines["screw-injector"].heat
    assert heat is not None
    minutes = round(heat.heat_up_min + heat.soak_min + 8 + 12 * 100 / 60 + 15)
    shown = f"{minutes // 60} h {minutes % 60:02d} min"
    assert shown in words(part("moulds/drawer-pull", "Twelve on the screw injector"))


def test_no_order_is_worked_out_for_what_is_refused() -> None:
    for mould in desk().shop.moulds.values():
        for made in making.makings(desk(), mould):
            materials = {order.cell.material.id for order in made.orders}
            assert materials.isdisjoint({"pvc", "pom", "foam", "unknown", "housings", "pet"})
            assert not any(".pvc." in working.id for working in made.workings)


# --- the trial book ----------------------------------------------------------------------------


def test_every_trial_stands_in_the_book_once_with_its_result() -> None:
    page = html(making.TRIALS)
    published = for_readers(desk().shop).logs.trials
    assert len(published) == len(desk().shop.logs.trials)
    for trial in published:  # a fault in the trade's words; the moulder's own stay in the shop
        row = re.findall(rf'<tr id="trial-{trial.trial.lower()}">.*?</tr>', page, re.S)
        assert len(row) == 1
        assert trial.result in words(row[0]).lower()
        assert trial.fault in words(row[0])


def test_a_machine_shows_its_last_known_good_beside_the_window() -> None:
    shown = words(part("machines/plunger-injector", "Last known good"))
    assert "Drawer pull in Rust 215 °C handbook" in _spaced(shown)
    assert "T15 Good" in shown and "T14" not in shown
    assert "T18 Usable, flash" in shown


def _spaced(text: str) -> str:
    return text.replace("\u202f", " ")


def test_settings_of_a_refused_blend_are_shown_nowhere() -> None:
    """A trial logged in a blend that must not be heated: its result stays, its settings go."""
    found = making.kept(desk(), desk().shop.machines["screw-injector"])[0]
    stopped = replace(found, refused="It gives off acid.")
    assert found.best is not None and stopped.best is None
    machine = desk().shop.machines["screw-injector"]
    body = render("trials", making.TRIALS, shop=desk().shop, sentence="", photo_of=lambda _t: None,
                  machines=[(machine, [stopped])], trial_anchor=making.trial_anchor)  # fmt: skip
    assert "It gives off acid." in body and str(found.entry.trials[0].trial) in body
    assert "°C" not in body and "MPa" not in body


# --- faults in parts ---------------------------------------------------------------------------


def test_each_fault_names_the_logs_trials_and_the_first_thing_to_change() -> None:
    for fault in FAULTS:
        shown = words(part(making.FAULT_PAGE, fault.name))
        cases = desk().studies.faults.of_fault(fault.key)
        for case in cases:
            assert case.trial is not None
            assert f"{case.trial.trial} :" in shown or f"{case.trial.trial}:" in shown
            assert words(case.change) in shown
            for cause in case.causes:
                assert words(cause.says) in shown


def test_a_burn_on_the_screw_is_answered_with_the_shops_own_figures() -> None:
    shown = _spaced(words(part(making.FAULT_PAGE, "Burn")))
    assert "Set Screw injector to 220 °C." in shown
    assert "238 °C against 220 °C" in shown
    assert "No good trial has followed yet." in shown


# --- telling apart -----------------------------------------------------------------------------


def test_every_answer_of_the_key_leads_to_a_step_or_an_end() -> None:
    page = html(keeping_apart.TELLING)
    assert page.count('<li id="step-') == len(desk().studies.apart.steps)
    for step in desk().studies.apart.steps:
        item = page.split(f'<li id="step-{step.number}">', 1)[1].split('<li id="step-', 1)[0]
        for answer in step.answers:
            assert _normal(answer.says) in words(item)
            ends = {"taken": "Taken", "paused": "Paused", "refused": "Refused"}
            leads = f"to step {answer.to}" if answer.to else ends.get(answer.outcome, "Quarantine")
            assert leads in words(item)


def test_baths_say_their_grams_and_what_no_bath_parts() -> None:
    shown = _spaced(said(keeping_apart.TELLING))
    assert "190 g" in shown
    for pair in desk().studies.apart.pairs:
        names = [str(desk().shop.polymers[id_].name) for id_ in (pair.floats, pair.sinks)]
        together = " and ".join(names) in words(part(keeping_apart.TELLING, "Not separable"))
        assert together is (pair.standing == "not separable")


def test_a_bath_that_burns_carries_its_caution_beside_it() -> None:
    table = words(part(keeping_apart.TELLING, "Baths, and what parts in them"))
    assert table.index("Ethanol in water") < table.index("Flammable")
    assert "No flame tests." in said(keeping_apart.TELLING)


# --- purity ------------------------------------------------------------------------------------


def test_the_page_says_why_the_grey_pipe_is_refused() -> None:
    answers = desk().studies.purity.why_not("grey pipe")
    assert answers
    for answer in answers:
        assert words(answer.says) in said(keeping_apart.PURITY)


def test_each_change_shows_its_minutes_and_grams() -> None:
    shown = _spaced(words(part(keeping_apart.PURITY, "From one polymer to the next")))
    screw = shown.split("Screw injector")[1].split("Plunger injector")[0]
    assert "25 min, 400 g" in screw
    assert screw.count("15 min, 300 g") == 4


def test_every_pair_of_the_table_stands_under_its_host() -> None:
    for row in keeping_apart.strays(desk()):
        minors = {polymer.id for _outcome, rows in row.outcomes for polymer, *_rest in rows}
        assert minors == set(desk().shop.polymers) - {row.host.id}


# --- links, and small shops --------------------------------------------------------------------


@pytest.mark.parametrize(
    "path",
    [making.MATRIX, making.TRIALS, making.FAULT_PAGE, keeping_apart.TELLING, keeping_apart.PURITY,
     "moulds/drawer-pull", "machines/screw-injector"],
)  # fmt: skip
def test_links_between_these_pages_resolve(path: str) -> None:
    known = {page.address: page.path for page in pages().values()}
    for link in seen(html(path)).links:
        address, _hash, anchor = link.partition("#")
        target = _resolved(path, address) if address else f"{path}.html"
        if target in known and anchor:
            assert anchor in seen(html(known[target])).ids, link
        assert target in known, link


def _resolved(path: str, address: str) -> str:
    parts = path.split("/")[:-1]
    while address.startswith("../"):
        parts, address = parts[:-1], address[3:]
    return "/".join([*parts, address])


def test_a_shop_without_moulds_or_trials_has_these_pages_too(tmp_path: Path) -> None:
    shop: Shop = shop_with(tmp_path)
    small = Desk(shop, AS_OF)
    made = [*making.pages(small), *keeping_apart.pages(small)]
    assert [page.number for page in made] == ["ML-01", "ML-02", "ML-03", "ML-04", "ML-05"]
    assert "Nothing has been tried yet" in made[1].body


def test_a_mould_page_shows_the_findings_on_its_mould_and_its_products() -> None:
    for mould in desk().shop.moulds.values():
        made = [p.id for p in desk().shop.products.values() if p.mould == mould.id]
        subjects = (f"moulds/{mould.id}", *(f"products/{id_}" for id_ in made))
        for finding in desk().findings_on(*subjects):
            assert _normal(finding.says.replace("`", "")) in said(f"moulds/{mould.id}")


def test_a_refused_polymers_page_leads_to_the_whole_answer() -> None:
    body = pages()["polymers/pvc"].body
    assert 'href="../material/purity.html#refused-pvc"' in body
    assert "refused-pvc" in seen(html(keeping_apart.PURITY)).ids
