"""The gauge against the prediction: what differs is said, the ratio that explains it found."""

import math
import random
from itertools import accumulate, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calc.kept import log
from calc.kept.deeds import Deed
from calc.kept.lesson_views import lesson_views
from calc.kept.lessons import Lesson, lessons, weighed
from calc.kept.log import Entry, Moment
from calc.model.car import Car, from_json, put, to_json
from calc.model.corners import CORNERS, ENDS, End
from calc.model.origin import Origin
from calc.model.standing import SpringSize, points_of, stack_of, stand_up
from calc.units import METRIC, NBSP, STANDARD_GRAVITY
from tests.owned import owned

NOW = 1_700_000_000.0
OF_PITCH = 0.005
"""Relative standard uncertainty of a pitch measured over ten turns, as the record has it."""


def season(
    true_ratio: float,
    turns: list[float],
    errors: list[float] | None = None,
    gauge: float = 0.02e-3,
    record: Car | None = None,
) -> tuple[Car, list[Entry]]:
    """Both front collars turned and the height measured, again and again, on a car whose real
    motion ratio is another than its record's. The real lift is pitch / ratio of the whole end,
    as for an end that is turned on both sides alike."""
    car = from_json(to_json(record or owned()))
    entries = []
    for n, turn in enumerate(turns):
        before = car.front.ride_height
        at = Moment(f"t{n}", "car", NOW + 2 * n, 0.0)
        both = Deed(turns=dict.fromkeys(End.FRONT.corners, turn), when=at.time, of="log")
        car, entry = log.happened(car, at, log.DONE, both)
        predicted = car.front.ride_height - before
        real = predicted * car.front.motion_ratio / true_ratio
        error = errors[n] if errors else 0.0
        at = Moment(f"m{n}", "car", NOW + 2 * n + 1, 0.0)
        source = Origin("measured", at.time, u=gauge)
        learned = Deed(learned={"front.ride_height": (before + real + error, source)})
        car, told = log.happened(car, at, log.ENTERED, learned)
        entries += [entry, told]
    return car, entries


@given(
    ratio=st.floats(0.45, 0.95),
    # Further down the car would hang at full droop, where a turn lifts it no more.
    turns=st.lists(st.sampled_from([-2.0, -1.0, 1.0, 1.5, 2.0]), min_size=1, max_size=6).filter(
        lambda turns: max(accumulate(turns)) <= 6
    ),
)
@settings(max_examples=60, deadline=None)
def test_the_true_ratio_is_found(ratio: float, turns: list[float]) -> None:
    car, entries = season(ratio, turns)
    (lesson,) = lessons(car, entries)
    assert lesson.end is End.FRONT and 1 <= len(lesson.seen) <= len(turns)
    for offer in lesson.offers:
        assert offer.name == "motion_ratio" and offer.count == len(lesson.seen)
        assert offer.value == pytest.approx(ratio, rel=1e-9)
    off = abs(ratio - car.front.motion_ratio)
    share = off / (2 * math.hypot(doubt_of_ratio(lesson, ratio), ratio * OF_PITCH))
    # A doubt of an eighth moves the ratio further down than up: no exact border between the two.
    assert 0.95 < share < 1.05 or bool(lesson.offers) == (share > 1)


def doubt_of_ratio(lesson: Lesson, ratio: float) -> float:
    """By moving each measured rise and looking what the best ratio does (JCGM 100:2008, 5.1.3),
    the best one of a line through 0 being found by trying, not by its formula."""
    lifts = [0.65 * one.predicted for one in lesson.seen]
    rises = [one.measured for one in lesson.seen]

    def best(rises: list[float]) -> float:
        def miss(share: float) -> float:
            return sum((y - share * x) ** 2 for x, y in zip(lifts, rises, strict=True))

        found: float = minimize_scalar(miss, bracket=(0.5 / ratio, 2 / ratio)).x
        return 1 / found

    total = 0.0
    for n, one in enumerate(lesson.seen):
        moved = [y + one.u_measured * (n == k) for k, y in enumerate(rises)]
        less = [y - one.u_measured * (n == k) for k, y in enumerate(rises)]
        total += ((best(moved) - best(less)) / 2) ** 2
    return total**0.5


