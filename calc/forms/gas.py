"""The gas over the oil of a damper, and the speed from which the oil under its piston parts."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypeVar

from calc.answering.answer import Caution
from calc.forms.names import end_label
from calc.language import later, tr
from calc.model.corners import End
from calc.model.damper import Damped
from calc.physics.gas import ATMOSPHERE, TrappedGas
from calc.replying.inputs import Group, Inputs, assumed, from_car
from calc.units import decimals_for

_UNKNOWN = 0.1
"""Relative, standard uncertainty: what a closing point a third of the stroke off does to the
pressure at either end of it in dampers of a usual size."""
_MIDDLE, _ANYWHERE = 0.5, 12**-0.5  # of the stroke: any place is as likely (JCGM 100:2008, 4.3.7)
_LEAST = 1e3
"""Pa; less than that no bladder holds."""


_PUSH = 0.1
"""N, standard uncertainty: half a millilitre of air, shut in with the shaft anywhere in its stroke,
pushes or draws so hard at ride height in dampers of a usual size."""


def air_push() -> Any:
    """How hard trapped air pushes the shaft out where the car stands, N; see `Seat.pushed`."""
    return assumed(later("the push of the air in the dampers"), 0.0, _PUSH)


class Gas(Group):
    """The gas that keeps the oil under pressure. Volume and closing point may be unknown: then it
    is not known how its pressure changes over the stroke."""

    stroke: float | None
    gas: float | None = from_car("{axle}.inside.gas", optional=True)
    closed_at: float | None = from_car("{axle}.inside.closed_at", optional=True)
    pressure: float = from_car("{axle}.inside.pressure")
    stands: float = assumed("where in its stroke the shaft is", _MIDDLE, _ANYWHERE)
    outside: float = assumed("the pressure of the air outside", ATMOSPHERE, 3e3)
    over_stroke: float = assumed("how the pressure of the gas changes over the stroke", 1.0)

    @property
    def known(self) -> bool:
        """Whether it is known what gas was shut in, and when."""
        return None not in (self.gas, self.closed_at, self.stroke)

    def behind(self, shaft: float) -> float:
        """Absolute pressure of the gas, Pa, wherever in its stroke the shaft (diameter in m) is."""
        pressure = max(self.outside + self.pressure, _LEAST)
        gas, closed_at, stroke = self.gas, self.closed_at, self.stroke
        if gas is None or closed_at is None or stroke is None:
            return pressure * max(self.over_stroke, _LEAST / ATMOSPHERE)
        trapped = TrappedGas(gas, closed_at, shaft, pressure)
        # Short of where the shaft locks: on its way there the pressure leaves all limits.
        return trapped.pressure_at(
            min(self.stands * stroke, 0.1 * closed_at + 0.9 * trapped.locked_at)
        )


class ShutIn(Gas):
    """The gas, where the stroke is asked for on its account alone."""

    stroke: float | None = from_car("{axle}.stroke", optional=True)


_Asked = TypeVar("_Asked", bound=Inputs)


def with_gas(asked: _Asked, gas: Gas, of: str = "") -> _Asked:
    """With the doubt of the pressure where it is not known what gas was shut in, and when; `of`
    says whose it is where there are several."""
    return asked.assuming(
        (gas.at(Gas.stands), _MIDDLE, _ANYWHERE),
        (gas.at(Gas.over_stroke), 1.0, 0.0 if gas.known else _UNKNOWN),
        of=of,
    )


def with_gases(asked: _Asked, gases: Mapping[End, Gas]) -> _Asked:
    """With the doubt of the pressure at both ends."""
    for end, gas in gases.items():
        asked = with_gas(asked, gas, end_label(end))
    return asked


def parting(asked: Inputs, fast: float, speed: float, u: float) -> Iterator[Caution]:
    """Where the oil parts at a speed (m/s) below the `fast` one that is asked about."""
    if speed < fast:
        said = asked.say(speed, "speed", decimals_for(u, "speed", asked.system))
        text = tr(
            "From {speed} up the oil under the piston tears (cavitates) in compression: "
            "the force stops growing, and the rebound after it starts slack. More pressure "
            "in the cap, larger holes or thinner oil raise that speed.",
            speed=said,
        )
        finding = tr("From {speed} up the oil tears (cavitates) in compression.", speed=said)
        yield Caution(text, finding=finding)


def parting_ride(asked: Inputs, ends: Iterable[tuple[End, Damped, float]]) -> Iterator[Caution]:
    """Where the oil (m2/s at 25 C) of an end parts at the speed of its bench, in one sentence."""
    parted = [
        (end, damped, grade)
        for end, damped, grade in ends
        if damped.bench.parts(damped.piston, grade)
    ]
    told = [_parted(asked, damped, grade) for _, damped, grade in parted]
    if len(told) == 1:
        text = tr(
            "{end}: from {speed} up the oil under the piston tears (cavitates) in compression: at "
            "{used} the damping ratio is {bump} in bump and {rebound} in rebound. More pressure in "
            "the cap, larger holes or thinner oil raise that speed.",
            end=end_label(parted[0][0]),
            **told[0],
        )
        yield Caution(text)
    elif told:
        front, rear = told
        text = tr(
            "From {front_speed} up at the front and {rear_speed} at the rear the oil under the "
            "piston tears (cavitates) in compression: at {used} the damping ratios are "
            "{front_bump} and {rear_bump} in bump, {front_rebound} and {rear_rebound} in rebound. "
            "More pressure in the caps, larger holes or thinner oil raise that speed.",
            used=front["used"],
            **{f"front_{name}": said for name, said in front.items()},
            **{f"rear_{name}": said for name, said in rear.items()},
        )
        yield Caution(text)


def _parted(asked: Inputs, damped: Damped, grade: float) -> dict[str, str]:
    bench = damped.bench
    return {
        "speed": asked.say(bench.parts_from(damped.piston, grade), "speed"),
        "used": asked.say(bench.speed, "speed"),
        "bump": asked.say(damped.ratio_in("compression", grade), "ratio", 2),
        "rebound": asked.say(damped.ratio_in("rebound", grade), "ratio", 2),
    }
