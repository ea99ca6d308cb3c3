"""Nobody is asked to measure fume of what must never be melted."""

from pathlib import Path

from generator.workings import air
from tests.small import shop_with

MACHINES = """\
press:
  name: Press
  kind: platen-press
  station: cutting
  settings:
    - {polymer: pp, melt: 200 °C}
    - {polymer: suspect, melt: 190 °C}
"""


def asked(folder: Path, code: str) -> str:
    text = (
        "pp: {code: PP, name: Polypropylene, status: taken}\n"
        f"suspect: {{code: {code}, name: White clips, status: taken}}\n"
    )
    found = air.study(shop_with(folder, polymers=text, machines=MACHINES)).survey.findings
    (ask,) = (f for f in found if f.rule == "air.emission-unknown")
    return ask.says


def test_a_refused_polymer_is_not_asked_about(tmp_path: Path) -> None:
    assert "White clips" not in asked(tmp_path, "PVC")
    assert "White clips" in asked(tmp_path, "PS")
