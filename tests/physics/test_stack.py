"""What must hold of springs one behind the other, whatever they are."""

from math import inf, isclose

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics.spring import Spring, series_rate, spring_force
from calc.physics.stack import Stack, collar_shift, single
from tests.springs import pair_compression, pair_force

SPRINGS = st.builds(Spring, st.floats(5.0, 2e5), st.floats(1e-3, 0.3))
FORCES = st.floats(0.0, 500.0)


@st.composite
def stacks(draw: st.DrawFn) -> Stack:
    springs = draw(st.lists(SPRINGS, min_size=1, max_size=4))
    solid = draw(st.floats(1e-3, 0.3))
    return Stack(tuple(springs), sum(spring.travel for spring in springs) + solid)


@given(stack=stacks(), share=st.floats(0.001, 0.999))
@settings(max_examples=200)
def test_force_and_compression_lead_to_each_other(stack: Stack, share: float) -> None:
    compression = share * stack.travel
    assert isclose(stack.compression(stack.force(compression)), compression, rel_tol=1e-9)


@given(stack=stacks())
@settings(max_examples=100)
def test_the_force_is_the_broken_line_through_the_binding_points(stack: Stack) -> None:
    forces = sorted({0.0, *(spring.rate * spring.travel for spring in stack.springs)})
    presses = [sum(min(f / s.rate, s.travel) for s in stack.springs) for f in forces]
    for compression in np.linspace(0.0, presses[-1], 13):
        wanted = float(np.interp(compression, presses, forces))
        assert isclose(stack.force(float(compression)), wanted, rel_tol=1e-9, abs_tol=1e-9)


@given(stack=stacks(), force=FORCES)
@settings(max_examples=200)
def test_the_rate_is_the_slope_of_the_force(stack: Stack, force: float) -> None:
    width = 1e-4 * (force + 1e-3)
    binds = [spring.rate * spring.travel for spring in stack.springs]
    if any(abs(force - bind) <= 2 * width for bind in binds):
        return  # a corner of the line has no slope
    rise = stack.compression(force + width) - stack.compression(force)
    rate = stack.rate(force)
    assert (rise == 0.0) == (rate == inf)
    if rise:
        assert isclose(width / rise, rate, rel_tol=1e-6)


@given(one=SPRINGS, other=SPRINGS, force=FORCES)
@settings(max_examples=150)
def test_two_springs_do_what_a_pair_does(one: Spring, other: Spring, force: float) -> None:
    pair = Stack((one, other), one.travel + other.travel + 0.02)
    assert pair.compression(force) == pair_compression(one, other, force=force)
    compression = 0.7 * pair.travel
    assert isclose(pair.force(compression), pair_force(one, other, compression=compression))
    assert isclose(pair.rate(0.0), series_rate(one.rate, other.rate), rel_tol=1e-12)


@given(one=SPRINGS, rate=st.floats(5.0, 2e5), share=st.floats(0.01, 0.99))
def test_a_pair_is_softer_than_either_spring_until_one_binds(
    one: Spring, rate: float, share: float
) -> None:
    binding = one.rate * one.travel
    other = Spring(rate, 2 * binding / rate + one.travel)  # binds later, and goes on from there
    pair = Stack((one, other), one.travel + other.travel + 0.02)
    at_binding = pair.compression(binding)
    softer = min(one.rate, rate) * share * at_binding
    assert pair.force(share * at_binding) <= softer * (1 + 1e-12)
    after = pair.force(at_binding + share * one.travel)
    assert isclose(after - binding, rate * share * one.travel, rel_tol=1e-6)


def test_a_stack_does_not_care_which_spring_is_on_top() -> None:
    one, other = Spring(400.0, 0.01), Spring(900.0, 0.03)
    for compression in (0.0, 0.005, 0.0145, 0.02, 0.039):
        force = Stack((one, other), 0.06).force(compression)
        assert force == Stack((other, one), 0.06).force(compression)


@given(rate=st.floats(10.0, 1e5), share=st.floats(0.0, 0.999, allow_subnormal=False))
def test_a_single_spring_follows_hookes_law(rate: float, share: float) -> None:
    force = spring_force(rate=rate, compression=share * 0.04)
    spring = single(rate=rate, free=0.06, solid=0.02)
    assert isclose(spring.compression(force), share * 0.04, rel_tol=1e-12)
    assert isclose(spring.force(share * 0.04), force, rel_tol=1e-12)


@given(stack=stacks())
@settings(max_examples=50)
def test_a_solid_stack_gives_way_no_more(stack: Stack) -> None:
    assert isclose(stack.length(2 * stack.bind_force), stack.solid, rel_tol=1e-9, abs_tol=1e-12)
    assert stack.force(2 * stack.travel) == stack.bind_force
    assert stack.rate(stack.bind_force) == inf
    assert stack.force(-0.01) == 0.0


@given(before=stacks(), after=stacks(), one=FORCES, two=FORCES, apart=st.floats(-0.02, 0.02))
@settings(max_examples=100)
def test_the_collar_makes_up_for_spring_and_mounts(
    before: Stack, after: Stack, one: float, two: float, apart: float
) -> None:
    """From the collar to the cup there is the spring, whichever way the rest is shared out."""
    down = collar_shift(
        before=before, force_before=one, after=after, force_after=two, mount_shift=apart
    )
    mounts, body = 0.1, 0.1 - before.length(one)  # from the upper mount to the collar
    assert isclose(mounts + apart - (body + down), after.length(two), rel_tol=1e-9, abs_tol=1e-12)


def test_a_spring_longer_solid_than_free_is_refused() -> None:
    with pytest.raises(ValueError, match="travel"):
        single(rate=500.0, free=0.02, solid=0.03)
    with pytest.raises(ValueError, match="a spring"):
        Stack((), 0.05)
    with pytest.raises(ValueError, match="shorter"):
        Stack((Spring(500.0, 0.06),), 0.05)
