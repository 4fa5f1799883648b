"""What cannot be gives no number: every argument of the physics, one at a time.

Each call is sound as it stands. Behind an argument's name stands what it has to be: `+` above
zero, `^` above zero or infinite, `0` zero or more, `~` any number, `%` between 0 and 1; `loads.2`
is the third of the loads.
"""

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import is_dataclass
from typing import Any

import pytest

from calc import physics
from calc.physics import (
    alike,
    batches,
    bubbles,
    chassis,
    coverage,
    damper,
    droop,
    drop,
    emulsion,
    gas,
    linkage,
    mounting,
    oil,
    pairs,
    pile,
    rebound,
    ride,
    sample,
    settle,
    spring,
    stack,
    thread,
    turns,
    warm,
)

CORNERS = tuple(
    chassis.Wheel(x, y, 1600.0, 1.5e-3, 9000.0) for x in (0.3, 0.0) for y in (0.12, -0.12)
)
LOADS = (4.0, 3.9, 5.0, 5.1)
LEG = settle.LoadLine(CORNERS[0], 2.0, 0.03)
LEGS = tuple(settle.LoadLine(corner, 2.0, 0.03) for corner in CORNERS)
PISTON = damper.Piston((damper.Holes(3, 1.2e-3),), 2e-3, 11.9e-3, 12e-3, 3e-3)
ARM = linkage.Linkage((0.02, 0.02), (0.07, 0.02), (0.05, 0.09), (0.11, 0.015))
SOFT, HARD = spring.Spring(300.0, 0.02), spring.Spring(700.0, 0.02)
PAIR = stack.Stack((SOFT, HARD), 0.07)
FIT = linkage.RatioFit(0.6, 1.0, None, None, None)
HOLE = mounting.measured_hole(FIT, length=0.09, low=-0.02, high=0.02)
GAS = gas.TrappedGas(1e-6, 0.01, 3e-3)
BUBBLE = {"diameter": 5e-4, "viscosity": 3.5e-4, "density": 970.0, "gas_density": 1.2}
OIL = {"piston": PISTON, "viscosity": 3.5e-4, "density": 970.0}

