"""Fill and bleed: oil by the cylinder, air by Boyle, bubbles by Stokes and by practice."""

import math

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants, optimize

from calc.answering.answer import Answer
from calc.answering.hand import wait_words
from calc.forms.fill_bleed.bleed import bleed_table
from calc.forms.fill_bleed.fill import fill_table
from calc.forms.fill_bleed.form import FORM
from calc.forms.piston_oil.form import FORM as PISTON_OIL
from calc.model.car import Car
from calc.physics import oil
from calc.replying.reading import run
from tests.forms.asking import answered, cautions, refused, stops, told, values

SHAFT = math.pi / 4 * 3e-3**2


def ask(task: str, car: Car | None = None, **typed: str) -> Answer:
    return answered(FORM, car, task=task, **typed)


def problems(task: str, **typed: str) -> dict[str, str]:
    return refused(FORM, task=task, **typed)


def test_practice_waits_half_an_hour_to_an_hour_and_so_does_a_tenth_of_a_millimetre() -> None:
    """Common practice, no source: 350 cSt oil stands half an hour to an hour until it is clear. A
    bubble of 0.1 mm leaves a few centimetres of it in that time: both bounds, 3 to 4.5 cm."""
    for height in ("30", "45"):
        found = values(ask("bleed", oil="350", height=height, bubble="0.1", warm="25"))
        assert found["shortest"] >= 20 * 60 and found["longest"] <= 60 * 60
    assert values(ask("bleed", oil="350", height="45", bubble="0.1"))["longest"] >= 30 * 60


def test_the_slow_bound_is_that_of_the_library() -> None:
    """Terminal speed by `fluids`, which balances drag and lift by its own correlation."""
    found = values(ask("bleed", oil="350", height="30", bubble="0.2", warm="25"))
    density = oil.density(350e-6)
    speed = fluids.v_terminal(D=0.2e-3, rhop=density, rho=1.2, mu=350e-6 * density, Method="Stokes")
    # A ball of oil falling in air's density through the oil: the same difference the other way.
    assert found["longest"] == pytest.approx(30e-3 / abs(speed), rel=1e-3)
    assert found["longest"] / found["shortest"] == pytest.approx(1.5)


def test_a_pump_to_a_fifth_of_an_atmosphere_is_2_95_times_as_fast() -> None:
    """(101.325 kPa / 20 kPa)^(2/3), Boyle; computed apart, three digits."""
    answer = ask("bleed", pump="20", room="101.325")
    found = values(answer)
    assert found["faster"] == pytest.approx(2.95, abs=0.005)
    assert found["pump_longest"] * found["faster"] == pytest.approx(found["longest"])
    assert "eye protection" in cautions(answer) and "dissolved" in cautions(answer)
    assert "below the air pressure" in problems("bleed", pump="110", room="101.3")["pump"]


@settings(max_examples=60, deadline=None)
@given(time=st.floats(5, 240), height=st.floats(15, 90), grade=st.floats(100, 1500))
def test_after_the_wait_it_says_what_size_just_had_the_time(
    time: float, height: float, grade: float
) -> None:
    typed = {"height": f"{height:.3f}", "oil": f"{grade:.2f}"}
    gone = values(ask("bleed", patience=f"{time:.4f}", **typed))["gone"]
    again = values(ask("bleed", bubble=f"{gone * 1e3:.9f}", **typed))
    assert again["longest"] == pytest.approx(60 * time, rel=1e-3)


def test_warm_oil_lets_go_sooner_and_a_cold_one_outside_the_law_is_told() -> None:
    cold, warm = (values(ask("bleed", warm=at))["longest"] for at in ("10", "40"))
    assert warm < cold / 1.6
    assert "How the oil changes" in stops(ask("bleed", warm="-40"))
    assert "held up by more" in cautions(ask("bleed", oil="20", bubble="3"))


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(3, "5 s"), (60, "60 s"), (61, "2 min"), (1928, "33 min"), (5400, "90 min"),
     (5401, "2 h"), (9100, "3 h"), (172801, "3 days"), (1e9, "11 575 days")],
)  # fmt: skip
def test_a_wait_is_rounded_up_to_what_a_clock_is_set_to(seconds: float, words: str) -> None:
    assert wait_words(seconds).replace("\u00a0", " ") == words


