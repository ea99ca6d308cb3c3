"""What a YAML parser complains about, in the words of somebody who edits the file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from typing import NamedTuple

import yaml

from generator.ground.finding import Finding
from generator.ground.origin import Origin
from generator.ground.textfile import fault
from generator.ground.wording import N_, _


class _Plain(NamedTuple):
    """How a complaint reads in plain words; ``opened`` points at where the thing began."""

    complaint: str
    says: str
    mend: str
    example: str
    opened: bool = False
    rule: str = "syntax"


_QUOTES = N_("Put quotes around the text.")
_INDENT = N_("Line it up with the lines above it that belong to the same record.")

# The first whose pattern is found in the parser's complaint (either parser's) is used.
PLAIN = (
    _Plain(
        r"mapping values are not allowed",
        N_("A key cannot stand here: the line above is not finished, or this is too far in."),
        N_("Line it up with the other keys of its record, and end the line above with a value."),
        "band-saw:\n  name: Band saw\n  kind: band-saw",
    ),
    _Plain(
        r"quoted scalar.*end of stream",
        N_("The quote opened here is never closed."),
        N_("Close it with the same mark."),
        'name: "Band saw"',
        opened=True,
    ),
    _Plain(
        r"flow sequence|',' or '\]'",
        N_("The `[` opened here is never closed, or a comma is missing after it."),
        N_("Close the list, with commas between its items."),
        "accepts: [hdpe, pp]",
        opened=True,
    ),
    _Plain(
        r"flow mapping|',' or '\}'",
        N_("The `{` opened here is never closed, or a comma is missing after it."),
        N_("Close it, with commas between its entries; put quotes around text with a brace."),
        "name: {en: Band saw, es: Sierra de cinta}",
        opened=True,
    ),
    _Plain(
        r"escape",
        N_("A backslash inside double quotes begins an escape that is not known."),
        N_("Use single quotes, which take a backslash as it is."),
        r"path: 'C:\shop'",
    ),
    _Plain(
        r"alphabetic or numeric",
        N_("A value that begins with `*` or `&` is read as a reference."),
        _QUOTES,
        'note: "* ask first"',
    ),
    _Plain(
        r"cannot start any token",
        N_("A value cannot begin with the character {character}"),
        _QUOTES,
        'contact: "{character}..."',
    ),
    _Plain(
        r"sequence entries are not allowed",
        N_("A list item (`- `) cannot stand on the same line as its key."),
        N_("Put every item on a line of its own."),
        "accepts:\n  - hdpe\n  - pp",
    ),
    _Plain(
        r"block collection",
        N_("A list goes on here without its `- `."),
        N_("Begin every item with `- `, all in one column, or line the key up with its record."),
        "accepts:\n  - hdpe\n  - pp",
    ),
    _Plain(
        r"block scalar",
        N_("Text after `|` or `>` begins on the next line."),
        N_("Move the text down, or put quotes around a value that begins with `|` or `>`."),
        "note: >\n  Ask before you start.",
    ),
    _Plain(
        r"node content",
        N_("A bracket is closed here that was never opened."),
        N_("Delete it, or put quotes around the text."),
        'note: "see ]"',
    ),
    _Plain(
        r"expected ':'|simple key",
        N_("This line has no key, or no space after its colon."),
        N_("Write a key, a colon and a space."),
        "width: 750 mm",
        opened=True,
    ),
    _Plain(
        r"tag",
        N_("A value that begins with `!` is read as a tag, and tags are not read."),
        _QUOTES,
        'note: "!important"',
    ),
    _Plain(
        r"directive|incompatible",
        N_("A line that begins with `%` is an instruction to the parser, and is not read."),
        N_("Delete the line."),
        "",
    ),
    _Plain(
        r"document start",
        N_("Something stands after the end of the document (`...`)."),
        N_("Delete the line with `...`."),
        "",
    ),
    _Plain(
        r"nesting",
        N_("Values are nested too deep here."),
        N_("Write it with fewer levels."),
        "",
        rule="too-deep",
    ),
    _Plain(
        r"block mapping|expected key|block end",
        N_("This does not go on from the line above: the indentation or a quote is wrong."),
        _INDENT,
        "band-saw:\n  name: Band saw\n  note: 'it''s loud'",
    ),
)
_TWO_COLONS = _Plain(
    "",
    N_("Two `: ` stand in this line, so it cannot be told where the value ends."),
    N_("Put quotes around text with a colon in it."),
    'note: "Open: weekdays only"',
)
_PRINTED = _Plain(
    "",
    N_("These are printed quotes (“ ”), which in YAML are letters like any other."),
    N_("Put straight quotes in their place, or leave them out."),
    'name: "Band saw"',
    rule="printed-quotes",
)
_UNCLOSED = _Plain(
    "",
    N_("The quote opened here is never closed on its line."),
    N_("Close it with the same mark."),
    'name: "Band saw"',
)
_OTHER = _Plain("", N_("This cannot be read as YAML."), _INDENT, "band-saw:\n  name: Band saw")


def syntax_fault(error: yaml.MarkedYAMLError, lines: Sequence[str], name: str) -> Finding:
    """The fault behind a parser's complaint, at the place where it is mended."""
    origin = _origin(error.problem_mark or error.context_mark, name)
    if tab := _tab(origin, lines):
        return tab
    if behind := _unclosed(lines, name) or _in_line(origin, lines):
        return behind
    complaint = f"{error.context or ''} {error.problem or ''}"
    plain = next((p for p in PLAIN if re.search(p.complaint, complaint)), _OTHER)
    if plain.opened and error.context_mark:
        origin = _origin(error.context_mark, name)
    return _fault(plain, origin, _character(origin, lines))


