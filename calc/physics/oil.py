"""Silicone damper oil: blending, temperature, density.

Kinematic viscosity in m2/s (1 cSt = 1e-6 m2/s), density in kg/m3, temperature in K. A grade is
named by its viscosity at 25 C, here `viscosity_25`. Where two oils meet, `thin` and `thick` are
their viscosities at one temperature, and a share is one of volume (or of mass, within 1 %).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from calc.physics.failure import Cause, PhysicsError
from calc.physics.require import positive

ROOM = 298.15
"""25 C, the temperature at which grades are named, K."""
COLDEST, HOTTEST = 248.15, 523.15
"""Range of the temperature law, -25 to 250 C, K."""
THINNEST = 50e-6
"""Grade from which the temperature law holds, m2/s; thinner oil changes less than it says."""

_MM2 = 1e-6  # the blending indices are written for mm2/s


LawName = Literal["log", "double-log", "chain", "refutas"]


@dataclass(frozen=True)
class Law:
    """A blending law: a number for each oil, its index, that blends in proportion to the shares."""

    name: LawName
    index: Callable[[float], float]
    viscosity: Callable[[float], float]


def _double_log(constant: float) -> Callable[[float], float]:
    def index(viscosity: float) -> float:
        shifted = viscosity / _MM2 + constant
        if shifted <= 1.0:
            raise ValueError(f"The double-log law ends at {1 - constant:.1f} mm2/s")
        return math.log(math.log(shifted))

    return index


def _double_exp(constant: float) -> Callable[[float], float]:
    return lambda index: (math.exp(math.exp(index)) - constant) * _MM2


# Refutas prints 14.534 ln ln(nu + 0.8) + 10.975: the outer numbers leave a blend as it is.
_LAWS = (
    Law("log", math.log, math.exp),  # Arrhenius 1887
    Law("double-log", _double_log(0.7), _double_exp(0.7)),  # ASTM D7152: ln ln(nu + 0.7)
    # From memory: viscosity grows with a power of the weight-average molar mass of the chains, 1.5
    # where they are too short to entangle, up to about 1000 mm2/s, and 3.4 beyond.
    Law("chain", lambda viscosity: viscosity ** (2 / 3), lambda index: index**1.5),
    Law("refutas", _double_log(0.8), _double_exp(0.8)),
)
LAWS: dict[LawName, Law] = {law.name: law for law in _LAWS}
BAND: tuple[LawName, ...] = ("double-log", "log", "chain")
"""Laws between which the truth is taken to lie: no measured silicone blend was found to decide.
Half 100 and half 1000 mm2/s are 282, 316 and 474 by them, 392 by Kendall and Monroe's cube root,
and 381 to 488 by what is known of the chains of silicone (from memory)."""


def _clamp(value: float) -> float:
    return min(max(value, 0.0), 1.0)


def _check_viscosity(*viscosities: float) -> None:
    for viscosity in viscosities:
        positive(viscosity=viscosity)


def blend(parts: Sequence[tuple[float, float]], law: LawName = "log") -> float:
    """Viscosity of a blend, m2/s. parts: (share, viscosity) of each oil; any common unit of share.

    The default is the law of Arrhenius, ln nu = sum x_i ln nu_i (Perry's Chemical Engineers'
    Handbook, 7th ed.). Handbooks have the laws for dynamic viscosity and shares of mass: by
    kinematic and volume a blend of 100 and 1000 cSt comes out 0.6 % off at most, of 3 : 1 oils
    0.2 %, far inside `band`. Raises ValueError for a share below zero or for no share at all.
    """
    total = math.fsum(share for share, _ in parts)
    if not (math.isfinite(total) and total > 0 and all(share >= 0 for share, _ in parts)):
        raise ValueError("Shares are zero or more, and one at least is more")
    _check_viscosity(*(viscosity for _, viscosity in parts))
    present = [(share / total, viscosity) for share, viscosity in parts if share > 0]
    index = math.fsum(share * LAWS[law].index(viscosity) for share, viscosity in present)
    # Rounding may push the sum a last digit beyond the oils that went in; no blend lies there.
    low, high = min(v for _, v in present), max(v for _, v in present)
    return min(max(LAWS[law].viscosity(index), low), high)


def band(parts: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Lowest and highest viscosity of a blend over the laws in BAND, m2/s."""
    answers = [blend(parts, law) for law in BAND]
    return min(answers), max(answers)


