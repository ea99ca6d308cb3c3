"""What a generated handbook costs beside plain MkDocs on the same Markdown.

    python -m tests.benchmarks.pages [PAGES ...]        (100 500 2000)

A shop is written that makes as many pages as asked for: stations, and what comes with each, up to
what one large room holds; past that a handbook grows by what is written for the same room, so
procedures make up the number. Its handbook is built twice: from
the shop's folder, and from the very pages as files on disk, with the same theme, look,
navigation and search but without the plugin. Sheets for print are left out of both: nothing of
plain MkDocs stands beside them. Each build is a process of its own, the two kinds by turns, in
processor seconds, so that a busy machine does not decide. Prints for each size the medians, the
median of the ratios of each turn with the least and the greatest, the time per page and its growth
from the smallest size, then which part of a build of 300 stations goes into loading and checking.
"""

from __future__ import annotations

import datetime as dt
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from time import process_time
from typing import Any

import yaml

from generator.ground.resources import resource
from generator.handbook import book, look
from generator.handbook.page import Book
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.check import Studies
from tests.benchmarks import synthetic_shop

AS_OF = dt.date(2026, 4, 16)
SIZES = (100, 500, 2000)
STATIONS_FOR_LOAD = 300
PAGES_OF_ANY_SHOP = 70
PAGES_A_STATION = 7  # its own, its card, a machine, a procedure, half a mould and more
MOST_STATIONS = 60
_TURNS = 5

_BUILD = """
import sys
from time import process_time
from mkdocs.commands.build import build
from mkdocs.config import load_config
import material, generator.plugin
start = process_time()
config = load_config(sys.argv[1], strict=True)
config.plugins.on_startup(command="build", dirty=False)
build(config)
print(process_time() - start)
"""


@dataclass(frozen=True)
class Result:
    """One size: pages, and processor seconds with the plugin and without, turn by turn."""

    pages: int
    turns: tuple[tuple[float, float], ...]

    @property
    def ours_s(self) -> float:
        return statistics.median(ours for ours, _plain in self.turns)

    @property
    def plain_s(self) -> float:
        return statistics.median(plain for _ours, plain in self.turns)

    @property
    def ratios(self) -> list[float]:
        """The ratio of each turn, sorted."""
        return sorted(ours / plain for ours, plain in self.turns)

    @property
    def page_ms(self) -> float:
        return self.ours_s / self.pages * 1000


def measure(pages: int, folder: Path, turns: int = _TURNS) -> Result:
    """Build so many pages both ways in an empty folder."""
    made = _made(pages, folder / "ours" / "content" / "shop")
    _write_ours(folder / "ours")
    _write_plain(folder / "plain", made)
    times = tuple(_turn(folder, plain_first=turn % 2 == 1) for turn in range(turns))
    _hold_same_pages(folder)
    return Result(len(made.pages), times)


