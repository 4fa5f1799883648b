"""What all drop tests share: the runs, the odd ones among them, the oil that the model infers."""

import math
from collections.abc import Sequence
from statistics import fmean

from calc.answering.answer import Axis, Caution, Curve, Plot, Table, Working
from calc.answering.uncertainty import COVERAGE
from calc.forms.cautions import hanging_mass, opened, spill
from calc.forms.drop_test.inputs import Asked, LoadedRun, Run, ShutAir
from calc.forms.oil_warm import oil_cautions
from calc.forms.piston import grade_holding, oil_at, piston_cautions
from calc.language import later, tr
from calc.physics import drop, sample
from calc.physics.coverage import coverage_factor
from calc.physics.failure import PhysicsError
from calc.replying.inputs import Problem
from calc.units import NBSP, STANDARD_GRAVITY, spelt

_LAG = 0.02  # share of the distance that the start from rest may cost
_MODEL = later(
    "The oil worked out from the test is only as good as the piston model: use it "
    "to compare dampers, not to judge a bottle."
)


def times(rows: Sequence[Run]) -> list[float]:
    return [row.time for row in rows]


def mean_time(asked: Asked, rows: Sequence[Run]) -> tuple[float, float]:
    """Of the runs, s, and its standard uncertainty: by their scatter, and no less than by the hand,
    however alike they are."""
    mean = sample.mean(times(rows))
    scatter = widened(mean.error, mean.count - 1)
    return mean.value, max(scatter, math.hypot(*hands(asked, rows)) / len(rows))


def hands(asked: Asked, rows: Sequence[Run]) -> list[float]:
    """What the hand at the watch leaves open of the time of each run, s; none where its owner says
    with ± how well it was timed."""
    return [0.0 if asked.u[row.at(Run.time)] else drop.HAND for row in rows]


def hung(asked: Asked) -> str:
    """How the runs were made, for the record of a damper: "50 g over 18 mm"."""
    return tr(
        "{mass} over {distance}",
        mass=asked.typed(asked.mass, "mass"), distance=asked.typed(asked.distance, "length"),
    )  # fmt: skip


def odd_keys(rows: Sequence[Run]) -> set[str]:
    """Runs whose time lies far from the others' with the same mass."""
    masses = [row.mass if isinstance(row, LoadedRun) else 0.0 for row in rows]
    found = set()
    for mass in set(masses):
        alike = [row for row, its in zip(rows, masses, strict=True) if its == mass]
        if len(alike) > 1:
            places = sample.outliers(times(alike))
            found |= {alike[place].key for place in places}
    return found


def odd_cautions(asked: Asked, rows: Sequence[Run], of: str = "") -> list[Caution]:
    """A word about every run that lies far from the others; none is left out of the answer."""
    far = odd_keys(rows)
    return [
        Caution(
            text := tr(
                "{run} ({time}) lies far from the others. It is still counted: think about what "
                "went wrong, and time one more.",
                run=f"{of}{row.label}",
                time=asked.say(row.time, "time", 2),
            ),
            finding=text,
        )
        for row in rows
        if row.key in far
    ]


def inferred(asked: Asked, force: float, speed: float) -> float:
    """The grade, m2/s at 25 C, that the piston model needs for a damping force at a speed.

    Raises PhysicsError where no oil explains it, Problem where the piston cannot be.
    """
    return grade_holding(asked, asked.made(), force * asked.piston_law, speed, "rebound")


def explained(asked: Asked, force: float, speed: float) -> bool:
    """Whether the piston model knows an oil for it at all."""
    try:
        inferred(asked, force, speed)
    except (PhysicsError, Problem):
        return False
    return True


def cautions(asked: Asked, force: float, speed: float, mass: float) -> list[Caution]:
    """What every drop test warns of."""
    found = oil_cautions(asked, [asked.oil], [asked.warm])
    if not explained(asked, force, speed):
        text = tr(
            "No oil explains these times with the piston entered: look at holes, mass and times."
        )
        found.append(Caution(text, finding=text))
    else:
        warm = oil_at(asked, inferred(asked, force, speed))
        found += piston_cautions(asked, asked.made(), warm, speed)
    lag = drop.run_up(mass, force / speed)
    if lag > _LAG * asked.distance:
        found.append(
            Caution(
                tr(
                    "The mass needs a run-up: it lags {lag} behind one that is at full speed from "
                    "the start. Start the watch further down, by a few times that distance, or "
                    "hang a lighter mass.",
                    lag=asked.say(lag, "length"),
                )
            )
        )
    at_the_cap = spill() if asked.cap == "shut" else opened()
    return [*found, Caution(tr(_MODEL)), hanging_mass(), at_the_cap]


