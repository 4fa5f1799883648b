"""Ways in which a number that was not the user's once stood in an answer, each played again."""

import json
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from calc.answering.answer import Answer
from calc.asking import record
from calc.asking.entry import Number, Refused
from calc.forms.catalogue import BY_SLUG
from calc.kept import deeds, link, log
from calc.kept.chapters import chapters
from calc.kept.deeds import Deed, carried_out
from calc.kept.doing import assumed, done, measure_again, saved
from calc.kept.entry_words import done_words
from calc.model.car import (
    Bottle,
    Car,
    demo,
    empty,
    from_json,
    is_entered,
    is_known,
    put,
    singles,
    to_json,
)
from calc.model.corners import CORNERS
from calc.model.origin import Origin
from calc.replying.reading import read, run
from calc.replying.resting import not_known, of_record, said_origins, still_missing
from calc.units import METRIC, WEIGHT_UNCERTAINTY, entry_text
from tests.owned import assumed_throughout, owned

NOW = 1_700_000_000.0
# Bottles of the owner that thin and thicken any oil of the demo.
BOTTLES = (Bottle("thin", 100e-6, 50e-6), Bottle("thick", 1000e-6, 50e-6))


NEW_SPRING = {"new_rate": "0.9", "new_free": "38", "new_solid": "13"}
STIFFER = {
    "front_rate": "0.76",
    "front_free": "40",
    "front_solid": "14",
    "speed": "50",
    "warm": "22",
}


def answered(slug: str, typed: dict[str, str], car: Car) -> Answer:
    reply = run(BY_SLUG[slug], typed, car)
    assert reply.answer is not None, reply.problems
    return reply.answer


def carry_out(slug: str, typed: dict[str, str], car: Car) -> Car:
    """Type, press "done": what the page does with the car."""
    form = BY_SLUG[slug]
    car = carried_out(car, saved(form, typed, car, NOW))
    return carried_out(car, done(run(form, typed, car).answer, car, NOW, form.slug))


def assuming(slug: str, typed: dict[str, str]) -> Car:
    """Nobody knows anything of the car but what is typed; the rest is what is usual."""
    form, car = BY_SLUG[slug], empty("New")
    return carried_out(car, assumed(form, typed, car, NOW))


def test_a_name_of_ones_own_brings_no_invented_number_along() -> None:
    car = carried_out(
        empty("My car"), saved(BY_SLUG["car"], {"name": "Blue"}, empty("My car"), 1.0)
    )
    assert car.name == "Blue" and not car.demo
    assert [path for path in singles() if is_known(car, path)] == []
    assert car.bottles == car.springs == ()


def test_a_friends_half_known_car_arrives_half_known() -> None:
    """Four values measured; what else the record holds is nobody's, before the link and after."""
    car = empty("Friend's")
    for path, value in (("front.pitch", 75e-5), ("front.ride_height", 0.021)):
        car = put(car, path, value, Origin("measured", NOW))
    arrived = link.unpack(link.pack(car))
    assert {path for path in singles() if is_known(arrived, path)} == {
        "front.pitch",
        "front.ride_height",
    }
    reply = run(BY_SLUG["collar-turns"], {"wanted_height": "23"}, arrived)
    assert reply.answer is None and "motion_ratio" in reply.open and "pitch" not in reply.open


@pytest.mark.parametrize("rest", ["left out", "emptied"])
def test_three_runs_of_ones_own_are_compared_and_no_other(rest: str) -> None:
    """Against the means of the times alone: the force is the same, so damping goes with time."""
    left, right = (3.0, 3.1, 3.05), (3.5, 3.6, 3.55)
    typed = {"task": "sides", "mass": "30", "distance": "20"}
    for side, times in (("left", left), ("right", right)):
        typed |= {f"{side}.{n}.time": str(time) for n, time in enumerate(times, 1)}
        if rest == "emptied":
            typed |= {f"{side}.{n}.time": "" for n in range(4, 13)}
    answer = answered("drop-test", typed, assuming("drop-test", typed))
    shown = {quantity.name: quantity.value for quantity in answer.quantities}
    ratio = np.mean(left) / np.mean(right) - 1
    assert shown["difference"] == pytest.approx(ratio, rel=1e-12)


