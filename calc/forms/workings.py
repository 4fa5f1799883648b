"""Lines of the working that several forms share: rates at the wheel, and the lift of a turn."""

from calc.answering.answer import Working
from calc.language import later, tr
from calc.model.standing import Seat
from calc.replying.inputs import Inputs
from calc.units import spelt

_PLAIN = later("wheel rate = rate × motion ratio²")
_GROWING = later("wheel rate = rate × ratio² + spring force × change of the ratio")


def wheel_rate_terms(asked: Inputs, seat: Seat) -> str:
    """ "0.650 N/mm × 0.650² + 4.40 N × 0.0023/mm": what makes the rate at the wheel."""
    say = asked.say
    plain = f"{say(seat.rate, 'rate')} × {say(seat.motion_ratio, 'ratio')}²"
    if not seat.growth:
        return plain
    return f"{plain} + {say(seat.held, 'force')} × {growth_text(seat.growth)}"


def growth_text(growth: float) -> str:
    """Growth of a motion ratio in a millimetre of bump."""
    return f"{spelt(f'{growth / 1e3:.4f}')}/mm"


def wheel_rate_working(asked: Inputs, seat: Seat, filled: str = "") -> Working:
    """`filled` stands in place of the terms of this seat and their sum."""
    terms = f"{wheel_rate_terms(asked, seat)} = {asked.say(seat.wheel_rate, 'rate')}"
    if seat.growth:
        return Working(tr(_GROWING), filled or terms, tr("derivative of spring force × ratio"))
    return Working(tr(_PLAIN), filled or terms, tr("Hooke's law and virtual work"))


def frequency_working(asked: Inputs, seat: Seat, end: str = "") -> Working:
    """`end` heads the line where there are two: "front: "."""
    say = asked.say
    return Working(
        tr("ride frequency = √(wheel rate and tyre rate in series / sprung mass) / 2π"),
        f"{end}√({say(seat.ride_rate, 'rate')} / {say(seat.mass, 'mass')}) / 2π"
        f" = {say(seat.frequency, 'frequency')}",
        tr("a mass on a spring: OpenStax College Physics, ch. 16"),
    )


def preload_working(asked: Inputs, seat: Seat) -> Working:
    say = asked.say
    return Working(
        tr("preload = free length − length at full droop"),
        f"{say(seat.stack.free, 'length')} − {say(seat.droop_length, 'length')} = "
        f"{say(seat.preload, 'length')}",
        tr("definition"),
    )


def cross_working(filled: str) -> Working:
    return Working(tr("cross weight = (front left + rear right) / total"), filled, tr("definition"))


def damping_working(filled: str) -> Working:
    return Working(
        tr(
            "damping ratio = damping × motion ratio² × s² / (2 √(s × wheel rate × sprung mass)); "
            "s: share of the travel that the spring makes, the tyre the rest"
        ),
        filled,
        tr("damping by the piston model, see Piston and oil"),
    )


def lift_working(asked: Inputs, seat: Seat, pitch: float, end: str) -> Working:
    """What a turn of both collars lifts; `end` as a word."""
    say = asked.say
    plain = f"{say(pitch, 'length')} / {say(seat.motion_ratio, 'ratio')}"
    lift = say(seat.lift(pitch), "length")
    if not seat.growth:
        return Working(
            tr("one turn lifts the end by pitch / motion ratio"),
            f"{end}: {plain} = {lift}",
            tr("the spring's length at unchanged load does not change"),
        )
    return Working(
        tr("one turn lifts the end by pitch / motion ratio × rate × ratio² / wheel rate"),
        f"{end}: {plain} × {say(seat.give, 'ratio')} = {lift}",
        tr("the load at the wheel does not change, and the motion ratio grows in bump"),
    )


def stop_working(asked: Inputs, seat: Seat, pitch: float, end: str) -> Working:
    """Turns down until the droop stop takes the load; `end` as a word."""
    say = asked.say
    plain = (
        f"({say(seat.load, 'force')} / {say(seat.motion_ratio, 'ratio')} / "
        f"{say(seat.rate, 'rate')} − {say(seat.preload, 'length')}) / {say(pitch, 'length')}"
    )
    turns = say(seat.spare / pitch, "turns", 2)
    source = tr("the spring at full droop just holds the corner's share")
    if not seat.growth:
        return Working(
            tr("turns to the droop stop = (load / motion ratio / rate − preload) / pitch"),
            f"{end}: {plain} = {turns}",
            source,
        )
    return Working(
        tr(
            "turns to the droop stop = (load / motion ratio / rate − preload) / pitch × wheel rate "
            "/ (rate × ratio²)"
        ),
        f"{end}: {plain} / {say(seat.give, 'ratio')} = {turns}",
        source,
    )
