"""What all drop tests share: the runs, the odd ones among them, the oil that the model infers."""

from collections.abc import Mapping, Sequence
from statistics import fmean

from calc.answering.answer import Axis, Caution, Curve, Plot, Quantity, Table, Working
from calc.answering.uncertainty import Doubted
from calc.forms.cautions import spill
from calc.forms.common.oil_warm import law_doubt, oil_cautions, within
from calc.forms.common.piston import DOUBTS, piston_cautions, piston_from
from calc.forms.inputs import with_inputs
from calc.language import later, tr
from calc.physics import drop, oil, sample
from calc.physics.damper import viscosity_for
from calc.physics.failure import PhysicsError
from calc.replying.form import Given, Problem, Row
from calc.units import NBSP, STANDARD_GRAVITY, decimals_for, spelt

SCATTER = later("scatter of the runs")
_LAG = 0.02  # share of the distance that the start from rest may cost
_MODEL = later(
    "The inferred oil carries the doubt of the piston model: it serves to compare dampers, not to "
    "judge a bottle."
)
_HOLD = later(
    "Hold the damper upright and fixed, and catch the mass: it must not fall on a foot or a hand."
)


def times(given: Given, name: str) -> list[float]:
    return [row.time for row in given.rows(name)]


def odd_keys(rows: Sequence[Row]) -> set[str]:
    """Runs whose time lies far from the others' with the same mass."""
    found = set()
    for mass in {row.maybe("mass") for row in rows}:
        alike = [row for row in rows if row.maybe("mass") == mass]
        if len(alike) > 1:
            places = sample.odd_readings([row.time for row in alike])
            found |= {alike[place].key for place in places}
    return found


def odd_cautions(given: Given, rows: Sequence[Row], of: str = "") -> list[Caution]:
    """A word about every run that lies far from the others; none is left out of the answer."""
    far = odd_keys(rows)
    return [
        Caution(
            tr(
                "{run} ({time}) lies far from the others. It is still counted: think what went "
                "wrong, and time one more.",
                run=f"{of}{row.label}",
                time=given.say(row.time, "time", 2),
            )
        )
        for row in rows
        if row.key in far
    ]


def with_model(given: Given) -> Given:
    """The entries joined by the doubts of the piston model and of the temperature law."""
    return with_inputs(given, {**DOUBTS, "law_now": law_doubt(given.warm)})


def inferred(given: Given, force: float, speed: float) -> float:
    """The grade, m2/s at 25 C, that the piston model needs for a damping force at a speed.

    Raises PhysicsError where no oil explains it, Problem where the piston cannot be.
    """
    warm = within(given.warm)
    density = oil.density(given.oil, warm)
    piston = piston_from(given)
    viscosity = viscosity_for(force * given.piston_law, piston, speed, density, "rebound")
    return oil.viscosity_25_from(viscosity / given.law_now, warm)


def explained(given: Given, force: float, speed: float) -> bool:
    """Whether the piston model knows an oil for it at all."""
    try:
        inferred(given, force, speed)
    except (PhysicsError, Problem):
        return False
    return True


def cautions(given: Given, force: float, speed: float, mass: float) -> list[Caution]:
    """What every drop test warns of."""
    found = oil_cautions(given, [given.oil], [given.warm])
    if not explained(given, force, speed):
        found.append(
            Caution(
                tr(
                    "No oil explains this drop with the piston entered: look at holes, mass and "
                    "times."
                )
            )
        )
    else:
        warm = within(given.warm)
        grade = inferred(given, force, speed)
        liquid = oil.viscosity_at(grade, warm), oil.density(grade, warm)
        found += piston_cautions(given, piston_from(given), liquid, speed)
    lag = drop.run_up(mass, force / speed)
    if lag > _LAG * given.distance:
        found.append(
            Caution(
                tr(
                    "The mass needs a run-up: it lags {lag} behind one that is at full speed from "
                    "the start. Start the watch a few times that further down, or hang a lighter "
                    "mass.",
                    lag=given.say(lag, "length"),
                )
            )
        )
    return [*found, Caution(tr(_MODEL)), Caution(tr(_HOLD)), spill()]


