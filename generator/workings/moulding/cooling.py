"""How long heat takes through a plate or a rod whose faces are held at one temperature.

Conduction alone, with constant diffusivity and perfect contact: latent heat, a gap that opens as
the part shrinks and the mould's own warming all make it longer. The series is summed in full,
because its first term is 19 % out where a part leaves the mould nearly as hot as it came in.

For a solid body. A bed of loose flake conducts far worse than the sheet it becomes, so nothing
here says how long a press must heat.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _
from generator.workings.moulding.errors import UnworkableError

Where = Literal["middle", "mean"]
Shape = Literal["plate", "rod"]

_ZEROS = (
    2.404825557695773, 5.520078110286311, 8.653727912911012, 11.791534439014281,
    14.930917708487787, 18.071063967910923, 21.21163662987926, 24.352471530749302,
)  # fmt: skip
"""Of the Bessel function J0, as tabled; the later ones follow McMahon's expansion."""
_SMALLEST = 1e-14
_NEAREST = 0.999


def share_left(melt_c: float, mould_c: float, ejection_c: float) -> float:
    r"""Share of the temperature difference that is left when a part may leave the mould [-].

    .. math:: \theta = \frac{T_e - T_w}{T_m - T_w}

    Parameters
    ----------
    melt_c, mould_c, ejection_c
        Of the melt, the mould's wall and the part as it leaves [°C]; :math:`T_w < T_e < T_m`.

    Raises
    ------
    UnworkableError
        Where the temperatures do not stand in that order.
    """
    if not mould_c < ejection_c < melt_c:
        says = _(
            "A part cools from the melt ({melt}) through ejection ({ejection}) towards the mould "
            "({mould}), and these do not stand in that order."
        )
        shown = {"melt": melt_c, "ejection": ejection_c, "mould": mould_c}
        raise UnworkableError(says.format(**{k: show(v, "c", 1) for k, v in shown.items()}))
    return (ejection_c - mould_c) / (melt_c - mould_c)


def plate_s(
    thickness_mm: float, diffusivity_m2s: float, share: float, where: Where = "middle"
) -> float:
    r"""Time until a plate cooled or heated from both faces has a share of it left [s].

    .. math::

        \theta_{middle} = \frac{4}{\pi}\sum_{n=0}^\infty \frac{(-1)^n}{2n+1}
            e^{-(2n+1)^2\pi^2 a t/s^2}, \qquad
        \theta_{mean} = \frac{8}{\pi^2}\sum_{n=0}^\infty \frac{1}{(2n+1)^2}
            e^{-(2n+1)^2\pi^2 a t/s^2}

    Its first term alone is the usual :math:`t = \frac{s^2}{\pi^2 a}\ln\frac{4}{\pi\theta}`.
    A plate cooled from one face takes as long as one of twice the thickness.

    Parameters
    ----------
    thickness_mm
        Between the two faces [mm].
    diffusivity_m2s
        Of the plastic [m²/s].
    share
        Share of the difference left, in the middle or on the mean; over 0, under 1 [-].
    where
        ``middle`` for the hottest plane, ``mean`` for the average through the wall.

    Raises
    ------
    UnworkableError
        Where the share is not between 0 and 1, or too near 1 to be meant.

    References
    ----------
    Carslaw and Jaeger, Conduction of Heat in Solids, section 3.3; the first term in Proc IMechE
    B 217 (2003) 709, which finds errors in many printed forms.
    """
    return fourier_number("plate", where, share) * (thickness_mm / 1000) ** 2 / diffusivity_m2s


def rod_s(
    diameter_mm: float, diffusivity_m2s: float, share: float, where: Where = "middle"
) -> float:
    r"""Time until a long rod cooled all round has a share of its difference left [s].

    .. math::

        \theta_{axis} = \sum_n \frac{2}{\beta_n J_1(\beta_n)} e^{-\beta_n^2 a t/R^2}, \qquad
        \theta_{mean} = \sum_n \frac{4}{\beta_n^2} e^{-\beta_n^2 a t/R^2}, \qquad
        J_0(\beta_n) = 0

    Its first term alone is :math:`t = \frac{D^2}{23.13 a}\ln\frac{1.602}{\theta}`.

    Parameters
    ----------
    diameter_mm
        Of the rod [mm].
    diffusivity_m2s, share, where
        As for a plate; ``middle`` is the axis.

    Raises
    ------
    UnworkableError
        As for a plate.

    References
    ----------
    Carslaw and Jaeger, Conduction of Heat in Solids, section 7.6.
    """
    radius_m = diameter_mm / 2000
    return fourier_number("rod", where, share) * radius_m**2 / diffusivity_m2s


