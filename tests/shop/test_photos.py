"""The trial book's pictures: named, there, readable, and published without what a camera adds."""

from __future__ import annotations

import datetime as dt
import os
from pathlib import Path

import pytest

from generator.ground.finding import Finding, Severity
from generator.handbook import book
from generator.shop.load import load_shop
from generator.workings.for_readers import for_readers
from tests.ground.test_picture import PLACE, jpeg, png
from tests.small import folder_with
from tests.workings.test_running import PRESSES, making

DAY = dt.date(2026, 3, 4)


def folder(path: Path, name: str, data: bytes | None = None, under: str = "") -> Path:
    """A small shop with one trial whose photo is called so, and the picture where there is one."""
    trial = f"T1,2026-03-01,press,slab,plain,good,{name}\n"
    log = "trial,date,machine,mould,blend,result,photo\n" + trial
    made = folder_with(path, machines=PRESSES, trials_csv=log, **making("press"))
    (made / "photos").mkdir()
    if data is not None:
        (made / "photos" / (under or name)).write_bytes(data)
    return made


def fault(path: Path, *given: object) -> Finding:
    (found,) = load_shop(folder(path, *given)).findings  # type: ignore[arg-type]
    assert (found.rule, found.severity) == ("data.trial-photo", Severity.FAULT)
    assert (found.origin.file, found.origin.line, found.origin.column) == ("trials.csv", 2, 37)
    return found


@pytest.mark.parametrize(("name", "data"), [("t1.jpg", jpeg(6)), ("T1 good.PNG", png())])
def test_a_named_picture_is_published_beside_its_trial(
    tmp_path: Path, name: str, data: bytes
) -> None:
    shop = load_shop(folder(tmp_path, name, data)).shop
    assert shop is not None
    made = book.make(shop, DAY, "en")
    address = f"photos/t1.{name[-3:].lower()}"
    (asset,) = [a for a in made.assets if a.path == address]
    assert PLACE in data and PLACE not in asset.content and b"GPS" not in asset.content
    pages = {page.path: page.body for page in made.pages}
    for path in ("material/trials", "moulds/slab", "blends/plain"):
        assert f'src="../{address}"' in pages[path]
        assert 'alt="What came of trial T1: ' in pages[path]
    sideways = name == "t1.jpg"
    size = 'width="24" height="40"' if sideways else 'width="40" height="24"'
    assert size in pages["material/trials"]


def test_a_picture_that_no_trial_names_stays_in_the_shop(tmp_path: Path) -> None:
    made = folder(tmp_path, "t1.jpg", jpeg())
    (made / "photos" / "zoe.jpg").write_bytes(jpeg())
    shop = load_shop(made).shop
    assert shop is not None
    published = [a.path for a in book.make(shop, DAY, "en").assets if a.path.startswith("photos")]
    assert published == ["photos/t1.jpg"]


def test_a_picture_goes_by_its_trials_label_and_its_files_name_stays_in_the_shop(
    tmp_path: Path,
) -> None:
    shop = load_shop(folder(tmp_path, "zoe-holds-it.jpg", jpeg())).shop
    assert shop is not None
    made = book.make(shop, DAY, "en")
    everything = repr(made.pages) + repr(made.assets)
    assert "photos/t1.jpg" in everything
    assert "zoe" not in everything and str(tmp_path) not in everything
    again = for_readers(for_readers(shop)).logs
    assert again == for_readers(shop).logs and again.trials[0].photo == "t1.jpg"


def test_a_picture_that_is_not_there_is_a_fault_with_the_one_meant(tmp_path: Path) -> None:
    found = fault(tmp_path, "t1.jpg", jpeg(), "t01.jpg")
    assert "There is no `t1.jpg`" in found.says and found.example == "t01.jpg"


@pytest.mark.parametrize("name", ["../../secret.jpg", "a/b.jpg", "t1.heic", "t1", "/etc/x.png"])
def test_what_is_not_a_pictures_name_is_a_fault(tmp_path: Path, name: str) -> None:
    assert fault(tmp_path, name).example == "t04.jpg"


@pytest.mark.parametrize("data", [b"", b"GIF89a", jpeg()[:200]])
def test_what_is_no_picture_inside_is_a_fault(tmp_path: Path, data: bytes) -> None:
    assert "cannot be read" in fault(tmp_path, "t1.jpg", data).says


def test_a_picture_too_large_for_a_phone_is_a_fault(tmp_path: Path) -> None:
    found = fault(tmp_path, "t1.jpg", jpeg() + bytes(3_000_000))
    assert "3 MB" in found.says and "1600 pixels" in found.mend


def test_a_pipe_in_the_place_of_a_picture_is_never_waited_for(tmp_path: Path) -> None:
    made = folder(tmp_path, "t1.jpg")
    os.mkfifo(made / "photos" / "t1.jpg")
    (found,) = load_shop(made).findings
    assert "cannot be read" in found.says


def test_a_trial_without_a_picture_is_shown_without_one(tmp_path: Path) -> None:
    shop = load_shop(folder(tmp_path, "")).shop
    assert shop is not None and not for_readers(shop).logs.photos
    pages = {page.path: page.body for page in book.make(shop, DAY, "en").pages}
    assert "<img" not in pages["material/trials"]