def test_oil_of_the_set_by_hand() -> None:
    """Two cylinders less shaft and parts, worked out on paper for the demo car."""
    found = values(ask("fill"))
    front = math.pi / 4 * (1.2**2 * 3.3 - 0.3**2 * 1.0) - 0.25  # mL, lengths in cm
    rear = math.pi / 4 * (1.2**2 * 4.1 - 0.3**2 * 1.4) - 0.25
    assert found["front_oil"] == pytest.approx(front * 1e-6)
    assert found["rear_oil"] == pytest.approx(rear * 1e-6)
    assert found["set"] == pytest.approx(2 * (front + rear) * 1e-6)
    assert "Front: 3.4 mL in each damper." in told(ask("fill"))


def test_what_went_in_is_noted_and_what_cannot_be_is_refused() -> None:
    assert [write.path for write in ask("fill").writes] == [
        "front.inside.held", "rear.inside.held",
    ]  # fmt: skip
    assert "no room for oil" in problems("fill", end__front__parts="20")["end.front.parts"]
    assert "thinner than the bore" in problems("fill", end__rear__shaft="15")["end.rear.shaft"]
    assert "far end" in problems("fill", end__rear__closed_at="60")["end.rear.closed_at"]


def test_air_pressed_to_half_its_room_pushes_with_one_atmosphere() -> None:
    """Boyle by hand: the stroke takes just half of the air, so p - p0 is one atmosphere."""
    half = SHAFT * 10e-3 / 0.5
    found = values(ask("gas", gas=f"{half * 1e6:.9f}", closed_at="12", stroke="22", shaft="3",
                       room="101.325"))  # fmt: skip
    assert found["force_in"] == pytest.approx(constants.atm * SHAFT, rel=1e-6)
    quick = fluids.isentropic_T_rise_compression(T1=1.0, P1=1.0, P2=2**1.4, k=1.4)
    assert found["force_in_quick"] == pytest.approx((2 * quick - 1) * constants.atm * SHAFT)


def test_air_pushes_back_from_where_the_cap_was_closed_and_friction_ends_it_sooner() -> None:
    answer = ask("gas", closed_at="10", stroke="22")
    assert "Pushed in past 10.0 mm" in told(answer)
    assert values(answer)["rebound"] == pytest.approx(12e-3)
    assert values(answer)["rebound_share"] == pytest.approx(12 / 22)
    assert values(answer)["force_out"] < 0
    held = values(ask("gas", closed_at="10", stroke="22", friction="0.05"))["rebound"]
    assert 0 < held < 12e-3


@settings(max_examples=60, deadline=None)
@given(share=st.floats(15, 90), friction=st.floats(0, 0.05))
def test_a_wanted_rebound_tells_where_to_close_the_cap(share: float, friction: float) -> None:
    typed = {"rebound_wanted": f"{share:.2f}", "friction": f"{friction:.4f}", "gas": "0.5"}
    reply = run(FORM, {"task": "gas", **typed}, Car())
    if reply.answer is None:
        assert "does not come back" in reply.problems["rebound_wanted"]
        return
    step = 0.5e-3  # of the ruler of the demo car
    found = values(reply.answer)["rebound"]
    assert found == pytest.approx(round(share, 2) / 100 * 22e-3, abs=step / 2 + 1e-6)
    assert [write.path for write in reply.answer.writes] == ["front.inside.closed_at"]


def test_where_friction_holds_it_is_that_of_a_root_finder() -> None:
    found = values(ask("gas", gas="0.5", closed_at="10", stroke="22", shaft="3", friction="0.1",
                       room="101.325"))  # fmt: skip

    def pushes(x: float) -> float:
        return constants.atm * (0.5e-6 / (0.5e-6 - SHAFT * (x - 10e-3)) - 1) * SHAFT - 0.1

    rest = optimize.brentq(pushes, 10e-3, 60e-3)
    assert found["rebound"] == pytest.approx(22e-3 - rest, rel=1e-6)


def test_too_little_air_locks_and_too_late_a_cap_gives_no_rebound() -> None:
    locked = ask("gas", gas="0.05", closed_at="2", stroke="22")
    assert "locks" in stops(locked) and "force_in" not in values(locked)
    late = ask("gas", closed_at="22", stroke="22")
    assert values(late)["rebound"] == 0 and "no rebound" in cautions(late)


