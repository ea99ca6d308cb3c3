"""A file's text, or the fault that says why it cannot be had."""

from __future__ import annotations

import codecs
import re
import stat
from pathlib import Path

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _

LARGEST = 5_000_000  # bytes

# What no editor shows: control characters, and the line breaks editors do not count as lines.
UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff]"
)


def fault(rule: str, origin: Origin, says: str, mend: str = "", example: str = "") -> Finding:
    """A data fault: what is wrong at ``origin``, what mends it, a right example."""
    return Finding(f"data.{rule}", Severity.FAULT, origin, says, mend, example)


def read_text(path: Path, name: str) -> tuple[str | None, list[Finding]]:
    """The text of ``path`` without its byte order mark; None and one fault where it has none.

    ``name`` is the path as the user knows it, relative to the shop folder.
    """
    data = _bytes(path, name)
    if isinstance(data, Finding):
        return None, [data]
    text = _decoded(data, name)
    if isinstance(text, Finding):
        return None, [text]
    unseen = UNSEEN.search(text)
    return (None, [_unseen(unseen, name)]) if unseen else (text, [])


def _bytes(path: Path, name: str) -> bytes | Finding:
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):  # reading a pipe or a device may never end
            return _unreadable(name, _("it is not a file"))
        if about.st_size > LARGEST:
            return _too_large(name, about.st_size)
        with path.open("rb") as file:
            return file.read(LARGEST)
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        return _unreadable(name, _reason(error))


def _reason(error: Exception) -> str:
    if isinstance(error, FileNotFoundError):
        return _("there is no such file, or it is a link that leads nowhere")
    if isinstance(error, PermissionError):
        return _("this account may not read it")
    return (getattr(error, "strerror", None) or str(error)).lower()


def _unreadable(name: str, why: str) -> Finding:
    says = _("{name} cannot be read: {why}.").format(name=name, why=why)
    return fault("unreadable-file", Origin(name), says, _("Put a readable file in its place."))


def _too_large(name: str, size: int) -> Finding:
    says = _("{name} is {size} MB, more than the {most} MB a data file may have.")
    mend = _("Split it: a noun may be a folder of files.")
    says = says.format(name=name, size=f"{size / 1e6:.1f}", most=LARGEST // 1_000_000)
    return fault("too-large", Origin(name), says, mend, "machines/press.yml")


def _decoded(data: bytes, name: str) -> str | Finding:
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        return data.decode()
    except UnicodeDecodeError as error:
        return _not_utf8(data, error.start, name)


def _not_utf8(data: bytes, start: int, name: str) -> Finding:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        says = _("The file is saved as UTF-16, not as UTF-8.")
        return fault("not-utf8", Origin(name, 1, 1), says, _("Save it again as UTF-8."))
    origin = _place(data[:start].decode(), name)
    says = _("Byte {byte} is not UTF-8, so the letter it stands for cannot be known.")
    says = says.format(byte=f"0x{data[start]:02X}")
    return fault(
        "not-utf8", origin, says, _("Save the file as UTF-8 (in a spreadsheet: CSV UTF-8).")
    )


def _unseen(found: re.Match[str], name: str) -> Finding:
    says = _("An unseen control character (U+{code}) stands here.")
    origin = _place(found.string[: found.start()], name)
    says = says.format(code=f"{ord(found[0]):04X}")
    return fault(
        "control-character", origin, says, _("Delete the character and type the text anew.")
    )


def _place(before: str, name: str) -> Origin:
    lines = re.split(r"\r\n|\r|\n", before)
    return Origin(name, len(lines), len(lines[-1]) + 1)
