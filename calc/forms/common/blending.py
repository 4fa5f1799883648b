"""Which blending law an oil follows, as an input that nobody types."""

import math

from calc.language import later

LAW = later("which blending law the oil follows")
LAW_UNCERTAINTY = 1 / math.sqrt(3)  # of anything within ±1, each as likely
