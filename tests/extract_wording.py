"""Collect every string to translate. To refresh the catalogue's template, run

python -m tests.extract_wording
"""

from __future__ import annotations

import io
import re
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import DEFAULT_KEYWORDS, extract_from_dir
from babel.messages.frontend import parse_mapping_cfg
from babel.messages.pofile import write_po

ROOT = Path(__file__).resolve().parent.parent
WORDING = ROOT / "site_config" / "wording"
TEMPLATE = WORDING / "messages.pot"

_HEADER = "# Every string of benchleaf that is translated. Made by: python -m tests.extract_wording"
_UNUSED = "Project.*|Report.*|POT.*|PO-.*|Last-.*|Language-.*|Generated-.*"


def extract() -> str:
    """The text of ``messages.pot`` as the code and the templates stand now.

    It names files without lines and carries no date, so that it changes only when words do.
    """
    with (WORDING / "babel.cfg").open(encoding="utf-8") as file:
        methods, options = parse_mapping_cfg(file)
    catalog = Catalog(header_comment=_HEADER, charset="utf-8")
    found = extract_from_dir(
        ROOT, methods, options, DEFAULT_KEYWORDS, comment_tags=("Translators:",)
    )
    for name, line, message, comments, context in sorted(found, key=lambda f: (f[0], f[1])):
        places = [(Path(name).as_posix(), line)]
        catalog.add(message, None, places, auto_comments=comments, context=context)
    return _text(catalog)


def _text(catalog: Catalog) -> str:
    out = io.BytesIO()
    write_po(out, catalog, width=100, sort_output=True, include_lineno=False)
    return re.sub(rf'^"(?:{_UNUSED}):.*\n', "", out.getvalue().decode(), flags=re.MULTILINE)


if __name__ == "__main__":
    TEMPLATE.write_text(extract(), encoding="utf-8")
