"""What must never be heated, and everything in the shop that would heat it.

A material is judged by what it is: by its mark, by what it contains and by the number in its
triangle, never by the id or the name it goes under. One refused part refuses a whole blend, at
any share, and what cannot be identified counts as refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.reference import Material, reference
from generator.shop.records.machines import Machine, Setting
from generator.shop.records.material import Blend, Polymer
from generator.shop.records.people import Procedure
from generator.shop.records.stations import Handover, Station
from generator.shop.shop import Shop

_NOT_IDENTIFYING = 7
"""The recycling number that says only that a thing is none of the first six."""
_CUTTERS = frozenset({"granulator", "shredder"})
_CUT = frozenset({"flake", "pellet"})
_ASIDE = frozenset({"quarantine", "refuse"})


def material_of(polymer: Polymer) -> Material:
    """What a polymer of the shop is."""
    return reference().identify(polymer.code, polymer.contains)


def refusal_of(polymer: Polymer) -> str:
    """Why a polymer must not be heated, as sentences, or ""."""
    material = material_of(polymer)
    if material.never_heated:
        return material.reason
    return _refusal_by_number(polymer)


def _refusal_by_number(polymer: Polymer) -> str:
    known = reference().find_polymer(polymer.code)
    number = polymer.recycling_code
    if known is None or number in (None, _NOT_IDENTIFYING, known.recycling_code):
        return ""
    return _(
        "Its mark says {code}, which is number {expected}, and its triangle says {number}: "
        "until somebody knows which is true it counts as unknown."
    ).format(code=polymer.code, expected=known.recycling_code, number=number)


class Refusals:
    """Everything in one shop that is refused heat, and why.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop

    @cached_property
    def _polymers(self) -> dict[str, str]:
        return {id_: refusal_of(polymer) for id_, polymer in self._shop.polymers.items()}

    def polymer(self, id_: str) -> str:
        """Why a polymer is never heated here, or ""."""
        return self._polymers[id_]

    def named(self, id_: str) -> tuple[str, ...]:
        """Why a polymer is never heated here with its name, one sentence or none."""
        return tuple(self._named([id_]))

    def _named(self, ids: Iterable[str]) -> Iterator[str]:
        """A sentence for each refused polymer among some."""
        for id_ in dict.fromkeys(ids):
            if reason := self._polymers[id_]:
                yield _("{polymer} is never heated. {reason}").format(
                    polymer=self._shop.polymers[id_].name, reason=reason
                )

    def _pairs(self, ids: Iterable[str], *, cold: bool = False) -> Iterator[str]:
        codes = [self._shop.polymers[id_].code for id_ in ids]
        for danger in reference().never_together(codes, cold=cold):
            yield _("{one} with {other}: {reason}").format(
                one=danger.codes[0], other=danger.codes[1], reason=_(danger.reason)
            )

    def blend(self, blend: Blend) -> tuple[str, ...]:
        """Why a blend must not be made, a sentence each; empty where nothing forbids it."""
        ids = [part.polymer for part in blend.parts]
        return (*self._named(ids), *self._pairs(ids))

    def setting(self, machine: Machine, setting: Setting) -> str:
        """Why a machine must not run a polymer, or ""."""
        return self.polymer(setting.polymer) if machine.is_hot else ""

    def procedure(self, procedure: Procedure) -> tuple[str, ...]:
        """Why a procedure must not be done, a sentence each."""
        machines = [self._shop.machines[id_] for id_ in procedure.machines]
        if any(m.is_hot for m in machines) or self._heats(procedure.station):
            return tuple(self._named(procedure.polymers))
        return ()

    def _heats(self, station: str | None) -> bool:
        return station is not None and any(m.is_hot for m in self._shop.machines_at(station))

    def shared(self, machine: Machine) -> tuple[str, ...]:
        """Pairs that must not even share a machine cold, such as POM and PVC."""
        return tuple(self._pairs([s.polymer for s in machine.settings], cold=True))

    def survey(self) -> Survey:
        """Everything in the data that would heat what must not be heated.

        Each polymer, setting, blend, procedure and logged batch is a check.
        """
        shop = self._shop
        settings = sum(len(machine.settings) for machine in shop.machines.values())
        checks = len(shop.polymers) + len(shop.blends) + len(shop.procedures) + settings
        return survey("heat", (), self._findings(), other_checks=checks + len(shop.logs.batches))

    def _findings(self) -> list[Finding]:
        return [
            *self._in_settings(),
            *self._cut(),
            *self._in_blends(),
            *self._in_procedures(),
            *self._on_stations(),
            *self._handed_on(),
            *self._in_sessions(),
            *self._in_the_log(),
            *self._flaked(),
            *self._taken_in(),
            *self._without_figures(),
        ]

    def _in_settings(self) -> Iterator[Finding]:
        for machine in self._shop.machines.values():
            for setting in machine.settings:
                if self.setting(machine, setting):
                    polymer = self._shop.polymers[setting.polymer]
                    yield _stop(
                        setting.origin,
                        f"machines/{machine.id}",
                        _("{machine} has a setting for {polymer}, which is never heated.").format(
                            machine=machine.name, polymer=polymer.name
                        ),
                        _("Take it out of the machine's settings."),
                    )
            for pair in self.shared(machine):
                yield _stop(
                    machine.origin,
                    f"machines/{machine.id}",
                    _("{machine} takes two materials that must never meet. {pair}").format(
                        machine=machine.name, pair=pair
                    ),
                    _("Refuse one of them at the door."),
                )

    def _cutting(self, id_: str) -> Iterator[tuple[Machine, Setting]]:
        """Settings of cutters for a polymer, where the shop has heat that its flake can get to."""
        if any(machine.is_hot for machine in self._shop.machines.values()):
            for machine in self._shop.machines.values():
                for setting in machine.settings if machine.kind in _CUTTERS else ():
                    if setting.polymer == id_:
                        yield machine, setting

    def _cut(self) -> Iterator[Finding]:
        for id_ in (id_ for id_, reason in self._polymers.items() if reason):
            for machine, setting in self._cutting(id_):
                yield _stop(
                    setting.origin,
                    f"machines/{machine.id}",
                    _(
                        "{machine} has a setting for {polymer}, which is never heated, and once "
                        "cut nobody can tell it from flake that is."
                    ).format(machine=machine.name, polymer=self._shop.polymers[id_].name),
                    _("Take it out of the machine's settings and refuse it at the door."),
                )

    def _in_blends(self) -> Iterator[Finding]:
        for blend in self._shop.blends.values():
            for origin, reason in self._reasons_at(blend):
                yield _stop(
                    origin,
                    f"blends/{blend.id}",
                    _("Blend “{blend}” must not be made. {reason}").format(
                        blend=blend.name, reason=reason
                    ),
                    _("Take that part out: no share of it is small enough."),
                )

    def _reasons_at(self, blend: Blend) -> Iterator[tuple[Origin, str]]:
        """Each reason with the part that it is about; a pair's with the blend's last part."""
        parts = {part.polymer: part for part in reversed(blend.parts)}
        for id_ in dict.fromkeys(part.polymer for part in blend.parts):
            for reason in self._named([id_]):
                yield parts[id_].origin, reason
        for reason in self._pairs(parts):
            yield blend.parts[-1].origin, reason

    def _in_procedures(self) -> Iterator[Finding]:
        for procedure in self._shop.procedures.values():
            for reason in self.procedure(procedure):
                yield _stop(
                    procedure.origin,
                    f"procedures/{procedure.id}",
                    _("Procedure “{procedure}” puts it through heat. {reason}").format(
                        procedure=procedure.name, reason=reason
                    ),
                    _("Take the polymer out of the procedure."),
                )

    def _on_stations(self) -> Iterator[Finding]:
        for station in self._shop.stations.values():
            if self._heats(station.id):
                yield from self._handed_to(station)

    def _handed_on(self) -> Iterator[Finding]:
        """Handed over cold, but not into a container for what is refused or waits."""
        if not any(machine.is_hot for machine in self._shop.machines.values()):
            return
        for station in self._shop.stations.values():
            takes = () if self._heats(station.id) else station.takes_in
            for handover in (*takes, *station.gives):
                if not self._set_aside(handover):
                    yield from self._handed_over(station, handover)

    def _set_aside(self, handover: Handover) -> bool:
        if handover.container is None:
            return False
        return bool(_ASIDE.intersection(self._shop.containers[handover.container].keeps))

    def _handed_over(self, station: Station, handover: Handover) -> Iterator[Finding]:
        for reason in self._named(handover.polymers):
            yield Finding(
                "heat.handed-on",
                Severity.FIX,
                handover.origin,
                _("Station {number}, {station}, hands it on. {reason}").format(
                    number=station.number, station=station.name, reason=reason
                ),
                _("Put it in a container for quarantine or for what is refused."),
                subject=f"stations/{station.id}",
            )

    def _handed_to(self, station: Station) -> Iterator[Finding]:
        for handover in station.takes_in:
            for reason in self._named(handover.polymers):
                yield _stop(
                    handover.origin,
                    f"stations/{station.id}",
                    _("Station {number}, {station}, takes it in and heats. {reason}").format(
                        number=station.number, station=station.name, reason=reason
                    ),
                    _("Take the polymer out of what the station takes in."),
                )

    def _in_sessions(self) -> Iterator[Finding]:
        for session in self._shop.sessions.values():
            for activity in session.activities.values():
                makes = activity.makes
                if makes and self.blend(self._shop.blends[makes.blend]):
                    yield _stop(
                        activity.origin,
                        f"sessions/{session.id}",
                        _("Session “{session}” makes a refused blend, “{blend}”.").format(
                            session=session.name, blend=self._shop.blends[makes.blend].name
                        ),
                        _("Choose another blend for the activity."),
                    )

    def _in_the_log(self) -> Iterator[Finding]:
        for row in self._shop.logs.batches:
            if row.step in ("blend", "product") and row.polymer and self._polymers[row.polymer]:
                yield _stop(
                    row.origin,
                    f"polymers/{row.polymer}",
                    _("Batch {batch} is logged as {step} of {polymer}, never heated.").format(
                        batch=row.batch,
                        step=row.step,
                        polymer=self._shop.polymers[row.polymer].name,
                    ),
                    _("Put the batch in quarantine and find what was made of it."),
                )

    def _flaked(self) -> Iterator[Finding]:
        mend = _("Put it in quarantine, then out with what is refused.")
        for row in self._shop.logs.batches:
            if row.step in _CUT and row.polymer and self._polymers[row.polymer]:
                says = _("Batch {batch} is flake of {polymer}, which is never heated.").format(
                    batch=row.batch, polymer=self._shop.polymers[row.polymer].name
                )
                yield _flake(row.origin, row.polymer, says, mend)
        for count in self._shop.logs.stock:
            if count.form in _CUT and self._polymers[count.polymer]:
                says = _("{kg:g} kg of flake of {polymer} was counted, which is never heated.")
                name = self._shop.polymers[count.polymer].name
                told = says.format(kg=count.kg, polymer=name)
                yield _flake(count.origin, count.polymer, told, mend)

    def _taken_in(self) -> Iterator[Finding]:
        for polymer in self._shop.polymers.values():
            if polymer.status == "taken" and self._polymers[polymer.id]:
                yield Finding(
                    "heat.taken-in",
                    Severity.STOP if self._goes_on(polymer.id) else Severity.FIX,
                    polymer.origin_of("status"),
                    _("{polymer} is taken at the door, and is never heated. {reason}").format(
                        polymer=polymer.name, reason=self._polymers[polymer.id]
                    ),
                    _("Refuse it at the door, and say why under `why`."),
                    subject=f"polymers/{polymer.id}",
                )

    def _goes_on(self, id_: str) -> bool:
        """Whether a machine is set to heat it, or to cut it among what is heated."""
        hot = (m for m in self._shop.machines.values() if m.is_hot)
        return any(s.polymer == id_ for m in hot for s in m.settings) or any(self._cutting(id_))

    def _without_figures(self) -> Iterator[Finding]:
        for polymer in self._shop.polymers.values():
            if polymer.status == "taken" and material_of(polymer).refusal == "no-figures":
                yield Finding(
                    "heat.no-figures",
                    Severity.ASK,
                    polymer.origin_of("code"),
                    _("No process window is on record for {polymer} ({code}).").format(
                        polymer=polymer.name, code=polymer.code
                    ),
                    _("Get the grade's data sheet before a machine is set for it."),
                    subject=f"polymers/{polymer.id}",
                    asks="maintainer",
                )


def _stop(origin: Origin, subject: str, says: str, mend: str) -> Finding:
    return Finding("heat.never-heated", Severity.STOP, origin, says, mend, subject=subject)


def _flake(origin: Origin, polymer: str, says: str, mend: str) -> Finding:
    subject = f"polymers/{polymer}"
    return Finding("heat.flake", Severity.FIX, origin, says, mend, subject=subject)
