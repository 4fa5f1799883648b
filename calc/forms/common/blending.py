"""Which blending law an oil follows, as an input that nobody types."""

import math

from calc.language import later

_RECTANGULAR = 1 / math.sqrt(3)  # standard uncertainty of anything within ±1
LAW_INPUT = {"law": (0.0, _RECTANGULAR, later("which blending law the oil follows"))}
