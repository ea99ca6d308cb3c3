"""The list of keys is YAML that a newcomer can copy from, and it leaves no key out."""

import pytest
import yaml
from click.testing import CliRunner

from generator.cli import main
from generator.shop import keyhelp
from generator.shop.records.stations import Station
from generator.shop.shapes import keys_of


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