def test_three_readings_of_ones_own_make_the_rate() -> None:
    """Against the line that numpy lays through them."""
    lengths, masses = (40.0, 35.2, 30.0), (0.0, 380.0, 800.0)
    typed = {"known": "readings"}
    for n, (length, mass) in enumerate(zip(lengths, masses, strict=True), 1):
        typed |= {f"readings.{n}.length": str(length), f"readings.{n}.mass": str(mass)}
    answer = answered("spring-rate", typed, empty("New"))
    slope = np.polyfit(np.array(lengths) * 1e-3, np.array(masses) * 1e-3 * 9.80665, 1)[0]
    shown = {quantity.name: quantity.value for quantity in answer.quantities}
    assert shown["rate"] == pytest.approx(-slope, rel=1e-9)


def test_a_spring_that_is_measured_moves_nothing_and_one_that_is_clipped_does() -> None:
    """Knowing it better lifts no car: height and loads stay as somebody has seen them. The force
    line is numpy's of the test above."""
    car = owned()
    typed = {"known": "readings", "goes": "front"}
    for n, (length, mass) in enumerate(((40.0, 0.0), (35.2, 380.0), (30.0, 800.0)), 1):
        typed |= {f"readings.{n}.length": str(length), f"readings.{n}.mass": str(mass)}
    measured = carry_out("spring-rate", typed, car)
    changed = {path for path in singles() if record.get(measured, path) != record.get(car, path)}
    assert changed == {"front.spring_rate", "front.spring_free"}
    assert measured.origins["front.ride_height"] == car.origins["front.ride_height"]
    assert measured.origins["front.spring_free"].u
    cut = {"known": "clipped", "whole_rate": "0.65", "whole_free": "40", "active": "6"}
    cut |= {"whole_wire": "1.2", "clipped": "1", "bent": "0.75"}
    clipped = carry_out("spring-rate", {**cut, "goes": "front"}, car)
    assert clipped.origins["front.ride_height"].how == "predicted"


@pytest.mark.parametrize("known", ["label", "readings", "wire", "series", "clipped"])
def test_a_spring_goes_into_the_list_and_can_be_taken_out_again(known: str) -> None:
    """Each way to a rate: what that does not find of the spring is asked for."""
    car, form = demo(), BY_SLUG["spring-rate"]
    typed = {"known": known, "goes": "list", "spring_name": "three dots"}
    answer = answered("spring-rate", typed, car)
    deed = deeds.built(deeds.plain(done(answer, car, NOW, form.slug)), "log.deed")
    after = carried_out(car, deed)
    assert deeds.taken_out(after, deeds.replaced(car, after)) == car
    assert replace(after, springs=car.springs) == car, "the car stands as it stood"
    *_, spring = after.springs
    rate = next(one for one in answer.quantities if one.name == "rate")
    assert (spring.name, spring.rate) == ("three dots", rate.value)
    assert spring.solid < spring.free
    given, _ = read(BY_SLUG["car"], {}, after)
    assert given.u["springs.5.rate"] == pytest.approx(rate.u)
    _, entry = log.happened(car, log.Moment("id", "car", NOW, 0.0), log.DONE, deed)
    assert "(three dots) in the list" in done_words(entry, after, [entry], METRIC)


def test_a_full_list_of_springs_takes_no_more() -> None:
    full = replace(demo(), springs=demo().springs[:1] * record.MOST)
    typed = {"known": "series", "goes": "list"}
    with pytest.raises(Refused, match="The list of springs is full"):
        carry_out("spring-rate", typed, full)


def test_a_spring_that_no_list_can_hold_is_said_so() -> None:
    """Clipped it is (5.5 - 3 x 0.3) x 5.75 / 7 + 3 x 0.3 = 4.68 mm long, and none is below 5."""
    tiny = {"known": "clipped", "goes": "list", "whole_free": "5.5", "whole_wire": "0.3"}
    answer = answered("spring-rate", tiny, demo())
    assert answer.listed == ()
    assert any("This cannot be carried out. Free length" in one.text for one in answer.cautions)


