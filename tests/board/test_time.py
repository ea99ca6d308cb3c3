"""What the board reckons, by small plans worked out by hand beside each test."""

from __future__ import annotations

from typing import Any

import pytest

from tests.board.conftest import MINUTE, Event, Plan, Reckoner

pytestmark = pytest.mark.browser

# Two groups change places between two activities, 09:45 to 10:20. The walk takes 2 minutes of the
# 5 between; whoever is at an activity must have left before the next comes. The plunger is used
# in B, is ready at 09:45 and may stand hot for 10 minutes. Tidying takes 10, the end is at 11:00.
PLAN: Plan = {
    "id": "small", "hash": "h", "start": 570, "end": 660, "tidy": 10,
    "groups": [{"n": 1, "size": 4}, {"n": 2, "size": 4}],
    "slots": [
        {"id": 0, "group": 1, "activity": "a", "start": 585, "takes": 15, "waits": []},
        {"id": 1, "group": 2, "activity": "b", "start": 585, "takes": 15, "waits": []},
        {"id": 2, "group": 1, "activity": "b", "start": 605, "takes": 15,
         "waits": [[0, 2], [1, 0]]},
        {"id": 3, "group": 2, "activity": "a", "start": 605, "takes": 15,
         "waits": [[1, 2], [0, 0]]},
    ],
    "machines": [
        {"id": "plunger", "on": 555, "ready": 585, "off": 620, "warm": 30, "cool": 40, "hold": 10,
         "uses": [1, 2]},
    ],
    "checks": [{"id": "door", "machine": None}, {"id": "fan", "machine": "plunger"}],
}  # fmt: skip

TICK: Event = {"type": "tick"}
READY: list[tuple[float, Event]] = [
    (550, {"type": "check", "id": "door", "on": True}),
    (550, {"type": "check", "id": "fan", "on": True}),
    (555, {"type": "heat-on", "machine": "plunger"}),
    (570, {"type": "count", "n": 8}),
]
STARTED = [*READY, (585.0, {"type": "start", "midnight": 0})]


def told(result: dict[str, Any]) -> dict[int, tuple[str, float]]:
    """Each group's state and the minutes it has left."""
    return {g["group"]: (g["state"], g["left"] / MINUTE) for g in result["view"]["groups"]}


def warned(result: dict[str, Any]) -> dict[str, int]:
    """The kinds of warning there are, each with the minutes it is over."""
    return {w["kind"]: round(w["by"] / MINUTE) for w in result["view"]["warnings"]}


def test_on_time_every_group_is_where_the_timetable_has_it(reckoner: Reckoner) -> None:
    at = {
        590: {1: ("in", 10), 2: ("in", 10)},
        599: {1: ("soon", 1), 2: ("soon", 1)},
        600: {1: ("moving", 5), 2: ("moving", 5)},
        606: {1: ("in", 14), 2: ("in", 14)},
        620: {1: ("done", 0), 2: ("done", 0)},
    }
    found = {m: told(reckoner.run(PLAN, [*STARTED, (m, TICK)])) for m in at}
    assert found == at
    result = reckoner.run(PLAN, [*STARTED, (606, TICK)])
    assert (result["view"]["finish"], result["view"]["late"]) == (630 * MINUTE, 0)
    assert warned(result) == {}


def test_started_late_everything_moves_along_and_early_everything_moves_forward(
    reckoner: Reckoner,
) -> None:
    late = reckoner.run(PLAN, [*READY, (589, {"type": "start", "midnight": 0}), (589, TICK)])
    assert told(late) == {1: ("in", 15), 2: ("in", 15)}
    assert late["view"]["late"] == 4 * MINUTE
    early = reckoner.run(PLAN, [*READY, (580, {"type": "start", "midnight": 0}), (581, TICK)])
    assert told(early) == {1: ("in", 14), 2: ("in", 14)}
    # 5 minutes early the machine, on since 09:15 and 30 minutes warming, is not ready: by 5 minutes
    assert warned(early) == {"ready": 5}