@lru_cache(maxsize=4096)
def fourier_number(shape: Shape, where: Where, share: float) -> float:
    r"""Dimensionless time at which a share of the difference is left [-].

    :math:`a t/s^2` for a plate of thickness s, :math:`a t/R^2` for a rod of radius R.

    Raises
    ------
    UnworkableError
        Where the share is not between 0 and 1, or too near 1 to be meant.
    """
    if not 0 < share <= _NEAREST:
        raise UnworkableError(
            _("A part cannot leave with {share} of the difference to the mould.").format(
                share=show(100 * share, "percent", 1)
            )
        )
    left = _SERIES[shape, where]
    slowest = math.pi**2 if shape == "plate" else _ZEROS[0] ** 2
    return _crossing(left, share, most=math.log(1.7 / share) / slowest)


def _crossing(left: Callable[[float], float], share: float, most: float) -> float:
    """Where a falling function passes a value, between nothing and ``most``."""
    least = 0.0
    for _turn in range(60):
        middle = (least + most) / 2
        least, most = (middle, most) if left(middle) > share else (least, middle)
    return (least + most) / 2


def _summed(terms: Iterator[tuple[float, float]], time: float) -> float:
    """Sum of weighted exponentials whose rates rise, until they no longer count."""
    total = 0.0
    for weight, rate in terms:
        term = weight * math.exp(-rate * time)
        total += term
        if abs(term) < _SMALLEST or rate > 1e9:
            break
    return total


def _odd() -> Iterator[int]:
    n = 1
    while True:
        yield n
        n += 2


def _plate_middle(time: float) -> float:
    sign = (4 / math.pi / n * (1 if n % 4 == 1 else -1) for n in _odd())
    return _summed(zip(sign, ((n * math.pi) ** 2 for n in _odd()), strict=False), time)


def _plate_mean(time: float) -> float:
    return _summed(((8 / (n * math.pi) ** 2, (n * math.pi) ** 2) for n in _odd()), time)


def _zeros() -> Iterator[float]:
    """Zeros of J0: tabled, then by McMahon's expansion, which is good to 1e-10 from there."""
    yield from _ZEROS
    n = len(_ZEROS) + 1
    while True:
        eighth = 8 * math.pi * (n - 0.25)
        yield eighth / 8 + 1 / eighth - 124 / (3 * eighth**3) + 120928 / (15 * eighth**5)
        n += 1


_J1 = (
    0.5191474972894669, 0.3402648065583681, 0.2714522999283819, 0.2324598313647235,
    0.2065464330709620, 0.1877288030404340, 0.1732658942292780, 0.1617015506892650,
)  # fmt: skip


def _j1_sizes() -> Iterator[float]:
    """Size of J1 at the zeros of J0: tabled, then by its asymptotic form."""
    yield from _J1
    for number, zero in enumerate(_zeros()):
        if number >= len(_J1):
            yield math.sqrt(2 / (math.pi * zero)) * (1 + 1 / (16 * zero**2))


def _rod_axis(time: float) -> float:
    weights = (
        (-1) ** n * 2 / (zero * size)
        for n, (zero, size) in enumerate(zip(_zeros(), _j1_sizes(), strict=False))
    )
    return _summed(zip(weights, (zero**2 for zero in _zeros()), strict=False), time)


def _rod_mean(time: float) -> float:
    return _summed(((4 / zero**2, zero**2) for zero in _zeros()), time)


_SERIES: dict[tuple[Shape, Where], Callable[[float], float]] = {
    ("plate", "middle"): _plate_middle,
    ("plate", "mean"): _plate_mean,
    ("rod", "middle"): _rod_axis,
    ("rod", "mean"): _rod_mean,
}
