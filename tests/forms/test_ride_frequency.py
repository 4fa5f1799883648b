"""Ride frequency and damping ratio: against scipy's oscillator, and the oil found put back in."""

from dataclasses import replace
from functools import partial

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal

from calc.forms.catalogue import BY_SLUG
from calc.model.car import Bottle, Car, put
from calc.physics.damper import Holes, Piston, damping_coefficient
from calc.physics.oil import density, viscosity_at
from calc.replying.reading import run
from calc.units import entry_text
from tests.forms.asking import UNDRAWN, answered, cautions, noted, stops, value

FORM = BY_SLUG["ride-frequency"]
ask = partial(answered, FORM, UNDRAWN)
UNITS = pint.UnitRegistry()


def by_hand(end: str) -> tuple[float, float]:
    """Frequency in Hz and damping ratio of the demo car, from the poles of its transfer function;
    units by pint, the damper from the piston model itself."""
    car = UNDRAWN
    axle = getattr(car, end)
    loads = [getattr(car.corners, f"{end}_{side}").load for side in ("left", "right")]
    mass = UNITS.Quantity(sum(loads) / 2 - axle.unsprung, "kg")
    rate = UNITS.Quantity(axle.spring_rate, "N/m") * axle.motion_ratio**2
    piston = Piston(
        holes=(Holes(round(axle.holes), axle.hole),),
        thickness=axle.piston_thickness,
        diameter=axle.bore - axle.inside.clearance,
        bore=axle.bore,
        shaft=axle.shaft,
        eccentricity=0.5,
    )
    warm = viscosity_at(axle.oil, car.temperature), density(axle.oil, car.temperature)
    shaft = UNITS.Quantity(damping_coefficient(piston, 0.05, *warm), "N*s/m")
    system = signal.TransferFunction(
        [1.0],
        [
            mass.to("kg").magnitude,
            (shaft * axle.motion_ratio**2).to("N*s/m").magnitude,
            rate.to("N/m").magnitude,
        ],
    )
    pole = system.poles[0]
    return float(abs(pole)) / (2 * np.pi), -pole.real / abs(pole)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_frequency_and_ratio_are_those_of_the_poles(end: str) -> None:
    answer = ask()
    frequency, ratio = by_hand(end)
    assert value(answer, f"{end}_frequency") == pytest.approx(frequency, rel=1e-6)
    assert value(answer, f"{end}_ratio") == pytest.approx(ratio, rel=1e-6)


@given(
    front=st.floats(0.2, 1.5),
    rear=st.floats(0.2, 1.5),
    speed=st.sampled_from(["5", "50", "200"]),
    warm=st.sampled_from(["5", "25", "40"]),
)
@settings(max_examples=40, deadline=None)
def test_the_oil_found_put_in_gives_the_ratio_wanted(
    front: float, rear: float, speed: str, warm: str
) -> None:
    asked = {
        "end.front.wanted": f"{front:.6f}",
        "end.rear.wanted": f"{rear:.6f}",
        "speed": speed,
        "warm": warm,
    }
    found = ask(**asked)
    put_in = {f"end.{end}.oil": entry_text(value(found, f"{end}_oil"), "viscosity")
              for end in ("front", "rear")}  # fmt: skip
    again = ask(**asked, **put_in)
    assert value(again, "front_ratio") == pytest.approx(front, rel=2e-4)
    assert value(again, "rear_ratio") == pytest.approx(rear, rel=2e-4)
    assert all("leave" in step.text for step in again.steps)


def test_what_is_named_is_a_bottle_or_a_blend_and_gives_what_it_says() -> None:
    answer = ask(**{"end.front.wanted": "0.75", "end.rear.wanted": "0.9"})
    front, rear = answer.steps
    assert "parts" in front.text or "as it is" in front.text
    written = noted(answer)
    again = ask(**{f"end.{end}.oil": entry_text(written[f"{end}.oil"], "viscosity")
                 for end in ("front", "rear")})  # fmt: skip
    for step, end in ((front, "front"), (rear, "rear")):
        assert f"Damping ratio {value(again, f'{end}_ratio'):.2f}" in step.gives


def test_an_oil_that_no_bottle_makes_stops() -> None:
    car = replace(UNDRAWN, bottles=(Bottle("thin", 100e-6, 50e-6),))
    answer = answered(FORM, car)
    assert "cannot be made from your bottles" in stops(answer)
    assert answer.steps[0].text.startswith("Front dampers: you need")


def test_both_ends_out_of_a_bottle_that_is_too_small_for_both() -> None:
    """Both ends of the demo car want nearly 350 cSt, and each takes more than half of the 8 mL
    there are of it. A part is whole marks of 0.1 mL, and no recipe has more than ten."""
    answer = answered(FORM)
    total = answer.poured
    assert stops(answer) == "" and len(noted(answer)) == 2
    assert all(volume <= Car().bottles[place - 1].left for place, volume in total.items())
    needed = 2 * (3.3 + 4.2) * 1.15 * 1e-6
    assert needed <= sum(total.values()) <= needed + 1e-6


