"""What the look promises, read from its own files."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.ground.resources import resource

LOOK = resource("site_config")
CSS = sorted((LOOK / "assets" / "css").glob("*.css"))
SPOKEN = sorted([*CSS, *(LOOK / "assets" / "js").glob("*.js"), *(LOOK / "theme").rglob("*.html")])

MEANT_FOR_SAFETY = re.compile(r":root|\.urgent|\.act\b|\.call\b")


def _rules(css: str) -> Iterator[tuple[str, str]]:
    """Selector and declarations of every innermost rule."""
    bare = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
    for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", bare):
        yield selector.strip(), body


@pytest.mark.parametrize("path", SPOKEN, ids=lambda path: path.name)
def test_no_file_names_another_host(path: Path) -> None:
    addresses = re.findall(r"(?:https?:)?//[\w.-]+\.\w+", path.read_text(encoding="utf-8"))
    assert addresses == []


@pytest.mark.parametrize("path", CSS, ids=lambda path: path.name)
def test_safety_colours_are_used_for_safety_only(path: Path) -> None:
    offenders = [
        selector
        for selector, body in _rules(path.read_text(encoding="utf-8"))
        if "--safety-" in body and not MEANT_FOR_SAFETY.search(selector)
    ]
    assert offenders == []


def test_every_token_used_is_defined() -> None:
    sheets = "\n".join(path.read_text(encoding="utf-8") for path in CSS)
    used = set(re.findall(r"var\((--[\w-]+)", sheets))
    defined = set(re.findall(r"(--[\w-]+)\s*:", sheets))
    assert used - defined == set()


def test_every_font_file_named_is_there() -> None:
    sheet = LOOK / "assets" / "css" / "type.css"
    named = re.findall(r'url\("([^"]+)"\)', sheet.read_text(encoding="utf-8"))
    assert named
    assert [name for name in named if not (sheet.parent / name).is_file()] == []


@pytest.mark.parametrize(
    ("licence", "says"),
    [
        ("fonts/OFL.txt", "SIL OPEN FONT LICENSE Version 1.1"),
        ("js/iframe-worker.LICENSE.txt", "Permission is hereby granted, free of charge"),
    ],
)
def test_what_others_made_carries_its_licence(licence: str, says: str) -> None:
    assert says in (LOOK / "assets" / licence).read_text(encoding="utf-8")