def test_within_a_minute_of_the_plan_the_printed_times_are_kept(reckoner: Reckoner) -> None:
    result = reckoner.run(PLAN, [*READY, (585.8, {"type": "start", "midnight": 0}), (590, TICK)])
    assert told(result) == {1: ("in", 10), 2: ("in", 10)}


def test_far_from_the_plan_it_is_a_rehearsal_whose_end_moves_too(reckoner: Reckoner) -> None:
    away: list[tuple[float, Event]] = [(m + 600, e) for m, e in READY]
    result = reckoner.run(PLAN, [*away, (1185, {"type": "start", "midnight": 0}), (1190, TICK)])
    assert result["view"]["rehearsal"]
    assert told(result) == {1: ("in", 10), 2: ("in", 10)}
    assert warned(result) == {}


def test_what_waits_for_a_longer_slot_moves_and_no_more_than_it_must(reckoner: Reckoner) -> None:
    longer: Event = {"type": "extend", "group": 1, "minutes": 6}
    result = reckoner.run(PLAN, [*STARTED, (590, longer), (590, TICK)])
    assert told(result) == {1: ("in", 16), 2: ("in", 10)}
    later = reckoner.run(PLAN, [*STARTED, (590, longer), (601, TICK)])
    # group 1 leaves A at 10:06, walks 2 minutes, B from 10:08; group 2 may enter A at 10:06
    assert told(later) == {1: ("in", 5), 2: ("moving", 5)}
    last = reckoner.run(PLAN, [*STARTED, (590, longer), (607, TICK)])
    assert told(last) == {1: ("moving", 1), 2: ("in", 14)}
    assert last["view"]["finish"] == (608 + 15 + 10) * MINUTE


def test_the_slack_between_two_slots_is_used_before_anything_moves(reckoner: Reckoner) -> None:
    events = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 3}), (604, TICK)]
    # A ends 10:03, 2 minutes of walk: B still begins at 10:05
    assert told(reckoner.run(PLAN, events)) == {1: ("moving", 1), 2: ("moving", 1)}


def test_held_and_going_on_is_the_same_as_so_much_longer(reckoner: Reckoner) -> None:
    held: list[tuple[float, Event]] = [
        (590, {"type": "hold", "group": 1}), (596, {"type": "resume", "group": 1}),
    ]  # fmt: skip
    longer: list[tuple[float, Event]] = [(590, {"type": "extend", "group": 1, "minutes": 6})]
    for minute in (597, 604, 607, 615, 623):
        one = reckoner.run(PLAN, [*STARTED, *held, (minute, TICK)])
        other = reckoner.run(PLAN, [*STARTED, *longer, (minute, TICK)])
        assert told(one) == told(other), minute


def test_a_held_countdown_stands_still_and_others_wait_for_it(reckoner: Reckoner) -> None:
    events = [*STARTED, (590, {"type": "hold", "group": 1})]
    for minute in (591, 600, 640):
        result = reckoner.run(PLAN, [*events, (minute, TICK)])
        assert told(result)[1] == ("held", 10)
        assert result["view"]["groups"][0]["held"] == (minute - 590) * MINUTE
    assert told(reckoner.run(PLAN, [*events, (610, TICK)]))[2] == ("moving", 10)


def test_holding_on_the_way_delays_what_comes_next(reckoner: Reckoner) -> None:
    events = [*STARTED, (602, {"type": "hold", "group": 2}), (609, {"type": "resume", "group": 2})]
    assert told(reckoner.run(PLAN, [*events, (609, TICK)])) == {1: ("in", 11), 2: ("moving", 3)}


