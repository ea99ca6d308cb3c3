"""Where files that are not code live: inside the package in a wheel, beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent
_CHECKOUT = _PACKAGE.parent


def resource(name: str) -> Path:
    """Path of ``templates``, ``site_config`` or ``content``, or of a file below one of them."""
    packaged = _PACKAGE / "_data" / name
    return packaged if packaged.exists() else _CHECKOUT / name


def reference_file(name: str) -> Path:
    """Path of one of the reference tables that ship inside the package."""
    return _PACKAGE / "reference" / name