@pytest.mark.parametrize("slug", ["hotter", "oil-temperature"])
def test_oil_that_was_corrected_is_not_corrected_again(slug: str) -> None:
    """The oil is right at the new temperature once it is in: the same page then changes nothing."""
    car = replace(owned(), bottles=BOTTLES)
    typed = {"now": "38"}
    before = answered(slug, typed, car)
    assert before.poured
    filled = carry_out(slug, typed, car)
    assert filled.front.oil != car.front.oil
    again = carry_out(slug, typed, filled)
    assert again.front.oil == pytest.approx(filled.front.oil, rel=1e-3)
    if slug == "hotter":
        assert again.rear.oil == pytest.approx(filled.rear.oil, rel=1e-3)


def test_corner_loads_that_were_set_are_not_set_again() -> None:
    car = put(owned(), "corners.front_left.load", 0.42, Origin("measured", NOW))
    turned = carry_out("corner-loads", {}, car)
    assert any(turned.corner(c).collar != car.corner(c).collar for c in CORNERS)
    again = done(run(BY_SLUG["corner-loads"], {}, turned).answer, turned, NOW, "corner-loads")
    assert again == Deed(when=NOW, of="corner-loads"), "pressed twice it is done once"
    texts = [step.text for step in answered("corner-loads", {}, turned).steps]
    assert any("even" in text or "Leave" in text for text in texts), texts


@pytest.mark.parametrize(
    ("slug", "typed", "path"),
    [
        ("collar-turns", {"wanted_height": "24.5"}, "front.ride_height"),
        ("collar-turns", {"wanted_height": "24.5"}, "corners.front_left.load"),
        ("corner-loads", {"corner.front_left.load": "400"}, "corners.front_left.load"),
        ("corner-loads", {"corner.front_left.load": "400"}, "front.ride_height"),
        ("spring-swap", NEW_SPRING, "front.ride_height"),
        ("whole-car", STIFFER, "front.ride_height"),
    ],
)
def test_a_height_or_load_after_work_is_predicted_and_asked_for(
    slug: str, typed: dict[str, str], path: str
) -> None:
    after = carry_out(slug, typed, owned())
    source = after.origins[path]
    assert source.how == "predicted" and source.of == slug and source.when == NOW


@pytest.mark.parametrize("known", ["nothing", "assumed", "predicted"])
def test_a_number_is_kept_even_where_the_record_holds_it_unmeasured(known: Any) -> None:
    """A record has a number at each path, known or not; 1 mm of thread pitch is often that one."""
    form, bare = BY_SLUG["car"], empty("New")
    if known != "nothing":
        for path in singles():
            bare = put(bare, path, record.get(bare, path), Origin(known, NOW, u=0.0))
    tried = 0
    for _, name, cell in form.cells():
        path = cell.car
        if not isinstance(cell, Number) or path not in singles() or not record.get(bare, path):
            continue
        text = entry_text(record.get(bare, path), cell.kind)
        car = carried_out(bare, saved(form, {name: text}, bare, NOW + 1))
        assert is_entered(car, path), path
        again = saved(form, {name: text}, car, NOW + 2)
        assert again.learned == {}, f"{path} is known now: nothing is new"
        tried += 1
    assert tried > 100


def test_readings_that_work_has_made_worthless_are_kept_as_those_of_before() -> None:
    """A spring is swapped on a car of which too little is known to say how it stands then: the form
    asks for the scales by name, says what they showed, and assumes nothing in their place."""
    form, car = BY_SLUG["spring-swap"], empty("Mine")
    typed = NEW_SPRING | {
        "spring_rate": "0.55", "spring_free": "58", "spring_solid": "18", "droop_length": "50",
        "motion_ratio": "0.65", "load_left": "410", "load_right": "405",
    }  # fmt: skip
    car = carried_out(car, saved(form, typed, car, NOW))
    car = carried_out(car, assumed(form, {}, car, NOW))
    after = carry_out("spring-swap", NEW_SPRING, car)
    assert after.front.spring_rate == pytest.approx(900.0)
    path = "corners.front_left.load"
    assert not is_known(after, path) and after.origins[path].how == "stale"
    assert "load on the scale" in measure_again(car, after)
    taken = carried_out(after, assumed(form, NEW_SPRING, after, NOW))
    reply = run(form, NEW_SPRING, taken)
    said = not_known(form, reply, METRIC)
    assert [(one.name, one.before.replace("\u00a0", " ")) for one in said] == [
        ("load_left", "410 g before the work"),
        ("load_right", "405 g before the work"),
    ]
    beside = dict(said_origins(form, reply, METRIC))
    assert [beside[one.name] for one in said] == [one.before for one in said]
    assert still_missing(said) == (
        "Measure again: Load on the left scale; Load on the right scale."
    )
    arrived = link.unpack(link.pack(after))
    assert not is_known(arrived, path) and path not in arrived.origins
    again = carried_out(taken, saved(form, {"load_left": "415", "load_right": "400"}, taken, NOW))
    assert is_entered(again, path)


