"""Forms against a second way to their figures, by general solvers over random inputs: least energy
where a spring carries a wheel, roots of the oil's own law, integer programmes for choices. What
other forms are held against stands in their own tests: `tests/reference/SOURCES.md` lists all."""

import math
from functools import partial
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants, integrate, optimize, stats

from calc.forms.evening_oil.form import FORM as EVENING
from calc.forms.hotter.form import FORM as HOTTER
from calc.forms.length_travel.form import FORM as LENGTH
from calc.forms.oil_blend.form import FORM as BLEND
from calc.forms.oil_temperature.form import FORM as TEMPERATURE
from calc.forms.pairing.form import FORM as PAIRING
from calc.forms.spring_preload.form import FORM as PRELOAD
from calc.forms.spring_seats.form import FORM as SEATS
from calc.forms.stroke.form import FORM as STROKE
from calc.model.car import Car
from calc.model.corners import CORNERS
from calc.physics import oil
from tests.forms.asking import UNDRAWN, answered, noted, value, values
from tests.integer import chosen

FEW = settings(max_examples=10, deadline=None)
ONE, ALL = UNDRAWN.front, UNDRAWN.corners  # motion ratio, pitch, weight of the wheel, stroke


def sunk(load: float, rate: float, preload: float) -> float:
    """Rise of the wheel from full droop, m, under a load, kg on the scale, by the least energy of
    spring and weight (`scipy.optimize.minimize_scalar`)."""
    weight, ratio = (load - ONE.unsprung) * constants.g, ONE.motion_ratio

    def energy(rise: float) -> float:
        return 0.5 * rate * max(0.0, preload + ratio * rise) ** 2 - weight * rise

    most = ONE.stroke / ratio
    return float(
        optimize.minimize_scalar(
            energy, bounds=(0.0, most), method="bounded", options={"xatol": 1e-12}
        ).x
    )


@FEW
@given(load=st.floats(0.3, 0.45), rate=st.floats(500, 900), length=st.floats(36e-3, 39.5e-3),
       wanted=st.floats(20, 35))  # fmt: skip
def test_sag_and_its_turns_are_those_of_the_least_energy(
    load: float, rate: float, length: float, wanted: float
) -> None:
    free, ratio = 40e-3, ONE.motion_ratio
    answer = answered(
        PRELOAD, UNDRAWN, load_left=f"{load * 1e3:.6f}", load_right=f"{load * 1e3:.6f}",
        spring_rate=f"{rate / 1e3:.9f}", droop_length=f"{length * 1e3:.9f}",
        wanted_sag=f"{wanted:.6f}",
    )  # fmt: skip
    sag = sunk(load, rate, free - length)
    assert value(answer, "sag") == pytest.approx(sag, abs=1e-7)
    share = wanted / 100 * ONE.stroke / ratio
    preload = optimize.brentq(lambda p: sunk(load, rate, p) - share, -0.02, 0.02, xtol=1e-10)
    turns = (preload - (free - length)) / ONE.pitch
    assert value(answer, "turns") == pytest.approx(turns, abs=1e-3)
    mass = load - ONE.unsprung
    motion = np.array([[0.0, 1.0], [-rate * ratio**2 / mass, 0.0]])
    swing = abs(np.linalg.eigvals(motion)[0]) / math.tau
    assert value(answer, "ride_frequency") == pytest.approx(swing, rel=1e-6)


