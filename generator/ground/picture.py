"""Photographs: how large they are, and the same without what a camera writes beside them.

A phone writes where and when a picture was taken, with what, and a small copy of it. Nothing of
that is for readers. Only which way up it was held stays, or it would lie on its side.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

_PNG = b"\x89PNG\r\n\x1a\n"
_PNG_KEPT = frozenset(
    {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT"}
)
_SOI, _EOI, _SOS, _APP0, _APP1, _APP2 = 0xD8, 0xD9, 0xDA, 0xE0, 0xE1, 0xE2
_APP14, _COMMENT = 0xEE, 0xFE
_ALONE = frozenset({0x01, *range(0xD0, 0xD8)})
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_ORIENTATION = 0x0112
_ON_ITS_SIDE = range(5, 9)


class NotAPictureError(ValueError):
    """Data that is no whole JPEG or PNG."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that may be published: its size as it is seen [px], and its data."""

    kind: Literal["jpeg", "png"]
    width: int
    height: int
    data: bytes


def cleaned(data: bytes) -> Picture:
    """A picture with nothing beside it but its colours and which way up it is.

    Raises
    ------
    NotAPictureError
        Where the data is neither a JPEG nor a PNG, or ends too early.
    """
    try:
        if data.startswith(_PNG):
            return _png(data)
        if data.startswith(b"\xff\xd8\xff"):
            return _jpeg(data)
    except (struct.error, IndexError, ValueError):
        raise NotAPictureError from None
    raise NotAPictureError


# --- PNG ---------------------------------------------------------------------------------------


def _png(data: bytes) -> Picture:
    chunks = list(_chunks(data))
    if not chunks or chunks[0][0] != b"IHDR" or chunks[-1][0] != b"IEND":
        raise NotAPictureError
    width, height = struct.unpack(">II", chunks[0][1][:8])
    kept = (_chunk(name, body) for name, body in chunks if name in _PNG_KEPT)
    return Picture("png", width, height, _PNG + b"".join(kept))


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Each chunk's name and body, as far as the end of the picture."""
    at, name = len(_PNG), b""
    while name != b"IEND" and at < len(data):
        (length,) = struct.unpack_from(">I", data, at)
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if len(body) < length:
            raise NotAPictureError
        yield name, body
        at += 12 + length


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


# --- JPEG --------------------------------------------------------------------------------------


def _jpeg(data: bytes) -> Picture:
    turn, size, kept = 1, (0, 0), []
    for marker, body in _segments(data):
        if marker in _FRAMES and size == (0, 0):
            height, width = struct.unpack_from(">HH", body, 5)
            size = (width, height)
        if marker == _APP1:
            turn = _turn_of(body[4:], turn)
        elif _is_kept(marker, body):
            kept.append(body)
    if not size[0] or not size[1] or kept[-1] != b"\xff\xd9":
        raise NotAPictureError
    width, height = size[::-1] if turn in _ON_ITS_SIDE else size
    head = _turned(turn) if turn != 1 else b""
    return Picture("jpeg", width, height, b"\xff\xd8" + head + b"".join(kept))


def _is_kept(marker: int, body: bytes) -> bool:
    """Whether a segment is part of the picture; of what programs add, only what colours mean."""
    if marker == _APP0:
        return body[4:9] == b"JFIF\0"
    if marker == _APP2:
        return body[4:16] == b"ICC_PROFILE\0"
    return marker == _APP14 or not (_APP0 <= marker < _APP0 + 16 or marker == _COMMENT)


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Each marker with its whole segment, to the end of the first picture and no further."""
    at = 2
    while True:
        while data[at] == 0xFF and data[at + 1] == 0xFF:  # filling
            at += 1
        marker = data[at + 1]
        if data[at] != 0xFF:
            raise NotAPictureError
        end = at + 2 if marker in _ALONE or marker == _EOI else _end_of_segment(data, at)
        if marker == _SOS:
            end = _end_of_scan(data, end)
        yield marker, data[at:end]
        if marker == _EOI:
            return
        at = end


def _end_of_segment(data: bytes, at: int) -> int:
    (length,) = struct.unpack_from(">H", data, at + 2)
    if length < 2 or at + 2 + length > len(data):
        raise NotAPictureError
    return at + 2 + int(length)


def _end_of_scan(data: bytes, at: int) -> int:
    """Where the next marker stands that is no part of the scan."""
    while True:
        at = data.index(b"\xff", at)
        if data[at + 1] != 0 and data[at + 1] not in _ALONE and data[at + 1] != 0xFF:
            return at
        at += 1 if data[at + 1] == 0xFF else 2


def _turn_of(body: bytes, otherwise: int) -> int:
    """Which way up the camera was held, as Exif writes it from 1 to 8."""
    if not body.startswith(b"Exif\0\0"):
        return otherwise
    tiff = body[6:]
    order = "<" if tiff[:2] == b"II" else ">"
    try:
        (at,) = struct.unpack_from(f"{order}I", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, at)
        for n in range(count):
            tag, _type, _n, turn = struct.unpack_from(f"{order}HHIH", tiff, at + 2 + 12 * n)
            if tag == _ORIENTATION and 1 <= turn <= 8:
                return int(turn)
    except struct.error:
        return otherwise
    return otherwise


def _turned(turn: int) -> bytes:
    """A segment that says which way up the picture is, and nothing else."""
    tiff = b"MM\0*" + struct.pack(">IHHHIHHI", 8, 1, _ORIENTATION, 3, 1, turn, 0, 0)
    body = b"Exif\0\0" + tiff
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body
