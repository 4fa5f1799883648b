"""One car, asked of every form that stands it up: the same rate, lift, preload and cross weight."""

import pytest

from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car, put
from calc.model.corners import CORNERS, ENDS, End
from calc.model.standing import stand_up
from tests.forms.asking import UNDRAWN, answered, done, value


def noted(end: End) -> Car:
    """The demo car with the motion ratio that its own drawing gives."""
    return done(answered(BY_SLUG["motion-ratio"], axle=end, holes="one"))


@pytest.mark.parametrize("end", ENDS)
def test_the_wheel_rate_and_the_ride_frequency_are_those_of_the_drawing_everywhere(
    end: End,
) -> None:
    car = noted(end)
    drawn = answered(BY_SLUG["motion-ratio"], car, axle=end, holes="one")
    preload = answered(BY_SLUG["spring-preload"], car, axle=end)
    swap = answered(BY_SLUG["spring-swap"], car, axle=end)
    ride = answered(BY_SLUG["ride-frequency"], car)
    rate, frequency = value(drawn, "wheel_rate"), value(drawn, "ride_frequency")
    axle = car.axle(end)
    assert rate > 1.03 * axle.spring_rate * axle.motion_ratio**2
    for answer, name in (
        (preload, "wheel_rate"), (swap, "wheel_rate_now"), (ride, f"{end}_wheel_rate"),
    ):  # fmt: skip
        assert value(answer, name) == pytest.approx(rate, rel=1e-9)
    for answer, name in (
        (preload, "ride_frequency"),
        (swap, "ride_frequency_now"),
        (ride, f"{end}_frequency"),
    ):
        assert value(answer, name) == pytest.approx(frequency, rel=1e-9)
    whole = answered(BY_SLUG["whole-car"], car, front_rate="", front_free="", front_solid="")
    assert value(whole, f"{end}_frequency") == pytest.approx(frequency, rel=1e-9)
    assert value(whole, f"{end}_ratio") == pytest.approx(value(ride, f"{end}_ratio"), rel=1e-9)


@pytest.mark.parametrize("car", [Car(), UNDRAWN], ids=["drawn", "undrawn"])
@pytest.mark.parametrize("end", ENDS)
def test_a_turn_lifts_alike_by_one_end_by_both_and_by_four_corners(end: End, car: Car) -> None:
    """All four collars down by one turn lift every corner as both of an end by the quick model."""
    form = BY_SLUG["collar-turns"]
    one = answered(form, car, axle=end)
    both = answered(form, car, scope="both")
    lift = value(one, "lift_per_turn")
    assert value(both, f"{end}_lift_per_turn") == pytest.approx(lift, rel=1e-9)
    assert value(one, "turns_left") == pytest.approx(value(both, f"{end}_turns_left"), rel=1e-9)
    turns = {f"corner.{corner}.turns": "1" for each in ENDS for corner in each.corners}
    loads = {f"corner.{corner}.load": "400" for each in ENDS for corner in each.corners}
    four = answered(form, car, scope="corners", ask="height", **turns, **loads)
    here = {"load_left": "400", "load_right": "400"}
    lift = value(answered(form, car, axle=end, **here), "lift_per_turn")
    for corner in end.corners:
        rise = value(four, f"{corner}_height_after") - car.axle(end).ride_height
        assert rise == pytest.approx(lift, rel=1e-9)


def test_the_cross_weight_and_the_preload_are_one_figure_each() -> None:
    still = answered(BY_SLUG["collar-turns"], scope="corners", ask="height")
    cross = stand_up(Car()).shares.cross
    assert value(still, "cross_weight_after") == pytest.approx(cross, rel=1e-9)
    assert value(answered(BY_SLUG["corner-loads"]), "cross_weight") == pytest.approx(cross)
    assert value(answered(BY_SLUG["car"]), "cross_weight") == pytest.approx(cross)
    preload = value(answered(BY_SLUG["spring-preload"]), "preload")
    assert preload == pytest.approx(stand_up(Car()).seats[0].preload, rel=1e-12)
    whole = answered(BY_SLUG["whole-car"], front_rate="", front_free="", front_solid="")
    assert value(whole, "front_preload") == pytest.approx(preload, rel=1e-9)


def test_the_body_predicted_from_the_record_is_the_one_of_the_forms() -> None:
    """Four corners turned by the form, and the same turns asked of the record alone."""
    turns = {"front_left": 1.0, "front_right": -0.5, "rear_left": 0.25, "rear_right": 0.0}
    typed = {f"corner.{corner}.turns": str(n) for corner, n in turns.items()}
    answer = answered(BY_SLUG["collar-turns"], scope="corners", ask="height", **typed)
    then = stand_up(Car()).turned(list(turns.values()))
    assert value(answer, "cross_weight_after") == pytest.approx(then.shares.cross, rel=1e-9)
    written = {write.path: write.value for write in answer.writes}
    for end in ENDS:
        assert written[f"{end}.droop_length"] == pytest.approx(
            sum(then.droop_lengths[corner.place] for corner in end.corners) / 2, rel=1e-12
        )


def test_a_load_sinks_the_car_by_the_form_as_far_as_by_the_record() -> None:
    """On its tyres, no collar touched: 200 g over the rear axle, left of the middle."""
    car = put(put(UNDRAWN, "front.tyre_rate", 2000.0), "rear.tyre_rate", 1000.0)
    typed = {"change": "load", "added": "200 g", "along": "30 mm", "across": "20 mm"}
    answer = answered(BY_SLUG["whole-car"], car, keep="preload", **typed)
    then = stand_up(car).loaded(0.2, (30e-3, 20e-3))
    for corner in CORNERS:
        rise = then.rises[corner.place]
        assert value(answer, f"{corner}_rise") == pytest.approx(rise, abs=1e-7)