@FEW
@given(now=st.floats(10, 14), wanted=st.floats(10, 14), up=st.floats(-2.0, 2.0))
def test_seats_move_the_car_to_its_least_energy(now: float, wanted: float, up: float) -> None:
    """The collar moved as the gap shows; the rise of the car is how far the wheel then stands
    off where it stood."""
    load, rate, free = (ALL.front_left.load + ALL.front_right.load) / 2, ONE.spring_rate, 40e-3
    stood = sunk(load, rate, free - ONE.droop_length)
    gap = {"gap_left": f"{now:.6f}", "gap_right": f"{now:.6f}"}
    answer = answered(SEATS, UNDRAWN, **gap, wanted_gap=f"{wanted:.6f}")
    set_to = noted(answer).get("front.droop_length", ONE.droop_length)
    moved = stood - sunk(load, rate, free - set_to)
    if noted(answer):
        assert abs(ONE.droop_length - set_to - (wanted - now) * 1e-3) <= ONE.pitch / 8 + 1e-9
        assert value(answer, "rise") == pytest.approx(moved, abs=1e-6)
    higher = answered(SEATS, UNDRAWN, **gap, aim="height", ride_height="22",
                      wanted_height=f"{22 + up:.6f}")  # fmt: skip
    preload = optimize.brentq(
        lambda p: stood - sunk(load, rate, p) - up * 1e-3, 0.0, 0.02, xtol=1e-10
    )
    turns = (preload - (free - ONE.droop_length)) / ONE.pitch
    assert value(higher, "left_turns") == pytest.approx(turns, abs=1e-3)