def test_a_ratio_that_no_oil_gives_is_a_problem() -> None:
    reply = run(FORM, {"end.front.wanted": "0.02", "speed": "2000"}, UNDRAWN)
    assert "thinnest oil" in reply.problems["end.front.wanted"]


def test_a_piston_that_cannot_be_is_told_at_its_field() -> None:
    car = UNDRAWN
    broken = replace(car, rear=replace(car.rear, hole=8e-3, holes=12.0))
    reply = run(FORM, {}, broken)
    assert reply.problems["rear.hole"].startswith("Rear, diameter of a hole: ")


@pytest.mark.parametrize("end", ["front", "rear"])
def test_the_doubt_of_the_oil_is_that_of_the_damping_by_its_slope(end: str) -> None:
    """JCGM 100:2008, 5.1.3, with the slope of the ratio against the oil taken 3 % either way."""
    answer = ask()
    oil, now = (
        next(q for q in answer.quantities if q.name == f"{end}_{name}") for name in ("oil", "ratio")
    )
    thin, thick = (
        value(ask(**{f"end.{end}.oil": f"{oil.value * 1e6 * by:.4f}"}), f"{end}_ratio")
        for by in (0.97, 1.03)
    )
    slope = np.log(thick / thin) / np.log(1.03 / 0.97)
    assert oil.u / oil.value == pytest.approx(now.u / now.value / slope, rel=1e-3)


def test_in_bump_the_damping_ends_where_the_oil_parts() -> None:
    """Behind the piston the oil is under the trapped air alone, which the shaft presses by p V =
    const (Boyle 1662) to half-way in its stroke: no more force than that pressure on bore less
    shaft. Worked out with the poles of the same oscillator; rebound has no such end."""
    axle, speed = UNDRAWN.front, 0.25
    inside, shaft_area = axle.inside, np.pi / 4 * axle.shaft**2
    pressed = inside.gas - shaft_area * (axle.stroke / 2 - inside.closed_at)
    most = 101325.0 * inside.gas / pressed * np.pi / 4 * (axle.bore**2 - axle.shaft**2)
    mass = (0.365 + 0.359) / 2 - axle.unsprung
    bump, ratio = most / speed * axle.motion_ratio**2, axle.motion_ratio
    (slow, fast) = signal.TransferFunction(
        [1.0], [mass, bump, axle.spring_rate * ratio**2]
    ).poles  # overdamped or not, their product is the square of the undamped rate
    expected = -(slow + fast).real / 2 / np.sqrt(abs(slow * fast))
    typed = {"end__front__oil": "3000", "speed": "250 mm/s"}
    thick, thin = ask(**typed), ask(speed="250 mm/s")
    assert value(thick, "front_ratio_bump") == pytest.approx(expected, rel=1e-6)
    rebound = 3000 / 400 * value(thin, "front_ratio")  # in proportion, the jet's part left out
    assert rebound * 0.8 < value(thick, "front_ratio_rebound") < rebound * 1.05
    mean = (value(thick, "front_ratio_bump") + value(thick, "front_ratio_rebound")) / 2
    assert value(thick, "front_ratio") == pytest.approx(mean, rel=1e-9)
    assert value(thick, "front_parts") < speed < value(thin, "front_parts")
    assert "tears (cavitates)" in cautions(thick)
    assert "tears (cavitates)" not in cautions(thin)


def test_a_damper_too_stiff_for_its_tyres_is_said_to_leave_the_car_to_them() -> None:
    """A ratio of 2 asks for c = 4 sqrt(s k m)/s2, s = kt/(k + kt); on the tyre alone that is a
    ratio of sqrt(kt m)/(2 c) (mass, spring and damper one after the other)."""
    soft = put(put(UNDRAWN, "front.tyre_rate", 1000.0), "rear.tyre_rate", 1000.0)
    axle, on = soft.front, 1000.0
    wheel = axle.spring_rate * axle.motion_ratio**2
    mass = (0.365 + 0.359) / 2 - axle.unsprung
    share = on / (wheel + on)
    damping = 2 * 2 * np.sqrt(share * wheel * mass) / share**2
    ratio = np.sqrt(on * mass) / (2 * damping)
    told = cautions(answered(FORM, soft, end__front__wanted="2"))
    assert f"car bounces on its tyres instead, with a damping ratio of {ratio:.2f}." in told
    assert "on its tyres" not in cautions(answered(FORM, soft, end__front__wanted="0.5"))


def test_more_pressure_puts_it_off() -> None:
    typed = {"end__front__oil": "1000", "speed": "200 mm/s"}
    assert "tears (cavitates)" in cautions(ask(**typed))
    assert "tears (cavitates)" not in cautions(ask(**typed, front__pressure="200"))
