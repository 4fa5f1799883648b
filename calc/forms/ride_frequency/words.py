"""What ride frequency and damping ratio say: the oil of each end, figures, tables, plots."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calc.answering.answer import (
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Pour,
    Quantity,
    Step,
    Table,
    Working,
    Write,
)
from calc.answering.places import between
from calc.answering.uncertainty import Uncertain
from calc.forms.bottles import (
    leave_oil,
    nearest_words,
    needs_oil,
    owned,
    pours,
    refill,
    sentence,
)
from calc.forms.cautions import opened, springs_off
from calc.forms.failures import problem
from calc.forms.filling import Fill, Wanted, filled_together, in_stock
from calc.forms.gas import parting_ride
from calc.forms.names import end_label, end_word
from calc.forms.oil_choice import NoOil
from calc.forms.oil_warm import oil_cautions
from calc.forms.piston import piston_cautions
from calc.forms.ride_frequency.figures import Ride, RideFigures
from calc.forms.ride_frequency.inputs import Asked, EndRow
from calc.forms.settling import BUMP, Released, on_tyres, settling
from calc.forms.workings import (
    damping_working,
    frequency_working,
    wheel_rate_terms,
    wheel_rate_working,
)
from calc.forms.writes import end_write
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.physics.failure import PhysicsError
from calc.physics.ride import overshoot
from calc.replying.figures import Propagated

_AS_IT_IS = 0.05  # relative: an oil this near needs no change
_RANGE = (0.5, 2.0)  # of the oil wanted and in it, on the plot


@dataclass(frozen=True)
class OilFor:
    """The oil for the wanted ratio of an end: exact, with its doubt, and as the bottles give it, or
    why they do not; neither where the oil that is in it is right."""

    exact: Uncertain
    made: Fill | NoOil | None

    @property
    def fill(self) -> Fill | None:
        return self.made if isinstance(self.made, Fill) else None


def oils_for(
    asked: Asked, ends: Mapping[End, Ride], found: Propagated[RideFigures]
) -> dict[End, OilFor]:
    """Which oils to fill in. Raises Problem where none gives such a ratio."""
    exact = {
        end: _exact(asked, ride, found.uncertain[f"{end}_ratio"]) for end, ride in ends.items()
    }
    wanted = {
        end: Wanted(one.value, asked.fills[end].to_make, asked.syringe)
        for end, one in exact.items()
        if abs(ends[end].oil / one.value - 1) > _AS_IT_IS
    }
    made = filled_together(in_stock(asked.bottles), wanted, asked.say)
    return {end: OilFor(one, made.get(end)) for end, one in exact.items()}


def _exact(asked: Asked, ride: Ride, now: Uncertain) -> Uncertain:
    try:
        grade = ride.grade_for(ride.wanted)
    except PhysicsError as failure:
        row = asked.end[ride.end.place]
        raise problem(row.at(EndRow.wanted), row.label_of(EndRow.wanted), failure) from failure
    # The more it damps than thought, the thinner the oil, by the elasticity of the damping.
    return now.to_power(grade, -1 / ride.bench.elasticity(ride.piston, grade))


def step(asked: Asked, ride: Ride, oil: OilFor) -> Step:
    say = asked.say
    now = say(ride.ratio(ride.oil), "ratio", 2)
    wanted = say(ride.wanted, "ratio", 2)
    exact = say(oil.exact.value, "viscosity")
    if oil.made is None:
        text = leave_oil(ride.end, say(ride.oil, "viscosity"))
        gives = tr("Damping ratio: {now} now, {wanted} wanted.", now=now, wanted=wanted)
        return Step(text, gives)
    if oil.fill is None:
        return Step(
            needs_oil(ride.end, exact),
            tr("Damping ratio {wanted} with it; it is {now} now.", wanted=wanted, now=now),
        )
    return Step(
        refill(ride.end, oil.fill.oil.words),
        tr(
            "Damping ratio {then} with it ({now} now). For exactly {wanted} you would need "
            "{exact}.",
            then=say(ride.ratio(oil.fill.oil.viscosity), "ratio", 2),
            exact=exact,
            wanted=wanted,
            now=now,
        ),
    )


def quantities(
    asked: Asked, found: Propagated[RideFigures], oils: Mapping[End, OilFor]
) -> tuple[Quantity, ...]:
    """The figures, the oil of each end behind its own."""
    *of_ends, both = asked.quantities(found)
    made = []
    for end in ENDS:
        made += [one for one in of_ends if one.name.startswith(f"{end}_")]
        label = tr("{end}: oil for the ratio wanted, at 25 °C", end=end_label(end))
        made.append(asked.quantity(f"{end}_oil", label, "viscosity", oils[end].exact))
    return (*made, both)


def tables(asked: Asked, ends: Mapping[End, Ride]) -> tuple[Table, ...]:
    """Damping ratio and overshoot with every oil owned and in the dampers."""
    grades = {bottle.viscosity for bottle in asked.bottles}
    grades |= {ride.oil for ride in ends.values()}
    rows = []
    for grade in sorted(grades):
        ratios = [ends[end].ratio(grade) for end in ENDS]
        rows.append(
            (
                asked.bare(grade, "viscosity"),
                *(asked.bare(ratio, "ratio", 2) for ratio in ratios),
                *(asked.bare(overshoot(ratio), "share", 0) for ratio in ratios),
            )
        )
    heads = (tr("Oil cSt"), tr("Front"), tr("Rear"), tr("Front overshoot %"), tr("Rear %"))
    return (Table(tr("Damping ratio with each oil"), heads, tuple(rows)),)


def plots(asked: Asked, ends: Mapping[End, Ride], oils: Mapping[End, OilFor]) -> tuple[Plot, ...]:
    return _after_bump(asked, ends, oils), _against_oil(asked, ends, oils)


def _grade(ride: Ride, oil: OilFor) -> float:
    """What is in the damper once the instruction is carried out."""
    if oil.made is None:
        return ride.oil
    return oil.fill.oil.viscosity if oil.fill else oil.exact.value


def _after_bump(asked: Asked, ends: Mapping[End, Ride], oils: Mapping[End, OilFor]) -> Plot:
    ratios = {end: ride.ratio(_grade(ride, oils[end])) for end, ride in ends.items()}
    front, rear = (asked.say(overshoot(ratios[end]), "share", 0) for end in ENDS)
    return settling(
        asked,
        tr("How each end settles when it is let go, with the oils above"),
        [
            Released(end_word(end), ratios[end], ends[end].seat.frequency, style)
            for end, style in zip(ENDS, ("main", "second"), strict=True)
        ],
        tr(
            "Let go {height} off ride height, the front overshoots by {front} and the rear by "
            "{rear}.",
            height=asked.say(BUMP, "length"),
            front=front,
            rear=rear,
        ),
    )


def _against_oil(asked: Asked, ends: Mapping[End, Ride], oils: Mapping[End, OilFor]) -> Plot:
    known = [ride.oil for ride in ends.values()] + [oil.exact.value for oil in oils.values()]
    low, high = min(known) * _RANGE[0], max(known) * _RANGE[1]
    grades = between(low, high, "viscosity", asked.system)
    curves, marks = [], []
    for end, style in zip(ENDS, ("main", "second"), strict=True):
        ride = ends[end]
        line = tuple((grade, ride.ratio(grade)) for grade in grades)
        curves.append(Curve(end_word(end), line, style))
        marks.append(Mark(ride.oil, ride.ratio(ride.oil), tr("{end} now", end=end_word(end))))
    return Plot(
        tr("Damping ratio against the oil"),
        Axis(tr("Oil at 25 °C"), "viscosity"),
        Axis(tr("Damping ratio"), "ratio"),
        tuple(curves),
        tuple(marks),
        tr("Thicker oil damps more, in proportion while the shaft moves slowly."),
    )


def _of_pistons(asked: Asked, ends: Mapping[End, Ride]) -> Iterator[Caution]:
    """What the piston model warns of, once where it is the same at both ends."""
    said: dict[str, list[End]] = {}
    for end, ride in ends.items():
        warm = ride.bench.warmed(ride.oil)
        for caution in piston_cautions(asked, ride.piston, warm, ride.bench.speed):
            said.setdefault(caution.text, []).append(end)
    for text, where in said.items():
        yield Caution(text if len(where) > 1 else f"{end_label(where[0])}: {text}")


def cautions(
    asked: Asked, ends: Mapping[End, Ride], oils: Mapping[End, OilFor]
) -> tuple[Caution, ...]:
    bottles = owned(asked.bottles)
    found = [
        Caution(sentence(oil.made) + nearest_words(asked, bottles, oil.exact.value), stop=True)
        for oil in oils.values()
        if isinstance(oil.made, NoOil)
    ]
    grades = [ride.oil for ride in ends.values()] + [oil.exact.value for oil in oils.values()]
    found += oil_cautions(asked, grades, [asked.warm])
    found += parting_ride(asked, [(end, ride, ride.oil) for end, ride in ends.items()])
    found += on_tyres(asked, [(end, ride, _grade(ride, oils[end])) for end, ride in ends.items()])
    found += _of_pistons(asked, ends)
    note = Caution(
        tr(
            "The friction of seals, pins and tyres damps too, and is not counted here: the "
            "car bounces less than this says."
        )
    )
    return (*dict.fromkeys(found), note, springs_off(), opened())


def working(asked: Asked, ends: Mapping[End, Ride]) -> tuple[Working, ...]:
    say, lines = asked.say, []
    for key, ride in ends.items():
        end = end_word(key)
        damping, seat = ride.bench.damping(ride.piston, ride.oil), ride.seat
        rate = say(seat.wheel_rate, "rate")
        lines += [
            wheel_rate_working(asked, seat, f"{end}: {wheel_rate_terms(asked, seat)} = {rate}"),
            frequency_working(asked, seat, f"{end}: "),
            damping_working(
                f"{end}: {say(damping, 'damping')} × {say(seat.motion_ratio, 'ratio')}² × "
                f"{say(seat.over_tyre, 'ratio')}² / "
                f"(2 √({say(seat.over_tyre, 'ratio')} × {rate} × {say(seat.mass, 'mass')})) = "
                f"{say(ride.ratio(ride.oil), 'ratio', 2)}"
            ),
        ]
    return tuple(lines)


def writes(asked: Asked, oils: Mapping[End, OilFor]) -> tuple[Write, ...]:
    return tuple(
        end_write(asked, end, "oil", oil.fill.oil.viscosity)
        for end, oil in oils.items()
        if oil.fill
    )


def pours_of(oils: Mapping[End, OilFor]) -> tuple[Pour, ...]:
    """What is poured out of which bottle."""
    return tuple(
        one for end, oil in oils.items() if oil.fill for one in pours(oil.fill.poured, end)
    )
