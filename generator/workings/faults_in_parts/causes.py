"""What can bring a fault about, each tested against the figures of the shot and of the shop.

A test says that the figures point to the cause, that they rule it out, or that nobody has
written what would tell. None means that the cause does not exist on that kind of machine.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from generator.ground.units import show, show_number
from generator.ground.wording import N_, _
from generator.reference import reference
from generator.workings.faults_in_parts.asrun import AsRun, Normal
from generator.workings.moulding import Entry


class Standing(StrEnum):
    """What the figures say of a cause."""

    LIKELY = "likely"
    UNLIKELY = "unlikely"
    UNKNOWN = "unknown"


STANDING_WORDS = {
    Standing.LIKELY: N_("the figures point to it"),
    Standing.UNLIKELY: N_("the figures rule it out"),
    Standing.UNKNOWN: N_("no figure tells"),
}


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause tested: ``says`` holds the figures, ``change`` the one thing to do about it."""

    key: str
    title: str
    standing: Standing
    says: str
    change: str


Found = tuple[Standing, str, str]
_OFF_K = 5.0
_OFF_SHARE = 0.1
_LIGHT = 0.05
_HEAVY = 0.02
_NEAR = 0.85


def _judged(points: bool) -> Standing:
    return Standing.LIKELY if points else Standing.UNLIKELY


def _silent(says: str, change: str) -> Found:
    return Standing.UNKNOWN, says, change


# --- temperatures ------------------------------------------------------------------------------


def _against(value: float, normal: Normal, unit: str) -> str:
    return _("{value} against {normal}, {who}.").format(
        value=show(value, unit, 1), normal=show(normal.value, unit, 1), who=normal.says
    )


def _melt(shot: AsRun, sign: int) -> Found | None:
    """Hotter (1) or colder (-1) than it should be."""
    normal = shot.normal_melt
    if normal is None:
        return None
    change = _("Set {machine} to {normal}.").format(
        machine=shot.run.machine.name, normal=show(normal.value, "c", 0)
    )
    if shot.melt_c is None:
        return _silent(_("The melt's temperature was not written down."), change)
    off = sign * (shot.melt_c - normal.value)
    return _judged(off > _OFF_K), _against(shot.melt_c, normal, "c"), change


def _melt_cold(shot: AsRun) -> Found | None:
    return _melt(shot, -1)


def _melt_hot(shot: AsRun) -> Found | None:
    window = shot.run.how.window
    if shot.melt_c is not None and window is not None and shot.melt_c > window.high:
        says = _("{melt}, above the {top} at which an open machine alarms.").format(
            melt=show(shot.melt_c, "c", 0), top=show(window.high, "c", 0)
        )
        change = _("Turn it down into the window before anything else.")
        return Standing.LIKELY, says, change
    return _melt(shot, 1)


def _mould(shot: AsRun, sign: int, change: str) -> Found | None:
    normal = shot.normal_mould
    if normal is None:
        return None
    change = change.format(normal=show(normal.value, "c", 0))
    if shot.mould_c is None:
        return _silent(_("The mould's temperature was not written down."), change)
    off = sign * (shot.mould_c - normal.value)
    return _judged(off > _OFF_K), _against(shot.mould_c, normal, "c"), change


def _mould_cold(shot: AsRun) -> Found | None:
    return _mould(shot, -1, _("Warm the mould to {normal} before you warm the plastic."))


def _mould_hot(shot: AsRun) -> Found | None:
    return _mould(shot, 1, _("Let the mould come down to {normal} between shots."))


def _not_soaked(shot: AsRun) -> Found | None:
    heat = shot.run.machine.heat
    if shot.is_press or heat is None or not heat.soak_min:
        return None
    return _silent(
        _("How long it soaked is not logged."),
        _("Wait {soak} after the set point shows, then purge, then shoot.").format(
            soak=show(heat.soak_min, "min", 0)
        ),
    )


# --- pressure, clamp and mass ------------------------------------------------------------------


