"""Properties of the piston model over the whole possible range."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.physics import damper, flow
from calc.physics.damper import Direction, Holes, Piston
from calc.physics.failure import Cause
from tests.physics.examples import DENSITY

VISCOSITIES = st.floats(1e-5, 0.1)  # 10 to 100 000 cSt
SPEEDS = st.floats(1e-3, 2.0)
DIRECTIONS = st.sampled_from(["compression", "rebound"])
GROUPS = st.builds(
    Holes,
    count=st.integers(1, 4),
    diameter=st.floats(0.3e-3, 2.0e-3),
    one_way=st.sampled_from(["both", "compression", "rebound"]),
)


@st.composite
def pistons(draw: st.DrawFn) -> Piston:
    bore = draw(st.floats(8e-3, 20e-3))
    gap = draw(st.one_of(st.just(0.0), st.floats(1e-6, 0.3e-3)))
    # At most eight holes of 2 mm: they fit the smallest piston beside the thickest shaft.
    return Piston(
        holes=tuple(draw(st.lists(GROUPS, max_size=2))),
        thickness=draw(st.floats(0.5e-3, 5e-3)),
        diameter=bore - 2 * gap,
        bore=bore,
        shaft=draw(st.floats(0.15, 0.4)) * bore,
        eccentricity=draw(st.floats(0, 1)),
    )


def test_the_open_part_of_a_piston() -> None:
    """Definition: area of all holes over that of the ring round the shaft, as wide as the room."""
    piston = Piston((Holes(4, 2e-3),), thickness=2e-3, diameter=12e-3, bore=12e-3, shaft=4e-3)
    assert piston.open_share == pytest.approx(4 * 2**2 / (12**2 - 4**2))
    assert piston.room == pytest.approx(4e-3)


def passable(piston: Piston, direction: Direction) -> None:
    assume(piston.gap > 0 or any(group.one_way in ("both", direction) for group in piston.holes))


PLAIN = Piston((Holes(3, 1.2e-3),), thickness=2e-3, diameter=12e-3, bore=12e-3, shaft=3e-3)
LEAKY = Piston((Holes(3, 1.2e-3),), thickness=2e-3, diameter=11.9e-3, bore=12e-3, shaft=3e-3)


@given(pistons(), SPEEDS, VISCOSITIES, DIRECTIONS)
def test_the_flows_add_up_to_what_the_shaft_drives(
    piston: Piston, speed: float, viscosity: float, direction: Direction
) -> None:
    passable(piston, direction)
    drop = damper.pressure(piston, speed, viscosity, DENSITY, direction)
    dynamic = viscosity * DENSITY
    ways = [
        flow.hole(group.diameter, piston.thickness, dynamic, DENSITY, group.count)
        for group in piston.holes
        if group.one_way in ("both", direction)
    ]
    if piston.gap > 0:
        shape = (piston.mean_diameter, piston.gap, piston.thickness, piston.eccentricity)
        ways.append(flow.rim_gap(*shape, dynamic, DENSITY))
    total = math.fsum(way.flow(drop) for way in ways)
    assert total == pytest.approx(damper.driven_flow(piston, speed), rel=1e-10)


@given(pistons(), SPEEDS, SPEEDS, VISCOSITIES, DIRECTIONS)
def test_faster_and_thicker_take_more_force(
    piston: Piston, one: float, other: float, viscosity: float, direction: Direction
) -> None:
    passable(piston, direction)
    slow, fast = sorted((one, other))
    less = damper.force(piston, slow, viscosity, DENSITY, direction)
    assert less <= damper.force(piston, fast, viscosity, DENSITY, direction) * (1 + 1e-12)
    assert less < damper.force(piston, slow, viscosity * 1.01, DENSITY, direction)


@given(pistons(), SPEEDS, VISCOSITIES, DIRECTIONS)
def test_inertia_only_adds(
    piston: Piston, speed: float, viscosity: float, direction: Direction
) -> None:
    passable(piston, direction)
    whole = damper.force(piston, speed, viscosity, DENSITY, direction)
    assert whole >= damper.viscous_force(piston, speed, viscosity, DENSITY, direction) * (1 - 1e-9)


@given(pistons(), VISCOSITIES, DIRECTIONS)
def test_at_the_crossover_the_force_is_twice_the_viscous_one(
    piston: Piston, viscosity: float, direction: Direction
) -> None:
    passable(piston, direction)
    speed = damper.crossover_speed(piston, viscosity, DENSITY, direction)
    ratio = damper.force(piston, speed, viscosity, DENSITY, direction) / damper.viscous_force(
        piston, speed, viscosity, DENSITY, direction
    )
    assert ratio == pytest.approx(2, rel=1e-8)


@given(pistons(), SPEEDS, VISCOSITIES, DIRECTIONS)
def test_viscosity_for_finds_the_oil_again(
    piston: Piston, speed: float, viscosity: float, direction: Direction
) -> None:
    """Where the jet takes nearly all the force, only the force can be compared, not the oil."""
    passable(piston, direction)
    target = damper.force(piston, speed, viscosity, DENSITY, direction)
    found = damper.viscosity_for(target, piston, speed, DENSITY, direction)
    again = damper.force(piston, speed, found, DENSITY, direction)
    assert again == pytest.approx(target, rel=1e-8)
    if damper.crossover_speed(piston, viscosity, DENSITY, direction) > speed:
        assert found == pytest.approx(viscosity, rel=1e-7)


@given(pistons(), SPEEDS, VISCOSITIES, DIRECTIONS)
def test_the_rim_takes_a_share(
    piston: Piston, speed: float, viscosity: float, direction: Direction
) -> None:
    passable(piston, direction)
    share = damper.rim_share(piston, speed, viscosity, DENSITY, direction)
    if piston.gap == 0:
        assert share == 0
    elif any(group.one_way in ("both", direction) for group in piston.holes):
        assert 0 < share < 1
    else:
        assert share == pytest.approx(1)


@given(SPEEDS, VISCOSITIES)
def test_a_one_way_hole_works_in_its_direction_only(speed: float, viscosity: float) -> None:
    flap = Piston((Holes(2, 1.2e-3), Holes(2, 1e-3, one_way="rebound")), 2e-3, 11.9e-3, 12e-3, 3e-3)
    without = Piston((Holes(2, 1.2e-3),), 2e-3, 11.9e-3, 12e-3, 3e-3)
    oil = (speed, viscosity, DENSITY)
    assert damper.force(flap, *oil, "compression") == damper.force(without, *oil, "compression")
    assert damper.force(flap, *oil, "rebound") < damper.force(flap, *oil, "compression")


@given(SPEEDS, VISCOSITIES)
def test_the_coefficient_is_force_over_speed(speed: float, viscosity: float) -> None:
    coefficient = damper.damping_coefficient(LEAKY, speed, viscosity, DENSITY)
    assert coefficient * speed == pytest.approx(damper.force(LEAKY, speed, viscosity, DENSITY))


@given(VISCOSITIES)
def test_at_rest_the_coefficient_is_that_of_creeping(viscosity: float) -> None:
    at_rest = damper.damping_coefficient(LEAKY, 0.0, viscosity, DENSITY)
    assert at_rest == pytest.approx(
        damper.damping_coefficient(LEAKY, 1e-9, viscosity, DENSITY), rel=1e-6
    )
    assert damper.force(LEAKY, 0.0, viscosity, DENSITY) == 0


def test_equal_damping_of_another_piston() -> None:
    other = Piston((Holes(2, 1.4e-3),), 2.5e-3, 11.9e-3, 12e-3, 3e-3)
    target = damper.force(LEAKY, 0.1, 350e-6, DENSITY)
    oil = damper.viscosity_for(target, other, 0.1, DENSITY)
    assert damper.force(other, 0.1, oil, DENSITY) == pytest.approx(target, rel=0.001)


@pytest.mark.parametrize(
    ("target", "speed", "complaint"),
    [
        (1e-6, 2.0, Cause.TOO_STIFF_WITH_ANY_OIL.name),
        (1e12, 0.001, Cause.TOO_SOFT_WITH_ANY_OIL.name),
        (0.0, 0.1, "force must be above 0"),
        (math.nan, 0.1, "force must be above 0"),
        (1.0, 0.0, "speed must be above 0"),
    ],
)
def test_an_oil_that_cannot_be_is_refused(target: float, speed: float, complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        damper.viscosity_for(target, PLAIN, speed, DENSITY)


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"thickness": 0.0}, "thickness"),
        ({"thickness": math.inf}, "thickness"),
        ({"diameter": 12.1e-3}, "fits the bore"),
        ({"diameter": math.nan}, "fits the bore"),
        ({"shaft": 12e-3}, "fits the bore"),
        ({"shaft": -1e-3}, "fits the bore"),
        ({"eccentricity": 1.1}, "Eccentricity"),
        ({"holes": (Holes(20, 3e-3),)}, Cause.HOLES_EXCEED_PISTON.name),
    ],
)
def test_a_piston_that_cannot_be_is_refused(change: dict[str, object], complaint: str) -> None:
    usual = {
        "holes": (),
        "thickness": 2e-3,
        "diameter": 11.9e-3,
        "bore": 12e-3,
        "shaft": 3e-3,
    }
    with pytest.raises(ValueError, match=complaint):
        Piston(**(usual | change))  # type: ignore[arg-type]


@pytest.mark.parametrize(("count", "diameter"), [(0, 1e-3), (2, 0.0), (2, math.nan)])
def test_holes_that_cannot_be_are_refused(count: int, diameter: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        Holes(count, diameter)


def test_a_piston_without_a_way_for_the_oil_is_refused() -> None:
    flap = Piston((Holes(2, 1e-3, one_way="rebound"),), 2e-3, 12e-3, 12e-3, 3e-3)
    with pytest.raises(ValueError, match="no way past"):
        damper.force(flap, 0.1, 350e-6, DENSITY, "compression")


@pytest.mark.parametrize("speed", [-0.1, math.nan, math.inf])
def test_an_impossible_speed_gives_no_force(speed: float) -> None:
    with pytest.raises(ValueError, match="speed must"):
        damper.force(PLAIN, speed, 350e-6, DENSITY)


@pytest.mark.parametrize(("viscosity", "density"), [(0.0, 970.0), (350e-6, 0.0), (math.nan, 970.0)])
def test_an_impossible_oil_gives_no_force(viscosity: float, density: float) -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        damper.force(PLAIN, 0.1, viscosity, density)
