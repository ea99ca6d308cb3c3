"""What is melted: a polymer or a blend, its figures, and how a machine of the shop runs it.

The shop's own figures win over the tables. A blend takes its density from all its parts and
everything else from the polymer there is most of. Blends that are the same but for their colours
share one Melt, so that nothing is worked out twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source
from generator.reference import Value, Window, reference
from generator.reference.records import Polymer as Known
from generator.shop.fields import Record
from generator.shop.records.machines import Machine, Process, Setting
from generator.shop.records.material import Blend, Mould, Polymer
from generator.shop.shop import Shop
from generator.workings.heat import material_of, refusal_of
from generator.workings.moulding.errors import UnworkableError
from generator.workings.moulding.shot import blend_density_kgm3, checked_shrinkage

Signature = tuple[tuple[tuple[str, float], ...], tuple[tuple[str, float], ...]]
_TEXTBOOK = Source("Textbook, densities of a mixture", "handbook")


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure with where it comes from: one value, or the middle of a range."""

    value: float
    unit: str
    origin: Origin | Source
    low: float
    high: float

    def named(self, name: str) -> Input:
        """The figure as an input of a working."""
        return Input(name, Quantity(self.value, self.unit), self.origin)


def written(record: Record, field: str, unit: str) -> Fact | None:
    """A figure the shop wrote, None where it did not."""
    value = getattr(record, field)
    if value is None:
        return None
    return Fact(float(value), unit, record.origin_of(field), float(value), float(value))


def tabled(value: Value | None) -> Fact | None:
    """A figure of the reference tables."""
    if value is None:
        return None
    return Fact(value.middle, value.unit, value.source_record, value.low, value.high)


@dataclass(frozen=True)
class Melt:
    """What is melted, whatever its colours.

    ``parts`` are polymers by their share of the whole by mass, the largest first; ``host`` is
    the first of them. ``known`` is the host's row in the tables, None where it has none or a
    filler changes it.
    """

    parts: tuple[tuple[Polymer, float], ...]
    additives: tuple[tuple[str, float], ...]
    known: Known | None
    density: Fact | None

    @property
    def host(self) -> Polymer:
        return self.parts[0][0]

    @property
    def code(self) -> str:
        return self.host.code

    @cached_property
    def melt_density(self) -> Fact | None:
        return tabled(self.known.density_melt) if self.known else None

    @cached_property
    def shrinkage(self) -> Fact | None:
        """Linear shrinkage [%]; None where it is not known or not believed."""
        own = written(self.host.own, "shrinkage_percent", "%")
        if own is not None:
            return own if believed(own.value) else None
        return tabled(self.known.shrinkage) if self.known else None

    @cached_property
    def diffusivity(self) -> Fact | None:
        return tabled(self.known.diffusivity) if self.known else None

    @cached_property
    def ejection(self) -> Fact | None:
        """Temperature at which a part may leave the mould [°C]."""
        own = written(self.host.own, "ejection_c", "°C")
        return own or (tabled(self.known.ejection) if self.known else None)

    @cached_property
    def change(self) -> Fact | None:
        """Where it melts, or softens if amorphous [°C]."""
        return tabled(self.known.melting or self.known.glass) if self.known else None

    @cached_property
    def flake(self) -> Fact | None:
        """Bulk density of its flake [kg/m³]."""
        own = written(self.host.own, "flake_density_kgm3", "kg/m³")
        return own or (tabled(self.known.regrind_density) if self.known else None)

    @cached_property
    def thirsty(self) -> tuple[Polymer, ...]:
        """Those of its parts that must be dried before they are melted."""
        rows = ((polymer, reference().find_polymer(polymer.code)) for polymer, _share in self.parts)
        return tuple(polymer for polymer, row in rows if row is not None and row.hygroscopic)

    def window(self, process: Process) -> Window:
        """Where all its parts can be run on an open machine; the first that cannot decides."""
        windows = [_window(polymer, process) for polymer, _share in self.parts]
        if stopped := next((w for w in windows if w.temperature is None), None):
            return stopped
        first = windows[0]
        return first if len(windows) == 1 else _overlap(process, windows)


def _window(polymer: Polymer, process: Process) -> Window:
    """Where a polymer can be run, by what it is and what it contains; nowhere if never heated."""
    if reason := refusal_of(polymer):
        return Window(process=process, stance="refuse", reason=reason)
    return reference().open_window(polymer.code, process)


def _overlap(process: Process, windows: list[Window]) -> Window:
    ranges = [w.temperature for w in windows if w.temperature]
    low, high = max(v.low for v in ranges), min(v.high for v in ranges)
    if low > high:
        reason = _("Its polymers have no melt temperature in common.")
        return Window(process=process, stance="refuse", reason=reason)
    shared = ranges[0].model_copy(update={"value": (low, high)})
    return Window(process=process, stance="run", temperature=shared)


def believed(percent: float) -> bool:
    """Whether a shrinkage can be one."""
    try:
        checked_shrinkage(percent)
    except UnworkableError:
        return False
    return True