TABLE: list[tuple[Callable[..., Any], dict[str, Any], str]] = [
    (alike.difference_doubt, {"one": 1e-4, "other": 2e-4}, "one0 other0"),
    (alike.judged, {"difference": 1e-4, "u": 2e-5, "limit": 3e-4}, "difference~ u0 limit+"),
    (bubbles.slow_speed, BUBBLE, "diameter+ viscosity+ density+ gas_density0"),
    (bubbles.fast_speed, BUBBLE, "diameter+ viscosity+ density+ gas_density0"),
    (bubbles.rise_times, {"height": 0.02, **BUBBLE},
     "height+ diameter+ viscosity+ density+ gas_density0"),
    (bubbles.cleared_diameter,
     {"height": 0.02, "time": 600.0, "viscosity": 3.5e-4, "density": 970.0, "gas_density": 1.2},
     "height+ time+ viscosity+ density+ gas_density0"),
    (bubbles.reynolds, {"speed": 1e-3, "diameter": 5e-4, "viscosity": 3.5e-4},
     "speed0 diameter+ viscosity+"),
    (bubbles.diameter_factor, {"pressure": 101325.0, "vacuum": 2e4}, "pressure+ vacuum+"),
    (bubbles.speed_factor, {"pressure": 101325.0, "vacuum": 2e4}, "pressure+ vacuum+"),
    (chassis.Wheel,
     {"x": 0.3, "y": 0.12, "wheel_rate": 1600.0, "turn_lift": 1.5e-3, "tyre_rate": 9000.0},
     "x~ y~ wheel_rate+ turn_lift+ tyre_rate^"),
    (chassis.axle_turns,
     {"wheelbase": 0.3, "lifts": (1e-3, 2e-3), "points": (0.0, 0.2), "rises": (1e-3, 1e-3)},
     "wheelbase+ lifts.0+ lifts.1+"),
    (chassis.shares, {"loads": LOADS}, "loads.00 loads.10 loads.20 loads.30"),
    (chassis.still_turns, {"corners": CORNERS, "loads": LOADS, "target": 0.5},
     "target% loads.00 loads.10 loads.20 loads.30"),
    (coverage.coverage_factor, {"degrees": 4.0}, "degrees+"),
    (damper.Holes, {"count": 3, "diameter": 1e-3}, "count+ diameter+"),
    (damper.Piston,
     {"holes": (), "thickness": 2e-3, "diameter": 11.9e-3, "bore": 12e-3, "shaft": 3e-3,
      "eccentricity": 0.5},
     "thickness+ diameter+ bore+ shaft0 eccentricity0"),
    (damper.driven_flow, {"piston": PISTON, "speed": 0.1}, "speed0"),
    (damper.pressure, {**OIL, "speed": 0.1}, "speed0 viscosity+ density+"),
    (damper.force, {**OIL, "speed": 0.1}, "speed0 viscosity+ density+"),
    (damper.viscous_force, {**OIL, "speed": 0.1}, "speed0 viscosity+ density+"),
    (damper.damping_coefficient, {**OIL, "speed": 0.1}, "speed0 viscosity+ density+"),
    (damper.rim_share, {**OIL, "speed": 0.1}, "speed+ viscosity+ density+"),
    (damper.crossover_speed, OIL, "viscosity+ density+"),
    (damper.viscosity_for, {"target": 3.0, "piston": PISTON, "speed": 0.1, "density": 970.0},
     "target+ speed+ density+"),
    (drop.damping_coefficient,
     {"mass": 0.1, "distance": 0.03, "times": (1.0, 1.1), "friction": 0.1},
     "mass+ distance+ times.0+ times.1+ friction0"),
    (drop.run_up, {"mass": 0.1, "coefficient": 50.0}, "mass+ coefficient+"),
    (drop.friction_and_damping,
     {"masses": (0.1, 0.1, 0.2), "distance": 0.03, "times": (1.5, 1.6, 0.7)},
     "masses.0+ masses.2+ distance+ times.0+ times.2+"),
    (gas.oil_volume,
     {"bore": 0.012, "length": 0.05, "shaft": 3e-3, "shaft_in": 0.01, "solid": 1e-7},
     "bore+ length+ shaft0 shaft_in0 solid0"),
    (gas.Oil, {"volume": 5e-6, "expansion": 9.6e-4}, "volume0 expansion0"),
    (gas.TrappedGas, {"volume": 1e-6, "closed_at": 0.01, "shaft": 3e-3, "pressure": 101325.0},
     "volume+ closed_at0 shaft+ pressure+"),
    (GAS.volume_at, {"shaft_in": 0.02}, "shaft_in0"),
    (GAS.pressure_at, {"shaft_in": 0.02}, "shaft_in0"),
    (GAS.force_at, {"shaft_in": 0.02}, "shaft_in0"),
    (GAS.rest_position, {"friction": 0.1}, "friction0"),
    (linkage.Linkage,
     {"pivot": ARM.pivot, "lower": ARM.lower, "upper": ARM.upper, "wheel": ARM.wheel},
     "pivot.0~ pivot.1~ lower.0~ lower.1~ upper.0~ upper.1~ wheel.0~ wheel.1~"),
    (linkage.wheel_rate,
     {"rate": 400.0, "motion_ratio": 0.6, "force": 8.0, "motion_ratio_slope": 1.0},
     "rate+ motion_ratio+ force0 motion_ratio_slope~"),
    (linkage.wheel_damping, {"damping": 20.0, "motion_ratio": 0.6}, "damping0 motion_ratio+"),
    (linkage.lift_per_turn, {"pitch": 1e-3, "motion_ratio": 0.6}, "pitch+ motion_ratio+"),
    (linkage.position, {"linkage": ARM, "wheel_rise": 0.005}, "wheel_rise~"),
    (linkage.position_for_length, {"linkage": ARM, "damper_length": 0.07}, "damper_length+"),
    (linkage.travel_range, {"linkage": ARM, "shortest": 0.065, "longest": 0.08},
     "shortest+ longest+"),
    (linkage.fit_motion_ratio,
     {"wheel_travel": (0.0, 0.01, 0.02), "damper_travel": (0.0, 0.006, 0.012), "curved": False},
     "wheel_travel.0~ wheel_travel.2~ damper_travel.0~ damper_travel.2~"),
    (mounting.drawn_hole, {"linkage": ARM, "longest": 0.08, "stroke": 0.015}, "longest+ stroke+"),
    (mounting.measured_hole, {"fit": FIT, "length": 0.09, "low": -0.02, "high": 0.02}, "length+"),
    (mounting.spring_force, {"spot": HOLE.ride, "stack": PAIR, "seat": 0.03}, "seat~"),
    (mounting.rate_at_wheel, {"hole": HOLE, "stack": PAIR, "seat": 0.03, "rise": 0.0}, "seat~"),
    (mounting.rest, {"hole": HOLE, "stack": PAIR, "seat": 0.03, "load": 5.0}, "seat~ load+"),
    (oil.share_of_thick, {"target": 4e-4, "thin": 3e-4, "thick": 5e-4}, "target+ thin+ thick+"),
    (oil.interaction, {"share_of_thick": 0.5, "thin": 3e-4, "thick": 5e-4, "measured": 4e-4},
     "share_of_thick% thin+ thick+ measured+"),
    (oil.blend_measured,
     {"share_of_thick": 0.5, "thin": 3e-4, "thick": 5e-4, "interaction": 0.1},
     "share_of_thick0 thin+ thick+"),
    (oil.share_of_thick_measured,
     {"target": 4e-4, "thin": 3e-4, "thick": 5e-4, "interaction": 0.1}, "target+ thin+ thick+"),
    (oil.exchange, {"now": 3e-4, "added": 5e-4, "target": 4e-4}, "now+ added+ target+"),
    (oil.whole_parts, {"share": 0.3}, "share0"),
    (oil.viscosity_at, {"viscosity_25": 3.5e-4, "temperature": 300.0},
     "viscosity_25+ temperature+"),
    (oil.viscosity_25_from, {"viscosity": 3.5e-4, "temperature": 300.0},
     "viscosity+ temperature+"),
    (oil.temperature_uncertainty, {"temperature": 300.0, "known_at": 310.0},
     "temperature+ known_at+"),
    (oil.density, {"viscosity_25": 3.5e-4, "temperature": 300.0}, "viscosity_25+ temperature+"),
    (ride.natural_frequency, {"rate": 400.0, "mass": 0.4}, "rate+ mass+"),
    (ride.damping_ratio, {"damping": 10.0, "rate": 400.0, "mass": 0.4}, "damping0 rate+ mass+"),
    (ride.ratio_in_series, {"damping": 10.0, "rate": 400.0, "mass": 0.4}, "damping+ rate+ mass+"),
    (ride.damping_for_ratio, {"ratio": 0.6, "rate": 400.0, "mass": 0.4}, "ratio0 rate+ mass+"),
    (ride.overshoot, {"ratio": 0.6}, "ratio0"),
    (ride.free_decay, {"ratio": 0.6, "frequency": 4.0, "time": 0.1}, "ratio0 frequency+ time0"),
    (sample.mean, {"readings": (1.0, 1.1, 1.3)}, "readings.0~ readings.2~"),
    (sample.modified_z_scores, {"readings": (1.0, 1.1, 1.3)}, "readings.0~ readings.2~"),
    (sample.outliers, {"readings": (1.0, 1.1, 1.3)}, "readings.0~ readings.2~"),
    (sample.welch, {"left": (1.0, 1.1), "right": (1.2, 1.4)}, "left.0~ left.1~ right.0~ right.1~"),
    (sample.two_sided, {"t": 2.0, "degrees": 4.0}, "degrees+"),
    (sample.incomplete_beta, {"a": 2.0, "b": 0.5, "x": 0.4}, "a+ b+ x0"),
    (settle.LoadLine, {"wheel": CORNERS[0], "preload": 2.0, "droop_height": 0.03, "stop_rate": 1e5},
     "preload~ droop_height~ stop_rate+"),
    (settle.measured_line,
     {"wheel": CORNERS[0], "load": 4.0, "preload": 2.0, "height": 0.025, "stop_rate": 1e5},
     "load0 preload~ height~ stop_rate+"),
    (settle.turned, {"leg": LEG, "turns": 1.0}, "turns~"),
    (settle.balance_point, {"corners": CORNERS, "loads": LOADS}, "loads.0~ loads.3~"),
    (settle.settle, {"legs": LEGS, "weight": 18.0, "centre": (0.13, 0.0)},
     "weight+ centre.0~ centre.1~"),
    (spring.Spring, {"rate": 400.0, "travel": 0.03}, "rate+"),
    (spring.spring_force, {"rate": 400.0, "compression": 0.01}, "rate+ compression~"),
    (spring.preload_from_turns, {"pitch": 1e-3, "turns": 3.0}, "pitch+ turns~"),
    (spring.spring_rate,
     {"wire": 1.3e-3, "mean_diameter": 15e-3, "active_coils": 7.0, "shear_modulus": 8e10},
     "wire+ mean_diameter+ active_coils+ shear_modulus+"),
    (spring.clipped_rate, {"rate": 400.0, "active_coils": 7.0, "clipped": 1.0},
     "rate+ active_coils+ clipped0"),
    (spring.solid_length, {"wire": 1.3e-3, "total_coils": 9.0, "ends": "closed"},
     "wire+ total_coils+"),
    (spring.solid_length_limit, {"wire": 1.3e-3, "total_coils": 9.0, "ends": "closed"},
     "wire+ total_coils+"),
    (spring.series_rate, {"first": 300.0, "second": 700.0}, "first+ second+"),
    (spring.rate_from_readings, {"lengths": (0.06, 0.05, 0.04), "forces": (0.0, 4.0, 8.1)},
     "lengths.0+ lengths.2+ forces.0~ forces.2~"),
    (stack.Stack, {"springs": (SOFT, HARD), "free": 0.07}, "free+"),
    (PAIR.compression, {"force": 5.0}, "force0"),
    (PAIR.length, {"force": 5.0}, "force0"),
    (PAIR.rate, {"force": 5.0}, "force0"),
    (PAIR.force, {"compression": 0.01}, "compression~"),
    (stack.single, {"rate": 400.0, "free": 0.06, "solid": 0.02}, "rate+ free+ solid+"),
    (stack.collar_shift,
     {"before": PAIR, "force_before": 5.0, "after": PAIR, "force_after": 6.0, "mount_shift": 1e-3},
     "force_before0 force_after0 mount_shift~"),
    (thread.rod_end_turns, {"measured": 0.02, "wanted": 0.021, "pitch": 5e-4},
     "measured~ wanted~ pitch+"),
    (thread.length_after, {"measured": 0.02, "turns": 2.0, "pitch": 5e-4},
     "measured~ turns~ pitch+"),
    (thread.engagement_left, {"engaged": 6e-3, "turns": 2.0, "pitch": 5e-4},
     "engaged~ turns~ pitch+"),
    (thread.least_engagement, {"diameter": 3e-3, "material": "steel"}, "diameter+"),
    (turns.Wish,
     {"points": ((0.0, 0.0), (0.2, 0.0)), "rises": (1e-3, 0.0), "height_tolerance": 1e-4,
      "cross_weight": 0.5, "cross_tolerance": 0.01},
     "rises.0~ rises.1~ height_tolerance+ cross_weight% cross_tolerance+"),
    (turns.best_turns, {"corners": CORNERS, "wish": turns.Wish(((0.1, 0.0),), (1e-3,)),
                        "step": 0.25}, "step+"),
    (turns.equations,
     {"corners": CORNERS, "wish": turns.Wish(((0.1, 0.0),), (1e-3,), cross_weight=0.5),
      "loads": LOADS, "step": 0.25},
     "step+ loads.00"),
    (batches.coarse, {"volume": 1e-5, "step": 5e-7}, "volume+ step+"),
    (damper.parting_speed, {**OIL, "behind": 1e5}, "viscosity+ density+ behind+"),
    (damper.speed_under, {**OIL, "force": 0.1}, "force+ viscosity+ density+"),
    (emulsion.viscosity_bounds, {"share": 0.1}, "share0"),
    (emulsion.density, {"share": 0.1, "oil": 970.0}, "share0 oil+"),
    (emulsion.bulk_modulus, {"share": 0.1, "pressure": 1e5, "exponent": 1.4},
     "share0 pressure+ exponent+"),
    (emulsion.stiffness, {"modulus": 1e6, "area": 1e-4, "column": 0.012},
     "modulus+ area+ column+"),
    (emulsion.given_way, {"share": 0.1, "pressure": 1e5, "rise": 1e4, "column": 0.012},
     "share0 pressure+ rise0 column+"),
    (emulsion.even_frequency, {"stiffness": 2000.0, "damping": 30.0}, "stiffness+ damping+"),
    (rebound.time_out,
     {"gas": GAS, **OIL, "start": 0.02, "friction": 0.01, "share": 0.9},
     "viscosity+ density+ start+ friction0 share%"),
    (rebound.friction_from, {"gas": GAS, "rest": 0.02}, "rest+"),
    (droop.shaft_travel, {"wheel": 0.01, "motion_ratio": 0.65, "slope": 1.0},
     "wheel~ motion_ratio+ slope~"),
    (droop.wheel_travel, {"shaft": 0.01, "motion_ratio": 0.65, "slope": 1.0},
     "shaft~ motion_ratio+ slope~"),
    (pairs.nearest_pairs, {"values": (0.64, 0.65, 0.66), "count": 1},
     "values.0+ values.1+ values.2+"),
    (pile.nearest_pile, {"sizes": (1e-3, 2e-3), "wanted": 3e-3}, "sizes.0+ sizes.1+ wanted~"),
    (warm.dynamic_at, {"viscosity_25": 3.5e-4, "temperature": 300.0},
     "viscosity_25+ temperature+"),
    (warm.same_feel, {"viscosity_25": 3.5e-4, "before": 300.0, "now": 310.0},
     "viscosity_25+ before+ now+"),
]  # fmt: skip
# Nothing is refused there, and why.
LEFT_OUT = {
    "batches.Batch": "bottles and batches come from entries that were read",
    "batches.Recipe": "an answer",
    "batches.Stock": "bottles and batches come from entries that were read",
    "batches.miss": "of a recipe that was made here",
    "chassis.move_seats": "what is raised was worked out or read",
    "mounting.scaled": "of a hole that was measured, by the share of a tilt",
    "pairs.apart": "nearest_pairs has checked",
    "chassis.Change": "an answer",
    "chassis.Shares": "an answer",
    "drop.Friction": "an answer",
    "linkage.Position": "an answer",
    "linkage.RatioFit": "an answer",
    "sample.Mean": "an answer",
    "sample.Welch": "an answer",
    "settle.Stance": "an answer",
    "spring.RateFit": "an answer",
    "turns.Plan": "an answer",
    "linear.Fit": "an answer",
    "mounting.Spot": "an answer",
    "mounting.Hole": "an answer",
    "chassis.turn_collars": "turns were read as numbers or come from a search",
    "oil.blend": "pairs: tests/physics/test_oil.py",
    "oil.band": "pairs: tests/physics/test_oil.py",
    "oil.dynamic_viscosity": "a product",
    "oil.kinematic_viscosity": "a quotient",
    "oil.Law": "no number is given",
    "flow.Path": "damper.py has checked",
    "flow.circle": "damper.py has checked",
    "flow.hole": "damper.py has checked",
    "flow.rim_gap": "damper.py has checked",
    "flow.pressure_for": "damper.py has checked",
    "linear.solve": "any equations",
    "linear.back_substitute": "any equations",
    "linear.triangular": "any equations",
    "linear.polynomial_fit": "any readings",
    "linear.odd_one": "any readings",
    "require.positive": "what refuses",
    "require.not_negative": "what refuses",
    "require.finite": "what refuses",
    "root.rising_root": "any function",
}
REFUSED = {
    "+": (0.0, -1e-9, math.nan, math.inf),
    "^": (0.0, -1e-9, math.nan),
    "0": (-1e-9, math.nan, math.inf),
    "~": (math.nan, math.inf, -math.inf),
    "%": (0.0, 1.0, math.nan),
}
each_call = pytest.mark.parametrize(
    ("function", "sound", "arguments"),
    [pytest.param(*row, id=f"{row[0].__module__[13:]}.{row[0].__qualname__}") for row in TABLE],
)


