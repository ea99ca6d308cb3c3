"""A few pages of every sort the look has to carry, published through MkDocs without the shop."""

from __future__ import annotations

from pathlib import Path

import yaml
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from generator.ground.resources import resource

LOOK = resource("site_config")

STATION = """\
---
title: Granulator
kind: station
sheet_title: Station 4, Granulator
sheet_number: ST-04
---

# Granulator

<div class="headline"><span class="balloon big">4</span><div><p class="sub"><span>Dusty zone</span><a class="sev fix" href="#findings">1 fix</a></p></div></div>
<div class="answers">
<section><h2>May I use it?</h2><p class="say">If authorised</p><ol class="ladder"><li>visitor</li><li>inducted</li><li class="with">supervised</li><li class="may">authorised</li><li class="may">trainer</li></ol></section>
<section><h2>What do I wear?</h2><ul class="signs"><li>Glasses</li></ul></section>
<section><h2>What must never happen?</h2><div class="never"><ul><li>A hand past the flap</li></ul></div></section>
<section><h2>Where is the isolator?</h2><div class="iso"><p><b>Q4, on the wall</b></p></div></section>
</div>

## Steps

<div class="part"><ol class="steps"><li class="cols" aria-hidden="true"><span></span><span>Step</span><span>Key point</span><span>Reason</span></li><li class="hold"><span>Hold point: your lock on the isolator<small>One lock, one key.</small></span></li><li><span class="n">1</span><p class="do">Read the crate label</p><p class="key">One polymer</p><p class="why">Mixed flake cannot be sorted again</p></li></ol></div>

## Settings by polymer

<div class="part"><table class="settings"><thead><tr><th>Polymer</th><th class="num">Screen, mm</th><th>Clean down after</th></tr></thead><tbody><tr><td>PP</td><td class="num" data-l="Screen, mm">8</td><td data-l="Clean down after">Brush</td></tr><tr class="refused"><td><span class="pad"><b>PVC</b></span></td><td colspan="2"><span class="pad"><b>Refused.</b> It gives off acid.</span></td></tr></tbody></table></div>

## Working figures

<div class="part"><details class="closed"><summary><span>1</span><span>Clear width</span><b>640 mm</b></summary><p class="inside">Measured with the guard closed.</p></details><dl class="figs"><div><dt>Current</dt><dd>4.7 A</dd><dd class="src"><a href="../index.html">machines.yml:31</a></dd></div></dl></div>

## Findings

<div class="part"><article class="finding fix"><span class="sev fix">Fix</span><p>The hook is too high.</p><p class="at">room.yml:12:7</p></article></div>
"""  # noqa: E501

FRONT = """\
---
title: The door
kind: door
---

# The shop is open until 17:30

<section class="door"><div><p class="big" data-open-now="Open now, until {time}" data-open-later="Opens today at {time}" data-closed="2026-10-26/2026-10-31">Open on Wednesday</p><p class="today">Bring plastic to door D1.</p></div><div class="week"><table><caption>An ordinary week</caption><tbody><tr data-day="0"><th scope="row">Monday</th><td>closed</td></tr><tr data-day="2" data-open="14:00/19:00"><th scope="row">Wednesday</th><td>14 to 19</td></tr></tbody></table></div></section>
<div class="front two"><div class="stack plan"><section><h2>The room</h2><figure class="plan"><svg class="wide" viewBox="0 0 700 300" width="700" height="300" role="img" aria-label="Plan"><text x="9" y="20">wide</text></svg><svg class="narrow" viewBox="0 0 340 200" width="340" height="200" role="img" aria-label="Plan"><text x="9" y="20">narrow</text></svg><figcaption>Tap a number.</figcaption></figure></section></div><div class="stack"><section><h2>Why are you here?</h2><ul class="ways"><li><a href="stations/index.html"><span>Helping today<small>Stations</small></span></a></li></ul></section></div></div>
"""  # noqa: E501

EMERGENCY = """\
---
title: Emergency
kind: emergency
---

# Emergency

<div class="call"><p class="big">Call 112</p><p>This page does not cut power.</p></div>
"""

STATIONS = """\
---
title: Stations
kind: stations
---

# Stations

## Dusty zone

<div class="part"><ul class="ways"><li><a href="granulator.html"><span class="balloon">4</span><span>Granulator</span></a></li></ul></div>
"""  # noqa: E501

BY_HAND = """\
# Opening up

Written by hand, with a [way on](../stations/granulator.md) and `code`.

## Before anybody comes

1. Lights
2. Damper

!!! warning "Wet floor"
    The tubs drain slowly.

!!! danger
    Your own lock first.

??? question "Who has the key?"
    The landlord.

## What to write down

| What | Where |
|------|-------|
| Weigh-in | `weighins.csv` |

- [x] Lights
- [ ] Damper

```yaml
granulator:
  at: 3200, 450 mm   # a comment that runs far beyond the right hand edge of any phone and most tablets too
```

## Last

Done.
"""  # noqa: E501

PAGES = {
    "index.md": FRONT,
    "emergency.md": EMERGENCY,
    "stations/index.md": STATIONS,
    "stations/granulator.md": STATION,
    "notes/opening.md": BY_HAND,
    "notes/closing.md": "# Closing\n\nLast one out.\n",
}
ADDRESSES = [path.replace(".md", ".html") for path in PAGES]

EXTENSIONS = [
    "admonition",
    "attr_list",
    "pymdownx.details",
    "pymdownx.highlight",
    "pymdownx.superfences",
    "pymdownx.tasklist",
    {"toc": {"permalink": True}},
]
NAVIGATION = [
    {"The door": "index.md"},
    {"Stations": "stations/index.md"},
    {"Notes": [{"Opening": "notes/opening.md"}, {"Closing": "notes/closing.md"}]},
    {"Emergency": "emergency.md"},
]


def build_site(folder: Path) -> Path:
    """Build the pages below ``folder``; the site's own folder."""
    for path, text in PAGES.items():
        page = folder / "docs" / path
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(text, encoding="utf-8")
    config = _config(folder)
    config.plugins.on_startup(command="build", dirty=False)
    build(config)
    index = (folder / "site" / "search" / "search_index.json").read_text(encoding="utf-8")
    script = folder / "site" / "search" / "search_index.js"
    script.write_text(f"var __index = {index}", encoding="utf-8")
    return folder / "site"


def _config(folder: Path) -> MkDocsConfig:
    settings = {
        "site_name": "Test shop",
        "docs_dir": "docs",
        "site_dir": "site",
        "use_directory_urls": False,
        "theme": {"name": "material", "custom_dir": str(LOOK / "theme"), "font": False},
        "extra": {
            "polyfills": ["assets/js/iframe-worker.js"],
            "benchleaf": {"shop_name": "Test shop, unit 4", "as_of": "16 April 2026"},
        },
        "markdown_extensions": EXTENSIONS,
        "not_in_nav": "stations/granulator.md",
        "nav": NAVIGATION,
    }
    file = folder / "mkdocs.yml"
    file.write_text(yaml.safe_dump(settings), encoding="utf-8")
    config = load_config(str(file))
    config.plugins._register_event("files", _add_assets)
    return config


def _add_assets(files: Files, config: MkDocsConfig) -> Files:
    for path in sorted((LOOK / "assets").rglob("*")):
        if path.is_file():
            files.append(File(path.relative_to(LOOK).as_posix(), str(LOOK), config.site_dir, False))
    return files