def table(given: Given, sets: Sequence[tuple[str, Sequence[Row], Sequence[float]]]) -> Table:
    """Every run: (label of its set, rows, pull on each in N)."""
    lines: list[tuple[str, ...]] = []
    for label, rows, pulls in sets:
        far = odd_keys(rows)
        for row, pull in zip(rows, pulls, strict=True):
            lines.append(
                (
                    f"{label}{NBSP}{row.key}",
                    given.bare(row.time, "time", 2),
                    given.bare(given.distance / row.time, "speed", 1),
                    given.bare(pull * row.time / given.distance, "damping"),
                    tr("far off") if row.key in far else "",
                )
            )
    heads: tuple[str, ...] = (
        tr("Run"), tr("Time s"), tr("Speed {unit}", unit=given.symbol("speed")),
        tr("Force over speed {unit}", unit=given.symbol("damping")), "",
    )  # fmt: skip
    if not any(line[-1] for line in lines):  # nothing to remark, no room for it
        heads, lines = heads[:-1], [line[:-1] for line in lines]
    return Table(tr("The runs"), heads, tuple(lines))


def runs_plot(given: Given, sets: Sequence[tuple[str, Sequence[float]]]) -> Plot:
    """The time of each run in order, with the mean of each set."""
    curves = []
    for (label, readings), style in zip(sets, ("main", "second"), strict=False):
        points = tuple((float(n), time) for n, time in enumerate(readings, 1))
        middle = sample.mean(readings).value
        ends = ((1.0, middle), (float(len(readings)), middle))
        mean = tr("mean") if len(sets) == 1 else tr("mean {side}", side=label)
        curves += [Curve(label, points, style), Curve(mean, ends, "limit")]
    spans = "; ".join(_span(given, label, readings) for label, readings in sets)
    return Plot(
        tr("Time of each run"),
        Axis(tr("Run"), "count"),
        Axis(tr("Time"), "time"),
        tuple(curves),
        (),
        tr(
            "{spans}. A trend from run to run would say that the oil warms or the seal wets.",
            spans=spans,
        ),
    )


def _span(given: Given, label: str, readings: Sequence[float]) -> str:
    """The shortest and the longest time of a set."""
    low, high = (given.say(time, "time", 2) for time in (min(readings), max(readings)))
    return tr("{label}: {low} to {high}", label=label, low=low, high=high)


def quantities(
    given: Given, doubted: Mapping[str, Doubted], labels: Mapping[str, tuple[str, str]]
) -> tuple[Quantity, ...]:
    """The figures that there are, in the order of their labels: name -> (label, kind)."""
    return tuple(
        given.quantity(name, tr(says), kind, doubted[name])
        for name, (says, kind) in labels.items()
        if name in doubted
    )


def rough(given: Given, value: float, kind: str, u: float) -> str:
    """A value with no more digits than its doubt leaves."""
    return given.say(value, kind, decimals_for(u, kind, given.system))


def pull_of(given: Given) -> float:
    """Weight of the one mass less friction, N. Raises Problem where nothing drops."""
    pull = given.mass * STANDARD_GRAVITY - given.friction
    if pull <= 0:
        raise Problem(
            "friction",
            tr("Friction of the seal: it would hold the mass, and nothing would drop."),
        )
    return pull


def damping_of(given: Given, name: str) -> float:
    """Damping coefficient from the runs of that name, N s/m, with their scatter as an input."""
    mean = fmean(times(given, name))
    return pull_of(given) * mean / given.distance + given.numbers[f"{name}_scatter"]


def with_scatter(given: Given, *names: str) -> tuple[Given, dict[str, sample.Mean]]:
    """The entries joined by the scatter of each set of runs, and the mean damping of each."""
    pull_of(given)
    means = {
        name: drop.damping_coefficient(
            given.mass, given.distance, times(given, name), given.friction
        )
        for name in names
    }
    scatter = {f"{name}_scatter": (0.0, mean.error, SCATTER) for name, mean in means.items()}
    return with_inputs(with_model(given), scatter), means


def working(given: Given, name: str, mean: sample.Mean) -> tuple[Working, ...]:
    """How the damping and its standard error come out of the runs of that name."""
    say = given.say
    return (
        Working(
            tr("damping = (mass × g − friction) × mean time / distance"),
            f"({say(given.mass, 'mass')} × {spelt('9.807')} m/s² − "
            f"{say(given.friction, 'force')}) × "
            f"{say(sample.mean(times(given, name)).value, 'time', 3)} / "
            f"{say(given.distance, 'length')} = {say(mean.value, 'damping')}",
            tr("a steady speed: the damping force is the pull"),
        ),
        Working(
            tr("standard error = scatter / √n"),
            tr("{count} runs: {error}", count=mean.count, error=say(mean.error, "damping", 3)),
            "JCGM 100:2008, 4.2",
        ),
    )