def _pressure(shot: AsRun, sign: int, change: str) -> Found | None:
    normal = shot.normal_pressure
    if normal is None:
        return None  # no good trial says what it should be
    change = change.format(normal=show(normal.value, "mpa", 1))
    if shot.pressure_mpa is None:
        return _silent(_("The pressure was not written down."), change)
    off = sign * (shot.pressure_mpa / normal.value - 1)
    return _judged(off > _OFF_SHARE), _against(shot.pressure_mpa, normal, "mpa"), change


def _pressure_low(shot: AsRun) -> Found | None:
    return _pressure(shot, -1, _("Raise the pressure to {normal}."))


def _pressure_high(shot: AsRun) -> Found | None:
    return _pressure(shot, 1, _("Take the pressure back to {normal}."))


def _clamp_near(shot: AsRun) -> Found | None:
    force, clamp = shot.run.force_kn, shot.run.machine.capacity.clamp_kn
    if shot.is_press or force is None or clamp is None:
        return None
    says = _("It needs up to {force} to stay shut and has {clamp}.").format(
        force=show(force[1], "kn", 1), clamp=show(clamp, "kn", 1)
    )
    change = _("Close with the full clamp, then take a little off the injection pressure.")
    return _judged(force[1] > _NEAR * clamp), says, change


def _shot_size(shot: AsRun) -> Found | None:
    needed, most = shot.run.needed_cm3, shot.run.machine.capacity.shot_cm3
    if shot.is_press or needed is None or most is None:
        return None
    says = _(
        "A shot needs {needed} of melt with its reserve, and the machine gives {most}."
    ).format(needed=show(needed, "cm3", 1), most=show(most, "cm3", 1))
    return _judged(needed > most), says, _("Use a larger machine: no setting helps.")


def _charge(shot: AsRun) -> Found | None:
    """On a press what is missing from the part was missing from the charge."""
    if not shot.is_press or shot.run.shot_g is None or shot.run.part_g is None:
        return None
    cavities = shot.run.mould.cavities
    change = _("Weigh in {charge}.").format(charge=show(shot.run.shot_g, "g", 0))
    if cavities > 1:
        change = _("Weigh in {charge}, {each} for each cavity.").format(
            charge=show(shot.run.shot_g, "g", 0), each=show(shot.run.shot_g / cavities, "g", 1)
        )
    if shot.part_g is None:
        return _silent(_("The part was not weighed."), change)
    light = 1 - shot.part_g / shot.run.part_g
    return _judged(light > _LIGHT), _weighs(shot.part_g, shot.run.part_g), change


def _weighs(part_g: float, worked_g: float) -> str:
    return _("It weighs {part}, and its volume makes {worked}.").format(
        part=show(part_g, "g", 1), worked=show(worked_g, "g", 1)
    )


def _overfilled(shot: AsRun) -> Found | None:
    worked = shot.run.part_g
    change = _("Meter less, until it weighs what its volume makes.")
    if worked is None:
        return None
    if shot.part_g is None:
        return _silent(_("The part was not weighed."), change)
    heavy = shot.part_g / worked - 1
    return _judged(heavy > _HEAVY), _weighs(shot.part_g, worked), change


def _flow_long(shot: AsRun) -> Found | None:
    """The way of the melt in walls, against the longest that was filled on this machine."""
    mould = shot.run.mould
    if shot.is_press or not mould.flow_mm:
        return None
    walls = mould.flow_mm / mould.wall_mm
    filled = [w for w in (_walls(shot, entry.mould) for entry in _good_entries(shot)) if w]
    change = _("Ask for a gate nearer the end or a thicker wall: no setting helps for long.")
    if not filled:
        return _silent(_("No mould was filled on this machine yet to compare with."), change)
    says = _("The melt runs {walls} walls far; the longest filled here is {longest}.").format(
        walls=show_number(walls, 0), longest=show_number(max(filled), 0)
    )
    return _judged(walls > max(filled)), says, change


def _good_entries(shot: AsRun) -> list[Entry]:
    return [e for e in shot.study.book if e.machine == shot.run.machine.id and e.last_good]


def _walls(shot: AsRun, mould: str) -> float:
    found = shot.study.kit.shop.moulds[mould]
    return found.flow_mm / found.wall_mm if found.flow_mm else 0.0