def test_more_that_was_seen_is_surer() -> None:
    """By the root of the number of times, all being alike (JCGM 100:2008, 4.2.3); the pitch is the
    same each time."""
    cars = [season(0.5, [2.0, -2.0] * n) for n in (1, 4)]
    (few,), (many,) = (lessons(car, entries[2:]) for car, entries in cars)
    assert len(many.seen) == 7 * len(few.seen)
    seen = [
        (offer.u**2 - (offer.value * OF_PITCH) ** 2) ** 0.5
        for offer in (few.offers[0], many.offers[0])
    ]
    assert seen[0] / seen[1] == pytest.approx(7**0.5, rel=0.02)


def unmeasured(**assumed: tuple[float, float]) -> Car:
    """A car with only assumed values at its front end: (value, standard uncertainty)."""
    car = owned()
    for name, (value, u) in assumed.items():
        car = put(car, f"front.{name}", value, Origin("assumed", u=u))
    return car


RATIO, PITCH = (0.7, 0.173), (1e-3, 0.29e-3)


def test_one_height_says_more_than_an_assumed_ratio_and_pitch() -> None:
    """1 1/2 turns have lifted the car by 1.6 mm, 2.14 mm being predicted: 1.6 / 1.5 = 1.07 mm for
    each turn, by a gauge that reads to 0.5 mm (u = 0.5 / √12, twice) and 0.4 mm of friction."""
    car = unmeasured(motion_ratio=RATIO, pitch=PITCH)
    car, entries = season(1.5 / 1.6, [1.5], gauge=0.5e-3 / 12**0.5, record=car)
    (lesson,) = lessons(car, entries)
    assert lesson.last.predicted == pytest.approx(1.5e-3 / 0.7) and not lesson.last.is_off
    (offer,) = lesson.offers
    of_turns = math.hypot(0.5e-3 / 6**0.5, 0.4e-3 / 6**0.5) / 1.6e-3
    assert offer.name == "motion_ratio" and offer.value == pytest.approx(1.5 / 1.6)
    assert offer.per_turn is not None
    assert offer.per_turn == pytest.approx((1.6e-3 / 1.5, 1.6e-3 / 1.5 * of_turns))
    assert offer.u == pytest.approx(offer.value * math.hypot(of_turns, 0.29))
    learned = {"front.motion_ratio": (offer.value, Origin("measured", NOW + 100, u=offer.u))}
    at = Moment("learned", "car", NOW + 100, 0.0)
    car, entry = log.happened(car, at, log.ENTERED, Deed(learned=learned))
    more, after = measured_again(car, 1.5 / 1.6, 1.5, NOW + 200)
    (again,) = lessons(after, [*entries, entry, *more])
    assert again.offers == (), "the pitch is not found by a ratio that rests on it"


def test_where_no_ratio_gives_it_the_pitch_is_offered_that_was_assumed_too() -> None:
    """1 1/2 turns up let the car down by 1.4 mm, 0.93 mm for each: with the pitch assumed at 1 mm
    that is a ratio of 1.07, which no car has, but with the ratio assumed a pitch of 0.65 mm."""
    car = unmeasured(motion_ratio=RATIO, pitch=PITCH)
    car, entries = season(1.5 / 1.4, [-1.5], gauge=0.5e-3 / 12**0.5, record=car)
    (lesson,) = lessons(car, entries)
    assert not lesson.last.is_off
    (offer,) = lesson.offers
    assert offer.name == "pitch" and offer.value == pytest.approx(1.4e-3 / 1.5 * 0.7)
    of_turns = math.hypot(0.5e-3 / 6**0.5, 0.4e-3 / 6**0.5) / 1.4e-3
    assert offer.u == pytest.approx(offer.value * math.hypot(of_turns, 0.173 / 0.7))
    learned = {"front.pitch": (offer.value, Origin("measured", NOW + 100, u=offer.u))}
    at = Moment("learned", "car", NOW + 100, 0.0)
    car, entry = log.happened(car, at, log.ENTERED, Deed(learned=learned))
    more, after = measured_again(car, 0.7, 1.5, NOW + 200)
    (again,) = lessons(after, [*entries, entry, *more])
    assert after.front.ride_height - car.front.ride_height == pytest.approx(1.4e-3)
    assert again.offers == (), "the ratio is not found by a pitch that rests on it"


