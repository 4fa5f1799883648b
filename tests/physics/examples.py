"""What several subjects are tried on."""

from calc.physics.chassis import Wheel

DENSITY = 970.0  # of silicone oil, kg/m^3
EVEN = tuple(Wheel(x, y, 2000.0, 1e-3) for x in (0.3, 0.0) for y in (0.1, -0.1))
