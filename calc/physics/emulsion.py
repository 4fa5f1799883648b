"""Oil with air mixed in: how thick it is, and how far it gives. The share of air is by volume, at
the pressure that the mix is under; pressures in Pa (absolute), lengths in m, areas in m2.

Two bounds of the viscosity: bubbles that stay round make the mix thicker, bubbles that the flow
draws out make it thinner. Measured liquids are between them, and agree to first order in the share
(Y. Murai and H. Oiwa, Fluid Dyn. Res. 40, 2008, 565-575). Good up to MOST_AIR; beyond it is foam.
"""

from __future__ import annotations

import math

from calc.physics.require import not_negative, positive

MOST_AIR = 0.5
"""Share of air up to which the bounds were looked at: bubbles begin to touch soon after."""
OIL_MODULUS = 1.0e9
"""Bulk modulus of silicone oil, Pa: 150 000 psi in a table of fluids for 100 cSt."""


def viscosity_bounds(share: float) -> tuple[float, float]:
    """Factors on the viscosity of the oil: bubbles drawn out, (1 - share)^(5/3), and bubbles that
    stay round, 1/(1 - share) (E. W. Llewellin and M. Manga, J. Volcanol. Geotherm. Res. 143, 2005).

    ValueError above MOST_AIR.
    """
    _check(share)
    return (1 - share) ** (5 / 3), 1 / (1 - share)


def density(share: float, oil: float) -> float:
    """Of the mix, kg/m3; that of the air is left out."""
    _check(share)
    positive(oil=oil)
    return (1 - share) * oil


def bulk_modulus(share: float, pressure: float, exponent: float = 1.0) -> float:
    """Of the mix, Pa: 1/K = (1 - share)/K_oil + share/(n p), each part giving for itself (H. E.
    Merritt, Hydraulic Control Systems, ch. 2). exponent n: 1 where the air keeps the temperature of
    the oil, as fine bubbles do, 1.4 where it keeps its heat."""
    _check(share)
    positive(pressure=pressure, exponent=exponent)
    return 1 / ((1 - share) / OIL_MODULUS + share / (exponent * pressure))


def stiffness(modulus: float, area: float, column: float) -> float:
    """Rate, N/m, of a column of the mix under a piston: K A/L."""
    positive(modulus=modulus, area=area, column=column)
    return modulus * area / column


def given_way(share: float, pressure: float, rise: float, column: float) -> float:
    """How far a piston moves, m, only to press the air in the column together when the pressure
    rises by `rise`: share L rise/(p + rise), by Boyle; the oil itself gives next to nothing."""
    _check(share)
    positive(pressure=pressure, column=column)
    not_negative(rise=rise)
    return share * column * rise / (pressure + rise)


def even_frequency(stiffness: float, damping: float) -> float:
    """Frequency, Hz, above which a damper in line with the spring of its own air gives way more
    than it damps: k/(2 pi c), the corner of a Maxwell element; k in N/m, c in N s/m."""
    positive(stiffness=stiffness, damping=damping)
    return stiffness / (2 * math.pi * damping)


def _check(share: float) -> None:
    not_negative(share=share)
    if share > MOST_AIR:
        raise ValueError(f"share must not be above {MOST_AIR:g}, not {share:g}")
