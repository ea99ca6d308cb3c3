"""Kinds of sheets as they are printed, or as they were printed before.

Drawing a wall takes longer than looking up whether it has changed. So beside each finished file the
cache keeps, for each kind, a list of what its sheets were when the shop last was what it is now;
while that holds, nothing is drawn at all.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict, dataclass, fields, replace
from functools import cached_property
from hashlib import sha256
from pathlib import Path

from generator.ground.paper import Paper
from generator.ground.resources import reference_file, resource
from generator.ground.wording import _, use
from generator.press import wall
from generator.press.engine import Press, edition
from generator.press.letters import untold
from generator.press.order import Order
from generator.press.sheet import Kept, Sheet
from generator.shop.records.logs import Logs

_AT_ONCE = 2
"""Jobs side by side: the engine leaves Python free while it sets."""

File = tuple[str, bytes]
"""A name below the print room's folder or a key of the cache, and what is in it."""


def batches(order: Order, press: Press) -> tuple[Batch, ...]:
    """Every kind of sheet of a shop, those that show nothing new as they were kept."""
    with use(order.language):
        made = (_batch(order, press, kind) for kind in wall.KINDS)
        return tuple(batch for batch in made if batch.sheets)


@dataclass(frozen=True)
class Batch:
    """All sheets of one kind. ``keys`` are those of its kept files, none where it is new."""

    kind: str
    title: str
    sheets: tuple[Sheet, ...]
    press: Press
    mark: str = ""
    keys: tuple[str, ...] = ()

    def files(self) -> Iterator[File]:
        """A PDF and a thumbnail a sheet, and the bound pack."""
        if self.keys:
            yield from zip(self._names, self._kept, strict=True)
            return
        with ThreadPoolExecutor(_AT_ONCE) as pool:
            pairs = [*pool.map(self._both, self.sheets)]
        bound = self.press.bound(self.title, self.sheets)
        made = [*(pdf for pdf, _small in pairs), *(small for _pdf, small in pairs),
                (bound.key, bound.made())]  # fmt: skip
        yield from zip(self._names, (data for _key, data in made), strict=True)
        if self.press.cache and self.mark:
            self.press.cache.keep(self.mark, _listed(self.sheets, [key for key, _data in made]))

    @property
    def pack(self) -> str:
        """The name of the bound pack."""
        return f"pack-{self.kind}.pdf"

    @cached_property
    def _names(self) -> list[str]:
        pdfs = [f"{sheet.id}.pdf" for sheet in self.sheets]
        return [*pdfs, *(f"thumbnails/{sheet.thumbnail}" for sheet in self.sheets), self.pack]

    def _both(self, sheet: Sheet) -> tuple[File, File]:
        """A sheet's PDF and its thumbnail, each with its key: the engine remembers for the second
        what it laid out for the first."""
        job = self.press.sheet(sheet)
        pdf, small = job.made(), self.press.thumbnail(sheet)
        key = sha256(small).hexdigest()
        if self.press.cache:
            self.press.cache.get(key, lambda: small)
        return (job.key, pdf), (key, small)

    @property
    def _kept(self) -> Iterator[bytes]:
        for key in self.keys:
            kept = self.press.cache.read(key) if self.press.cache else None
            if kept is None:
                raise FileNotFoundError(key)
            yield kept


def _batch(order: Order, press: Press, kind: str) -> Batch:
    title, make = wall.KINDS[kind]
    new = Batch(kind, _(title), (), press, _mark(order, press, kind) if press.cache else "")
    kept = press.cache.read(new.mark) if press.cache else None
    if press.cache and kept is not None:
        sheets, keys = _unlisted(kept)
        if press.cache.has(keys):
            return replace(new, sheets=sheets, keys=keys)
    return replace(new, sheets=tuple(map(_told, make(order))))


def _told(sheet: Sheet) -> Sheet:
    """The sheet, with a note of letters it cannot print."""
    lost = "" if isinstance(sheet.body, Kept) else untold((sheet.title, *sheet.body.words))
    return replace(sheet, note=f"{sheet.note} {lost}".strip()) if lost else sheet


# --- what a kept list holds ----------------------------------------------------------------------


def _listed(sheets: Sequence[Sheet], keys: Sequence[str]) -> bytes:
    rows = [_row(sheet) for sheet in sheets]
    return json.dumps({"sheets": rows, "keys": list(keys)}, ensure_ascii=False).encode()


def _row(sheet: Sheet) -> dict[str, object]:
    names = (f.name for f in fields(Sheet) if f.name not in ("body", "paper"))
    plain = {name: getattr(sheet, name) for name in names}
    return {**plain, "paper": asdict(sheet.paper), "content": sheet.content,
            "ending": sheet.thumbnail.rpartition(".")[2]}  # fmt: skip


def _unlisted(kept: bytes) -> tuple[tuple[Sheet, ...], tuple[str, ...]]:
    found = json.loads(kept)
    return tuple(_sheet(row) for row in found["sheets"]), tuple(found["keys"])


def _sheet(row: dict[str, object]) -> Sheet:
    plain: dict[str, object] = {**row, "about": tuple(row["about"])}  # type: ignore[arg-type]
    body = Kept(str(plain.pop("content")), str(plain.pop("ending")))
    paper = Paper(**plain.pop("paper"))  # type: ignore[arg-type]
    return Sheet(**plain, body=body, paper=paper)  # type: ignore[arg-type]


# --- what a kind of sheet depends on -------------------------------------------------------------


def _mark(order: Order, press: Press, kind: str) -> str:
    """A hash of everything a kind of sheet could show: the shop, the date, and this program."""
    shop = order.shop
    logs = Logs() if kind in wall.WITHOUT_LOGS else replace(shop.logs, printed=())
    seen = shop.model_copy(update={"logs": logs}).model_dump_json()
    said = (kind, order.language, order.address, str(order.first_label), press.shop,
            str(press.timestamp), str(press.marked), seen)  # fmt: skip
    return sha256(b"\0".join((_PROGRAM, edition(), *(s.encode() for s in said)))).hexdigest()


def _stamp(path: Path) -> str:
    found = path.stat()
    return f"{path} {found.st_size} {found.st_mtime_ns}"


def _program() -> bytes:
    """Every file that could change what is drawn, by its size and when it was written."""
    package = reference_file("").parent
    folders = ((package, "*.py"), (package, "*.yml"), (resource("site_config") / "wording", "*.*o"))
    files = sorted(path for folder, pattern in folders for path in folder.rglob(pattern))
    return "\n".join(map(_stamp, files)).encode()


_PROGRAM = _program()
"""Taken as it is loaded: code that is edited while it runs must not pass for what ran."""
