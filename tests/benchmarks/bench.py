"""How soon the blend bench answers a finger on a slow tablet.

    python -m tests.benchmarks.bench [RATE ...]        (processor slowed 4 and 6 times)

The demonstration shop's bench in Chromium at a tablet's size. For each kind of touch, from the
event to the page laid out anew: the arithmetic, every line, the swatch. Median and 95th
percentile in milliseconds, with four flakes and with twelve, twice over: by the clock, with the
processor slowed by the rate, and by the processor's own time, times the rate. The second does not
depend on what else the machine does. Limit: 95 % of touches under one frame of 60 a second,
16.7 ms of the processor's time.
"""

from __future__ import annotations

import shutil
import statistics
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from playwright.sync_api import CDPSession, Page, sync_playwright

from tests.building import build_demonstration
from tests.conftest import NAMES, QUIET

RATES = (4, 6)
FRAME_MS = 1000 / 60
_ROUNDS = 60
_TABLET = {"width": 820, "height": 1180}

_TOUCHES = {
    "one part more": "document.querySelectorAll('.bench-step button')[1].click()",
    "a flake in or out": "document.querySelector('#bench-tiles .bench-tile:last-child').click()",
    "a shot more": "document.querySelector('#bench-count button:last-child').click()",
    "flakes or melt": "document.querySelector('[name=bench-mixes]:not(:checked)').click()",
}
_TIMED = """(touch) => {
  const act = new Function(touch);
  const start = performance.now();
  act();
  document.body.offsetHeight;
  return performance.now() - start;
}"""
_SPENT = ("ScriptDuration", "LayoutDuration", "RecalcStyleDuration")


def by_clock(page: Page, touch: str) -> list[float]:
    """Milliseconds of each of many touches, the first few left out."""
    return [page.evaluate(_TIMED, touch) for _round in range(_ROUNDS + 10)][10:]


def by_processor(page: Page, tools: CDPSession, touch: str, rate: int) -> list[float]:
    """The processor's milliseconds of each of many touches, times a rate."""
    spent = []
    for _round in range(_ROUNDS + 10):
        before = _processor_s(tools)
        page.evaluate(_TIMED, touch)
        spent.append(1000 * rate * (_processor_s(tools) - before))
    return spent[10:]


def _processor_s(tools: CDPSession) -> float:
    rows = tools.send("Performance.getMetrics")["metrics"]
    return float(sum(row["value"] for row in rows if row["name"] in _SPENT))


def _pick(page: Page, flakes: int) -> None:
    page.locator("#bench-again").click()
    for id_ in ("pp", "pe-hd"):
        page.locator(f"label:has(input[value='{id_}'])").click()
        for tile in page.locator("#bench-tiles .bench-tile").all()[: flakes // 2 + flakes % 2]:
            tile.click()


def _shown(times: list[float]) -> tuple[float, float]:
    return statistics.median(times), statistics.quantiles(times, n=20)[-1]


def _rows(page: Page, tools: CDPSession, rate: int) -> Iterator[str]:
    for name, touch in _TOUCHES.items():
        tools.send("Emulation.setCPUThrottlingRate", {"rate": rate})
        clock = _shown(by_clock(page, touch))
        tools.send("Emulation.setCPUThrottlingRate", {"rate": 1})
        spent = _shown(by_processor(page, tools, touch, rate))
        verdict = "within" if spent[1] < FRAME_MS else "OVER"
        figures = "".join(f"{ms:10.1f}" for ms in (*clock, *spent))
        yield f"    {name:<20}{figures}   {verdict} a frame"


def main(rates: Sequence[int]) -> None:
    """Print a table a rate."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = build_demonstration(Path(folder) / "site").site
        chromium = next(filter(None, map(shutil.which, NAMES)))
        running = playwright.chromium.launch(executable_path=chromium, args=list(QUIET))
        page = running.new_page(viewport=_TABLET)  # type: ignore[arg-type]
        page.goto((site / "material" / "bench.html").as_uri())
        tools = page.context.new_cdp_session(page)
        tools.send("Performance.enable", {"timeDomain": "threadTicks"})
        for rate in rates:
            for flakes in (3, 12):
                _pick(page, flakes)
                lines = page.locator(".bench-lines > li").count()
                print(f"slowed {rate} times, {lines} flakes   clock: median, 95 %   processor")
                print("\n".join(_rows(page, tools, rate)))
        running.close()


if __name__ == "__main__":
    main([int(rate) for rate in sys.argv[1:]] or RATES)
