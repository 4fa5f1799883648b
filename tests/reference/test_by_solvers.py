"""Closed forms of the physics against general solvers: what has no printed example is worked out
another way, by integration, root finding, eigenvalues or least energy with `scipy`, `numpy` and
`fluids`, over random inputs."""

import math

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, optimize

from calc.physics import bubbles, chassis, damper, drop, gas, linkage, oil, rebound, ride, warm
from calc.physics.damper import Holes, Piston

G = 9.80665
RATES = st.floats(100.0, 3000.0)
MASSES = st.floats(0.1, 3.0)
GRADES = st.floats(100e-6, 2000e-6)
WARMTHS = st.floats(273.0, 330.0)
SHARES = st.floats(0.05, 0.95)
FEWER = settings(max_examples=30, deadline=None)  # where each is an integration


@FEWER
@given(rate=RATES, mass=MASSES, ratio=st.floats(0.05, 0.9))
def test_a_body_let_go_swings_as_its_equation_of_motion_says(
    rate: float, mass: float, ratio: float
) -> None:
    """m x'' + c x' + k x = 0: eigenvalues for the ratio and the frequency, the first swing past its
    rest by integrating over half a damped period."""
    damping = ride.damping_for_ratio(ratio=ratio, rate=rate, mass=mass)
    matrix = np.array([[0.0, 1.0], [-rate / mass, -damping / mass]])
    root = np.linalg.eigvals(matrix)[0]
    assert ride.damping_ratio(damping=damping, rate=rate, mass=mass) == pytest.approx(
        -root.real / abs(root), rel=1e-9
    )
    assert ride.natural_frequency(rate=rate, mass=mass) == pytest.approx(
        abs(root) / (2 * math.pi), rel=1e-9
    )
    half = math.pi / abs(root.imag)
    path = integrate.solve_ivp(
        lambda _, x: matrix @ x, (0.0, half), [1.0, 0.0], rtol=1e-9, atol=1e-12
    )
    assert ride.overshoot(ratio) == pytest.approx(-path.y[0][-1], rel=1e-5, abs=1e-8)


@FEWER
@given(mass=st.floats(0.02, 0.5), damping=st.floats(5.0, 80.0))
def test_a_drop_from_rest_lags_by_what_integrating_it_says(mass: float, damping: float) -> None:
    """m v' = m g - c v from rest, long enough to be at full speed."""
    full = mass * G / damping
    long = 30 * mass / damping
    path = integrate.solve_ivp(
        lambda _, s: [s[1], G - damping / mass * s[1]], (0.0, long), [0.0, 0.0], rtol=1e-9,
        atol=1e-12,
    )  # fmt: skip
    assert drop.run_up(mass, damping) == pytest.approx(full * long - path.y[0][-1], rel=1e-4)


@given(grade=GRADES, before=WARMTHS, now=WARMTHS)
def test_the_grade_that_feels_alike_is_the_root_of_its_dynamic_viscosity(
    grade: float, before: float, now: float
) -> None:
    mu = fluids.nu_mu_converter(rho=oil.density(grade, before), nu=oil.viscosity_at(grade, before))
    assert warm.dynamic_at(grade, before) == pytest.approx(mu, rel=1e-12)
    back = fluids.nu_mu_converter(rho=900.0, mu=mu)
    assert oil.kinematic_viscosity(mu, 900.0) == pytest.approx(back, rel=1e-12)
    assert oil.dynamic_viscosity(back, 900.0) == pytest.approx(mu, rel=1e-12)
    alike = optimize.brentq(
        lambda at: math.log(oil.viscosity_at(at, now) * oil.density(at, now) / mu), 1e-6, 1.0
    )
    assert warm.same_feel(grade, before, now) == pytest.approx(alike, rel=1e-6)
    cold = oil.viscosity_at(grade, now)
    at_room = optimize.brentq(lambda at: oil.viscosity_at(at, now) - cold, 1e-6, 1.0, xtol=1e-18)
    assert oil.viscosity_25_from(cold, now) == pytest.approx(at_room, rel=1e-6)


@given(thin=st.floats(50e-6, 300e-6), more=st.floats(1.5, 8.0), share=SHARES)
@pytest.mark.parametrize("law", ["log", "double-log", "chain", "refutas"])
def test_a_share_is_the_root_of_its_blending_law(
    law: oil.LawName, thin: float, more: float, share: float
) -> None:
    """Laws as `oil.blend` has them, which printed examples check; the way back by a root finder,
    and what is drawn out of a damper as the volumes balance."""
    thick = thin * more
    target = oil.blend([(1 - share, thin), (share, thick)], law)
    found = optimize.brentq(
        lambda of: oil.blend([(1 - of, thin), (of, thick)], law) / target - 1, 0.0, 1.0, xtol=1e-14
    )
    assert oil.share_of_thick(target, thin, thick, law) == pytest.approx(found, abs=1e-8)
    drawn = optimize.brentq(
        lambda out: oil.blend([(out, thick), (1 - out, thin)], law) / target - 1, 0.0, 1.0,
        xtol=1e-14,
    )  # fmt: skip
    assert oil.exchange(thin, thick, target, law) == pytest.approx(drawn, abs=1e-8)
    low, high = oil.band([(1 - share, thin), (share, thick)])
    assert low <= oil.blend([(1 - share, thin), (share, thick)], "log") <= high


