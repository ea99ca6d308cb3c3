"""Drawings as a browser shows them, in pixels."""

from __future__ import annotations

import base64
from functools import cache

import numpy as np
from playwright.sync_api import Browser, Page

# As one string: a list of numbers would be passed on one by one.
_READ = """async ([svg, width, height]) => {
    const image = new Image();
    image.src = 'data:image/svg+xml;utf8,' + encodeURIComponent(svg);
    await image.decode();
    const context = new OffscreenCanvas(width, height).getContext('2d');
    context.drawImage(image, 0, 0, width, height);
    const bytes = context.getImageData(0, 0, width, height).data;
    return btoa(Array.from(bytes, byte => String.fromCharCode(byte)).join(''));
}"""


@cache
def _page(browser: Browser) -> Page:
    return browser.new_page()


def picture(browser: Browser, svg: str, width: int, height: int) -> np.ndarray:
    """Red, green, blue and cover of each pixel, 0 to 255, on nothing."""
    data = base64.b64decode(_page(browser).evaluate(_READ, [svg, width, height]))
    return np.frombuffer(data, dtype=np.uint8).astype(float).reshape(height, width, 4)
