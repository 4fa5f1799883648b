"""Flow past a piston against books and against the library `fluids`: see damper.toml."""

import math

import fluids
import numpy as np
import pytest
from fluids.flow_meter import differential_pressure_meter_C_epsilon
from scipy import integrate
from scipy.optimize import brentq

from calc.model.car import Car
from calc.physics import damper, flow, oil
from tests.reference.cases import Case, load
from tests.reference.creeping import resistance

OIL = {"dynamic_viscosity": 0.3395, "density": 970.0}


@pytest.mark.parametrize("case", load("damper", "rim gap"), ids=str)
def test_leak_past_a_piston_as_in_the_textbook(case: Case) -> None:
    given = dict(case.given)
    pressure = given.pop("pressure")
    gap = flow.rim_gap(**given)
    assert gap.flow(pressure) == case.printed["flow"]
    assert gap.loss(case.printed["flow"].expected) == pytest.approx(pressure, rel=5e-4)


@pytest.mark.parametrize("case", load("damper", "rim gap"), ids=str)
def test_a_piston_without_holes_is_that_of_the_textbook(case: Case) -> None:
    """At the speed at which pressure has to drive just the printed leak past it; no shaft, and no
    loss of the jet as in the example."""
    given = case.given
    bore, rim = (given["mean_diameter"] + sign * given["gap"] for sign in (1, -1))
    piston = damper.Piston((), given["length"], rim, bore, 0.0)
    assert piston.gap == pytest.approx(given["gap"])
    assert piston.mean_diameter == pytest.approx(given["mean_diameter"])
    law = given["dynamic_viscosity"] / given["density"], given["density"]
    area = math.pi / 4 * bore**2
    assert piston.working_area == pytest.approx(area)
    speed = damper.speed_under(piston, given["pressure"] * area, *law)
    assert damper.driven_flow(piston, speed) == case.printed["flow"]
    assert damper.pressure(piston, speed, *law) == pytest.approx(given["pressure"], rel=1e-9)
    force = damper.force(piston, speed, *law)
    assert force == pytest.approx(given["pressure"] * area, rel=1e-9)
    assert damper.viscous_force(piston, speed, *law) == pytest.approx(force, rel=1e-3)
    assert damper.damping_coefficient(piston, speed, *law) == pytest.approx(force / speed)
    assert damper.viscosity_for(force, piston, speed, law[1]) == pytest.approx(law[0], rel=1e-9)
    # All the oil that it displaces passes the rim: the leak, and the oil dragged by the wall.
    assert damper.rim_share(piston, speed, *law) == pytest.approx(1.0)


@pytest.mark.parametrize("case", load("damper", "off centre"), ids=str)
def test_a_rim_off_centre_leaks_more(case: Case) -> None:
    centred = flow.rim_gap(12e-3, 50e-6, 2e-3, 0, **OIL)
    shifted = flow.rim_gap(12e-3, 50e-6, 2e-3, case.given["eccentricity"], **OIL)
    assert centred.viscous / shifted.viscous == case.printed["factor"]


@pytest.mark.parametrize("case", load("damper", "thin hole"), ids=str)
def test_creeping_flow_through_a_hole_in_a_thin_plate(case: Case) -> None:
    given = dict(case.given)
    pressure = given.pop("pressure")
    assert pressure / flow.hole(**given).viscous == case.printed["viscous_flow"]


@pytest.mark.parametrize("length", [2.0, 10 / 3])
def test_creeping_flow_through_a_short_hole_on_a_grid(length: float) -> None:
    """The equations of the flow solved by `scipy.sparse` on two grids, and extrapolated: halving
    the cells halves the error from the sharp edge. 10/3 radii are 1.2 mm by 2 mm."""
    coarse, fine = resistance(length, 6), resistance(length, 12)
    assert coarse < fine
    hole = flow.hole(2.0, length, dynamic_viscosity=1.0, density=1e-9)
    assert hole.viscous == pytest.approx(2 * fine - coarse, rel=0.015)


@pytest.mark.parametrize("case", load("damper", "long hole"), ids=str)
def test_far_inside_a_long_hole_the_tube_formula_holds(case: Case) -> None:
    """The loss of each further millimetre is the tube's, and only that."""
    given, extra = dict(case.given), 5.0
    pressure, length = given.pop("pressure"), given.pop("length")
    longer = flow.hole(length=extra + length, density=970.0, **given)
    long = flow.hole(length=extra, density=970.0, **given)
    assert pressure / (longer.viscous - long.viscous) == case.printed["flow"]


@pytest.mark.parametrize("diameter", [0.8e-3, 1.2e-3, 2.0e-3])
def test_the_tube_part_is_that_of_the_library(diameter: float) -> None:
    speed, density, mu, length = 0.5, 970.0, 0.34, 2.0
    reynolds = fluids.Reynolds(V=speed, D=diameter, rho=density, mu=mu)
    friction = fluids.friction_laminar(reynolds)
    drop = fluids.dP_from_K(K=friction * length / diameter, rho=density, V=speed)
    ours = flow.hole(diameter, length, mu, density)
    assert ours.viscous * speed * flow.circle(diameter) == pytest.approx(drop, rel=0.002)