# --- time --------------------------------------------------------------------------------------


def _time_short(shot: AsRun) -> Found | None:
    return _time(shot) if shot.is_press else None


def _opened_early(shot: AsRun) -> Found | None:
    """By the wall's own cooling, and by a good trial where there is one."""
    own, cooling = shot.run.mould.cooling_s, shot.run.cooling
    if shot.is_press or own is None or cooling is None:
        return _time(shot)
    if own >= cooling.mean_s and shot.normal_cycle is not None:
        return _time(shot)
    says = _("It is opened after {own}; the mean of its wall needs {mean}, the middle {middle}.")
    shown = {"own": own, "mean": cooling.mean_s, "middle": cooling.middle_s}
    change = _("Wait {middle} in the mould.").format(middle=show(cooling.middle_s, "s", 0))
    words = says.format(**{k: show(v, "s", 0) for k, v in shown.items()})
    return _judged(own < cooling.mean_s), words, change


def _time(shot: AsRun) -> Found:
    """A cycle shorter than the one that made good parts."""
    normal = shot.normal_cycle
    if normal is None:
        says = _("No good trial with a cycle to compare with.")
        return _silent(says, _("Give it a tenth more time, and log the cycle."))
    change = _("Give it {normal} from one to the next.").format(normal=show(normal.value, "s", 0))
    if shot.cycle_s is None:
        return _silent(_("The cycle was not written down."), change)
    short = 1 - shot.cycle_s / normal.value
    return _judged(short > _OFF_SHARE), _against(shot.cycle_s, normal, "s"), change


def _hot_too_long(shot: AsRun) -> Found | None:
    held = shot.run.how.hot_hold
    if held is None:
        says = _("No longest hot time is written for the polymer.")
        return _silent(says, _("Purge, shoot three, and see whether it is gone."))
    change = _("Purge first, and keep it hot for {most} at most.").format(
        most=show(held.value, "min", 0)
    )
    if shot.hot_min is None:
        return _silent(_("How long it was hot cannot be told from the cycle."), change)
    says = _("It was hot for {hot} and may be for {most}.").format(
        hot=show(shot.hot_min, "min", 0), most=show(held.value, "min", 0)
    )
    return _judged(shot.hot_min > held.value), says, change


def _hold_short(shot: AsRun) -> Found | None:
    if shot.is_press:
        return None
    hold = shot.run.how.hold
    if hold is None:
        return _silent(_("No hold is written on the card."), _("Hold the pressure 2 s longer."))
    return _silent(
        _("The card says {hold}; what was held is not logged.").format(
            hold=show(hold.value, "s", 0)
        ),
        _("Hold the pressure 2 s longer than the card's {hold}.").format(
            hold=show(hold.value, "s", 0)
        ),
    )


# --- material ----------------------------------------------------------------------------------


def _damp(shot: AsRun) -> Found | None:
    polymer, known = shot.run.melt.host, shot.run.melt.known
    if known is None:
        return None
    if known.max_moisture is None:
        says = _("{polymer} takes up no water; only wet flake would do it.")
        change = _("Squeeze a handful: if the palm is damp, spread the flake for a day.")
        return Standing.UNLIKELY, says.format(polymer=polymer.name), change
    dry = shot.study.kit.dryness(polymer)
    says = _("{polymer} may hold {most} of water. {why}").format(
        polymer=polymer.name, most=show(known.max_moisture.high, "percent", 3), why=dry.says
    )
    change = _("Take flake from a pail that kept its lid on, or dry it.")
    return _judged(dry.standing != "dries"), says.strip(), change


def _foreign(shot: AsRun) -> Found | None:
    """Another polymer in the blend, or on the machine before it."""
    melt = shot.run.melt
    for polymer, share in melt.parts[1:]:
        if reference().compatible(melt.code, polymer.code).worst != "G":
            says = _("{share} of it is {minor}, which does not bond with {host}.").format(
                share=show(100 * share, "percent", 1), minor=polymer.name, host=melt.host.name
            )
            return (
                Standing.LIKELY,
                says,
                _("Shoot three of {host} alone.").format(host=melt.host.name),
            )
    return _left_over(shot)


