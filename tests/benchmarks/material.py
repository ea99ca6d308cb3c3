"""How long all of material takes in a large shop, and how that grows with it.

    python -m tests.benchmarks.material [CONTAINERS ...]

For N containers there are N / 3 moulds and 2 N / 3 blends, each in a product that is made every
week. Beside the time stands its share of what reading that shop takes.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from generator.shop.examples import as_yaml
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import material
from tests.benchmarks import synthetic_shop

_ROUNDS = 3
_MACHINES = 30


def main(sizes: list[int]) -> None:
    print(f"{'containers':>10} {'moulds':>7} {'blends':>7} {'read':>8} {'material':>9}  of it")
    for containers in sizes:
        print(_row(containers))


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
    shop = load_shop(folder).shop
    assert shop is not None
    return shop


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
