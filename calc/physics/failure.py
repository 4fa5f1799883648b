"""Failures of the physics that only the calculation can find, by cause and without words.

A condition that the caller can check beforehand (a length above 0) raises a plain ValueError for
the programmer. The forms have the words of each cause.
"""

from enum import Enum, auto


class Cause(Enum):
    """Why there is no result; the comment names the values that go with it."""

    # The drawing of an arm and its damper
    WHEEL_INSIDE_PIVOT = auto()
    LOWER_MOUNT_ON_PIVOT = auto()
    UPPER_MOUNT_ON_PIVOT = auto()
    MOUNTS_COINCIDE = auto()
    LONGER_IN_BUMP = auto()
    DROOP_OUT_OF_REACH = auto()
    BUMP_OUT_OF_REACH = auto()
    DEAD_CENTRE = auto()

    # Readings
    TOO_FEW_READINGS = auto()  # needed, how many
    READINGS_TOO_ALIKE = auto()
    RATIO_NOT_POSITIVE = auto()
    FORCE_NOT_RISING = auto()
    NO_SCATTER = auto()
    HEAVIER_NOT_FASTER = auto()

    # Dampers and their oil
    HOLES_EXCEED_PISTON = auto()
    SHAFT_FILLS_BORE = auto()
    SHAFT_THROUGH_BODY = auto()
    NO_ROOM_FOR_OIL = auto()
    TOO_STIFF_WITH_ANY_OIL = auto()
    TOO_SOFT_WITH_ANY_OIL = auto()
    BLEND_NOT_MONOTONIC = auto()


class PhysicsError(ValueError):
    """No result, for a cause; `values` are SI, by name."""

    def __init__(self, cause: Cause, **values: float) -> None:
        super().__init__(cause, values)
        self.cause = cause
        self.values = values