@given(share=SHARES, off=st.floats(-0.3, 0.3), at=SHARES)
def test_one_measured_blend_fixes_a_law_that_goes_through_it(
    share: float, off: float, at: float
) -> None:
    """Three conditions make the parabola of ln nu: both oils and the blend. By `numpy.polyfit`."""
    thin, thick = 100e-6, 1000e-6
    plain = math.exp((1 - share) * math.log(thin) + share * math.log(thick))
    measured = plain * math.exp(off * share * (1 - share))
    term = oil.interaction(share, thin, thick, measured)
    through = np.polyfit([0.0, share, 1.0], np.log([thin, measured, thick]), 2)
    expected = math.exp(np.polyval(through, at))
    assert oil.blend_measured(at, thin, thick, term) == pytest.approx(expected, rel=1e-8)
    back = optimize.brentq(
        lambda of: np.polyval(through, of) - math.log(expected), 0.0, 1.0, xtol=1e-14
    )
    assert oil.share_of_thick_measured(expected, thin, thick, term) == pytest.approx(back, abs=1e-7)


@given(diameter=st.floats(30e-6, 300e-6), vacuum=st.floats(10e3, 90e3), height=st.floats(0.01, 0.1))
def test_bubbles_rise_and_grow_as_the_library_and_the_gas_law_say(
    diameter: float, vacuum: float, height: float
) -> None:
    """Solid spheres by `fluids.v_terminal`, which solves the drag balance; the clean bubble's 1.5
    is Hadamard and Rybczynski 1911 (from memory). Growth: the root of p V = const."""
    viscosity, density = 350e-6, 970.0
    speed = fluids.v_terminal(
        D=diameter, rhop=bubbles.AIR, rho=density, mu=viscosity * density, Method="Stokes"
    )
    longest, shortest = bubbles.rise_times(height, diameter, viscosity, density)
    assert longest == pytest.approx(height / abs(speed), rel=1e-4)
    assert shortest == pytest.approx(longest / 1.5)
    cleared = bubbles.cleared_diameter(height, longest, viscosity, density)
    assert cleared == pytest.approx(diameter, rel=1e-4)
    grown = optimize.brentq(lambda d: vacuum * d**3 - 101325.0 * diameter**3, diameter, 1.0)
    assert bubbles.diameter_factor(101325.0, vacuum) == pytest.approx(grown / diameter, rel=1e-6)
    quicker = abs(
        fluids.v_terminal(
            D=grown, rhop=bubbles.AIR, rho=density, mu=viscosity * density, Method="Stokes"
        )
        / speed
    )
    assert bubbles.speed_factor(101325.0, vacuum) == pytest.approx(quicker, rel=1e-4)


@given(volume=st.floats(0.3e-6, 2e-6), travel=st.floats(0.002, 0.02), seal=st.floats(0.01, 0.3))
def test_gas_does_the_work_that_its_force_integrates_to(
    volume: float, travel: float, seal: float
) -> None:
    """Work of an isotherm by `scipy.integrate.quad` over the gas law, and where it stops against
    friction by a root finder."""
    shaft = 3e-3
    area = math.pi / 4 * shaft**2
    shut = gas.TrappedGas(volume, 0.005, shaft)

    def net(shaft_in: float) -> float:
        return (
            gas.ATMOSPHERE * volume / (volume - area * (shaft_in - 0.005)) - gas.ATMOSPHERE
        ) * area

    ours = integrate.quad(shut.force_at, 0.005, 0.005 + travel)[0]
    assert ours == pytest.approx(integrate.quad(net, 0.005, 0.005 + travel)[0], rel=1e-7)
    stops = optimize.brentq(lambda x: net(x) - seal, 0.005, shut.locked_at - 1e-7)
    assert shut.rest_position(seal) == pytest.approx(stops, abs=1e-8)
    assert rebound.friction_from(shut, stops) == pytest.approx(seal, abs=1e-6)


@given(
    bore=st.floats(8e-3, 20e-3), length=st.floats(20e-3, 60e-3), thin=SHARES, deep=SHARES,
    solid=st.floats(0.0, 0.2e-6),
)  # fmt: skip
def test_oil_in_a_body_is_what_its_slices_lengthwise_add_up_to(
    bore: float, length: float, thin: float, deep: float, solid: float
) -> None:
    """Flat slices along the body, each as wide as the chord of the bore there, less as much of them
    as the shaft takes, added up by `scipy.integrate.quad`: no area of a circle is used."""
    shaft, shaft_in = 0.6 * thin * bore, deep * length

    def chords(diameter: float) -> float:
        half = diameter / 2
        return integrate.quad(lambda y: 2 * math.sqrt(max(half**2 - y**2, 0.0)), -half, half)[0]

    volume = chords(bore) * length - chords(shaft) * shaft_in - solid
    found = gas.oil_volume(bore, length, shaft, shaft_in, solid)
    assert found == pytest.approx(volume, rel=1e-6)


