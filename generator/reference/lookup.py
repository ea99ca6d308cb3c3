"""Asks the reference tables: every look-up by name, code or place, with its source."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal, TypeVar

from generator.ground.nearest import nearest
from generator.ground.wording import _
from generator.reference import records as r
from generator.reference import tables
from generator.reference.marks import Material, identify

T = TypeVar("T")

Reach = Literal["close", "arm"]
Height = Literal["head", "shoulder", "elbow", "knuckle", "lower-leg"]
_RULED_OUT = ("never", "unknown")


class NoSuchRowError(LookupError):
    """A key that is in no table: what was asked for, and the ``nearest`` key or None."""

    def __init__(self, key: str, choices: Iterable[str]) -> None:
        self.key = key
        self.nearest = nearest(key, choices)
        super().__init__(_("`{key}` is not in the reference tables").format(key=key))


class NoFigureError(LookupError):
    """A row that holds no value for the place asked for."""

    def __init__(self, key: str, place: str | None) -> None:
        self.key = key
        self.place = place
        says = _("the reference tables hold no `{key}` for {place}")
        super().__init__(says.format(key=key, place=place))


def _row(rows: Mapping[str, T], key: str) -> T:
    try:
        return rows[key]
    except KeyError:
        raise NoSuchRowError(key, rows) from None


@dataclass(frozen=True, slots=True)
class Reference:
    """What the trade knows, table by table. A table is read when it is first asked for.

    Look-ups by key raise NoSuchRowError for a key that is in no table; its ``nearest`` is the
    key most likely meant.
    """

    # --- materials

    @property
    def polymers(self) -> Mapping[str, r.Polymer]:
        """The polymers with figures, by ISO 1043 code."""
        return tables.polymers()

    def identify(self, mark: str, contains: Iterable[str] = ()) -> Material:
        """What a mark says; see :func:`generator.reference.marks.identify`."""
        return identify(mark, contains)

    def polymer(self, mark: str) -> r.Polymer:
        """The polymer a mark names. Raises NoSuchRowError for a compound and for a code
        without figures (``POM``), which ``identify`` knows all the same."""
        found = self.find_polymer(mark)
        if found is None:
            raise NoSuchRowError(mark, self.polymers)
        return found

    def find_polymer(self, mark: str) -> r.Polymer | None:
        """The polymer a mark names, or None: for a compound, a code without figures, or a
        mark that is not known. A filled grade (``PP-MD30``) has its base's row."""
        material = identify(mark)
        alone = material.known and len(material.bases) == 1
        return self.polymers.get(material.bases[0]) if alone else None

    def window(self, mark: str, process: r.Process) -> r.Window:
        """Whether and how hot [°C] a material is run in a process.

        Never raises: never-heated and unknown materials are ``refuse``, compounds and codes
        without figures ``no-figures``, each with the reason in the current language. The
        injection window is that of closed industrial machines: see ``open_window``.
        """
        material = identify(mark)
        if material.refusal in _RULED_OUT:
            return r.Window(process=process, stance="refuse", reason=material.reason)
        polymer = self.find_polymer(mark)
        if polymer is None:
            return r.Window(process=process, stance="no-figures", reason=_no_figures(material))
        return _drying_window(polymer) if process == "drying" else polymer.windows[process]

    def open_window(self, mark: str, process: r.Process) -> r.Window:
        """The window for a small open machine: injection runs in the extrusion window.

        Injection figures go up to what closed industrial machines bear; an open one is held
        to extrusion's and the press's, and alarms on their tops.
        """
        window = self.window(mark, "extrusion" if process == "injection" else process)
        return window.model_copy(update={"process": process})

    def alarm_top_c(self, mark: str, process: r.Process) -> float | None:
        """The temperature [°C] above which an open machine must alarm, None where it is not run.

        Fume starts far below bulk decomposition, so the top of the window is the alarm.
        """
        temperature = self.open_window(mark, process).temperature
        return temperature.high if temperature else None

    @property
    def causes(self) -> Mapping[str, r.Cause]:
        """The never-heat list: what is never heated, and why."""
        return tables.causes()

    @property
    def never_heated_codes(self) -> Mapping[str, r.Code]:
        """Every code that is never heated, with or without figures."""
        return {code: row for code, row in tables.codes().items() if row.cause}

    def never_together(self, marks: Iterable[str], *, cold: bool = False) -> tuple[r.Danger, ...]:
        """The pairs among some materials that are kept apart.

        With ``cold``, only those that may not even share a cold granulator or dryer.
        """
        bases = {base for mark in marks for base in identify(mark).bases}
        pairs = (d for d in tables.dangers() if bases.issuperset(d.codes))
        return tuple(d for d in pairs if d.cold or not cold)

    def compatible(self, host: str, minor: str) -> r.Match:
        """How a small share of one material sits in another; the worst of a compound's parts.

        A never-heated or unknown one is refused at any share. ``grades`` is empty where the
        chart says nothing.
        """
        refused = [m for m in (identify(host), identify(minor)) if m.refusal in _RULED_OUT]
        if refused:
            return r.Match(
                host=host, minor=minor, grades=("X",), refused=True, reason=refused[0].reason,
                cite=refused[0].causes[0].cite, status=refused[0].causes[0].status,
            )  # fmt: skip
        pairs = [_match(h, m) for h in identify(host).bases for m in identify(minor).bases]
        worst = max(pairs, key=lambda match: match.worst or "Z")  # not known is worst of all
        return worst.model_copy(update={"host": host, "minor": minor})

    def contaminants(self, host: str) -> tuple[r.Contaminant, ...]:
        """How much of which strangers a polymer takes, those of every polymer among them."""
        bases = (*identify(host).bases, "any")
        return tuple(row for row in tables.contaminants() if row.host in bases)

    def cavity_pressure(self, key: str) -> r.Value | None:
        """Pressure in the cavity [MPa] for a polymer's mark or a machine class, None if unknown."""
        base = identify(key).bases
        return tables.cavity_pressures().get(base[0] if base else key)

    @property
    def loose(self) -> Mapping[str, r.Loose]:
        """How dense donations lie before shredding [kg/m³]."""
        return tables.loose()

    # --- baths

    @property
    def media(self) -> Mapping[str, r.Medium]:
        """Float-sink baths by share and density."""
        return tables.media()

    @property
    def cuts(self) -> tuple[r.Cut, ...]:
        """Bath densities, and what floats and sinks in each."""
        return tables.cuts()

    def inseparable(self, one: str, other: str) -> r.Inseparable | None:
        """Why no bath parts two polymers, or None."""
        asked = {*identify(one).bases, *identify(other).bases}
        return next((row for row in tables.inseparable() if asked == set(row.codes)), None)

    @property
    def bath_notes(self) -> tuple[r.Note, ...]:
        """What else to know before trusting a bath."""
        return tables.notes("media")

    # --- limits, guards, lifting

    @property
    def limits(self) -> Mapping[str, r.Limit]:
        """Every limit and planning figure, by id."""
        return tables.limits()

    def limit(self, key: str, place: str | None = None) -> r.Value:
        """A limit for a place (``EU``, ``UK``, ``US``, ``US (NIOSH)``): its own figure, else
        the one that holds anywhere. With no place, the row's first, whatever it holds for.

        Raises NoFigureError where the row has none for the place.
        """
        found = self.find_limit(key, place)
        if found is None:
            raise NoFigureError(key, place)
        return found

    def find_limit(self, key: str, place: str | None = None) -> r.Value | None:
        """As ``limit``, but None where the row has no figure for the place."""
        return _row(tables.limits(), key).at(place)

    def guard_distance(
        self,
        opening_mm: float,
        shape: Literal["slot", "square", "round"] = "slot",
        length_mm: float | None = None,
    ) -> r.Value | None:
        """Least distance [mm] from a guard's opening to the hazard, ages 14 and over.

        None above the table's 120 mm: a question for a competent person, never extrapolated.
        A round opening is held to the square's distances, which are not smaller. ``length_mm``
        of a slot lets the short-slot rule apply. Source: ISO 13857.
        """
        rows = tables.guards()["slot" if shape == "slot" else "square"]
        found = next((distance for up_to, distance in rows if opening_mm <= up_to), None)
        return _short_slot(opening_mm, length_mm, found) if shape == "slot" else found

    def lifting(
        self, height: Height, who: Literal["men", "women"], reach: Reach = "close"
    ) -> r.Value:
        """Screening weight [kg] for a load held at a height, close to the body or at arm's
        length. A filter, not a limit, and not for children. Source: HSE."""
        return tables.lifting()[reach, height, who]

    # --- power

    @property
    def supplies(self) -> Mapping[str, r.Supply]:
        """Mains supplies by key."""
        return tables.supplies()

    def supply(self, key: str) -> r.Supply:
        """A mains supply by key (``EU``, ``US-208``) or its long name (``EU-230-400``)."""
        names = {n: s for s in tables.supplies().values() for n in (s.key, *s.aliases)}
        return _row(names, key.upper())

    @property
    def cables(self) -> tuple[r.Cable, ...]:
        """Voltage drop of copper cables, thin to thick."""
        return tables.cables()

    @property
    def small_copper(self) -> Mapping[str, r.Value]:
        """The largest device [A] for a small copper conductor in the US, by gauge."""
        return tables.small_copper()

    # --- signs and what is worn

    @property
    def signs(self) -> Mapping[str, r.Sign]:
        """The registered signs used here, by ISO 7010 code."""
        return tables.signs()

    def sign(self, code: str) -> r.Sign:
        """A registered sign by its ISO 7010 code."""
        return _row(tables.signs(), code.upper())

    def sign_class(self, kind: str) -> r.SignClass:
        """The frame of a class of signs (``warning``), or of the class of a code (``W017``)."""
        sign = tables.signs().get(kind.upper())
        return _row(tables.sign_classes(), sign.kind if sign else kind)

    def sign_gap(self, key: str) -> r.SignGap:
        """What to use where no registered sign says it exactly (``fume``)."""
        return _row(tables.sign_gaps(), key)

    @property
    def panels(self) -> Mapping[str, r.Panel]:
        """Signal-word panels: ``danger``, ``warning``, ``caution``, ``notice``."""
        return tables.panels()

    @property
    def panels_in(self) -> frozenset[str]:
        """The places whose custom signal-word panels are."""
        return tables.panels_in()

    @property
    def signs_asked_for(self) -> Mapping[str, r.Asked]:
        """What asks for which signs (``exit``, ``equipment-eyewash``, ``machine-band-saw``)."""
        return tables.asked_for()

    @property
    def sign_contradictions(self) -> tuple[r.Contradiction, ...]:
        """Pairs of signs that cannot both be obeyed in one place."""
        return tables.contradictions()

    def ppe(self, key: str) -> r.Ppe:
        """Something worn, by id or another usual name (``safety-glasses``)."""
        names = {n: p for p in tables.ppe().values() for n in (p.id, *p.aliases)}
        return _row(names, key)

    # --- containers, machines, air

    @property
    def label_grids(self) -> Mapping[str, r.LabelGrid]:
        """Sheets of labels by their measures."""
        return tables.label_grids()

    @property
    def containers(self) -> Mapping[str, r.Container]:
        """Standard containers by id."""
        return tables.containers()

    def container(self, key: str) -> r.Container:
        """A standard container (``euro-600x400-320``)."""
        return _row(tables.containers(), key)

    @property
    def machine_classes(self) -> Mapping[str, r.MachineClass]:
        """Generic machine classes by id."""
        return tables.machine_classes()

    def machine_class(self, key: str) -> r.MachineClass:
        """A generic machine class (``platen-press``)."""
        return _row(tables.machine_classes(), key)

    @property
    def emissions(self) -> Mapping[str, r.Emission]:
        """Measured emissions: evidence, not shop defaults."""
        return tables.emissions()

    @property
    def emission_notes(self) -> tuple[r.Note, ...]:
        """What published measurements found, beyond the figures."""
        return tables.notes("emissions")

    @property
    def substances(self) -> Mapping[str, r.Substance]:
        """Substances in the air that have an exposure limit, by id."""
        return tables.substances()

    def substance(self, key: str) -> r.Substance:
        """A substance in the air with its molar mass [g/mol] (``styrene``)."""
        return _row(tables.substances(), key)