@pytest.mark.parametrize(
    ("slug", "typed"),
    [
        ("spring-swap", {"new_rate": "{rate}", "new_free": "38", "new_solid": "13"}),
        ("whole-car", STIFFER | {"front_rate": "{rate}", "front_free": "38"}),
        ("spring-rate", {"known": "label", "label_rate": "{rate}", "goes": "front"}),
    ],
)
def test_what_is_typed_of_a_fitted_part_is_no_prediction(slug: str, typed: dict[str, str]) -> None:
    """A rate without ± is that of the label; with one somebody has measured it (k = 2)."""
    told: Any
    for rate, told in (("0.9", ("label", None)), ("0.9 ± 0.01", ("measured", 5.0))):
        said = {name: text.format(rate=rate) for name, text in typed.items()}
        origins = carry_out(slug, said, owned()).origins
        source = origins["front.spring_rate"]
        assert (source.how, source.u and pytest.approx(source.u)) == told
        assert slug == "spring-rate" or origins["front.spring_free"].how == "measured"


def test_mounting_holes_that_change_places_are_as_sure_as_before() -> None:
    """The damper moves, the holes do not: each goes to the other's place with its origin."""
    car = owned()
    typed = {"other_upper_out": "52 ± 0.3", "other_upper_up": "91"}
    after = carry_out("motion-ratio", typed, car)
    fitted, left = after.origins["front.arm.upper_out"], after.origins["front.arm.other_upper_out"]
    assert after.front.arm.upper_out == pytest.approx(52e-3)
    assert (fitted.how, fitted.when, fitted.u) == ("measured", NOW, pytest.approx(0.15e-3))
    assert left == car.origins["front.arm.upper_out"] and left.how == "measured"
    assert after.origins["front.motion_ratio"].how == "predicted"
    back = carry_out("motion-ratio", {}, after)
    assert (
        back.front.arm
        == carried_out(car, saved(BY_SLUG["motion-ratio"], typed, car, NOW)).front.arm
    )
    assert back.origins["front.arm.upper_out"] == left


def test_a_pair_that_stands_for_one_spring_is_worked_out() -> None:
    typed = NEW_SPRING | {
        "new_is": "pair", "with_rate": "2", "with_free": "15", "with_solid": "6",
    }  # fmt: skip
    after = carry_out("spring-swap", typed, owned())
    assert after.origins["front.spring_rate"].how == "predicted"


def test_no_collar_is_said_to_move_where_no_turns_are_given() -> None:
    typed = {
        "new_rate": "0.8", "new_free": "40", "new_solid": "14",
        "load_left": "400", "load_right": "400",
    }  # fmt: skip
    answer = answered("spring-swap", typed, assuming("spring-swap", typed))
    assert answer.steps[0].text.startswith("Measure first")
    assert not any("collar moves" in caution.text for caution in answer.cautions)


