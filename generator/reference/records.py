"""What a row of a reference table is: frozen records whose every figure knows its source.

Words in these records stand in English and are looked up with ``_`` where they are shown.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from pydantic import BaseModel, ConfigDict, model_validator

from generator.ground.wording import N_, _
from generator.ground.working import Quantity, Source

Status = Literal["standard", "handbook", "published", "assumption"]
Bound = Literal["", "at most", "under", "at least", "over", "about"]
Process = Literal["injection", "extrusion", "press", "drying"]
Stance = Literal["run", "avoid", "refuse", "no-figures"]
Grade = Literal["G", "L", "N", "X"]
Rule = Literal["iec", "nec"]

STATUS_WORDS: Mapping[Status, str] = {
    "standard": N_("a standard's figure; check the edition in force"),
    "handbook": N_("a usual figure in the trade: check yours"),
    "published": N_("a published figure"),
    "assumption": N_("an assumption; confirm it"),
}
BOUND_WORDS: Mapping[Bound, str] = {
    "at most": N_("at most {value}"),
    "under": N_("under {value}"),
    "at least": N_("at least {value}"),
    "over": N_("over {value}"),
    "about": N_("about {value}"),
}


class Row(BaseModel):
    """A record of these tables: frozen, and no key in a table goes unread."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class SourceRow(Row):
    """A source: its citation, how far it was read, and what its figures are."""

    cite: str
    read: Literal["secondary", "abstract", "none"]
    status: Status


class Value(Row):
    """A figure with its source.

    ``value`` is one number or ``(low, high)``, in ``unit`` (as shown, ``kg/m³``; "" for a
    ratio). ``jurisdiction`` is the place it holds for, several parted by a comma, "" for
    anywhere. ``bound`` says how a single number is meant, ``note`` what else to know.
    """

    value: float | tuple[float, float]
    unit: str
    source: str
    cite: str
    status: Status
    jurisdiction: str = ""
    bound: Bound = ""
    note: str = ""

    @model_validator(mode="after")
    def _ordered(self) -> Value:
        if self.low > self.high:
            raise ValueError(f"{self.low} is above {self.high}")
        return self

    @property
    def low(self) -> float:
        return self.value[0] if isinstance(self.value, tuple) else self.value

    @property
    def high(self) -> float:
        return self.value[1] if isinstance(self.value, tuple) else self.value

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2

    @property
    def is_range(self) -> bool:
        return isinstance(self.value, tuple)

    @property
    def quantity(self) -> Quantity:
        """The figure, or the middle of its range, as a Quantity."""
        return Quantity(self.middle, self.unit)

    @property
    def places(self) -> tuple[str, ...]:
        """The places it holds for; none where it holds anywhere."""
        return tuple(self.jurisdiction.split(", ")) if self.jurisdiction else ()

    @property
    def source_record(self) -> Source:
        """Where it comes from, in the current language."""
        return Source(_(self.cite), self.status, self.jurisdiction)


class Window(Row):
    """Whether and how hot a polymer is run in a process.

    ``temperature`` is the melt's [°C] (the air's for drying), None where it is not run or no
    figure is known. ``reason`` says in words why it is not run.
    """

    process: Process
    stance: Stance
    temperature: Value | None = None
    reason: str = ""


class Note(Row):
    """A sentence to know, with its source."""

    text: str
    source: str
    cite: str
    status: Status

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Drying(Row):
    """One way to dry a polymer: temperature [°C] for a time [h], ``form`` "" for any form."""

    temperature: Value
    time: Value
    form: str = ""


