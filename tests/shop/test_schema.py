"""The schemas say of the shop's files and data what is true of them."""

from __future__ import annotations

import datetime as dt
import json
from typing import Any

import jsonschema
import pytest

from generator.ground.resources import resource
from generator.ground.yamlfile import parse_yaml
from generator.handbook import data
from generator.handbook.desk import Desk
from generator.shop.folder import NOUNS
from generator.shop.load import load_shop
from generator.shop.schema import data_schema, file_schema, file_schemas
from tests.benchmarks import synthetic_shop

FILES = {
    name: parse_yaml(text, name)[0]
    for name, text in synthetic_shop.files(2).items()
    if name.endswith(".yml")
}


def _validator(schema: dict[str, Any]) -> jsonschema.Draft202012Validator:
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_holds_passes_its_schema(name: str) -> None:
    noun = name.partition("/")[0].removesuffix(".yml")
    _validator(file_schema(noun)).validate(FILES[name])


def test_there_is_a_schema_for_every_file() -> None:
    assert set(file_schemas()) == {f"{noun}.yml" for noun in NOUNS}


@pytest.mark.parametrize(
    ("key", "value"),
    [("hieght", "750 mm"), ("height", 750), ("supervises", "ja"), ("working_sides", "front")],
)
def test_what_does_not_hold_is_refused(key: str, value: object) -> None:
    stations = {"station-1": {**FILES["stations.yml"]["station-1"], key: value}}  # type: ignore[index]
    assert not _validator(file_schema("stations")).is_valid(stations)


def test_a_default_is_shown_as_it_is_written() -> None:
    station = file_schema("stations")["$defs"]["Station"]["properties"]
    assert station["height"]["default"] == "900 mm"
    assert station["turn"]["default"] == "0°"
    assert file_schema("room")["properties"]["wall"]["default"] == "250 mm"


def test_the_demonstration_shop_passes_the_schema_of_its_data() -> None:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    (written,) = [a for a in data.assets(Desk(shop, dt.date(2026, 3, 1))) if "shop.json" in a.path]
    schema = data_schema()
    _validator(schema).validate(json.loads(written.content)["shop"])
    height = schema["$defs"]["Station"]["properties"]["height_mm"]
    assert (height["type"], height["x-unit"]) == ("number", "mm")