def test_nothing_is_turned_while_not_even_the_way_is_sure() -> None:
    """Two springs that are known on a car that is not: the motion ratio alone could turn the turns
    round."""
    typed = {
        "spring_rate": "0.55", "spring_free": "58", "spring_solid": "18", "load_left": "700",
        "load_right": "700", "new_rate": "0.72", "new_free": "51", "new_solid": "18",
    }  # fmt: skip
    ratio = BY_SLUG["spring-swap"].by_name["motion_ratio"].said
    answer = answered("spring-swap", typed, assuming("spring-swap", typed))
    (step,) = answer.steps
    assert step.text == f"Measure first: {ratio}."
    assert "not even the direction is certain" in step.gives
    assert answer.writes == () and [c.at for c in answer.cautions if c.at] == ["motion_ratio"]
    assert not any(c.stop for c in answer.cautions), "what is only usual stops nothing"
    typed |= {"droop_length": "52", "pitch": "0.75", "motion_ratio": "0.65", "unsprung": "70"}
    known = answered("spring-swap", typed, assuming("spring-swap", typed))
    assert len(known.steps) > 1 and known.writes


@pytest.mark.parametrize("first", ["assumed", "saved"])
def test_nothing_assumed_of_a_spring_contradicts_its_free_length(first: str) -> None:
    """A spring of 20 mm has a solid length of a few millimetres, and its damper a stroke that it
    has room for; whether the free length came before or after what was assumed."""
    form = BY_SLUG["spring-preload"]
    typed = {"spring_free": "20", "spring_rate": "2.6", "load_left": "350", "load_right": "340"}
    deeds = [assumed, saved] if first == "assumed" else [saved, assumed]
    car = empty("Touring car")
    for deed in deeds:
        car = carried_out(car, deed(form, typed, car, NOW))
        seen = run(form, typed, car).filled
        if car.origins.keys() >= {"front.spring_solid"}:
            assert seen["spring_solid"] == "7"
    axle = car.front
    assert axle.spring_free == pytest.approx(20e-3)
    assert axle.spring_solid == pytest.approx(7e-3)
    assert 19e-3 <= axle.droop_length <= 20e-3
    assert axle.droop_length - axle.stroke > axle.spring_solid
    assert all(car.origins[f"front.{name}"].how == "assumed" for name in ASSUMED_OF_SPRING)
    same = link.unpack(link.pack(car))
    assert run(form, {}, same).filled == run(form, {}, car).filled


ASSUMED_OF_SPRING = ("spring_solid", "droop_length", "stroke")


def test_four_scales_give_the_cross_weight_before_anything_else_is_known() -> None:
    """Cross weight: front left and rear right of the whole (definition). With usual springs nothing
    is said of a droop stop, which such a car would stand on by chance."""
    masses = {"front_left": 412, "front_right": 396, "rear_left": 512, "rear_right": 548}
    typed = {f"corner.{corner}.load": str(mass) for corner, mass in masses.items()}
    reply = run(BY_SLUG["corner-loads"], typed, empty("New"))
    assert reply.answer is None and reply.open and reply.early is not None
    shown = {q.name: q.value for q in reply.early.quantities}
    assert shown["cross_weight"] == pytest.approx((412 + 548) / sum(masses.values()))
    assert shown["left_share"] == pytest.approx((412 + 512) / sum(masses.values()))
    assert reply.early.writes == ()
    answer = answered("corner-loads", typed, assuming("corner-loads", typed))
    assert answer.steps[0].text == reply.early.steps[0].text == "Cross weight now 51.4%."
    assert not any("topped out" in caution.text for caution in answer.cautions)


def test_a_corner_on_its_droop_stop_is_never_ordered_further_down() -> None:
    """It comes off the stop first: what its collar is told agrees with what is said of it."""
    car = put(owned(), "rear.droop_length", 0.045, Origin("measured", NOW))
    answer = answered("corner-loads", {}, car)
    first = answer.steps[0]
    assert first.text.startswith("Topped out") and "rear left" in first.gives
    turned = [step.text for step in answer.steps if "collar:" in step.text]
    assert [text.partition(":")[0] for text in turned] == [
        "Rear left collar",
        "Rear right collar",
    ]
    assert all(text.endswith("up.") for text in turned)


