"""A served handbook follows what is saved."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest

from tests.building import lay_out

PATIENCE_S = 60.0
"""A bound for a crowded machine; on an idle one a change shows within two seconds."""


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[Path, str]]:
    """The smallest shop's folder and the address it is served at."""
    folder = lay_out(tmp_path / "bench")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        address = f"127.0.0.1:{free.getsockname()[1]}"
    command = [sys.executable, "-m", "mkdocs", "serve", "--strict", "-a", address]
    log = (tmp_path / "log").open("wb")
    server = subprocess.Popen(command, cwd=folder, stdout=log, stderr=log)
    try:
        yield folder, f"http://{address}/"
    finally:
        server.terminate()
        server.wait(timeout=PATIENCE_S)
        log.close()


def _read(address: str) -> str:
    try:
        with urlopen(address, timeout=5) as answer:
            return str(answer.read().decode())
    except (URLError, ConnectionError, TimeoutError):
        return ""


def _wait_until(holds: Callable[[], bool]) -> bool:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        if holds():
            return True
        time.sleep(0.1)
    return False


def _save(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_a_saved_file_refreshes_the_page_and_a_fault_is_told_until_it_is_mended(
    served: tuple[Path, str],
) -> None:
    folder, address = served
    page = f"{address}stations/cutting.html"
    stations, machines = (folder / "content/shop" / f"{n}.yml" for n in ("stations", "machines"))
    assert _wait_until(lambda: "Clean plastic is cut" in _read(page))

    _save(stations, "Clean plastic is cut", "Rinsed plastic is cut")
    assert _wait_until(lambda: "Rinsed plastic is cut" in _read(page))

    _save(machines, "station: cutting", "station: cuting")
    log = folder.parent / "log"
    assert _wait_until(lambda: bool(re.search(r"machines\.yml:\d+:\d+: fault", log.read_text())))

    _save(machines, "station: cuting", "station: cutting")
    _save(stations, "Rinsed plastic is cut", "Dry plastic is cut")
    assert _wait_until(lambda: "Dry plastic is cut" in _read(page))
