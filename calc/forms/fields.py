"""Fields that several forms ask for, and what is worked out of them alike."""

from collections.abc import Iterable

from calc.asking.entry import Choice, Number, When
from calc.forms.names import END_LABELS
from calc.language import tr
from calc.model.car import SOLID_LENGTH
from calc.model.corners import End
from calc.physics.droop import carried
from calc.replying.form import Given, Problem, from_car
from calc.units import STANDARD_GRAVITY

AXLE = Choice("End of the car", END_LABELS, name="axle")


def chosen_end(given: Given) -> End:
    """The end that `AXLE` asks for."""
    return End(given.choice("axle"))


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
    return carried(corner_load=load * STANDARD_GRAVITY, unsprung=unsprung * STANDARD_GRAVITY)


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


RATE = (100.0, 5e3), (5.0, 2e5)  # usual and possible, N/m
FREE = (20e-3, 120e-3), (5e-3, 0.5)  # m
SOLID = (5e-3, 60e-3), (1e-3, 0.4)  # m


def spring_fields(
    start: str, of: str, values: tuple[float, float, float], when: When
) -> tuple[Number, ...]:
    """Rate, free and solid length; their names begin with `start`, their labels with `of`."""
    rate, free, solid = values
    return (
        Number(
            f"{of} rate", "rate", *RATE, "From the label, or with a scale and a ruler.",
            name=f"{start}_rate", start=rate, relative=0.03, when=when,
        ),
        Number(
            f"{of} free length", "length", *FREE, "Off the car, with nothing on it.",
            name=f"{start}_free", start=free, tool="ruler", when=when,
        ),
        Number(
            f"{of} solid length", "length", *SOLID,
            SOLID_LENGTH, name=f"{start}_solid", start=solid, tool="ruler", when=when,
        ),
    )  # fmt: skip
