"""How long reading and checking a shop takes, and how that grows with the shop.

    python -m tests.benchmarks.load [STATIONS ...]

Beside the time stands the ratio to the YAML library's own parser over the same files, which
does not depend on the machine; time per station should stay flat.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import yaml

from generator.shop.load import load_shop
from tests.benchmarks import synthetic_shop

_ROUNDS = 3


def main(sizes: list[int]) -> None:
    print(f"{'stations':>8} {'lines':>7} {'load':>8} {'a station':>10} {'x parser':>9}")
    for stations in sizes:
        with tempfile.TemporaryDirectory() as folder:
            print(_row(stations, synthetic_shop.write(Path(folder), stations)))


def _row(stations: int, folder: Path) -> str:
    files = [path.read_text(encoding="utf-8") for path in folder.rglob("*.yml")]
    lines = sum(text.count("\n") for text in files)
    load, bare = _best(lambda: _load(folder)), _best(lambda: _parse(files))
    return (
        f"{stations:8} {lines:7} {load:6.3f} s {1000 * load / stations:7.2f} ms {load / bare:8.1f}x"
    )


def _load(folder: Path) -> None:
    assert load_shop(folder).shop is not None


def _parse(files: list[str]) -> None:
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    for text in files:
        for _event in yaml.parse(text, Loader=loader):
            pass


def _best(work: Callable[[], None]) -> float:
    return min(_timed(work) for _round in range(_ROUNDS))


def _timed(work: Callable[[], None]) -> float:
    """Processor time, so that whatever else runs counts less."""
    start = time.process_time()
    work()
    return time.process_time() - start


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or [30, 100, 300])
