"""Pictures without what a camera writes beside them, held against another library's reading."""

from __future__ import annotations

import io
import random

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from generator.ground.picture import NotAPictureError, cleaned

PLACE = b"52 deg 31 min at the yard"


def drawn(width: int = 40, height: int = 24) -> Image.Image:
    """A picture with an upper half that tells which way up it is."""
    image = Image.new("RGB", (width, height), "#2f5f95")
    image.paste("#efeee8", (0, 0, width, height // 2))
    return image


def jpeg(turn: int = 1, **more: object) -> bytes:
    """As a phone writes it: where, when and with what, a comment, and a second picture behind."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010F], exif[0x0132] = turn, "Maker", "2026:03:02 10:00:00"
    exif.get_ifd(0x8825).update({1: "N", 2: (52.0, 31.0, 7.0), 29: "2026:03:02"})
    out = io.BytesIO()
    drawn().save(out, "JPEG", exif=exif, comment=PLACE, quality=90, **more)
    return out.getvalue() + b"\xff\xd8\xff\xe1" + PLACE


def png() -> bytes:
    said, out = PngInfo(), io.BytesIO()
    said.add_text("Location", PLACE.decode())
    said.add_itxt("XML:com.adobe.xmp", PLACE.decode())
    exif = Image.Exif()
    exif.get_ifd(0x8825).update({1: "N"})
    drawn().save(out, "PNG", pnginfo=said, exif=exif)
    return out.getvalue() + PLACE


@pytest.mark.parametrize("data", [jpeg(), jpeg(progressive=True), jpeg(6), png()])
def test_nothing_stays_of_where_when_and_with_what(data: bytes) -> None:
    assert PLACE in data
    left = cleaned(data).data
    read = Image.open(io.BytesIO(left))
    read.load()
    assert not any(words in left for words in (PLACE, b"Maker", b"2026:03", b"GPS"))
    assert set(read.getexif()) <= {0x0112} and not read.getexif().get_ifd(0x8825)
    assert not {"comment", "Location", "xmp", "XML:com.adobe.xmp"} & set(read.info)


@pytest.mark.parametrize("data", [jpeg(), jpeg(progressive=True), png()])
def test_the_picture_is_the_same_to_the_dot(data: bytes) -> None:
    before, after = (Image.open(io.BytesIO(d)).convert("RGB") for d in (data, cleaned(data).data))
    assert before.tobytes() == after.tobytes()
    assert (cleaned(data).width, cleaned(data).height) == after.size


@pytest.mark.parametrize("turn", range(1, 9))
def test_a_picture_taken_sideways_stays_the_right_way_up(turn: int) -> None:
    found = cleaned(jpeg(turn))
    assert Image.open(io.BytesIO(found.data)).getexif().get(0x0112, 1) == turn
    assert (found.width > found.height) is (turn < 5)


def test_what_was_cleaned_stays_as_it_is() -> None:
    for data in (jpeg(8), png()):
        assert cleaned(cleaned(data).data) == cleaned(data)


def test_what_is_no_whole_picture_is_told_and_never_breaks() -> None:
    dice = random.Random(3)
    whole = [jpeg(6), png()]
    for data in (
        b"",
        b"\xff\xd8\xff",
        b"GIF89a",
        b"\x89PNG\r\n\x1a\n",
        whole[0][:300],
        whole[1][:60],
    ):
        with pytest.raises(NotAPictureError):
            cleaned(data)
    for _n in range(300):
        broken = bytearray(dice.choice(whole))
        for _spot in range(3):
            broken[dice.randrange(2, 400) % len(broken)] = dice.randrange(256)
        try:
            cleaned(bytes(broken))
        except NotAPictureError:
            continue
