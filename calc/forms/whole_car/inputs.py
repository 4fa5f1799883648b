"""What the form takes from the car as it is, besides the change: folded at its end."""

from calc.asking.entry import Entry, Number, Rows, only
from calc.forms.end_damper import dampers
from calc.forms.entered import tyres
from calc.forms.friction import frictions
from calc.forms.names import CORNER_LABELS
from calc.forms.recorded import FOLDED, ArmPlaces, folded_at
from calc.model.corners import ENDS, End
from calc.replying.inputs import Group, from_car

_HOLE = only("change", "hole")
_NOT_HOLE = only("change", "spring", "piston", "oil", "load")


class EndInputs(Group):
    """Springs and wheels of an end, and the oil in its dampers."""

    spring_rate: float = from_car("{axle}.spring_rate")
    spring_free: float = from_car("{axle}.spring_free")
    spring_solid: float = from_car("{axle}.spring_solid")
    droop_length: float = from_car("{axle}.droop_length")
    stroke: float = from_car("{axle}.stroke")
    pitch: float = from_car("{axle}.pitch")
    unsprung: float = from_car("{axle}.unsprung")
    oil: float = from_car("{axle}.oil")
    track: float = from_car("{axle}.track")


class RatioInputs(ArmPlaces):
    """Motion ratio of an end, and how it grows where its arm is known."""

    motion_ratio: float = from_car("{axle}.motion_ratio")


class HoleInputs(Group):
    """An arm with both its mounting holes."""

    pivot_out: float = from_car("{axle}.arm.pivot_out")
    pivot_up: float = from_car("{axle}.arm.pivot_up")
    wheel_out: float = from_car("{axle}.arm.wheel_out")
    wheel_up: float = from_car("{axle}.arm.wheel_up")
    lower_out: float = from_car("{axle}.arm.lower_out")
    lower_up: float = from_car("{axle}.arm.lower_up")
    upper_out: float = from_car("{axle}.arm.upper_out")
    upper_up: float = from_car("{axle}.arm.upper_up")
    other_lower_out: float = from_car("{axle}.arm.other_lower_out")
    other_lower_up: float = from_car("{axle}.arm.other_lower_up")
    other_upper_out: float = from_car("{axle}.arm.other_upper_out")
    other_upper_up: float = from_car("{axle}.arm.other_upper_up")
    kick_up: float = from_car("{axle}.arm.kick_up")
    damper_length: float = from_car("{axle}.damper_length")


class OilInputs(Group):
    """How much oil a damper takes, which decides whether a bottle holds enough."""

    held: float = from_car("{axle}.inside.held")


class HeightInputs(Group):
    """Where it is not known, no height is predicted."""

    ride_height: float | None = from_car("{axle}.ride_height", optional=True)


OF_END = tuple(entry.name for entry in EndInputs.fields)
DRAWN = (*(entry.name for entry in HoleInputs.fields), "stroke")


def _of_end(end: End) -> tuple[Number, ...]:
    other = End.REAR if end is End.FRONT else End.FRONT
    return (
        *folded_at(end, EndInputs),
        *folded_at(end, RatioInputs, when=_NOT_HOLE),
        *folded_at(end, RatioInputs, prefix="stays.", when=_HOLE + only("hole_end", other)),
        *folded_at(end, HoleInputs, when=_HOLE + only("hole_end", end, "both")),
        *folded_at(end, OilInputs, when=only("change", "spring", "hole", "piston", "load")),
        *folded_at(end, HeightInputs, when=only("keep", "preload")),
    )


CAR_FIELDS: tuple[Entry, ...] = (
    Rows("Corners", (from_car("corners.{row}.load"),), CORNER_LABELS, name="corner", every=True,
         group=FOLDED),
    from_car("body.wheelbase", group=FOLDED),
    *(entry for end in ENDS for entry in _of_end(end)),
    *frictions(),
    *tyres(),
    *dampers(),
)  # fmt: skip