def test_all_at_once_is_one_tap_for_each_group(reckoner: Reckoner) -> None:
    longer = reckoner.run(
        PLAN, [*STARTED, (590, {"type": "extend-all", "minutes": 2}), (590, TICK)]
    )
    assert told(longer) == {1: ("in", 12), 2: ("in", 12)}
    held = reckoner.run(PLAN, [*STARTED, (590, {"type": "hold-all"}), (595, TICK)])
    assert held["view"]["allHeld"]
    on = reckoner.run(PLAN, [(595, {"type": "resume-all"}), (595, TICK)], held["state"])
    assert told(on) == {1: ("in", 10), 2: ("in", 10)}


# --- limits ------------------------------------------------------------------------------------


def test_the_end_of_the_session_is_a_limit(reckoner: Reckoner) -> None:
    fits = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 33}), (590, TICK)]
    # A ends 10:33, walk 2, B to 10:50, tidying to 11:00: no minute over
    result = reckoner.run(PLAN, fits)
    assert "end" not in warned(result)
    over = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 38}), (590, TICK)]
    assert warned(reckoner.run(PLAN, over))["end"] == 5


def test_plastic_that_would_stand_hot_too_long_is_told_with_when_to_purge(
    reckoner: Reckoner,
) -> None:
    fits = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 8}), (590, TICK)]
    assert warned(reckoner.run(PLAN, fits)) == {}  # B stands from 10:00 to 10:10: just 10 minutes
    over = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 12}), (590, TICK)]
    (warning,) = reckoner.run(PLAN, over)["view"]["warnings"]
    assert (warning["kind"], warning["machine"]) == ("hold", "plunger")
    assert (warning["from"], warning["at"], warning["by"]) == (
        600 * MINUTE, 610 * MINUTE, 4 * MINUTE,
    )  # fmt: skip
    purged = [*over[:-1], (608, {"type": "purge", "machine": "plunger"}), (608, TICK)]
    assert warned(reckoner.run(PLAN, purged)) == {}  # 8 minutes before the purge, 6 after it


def test_a_hot_machine_counts_from_the_last_use_and_asks_for_the_purge(reckoner: Reckoner) -> None:
    events = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 12})]
    states = {
        m: reckoner.run(PLAN, [*events, (m, TICK)])["view"]["machines"][0]["state"]
        for m in (556, 584, 590, 602, 608.5, 611, 615)
        if m >= 590
    }
    assert states == {590: "in-use", 602: "waiting", 608.5: "purge", 611: "purge", 615: "in-use"}
    early = {m: reckoner.run(PLAN, [*READY[:3], (m, TICK)]) for m in (556, 584, 586)}
    assert [r["view"]["machines"][0]["state"] for r in early.values()] == [
        "warming", "warming", "waiting",
    ]  # fmt: skip


def test_a_machine_switched_on_late_is_told_before_it_is_needed(reckoner: Reckoner) -> None:
    cold = [READY[0], READY[1], READY[3], (585, {"type": "start", "midnight": 0}), (585, TICK)]
    assert warned(reckoner.run(PLAN, cold)) == {"ready": 30}
    on = [*cold, (590, {"type": "heat-on", "machine": "plunger"}), (600, TICK)]
    assert warned(reckoner.run(PLAN, on)) == {"ready": 35}


def test_an_unknown_longest_time_is_no_limit_and_no_number(reckoner: Reckoner) -> None:
    plan = {**PLAN, "machines": [{**PLAN["machines"][0], "hold": None}]}
    events = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 30}), (590, TICK)]
    result = reckoner.run(plan, events)
    assert warned(result) == {}
    assert result["view"]["machines"][0]["most"] is None


def test_what_can_hurt_is_told_before_what_is_late(reckoner: Reckoner) -> None:
    events = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 40}), (590, TICK)]
    assert list(warned(reckoner.run(PLAN, events))) == ["hold", "end"]


