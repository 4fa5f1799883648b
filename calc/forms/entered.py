"""The car on its corners as it was entered: an end by itself, or rows of ends and of corners."""

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any, Literal, Protocol, TypeVar

from calc.answering.answer import Caution
from calc.asking.said import Said
from calc.forms.findings import loose, said_at, stack_at, stop_left_out
from calc.forms.friction import FourCorners
from calc.forms.growth import with_growth
from calc.forms.recorded import ArmPlaces, Shaft, Tyre
from calc.language import tr
from calc.model.corners import ENDS, Corner, End
from calc.model.standing import (
    Fault,
    Leg,
    Predicted,
    Seat,
    SpringSize,
    Suspension,
    spring_load,
    stack_of,
)
from calc.physics.stack import Stack
from calc.replying.inputs import Group, Inputs, Row, from_car, memoised


def at_scales(side: Literal["left", "right"], *, optional: bool = False) -> Any:
    """What the scale under a wheel of the chosen end shows."""
    labels = {"left": "Load on the left scale", "right": "Load on the right scale"}
    return from_car(f"corners.{{axle}}_{side}.load", label=labels[side], optional=optional)


class EndLoads(Group):
    """What the scales under the chosen end show, and what of it is not on its springs, kg."""

    load_left: float = at_scales("left")
    load_right: float = at_scales("right")
    unsprung: float = from_car("{axle}.unsprung")

    def on_spring(self, mass: float) -> float:
        """Load at the wheel on a spring, N, where the scale shows a mass in kg. Raises Problem."""
        with said_at({Fault.ALL_UNSPRUNG: self.at(EndLoads.unsprung)}):
            return spring_load(mass, self.unsprung)

    def mean(self) -> float:
        """Mean load on both springs, at the wheel, N. Raises Problem."""
        return self.on_spring((self.load_left + self.load_right) / 2)


class CornerRow(Row[Corner]):
    load: float = from_car("corners.{row}.load")


class WeighedEnd(Row[End]):
    """What the load on the springs of an end is found by."""

    motion_ratio: float
    unsprung: float


class SprungEnd(WeighedEnd):
    """What an end stands on; only four legs need its track. A form that asks more of an end
    declares these again, in its own order."""

    spring_rate: float = from_car("{row}.spring_rate")
    spring_free: float = from_car("{row}.spring_free")
    droop_length: float = from_car("{row}.droop_length")
    motion_ratio: float = from_car("{row}.motion_ratio")
    pitch: float = from_car("{row}.pitch")
    unsprung: float = from_car("{row}.unsprung")
    track: float = from_car("{row}.track")


class Weighed(Inputs):
    """A car on four scales."""

    corner: tuple[CornerRow, ...]

    def masses(self, end: End) -> list[float]:
        """What the scales under both wheels of an end show, kg."""
        rows = self.corner
        return [rows[corner.place].load for corner in end.corners]


class WithArms(Weighed):
    """A car on four scales and what is recorded of its arms."""

    end: tuple[WeighedEnd, ...]
    arms: Mapping[End, ArmPlaces]


class OnCorners(WithArms, FourCorners):
    """A car with its springs, geometry and loads; tyres are asked for where all four legs are."""

    end: tuple[SprungEnd, ...]
    wheelbase: float
    tyres: Mapping[End, Tyre]
    shafts: Mapping[End, Shaft]


def checked(seat: Seat, ratio: Any, spring: Any = "", label: str = "") -> Seat:
    """The seat of the chosen end. Raises Problem where nothing springs there: at the entry of the
    motion `ratio`, or at that of the `spring`, which is called `label` at the head of a
    sentence."""
    with said_at({Fault.GIVES_WAY: ratio, Fault.BOUND: spring}, lambda: label):
        return seat.check()


class SprungByOne(Protocol):
    """What a form asks of one end and the spring on its dampers."""

    spring_rate: float
    spring_free: float
    spring_solid: float
    motion_ratio: float
    stroke: float
    arm: ArmPlaces