def test_what_was_seen_before_the_pitch_was_put_right_teaches_by_the_right_one() -> None:
    """A ratio of 0.5 measured as well as its pitch, which had been entered as double."""
    car = put(owned(), "front.motion_ratio", 0.6, Origin("measured", u=1e-3))
    pitch = car.front.pitch
    wrong = put(car, "front.pitch", 2 * pitch, Origin("measured", u=1e-6))
    # At half the pitch the same turns lift half as far, as on twice the ratio.
    wrong, entries = season(1.0, [1.0, -1.0], record=wrong)
    learned = {"front.pitch": (pitch, Origin("measured", NOW + 100, u=1e-6))}
    at = Moment("learned", "car", NOW + 100, 0.0)
    car, entry = log.happened(wrong, at, log.ENTERED, Deed(learned=learned))
    more, car = measured_again(car, 0.5, 1.0, NOW + 200)
    (lesson,) = lessons(car, [*entries, entry, *more])
    ratio = next(offer for offer in lesson.offers if offer.name == "motion_ratio")
    assert ratio.value == pytest.approx(0.5, rel=0.02) and ratio.count == 3


def test_an_assumed_pitch_is_found_by_a_measured_ratio() -> None:
    car = unmeasured(pitch=PITCH)
    assert car.front.motion_ratio == 0.65
    car, entries = season(0.65 / 0.75, [2.0], record=car)
    (offer,) = lessons(car, entries)[0].offers
    assert offer.name == "pitch" and offer.value == pytest.approx(0.75e-3)
    (told,) = lesson_views(car, entries, METRIC)[0].offers
    assert told.use == "Use that pitch"
    assert "would give that. 1.00 mm was only assumed." in told.says.replace(NBSP, " ")


def test_a_height_that_is_less_sure_than_what_is_usual_offers_nothing() -> None:
    car = unmeasured(motion_ratio=RATIO)
    car, entries = season(0.65, [1.0], gauge=0.5e-3, record=car)
    (lesson,) = lessons(car, entries)
    assert lesson.offers == ()


def test_a_car_that_is_as_its_record_says_teaches_nothing_new() -> None:
    car, entries = season(0.65, [1.0, -1.0], [0.01e-3, -0.01e-3])
    (lesson,) = lessons(car, entries)
    assert not lesson.offers and not lesson.last.is_off


def test_a_height_far_off_is_said() -> None:
    car, entries = season(0.45, [2.0])
    (lesson,) = lessons(car, entries)
    assert lesson.last.is_off and lesson.offers
    assert lesson.last.measured > lesson.last.predicted


def test_the_doubt_of_the_height_before_is_in_the_measured_rise_alone() -> None:
    """Both rises start from it, so the predicted one has only the doubt of what lifts the car, by
    hand: 0.02 of a ratio of 0.65 and 0.5 % of the pitch."""
    car = put(owned(), "front.motion_ratio", 0.65, Origin("measured", u=0.02))
    car = put(car, "front.ride_height", car.front.ride_height, Origin("measured", u=0.5e-3))
    (lesson,) = lessons(*season(0.65, [2.0], gauge=0.1e-3, record=car))
    last = lesson.last
    assert last.u_gauge == pytest.approx(math.hypot(0.5e-3, 0.1e-3))
    assert last.u_predicted == pytest.approx(
        last.predicted * math.hypot(0.02 / 0.65, OF_PITCH), rel=1e-3
    )