def changed(sound: dict[str, Any], argument: str, value: float) -> dict[str, Any]:
    """The arguments with one of them, or one number of it, exchanged."""
    name, _, place = argument.partition(".")
    if not place:
        return {**sound, name: value}
    numbers = list(sound[name])
    numbers[int(place)] = value
    return {**sound, name: tuple(numbers)}


@each_call
def test_each_argument_that_cannot_be_is_refused(
    function: Callable[..., Any], sound: dict[str, Any], arguments: str
) -> None:
    function(**sound)
    answered = []
    for argument in arguments.split():
        for value in REFUSED[argument[-1]]:
            try:
                function(**changed(sound, argument[:-1], value))
            except ValueError:
                continue
            answered.append((argument, value))
    assert answered == []


@each_call
def test_zero_is_taken_where_it_can_be(
    function: Callable[..., Any], sound: dict[str, Any], arguments: str
) -> None:
    refused = []
    for argument in (one[:-1] for one in arguments.split() if one.endswith("0")):
        try:
            function(**changed(sound, argument, 0.0))
        except ValueError:
            refused.append(argument)
    assert refused == []


def with_numbers() -> Iterator[str]:
    """Every public function and record of the physics that is given a float."""
    for found in pkgutil.iter_modules(physics.__path__):
        module = importlib.import_module(f"calc.physics.{found.name}")
        for name, thing in vars(module).items():
            own = getattr(thing, "__module__", "") == module.__name__ and name[0] != "_"
            if own and (inspect.isfunction(thing) or is_dataclass(thing)):
                kinds = [str(p.annotation) for p in inspect.signature(thing).parameters.values()]
                if any("float" in kind for kind in kinds):
                    yield f"{found.name}.{name}"


def test_no_function_is_left_out() -> None:
    there = {f"{row[0].__module__[13:]}.{row[0].__qualname__}" for row in TABLE}
    assert set(with_numbers()) - there == LEFT_OUT.keys()