class Fume(Row):
    """Species given off when it is heated or overheated, in plain words."""

    species: tuple[str, ...]
    source: str
    cite: str
    status: Status
    note: str = ""

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Polymer(Row):
    """What the trade knows of one polymer. None is a figure these tables do not have.

    Densities are in kg/m³, temperatures in °C, shrinkage and moisture in %, heat capacities
    in J/(kg·K), latent heat in kJ/kg, diffusivity in m²/s, heats of combustion in MJ/kg.
    ``variants`` holds the same quantity under another condition or from another source,
    keyed ``field.condition`` (``shrinkage.amorphous``).
    """

    code: str
    name: str
    aliases: tuple[str, ...]
    recycling_code: int
    hygroscopic: bool
    density_solid: Value
    density_melt: Value
    melting: Value | None = None
    glass: Value | None = None
    windows: Mapping[Process, Window]
    mould: Value | None = None
    drying: tuple[Drying, ...] = ()
    drying_note: Note | None = None
    max_moisture: Value | None = None
    shrinkage: Value
    cp_solid: Value
    cp_melt: Value
    latent: Value
    diffusivity: Value
    ejection: Value | None = None
    decomposition: Value
    """Of the bulk. Fume starts far below: alarm on the window's top, never on this."""
    fumes: tuple[Fume, ...]
    regrind_density: Value
    heat_gross: Value
    heat_net: Value | None = None
    longest_hot_hold: Value | None = None
    """No sourced figure is known for any polymer: the grade's data sheet or a trial says."""
    variants: Mapping[str, Value] = {}


class Cause(Row):
    """Why something is never heated: ``key`` (``pvc``, ``glass-filled``), title, reason."""

    key: str
    title: str
    reason: str
    source: str
    cite: str
    status: Status
    aliases: tuple[str, ...] = ()

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Code(Row):
    """A code of ISO 1043: ``cause`` why it is never heated, ``figures`` whether there is a row."""

    code: str
    name: str
    aliases: tuple[str, ...] = ()
    cause: str = ""
    condition: str = ""
    figures: bool = False


class Danger(Row):
    """Two polymers kept apart; ``cold`` where that holds for a cold granulator or dryer too."""

    codes: tuple[str, str]
    cold: bool
    reason: str
    cite: str
    status: Status

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Match(Row):
    """How a small share of ``minor`` sits in ``host``.

    ``grades`` holds one grade or two (``("L", "G")``: limited to good), none where it is not
    known. ``refused`` where the two must not be blended at any share; ``reason`` says why.
    """

    host: str
    minor: str
    grades: tuple[Grade, ...]
    refused: bool = False
    reason: str = ""
    cite: str = ""
    status: Status = "handbook"

    @property
    def worst(self) -> Grade | None:
        return max(self.grades, default=None)  # the letters run from good to bad

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Contaminant(Row):
    """How much of a stranger a host takes. ``host`` may be ``any``; ``use`` narrows it."""

    host: str
    minor: tuple[str, ...]
    most: Value
    use: str = ""


class Limit(Row):
    """A limit or planning figure: one value, or one for each jurisdiction."""

    id: str
    title: str
    values: tuple[Value, ...]

    def at(self, place: str | None) -> Value | None:
        """The value for a place, else the one that holds anywhere; the first for None."""
        if place is None:
            return self.values[0]
        for_place = [v for v in self.values if place in v.places]
        anywhere = [v for v in self.values if not v.places]
        return next(iter(for_place + anywhere), None)


class SignClass(Row):
    """The frame of a class of signs after ISO 3864.

    ``colour`` is the safety colour, ``ground`` the field, ``symbol`` the pictogram's colour,
    all sRGB screen approximations. ``safety_colour_share`` is the least share of the area [%].
    """

    key: str
    name: str
    shape: Literal["circle-bar", "circle", "triangle", "rectangle", "square"]
    colour: str
    ral: str
    ground: str
    symbol: str
    contrast: Value
    contrast_of: str
    safety_colour_share: Value


class Panel(Row):
    """A signal-word panel: its colours and what the standard calls them."""

    key: str
    word: str
    colour: str
    text: str
    words: str
    ral: str = ""
    contrast: float | None = None
    note: str = ""
    cite: str
    status: Status


class Sign(Row):
    """A registered safety sign. ``refers`` is what it says, in our words.

    ``check`` is ``confirmed`` where the code was found in a listing, else ``P``: a
    professional value, to be checked against the registry before anything is printed.
    """

    code: str
    kind: str
    refers: str
    check: Literal["confirmed", "P"]
    cite: str
    status: Status

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class SignGap(Row):
    """What no registered sign says exactly, and what is used instead."""

    key: str
    codes: tuple[str, ...]
    text: str
    note: str


class Asked(Row):
    """What asks for signs: which, and why. ``codes`` are any one of for a way out, else all."""

    key: str
    codes: tuple[str, ...]
    reason: str
    cite: str
    status: Status

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Contradiction(Row):
    """Two signs that cannot both be obeyed in one place."""

    key: str
    codes: tuple[str, str]
    reason: str


