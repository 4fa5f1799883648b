"""Standing cautions: what the work of several forms can do to a hand, an eye or a part."""

from calc.answering.answer import Caution
from calc.language import tr


def eyes() -> Caution:
    return Caution(
        tr("Wear eye protection when you compress or free a spring: under load it can jump.")
    )


def springs_off() -> Caution:
    """Where springs come off, to be measured or changed, or dampers with them."""
    return Caution(
        tr(
            "Switch the car off, disconnect the motor, and wear eye protection when you compress "
            "or free a spring: under load it can jump. The car's manual and the event's rules "
            "come first."
        )
    )


def stand() -> Caution:
    return Caution(
        tr(
            "Switch the car off and disconnect the motor before you work on it on the stand. "
            "The car's manual and the event's rules come first."
        )
    )


def spill() -> Caution:
    return Caution(
        tr(
            "Wipe up spilt oil: it is slippery and stays so. Keep oils off tyres, brakes and "
            "floor, and away from children; the oil's data sheet comes first."
        )
    )


def opened() -> Caution:
    """Where a damper is opened: `spill`, and what comes out of one under pressure."""
    return Caution(
        tr(
            "Let a hot damper cool, then open it slowly with a rag around the cap. Wipe up spilt "
            "oil: it is slippery. Keep oils off tyres and brakes, and away from children; the "
            "oil's data sheet comes first."
        )
    )


def hanging_mass() -> Caution:
    """Where a mass hangs on the shaft of a damper."""
    return Caution(
        tr(
            "Clamp the damper upright so that it cannot slip, lay foam or a folded towel under the "
            "mass, and keep feet and fingers away: it must not fall on them."
        )
    )


def plastic() -> Caution:
    return Caution(tr("Do not overtighten small screws in plastic: the thread strips."))


FAR_APART = 3.0
"""Thick over thin; beyond, the mixing laws part company (common practice, no source)."""


def far_apart() -> Caution:
    """Where two oils that are mixed are more than `FAR_APART`."""
    return Caution(
        tr(
            "These oils are more than 3 : 1 apart, where the mixing rules disagree: make a "
            "little first and try it, or use bottles closer to the target."
        )
    )
