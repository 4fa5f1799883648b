"""Failures of the physics in words: every cause once, for all forms."""

from typing import Any, assert_never

from calc.language import tr
from calc.physics.failure import Cause, PhysicsError
from calc.replying.inputs import Problem


def problem(at: Any, label: str, failure: PhysicsError) -> Problem:
    """The failure at a field of the form, which `label` names in the language spoken."""
    return Problem(at, tr("{entry}: {why}.", entry=label, why=clause(failure)))


def clause(failure: PhysicsError) -> str:
    """The cause, and where it helps the remedy, to stand behind a colon."""
    match failure.cause:
        case Cause.WHEEL_INSIDE_PIVOT:
            return tr("the wheel must lie outside the arm pivot")
        case Cause.LOWER_MOUNT_ON_PIVOT:
            return tr("the lower damper mount must not lie on the arm pivot")
        case Cause.UPPER_MOUNT_ON_PIVOT:
            return tr("the upper damper mount must not lie on the arm pivot")
        case Cause.MOUNTS_COINCIDE:
            return tr("the two damper mounts must not lie on one point")
        case Cause.LONGER_IN_BUMP:
            return tr(
                "with this drawing the damper gets longer in bump: the upper mount must lie above "
                "the line from the arm pivot through the lower mount"
            )
        case Cause.DROOP_OUT_OF_REACH:
            return _out_of_reach(tr("full droop"))
        case Cause.BUMP_OUT_OF_REACH:
            return _out_of_reach(tr("full bump"))
        case Cause.DEAD_CENTRE:
            return tr(
                "with this motion ratio and the way it changes, the damper would pass its dead "
                "centre on the way; check droop, ratio and the pins of the arm"
            )
        case Cause.TOO_FEW_READINGS:
            return tr(
                "at least {count} different readings are needed; measure it again",
                count=f"{failure.values['needed']:.0f}",
            )
        case Cause.READINGS_TOO_ALIKE:
            return tr("the readings are too much alike; read further apart")
        case Cause.RATIO_NOT_POSITIVE:
            return tr(
                "the damper must get shorter as the wheel goes up, at every reading; measure it "
                "again"
            )
        case Cause.FORCE_NOT_RISING:
            return tr("the force must rise as the spring gets shorter; read it again")
        case Cause.NO_SCATTER:
            return tr(
                "neither side scatters at all, so the readings are too coarse to compare; read the "
                "watch to hundredths"
            )
        case Cause.HEAVIER_NOT_FASTER:
            return tr(
                "the heavier mass was no faster, so damping cannot be told from friction; time "
                "more runs, or use masses further apart"
            )
        case Cause.HOLES_EXCEED_PISTON:
            return tr("all holes together are larger than the piston; count and measure them again")
        case Cause.SHAFT_FILLS_BORE:
            return tr("it has to be thinner than the bore; measure both again")
        case Cause.SHAFT_THROUGH_BODY:
            return tr("the shaft would stand out of the far end of the body; measure both again")
        case Cause.NO_ROOM_FOR_OIL:
            return tr("the parts inside would leave no room for oil; measure both again")
        case Cause.TOO_STIFF_WITH_ANY_OIL:
            return tr("even the thinnest oil damps harder than that through these holes")
        case Cause.TOO_SOFT_WITH_ANY_OIL:
            return tr("no oil is thick enough for that with these holes")
        case Cause.BLEND_NOT_MONOTONIC:
            return tr(
                "The measured blend is so far from both oils that adding thick oil would not "
                "always thicken: measure it again"
            )
        case _:
            assert_never(failure.cause)


def _out_of_reach(end: str) -> str:
    return tr(
        "before {end} the arm would stand upright or pass its dead centre, where the damper is in "
        "line with it; measure the points and the stroke again",
        end=end,
    )