class Ppe(Row):
    """Something worn, and the mandatory sign that asks for it."""

    id: str
    name: str
    sign: str
    aliases: tuple[str, ...] = ()
    caution: str = ""
    note: Note | None = None


class Socket(Row):
    """A standard socket outlet: its rating [A], phases and poles."""

    id: str
    name: str
    amps: float
    phases: int
    poles: str
    volts: str = ""


class Supply(Row):
    """A nominal mains supply.

    ``to_neutral`` is the voltage of one phase (or leg) to neutral [V], ``across`` the one
    between two [V], ``legs`` 2 for a split phase. A load across two draws on both.
    ``ratings`` are the standard protective devices [A], ``sockets`` the standard outlets
    (none where these tables have no figure). ``earthing`` is "" where nothing is assumed.
    """

    key: str
    region: str
    name: str
    aliases: tuple[str, ...] = ()
    to_neutral: Value
    across: Value
    frequency: Value
    phases: int
    legs: int = 1
    rule: Rule
    rule_status: Status
    earthing: str = ""
    earthing_status: Status = "assumption"
    ratings: tuple[float, ...]
    ratings_source: Source
    sockets: tuple[Socket, ...] = ()
    note: str = ""


class Container(Row):
    """A standard container: outer and inner sizes [mm], volume [l], rating and own mass [kg]."""

    id: str
    name: str
    kind: Literal["box", "sack", "drum", "bag", "tank"]
    outer_length: Value | None = None
    outer_width: Value | None = None
    outer_height: Value | None = None
    diameter: Value | None = None
    inner_length: Value | None = None
    inner_width: Value | None = None
    inner_height: Value | None = None
    nest: Value | None = None
    volume: Value | None = None
    rating: Value | None = None
    rating_note: str = ""
    empty: Value | None = None
    safety_factor: Value | None = None
    stack: Value | None = None
    variants: Mapping[str, Value] = {}


class LabelGrid(Row):
    """A sheet of labels by its measures [mm].

    ``width`` and ``height`` of one label; ``left`` and ``top`` from the sheet's edges to the first;
    ``across`` and ``down`` from one label's corner to the next one's.
    """

    id: str
    paper: Literal["A4", "Letter"]
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float
    cite: str
    status: Status


class MachineClass(Row):
    """What to expect of a kind of machine before its plate is read.

    Power [kW], throughput [kg/h], mass [kg], footprint [m], ``run`` the clear length behind
    it [m], noise [dB(A)], heat-up [min]. ``single_phase_up_to`` is the power [kW] up to which
    it comes for one phase, where ``phases`` allows both.
    """

    id: str
    name: str
    process: str
    phases: tuple[int, ...]
    power: Value
    throughput: Value
    mass: Value
    width: Value
    length: Value
    run: Value | None = None
    noise: Value
    noise_sample: Value | None = None
    heat_up: Value | None = None
    single_phase_up_to: Value | None = None


class Cable(Row):
    """Voltage drop [mV/(A·m)] of a copper cable by its section [mm²]."""

    section: Value
    single_phase: Value
    three_phase: Value


class BathPoint(Row):
    """A strength of a bath: share [% w/w], density [kg/m³], grams to a litre of water."""

    share: float
    density: Value
    per_litre: Value | None = None


class Medium(Row):
    """A float-sink bath."""

    id: str
    name: str
    points: tuple[BathPoint, ...]
    caution: str = ""


class Cut(Row):
    """A bath density [kg/m³] and what floats and sinks in it."""

    density: Value
    floats: tuple[str, ...]
    sinks: tuple[str, ...]
    note: str = ""


class Inseparable(Row):
    """Two polymers that no bath parts."""

    codes: tuple[str, str]
    reason: str
    source: str
    cite: str
    status: Status

    @property
    def source_record(self) -> Source:
        return Source(_(self.cite), self.status)


class Loose(Row):
    """How dense donations lie before shredding [kg/m³]."""

    id: str
    name: str
    polymers: tuple[str, ...]
    density: Value


class Emission(Row):
    """A measured emission: evidence, not a shop default."""

    id: str
    polymers: tuple[str, ...]
    what: str
    rate: Value


class Substance(Row):
    """Something in the air, and its molar mass [g/mol]."""

    id: str
    name: str
    molar_mass: Value
