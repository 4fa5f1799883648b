"""What several forms have in common: the choice of an end, corner loads, standing cautions."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from calc.answering.answer import Caution
from calc.asking.entry import Choice, Number, When
from calc.language import later, tr
from calc.physics import droop, oil
from calc.replying.form import Given, Problem, from_car
from calc.units import STANDARD_GRAVITY

AXLE = Choice("End of the car", (("front", "Front"), ("rear", "Rear")), name="axle")
END_LABELS = (("front", "Front"), ("rear", "Rear"))
CORNER_LABELS = (
    ("front_left", "Front left"),
    ("front_right", "Front right"),
    ("rear_left", "Rear left"),
    ("rear_right", "Rear right"),
)
CORNER_NAMES = {
    "front_left": later("front left"),
    "front_right": later("front right"),
    "rear_left": later("rear left"),
    "rear_right": later("rear right"),
}
_ENDS = {"front": later("front"), "rear": later("rear")}
_SIDES = {"left": later("left"), "right": later("right")}


def end_word(end: str) -> str:
    """ "front" or "rear" in the language spoken, for the inside of a sentence."""
    return tr(_ENDS[end])


def side_word(side: str) -> str:
    """ "left" or "right"."""
    return tr(_SIDES[side])


def corner_word(corner: str) -> str:
    """ "front left" for "front_left"."""
    return tr(CORNER_NAMES[corner])


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


def plastic() -> Caution:
    return Caution(tr("Do not overtighten small screws into plastic: the thread strips."))


def far_apart() -> Caution:
    return Caution(
        tr(
            "These oils are more than 3 : 1 apart, where the blending laws part company: make a "
            "little first and try it, or use bottles that lie closer to the target."
        )
    )


_RECTANGULAR = 1 / math.sqrt(3)  # standard uncertainty of anything within ±1


def with_inputs(given: Given, extra: Mapping[str, tuple[float, float, str]]) -> Given:
    """The entries joined by inputs that nobody typed: name -> (value, u, what it is)."""
    return replace(
        given,
        numbers={**given.numbers, **{name: value for name, (value, _, _) in extra.items()}},
        u={**given.u, **{name: u for name, (_, u, _) in extra.items()}},
        labels={**given.labels, **{name: tr(says) for name, (_, _, says) in extra.items()}},
    )


LAW_INPUT = {"law": (0.0, _RECTANGULAR, later("which blending law the oil follows"))}


def by_law(parts: Sequence[tuple[float, float]], law: float) -> float:
    """Viscosity of a blend; `law` goes from -1 (double-log) over 0 (log) to 1 (cube-root)."""
    middle, (low, high) = oil.blend(parts), oil.band(parts)
    return middle * math.pow(high / middle if law > 0 else low / middle, abs(law))


def corner_load_fields(when: When = ()) -> tuple[Number, ...]:
    """Scale readings left and right of the chosen end, and its unsprung mass."""
    left = "corners.{axle}_left.load", "load_left"
    right = "corners.{axle}_right.load", "load_right"
    return (
        from_car(*left, label="Load on the left scale", when=when),
        from_car(*right, label="Load on the right scale", when=when),
        from_car("{axle}.unsprung", when=when),
    )


def sprung_load(load: float, unsprung: float, name: str) -> float:
    """What the spring holds up at the wheel, N, from masses in kg. Raises Problem at `name`."""
    if unsprung >= load:
        raise Problem(
            name,
            tr(
                "Unsprung mass: the wheel and arm cannot weigh as much as the whole corner does on "
                "the scale; weigh them again."
            ),
        )
    return droop.sprung_load(
        corner_load=load * STANDARD_GRAVITY, unsprung=unsprung * STANDARD_GRAVITY
    )


def axle_load(given: Given) -> float:
    """Mean load on the two springs of the chosen end, at the wheel, N."""
    return sprung_load((given.load_left + given.load_right) / 2, given.unsprung, "unsprung")


def table_row(
    given: Given, label: str, kind: str, values: Iterable[float], decimals: int | None = None
) -> tuple[str, ...]:
    """A row with a unit of its own: it stands once, at the label, so that columns stay narrow."""
    unit = given.symbol(kind)
    cells = (given.bare(value, kind, decimals) for value in values)
    return (f"{label}, {unit}" if unit else label, *cells)