def _made(pages: int, folder: Path) -> Book:
    """The handbook of a shop that makes so many pages, its files in ``folder``."""
    stations = min(max((pages - PAGES_OF_ANY_SHOP) // PAGES_A_STATION, 2), MOST_STATIONS)
    alone = book.make(_read(synthetic_shop.write(folder, stations)), AS_OF, "en")
    procedures = stations + max(pages - len(alone.pages), 0)
    return book.make(_read(synthetic_shop.write(folder, stations, procedures)), AS_OF, "en")


def _turn(folder: Path, *, plain_first: bool) -> tuple[float, float]:
    """One build of each kind, straight after each other."""
    if plain_first:
        plain = _build_s(folder / "plain")
        return _build_s(folder / "ours"), plain
    return _build_s(folder / "ours"), _build_s(folder / "plain")


def _read(folder: Path) -> Shop:
    loaded = load_shop(folder)
    assert loaded.shop is not None, loaded.findings[:3]
    return loaded.shop


def _build_s(folder: Path) -> float:
    """Processor seconds of one build, without the imports before it."""
    ran = subprocess.run(
        [sys.executable, "-c", _BUILD, str(folder / "mkdocs.yml")],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    return float(ran.stdout.split()[-1])


def _hold_same_pages(folder: Path) -> None:
    """Both ways must have made the same pages, or the ratio means nothing."""
    ours, plain = (
        {p.name for p in (folder / f / "site").rglob("*.html")} for f in ("ours", "plain")
    )
    assert ours == plain, ours ^ plain


# --- the two folders ---------------------------------------------------------------------------


def _settings() -> dict[str, Any]:
    return {
        "site_name": "Benchmark",
        "docs_dir": "content",
        "use_directory_urls": False,
        "theme": {"name": "material", "font": False},
        "plugins": ["search"],
    }


def _write_ours(folder: Path) -> None:
    settings = _settings()
    settings["plugins"].append({"benchleaf": {"as_of": AS_OF, "print": False}})
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(settings), encoding="utf-8")


def _write_plain(folder: Path, made: Book) -> None:
    files = {page.file: page.markdown.encode() for page in made.pages}
    files |= {asset.path: asset.content for asset in made.assets}
    files |= {address: path.read_bytes() for address, path in look.files()}
    for name, content in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    settings = _settings()
    settings["theme"]["custom_dir"] = str(resource("site_config") / "theme")
    settings["extra"] = {
        "polyfills": ["assets/js/iframe-worker.js"],
        "benchleaf": {"shop_name": made.shop_name, "as_of": made.as_of},
    }
    settings["nav"] = [{entry.title: list(entry.files)} for entry in made.navigation]
    settings["not_in_nav"] = _not_in_nav(made)
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(settings), encoding="utf-8")


def _not_in_nav(made: Book) -> str:
    """Every page but those of the navigation, in a few patterns: many would slow plain MkDocs."""
    return "\n".join(
        ["/**/*.md", *(f"!/{file}" for entry in made.navigation for file in entry.files)]
    )


# --- what is told ------------------------------------------------------------------------------


def load_shares(
    folder: Path, stations: int = STATIONS_FOR_LOAD, turns: int = 3
) -> tuple[float, float]:
    """The parts of a build that go into loading, and into loading and checking, the shop."""
    shop_folder = synthetic_shop.write(folder / "ours" / "content" / "shop", stations)
    _write_ours(folder / "ours")
    _read(shop_folder)  # once before, so that imports and tables count in neither
    shares = [_shares(folder / "ours", shop_folder) for _turn in range(turns)]
    loading, both = zip(*shares, strict=True)
    return statistics.median(loading), statistics.median(both)


def _shares(folder: Path, shop_folder: Path) -> tuple[float, float]:
    start = process_time()
    shop = _read(shop_folder)
    loaded = process_time()
    assert Studies(shop, AS_OF).surveys
    checked = process_time()
    whole = _build_s(folder)
    return (loaded - start) / whole, (checked - start) / whole


def _tell(result: Result, first: Result) -> None:
    growth = result.page_ms / first.page_ms
    ratios = result.ratios
    print(
        f"{result.pages:6} {result.ours_s:6.2f} s {result.plain_s:6.2f} s"
        f" {statistics.median(ratios):6.2f} {ratios[0]:6.2f}-{ratios[-1]:.2f}"
        f" {result.page_ms:6.2f} ms {growth:7.2f}",
        flush=True,
    )


def _imports_s() -> float:
    code = "import time, mkdocs.commands.build, material; s = time.process_time(); "
    code += "import generator.plugin; print(time.process_time() - s)"
    return float(subprocess.check_output([sys.executable, "-c", code], stderr=subprocess.DEVNULL))


def main(sizes: Sequence[int]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        print(
            f"{'pages':>6} {'ours':>8} {'plain':>8} {'ratio':>6} {'least-most':>11} {'a page':>9}"
            f" {'growth':>7}"
        )
        results: list[Result] = []
        for size in sizes:
            results.append(measure(size, Path(folder, str(size))))
            _tell(results[-1], results[0])
        loading, both = load_shares(Path(folder, "load"))
    imports = statistics.median(_imports_s() for _turn in range(_TURNS))
    print(f"imports besides those of MkDocs: {imports:.2f} s")
    print(
        f"{STATIONS_FOR_LOAD} stations: loading {loading:.1%} of its build,"
        f" with everything worked out {both:.1%}"
    )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or SIZES)