@cache
def reference() -> Reference:
    """The reference tables."""
    return Reference()


def _no_figures(material: Material) -> str:
    if material.reason:
        return material.reason
    return _("A compound of {bases} has no window in these tables.").format(
        bases=", ".join(material.bases)
    )


def _drying_window(polymer: r.Polymer) -> r.Window:
    first = polymer.drying[0].temperature if polymer.drying else None
    return r.Window(process="drying", stance="run", temperature=first)


def _match(host: str, minor: str) -> r.Match:
    """One cell: the pair's own line, else the chart's, by the polymers or their families."""
    table = tables.raw("compatibility")
    source = tables.sources()[table["source"]]
    made = {"host": host, "minor": minor, "cite": source.cite, "status": source.status}
    if host == minor:
        return r.Match(**{**made, "grades": ("G",)})
    for row in table["pairs"]:
        if {host, minor} == set(row["codes"]):
            return r.Match(**{**made, "grades": row["grades"]})
    family = table["families"]
    cell = _cell(table, family.get(host, host), family.get(minor, minor))
    return r.Match(**{**made, "grades": (cell,) if cell else ()})


def _cell(table: tables.Raw, host: str, minor: str) -> str:
    if host not in table["matrix"] or minor not in table["order"]:
        return ""
    return str(table["matrix"][host][table["order"].index(minor)])


def _short_slot(
    opening_mm: float, length_mm: float | None, found: r.Value | None
) -> r.Value | None:
    length, width, distance = tables.short_slot()
    if found is None or length_mm is None or length_mm > length or opening_mm > width:
        return found
    return min(found, distance, key=lambda value: value.low)