class Steps:
    """Blends of two oils in whole steps: what `blend` and `band` say of each, to the last bit, with
    the indices of the two oils worked out once. `thin` and `thick` in m2/s."""

    def __init__(self, thin: float, thick: float) -> None:
        _check_viscosity(thin, thick)
        self.thin, self.thick = thin, thick
        laws = [LAWS[name] for name in BAND]
        self._indices = [(law, law.index(thin), law.index(thick)) for law in laws]

    def at(self, of_thin: int, of_thick: int) -> tuple[float, float, float]:
        """Viscosity by the log law and the band over all laws, m2/s, of so many steps of each, one
        or more."""
        total = float(of_thin + of_thick)
        thin, thick = of_thin / total, of_thick / total
        # Rounding may push it a last digit beyond the oils that went in; no blend lies there.
        least, most = self.thin if of_thin else self.thick, self.thick if of_thick else self.thin
        answers = {
            law.name: min(max(law.viscosity(thin * low + thick * high), least), most)
            for law, low, high in self._indices
        }
        return answers["log"], min(answers.values()), max(answers.values())


def share_of_thick(target: float, thin: float, thick: float, law: LawName = "log") -> float:
    """Share (0 to 1) of the thick oil for which `blend` gives the target.

    Raises ValueError where thin is not below thick or the target lies outside the two.
    """
    _check_between(target, thin, thick)
    index = LAWS[law].index
    low, high = index(thin), index(thick)
    return _clamp((index(target) - low) / (high - low))


def _check_between(target: float, thin: float, thick: float) -> None:
    _check_viscosity(target, thin, thick)
    if not thin < thick:
        raise ValueError("The thin oil has to be thinner than the thick one")
    if not thin <= target <= thick:
        raise ValueError(f"The target {target} is not between the oils, {thin} and {thick} m2/s")


def interaction(share_of_thick: float, thin: float, thick: float, measured: float) -> float:
    """Grunberg-Nissan term of two oils from one measured blend of them; no unit, 0 for the log law.

    ln nu = x1 ln nu1 + x2 ln nu2 + x1 x2 G (Grunberg and Nissan, Nature 164, 1949, 799-800).
    Raises ValueError for one oil alone, which says nothing about the law.
    """
    _check_viscosity(measured)
    if not 0 < share_of_thick < 1:
        raise ValueError("A measured blend holds some of both oils")
    plain = blend([(1 - share_of_thick, thin), (share_of_thick, thick)])
    return math.log(measured / plain) / (share_of_thick * (1 - share_of_thick))


def blend_measured(share_of_thick: float, thin: float, thick: float, interaction: float) -> float:
    """Viscosity of a blend of two oils by the law that `interaction` fixed, m2/s."""
    plain = blend([(1 - share_of_thick, thin), (share_of_thick, thick)])
    return plain * math.exp(interaction * share_of_thick * (1 - share_of_thick))


def share_of_thick_measured(target: float, thin: float, thick: float, interaction: float) -> float:
    """Share (0 to 1) of the thick oil for which `blend_measured` gives the target.

    Raises ValueError where the target lies outside the two oils, PhysicsError where the interaction
    exceeds ln(thick/thin) in size: adding thick oil would not always thicken, and shares are not
    unique.
    """
    _check_between(target, thin, thick)
    span = math.log(thick / thin)
    if abs(interaction) > span:
        raise PhysicsError(Cause.BLEND_NOT_MONOTONIC)
    rise = math.log(target / thin)
    if rise == 0:
        return 0.0
    slope = span + interaction
    # Root of slope x - G x^2 = rise, in the form that loses no digits where G is small.
    return _clamp(2 * rise / (slope + math.sqrt(max(slope**2 - 4 * interaction * rise, 0.0))))


