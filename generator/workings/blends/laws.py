"""The arithmetic of blends: grams, letdown, passes through heat, and colour."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

LEAST_REFLECTANCE, MOST_REFLECTANCE = 0.01, 0.99
"""Reflectances outside these make the absorption meaningless and are taken in."""

Rgb = tuple[float, float, float]


# --- mass --------------------------------------------------------------------------------------


def grams_of(total_g: float, share_percent: float) -> float:
    r"""Mass of one ingredient of a blend [g].

    .. math:: m_i = m \, w_i / 100

    Parameters
    ----------
    total_g
        Mass of the whole blend, with what is stirred in [g].
    share_percent
        Its share of the whole by mass [%].
    """
    return total_g * share_percent / 100


def share_of_ratio(masterbatch: float, base: float) -> float:
    r"""Share of the whole that a letdown ratio is [%].

    .. math:: w = 100 \frac{a}{a + b}

    So 1:50 is 1.961 %, and not 2 %.

    Parameters
    ----------
    masterbatch, base
        Parts of masterbatch to parts of flake, by mass.
    """
    return 100 * masterbatch / (masterbatch + base)


def mean_passes(regrind: float) -> float:
    r"""How often the plastic of a shop has been through heat on average [-].

    .. math:: \bar n = \frac{1}{1 - r}

    Holds for a steady share r of regrind in every charge, under 1.

    References
    ----------
    Geometric series; the worked example of a share of 0.3 gives 1.429.
    """
    return 1 / (1 - regrind)


def share_of_passes(regrind: float, passes: int) -> float:
    r"""Share of the plastic that has been through heat so often or more [-].

    .. math:: P(\ge n) = r^{\,n-1}

    Parameters
    ----------
    regrind
        Share of regrind in every charge [-].
    passes
        How often, at least 1.
    """
    return float(regrind ** (passes - 1))


# --- light -------------------------------------------------------------------------------------


def linear(code: float) -> float:
    r"""Light of an sRGB code [-], both from 0 to 1.

    .. math:: L = \begin{cases} c/12.92 & c \le 0.04045 \\
        \left(\frac{c+0.055}{1.055}\right)^{2.4} & \text{else}\end{cases}

    References
    ----------
    IEC 61966-2-1.
    """
    return code / 12.92 if code <= 0.04045 else ((code + 0.055) / 1.055) ** 2.4


def coded(light: float) -> float:
    """The sRGB code of a light [-], both from 0 to 1; ``linear`` turned round."""
    return 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055


def rgb_of(hex_code: str) -> Rgb:
    """The light of a colour written ``#rrggbb``, in its three bands [-]."""
    red, green, blue = (linear(int(hex_code[n : n + 2], 16) / 255) for n in (1, 3, 5))
    return red, green, blue


def hex_of(rgb: Sequence[float]) -> str:
    """A light in three bands as ``#rrggbb``."""
    return "#" + "".join(f"{round(255 * coded(min(1.0, max(0.0, band)))):02x}" for band in rgb)


def luminance(rgb: Sequence[float]) -> float:
    r"""Luminance of a light in the bands of sRGB [-].

    .. math:: Y = 0.2126 R + 0.7152 G + 0.0722 B

    References
    ----------
    IEC 61966-2-1.
    """
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def speckle(parts: Iterable[tuple[float, Sequence[float]]]) -> tuple[float, ...]:
    r"""Mean light of flakes side by side, band by band [-].

    .. math:: \bar L = \frac{\sum \phi_i L_i}{\sum \phi_i}

    Seen from where single flakes run together. Shares of the surface are those of the volume.

    Parameters
    ----------
    parts
        Of each flake, its share by volume and its light in each band, linear and never coded:
        the mean of codes is too dark.

    References
    ----------
    Delesse's principle, that shares of a section are those of the volume.
    """
    flakes = tuple(parts)
    total = sum(share for share, _light in flakes)
    bands = zip(*(light for _share, light in flakes), strict=True)
    shares = [share / total for share, _light in flakes]
    return tuple(sum(s * x for s, x in zip(shares, band, strict=True)) for band in bands)


# --- melt --------------------------------------------------------------------------------------


def absorption(reflectance: float) -> float:
    r"""Absorption over scattering of an opaque layer [-].

    .. math:: \frac{K}{S} = \frac{(1 - R)^2}{2R}

    Parameters
    ----------
    reflectance
        Reflectance R, taken in to 0.01 to 0.99 [-].

    References
    ----------
    Kubelka and Munk; Berns and Mohammadi 2007 for one constant in mixtures.
    """
    r = min(MOST_REFLECTANCE, max(LEAST_REFLECTANCE, reflectance))
    return (1 - r) ** 2 / (2 * r)


def reflected(k_over_s: float) -> float:
    r"""Reflectance of an opaque layer [-]; ``absorption`` turned round.

    .. math:: R = 1 + \frac{K}{S} - \sqrt{\left(\frac{K}{S}\right)^2 + 2\frac{K}{S}}
    """
    return float(1 + k_over_s - (k_over_s**2 + 2 * k_over_s) ** 0.5)


def melted(parts: Iterable[tuple[float, float]]) -> float:
    r"""Reflectance of a melt mixed of opaque parts, in one band [-].

    .. math:: \left(\frac{K}{S}\right)_{mix} = \frac{\sum c_i (K/S)_i}{\sum c_i}

    One constant: every part is taken to scatter alike. A natural or translucent one scatters
    less and shows less than this says.

    Parameters
    ----------
    parts
        Of each part, its share by mass and its reflectance [-].
    """
    mixed = tuple(parts)
    total = sum(share for share, _r in mixed)
    return reflected(sum(share * absorption(r) for share, r in mixed) / total)


def inside(measured: float, k1: float = 0.04, k2: float = 0.6) -> float:
    r"""Reflectance within a surface from the one measured outside it [-].

    .. math:: R = \frac{R_m - k_1}{1 - k_1 - k_2 (1 - R_m)}

    Parameters
    ----------
    measured
        Reflectance as a meter sees it, more than ``k1`` [-].
    k1, k2
        Share reflected at the surface from outside and from inside [-].

    References
    ----------
    Saunderson's correction.
    """
    return (measured - k1) / (1 - k1 - k2 * (1 - measured))


def outside(within: float, k1: float = 0.04, k2: float = 0.6) -> float:
    """Reflectance as a meter sees it from the one within; ``inside`` turned round [-]."""
    return k1 + (1 - k1) * (1 - k2) * within / (1 - k2 * within)


def between(
    flakes: Sequence[float], melt: Sequence[float], mix: float
) -> tuple[float, ...]:  # fmt: skip
    """A colour between speckle and melt [-]: a rule of thumb and no physics.

    Parameters
    ----------
    flakes, melt
        Light of the two, band by band.
    mix
        How far the melt was stirred, from 0 for flakes to 1 for one colour.
    """
    return tuple((1 - mix) * f + mix * m for f, m in zip(flakes, melt, strict=True))
