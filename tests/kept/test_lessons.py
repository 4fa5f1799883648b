"""The gauge against the prediction: what differs is said, the ratio that explains it found."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.kept import log
from calc.kept.deeds import Deed
from calc.kept.lessons import lessons
from calc.kept.log import Entry, Moment
from calc.model.car import Car, from_json, to_json
from calc.model.corners import End
from calc.model.origin import Origin
from tests.owned import owned

NOW = 1_700_000_000.0


def season(
    true_ratio: float, turns: list[float], errors: list[float] | None = None
) -> tuple[Car, list[Entry]]:
    """Both front collars turned and the height measured, again and again, on a car whose real
    motion ratio is another than its record's. The real lift is pitch / ratio of the whole end,
    as for an end that is turned on both sides alike."""
    car = from_json(to_json(owned()))
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
        source = Origin("measured", at.time, u=0.02e-3)
        learned = Deed(learned={"front.ride_height": (before + real + error, source)})
        car, told = log.happened(car, at, log.ENTERED, learned)
        entries += [entry, told]
    return car, entries


@given(
    ratio=st.floats(0.45, 0.95),
    turns=st.lists(st.sampled_from([-2.0, -1.0, 1.0, 1.5, 2.0]), min_size=1, max_size=6),
)
@settings(max_examples=60, deadline=None)
def test_the_true_ratio_is_found(ratio: float, turns: list[float]) -> None:
    car, entries = season(ratio, turns)
    (lesson,) = lessons(car, entries)
    assert lesson.end is End.FRONT and 1 <= len(lesson.seen) <= len(turns)
    assert lesson.ratio == pytest.approx(ratio, rel=1e-9)
    assert lesson.fits == (abs(ratio - car.front.motion_ratio) > 2 * lesson.u)


def test_more_that_was_seen_is_surer() -> None:
    """By the root of the number of times, all being alike (JCGM 100:2008, 4.2.3)."""
    cars = [season(0.6, [1.0, -1.0] * n) for n in (1, 4)]
    (few,), (many,) = (lessons(car, entries[2:]) for car, entries in cars)
    assert len(many.seen) == 7 * len(few.seen)
    assert few.u / many.u == pytest.approx(7**0.5, rel=0.02)


def test_a_car_that_is_as_its_record_says_teaches_nothing_new() -> None:
    car, entries = season(0.65, [1.0, -1.0], [0.01e-3, -0.01e-3])
    (lesson,) = lessons(car, entries)
    assert not lesson.fits and not lesson.last.is_off


def test_a_height_far_off_is_said() -> None:
    car, entries = season(0.45, [2.0])
    (lesson,) = lessons(car, entries)
    assert lesson.last.is_off and lesson.fits
    assert lesson.last.measured > lesson.last.predicted


def test_what_was_not_measured_teaches_nothing() -> None:
    car = from_json(to_json(owned()))
    _, entry = log.turn(car, Moment("1", "car", NOW, 0.0), "front_left", 1.0)
    assert lessons(car, [entry]) == ()