def _left_over(shot: AsRun) -> Found:
    shop, melt = shot.study.kit.shop, shot.run.melt
    others = [
        shop.polymers[s.polymer]
        for s in shot.run.machine.settings
        if reference().compatible(melt.code, shop.polymers[s.polymer].code).worst == "N"
    ]
    if not others:
        says = _("Nothing that peels in {host} is run on {machine}.").format(
            host=melt.host.name, machine=shot.run.machine.name
        )
        return Standing.UNLIKELY, says, _("Look for a stray piece in the flake.")
    names = ", ".join(str(polymer.name) for polymer in others)
    says = _("{machine} also runs {names}, of which {host} takes hardly any.").format(
        machine=shot.run.machine.name, names=names, host=melt.host.name
    )
    return Standing.LIKELY, says, _clear(shot, others[0].id)


def _clear(shot: AsRun, after: str) -> str:
    setting = next(s for s in shot.run.machine.settings if s.polymer == after)
    if setting.clean_down:
        return _("Clean down again as after {polymer}: {how}.").format(
            polymer=shot.study.kit.shop.polymers[after].name,
            how=str(setting.clean_down).rstrip("."),
        )
    return _("Purge until three shots run clear, then look behind the nozzle.")


# --- what only looking tells -------------------------------------------------------------------


def _vents(shot: AsRun) -> Found | None:
    if shot.is_press:
        return None
    return _silent(
        _("Air that cannot leave burns at the end of the flow; no figure tells."),
        _("Clean the vents, then inject slower."),
    )


def _uneven(_shot: AsRun) -> Found | None:
    return _silent(
        _("Halves of unlike temperature bend a part towards the warmer; it is not logged."),
        _("Read both halves with the contact thermometer before the next shot."),
    )


def _parting_line(_shot: AsRun) -> Found | None:
    return _silent(
        _("A chip or a worn edge lets melt out at any pressure; no figure tells."),
        _("Wipe the parting line and look along it against the light."),
    )


def _release(_shot: AsRun) -> Found | None:
    return _silent(
        _("A scratch or a dry core holds on to a part; no figure tells."),
        _("Look at the core, then wax it as the mould's card says."),
    )


_TESTS: dict[str, tuple[str, Callable[[AsRun], Found | None]]] = {
    "shot-size": (N_("The machine gives too little"), _shot_size),
    "charge": (N_("The charge was too light"), _charge),
    "time-short": (N_("It was heated too briefly"), _time_short),
    "mould-cold": (N_("The mould was cold"), _mould_cold),
    "mould-hot": (N_("The mould was hot"), _mould_hot),
    "melt-cold": (N_("The melt was cold"), _melt_cold),
    "melt-hot": (N_("The melt was hot"), _melt_hot),
    "pressure-low": (N_("Too little pressure"), _pressure_low),
    "pressure-high": (N_("Too much pressure"), _pressure_high),
    "not-soaked": (N_("It had not soaked"), _not_soaked),
    "flow-long": (N_("The melt has too far to run"), _flow_long),
    "hot-too-long": (N_("It was kept hot too long"), _hot_too_long),
    "vents": (N_("Air was trapped"), _vents),
    "damp": (N_("The flake was damp"), _damp),
    "foreign": (N_("Another polymer is in it"), _foreign),
    "opened-early": (N_("It was opened too early"), _opened_early),
    "uneven": (N_("The halves were not equally warm"), _uneven),
    "hold-short": (N_("The pressure was held too briefly"), _hold_short),
    "clamp-near": (N_("The clamp is near its end"), _clamp_near),
    "overfilled": (N_("Too much was put in"), _overfilled),
    "parting-line": (N_("The parting line does not close"), _parting_line),
    "release": (N_("The mould holds on to it"), _release),
}


def tested(key: str, shot: AsRun) -> Cause | None:
    """A cause tested on a shot; None where it does not exist on that kind of machine."""
    title, test = _TESTS[key]
    found = test(shot)
    return Cause(key, _(title), *found) if found else None
