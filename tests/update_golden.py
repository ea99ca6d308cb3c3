"""Writes every expected text anew: ``python -m tests.update_golden``. Then read the difference."""

from __future__ import annotations

from tests import shops


def update_shops() -> None:
    for folder in sorted(path for path in shops.HERE.iterdir() if path.is_dir()):
        if not folder.name.startswith(("_", ".")):
            expected = folder / shops.EXPECTED
            expected.write_text(shops.report(folder.name), encoding="utf-8")


if __name__ == "__main__":
    update_shops()