def test_what_was_not_measured_teaches_nothing() -> None:
    car = from_json(to_json(owned()))
    _, entry = log.turn(car, Moment("1", "car", NOW, 0.0), "front_left", 1.0)
    assert lessons(car, [entry]) == ()


def test_what_was_learned_is_not_offered_again() -> None:
    """The predictions in the log were made with the ratio of then."""
    car, entries = season(0.5, [2.0, -2.0, 2.0])
    (lesson,) = lessons(car, entries)
    (offer,) = lesson.offers
    learned = {"front.motion_ratio": (offer.value, Origin("measured", NOW + 100, u=offer.u))}
    at = Moment("learned", "car", NOW + 100, 0.0)
    car, entry = log.happened(car, at, log.ENTERED, Deed(learned=learned))
    assert lessons(car, [*entries, entry]) == ()
    more = measured_again(car, 0.5, 2.0, NOW + 200)
    (again,) = lessons(more[1], [*entries, entry, *more[0]])
    assert again.offers == () and not again.last.is_off


def measured_again(
    car: Car, true_ratio: float, turns: float, time: float
) -> tuple[list[Entry], Car]:
    """Both front collars turned and the height measured once, on a car of that real ratio."""
    both = Deed(turns=dict.fromkeys(End.FRONT.corners, turns), when=time, of="log")
    real = car.front.ride_height + turns * car.front.pitch / true_ratio
    car, turned = log.happened(car, Moment("a", "car", time, 0.0), log.DONE, both)
    learned = {"front.ride_height": (real, Origin("measured", time + 1, u=0.02e-3))}
    car, told = log.happened(
        car, Moment("b", "car", time + 1, 0.0), log.ENTERED, Deed(learned=learned)
    )
    return [turned, told], car


def test_a_lesson_ends_with_what_it_is_about() -> None:
    """Measured once more the new height stands for the other; another spring or another turn makes
    it another height, and another free length that is entered explains it."""
    car, entries = season(0.45, [2.0])
    at = Moment("noted", "car", NOW + 50, 0.0)
    note = log.noted(car, at, "bounced")
    (off,) = lessons(car, [*entries, note])
    right = off.last.height
    learned = {"front.ride_height": (right, Origin("measured", NOW + 60, u=0.02e-3))}
    at = Moment("again", "car", NOW + 60, 0.0)
    looked, entry = log.happened(car, at, log.ENTERED, Deed(learned=learned))
    (lesson,) = lessons(looked, [*entries, note, entry])
    assert off.last.is_off and not lesson.last.is_off and len(lesson.seen) == len(off.seen)
    rate = {"front.spring_rate": (car.front.spring_rate * 1.2, Origin("measured", NOW + 70))}
    turned = dict.fromkeys(End.FRONT.corners, 1.0)
    free = {"front.spring_free": (0.041, Origin("measured", NOW + 70))}
    for deed in (
        Deed(fitted=rate, when=NOW + 70),
        Deed(turns=turned, when=NOW + 70),
        Deed(learned=free),
    ):
        changed, entry = log.happened(car, Moment("x", "car", NOW + 70, 0.0), log.DONE, deed)
        assert lessons(changed, [*entries, note, entry]) == ()