def _unclosed(lines: Sequence[str], name: str) -> Finding | None:
    """A quote that ends only at the next one, lines below: the parser complains there."""
    last = None
    with suppress(yaml.YAMLError):
        for token in yaml.scan("\n".join(lines)):
            if isinstance(token, yaml.ScalarToken) and token.style in ("'", '"'):
                start, end = token.start_mark, token.end_mark
                taken = lines[start.line + 1 : end.line + 1]
                if any(re.match(r"\s*(?:- )?[\w-]+:(?: |$)", line) for line in taken):
                    last = start
    return _fault(_UNCLOSED, _origin(last, name), "") if last else None


def _in_line(origin: Origin, lines: Sequence[str]) -> Finding | None:
    """What the line shows by itself, whatever the parser made of it."""
    line = lines[origin.line - 1] if 0 < origin.line <= len(lines) else ""
    if printed := re.search(r"(?:: |- |^\s*)([“„”])", line):
        return _fault(_PRINTED, replace(origin, column=printed.start(1) + 1), "")
    if re.fullmatch(r"\s*(?:- )?[\w-]+: [^'\"\[{|>].*: .*", line):
        return _fault(_TWO_COLONS, origin, "")
    return None


def printed_quotes_fault(origin: Origin) -> Finding:
    """A value that stands between the quotes of a printed page."""
    return _fault(_PRINTED, origin, "")


def tab_fault(origin: Origin) -> Finding:
    says = _("A tab is used to indent this line.")
    return fault("tab", origin, says, _("Use spaces."), "band-saw:\n  name: Band saw")


def _fault(plain: _Plain, origin: Origin, character: str) -> Finding:
    says, mend = _(plain.says), _(plain.mend)
    example = plain.example.replace("{character}", character)
    return fault(plain.rule, origin, says.replace("{character}", character), mend, example)


def _tab(origin: Origin, lines: Sequence[str]) -> Finding | None:
    line = lines[origin.line - 1] if 0 < origin.line <= len(lines) else ""
    indent = re.match(r"\s*", line)
    at = indent[0].find("\t") if indent else -1
    return tab_fault(Origin(origin.file, origin.line, at + 1)) if at >= 0 else None


def _character(origin: Origin, lines: Sequence[str]) -> str:
    line = lines[origin.line - 1] if 0 < origin.line <= len(lines) else ""
    return line[origin.column - 1 : origin.column]


def _origin(mark: yaml.Mark | None, name: str) -> Origin:
    return Origin(name, mark.line + 1, mark.column + 1) if mark else Origin(name)