def test_seen_is_seen_until_it_is_a_minute_worse(reckoner: Reckoner) -> None:
    over = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 12})]
    first = reckoner.run(PLAN, [*over, (590, TICK)])
    key = first["view"]["warnings"][0]["key"]
    seen = [*over, (591, {"type": "ok", "key": key})]
    assert [w["seen"] for w in reckoner.run(PLAN, [*seen, (592, TICK)])["view"]["warnings"]] == [
        True
    ]
    worse = [*seen, (593, {"type": "extend", "group": 1, "minutes": 2}), (593, TICK)]
    assert [w["seen"] for w in reckoner.run(PLAN, worse)["view"]["warnings"]] == [False]


def test_a_hold_says_which_limit_it_breaks_first(reckoner: Reckoner) -> None:
    result = reckoner.run(PLAN, [*STARTED, (590, {"type": "hold", "group": 1}), (590, TICK)])
    # 8 minutes more and B is entered at 10:10, ten minutes after the last use: the ninth breaks it
    assert result["view"]["groups"][0]["breaks"] == {
        "at": 599 * MINUTE, "group": 1, "kind": "hold", "machine": "plunger",
    }  # fmt: skip


# --- the clock ---------------------------------------------------------------------------------


def test_a_clock_set_back_moves_no_countdown_and_takes_no_warning_away(reckoner: Reckoner) -> None:
    over = [*STARTED, (590, {"type": "extend", "group": 1, "minutes": 12}), (595, TICK)]
    before = reckoner.run(PLAN, over)
    after = reckoner.run(PLAN, [(535, TICK)], before["state"])  # an hour back
    assert told(after) == told(before)
    assert warned(after) == {**warned(before), "clock": 60}
    later = reckoner.run(PLAN, [(540, TICK)], after["state"])  # five minutes go by
    assert told(later)[1][1] == told(before)[1][1] - 5
    assert warned(later) == {**warned(before), "clock": 60}
    again = reckoner.run(PLAN, [(530, TICK)], later["state"])  # and back once more
    assert told(again) == told(later)


def test_the_new_time_is_taken_with_every_countdown_as_it_was(reckoner: Reckoner) -> None:
    before = reckoner.run(
        PLAN, [*STARTED, (592, {"type": "hold", "group": 2}), (595, TICK), (535, TICK)]
    )
    taken = reckoner.run(PLAN, [(535, {"type": "take-clock"}), (535, TICK)], before["state"])
    assert told(taken) == told(before)
    assert taken["view"]["now"] == 535 * MINUTE
    assert taken["view"]["groups"][0]["until"] == 540 * MINUTE  # 10:00 by the old clock
    assert "clock" not in warned(taken)
    assert taken["view"]["machines"][0]["state"] == before["view"]["machines"][0]["state"]


def test_a_clock_nudged_by_a_second_is_not_set_back(reckoner: Reckoner) -> None:
    result = reckoner.run(PLAN, [*STARTED, (590, TICK), (590 - 1 / 60, TICK)])
    assert warned(result) == {}


# --- what is not let through -------------------------------------------------------------------


@pytest.mark.parametrize("missing", ["door", "fan"])
def test_nothing_heats_up_before_its_checks_are_ticked(reckoner: Reckoner, missing: str) -> None:
    events = [e for e in READY[:3] if e[1].get("id") != missing]
    assert reckoner.run(PLAN, events)["state"]["heat"] == {}
    unticked = [*READY[:2], (551, {"type": "check", "id": missing, "on": False}), READY[2]]
    assert reckoner.run(PLAN, unticked)["state"]["heat"] == {}
    assert reckoner.run(PLAN, READY[:3])["state"]["heat"]["plunger"]["on"] == 555 * MINUTE


@pytest.mark.parametrize("missing", [0, 3])
def test_no_session_starts_unchecked_or_uncounted(reckoner: Reckoner, missing: int) -> None:
    events = [e for n, e in enumerate(STARTED) if n != missing]
    assert reckoner.run(PLAN, [*events, (590, TICK)])["state"]["phase"] == "before"
    assert reckoner.run(PLAN, [*STARTED, (590, TICK)])["state"]["phase"] == "running"


