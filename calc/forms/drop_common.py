"""What all drop tests share: the runs, the odd ones among them, the oil that the model infers."""

from collections.abc import Mapping, Sequence

from calc.answer import Axis, Caution, Curve, Plot, Quantity, Table, Working
from calc.entry import Number, Rows, When
from calc.form import Given, Problem, Row
from calc.forms.oil_warm import law_doubt, oil_cautions, within
from calc.forms.piston import DOUBTS, piston_cautions, piston_from
from calc.forms.shared import spill, with_inputs
from calc.physics import drop, oil, sample
from calc.physics.damper import viscosity_for
from calc.uncertainty import Doubted
from calc.units import NBSP, STANDARD_GRAVITY, decimals_for

MOST = 12
_ROWS = tuple((str(n), f"Run {n}") for n in range(1, MOST + 1))
_LAG = 0.02  # share of the distance that the start from rest may cost
_MODEL = Caution(
    "The inferred oil carries the doubt of the piston model: it serves to compare dampers, not to "
    "judge a bottle."
)
_HOLD = Caution(
    "Hold the damper upright and fixed, and catch the mass: it must not fall on a foot or a hand."
)


def mass_column(**more: object) -> Number:
    return Number(
        "Mass that hangs", "mass", (0.01, 0.3), (0.0005, 10),
        "All that pulls: the mass, its hook and the rod end.",
        name="mass", tool="scale", **more,  # type: ignore[arg-type]
    )  # fmt: skip


def time_column() -> Number:
    return Number(
        "Time", "time", (0.5, 30), (0.02, 3600),
        "From one mark to the other; start the watch after the shaft has begun to move.",
        name="time",
    )  # fmt: skip


def run_rows(label: str, name: str, starts: Sequence[float], when: When) -> Rows:
    """Timed runs, all with one mass."""
    return Rows(
        label, (time_column(),), _ROWS, name=name, least=2,
        starts=tuple((time,) for time in starts), when=when,
    )  # fmt: skip


def loaded_rows(name: str, starts: Sequence[tuple[float, float]], when: When) -> Rows:
    """Timed runs, each with the mass that hung."""
    return Rows(
        "Timed runs, with two masses or more", (mass_column(), time_column()), _ROWS,
        name=name, least=3, starts=tuple(starts), when=when,
    )  # fmt: skip


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
            f"{of}{row.label} ({given.say(row.time, 'time', 2)}) lies far from the others. It is "
            "still counted: think what went wrong, and time one more."
        )
        for row in rows
        if row.key in far
    ]


def with_model(given: Given) -> Given:
    """The entries joined by the doubts of the piston model and of the temperature law."""
    return with_inputs(given, {**DOUBTS, "law_now": law_doubt(given.warm)})


def inferred(given: Given, force: float, speed: float) -> float:
    """The grade, m2/s at 25 C, that the piston model needs for a damping force at a speed.

    Raises ValueError where no oil explains it.
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
    except ValueError:
        return False
    return True


def cautions(given: Given, force: float, speed: float, mass: float) -> list[Caution]:
    """What every drop test warns of."""
    found = oil_cautions(given, [given.oil], [given.warm])
    if not explained(given, force, speed):
        found.append(
            Caution(
                "No oil explains this drop with the piston entered: look at holes, mass and times."
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
                f"The mass needs a run-up: it lags {given.say(lag, 'length')} behind one that is "
                "at full speed from the start. Start the watch a few times that further down, or "
                "hang a lighter mass."
            )
        )
    return [*found, _MODEL, _HOLD, spill()]


def table(given: Given, sets: Sequence[tuple[str, Sequence[Row], Sequence[float]]]) -> Table:
    """Every run: (label of its set, rows, pull on each in N)."""
    lines = []
    for label, rows, pulls in sets:
        far = odd_keys(rows)
        for row, pull in zip(rows, pulls, strict=True):
            lines.append(
                (
                    f"{label}{NBSP}{row.key}",
                    given.bare(row.time, "time", 2),
                    given.bare(given.distance / row.time, "speed", 1),
                    given.bare(pull * row.time / given.distance, "damping"),
                    "far off" if row.key in far else "",
                )
            )
    heads = (
        "Run", "Time s", f"Speed {given.symbol('speed')}",
        f"Force over speed {given.symbol('damping')}", "",
    )  # fmt: skip
    return Table("The runs", heads, tuple(lines))


def runs_plot(given: Given, sets: Sequence[tuple[str, Sequence[float]]]) -> Plot:
    """The time of each run in order, with the mean of each set."""
    curves = []
    for (label, readings), style in zip(sets, ("main", "second"), strict=False):
        points = tuple((float(n), time) for n, time in enumerate(readings, 1))
        middle = sample.mean(readings).value
        ends = ((1.0, middle), (float(len(readings)), middle))
        mean = "mean" if len(sets) == 1 else f"mean {label}"
        curves += [Curve(label, points, style), Curve(mean, ends, "limit")]
    says = "; ".join(
        f"{label}: {given.say(min(readings), 'time', 2)} to {given.say(max(readings), 'time', 2)}"
        for label, readings in sets
    )
    return Plot(
        "Time of each run", Axis("Run", "count"), Axis("Time", "time"), tuple(curves), (),
        f"{says}. A trend from run to run would say that the oil warms or the seal wets.",
    )  # fmt: skip


def quantities(
    given: Given, doubted: Mapping[str, Doubted], labels: Mapping[str, tuple[str, str]]
) -> tuple[Quantity, ...]:
    """The figures that there are, in the order of their labels: name -> (label, kind)."""
    return tuple(
        given.quantity(name, says, kind, doubted[name])
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
            "friction", "Friction of the seal: it would hold the mass, and nothing would drop."
        )
    return pull


def damping_of(given: Given, name: str) -> float:
    """Damping coefficient from the runs of that name, N s/m, with their scatter as an input."""
    mean = sample.mean(times(given, name)).value
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
    scatter = {
        f"{name}_scatter": (0.0, mean.error, "scatter of the runs") for name, mean in means.items()
    }
    return with_inputs(with_model(given), scatter), means


def working(given: Given, name: str, mean: sample.Mean) -> tuple[Working, ...]:
    """How the damping and its standard error come out of the runs of that name."""
    say = given.say
    return (
        Working(
            "damping = (mass × g − friction) × mean time / distance",
            f"({say(given.mass, 'mass')} × 9.807 m/s² − {say(given.friction, 'force')}) × "
            f"{say(sample.mean(times(given, name)).value, 'time', 3)} / "
            f"{say(given.distance, 'length')} = {say(mean.value, 'damping')}",
            "a steady speed: the damping force is the pull",
        ),
        Working(
            "standard error = scatter / √n",
            f"{mean.count} runs: {say(mean.error, 'damping', 3)}",
            "JCGM 100:2008, 4.2",
        ),
    )