def fitted(asked: SprungByOne) -> Stack:
    """The spring that is on the dampers of the chosen end. Raises Problem."""
    size = SpringSize(asked.spring_rate, asked.spring_free, asked.spring_solid)
    return stack_at([size], [type(asked).spring_solid])


def end_seat(
    asked: SprungByOne, *, load: float, droop_length: float, tyre_rate: float = inf
) -> Seat:
    """A corner of the chosen end under a load on its spring, N. Raises Problem."""
    kind = type(asked)
    seat = Seat(
        stack=fitted(asked),
        load=load,
        motion_ratio=asked.motion_ratio,
        droop_length=droop_length,
        stroke=asked.stroke,
        growth=asked.arm.growth,
        tyre_rate=tyre_rate,
    )
    return checked(seat, kind.motion_ratio, kind.spring_solid, tr("Spring"))


_WithArms = TypeVar("_WithArms", bound=WithArms)


def with_growths(asked: _WithArms) -> _WithArms:
    """The inputs joined by how the motion ratio of each end grows, where its arm is known."""
    for end, row in zip(ENDS, asked.end, strict=True):
        asked = with_growth(asked, end, asked.arms[end], row.motion_ratio)
    return asked


def at_end(row: WeighedEnd) -> dict[Fault, Any]:
    """The fields of an end at which to say what cannot stand."""
    kind = type(row)
    return {
        Fault.ALL_UNSPRUNG: row.at(kind.unsprung),
        Fault.GIVES_WAY: row.at(kind.motion_ratio),
    }


def legs(asked: OnCorners) -> tuple[Leg, ...]:
    """The four corners with what the rows say of springs, geometry and loads. Raises Problem."""
    return tuple(leg for end in ENDS for leg in _legs_of(asked, end))


@memoised
def _legs_of(asked: OnCorners, end: End) -> tuple[Leg, ...]:
    row = asked.end[end.place]
    known = not stop_lacks(asked, row)
    with said_at(at_end(row)):
        suspension = Suspension(
            stack=stack_of([SpringSize(row.spring_rate, row.spring_free)]),
            motion_ratio=row.motion_ratio,
            droop_length=row.droop_length if known else row.spring_free + _NO_STOP,
            pitch=row.pitch,
            unsprung=row.unsprung,
            track=row.track,
            stroke=asked.shafts[end].most if known else inf,
            growth=asked.arms[end].growth,
            tyre_rate=asked.tyres[end].tyre_rate,
        )
        return suspension.legs(end, asked.masses(end), wheelbase=asked.wheelbase)


_NO_STOP = 1.0
"""m that a spring would be loose at full droop; no droop stop is so far away."""


class Sprung(Protocol):
    """What was entered of an end: a row, or the form itself where it asks of one end."""

    spring_rate: float
    spring_free: float
    droop_length: float

    def at(self, field: Any) -> str: ...


def stop_lacks(asked: Inputs, own: Sprung) -> tuple[Said, ...]:
    """What an end lacks to say where its droop stop is: not only a usual spring, for such a car
    would stand on its stop by chance."""
    field = type(own)
    spring: tuple[Any, ...] = (field.spring_rate, field.spring_free, field.droop_length)
    return tuple(one for one in spring if own.at(one) in asked.guessed)


def stops_left_out(asked: OnCorners) -> list[Caution]:
    lacks = {end: stop_lacks(asked, asked.end[end.place]) for end in ENDS}
    return [stop_left_out(end, entries) for end, entries in lacks.items() if entries]


def left_loose(asked: OnCorners, then: Predicted) -> Iterator[Caution]:
    """The spring of each end that is then the looser at full droop, where it is known how long the
    springs are there."""
    for end in ENDS:
        if not stop_lacks(asked, asked.end[end.place]):
            corner = min(end.corners, key=lambda one: then.seats[one.place].preload)
            yield from loose(asked, corner, then.seats[corner.place])