@pytest.mark.parametrize("keep", ["height", "preload"])
def test_a_load_that_is_put_in_stays_in_the_record_and_lets_the_car_down(keep: str) -> None:
    """60 g more on the scales in all (balance of forces), at the heights that the answer says."""
    car = demo()
    typed = {"change": "load", "added": "60", "keep": keep}
    says = answered("whole-car", typed, car)
    after = carried_out(car, done(says, car, NOW, "whole-car"))

    def weight(one: Car) -> float:
        return sum(one.corner(corner).load for corner in CORNERS)

    assert weight(after) - weight(car) == pytest.approx(60e-3)
    assert all(after.origins[f"corners.{corner}.load"].how == "predicted" for corner in CORNERS)
    sank = car.front.ride_height - after.front.ride_height
    if keep == "preload":
        assert sank > 0.2e-3
        (height,) = (w.value for w in says.writes if w.path == "front.ride_height")
        assert after.front.ride_height == pytest.approx(height)
    else:
        assert sank == pytest.approx(0, abs=0.2e-3)


@pytest.mark.parametrize("car", [owned(), assumed_throughout(owned()), empty("New")])
def test_chapters_and_the_car_count_the_same(car: Car) -> None:
    """What is only assumed is known nowhere."""
    whole = of_record(BY_SLUG["car"], read(BY_SLUG["car"], {}, car)[1])
    assert sum(chapter.known for chapter in chapters(car)) == whole.known


def by_weight() -> Car:
    """A car whose owner has noted two lines of weight numbers: 35 wt is 435 cSt."""
    scale = {"weight_scale.slope": 15.0, "weight_scale.offset": -90.0}
    car = owned()
    for path, value in scale.items():
        car = put(car, path, value, Origin("measured", NOW))
    return car


@pytest.mark.parametrize(
    ("name", "typed", "u"),
    [
        ("bottles.1.viscosity", "35 wt", WEIGHT_UNCERTAINTY * 435e-6),
        ("bottles.1.viscosity", "435 ± 40 cSt", 20e-6),
        ("springs.2.rate", "0.6 ± 0.05", 25.0),
    ],
)
def test_how_sure_a_bottle_or_a_spring_is_stays_with_it(name: str, typed: str, u: float) -> None:
    """Half of what stands behind the ± (coverage factor 2, JCGM 100:2008, 6.2.1), or what a weight
    number leaves; a number typed over it without ± is as sure as its label."""
    form = BY_SLUG["car"]
    car = by_weight()
    car = carried_out(car, saved(form, {name: typed}, car, NOW))
    car = from_json(json.loads(json.dumps(to_json(car))))
    car = link.unpack(link.pack(car))
    given, _ = read(form, {}, car)
    assert given.u[name] == pytest.approx(u)
    assert "±" in dict(said_origins(form, run(form, {}, car), METRIC))[name]
    renamed = carried_out(car, saved(form, {f"{name.rpartition('.')[0]}.name": "x"}, car, NOW))
    assert read(form, {}, renamed)[0].u[name] == pytest.approx(u)
    plain = carried_out(car, saved(form, {name: "0.5"}, car, NOW)) if "rate" in name else None
    assert plain is None or read(form, {}, plain)[0].u[name] == pytest.approx(0.03 * 500)


@pytest.mark.parametrize("name", ["end.front.spring_rate", "springs.1.rate"])
def test_how_sure_a_number_is_can_be_said_later(name: str) -> None:
    """The number is the very one that the record has: only its ± is new, and is not lost."""
    form, car = BY_SLUG["car"], owned()
    first = carried_out(car, saved(form, {name: "0.7"}, car, NOW))
    typed = {name: "0.7 ± 0.02"}
    assert run(form, typed, first).keepable == (name,)
    after = carried_out(first, saved(form, typed, first, NOW))
    assert read(form, {}, after)[0].u[name] == pytest.approx(0.01e3)
    assert run(form, typed, after).keepable == ()
    assert run(form, {name: "0.7"}, after).keepable == ()


def test_oil_by_its_weight_is_read_off_a_label() -> None:
    car = by_weight()
    car = carried_out(car, saved(BY_SLUG["car"], {"end.rear.oil": "35 wt"}, car, NOW))
    source = car.origins["rear.oil"]
    assert car.rear.oil == pytest.approx((15 * 35 - 90) * 1e-6)
    assert source.how == "label"
    assert source.u == pytest.approx(WEIGHT_UNCERTAINTY * car.rear.oil)
