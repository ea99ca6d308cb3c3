"""The list of keys is YAML that a newcomer can copy from, and it leaves no key out."""

import csv
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

from generator.cli import main
from generator.shop import keyhelp
from generator.shop.competence import read_register
from generator.shop.records.stations import Station
from generator.shop.shapes import keys_of
from tests.small import shop_with


@pytest.mark.parametrize("noun", keyhelp.nouns())
def test_every_file_is_listed_as_yaml(noun: str) -> None:
    assert isinstance(yaml.safe_load("\n".join(keyhelp.lines(noun))), dict)


def test_every_key_of_a_station_is_there() -> None:
    listed = yaml.safe_load("\n".join(keyhelp.lines("stations")))["an-id"]
    assert set(listed) == set(keys_of(Station))


def test_words_to_choose_from_are_told() -> None:
    text = "\n".join(keyhelp.lines("room"))
    assert "lock: thumb-turn  # Needed. one of: none, thumb-turn, push-bar, key, bolt." in text


def test_the_command_lists_files_and_helps_with_a_slip() -> None:
    run = CliRunner()
    assert "machines" in run.invoke(main, ["keys"]).output
    assert "heat_up: 25 min" in run.invoke(main, ["keys", "machines.yml"]).output
    slip = run.invoke(main, ["keys", "machine"])
    assert slip.exit_code == 1
    assert "machines" in slip.output
    assert "rota.csv" in run.invoke(main, ["keys"]).output
    assert run.invoke(main, ["keys", "competence"]).output.startswith("person,machine,level,since")


@pytest.mark.parametrize("table", keyhelp.tables())
def test_every_table_is_shown_with_a_row(table: str) -> None:
    head, row, blank, *notes = keyhelp.columns(table)
    assert not blank
    (cells,) = csv.DictReader([head, row])
    needed = {n.split(":")[0][2:] for n in notes if "Needed." in n}
    assert needed == {name for name, cell in cells.items() if cell}
    assert all(note.startswith("# ") for note in notes)


def test_the_register_shown_can_be_read(tmp_path: Path) -> None:
    head, row, *notes = keyhelp.columns("competence")
    shop = shop_with(tmp_path)
    (tmp_path / "competence.csv").write_text(f"{head}\n{row}\n", encoding="utf-8")
    register = read_register(tmp_path, shop)
    assert register is not None
    assert (register.faults, len(register.signs)) == ((), 1)
    assert "nothing of it is ever published" in " ".join(notes)
    assert any(note.startswith("# level: Needed. One of: visitor,") for note in notes)


def test_a_column_in_own_words_says_that_it_stays_in_the_shop() -> None:
    text = "\n".join(keyhelp.columns("upkeep"))
    assert "# note: In own words, for the shop alone: never published." in text
    assert "# role\n" in text
