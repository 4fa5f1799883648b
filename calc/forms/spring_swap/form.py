"""Spring swap: which turns keep the ride height with another spring, and what else it changes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.answering.answer import Answer, Write
from calc.answering.hand import to_step
from calc.asking import record
from calc.asking.entry import Number
from calc.forms import entered
from calc.forms.damper_drawing import damper_drawing
from calc.forms.fields import SpringInputs
from calc.forms.findings import check_thread, stack_at
from calc.forms.friction import BETWEEN_READINGS, with_end_friction
from calc.forms.growth import with_growth
from calc.forms.names import end_word
from calc.forms.spring_swap import words
from calc.forms.spring_swap.inputs import Asked
from calc.forms.writes import collar_writes, end_write
from calc.language import inside, tr
from calc.model.car import entry_at, entry_uncertainty
from calc.model.corners import Corner
from calc.model.standing import Seat, SpringSize
from calc.physics.stack import Stack
from calc.replying.figures import Figures, figure
from calc.replying.form import Form
from calc.replying.inputs import Problem


def _now_stack(asked: Asked) -> Stack:
    pair = [asked.second] if asked.now_is == "pair" else []
    size = SpringSize(asked.spring_rate, asked.spring_free, asked.spring_solid)
    return _stack(size, asked.at(Asked.spring_solid), pair)


def _new_stack(asked: Asked) -> Stack:
    pair = [asked.second_new] if asked.new_is == "pair" else []
    return _stack(asked.new.size, _of_new(asked, SpringInputs.solid), pair, tr("New spring"))


def _stack(first: SpringSize, at: str, others: Sequence[SpringInputs], name: str = "") -> Stack:
    """A spring, whose solid length is entered `at` that field, and others behind it."""
    fields = [other.at(SpringInputs.solid) for other in others]
    return stack_at([first, *(other.size for other in others)], [at, *fields], name)


def _of_new(asked: Asked, declared: Any) -> str:
    """The field at which to say what is wrong with the new spring: one of it, or its number."""
    return asked.at(Asked.owned) if asked.new_is == "owned" else asked.new.at(declared)


def _with_owned(asked: Asked) -> Asked:
    """The entries joined by the spring picked from the list, with the uncertainty of a record."""
    if asked.new_is != "owned":
        return asked
    springs, number = asked.car.springs, round(asked.owned)
    if number > len(springs):
        raise Problem(
            Asked.owned,
            tr(
                "Number of the spring in my list: there are {count} in it; add the spring on the "
                "page of the car, or type its numbers here.",
                count=len(springs),
            ),
        )
    return asked.joined(*_of_list(asked, number))


def _of_list(asked: Asked, number: int) -> Iterator[tuple[str, float, float, str]]:
    """The new spring as the record has it: its fields, values, uncertainties and labels."""
    new = asked.new
    for name, column in (
        (new.at(SpringInputs.rate), "rate"),
        (new.at(SpringInputs.free), "free"),
        (new.at(SpringInputs.solid), "solid"),
    ):
        path = f"springs.{number}.{column}"
        entry, value = entry_at(path), record.get(asked.car, path)
        label = tr("{row}, {column}", row=tr("New spring"), column=inside(entry.said))
        if isinstance(entry, Number):
            yield name, value, entry_uncertainty(asked.car, entry, value), label


@dataclass(frozen=True)
class Swap:
    """One side of the axle: as it is now, and with the new spring at the same collar."""

    now: Seat
    new: Seat

    @property
    def shift(self) -> float:
        """How far down, m, the collar goes so that the height stays."""
        return self.now.shift_to(self.new)


def swap(asked: Asked, load: float) -> Swap:
    """The swap at a corner whose scale shows `load`, kg. Raises Problem."""
    now = Seat(
        stack=_now_stack(asked),
        load=asked.loads.on_spring(load),
        motion_ratio=asked.motion_ratio,
        droop_length=asked.droop_length,
        stroke=asked.stroke,
        growth=asked.arm.growth,
        tyre_rate=asked.tyre.tyre_rate,
    )
    entered.checked(now, Asked.motion_ratio, Asked.spring_solid, tr("Spring now"))
    made = Swap(now, now.refitted(_new_stack(asked)))
    _check_new(asked, made.new.down(made.shift))
    return made


def _check_new(asked: Asked, after: Seat) -> Seat:
    at = _of_new(asked, SpringInputs.rate)
    return entered.checked(after, Asked.motion_ratio, at, tr("New spring"))


def sides(asked: Asked) -> dict[str, Swap]:
    """Left, right, and the mean of both."""
    left, right = asked.loads.load_left, asked.loads.load_right
    loads = {"left": left, "right": right, "mean": (left + right) / 2}
    return {side: swap(asked, load) for side, load in loads.items()}


class SwapFigures(Figures):
    turns_left: float = figure("Turns of the left collar, exact (down is positive)", kind="turns")
    turns_right: float = figure("Turns of the right collar, exact (down is positive)", kind="turns")
    preload: float = figure("New preload at full droop", kind="length")
    preload_force: float = figure("New preload force at full droop", kind="force")
    sag: float = figure("Sag at the wheel, as before", kind="length")
    wheel_rate_now: float = figure("Wheel rate now", kind="rate")
    wheel_rate: float = figure("Wheel rate with the new spring", kind="rate")
    ride_frequency_now: float = figure("Ride frequency now", kind="frequency")
    ride_frequency: float = figure("Ride frequency with the new spring", kind="frequency")
    bind_margin: float = figure("Room to coil bind at full bump", kind="length")
    height_off: float = figure("Height change with the rounded turns", kind="length")


def figures(asked: Asked, by_hand: float) -> SwapFigures:
    """`by_hand` is how far down the collars go for the rounded turns, on average, m."""
    made = sides(asked)
    mean = made["mean"]
    now, after = mean.now, mean.new.down(mean.shift)
    return SwapFigures(
        turns_left=made["left"].shift / asked.pitch,
        turns_right=made["right"].shift / asked.pitch,
        preload=after.preload,
        preload_force=after.preload_force,
        sag=after.pushed(asked.air_push).sag,
        wheel_rate_now=now.wheel_rate,
        wheel_rate=after.wheel_rate,
        ride_frequency_now=now.frequency,
        ride_frequency=after.frequency,
        bind_margin=after.bind_margin,
        height_off=now.rise(mean.new.down(by_hand)) + BETWEEN_READINGS * asked.friction.rest,
    )


def solve(asked: Asked) -> Answer:
    asked = _with_owned(asked)
    asked = with_growth(asked, asked.axle, asked.arm, asked.motion_ratio)
    asked = with_end_friction(asked, asked.axle, asked.friction)
    made = sides(asked)
    turns = {
        corner: to_step(made[corner.side].shift / asked.pitch, asked.turn_step)
        for corner in asked.axle.corners
    }
    mean = made["mean"]
    at = _of_new(asked, SpringInputs.free)
    for corner, n in turns.items():
        check_thread(at, corner, n, asked.pitch, mean.now.stack.free)
    shift = asked.pitch * sum(turns.values()) / 2
    after = _check_new(asked, mean.new.down(shift))
    found = asked.propagate(lambda at: figures(at, shift))
    return Answer(
        steps=words.steps(asked, turns, found.value.height_off),
        quantities=asked.quantities(found),
        tables=words.tables(asked, mean.now, after),
        plots=(words.plot(asked, mean.now, after),),
        cautions=words.cautions(asked, mean.now, mean.new, after, turns),
        working=words.working(asked, mean.now, mean.new, mean.shift),
        writes=_writes(asked, after, turns),
        drawings=damper_drawing(asked, after, asked.axle, asked.body),
    )


def _writes(asked: Asked, after: Seat, turns: Mapping[Corner, float]) -> tuple[Write, ...]:
    end = asked.axle
    rate, length = after.rate, after.stack.length(after.held)
    pair = len(after.stack.springs) > 1
    # A single spring with the same force and rate where the car stands; of one, that spring itself.
    free = length + after.held / rate
    solid = after.stack.solid
    found: tuple[tuple[Any, float, str], ...] = (
        (SpringInputs.rate, rate, _rate_says(asked, rate, pair)),
        (SpringInputs.free, free, _free_says(asked, free, pair)),
        (
            SpringInputs.solid,
            solid,
            tr("solid length {length}", length=asked.say(solid, "length")),
        ),
    )
    return (
        *(
            Write(f"{end}.spring_{of.name}", value, says)
            if pair
            else Write(f"{end}.spring_{of.name}", value, says, "entered", asked.u[asked.new.at(of)])
            for of, value, says in found
        ),
        end_write(asked, end, "droop_length", after.droop_length),
        *collar_writes(asked, turns),
    )  # fmt: skip


def _rate_says(asked: Asked, rate: float, pair: bool) -> str:
    parts = {"end": end_word(asked.axle), "value": asked.say(rate, "rate")}
    if pair:
        return tr("{end} spring rate {value} (of the pair, where the car sits)", **parts)
    return tr("{end} spring rate {value}", **parts)


def _free_says(asked: Asked, free: float, pair: bool) -> str:
    length = asked.say(free, "length")
    if pair:
        return tr("free length {length} (of the pair, where the car sits)", length=length)
    return tr("free length {length}", length=length)


FORM = Form(
    slug="spring-swap",
    title="Spring swap",
    moment="car",
    asks="Another spring goes in: which turns keep the ride height, and what else changes?",
    inputs=Asked,
    solve=solve,
    first=(),
)
