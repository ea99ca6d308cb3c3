"""Ids that point at another record, and the few words that several records share."""

from __future__ import annotations

from typing import Annotated, Literal

from generator.shop.fields import Code, Id, Record, Ref, Text

StationId = Annotated[Id, Ref("stations")]
MachineId = Annotated[Id, Ref("machines")]
PolymerId = Annotated[Id, Ref("polymers")]
ContainerId = Annotated[Id, Ref("containers")]
MouldId = Annotated[Id, Ref("moulds")]
BlendId = Annotated[Id, Ref("blends")]
ProductId = Annotated[Id, Ref("products")]
ProcedureId = Annotated[Id, Ref("procedures")]
HazardId = Annotated[Id, Ref("hazards")]
RoleId = Annotated[Id, Ref("roles")]
StageId = Annotated[Id, Ref("stages")]
SessionId = Annotated[Id, Ref("sessions")]
DonorId = Annotated[Id, Ref("donors")]
ConsumableId = Annotated[Id, Ref("consumables")]
ToolId = Annotated[Id, Ref("tools")]
ContactId = Annotated[Id, Ref("contacts")]
ZoneId = Annotated[Id, Ref("room.zones")]
DoorId = Annotated[Id, Ref("room.doors")]
CircuitId = Annotated[Id, Ref("room.circuits")]
EquipmentId = Annotated[Id, Ref("room.equipment")]
FanId = Annotated[Id, Ref("room.fans")]
HoodId = Annotated[Id, Ref("room.hoods")]
ExtractPointId = Annotated[Id, Ref("room.extract_points")]

Level = Literal["visitor", "inducted", "supervised", "authorised", "trainer", "maintainer"]
LADDER: tuple[Level, ...] = ("visitor", "inducted", "supervised", "authorised", "trainer")
"""The competence ladder. Maintainer stands apart: lock-out is a competence of its own."""

Side = Literal["front", "back", "left", "right"]
"""A side in the station's own frame: at ``turn: 0°`` its front faces down the plan."""

MaterialForm = Literal["whole", "pieces", "flake", "pellet", "film", "foam", "offcut"]
Condition = Literal[
    "as donated",
    "sorted",
    "washed",
    "flake",
    "blend",
    "quarantine",
    "refuse",
    "purgings",
    "product",
]
"""How far material has come: what a container holds, what a batch is at."""
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

SignCode = Annotated[Code, Ref("reference.signs")]
"""An ISO 7010 code, such as ``W017``."""
SupplyProfile = Annotated[Code, Ref("reference.supplies")]
ContainerStandard = Annotated[Code, Ref("reference.containers")]
LabelGridKey = Annotated[Code, Ref("reference.label_grids")]
"""A sheet of labels known here, such as ``a4-24-64x34``: how many and how large."""
SubstanceId = Annotated[Code, Ref("reference.substances")]
"""Something in the air that has an exposure limit, such as ``styrene``."""


class Rule(Record):
    """One thing to do or never to do, with why and the sign that says it."""

    say: Text
    why: Text | None = None
    sign: SignCode | None = None
