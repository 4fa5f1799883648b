"""What several subjects are tried on."""

from calc.physics.chassis import Corner
from calc.physics.damper import Holes, Piston

DENSITY = 970.0  # of silicone oil, kg/m^3
PLAIN = Piston((Holes(3, 1.2e-3),), thickness=2e-3, diameter=12e-3, bore=12e-3, shaft=3e-3)
EVEN = tuple(Corner(x, y, 2000.0, 1e-3) for x in (0.3, 0.0) for y in (0.1, -0.1))