def test_scatter_beyond_the_gauge_is_friction() -> None:
    """Heights anywhere in a band of 1.2 mm, known places by chance from a fixed seed, on a car
    whose record says 0.4 mm: over many seasons the band that is offered is right in the mean, and
    the interval said holds it in nearly all."""
    chance = random.Random(4)
    bands, inside, offered = [], 0, 0
    for _ in range(60):
        turns = [2.0, -2.0] * 10
        places = [chance.uniform(-0.6e-3, 0.6e-3) for _ in range(len(turns) + 1)]
        steps = [after - before for before, after in pairwise(places)]
        car, entries = season(0.65, turns, steps, gauge=0.02e-3)
        (lesson,) = lessons(car, entries)
        found = [offer for offer in lesson.offers if offer.name == "friction"]
        offered += len(found)
        bands += [offer.value for offer in found]
        inside += sum(abs(offer.value - 1.2e-3) <= 2 * offer.u for offer in found)
    assert offered > 50
    assert sum(bands) / len(bands) == pytest.approx(1.2e-3, rel=0.08)
    assert inside / offered > 0.9


def test_the_scatter_of_a_coarse_gauge_is_none_of_the_friction() -> None:
    """By hand: 16 turns miss by ± 0.6 mm, evenly, so that the best ratio stays as it is: a variance
    of 16 x 0.6² / 15 = 0.384 mm². A rise is the difference of two readings of u = 0.2 mm, so
    2 x 0.2² = 0.08 of it is the gauge's. A band b gives two heights in it the variance b² / 6 of
    their difference: √(6 x 0.304) = 1.351 mm."""
    gauge = 0.2e-3
    before = Origin("measured", NOW - 1, u=gauge)
    car = put(owned(), "front.ride_height", owned().front.ride_height, before)
    misses = [0.6e-3, 0.6e-3, -0.6e-3, -0.6e-3] * 4
    (lesson,) = lessons(*season(0.65, [2.0, -2.0] * 8, misses, gauge, car))
    (band,) = [offer.value for offer in lesson.offers if offer.name == "friction"]
    assert band == pytest.approx(1.351e-3, rel=1e-3)


def test_loads_on_the_scales_are_held_against_the_prediction() -> None:
    """Opposite turns shift load from one diagonal to the other. Scales that show it as predicted,
    to a gram, say nothing; one that is 40 g off does, until it is weighed again or turned on."""
    car = from_json(to_json(owned()))
    turns = dict(zip(CORNERS, (1.0, -1.0, -1.0, 1.0), strict=True))
    deed = Deed(turns=turns, when=NOW, of="corner-loads")
    car, entry = log.happened(car, Moment("1", "car", NOW, 0.0), log.DONE, deed)
    entries = [entry]
    assert weighed(car, entries) == ()
    predicted = {corner: car.corner(corner).load for corner in CORNERS}

    def weigh(off: float, time: float) -> None:
        nonlocal car
        shown = {
            f"corners.{corner}.load": (load + off, Origin("measured", time))
            for corner, load in predicted.items()
        }
        at = Moment(f"w{time}", "car", time, 0.0)
        car, told = log.happened(car, at, log.ENTERED, Deed(learned=shown))
        entries.append(told)

    weigh(0.001, NOW + 1)
    near = weighed(car, entries)
    assert [one.corner for one in near] == [*CORNERS] and not any(one.is_off for one in near)
    weigh(0.04, NOW + 2)
    far = weighed(car, entries)
    assert all(one.is_off for one in far)
    assert [one.predicted for one in far] == [*predicted.values()]
    assert far[0].measured == pytest.approx(predicted[CORNERS[0]] + 0.04)
    car, entry = log.happened(car, Moment("2", "car", NOW + 3, 0.0), log.DONE, deed)
    assert weighed(car, [*entries, entry]) == ()