def test_air_that_is_enough_on_the_bench_can_be_too_little_on_a_hot_run() -> None:
    """Of 0.15 mL a shaft of 3 mm leaves 0.065 mL when it goes 12 mm further in; 3.3 mL of oil grow
    by 3.3 mL × 0.00095 / K × 30 K = 0.094 mL, so that it locks 4 mm before."""
    typed = {"closed_at": "10", "stroke": "22", "held": "3.3", "shaft": "3"}
    hot = ask("gas", gas="0.15", **typed)
    assert not stops(hot) and "locks once all is 30 °C warmer" in cautions(hot)
    deep = 10 + (0.15 - 3.3 * 0.00095 * 30) / (SHAFT * 1e6) * 1e3
    assert f"{deep:.1f} mm" in cautions(hot).replace("\u00a0", " ")
    assert "locks once" not in cautions(ask("gas", gas="0.25", **typed))


def test_the_sheet_has_filling_and_bleeding_of_both_ends() -> None:
    fill, bleed = fill_table(Car()), bleed_table(Car())
    assert [row[0] for row in fill.rows] == ["Front", "Rear"]
    assert fill.rows[0][1].replace("\u00a0", " ") == "3.30 mL"
    front = wait_words(values(ask("bleed", warm="20", bubble="0.1"))["longest"])
    assert fill.rows[0][-1] == front
    assert front in [row[1] for row in bleed.rows if row[0].startswith("0.10")]


def test_the_table_of_what_fits_is_the_body_less_shaft_and_parts() -> None:
    """Bodies of 12 mm by 33 and 41 mm, a shaft of 3 mm, parts of 0.25 mL, by hand: the shaft takes
    pi/4 x 3^2 x 33 = 233 mm3 on its way in, of 3482 and 4387 mm3."""
    rows = ask("fill").tables[0].rows
    assert (rows[0], rows[-1]) == (("0.0", "3.48", "4.39"), ("33.0", "3.25", "4.15"))


def test_the_shaft_comes_out_in_the_time_of_a_straight_damper() -> None:
    """dV/dt = p0 A^2 (V0 - V)/(c V) from fully in to nine tenths of the way, by hand: c/(p0 A^2)
    (V0 ln 10 - 0.9 x 12 mm x A); c is the coefficient of the form for piston and oil, whose holes
    are checked there. Oil so thick that the jet is nothing."""
    typed = {"oil": "20000", "warm": "25"}
    coefficient = values(answered(PISTON_OIL, slow="1", fast="2", **typed))["slow_damping"]
    found = values(ask("gas", gas="0.5", closed_at="10", stroke="22", shaft="3", room="101.325",
                       **typed))  # fmt: skip
    by_hand = (0.5e-6 * math.log(10) - 0.9 * 12e-3 * SHAFT) * coefficient / constants.atm / SHAFT**2
    assert found["back_in"] == pytest.approx(by_hand, rel=2e-3)


def test_a_rebound_measured_tells_the_drag_and_where_to_close_then() -> None:
    """Boyle by hand: stopped 14 mm in, closed at 10, so 4 mm of shaft have squeezed 0.5 mL."""
    typed = {"gas": "0.5", "closed_at": "10", "stroke": "22", "shaft": "3", "room": "101.325"}
    answer = ask("gas", came_back="8", **typed)
    squeezed = SHAFT * 4e-3
    drag = constants.atm * squeezed / (0.5e-6 - squeezed) * SHAFT
    found = values(answer)
    assert found["drag"] == pytest.approx(drag, rel=1e-6)
    assert found["rebound"] == pytest.approx(8e-3)
    assert found["back_in"] > values(ask("gas", friction="0", **typed))["back_in"] / 2
    entered = values(ask("gas", friction=f"{drag:.9f}", **typed))
    assert found["back_in"] == pytest.approx(entered["back_in"], rel=1e-6)
    wanted = ask("gas", came_back="8", rebound_wanted="50", **typed)
    assert values(wanted)["drag"] == pytest.approx(drag, rel=1e-6)
    assert values(wanted)["rebound"] == pytest.approx(11e-3, abs=0.25e-3)
    assert "7.0 mm in" in told(wanted)


def test_a_rebound_that_the_air_cannot_give_is_refused_at_its_field() -> None:
    assert "no further than 12.0\u00a0mm" in problems("gas", came_back="15")["came_back"]
    locked = problems("gas", gas="0.05", closed_at="2", came_back="5")["came_back"]
    assert "locks" in locked and "short of fully in" in locked


def test_thicker_oil_and_drag_slow_the_shaft_down() -> None:
    usual, thick, held = (
        values(ask("gas", **typed))["back_in"]
        for typed in ({}, {"oil": "800"}, {"friction": "0.08"})
    )
    assert thick > 1.8 * usual
    assert held != usual
    assert "back_in" not in values(ask("gas", friction="1"))
