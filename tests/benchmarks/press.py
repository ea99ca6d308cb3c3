"""What printing costs: single sheets, the demonstration shop's whole wall, and a wall unchanged.

    python -m tests.benchmarks.press

Medians of seconds on the clock and of processor time, once the shop is loaded and its studies are
made, since a build needs those anyway. Limits on the clock of an idle machine with two cores: 100
A4 sheets, each drawn and set by itself, under 2 s; the whole wall with its thumbnails and packs,
from nothing, under 4 s; the same while nothing it shows has changed under 0.4 s.
"""

from __future__ import annotations

import datetime as dt
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from generator.drawings import card
from generator.ground.paper import A4
from generator.ground.wording import use
from generator.handbook.desk import Desk
from generator.handbook.print_room import Printing, PrintRoom
from generator.press.engine import Press
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.check import Studies
from tests.benchmarks.synthetic_shop import write

AS_OF = dt.date(2026, 11, 24)
DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
_ROUNDS = 5


def _timed(work: Callable[[], object], rounds: int = _ROUNDS) -> tuple[float, float]:
    """Median of seconds on the clock, and of processor time."""
    taken = []
    for _round in range(rounds):
        clock, processor = time.perf_counter(), time.process_time()
        work()
        taken.append((time.perf_counter() - clock, time.process_time() - processor))
    clocks, processors = zip(*taken, strict=True)
    return statistics.median(clocks), statistics.median(processors)


def _loaded(folder: Path) -> Shop:
    shop = load_shop(folder).shop
    assert shop is not None
    return shop


def _hundred(folder: Path) -> tuple[float, float]:
    """100 stations' cards, each a sheet of its own."""
    order = Order(Studies(_loaded(write(folder, 100)), AS_OF), "en")
    press = Press("A shop", AS_OF)

    def work() -> None:
        with use("en"), ThreadPoolExecutor(2) as pool:
            made = list(pool.map(press.pdf, _cards(Order(order.studies, "en"))))
        assert len(made) == 100

    return _timed(work)


def _cards(order: Order) -> Iterator[Sheet]:
    for n, station in enumerate(order.shop.stations_by_number):
        number = f"CA-{n:02d}"
        body = Drawn((card.draw(order.atlas, station, order.foot(number)),))
        yield Sheet(f"card-{n}", "card", number, str(station.name), A4, body, "en")


def _wall(cache: Path) -> Callable[[], None]:
    desk = Desk(_loaded(DEMONSTRATION), AS_OF)
    desk.surveys  # noqa: B018 - the handbook needs them anyway

    def work() -> None:
        with use("en"):
            room = PrintRoom(desk, Printing("https://handbook.example/", cache))
            room.page()
            print(f"  ({len(room.sheets)} sheets, {len(list(room.assets()))} files)")

    return work


def _tell(what: str, taken: tuple[float, float], limit: float) -> None:
    clock, processor = taken
    verdict = "" if clock <= limit else "  OVER"
    print(f"{what:<44} {clock:6.2f} s, processor {processor:5.2f} s, limit {limit:g} s{verdict}")


def main() -> None:
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        _tell("100 sheets of A4, drawn and set", _hundred(folder / "shop"), 2.0)
        whole = _wall(folder / "cache")
        _tell("the whole wall, from nothing", _timed(whole, 1), 4.0)
        _tell("the whole wall, unchanged", _timed(whole), 0.4)


if __name__ == "__main__":
    main()