def test_the_loss_factor_is_a_sharp_entry_and_an_exit() -> None:
    """Entry 0.51 (Miller) to 0.57 (Rennels); an exit loses all its speed."""
    entries = [fluids.entrance_sharp(method="Miller"), fluids.entrance_sharp(method="Rennels")]
    sums = [entry + fluids.exit_normal() for entry in entries]
    assert sums == pytest.approx([flow.ENTRY_AND_EXIT] * 2, abs=0.08)


def test_very_fast_flow_is_the_library_loss() -> None:
    speed, diameter, density = 200.0, 1.2e-3, 970.0
    ours = flow.hole(diameter, 2e-3, 1e-4, density).loss(speed * flow.circle(diameter))
    assert ours == pytest.approx(fluids.dP_from_K(K=1.5, rho=density, V=speed), rel=0.01)


@pytest.mark.parametrize("reynolds", [2, 10, 20, 60, 200, 600])
def test_a_plate_with_a_hole_within_the_stated_doubt(reynolds: float) -> None:
    """A thin sharp plate, hole half the pipe's width: Hollingshead's computed coefficients, in
    `fluids`. Our law is for a hole between wide chambers: 30 % is what may be asked of it here."""
    pipe, bore, mu, density = 20e-3, 10e-3, 1.0, 1000.0
    mass_flow = reynolds * mu * math.pi * bore / 4
    coefficient, _ = differential_pressure_meter_C_epsilon(
        D=pipe,
        D2=bore,
        m=mass_flow,
        P1=1e5,
        P2=0.99e5,
        rho=density,
        mu=mu,
        k=1.3,
        meter_type="Hollingshead orifice",
    )
    jet = mass_flow / (coefficient * flow.circle(bore))
    measured = jet**2 * (1 - (bore / pipe) ** 4) / (2 * density)
    ours = flow.hole(bore, 0.0, mu, density).loss(mass_flow / density)
    assert ours == pytest.approx(measured, rel=0.30)


@pytest.mark.parametrize("gap", [20e-6, 50e-6, 100e-6])
def test_the_flat_gap_is_the_exact_ring(gap: float) -> None:
    """Exact flow between concentric tubes: Bird, Stewart, Lightfoot, Transport Phenomena, 2nd ed.,
    eq. 2.4-17. With the mean diameter the flat form meets it to 1e-5 at gap/radius 0.017."""
    bore = 12e-3
    outer, inner, mu, length = bore / 2, bore / 2 - gap, 0.34, 2e-3
    squares = outer**2 - inner**2
    exact = outer**4 - inner**4 - squares**2 / math.log(outer / inner)
    conductance = math.pi * exact / (8 * mu * length)
    ours = flow.rim_gap(bore - gap, gap, length, 0, mu, 970.0)
    assert 1 / ours.viscous == pytest.approx(conductance, rel=2e-5)


@pytest.mark.parametrize("eccentricity", [0.0, 0.3, 0.7, 1.0])
def test_the_factor_off_centre_is_the_mean_cube_of_the_gap(eccentricity: float) -> None:
    mean, _ = integrate.quad(lambda angle: (1 + eccentricity * math.cos(angle)) ** 3, 0, math.tau)
    centred = flow.rim_gap(12e-3, 50e-6, 2e-3, 0, **OIL)
    shifted = flow.rim_gap(12e-3, 50e-6, 2e-3, eccentricity, **OIL)
    assert centred.viscous / shifted.viscous == pytest.approx(mean / math.tau, rel=1e-9)


@pytest.mark.parametrize("case", load("spring", "series_rate"), ids=str)
def test_paths_without_a_jet_share_the_flow_as_resistors_share_a_current(case: Case) -> None:
    """Pressure for voltage and flow for current: one unit of flow through the three resistances of
    a printed example, side by side (in its other half the capacitors take their place)."""
    paths = [flow.Path(1, resistance, 0.0) for resistance in case.given["rates"]]
    assert flow.pressure_for(1.0, paths) == case.printed["rate"]
    # The conductances add up, whatever the pressure.
    conductance = sum(path.conductance(5.0) for path in paths)
    assert 1 / conductance == case.printed["rate"]


