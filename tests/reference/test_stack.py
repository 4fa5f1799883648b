"""Springs one behind the other against the least energy, by a solver of bounded least squares."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from calc.physics import stack
from calc.physics.spring import Spring, clipped_rate
from calc.physics.stack import Stack, collar_shift

SPRINGS = st.builds(Spring, st.floats(200.0, 5e3), st.floats(2e-3, 40e-3))
STACKS = st.lists(SPRINGS, min_size=1, max_size=3).map(
    lambda springs: Stack(tuple(springs), sum(spring.travel for spring in springs) + 20e-3)
)


def pressed(made: Stack, force: float) -> float:
    """Compression, m: each spring somewhere between free and bound, so that energy less the work
    of the force is least, sum of k x^2/2 - F x (`scipy.optimize.lsq_linear`)."""
    root = np.sqrt([spring.rate for spring in made.springs])
    most = [spring.travel for spring in made.springs]
    found = optimize.lsq_linear(np.diag(root), force / root, (np.zeros(len(most)), most), "bvls")
    return float(found.x.sum())


@settings(max_examples=50, deadline=None)
@given(made=STACKS, share=st.floats(0.05, 0.95))
def test_a_stack_gives_way_as_the_least_energy_says(made: Stack, share: float) -> None:
    force = share * made.bind_force
    assert made.compression(force) == pytest.approx(pressed(made, force), rel=1e-6)
    # A bisection finds from where nothing gives any more.
    closed = optimize.bisect(
        lambda f: 0.5 - (pressed(made, f) >= made.travel * (1 - 1e-12)), 0.0, 2 * made.bind_force
    )
    assert made.bind_force == pytest.approx(closed, rel=1e-6)
    assert made.free - pressed(made, 2 * closed) == pytest.approx(made.solid, rel=1e-9)


@settings(max_examples=50, deadline=None)
@given(before=STACKS, after=STACKS, load=st.floats(1.0, 30.0), apart=st.floats(-5e-3, 5e-3))
def test_the_collar_goes_to_where_the_body_keeps_its_height(
    before: Stack, after: Stack, load: float, apart: float
) -> None:
    """Between the mounts there are collar and spring, one under the other: the place of the collar
    is the root of the gap left between them (`scipy.optimize.brentq`)."""
    mounts = 0.2

    def gap(collar: float, made: Stack, between: float) -> float:
        return between - collar - (made.free - pressed(made, load))

    was = optimize.brentq(gap, -1.0, 1.0, args=(before, mounts))
    then = optimize.brentq(gap, -1.0, 1.0, args=(after, mounts + apart))
    shift = collar_shift(
        before=before, force_before=load, after=after, force_after=load, mount_shift=apart
    )
    assert shift == pytest.approx(then - was, abs=1e-8)


@pytest.mark.parametrize(("coils", "off"), [(8, 1), (8, 3), (12, 2)])
def test_a_clipped_spring_is_a_shorter_chain_of_coils(coils: int, off: int) -> None:
    """Coils as so many equal springs in a row, each end a node, held at one end and pushed at the
    other: the stiffness matrix of the chain, solved by `numpy.linalg.solve`."""

    def rate(many: int, coil: float = 7000.0) -> float:
        chain = coil * (2 * np.eye(many) - np.eye(many, k=1) - np.eye(many, k=-1))
        chain[-1, -1] = coil
        push = np.zeros(many)
        push[-1] = 1.0
        return float(1 / np.linalg.solve(chain, push)[-1])

    clipped = clipped_rate(rate=rate(coils), active_coils=coils, clipped=off)
    assert clipped == pytest.approx(rate(coils - off), rel=1e-9)
    assert stack.single(rate=clipped, free=0.05, solid=0.02).rate(1.0) == pytest.approx(clipped)