PISTON = Piston(
    holes=(Holes(2, 1.4e-3), Holes(1, 1.0e-3)), thickness=2.5e-3, diameter=11.9e-3, bore=12e-3,
    shaft=3e-3, eccentricity=0.5,
)  # fmt: skip


@FEWER
@given(speed=st.floats(0.005, 2.0), grade=st.floats(100e-6, 1000e-6))
def test_flows_through_holes_and_gap_add_up_to_what_the_piston_drives(
    speed: float, grade: float
) -> None:
    """Pressure by `scipy.optimize.brentq` on the sum of the flows, each a root of its own quadratic
    loss by `numpy.roots`; slopes by differences; the oil for a force by a root finder on the
    force itself."""
    paths = damper._paths(PISTON, grade, 970.0, "rebound")

    def through(pressure: float) -> float:
        total = 0.0
        for path in paths:
            roots = np.roots([path.inertial, path.viscous, -pressure])
            total += path.count * max(float(root.real) for root in roots)
        return total

    driven = damper.driven_flow(PISTON, speed)
    pressure = optimize.brentq(lambda p: through(p) / driven - 1, 1e-3, 1e9)
    force = pressure * PISTON.working_area
    assert damper.force(PISTON, speed, grade, 970.0, "rebound") == pytest.approx(force, rel=1e-6)
    slope = sum((path.flow(1.001 * pressure) - path.flow(0.999 * pressure)) for path in paths)
    ours = sum(path.conductance(pressure) for path in paths)
    assert ours == pytest.approx(slope / (0.002 * pressure), rel=1e-5)
    found = damper.viscosity_for(force, PISTON, speed, 970.0, "rebound")
    assert found == pytest.approx(grade, rel=1e-5)
    creeping = damper.force(PISTON, 1e-7, grade, 970.0, "rebound") / 1e-7
    assert damper.viscous_force(PISTON, 1.0, grade, 970.0) == pytest.approx(creeping, rel=1e-4)
    crossing = optimize.brentq(
        lambda v: damper.force(PISTON, v, grade, 970.0, "rebound") / (creeping * v) - 2, 1e-4, 1e4
    )
    assert damper.crossover_speed(PISTON, grade, 970.0) == pytest.approx(crossing, rel=1e-3)


@given(ratio=st.floats(0.3, 1.2), rate=RATES, pitch=st.floats(0.4e-3, 1e-3))
def test_what_a_damper_and_a_collar_do_at_the_wheel_keeps_work_and_power(
    ratio: float, rate: float, pitch: float
) -> None:
    """Damping by the power of 1 m/s at the wheel; the lift of a turn by the least energy of spring
    and weight, before and after (`scipy.optimize.minimize_scalar`)."""
    power = rate * (ratio * 1.0) ** 2  # c v^2 at the shaft
    assert linkage.wheel_damping(damping=rate, motion_ratio=ratio) == pytest.approx(power)
    weight = 3.0

    def height(shift: float) -> float:
        def energy(sunk: float) -> float:
            return 0.5 * rate * (ratio * sunk + shift) ** 2 - weight * sunk

        return -float(optimize.minimize_scalar(energy, bounds=(-0.5, 0.5), method="bounded",
                                               options={"xatol": 1e-12}).x)  # fmt: skip

    lift = linkage.lift_per_turn(pitch=pitch, motion_ratio=ratio)
    assert height(pitch) - height(0.0) == pytest.approx(lift, abs=2e-8)


@given(
    rates=st.tuples(RATES, RATES, RATES, RATES),
    raised=st.tuples(*[st.floats(-3e-3, 3e-3)] * 4),
)
def test_raised_seats_move_the_body_to_its_least_energy(
    rates: tuple[float, ...], raised: tuple[float, ...]
) -> None:
    """A rigid body on four springs whose seats moved: least squares of the forces' energy by
    `numpy.linalg.lstsq`; no force is left over."""
    places = [(0.285, 0.105), (0.285, -0.105), (0.0, 0.106), (0.0, -0.106)]
    corners = [
        chassis.Wheel(x=x, y=y, wheel_rate=rate, turn_lift=1e-3)
        for (x, y), rate in zip(places, rates, strict=True)
    ]
    weights = np.sqrt(np.array(rates))
    plane = np.array([[1.0, x, y] for x, y in places])
    heave, pitch, roll = np.linalg.lstsq(
        plane * weights[:, None], np.array(raised) * weights, rcond=None
    )[0]
    found = chassis.move_seats(corners, raised)
    assert (found.heave, found.pitch, found.roll) == pytest.approx(
        (heave, pitch, roll), rel=1e-6, abs=1e-10
    )
    assert sum(found.loads) == pytest.approx(0.0, abs=1e-9)