@pytest.mark.parametrize("driven", [1e-8, 3e-6, 5e-5])
def test_side_by_side_paths_by_root_finders(driven: float) -> None:
    """The flow of each path is the root of its loss (`numpy.roots`), the pressure where they add up
    (`brentq`), and a path's slope that of its loss read the other way (`numpy.polyder`)."""
    paths = [flow.hole(1.2e-3, 2e-3, count=3, **OIL), flow.rim_gap(12e-3, 50e-6, 2e-3, 0.5, **OIL)]
    losses = [[path.inertial / path.count**2, path.viscous / path.count, 0.0] for path in paths]

    def passed(pressure: float) -> list[float]:
        return [max(np.roots([a, b, -pressure]).real) for a, b, _ in losses]

    pressure = brentq(lambda p: sum(passed(p)) / driven - 1, 1e-6, 1e9)
    assert flow.pressure_for(driven, paths) == pytest.approx(pressure, rel=1e-9)
    for path, loss, through in zip(paths, losses, passed(pressure), strict=True):
        assert path.flow(pressure) == pytest.approx(through, rel=1e-9)
        slope = float(np.polyval(np.polyder(loss), through))
        assert path.conductance(pressure) == pytest.approx(1 / slope, rel=1e-9)


def test_the_rim_passes_what_the_profile_of_its_flow_adds_up_to() -> None:
    """Oil between the rim at rest and the bore passing by: mu u'' = -dp/L, solved by
    `scipy.integrate.solve_bvp` and added up by `quad`, round the mean of both circles; that this
    mean times the gap is the area of the ring, by `quad` too. Thick oil and little speed, so that
    the jet behind the rim is nothing."""
    piston = damper.Piston((damper.Holes(3, 1.2e-3),), 2e-3, 11.9e-3, 12e-3, 3e-3)
    speed, viscosity, density = 1e-3, 5000e-6, 970.0
    slope = damper.pressure(piston, speed, viscosity, density) / 2e-3 / (viscosity * density)
    across = np.linspace(0.0, piston.gap, 11)
    profile = integrate.solve_bvp(
        lambda y, u: np.vstack([u[1], -slope * np.ones_like(y)]),
        lambda at, end: np.array([at[0], end[0] - speed]), across, np.zeros((2, 11)), tol=1e-9,
    )  # fmt: skip
    each = integrate.quad(lambda y: profile.sol(y)[0], 0.0, piston.gap)[0]
    ring = integrate.quad(lambda radius: math.tau * radius, 11.9e-3 / 2, 12e-3 / 2)[0]
    assert math.pi * piston.mean_diameter * piston.gap == pytest.approx(ring)
    displaced = piston.working_area * speed
    share = damper.rim_share(piston, speed, viscosity, density)
    assert share == pytest.approx(each * ring / piston.gap / displaced, rel=1e-3)


@pytest.mark.parametrize("pull", [0.1, 2.0, 40.0])
def test_a_pull_moves_the_piston_as_fast_as_a_root_finder_says(pull: float) -> None:
    holes = (damper.Holes(2, 1.4e-3), damper.Holes(1, 1.0e-3, "rebound"))
    piston = damper.Piston(holes, 2.5e-3, 11.9e-3, 12e-3, 3e-3, 0.5)
    speed = brentq(
        lambda v: damper.force(piston, v, 350e-6, 970.0, "rebound") / pull - 1, 1e-6, 100.0
    )
    found = damper.speed_under(piston, pull, 350e-6, 970.0, "rebound")
    assert found == pytest.approx(speed, rel=1e-9)


def test_the_oil_parts_where_a_reviewer_found_it() -> None:
    """The demo front reaches a drop of one atmosphere at 274 mm/s, 10.7 N: an independent review
    of the project, its own derivation and root."""
    axle = Car().front
    holes = (damper.Holes(round(axle.holes), axle.hole),)
    piston = damper.Piston(
        holes, axle.piston_thickness, axle.bore - axle.inside.clearance, axle.bore, axle.shaft, 0.5
    )
    warm = 295.15
    law = oil.viscosity_at(axle.oil, warm), oil.density(axle.oil, warm)
    speed = damper.parting_speed(piston, *law, 101325.0)
    assert speed == pytest.approx(0.274, abs=0.0006)
    assert damper.force(piston, 2 * speed, *law, behind=101325.0) == pytest.approx(10.7, abs=0.05)
    # The other way round, by a general solver.
    found = brentq(lambda v: damper.pressure(piston, v, *law) - 101325.0, 0.01, 2.0, xtol=1e-12)
    assert speed == pytest.approx(found, rel=1e-9)
    assert damper.force(piston, 1.0, *law, "rebound", 101325.0) > 50.0


def test_suction_ends_where_a_barometer_says() -> None:
    """No pump draws water higher than about 10.3 m (E. Torricelli, 1643; 101325 Pa at 998 kg/m3 and
    9.80665 m/s2 are 10.35 m): the pull on the oil ends at the pressure over it."""
    piston = damper.Piston((damper.Holes(1, 1e-3),), 2e-3, 12e-3, 12e-3, 3e-3)
    pull = damper.force(piston, 2.0, 1e-3, 998.0, behind=101325.0) / piston.working_area
    assert pull / (998.0 * 9.80665) == pytest.approx(10.35, abs=0.005)


@pytest.mark.parametrize("case", load("damper", "circle"), ids=str)
def test_a_circle_is_to_the_square_as_eleven_to_fourteen(case: Case) -> None:
    assert flow.circle(**case.given) == case.printed["area"]