class Melts:
    """The melts of a shop, each made once.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._made: dict[Signature, Melt] = {}
        self._polymers: dict[str, Melt] = {}
        self._blends: dict[str, Melt] = {}

    def of_polymer(self, id_: str) -> Melt:
        """A polymer by itself."""
        if id_ not in self._polymers:
            self._polymers[id_] = self._shared(((id_, 1.0),), ())
        return self._polymers[id_]

    def of_blend(self, blend: Blend) -> Melt:
        """A blend, its parts of one polymer taken together."""
        if blend.id not in self._blends:
            self._blends[blend.id] = self._blended(blend)
        return self._blends[blend.id]

    def _blended(self, blend: Blend) -> Melt:
        shares: dict[str, float] = {}
        for part in blend.parts:
            shares[part.polymer] = shares.get(part.polymer, 0.0) + part.share_percent / 100
        parts = tuple(sorted(shares.items(), key=lambda item: -item[1]))
        extra = tuple((a.consumable, a.share_percent / 100) for a in blend.additives)
        return self._shared(parts, extra)

    def _shared(
        self, parts: tuple[tuple[str, float], ...], extra: tuple[tuple[str, float], ...]
    ) -> Melt:
        """The melt of a signature, made once."""
        rounded = tuple((id_, round(share, 6)) for id_, share in parts)
        signature = (rounded, extra)
        if signature not in self._made:
            self._made[signature] = self._make(rounded, extra)
        return self._made[signature]

    def _make(
        self, parts: tuple[tuple[str, float], ...], extra: tuple[tuple[str, float], ...]
    ) -> Melt:
        polymers = tuple((self._shop.polymers[id_], share) for id_, share in parts)
        host = polymers[0][0]
        filled = bool(material_of(host).fillers)
        known = None if filled else reference().find_polymer(host.code)
        return Melt(polymers, extra, known, self._density(polymers, extra))

    def _density(
        self, parts: tuple[tuple[Polymer, float], ...], extra: tuple[tuple[str, float], ...]
    ) -> Fact | None:
        """Of the blend; an additive whose density is not written counts as the rest."""
        found = [(share, solid_density(polymer)) for polymer, share in parts]
        if any(fact is None for _share, fact in found):
            return None
        known = [(share, fact) for share, fact in found if fact is not None]
        stirred = [(share, self._shop.consumables[id_].density_kgm3) for id_, share in extra]
        heavy = [(share, density) for share, density in stirred if density]
        if len(known) == 1 and not heavy:
            return known[0][1]
        mixed = blend_density_kgm3([*((share, fact.value) for share, fact in known), *heavy])
        return Fact(mixed, "kg/m³", _TEXTBOOK, mixed, mixed)


def solid_density(polymer: Polymer) -> Fact | None:
    """Density of the solid [kg/m³]: the shop's, else tabled; of a filled grade the shop's alone."""
    own = written(polymer.own, "density_kgm3", "kg/m³")
    if own is not None or material_of(polymer).fillers:
        return own
    known = reference().find_polymer(polymer.code)
    return tabled(known.density_solid) if known else None


@dataclass(frozen=True, slots=True)
class Running:
    """How a machine of the shop runs a melt; a figure is None where nobody has written one.

    ``melt`` is the platens' set point on a press. ``window`` is that of an open machine.
    """

    setting: Setting | None
    window: Value | None
    melt: Fact | None
    hold: Fact | None
    hot_hold: Fact | None
    rate: Fact | None

    def mould(self, mould: Mould, melt: Melt) -> Fact | None:
        """Temperature of the mould's wall [°C]: the setting's, else the mould's, else tabled."""
        own = written(self.setting, "mould_c", "°C") if self.setting else None
        own = own or written(mould, "mould_c", "°C")
        return own or (tabled(melt.known.mould) if melt.known else None)


def running(machine: Machine, melt: Melt) -> Running:
    """How a machine runs a melt, by its setting for the polymer there is most of."""
    setting = next((s for s in machine.settings if s.polymer == melt.host.id), None)
    process = machine.process
    window = melt.window(process).temperature if process in ("injection", "press") else None
    own = written(setting, "melt_c", "°C") if setting else None
    held = written(setting, "hot_hold_min", "min") if setting else None
    rate = written(setting, "rate_kgh", "kg/h") if setting else None
    return Running(
        setting,
        window,
        own or _within(window, machine),
        written(setting, "hold_s", "s") if setting else None,
        held or written(melt.host.own, "hot_hold_min", "min"),
        rate or written(machine.capacity, "throughput_kgh", "kg/h"),
    )


def _within(window: Value | None, machine: Machine) -> Fact | None:
    """The middle of a window as far as the machine can reach it."""
    if window is None:
        return None
    high = min(window.high, machine.heat.highest_c) if machine.heat else window.high
    low = min(window.low, high)
    return Fact((low + high) / 2, "°C", window.source_record, low, high)


def unbelieved(polymers: Iterable[Polymer]) -> Iterator[Finding]:
    """Shrinkages and ejection temperatures of the shop's own that cannot be meant."""
    for polymer in polymers:
        own = polymer.own
        if own.shrinkage_percent is not None:
            try:
                checked_shrinkage(own.shrinkage_percent)
            except UnworkableError as error:
                yield _doubt(polymer, "shrinkage", own.origin_of("shrinkage_percent"), str(error))


def _doubt(polymer: Polymer, rule: str, origin: Origin, says: str) -> Finding:
    return Finding(
        f"moulding.{rule}",
        Severity.FIX,
        origin,
        says,
        _("Measure ten cold parts against their cavity, and write what they lack in per cent."),
        subject=f"polymers/{polymer.id}",
    )
