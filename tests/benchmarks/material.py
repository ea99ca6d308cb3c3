"""How long all of material takes in a large shop, how that grows, and what it adds to a build.

    python -m tests.benchmarks.material [CONTAINERS ...]

For N containers there are N / 3 moulds and 2 N / 3 blends, each in a product that is made every
week. Beside the time stands its share of what reading that shop takes.

Then a shop of 300 containers is built with MkDocs, and what moulding, blends, faults, purity,
telling apart and all of material take of that is added up: working it out, making its pages, and
MkDocs's part of setting them. All in processor seconds.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from generator.ground.wording import use
from generator.handbook import (
    batches,
    book,
    bringing,
    costs,
    keeping_apart,
    leaving,
    making,
    storage,
    today,
    week,
)
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.shop.examples import as_yaml
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import material
from tests.benchmarks import pages as whole
from tests.benchmarks import synthetic_shop

_ROUNDS = 3
_MACHINES = 30


def main(sizes: list[int]) -> None:
    print(f"{'containers':>10} {'moulds':>7} {'blends':>7} {'read':>8} {'material':>9}  of it")
    for containers in sizes:
        print(_row(containers))
    print(_added(300))


def _row(containers: int) -> str:
    with tempfile.TemporaryDirectory() as folder:
        read = _best(lambda: _shop(Path(folder), containers))
        shop = _shop(Path(folder), containers)
    worked = _best(lambda: material.study(shop))
    moulds, blends = len(shop.moulds), len(shop.blends)
    return (
        f"{containers:10} {moulds:7} {blends:7} {read:6.3f} s {1000 * worked:6.1f} ms "
        f"{100 * worked / read:4.0f} %"
    )


# --- what it adds to a build -------------------------------------------------------------------

_PAGES = (batches, bringing, costs, keeping_apart, leaving, making, storage, today, week)
_STUDIES = ("moulding", "faults", "purity", "apart", "material")


def _added(containers: int) -> str:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shop = _shop(folder / "content" / "shop", containers)
        whole._write_ours(folder)
        build = min(whole._build_s(folder) for _round in range(_ROUNDS))
        made = book.make(shop, whole.AS_OF, "en")
        making_s = _best(lambda: book.make(shop, whole.AS_OF, "en"))
        reading = _best(lambda: _read(folder / "content" / "shop"))
    studied, paged, count = _worked(shop)
    setting = max(build - making_s - reading, 0.0) * count / len(made.pages)
    added = studied + paged + setting
    return (
        f"\n{containers} containers, {len(shop.moulds)} moulds, {len(shop.blends)} blends: a build "
        f"of {build:.2f} s, {len(made.pages)} pages\n"
        f"worked out {studied:.2f} s, {count} pages made {paged:.2f} s and set {setting:.2f} s: "
        f"{100 * added / (build - added):.1f} % on top of the rest"
    )


def _worked(shop: Shop) -> tuple[float, float, int]:
    """Seconds to work material out, and to make its pages of that; and how many those are."""
    studied, paged, count = 9e9, 9e9, 0
    with use("en"):
        for _round in range(_ROUNDS):
            desk = Desk(shop, whole.AS_OF)
            assert desk.studies.routes and desk.studies.power and desk.studies.bearing
            studied = min(studied, _timed(partial(_study, desk)))
            assert desk.findings  # of all subjects: a build has them anyway
            found: list[Page] = []
            paged = min(paged, _timed(partial(_make, desk, found)))
            count = len(found)
    return studied, paged, count


def _study(desk: Desk) -> None:
    for study in _STUDIES:
        getattr(desk.studies, study)


def _make(desk: Desk, found: list[Page]) -> None:
    for module in _PAGES:
        found.extend(module.pages(desk))


def _shop(folder: Path, containers: int) -> Shop:
    files = synthetic_shop.files(_MACHINES)
    nouns = {
        "containers": {f"crate-{n}": synthetic_shop.container(n) for n in _upto(containers)},
        "moulds": {f"mould-{n}": _mould(n) for n in _upto(containers // 3)},
        "blends": {f"blend-{n}": _blend(n) for n in _upto(2 * containers // 3)},
        "products": {
            f"product-{n}": _product(n, containers // 3) for n in _upto(2 * containers // 3)
        },
    }
    files.update({f"{noun}.yml": as_yaml(data) + "\n" for noun, data in nouns.items()})
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return _read(folder)


def _read(folder: Path) -> Shop:
    loaded = load_shop(folder)
    assert loaded.shop is not None, loaded.findings[:3]
    return loaded.shop


def _upto(count: int) -> range:
    return range(1, count + 1)


def _machine(n: int) -> str:
    return f"machine-{n % _MACHINES + 1}"


def _mould(n: int) -> dict[str, object]:
    return {**synthetic_shop.mould(n), "machines": [_machine(n)]}


def _blend(n: int) -> dict[str, object]:
    return {**synthetic_shop.blend(n), "machines": [_machine(m) for m in range(_MACHINES)]}


def _product(n: int, moulds: int) -> dict[str, object]:
    mould = n % moulds + 1
    return {**synthetic_shop.product(n), "mould": f"mould-{mould}", "per_week": 20}


def _best(work: Callable[[], object]) -> float:
    return min(_timed(work) for _round in range(_ROUNDS))


def _timed(work: Callable[[], object]) -> float:
    """Processor time, so that whatever else runs counts less."""
    start = time.process_time()
    work()
    return time.process_time() - start


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or [75, 150, 300, 600])
