"""The shop's settings by polymer, each beside the window it must stay in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from generator.ground import units
from generator.ground.wording import N_, _
from generator.reference import reference
from generator.shop.records.machines import Machine, Setting
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.heat import Refusals


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the table, and how a setting fills it."""

    title: str
    read: Callable[[Setting], str]


@dataclass(frozen=True, slots=True)
class Cell:
    """One figure, with the handbook window under it where there is one."""

    title: str
    text: str
    window: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """One polymer: its cells, or why it is refused."""

    polymer: Polymer
    cells: tuple[Cell, ...]
    clean_down: str
    refused: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """The settings of a station or machine. It is false where there are none."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    def __bool__(self) -> bool:
        return bool(self.rows)


def _shown(field: str, unit: str) -> Callable[[Setting], str]:
    def read(setting: Setting) -> str:
        value = getattr(setting, field)
        return "" if value is None else units.show(value, unit)

    return read


def _zones(setting: Setting) -> str:
    return " ".join(f"{zone:g}" for zone in setting.zones_c)


_MELT = N_("Melt or platen")
_COLUMNS: tuple[tuple[str, Callable[[Setting], str]], ...] = (
    (_MELT, _shown("melt_c", "c")),
    (N_("Zones, °C"), _zones),
    (N_("Mould"), _shown("mould_c", "c")),
    (N_("Drying"), _shown("drying_at_c", "c")),
    (N_("Drying time"), _shown("drying_for_h", "h")),
    (N_("Screen"), _shown("screen_mm", "mm")),
    (N_("Largest piece"), _shown("largest_piece_mm", "mm")),
    (N_("Rate"), _shown("rate_kgh", "kgh")),
    (N_("Hold"), _shown("hold_s", "s")),
    (N_("Longest hot"), _shown("hot_hold_min", "min")),
)


def settings_of(shop: Shop, refusals: Refusals, *machines: Machine) -> Table:
    """The settings of some machines in one table, with only the columns that any fills."""
    pairs = [(m, s) for m in machines for s in m.settings]
    columns = tuple(
        Column(_(title), read)
        for title, read in _COLUMNS
        if any(read(s) for m, s in pairs if not refusals.setting(m, s))
    )
    rows = (_row(shop.polymers[s.polymer], m, s, columns, refusals.setting(m, s)) for m, s in pairs)
    return Table(columns, tuple(rows))


def _row(
    polymer: Polymer,
    machine: Machine,
    setting: Setting,
    columns: tuple[Column, ...],
    refused: str,
) -> Row:
    if refused:
        return Row(polymer, (), "", refused)
    cells = tuple(_cell(machine, polymer, setting, column) for column in columns)
    return Row(polymer, cells, _clean_down(setting))


def _cell(machine: Machine, polymer: Polymer, setting: Setting, column: Column) -> Cell:
    window = window_words(machine, polymer) if column.title == _(_MELT) else ""
    return Cell(column.title, column.read(setting) or "–", window)


def window_words(machine: Machine, polymer: Polymer) -> str:
    """The handbook window of a polymer on a machine (``180 to 210 °C``), or ""."""
    if machine.process is None:
        return ""
    temperature = reference().open_window(polymer.code, machine.process).temperature
    if temperature is None:
        return ""
    return _("handbook {low} to {high}").format(
        low=f"{temperature.low:g}", high=units.show(temperature.high, "c")
    )


def _clean_down(setting: Setting) -> str:
    words = [str(setting.clean_down)] if setting.clean_down else []
    if setting.clean_down_takes_min is not None:
        words.append(units.show(setting.clean_down_takes_min, "min"))
    return ", ".join(words)
