"""Spring swap: which turns keep the ride height with another spring, and what else it changes."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.answering.answer import Answer, Quantity, Write
from calc.answering.hand import to_step
from calc.asking.entry import Choice, Number, only
from calc.forms import entered
from calc.forms.damper_drawing import damper_drawing
from calc.forms.fields import AXLE, chosen_end, corner_load_fields, spring_fields
from calc.forms.findings import stack_at
from calc.forms.inputs import growth_of, record_inputs, with_inputs
from calc.forms.names import end_word
from calc.forms.recorded import DrawnBody, folded
from calc.forms.spring_swap import words
from calc.forms.turning import collar_writes, droop_write
from calc.language import later, tr
from calc.model.corners import Corner
from calc.model.standing import Seat, SpringSize
from calc.physics.stack import Stack
from calc.replying.form import Form, Given, Problem, from_car

_NOW_PAIR, _NEW_PAIR, _OWNED = (
    only("now_is", "pair"),
    only("new_is", "pair"),
    only("new_is", "owned"),
)
_TYPED = only("new_is", "single", "pair")


FIELDS = (
    AXLE,
    Choice(
        "On the damper now",
        (("single", "one spring"), ("pair", "two in series")),
        "Two in series: one stands on the other, with a plate between them.",
        name="now_is",
    ),
    Choice(
        "The new one is",
        (("single", "one spring"), ("pair", "two in series"), ("owned", "one of my list")),
        name="new_is",
    ),
    from_car("{axle}.spring_rate", label="Spring rate now"),
    from_car("{axle}.spring_free", label="Free length now"),
    from_car("{axle}.spring_solid", label="Solid length now"),
    *spring_fields("second", "Second spring now", (2000.0, 15e-3, 6e-3), _NOW_PAIR),
    Number(
        "Number of the spring in my list", "count", (1, 20), (1, 20),
        "Counted from the top of the springs owned, on the page of the car.",
        name="owned", start=2, whole=True, when=_OWNED,
    ),
    *spring_fields("new", "New spring", (760.0, 40e-3, 14e-3), _TYPED),
    *spring_fields("with", "Second new spring", (2000.0, 15e-3, 6e-3), _NEW_PAIR),
    from_car("{axle}.droop_length", label="Length from collar to cup at full droop, now"),
    from_car("{axle}.stroke"),
    from_car("{axle}.motion_ratio"),
    from_car("{axle}.pitch"),
    *corner_load_fields(),
    from_car("tools.turn_step"),
    from_car("thread_hand"),
    *entered.arm_of_end(),
    *folded(DrawnBody),
)  # fmt: skip


def _now_stack(given: Given) -> Stack:
    sizes = [SpringSize(given.spring_rate, given.spring_free, given.spring_solid)]
    names = ["spring_solid"]
    if given.choice("now_is") == "pair":
        sizes.append(SpringSize(given.second_rate, given.second_free, given.second_solid))
        names.append("second_solid")
    return stack_at(sizes, names)


def _new_stack(given: Given) -> Stack:
    sizes = [SpringSize(given.new_rate, given.new_free, given.new_solid)]
    names = ["owned" if given.choice("new_is") == "owned" else "new_solid"]
    if given.choice("new_is") == "pair":
        sizes.append(SpringSize(given.with_rate, given.with_free, given.with_solid))
        names.append("with_solid")
    return stack_at(sizes, names, tr("New spring"))


def _with_owned(given: Given) -> Given:
    """The entries joined by the spring picked from the list, with the doubts of a record."""
    if given.choice("new_is") != "owned":
        return given
    springs, number = given.car.springs, round(given.owned)
    if number > len(springs):
        raise Problem(
            "owned",
            tr(
                "Number of the spring in my list: there are {count} in it; add the spring on the "
                "page of the car, or type its numbers here.",
                count=len(springs),
            ),
        )
    paths = {f"new_{part}": f"springs.{number}.{part}" for part in ("rate", "free", "solid")}
    return with_inputs(given, record_inputs(given.car, paths, tr("New spring")))


@dataclass(frozen=True)
class Swap:
    """One side of the axle: as it is now, and with the new spring at the same collar."""

    now: Seat
    new: Seat

    @property
    def shift(self) -> float:
        """How far down, m, the collar goes so that the height stays."""
        return self.now.shift_to(self.new)


def swap(given: Given, load: float) -> Swap:
    """The swap at a corner whose scale shows `load`, kg. Raises Problem."""
    now = Seat(
        stack=_now_stack(given),
        load=entered.side_load(given, load),
        motion_ratio=given.motion_ratio,
        droop_length=given.droop_length,
        stroke=given.stroke,
        growth=growth_of(given, chosen_end(given)),
    )
    entered.checked(now, "spring_solid", tr("Spring now"))
    made = Swap(now, now.refitted(_new_stack(given)))
    _check_new(given, made.new.down(made.shift))
    return made


def _check_new(given: Given, after: Seat) -> Seat:
    name = "owned" if given.choice("new_is") == "owned" else "new_rate"
    return entered.checked(after, name, tr("New spring"))


def sides(given: Given) -> dict[str, Swap]:
    """Left, right, and the mean of both."""
    left, right = given.load_left, given.load_right
    loads = {"left": left, "right": right, "mean": (left + right) / 2}
    return {side: swap(given, load) for side, load in loads.items()}


def figures(given: Given) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    made = sides(given)
    mean = made["mean"]
    now, after = mean.now, mean.new.down(mean.shift)
    return {
        "turns_left": made["left"].shift / given.pitch,
        "turns_right": made["right"].shift / given.pitch,
        "preload": after.preload,
        "preload_force": after.preload_force,
        "sag": after.sag,
        "wheel_rate_now": now.wheel_rate,
        "wheel_rate": after.wheel_rate,
        "ride_frequency_now": now.frequency,
        "ride_frequency": after.frequency,
        "bind_margin": after.bind_margin,
    }


_LABELS = (
    ("turns_left", later("Turns of the left collar, exact (down is positive)"), "turns"),
    ("turns_right", later("Turns of the right collar, exact (down is positive)"), "turns"),
    ("preload", later("New preload at full droop"), "length"),
    ("preload_force", later("New preload force at full droop"), "force"),
    ("sag", later("Sag at the wheel, as before"), "length"),
    ("wheel_rate_now", later("Wheel rate now"), "rate"),
    ("wheel_rate", later("Wheel rate with the new spring"), "rate"),
    ("ride_frequency_now", later("Ride frequency now"), "frequency"),
    ("ride_frequency", later("Ride frequency with the new spring"), "frequency"),
    ("bind_margin", later("Room left to coil bind at full bump"), "length"),
)


def solve(given: Given) -> Answer:
    given = entered.with_axle_growth(_with_owned(given))
    doubted = given.carry(figures)
    made = sides(given)
    turns = {
        corner: to_step(made[corner.side].shift / given.pitch, given.turn_step)
        for corner in chosen_end(given).corners
    }
    mean = made["mean"]
    shift = given.pitch * sum(turns.values()) / 2
    after = _check_new(given, mean.new.down(shift))
    off = mean.now.rise(after)
    quantities = tuple(
        given.quantity(name, tr(label), kind, doubted[name]) for name, label, kind in _LABELS
    )
    rounding = Quantity("height_off", tr("What the rounding adds to the height"), off, "length")
    return Answer(
        steps=words.steps(given, turns, off),
        quantities=(*quantities, rounding),
        tables=words.tables(given, mean.now, after),
        plots=(words.plot(given, mean.now, after),),
        cautions=words.cautions(given, mean.now, after, turns),
        working=words.working(given, mean.now, mean.new, mean.shift),
        writes=_writes(given, after, turns),
        drawings=damper_drawing(given, after, chosen_end(given), DrawnBody(given)),
    )


def _writes(given: Given, after: Seat, turns: Mapping[Corner, float]) -> tuple[Write, ...]:
    end = chosen_end(given)
    rate, length = after.rate, after.stack.length(after.held)
    pair = len(after.stack.springs) > 1
    # A single spring with the same force and rate where the car stands; of one, that spring itself.
    free = length + after.held / rate
    return (
        Write(f"{end}.spring_rate", rate, _rate_says(given, rate, pair)),
        Write(f"{end}.spring_free", free, _free_says(given, free, pair)),
        Write(
            f"{end}.spring_solid", after.stack.solid,
            tr("solid length {length}", length=given.say(after.stack.solid, "length")),
        ),
        droop_write(given, end, after.droop_length),
        *collar_writes(given, turns),
    )  # fmt: skip


def _rate_says(given: Given, rate: float, pair: bool) -> str:
    parts = {"end": end_word(chosen_end(given)), "rate": given.say(rate, "rate")}
    if pair:
        return tr("{end} spring rate {rate} (of the pair, where the car stands)", **parts)
    return tr("{end} spring rate {rate}", **parts)


def _free_says(given: Given, free: float, pair: bool) -> str:
    length = given.say(free, "length")
    if pair:
        return tr("free length {length} (of the pair, where the car stands)", length=length)
    return tr("free length {length}", length=length)


FORM = Form(
    "spring-swap",
    "Spring swap",
    "car",
    "Another spring goes in: which turns keep the ride height, and what else changes?",
    FIELDS,
    solve,
)
