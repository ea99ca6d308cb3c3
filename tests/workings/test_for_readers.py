"""What of a log may be published, in a shop worked by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal, get_args, get_origin, get_type_hints

import pytest

from generator.shop.fields import Ref
from generator.shop.logs import LOGS
from generator.shop.records.logs import InPhotos
from generator.workings.for_readers import for_readers, own_words
from tests.small import shop_with
from tests.workings.test_running import PRESSES, UPKEEP, making

_LABELS = {"batch", "trial", "task", "sheet", "content"}
"""Words held to a shape, or to what the YAML names, by the rules of the logs."""
WEIGHED = """date,donor,polymer,kg,colour,rejected_kg,rejected_for,why
2026-03-01,cafe,pp,4,white,1,wet,Zoe left it in the rain
"""
TRIALS = """trial,date,machine,mould,blend,result,fault,photo,note
T1,2026-03-01,press,slab,plain,failed,"Short shot, says Zoe",,Zoe held the lever
T2,2026-03-02,press,slab,plain,failed,Zoe's special,,
"""


def test_notes_go_and_the_words_of_the_trade_stay(tmp_path: Path) -> None:
    colours = "pp: {code: PP, name: PP, status: taken, colours: {white: {name: White}}}\n"
    shop = shop_with(
        tmp_path,
        machines=PRESSES,
        polymers=colours,
        donors="cafe: {name: Cafe, brings: []}\n",
        weigh_ins_csv=WEIGHED,
        trials_csv=TRIALS,
        batches_csv="batch,date,step,kg,blend,colour\nBL-1,2026-03-01,blend,2,plain,Zoe\n",
        **making("press"),
    )
    logs = for_readers(shop).logs
    (weighed,) = logs.weigh_ins
    assert (weighed.colour, weighed.rejected_kg, weighed.rejected_for) == ("white", 1, "wet")
    assert weighed.why == ""
    assert [(t.fault, t.photo, t.note) for t in logs.trials] == [
        ("short shot", "", ""),
        ("", "", ""),
    ]
    assert logs.batches[0].colour == ""
    assert "Zoe" not in repr(logs)
    assert shop.logs.trials[0].note == "Zoe held the lever"
    assert for_readers(for_readers(shop)).logs == logs


def test_upkeep_done_keeps_its_figures(tmp_path: Path) -> None:
    log = "date,machine,task,running_h,role,note\n2026-03-01,granulator,belt,12,keeper,Zoe saw it\n"
    knife = "knife: {name: K, kind: blade, unit: set, kept_at: cutting, stock: 1, least: 1}\n"
    knife = knife.replace("least: 1", "least: 1, lead_time: 14 d")
    shop = shop_with(tmp_path, machines=UPKEEP, consumables=knife, upkeep_csv=log)
    (done,) = for_readers(shop).logs.upkeep
    assert (done.running_h, done.role, done.note) == (12, "keeper", "")


@pytest.mark.parametrize("log", LOGS)
def test_every_column_of_words_is_held_to_something_or_kept_from_readers(log: str) -> None:
    """A new column of free words cannot be forgotten: it is marked, or this test names it."""
    row = LOGS[log]
    hints = get_type_hints(row, include_extras=True)
    free = {name for name, hint in hints.items() if hint is str}
    assert free - {"colour", *_LABELS} == set()
    for name, hint in hints.items():
        if get_origin(hint) is Annotated and get_args(hint)[0] is str:
            held = any(isinstance(mark, Ref | InPhotos) for mark in get_args(hint)[1:])
            assert held or name in own_words(row), name
    assert all(get_origin(hints[name]) is not Literal for name in own_words(row))


def test_a_print_run_is_what_the_command_writes_or_nothing(tmp_path: Path) -> None:
    log = (
        "date,sheet,content\n"
        "2026-03-01,station-cutting,0123456789abcdef\n"
        "2026-03-01,Zoe's own,0123456789abcdef\n"
        "2026-03-01,station-cutting,zoe\n"
    )
    runs = for_readers(shop_with(tmp_path, printed_csv=log)).logs.printed
    assert [(run.sheet, run.content) for run in runs] == [
        ("station-cutting", "0123456789abcdef"),
        ("", ""),
        ("", ""),
    ]