@pytest.mark.parametrize(
    "event",
    [
        {"type": "unheard-of"}, {"type": "toString"}, {"type": "count", "n": -1},
        {"type": "count", "n": 2.5}, {"type": "extend", "group": 1, "minutes": -5},
        {"type": "resume", "group": 1}, {"type": "heat-on", "machine": "nothing"},
        {"type": "purge", "machine": "nothing"}, {"type": "undo"}, {"type": "ok", "key": "none"},
        {"type": "start", "midnight": 0}, {"type": "reopen"},
    ],
    ids=lambda event: str(event["type"]),
)  # fmt: skip
def test_an_event_that_makes_no_sense_changes_nothing(reckoner: Reckoner, event: Event) -> None:
    without = reckoner.run(PLAN, [*STARTED, (590, TICK)])["state"]
    assert reckoner.run(PLAN, [*STARTED, (590, event)])["state"] == without


def test_a_slip_is_taken_back_within_a_minute_and_not_after(reckoner: Reckoner) -> None:
    slip: tuple[float, Event] = (590, {"type": "extend", "group": 1, "minutes": 2})
    soon = reckoner.run(PLAN, [*STARTED, slip, (590.5, {"type": "undo"}), (591, TICK)])
    assert told(soon)[1] == ("in", 9)
    late = reckoner.run(PLAN, [*STARTED, slip, (591.5, {"type": "undo"}), (592, TICK)])
    assert told(late)[1] == ("in", 10)


# --- what always holds -------------------------------------------------------------------------

_RANDOM = """([plan, seed, taps]) => {
  const board = boardTime(plan), wrong = [];
  let x = seed;
  const draw = (n) => { x = (x * 1103515245 + 12345) % 2147483648; return Math.floor(x / 2147483648 * n); };
  let state = board.fresh(550 * 60000, 0), now = 555 * 60000;
  const send = (e) => { state = board.advance(state, e, now); };
  plan.checks.forEach((c) => send({ type: "check", id: c.id, on: true }));
  plan.machines.forEach((m) => send({ type: "heat-on", machine: m.id }));
  send({ type: "count", n: 8 });
  now = Math.min(...plan.slots.map((s) => s.start)) * 60000;
  send({ type: "start", midnight: 0 });
  const kinds = ["hold", "resume", "extend", "hold-all", "resume-all", "extend-all", "purge", "tick", "undo"];
  const begun = new Map();
  for (let i = 0; i < taps; i += 1) {
    now += draw(240) * 1000;
    const group = plan.groups[draw(plan.groups.length)].n;
    send({ type: kinds[draw(kinds.length)], group, minutes: 1 + draw(5), machine: plan.machines.length ? plan.machines[0].id : "" });
    const v = board.view(state, now);
    for (const s of plan.slots) {
      const at = v.slots[s.id];
      if (at.start < s.start * 60000) wrong.push(["early", seed, i, s.id]);
      if (at.end - at.start < s.takes * 60000) wrong.push(["short", seed, i, s.id]);
      for (const [before, gap] of s.waits) if (at.start < v.slots[before].end + gap * 60000) wrong.push(["overlap", seed, i, s.id, before]);
      if (begun.has(s.id) && begun.get(s.id) !== at.start) wrong.push(["moved after it began", seed, i, s.id]);
      if (at.start <= now && state.undo === null) begun.set(s.id, at.start);
    }
    if (v.groups.some((g) => g.left < 0)) wrong.push(["negative", seed, i]);
  }
  return wrong;
}"""  # noqa: E501


@pytest.mark.parametrize("seed", [1, 7, 42, 2026])
def test_whatever_is_tapped_nobody_is_in_two_places(reckoner: Reckoner, seed: int) -> None:
    assert reckoner.page.evaluate(_RANDOM, [PLAN, seed, 120]) == []
