"""Every hood and fan of a shop, and the hot machines that have none."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.working import Working
from generator.shop.records.machines import Machine
from generator.shop.shop import Shop
from generator.workings.air import hood_findings, hood_workings, uncaught
from generator.workings.air.drawn import FanAir, HoodAir, fan_air, hood_air


@dataclass(frozen=True, slots=True)
class HoodStudy:
    """Every hood and fan of a shop, with what was found."""

    hoods: tuple[HoodAir, ...]
    fans: tuple[FanAir, ...]
    workings: tuple[Working, ...]
    findings: tuple[Finding, ...]
    checks: int
    unanswered: int
    """Checks that leave no working behind: each hot machine is asked for its hood."""


def study(shop: Shop) -> HoodStudy:
    """Work out hoods, ducts and fans.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    hoods = tuple(hood_air(shop, hood) for hood in shop.room.hoods.values())
    fans = tuple(
        fan_air(shop, fan, hoods) for fan in shop.room.fans.values() if fan.discharge != "supply"
    )
    workings = [w for h in hoods for w in hood_workings.of_hood(h)]
    workings += [w for f in fans for w in hood_workings.of_fan(shop, f)]
    hot = [m for m in shop.machines.values() if uncaught.is_asked(m)]
    findings = tuple(_findings(shop, hoods, fans, hot))
    open_questions = sum(f.rule == "air.no-hood" and f.severity is Severity.ASK for f in findings)
    return HoodStudy(hoods, fans, tuple(workings), findings, len(hot), open_questions)


def _findings(
    shop: Shop, hoods: tuple[HoodAir, ...], fans: tuple[FanAir, ...], hot: list[Machine]
) -> Iterator[Finding]:
    for hood in hoods:
        yield from hood_findings.of_hood(shop, hood)
    for fan in fans:
        behind = [h for h in hoods if h.hood.fan == fan.fan.id]
        yield from hood_findings.of_fan(shop, fan, behind)
    for machine in hot:
        yield from uncaught.findings(shop, machine)