def test_what_friction_hides_of_a_load_is_no_difference() -> None:
    """By hand, on hard tyres and with one track: four legs stand as four springs in a row for the
    one way in which load can go from one diagonal to the other, so a corner held off its rest by h
    shifts h / Σ(1 / k) to or from each scale, k being the wheel rates. Bands b at four corners, two
    places each of variance b² / 12 (JCGM 100:2008, 4.3.7): u = b √(4 · 2 / 12) / Σ(1 / k)."""
    car = owned()
    for end in ENDS:
        car = put(put(car, f"{end}.tyre_rate", 1e7), f"{end}.track", 0.21)
    deed = Deed(turns={CORNERS[0]: 0.25}, when=NOW, of="log")
    car, entry = log.happened(car, Moment("1", "car", NOW, 0.0), log.DONE, deed)
    path = f"corners.{CORNERS[0]}.load"
    shown = Deed(learned={path: (car.corner(CORNERS[0]).load, Origin("measured", NOW, u=1e-6))})
    car, told = log.happened(car, Moment("2", "car", NOW + 1, 0.0), log.ENTERED, shown)
    (one,) = weighed(car, [entry, told])
    give = sum(1 / wheel.wheel_rate for wheel in stand_up(car).corners)
    expected = car.front.friction * (8 / 12) ** 0.5 / give / STANDARD_GRAVITY
    assert one.u_measured == pytest.approx(expected, rel=1e-3)


@given(share=st.floats(0.6, 1.5))
@settings(max_examples=30, deadline=None)
def test_the_rate_of_a_fitted_spring_is_found(share: float) -> None:
    """The car settles on the spring that it really has; the record has what the label says."""
    car = from_json(to_json(owned()))
    said = 1.3 * car.front.spring_rate
    fitted = {"front.spring_rate": (said, Origin("label", NOW))}
    at = Moment("1", "car", NOW, 0.0)
    after, entry = log.happened(car, at, log.DONE, Deed(fitted=fitted, when=NOW, of="spring-swap"))
    real = put(car, "front.spring_rate", share * said)
    size = SpringSize(real.front.spring_rate, real.front.spring_free, real.front.spring_solid)
    made = stand_up(car).refitted({End.FRONT: stack_of([size])})
    point, other = points_of(car)[:2]
    rise = (made.rise(point) + made.rise(other)) / 2
    height = car.front.ride_height + rise
    source = Origin("measured", NOW + 1, u=0.02e-3)
    learned = Deed(learned={"front.ride_height": (height, source)})
    after, told = log.happened(after, Moment("2", "car", NOW + 1, 0.0), log.ENTERED, learned)
    (lesson,) = lessons(after, [entry, told])
    rates = [offer for offer in lesson.offers if offer.name == "spring_rate"]
    for offer in rates:
        assert offer.value == pytest.approx(share * said, rel=0.03)
    assert rates or abs(share - 1) < 0.35


def test_the_rate_of_a_fitted_spring_is_as_doubtful_as_both_rises() -> None:
    """By moving the measured height as far as both rises together are in doubt, up and down, and
    looking how far the rate moves (JCGM 100:2008, 5.1.3); by a gauge and a friction so small that
    the prediction has the most of it."""
    before = put(owned(), "front.friction", 0.05e-3, Origin("measured"))
    source = Origin("measured", u=0.02e-3)
    before = put(before, "front.ride_height", before.front.ride_height, source)
    fitted = {"front.spring_rate": (850.0, Origin("label", NOW))}
    deed = Deed(fitted=fitted, when=NOW, of="spring-swap")
    car, entry = log.happened(before, Moment("1", "car", NOW, 0.0), log.DONE, deed)

    def settled(off: float) -> Lesson:
        height = car.front.ride_height + off
        learned = {"front.ride_height": (height, Origin("measured", NOW + 1, u=0.02e-3))}
        at = Moment("2", "car", NOW + 1, 0.0)
        after, told = log.happened(car, at, log.ENTERED, Deed(learned=learned))
        (lesson,) = lessons(after, [entry, told])
        return lesson

    lesson = settled(-3e-3)
    (rate,) = lesson.offers
    u = math.hypot(lesson.last.u_measured, lesson.last.u_predicted)
    assert lesson.last.u_predicted > lesson.last.u_measured
    low, high = (settled(-3e-3 + off).offers[0].value for off in (-u, u))
    assert rate.u == pytest.approx((high - low) / 2, rel=0.05)