def table(asked: Asked, sets: Sequence[tuple[str, Sequence[Run], Sequence[float]]]) -> Table:
    """Every run: (label of its set, rows, pull on each in N)."""
    lines: list[tuple[str, ...]] = []
    for label, rows, pulls in sets:
        far = odd_keys(rows)
        for row, pull in zip(rows, pulls, strict=True):
            lines.append(
                (
                    f"{label}{NBSP}{row.key}",
                    asked.bare(row.time, "time", 2),
                    asked.bare(asked.distance / row.time, "speed", 1),
                    asked.bare(pull * row.time / asked.distance, "damping"),
                    tr("far off") if row.key in far else "",
                )
            )
    heads: tuple[str, ...] = (
        tr("Run"), tr("Time s"), tr("Speed {unit}", unit=asked.symbol("speed")),
        tr("Force over speed {unit}", unit=asked.symbol("damping")), "",
    )  # fmt: skip
    if not any(line[-1] for line in lines):  # nothing to remark, no room for it
        heads, lines = heads[:-1], [line[:-1] for line in lines]
    return Table(tr("The runs"), heads, tuple(lines))


def runs_plot(asked: Asked, sets: Sequence[tuple[str, Sequence[float]]]) -> Plot:
    """The time of each run in order, with the mean of each set."""
    curves = []
    for label, readings in sets:
        points = tuple((float(n), time) for n, time in enumerate(readings, 1))
        middle = sample.mean(readings).value
        ends = ((1.0, middle), (float(len(readings)), middle))
        mean = tr("mean") if len(sets) == 1 else tr("mean {side}", side=label)
        curves += [Curve(label, points, "points"), Curve(mean, ends, "limit")]
    spans = "; ".join(_span(asked, label, readings) for label, readings in sets)
    return Plot(
        tr("Time of each run"),
        Axis(tr("Run"), "count"),
        Axis(tr("Time"), "time"),
        tuple(curves),
        (),
        tr(
            "Shortest to longest: {spans}. A trend from run to run would say that the oil is "
            "warming up or the seal is getting wet.",
            spans=spans,
        ),
    )


def _span(asked: Asked, label: str, readings: Sequence[float]) -> str:
    """The shortest and the longest time of a set."""
    low, high = (asked.say(time, "time", 2) for time in (min(readings), max(readings)))
    return tr("{label} {low} to {high}", label=label, low=low, high=high)


def hanging(asked: Asked, mass: float) -> float:
    """The mass, kg, that pulls as hard as this one does with shaft, piston and air. Raises
    Problem."""
    if asked.locks:
        raise Problem(
            asked.air.at(ShutAir.gas),
            tr(
                "Trapped air: with so little the shaft locks before the end of its stroke; "
                "loosen the cap for this test."
            ),
        )
    return mass + asked.moving + asked.air_force / STANDARD_GRAVITY


def widened(error: float, spare: float) -> float:
    """A standard error so widened that twice it holds 95 of 100, however few readings it is from;
    `spare`: readings less what was fitted to them, its degrees of freedom (JCGM 100:2008, G.3)."""
    return error * coverage_factor(spare) / COVERAGE


def pull_of(asked: Asked) -> float:
    """What pulls: the mass, shaft and piston, the air, less friction, N. Raises Problem where
    nothing drops."""
    pull = hanging(asked, asked.mass) * STANDARD_GRAVITY - asked.friction
    if pull <= 0:
        raise Problem(
            Asked.friction,
            tr("Seal drag: it would hold the mass, and nothing would move."),
        )
    return pull


def spread(asked: Asked, rows: Sequence[Run], mean: sample.Mean) -> float:
    """Standard uncertainty of their `mean` damping by the times of these runs, N s/m."""
    time, u = mean_time(asked, rows)
    return u / time * mean.value


def damping_of(asked: Asked, rows: Sequence[Run], scatter: float) -> float:
    """Damping coefficient from these runs, N s/m, off by their scatter."""
    return pull_of(asked) * fmean(times(rows)) / asked.distance + scatter


def mean_damping(asked: Asked, rows: Sequence[Run]) -> sample.Mean:
    """Mean damping coefficient of these runs and its standard error. Raises Problem."""
    pull_of(asked)
    return drop.damping_coefficient(
        hanging(asked, asked.mass), asked.distance, times(rows), asked.friction
    )


def working(asked: Asked, rows: Sequence[Run], mean: sample.Mean) -> tuple[Working, ...]:
    """How the damping and its standard error come out of these runs."""
    say = asked.say
    return (
        Working(
            tr("damping = (mass × g − friction) × mean time / distance; shaft and piston pull too"),
            f"({say(hanging(asked, asked.mass), 'mass')} × {spelt('9.807')} m/s² − "
            f"{say(asked.friction, 'force')}) × "
            f"{say(sample.mean(times(rows)).value, 'time', 3)} / "
            f"{say(asked.distance, 'length')} = {say(mean.value, 'damping')}",
            tr("a steady speed: the damping force is the pull"),
        ),
        Working(
            tr("standard error = scatter / √n"),
            tr("{count} runs: {error}", count=mean.count, error=say(mean.error, "damping", 3)),
            "JCGM 100:2008, 4.2",
        ),
    )