@FEW
@given(rates=st.lists(st.integers(500, 900), min_size=4, max_size=8, unique=True), data=st.data())
def test_pairs_of_springs_are_those_of_an_integer_programme(
    rates: list[int], data: st.DataObject
) -> None:
    """The worst pair is as near as an integer programme finds it, and each softer spring stands
    lower by as much as the least energy says."""
    count = data.draw(st.integers(1, len(rates) // 2))
    typed = {f"springs__{n}__{name}": "" for n in range(1, 9) for name in ("rate", "free")}
    for n, rate in enumerate(rates, 1):
        typed |= {f"springs__{n}__rate": f"{rate / 1e3}", f"springs__{n}__free": "40"}
    answer = answered(PAIRING, UNDRAWN, pairs=str(count), **typed)
    found = values(answer)
    edges = list(combinations(rates, 2))
    gaps = [abs(math.log(a / b)) for a, b in edges]
    once = [[float(rate in edge) for edge in edges] + [0.0] for rate in rates]
    below = [[gap * (i == n) for i in range(len(edges))] + [-1.0] for n, gap in enumerate(gaps)]
    many = [1.0] * len(edges) + [0.0]
    worst = chosen(
        [0.0] * len(edges) + [1.0], [*once, *below, many],
        [-np.inf] * (len(once) + len(below)) + [count],
        [1.0] * len(once) + [0.0] * len(below) + [count], [1] * len(edges) + [0],
    )  # fmt: skip
    assert worst is not None
    ours = max(math.log1p(found[f"{n}_apart"]) for n in range(1, count + 1))
    assert ours == pytest.approx(worst[0], abs=1e-6)
    load = (ALL.front_left.load + ALL.front_right.load) / 2
    stand = {rate: sunk(load, float(rate), 40e-3 - ONE.droop_length) for rate in rates}
    lower = {round(abs(stand[a] - stand[b]) * 1e6, 1) for a, b in edges}
    for n in range(1, count + 1):
        assert min(abs(found[f"{n}_lower"] * 1e6 - one) for one in lower) < 0.2


@FEW
@given(strokes=st.lists(st.floats(20, 25), min_size=4, max_size=4), wanted=st.floats(21, 24),
       pitch=st.sampled_from([0.4, 0.5, 0.7]))  # fmt: skip
def test_every_rod_end_is_turned_to_the_nearest_quarter_of_all(
    strokes: list[float], wanted: float, pitch: float
) -> None:
    """Every number of quarter turns within a hundred is tried in numpy."""
    typed = {"pitch": f"{pitch}", "turn_step": "1/4"}
    for key, stroke in zip(CORNERS, strokes, strict=True):
        typed |= {f"damper.{key}.stroke": f"{stroke:.6f}", f"damper.{key}.engaged": "30"}
        typed[f"damper.{key}.wanted"] = f"{wanted:.6f}"
    found = values(answered(STROKE, UNDRAWN, **typed))
    tried = np.array(strokes)[:, None] + np.arange(-100, 101) / 4 * pitch
    best = np.abs(tried - wanted).min(axis=1)
    off = [abs(found[f"{key}_stroke"] * 1e3 - wanted) for key in CORNERS]
    assert off == pytest.approx(best.tolist(), abs=1e-5)


@FEW
@given(droop=st.floats(7, 10), less=st.floats(1, 5))
def test_a_spacer_takes_the_droop_that_circles_and_a_root_finder_say(
    droop: float, less: float
) -> None:
    """The demo car's arm as drawn, turned by complex numbers; the ratio of the record is scaled to
    that of the drawing at ride height. The even growth of the form is good to 1 % here."""
    arm = Car().front.arm
    pivot = complex(arm.pivot_out, arm.pivot_up)
    lower, upper, wheel = (
        complex(*place) - pivot
        for place in (
            (arm.lower_out, arm.lower_up), (arm.upper_out, arm.upper_up),
            (arm.wheel_out, arm.wheel_up),
        )
    )  # fmt: skip

    def length(rise: float) -> float:
        angle = optimize.brentq(lambda a: (wheel * np.exp(1j * a) - wheel).imag - rise, -0.8, 0.8)
        return float(abs(lower * np.exp(1j * angle) - upper))

    ratio = (length(-1e-5) - length(1e-5)) / 2e-5
    out = length(-droop * 1e-3) - length((less - droop) * 1e-3)
    answer = answered(
        LENGTH, droop_left=f"{droop:.6f}", droop_right=f"{droop:.6f}",
        wanted_droop=f"{droop - less:.6f}", motion_ratio=f"{ratio:.9f}",
    )  # fmt: skip
    assert value(answer, "under") == pytest.approx(out, rel=0.01)


OILS = st.floats(200, 900)
DAYS = st.floats(-5, 45)


def alike(grade: float, then: float, now: float) -> float:
    """The grade, m2/s, that is as thick at `now` as the other was at `then`, degrees Celsius: the
    oil followed from day to day by its two laws of change (`scipy.integrate.solve_ivp`), then the
    grade whose thickness at 25 C grows to that (`brentq`)."""

    def thickness(viscosity: float, celsius: float) -> float:
        def change(t: float, ln: list[float]) -> list[float]:
            swelling = 9.5e-4 / (1 + 9.5e-4 * (t - 298.15))
            return [-763.1 * math.log(10) / t**2 - swelling]

        begun = [math.log(viscosity * oil.density(viscosity))]
        run = integrate.solve_ivp(change, (298.15, 273.15 + celsius), begun, rtol=1e-9, atol=1e-12)
        return float(run.y[0, -1])

    right = thickness(grade, then)
    return float(optimize.brentq(lambda at: thickness(at, now) - right, 1e-6, 0.1, rtol=1e-8))


@FEW
@given(grade=OILS, then=DAYS, now=DAYS)
def test_the_oil_for_another_day_is_followed_degree_by_degree(
    grade: float, then: float, now: float
) -> None:
    wanted = alike(grade * 1e-6, then, now)
    typed = {"oil": f"{grade:.6f}", "worked_at": f"{then:.6f}", "now": f"{now:.6f}"}
    assert value(answered(TEMPERATURE, **typed), "wanted") == pytest.approx(wanted, rel=1e-5)
    both = answered(
        HOTTER, front_at=typed["worked_at"], rear_at=typed["worked_at"], now=typed["now"],
        front_oil=typed["oil"], rear_oil="400",
    )  # fmt: skip
    assert value(both, "front_wanted") == pytest.approx(wanted, rel=1e-5)
    assert value(both, "rear_wanted") == pytest.approx(alike(400e-6, then, now), rel=1e-5)


def law_band(parts: dict[float, float]) -> tuple[float, float, float]:
    """Of volumes by viscosity in cSt: geometric mean, and the least and the highest of the laws;
    two are means that `scipy.stats` knows (chains of molecules have the power 2/3, from memory),
    the third is straight on double-logarithmic paper."""
    oils, shares = list(parts), list(parts.values())
    middle = float(stats.gmean(oils, weights=shares))
    paper = np.average(np.log(np.log(np.array(oils) + 0.7)), weights=shares)
    laws = middle, float(stats.pmean(oils, 2 / 3, weights=shares)), math.exp(math.exp(paper)) - 0.7
    return middle, min(laws), max(laws)


@FEW
@given(thin=st.integers(150, 350), more=st.floats(1.4, 3.0), at=st.floats(0.1, 0.9))
def test_a_blend_is_the_mean_that_scipy_knows(thin: int, more: float, at: float) -> None:
    thick = round(thin * more)
    target = float(optimize.brentq(
        lambda nu: math.log(nu / thin) / math.log(thick / thin) - at, thin, thick
    ))  # fmt: skip
    answer = answered(BLEND, thin=str(thin), thick=str(thick), target=f"{target:.9f}", amount="20",
                      step="syringe", syringe="0.1")  # fmt: skip
    volumes = {thin: value(answer, "thin_volume"), thick: value(answer, "thick_volume")}
    middle, low, high = law_band(volumes)
    assert value(answer, "viscosity") * 1e6 == pytest.approx(middle, rel=1e-9)
    assert value(answer, "law_low") * 1e6 == pytest.approx(low, rel=1e-9)
    assert value(answer, "law_high") * 1e6 == pytest.approx(high, rel=1e-9)
    share = optimize.brentq(
        lambda x: float(stats.gmean([thin, thick], weights=[1 - x, x])) - target, 0.0, 1.0
    )
    assert value(answer, "share") == pytest.approx(share, abs=1e-6)


BOTTLES = ((200.0, 60.0), (350.0, 6.0), (800.0, 60.0))
pour = partial(answered, EVENING, syringe="0.5", bottles__4__viscosity="", bottles__4__left="",
               bottles__5__viscosity="", bottles__5__left="")  # fmt: skip


@settings(max_examples=3, deadline=None)
@given(front=st.integers(250, 420), rear=st.integers(430, 700))
def test_two_oils_of_an_evening_are_those_of_an_integer_programme(front: int, rear: int) -> None:
    """Half millilitres out of three bottles, one of them nearly empty: the expected miss of both
    batches together is the least (the log law's, and that of a band anywhere in which the truth
    is as likely; JCGM 100:2008, 4.3.7)."""
    typed = {
        f"bottles__{n}__{name}": f"{number:g}"
        for n, bottle in enumerate(BOTTLES, 1)
        for name, number in zip(("viscosity", "left"), bottle, strict=True)
    }
    answer = pour(end__front__target=str(front), end__rear__target=str(rear), **typed)
    filled = [2 * end.inside.held * 1e6 * 1.15 + 5.0 for end in (UNDRAWN.front, UNDRAWN.rear)]
    made: list[tuple[int, dict[int, int]]] = []
    cost, oils = [], []
    for batch, (target, volume) in enumerate(zip((front, rear), filled, strict=True)):
        steps = math.ceil(volume / 0.5 - 1e-9)
        for one, other in combinations(range(3), 2):
            for count in range(steps + 1):
                taken = {one: steps - count, other: count}
                parts = {BOTTLES[at][0]: float(n) for at, n in taken.items() if n}
                middle, low, high = law_band(parts)
                made.append((batch, taken))
                oils.append(middle)
                cost.append(math.log(middle / target) ** 2 + math.log(high / low) ** 2 / 12)
    one_each = [[float(at == batch) for at, _ in made] for batch in (0, 1)]
    drawn = [[taken.get(at, 0) * 0.5 for _, taken in made] for at in range(3)]
    held = [left for _, left in BOTTLES]
    found = chosen(
        cost, one_each + drawn, [1.0, 1.0, 0.0, 0.0, 0.0], [1.0, 1.0, *held], [1] * len(made)
    )
    assert found is not None
    now = noted(answer)
    least = [
        min(
            (c for (at, _), nu, c in zip(made, oils, cost, strict=True)
             if at == batch and math.isclose(nu, now[f"{end}.oil"] * 1e6)),
            default=math.inf,
        )
        for batch, end in enumerate(("front", "rear"))
    ]  # fmt: skip
    assert sum(least) == pytest.approx(found[0], abs=1e-6)
    assert all(answer.poured.get(n, 0.0) <= held[n - 1] * 1e-6 + 1e-12 for n in (1, 2, 3))
