"""Seeded sessions for tests and for measuring: every kind of demand at once, none of it special.

A session lasts three hours at most: where one hot-side hand could not get all groups through in
that time, there are two.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace

from generator.workings.sessions.bounds import Bounds
from generator.workings.sessions.demands import Demands, Fuse, Task, Warmth

OPENS = 9 * 60 + 45
_LONGEST_MIN = 180
_SLOT_MIN = 5


def task(id_: str, takes: int = 15, **changes: object) -> Task:
    """A plain activity at a station of its own, led by anybody."""
    plain = Task(
        id=id_, takes=takes, groups=1, must=True, station=f"at-{id_}", machines=(), moulds=(),
        tools=(), after=(), crew=frozenset({"hand"}), supervisors=1, cools=0, polymer=None,
        blend=None,
    )  # fmt: skip
    return replace(plain, **changes)  # type: ignore[arg-type]


def demands(*tasks: Task, groups: int = 2, minutes: int = 120, **changes: object) -> Demands:
    """A session of some activities with nothing else to keep to."""
    plain = Demands(
        session="seeded", sizes=(4,) * groups, opens=OPENS, closes=OPENS + minutes, break_min=0,
        tasks={t.id: t for t in tasks}, walks={}, staff={"hand": 9}, tools={}, warmth={},
        holds={}, setups={}, fuses=(),
    )  # fmt: skip
    return replace(plain, **changes)  # type: ignore[arg-type]


def seeded(seed: int, groups: int, activities: int, slack: float = 1.4) -> Demands:
    """Order with gaps, two hot machines with holds, power, tools, crews, walks and a break.

    ``slack`` is the time there is over the least that adding up gives; under 1 nothing fits.
    """
    dice = random.Random(f"{seed} {groups} {activities}")
    tasks = _tasks(dice, activities)
    hot = [m for t in tasks.values() if t.polymer for m in t.machines]
    loads = _loads(dice, tasks)
    most = max(*loads.values(), int(sum(loads.values()) * 0.75))
    made = Demands(
        session=f"seeded-{seed}",
        sizes=(4,) * groups,
        opens=OPENS,
        closes=OPENS,
        break_min=dice.choice((0, 10, 15)),
        tasks=tasks,
        walks=_walks(dice, tasks),
        staff={"leader": 1, "hot": dice.choice((1, 2)), "hand": max(1, groups - 2)},
        tools={"snips": 2},
        warmth={m: _warmth(dice, m) for m in hot},
        holds={(m, "pp"): dice.choice((20, 25, 30)) for m in hot},
        setups={},
        fuses=(Fuse("main", "room/supply", most, 0, loads),),
    )
    if _least(made) > _LONGEST_MIN:
        made = made.with_(staff={**made.staff, "hot": 2})
    return made.with_(closes=OPENS + int(_least(made) * slack) // _SLOT_MIN * _SLOT_MIN)


def _least(made: Demands) -> int:
    return max(Bounds(made, _SLOT_MIN).finishes())


def _tasks(dice: random.Random, count: int) -> Mapping[str, Task]:
    """Blend first, then what is hot, then what is done to the parts; the rest at any time."""
    ids = [f"task-{n}" for n in range(count)]
    hot = sorted(dice.sample(range(1, count), 2))
    cold = [n for n in range(1, count) if n not in hot]
    after = {hot[0]: ((ids[0], dice.choice((0, 5))),)}
    if cold:
        after[cold[-1]] = ((ids[hot[0]], dice.choice((0, 2, 10))),)
    made = (_hot(dice, n) if n in hot else _cold(dice, n) for n in range(count))
    return {t.id: replace(t, after=after.get(n, ())) for n, t in enumerate(made)}


def _hot(dice: random.Random, n: int) -> Task:
    return task(
        f"task-{n}", dice.choice((10, 12, 15, 15, 20)), machines=(f"hot-{n}",),
        moulds=(f"mould-{n}",), crew=frozenset({"hot"}), polymer="pp", blend="mint",
    )  # fmt: skip


def _cold(dice: random.Random, n: int) -> Task:
    anybody = dice.random() < 0.3
    return task(
        f"task-{n}", dice.choice((10, 12, 15, 15, 20)),
        groups=2 if dice.random() < 0.3 else 1,
        machines=(f"cold-{n}",) if dice.random() < 0.5 else (),
        tools=("snips",) if dice.random() < 0.4 else (),
        crew=frozenset({"leader", "hot", "hand"} if anybody else {"leader", "hand"}),
    )  # fmt: skip


def _walks(dice: random.Random, tasks: Mapping[str, Task]) -> Mapping[tuple[str, str], int]:
    stations = [t.station for t in tasks.values()]
    return {(a, b): dice.choice((1, 1, 1, 2)) for a in stations for b in stations if a != b}


def _warmth(dice: random.Random, machine: str) -> Warmth:
    return Warmth(machine, dice.choice((15, 20, 30)), dice.choice((5, 10)), 40, frozenset({"hot"}))


def _loads(dice: random.Random, tasks: Mapping[str, Task]) -> Mapping[str, int]:
    return {
        machine: dice.choice((5000, 8000, 11000) if t.polymer else (3000, 4000, 6000))
        for t in tasks.values()
        for machine in t.machines
    }
