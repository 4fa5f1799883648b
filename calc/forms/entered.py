"""The car on its corners as it was entered: an end by itself, or rows of ends and of corners."""

from math import inf

from calc.asking.entry import Number, When
from calc.forms.fields import chosen_end
from calc.forms.findings import said_at
from calc.forms.inputs import growth_inputs, growth_of, with_inputs
from calc.forms.recorded import ArmPlaces, Tyre, folded, folded_at
from calc.model.corners import ENDS, End
from calc.model.standing import (
    Fault,
    Leg,
    Seat,
    SpringSize,
    Suspension,
    spring_load,
    stack_of,
)
from calc.replying.form import Given, Row, part

ARM = "arm."
"""Before the names of the fields of an arm."""


def arm_of_end(when: When = ()) -> tuple[Number, ...]:
    """The arm of the chosen end."""
    return folded(ArmPlaces, prefix=ARM, when=when)


def arms(when: When = ()) -> tuple[Number, ...]:
    """The arms of both ends."""
    return tuple(
        entry for end in ENDS for entry in folded_at(end, ArmPlaces, prefix=ARM, when=when)
    )


def tyres(when: When = ()) -> tuple[Number, ...]:
    """The tyres of both ends."""
    return tuple(entry for end in ENDS for entry in folded_at(end, Tyre, when=when))


_ALONE = {Fault.ALL_UNSPRUNG: "unsprung", Fault.GIVES_WAY: "motion_ratio"}
_FIELDS = {
    Fault.ALL_UNSPRUNG: "end.{end}.unsprung",
    Fault.GIVES_WAY: "end.{end}.motion_ratio",
}


def with_axle_growth(given: Given) -> Given:
    """The entries joined by how the motion ratio of the chosen end grows, where its arm is
    known."""
    end = chosen_end(given)
    return with_inputs(given, growth_inputs(given, {end: given.motion_ratio}, {end: ARM}))


def axle_load(given: Given) -> float:
    """Mean load on the two springs of the chosen end, at the wheel, N. Raises Problem."""
    return side_load((given.load_left + given.load_right) / 2, given.unsprung)


def side_load(mass: float, unsprung: float) -> float:
    """Load on a spring of the chosen end, N, where the scale shows a mass in kg. Raises
    Problem."""
    with said_at(_ALONE):
        return spring_load(mass, unsprung)


def checked(seat: Seat, spring: str = "", label: str = "") -> Seat:
    """The seat of the chosen end. Raises Problem where nothing springs there: at the entry `spring`
    where its coils touch, whose name at the head of a sentence is `label`."""
    with said_at({**_ALONE, Fault.BOUND: spring}, lambda: label):
        return seat.check()


def with_growth(given: Given) -> Given:
    """The entries joined by how the motion ratio of each end grows, where its arm is known."""
    ratios = {End(row.key): row.motion_ratio for row in given.rows("end")}
    return with_inputs(given, growth_inputs(given, ratios, {end: f"{end}.{ARM}" for end in ENDS}))


def end_row(given: Given, end: End) -> Row:
    return given.rows("end")[ENDS.index(end)]


def masses_at(given: Given, end: End) -> list[float]:
    """What the scales under both wheels of an end show, kg."""
    rows = given.rows("corner")
    return [rows[corner.place].load for corner in end.corners]


def at_end(end: End) -> dict[Fault, str]:
    """The fields of an end at which to say what cannot stand."""
    return {fault: name.format(end=end) for fault, name in _FIELDS.items()}


def legs(given: Given) -> tuple[Leg, ...]:
    """The four corners with what the rows say of springs, geometry and loads. Raises Problem."""
    return tuple(leg for end in ENDS for leg in _legs_of(given, end))


@part
def _legs_of(given: Given, end: End) -> tuple[Leg, ...]:
    with said_at(_FIELDS):
        return _suspension(given, end).legs(
            end,
            masses_at(given, end),
            wheelbase=given.wheelbase,
        )


def mean_seat(given: Given, end: End) -> Seat:
    """A corner with the mean load of both. Raises Problem."""
    masses = masses_at(given, end)
    with said_at(at_end(end)):
        return _suspension(given, end).seat(sum(masses) / len(masses)).check()


def _suspension(given: Given, end: End) -> Suspension:
    row = end_row(given, end)
    return Suspension(
        stack=stack_of([SpringSize(row.spring_rate, row.spring_free)]),
        motion_ratio=row.motion_ratio,
        droop_length=row.droop_length,
        pitch=row.pitch,
        unsprung=row.unsprung,
        track=row.maybe("track") or 0.0,
        growth=growth_of(given, end),
        tyre_rate=given.numbers.get(f"{end}.tyre_rate", inf),
    )