def exchange(now: float, added: float, target: float, law: LawName = "log") -> float:
    """Fraction (0 to 1) of the oil in a damper to draw out and replace to reach the target.

    Viscosities in m2/s: `now` in the damper, `added` from the bottle. Assumes full mixing.
    Raises ValueError where the target does not lie between the two.
    """
    thin, thick = min(now, added), max(now, added)
    share = share_of_thick(target, thin, thick, law)
    return share if added == thick else 1 - share


def whole_parts(share: float, most: int = 10) -> list[tuple[int, int]]:
    """Recipes (parts of thin, parts of thick) of at most `most` parts, nearest to the share first.

    share: of the thick oil, 0 to 1. Lowest terms only; of two equally near, the shorter first. One
    oil alone is offered only where the share is within half a part in `most` of it.
    """
    if not 0 <= share <= 1:
        raise ValueError("A share is from 0 to 1")
    ratios = [
        (total - thick, thick)
        for total in range(1, most + 1)
        for thick in range(total + 1)
        if math.gcd(total, thick) == 1
    ]
    edge = 0.5 / most
    kept = [r for r in ratios if (r[0] or share >= 1 - edge) and (r[1] or share <= edge)]
    return sorted(kept, key=lambda r: (round(abs(r[1] / sum(r) - share), 12), sum(r)))


def _check_temperature(temperature: float) -> None:
    if not COLDEST <= temperature <= HOTTEST:
        raise ValueError(f"The oil's temperature law holds from -25 to 250 C, not {temperature} K")


def _temperature_factor(temperature: float) -> float:
    _check_temperature(temperature)
    return math.pow(10.0, 763.1 * (1 / temperature - 1 / ROOM))


def viscosity_at(viscosity_25: float, temperature: float) -> float:
    """Viscosity at a temperature of the grade `viscosity_25`, m2/s.

    log10(nu/nu25) = 763.1 (1/T - 1/298.15), from makers' data on polydimethylsiloxane; from COLDEST
    to HOTTEST (ValueError outside) for grades of THINNEST and more.
    """
    _check_viscosity(viscosity_25)
    return viscosity_25 * _temperature_factor(temperature)


def viscosity_25_from(viscosity: float, temperature: float) -> float:
    """The grade, m2/s at 25 C, that has this viscosity at this temperature."""
    _check_viscosity(viscosity)
    return viscosity / _temperature_factor(temperature)


def temperature_uncertainty(temperature: float, known_at: float = ROOM) -> float:
    """Relative standard uncertainty of a viscosity by the law, from the temperature it is known at.

    5 % over 30 K, in proportion: a 50 cSt oil measured on a rheometer in 2021 had a ratio of
    mu(10 C) to mu(40 C) of 1.80 where the law gives 1.81 to 1.87.
    """
    _check_temperature(temperature)
    _check_temperature(known_at)
    return 0.05 * abs(temperature - known_at) / 30.0


# Typical densities of polydimethylsiloxane grades as makers print them: (m2/s, kg/m3) at 25 C.
_DENSITIES = ((20e-6, 950.0), (50e-6, 960.0), (100e-6, 964.0), (350e-6, 970.0), (60000e-6, 976.0))
EXPANSION = 9.5e-4
"""Share by which the volume grows with each kelvin above 25 C, from makers' data, 1/K."""


def density(viscosity_25: float, temperature: float = ROOM) -> float:
    """Density of the grade, kg/m3, to about 0.5 %; for 20 to 60 000 cSt, the end values beyond.

    Between the printed points the density goes with the logarithm of the viscosity.
    """
    _check_viscosity(viscosity_25)
    _check_temperature(temperature)
    at_room = _DENSITIES[0][1]
    for (thin, light), (thick, heavy) in pairwise(_DENSITIES):
        along = math.log(viscosity_25 / thin) / math.log(thick / thin)
        at_room += _clamp(along) * (heavy - light)
    return at_room / (1 + EXPANSION * (temperature - ROOM))


def dynamic_viscosity(viscosity: float, density: float) -> float:
    """Dynamic viscosity, Pa s, from kinematic m2/s and density kg/m3."""
    return viscosity * density


def kinematic_viscosity(dynamic_viscosity: float, density: float) -> float:
    """Kinematic viscosity, m2/s, from dynamic Pa s and density kg/m3."""
    return dynamic_viscosity / density
