"""Deeds: the car now is what they make of it, undo restores to the byte, nothing counts twice."""

import json
from functools import reduce
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from calc.asking import record
from calc.asking.entry import Refused
from calc.kept import deeds, log
from calc.kept.deeds import Deed, built, carried_out, plain, replaced, taken_out
from calc.kept.log import Entry, Moment
from calc.model.car import Bottle, Car, empty, from_json, is_known, put, singles, to_json
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.following import uncertainty_of
from calc.model.origin import Origin
from tests.owned import owned

NOW = 1_700_000_000.0
QUARTERS = st.integers(-12, 12).map(lambda n: n / 4)
HEIGHTS = st.floats(0.005, 0.06)
MEASURED = Origin("measured", NOW)
PATHS = [f"{end}.ride_height" for end in ENDS] + [f"corners.{corner}.load" for corner in CORNERS]


def text(car: Car) -> str:
    return json.dumps(to_json(car))


def moment(n: int) -> Moment:
    return Moment(f"deed{n}", "car", NOW + n, 0.0)


@st.composite
def deed(draw: st.DrawFn) -> Deed:
    """Anything that happens to a car on the bench or at the track."""
    end = draw(st.sampled_from(ENDS))
    label = Origin("label", NOW)
    return draw(
        st.one_of(
            st.dictionaries(st.sampled_from(CORNERS), QUARTERS, max_size=4).map(
                lambda turns: Deed(turns=turns, when=NOW, of="collar-turns")
            ),
            st.dictionaries(st.sampled_from(CORNERS), QUARTERS, max_size=1).map(
                lambda turns: Deed(crept=turns, when=NOW)
            ),
            st.floats(300.0, 1200.0).map(
                lambda rate: Deed(fitted={f"{end}.spring_rate": (rate, label)}, of="spring-swap")
            ),
            st.floats(200e-6, 900e-6).map(
                lambda oil: Deed(
                    fitted={f"{end}.oil": (oil, label)}, poured={(end,): {2: 3e-6, 5: 4e-6}}
                )
            ),
            st.floats(0.5e-6, 20e-6).map(
                lambda left: Deed(bottled=(Bottle("mixed", 400e-6, left),), poured={(): {1: 5e-6}})
            ),
            st.tuples(st.sampled_from(PATHS[:2]), HEIGHTS).map(
                lambda one: Deed(learned={one[0]: (one[1], MEASURED)})
            ),
            st.floats(0.2, 0.7).map(
                lambda load: Deed(learned={"corners.rear_left.load": (load, MEASURED)})
            ),
        )
    )


CARS = st.sampled_from(["owned", "empty", "partly"])


def a_car(which: str) -> Car:
    if which == "empty":
        return empty("New")
    if which == "owned":
        return from_json(to_json(owned()))  # as it is kept: whole numbers are floats there
    car = empty("Partly")
    for path in ("front.pitch", "front.motion_ratio", "front.ride_height", "rear.ride_height"):
        car = put(car, path, {"pitch": 75e-5, "motion_ratio": 0.65}.get(path[6:], 0.022), MEASURED)
    return car


class Season(RuleBasedStateMachine):
    """Any order of deeds and undos, with everything that is kept read back in between."""

    @initialize(which=CARS)
    def begin(self, which: str) -> None:
        self.start = self.car = a_car(which)
        self.done: list[tuple[Deed, deeds.Was]] = []
        self.cars = [self.start]

    @rule(what=deed())
    def happens(self, what: Deed) -> None:
        try:
            after = carried_out(self.car, what)
        except Refused:
            assert text(self.car) == text(self.cars[-1])
            return
        self.done.append((what, replaced(self.car, after)))
        self.car = after
        self.cars.append(after)

    @rule()
    def undone(self) -> None:
        if self.done:
            _, was = self.done.pop()
            self.cars.pop()
            self.car = taken_out(self.car, was)
            assert text(self.car) == text(self.cars[-1])

    @rule()
    def kept_and_read_again(self) -> None:
        self.car = from_json(json.loads(text(self.car)))
        stored = [(deeds.plain(d), deeds.plain_values(w)) for d, w in self.done]
        again = json.loads(json.dumps(stored))
        self.done = [(deeds.built(d, "log"), deeds.built_values(w, "log")) for d, w in again]

    @invariant()
    def the_car_is_what_its_deeds_make_of_it(self) -> None:
        again = reduce(carried_out, [what for what, _ in self.done], self.start)
        assert text(again) == text(self.car)


TestSeason = Season.TestCase
TestSeason.settings = settings(max_examples=25, stateful_step_count=10, deadline=None)


@pytest.mark.parametrize("kind", ["turn at the log", "done", "back to base"])
def test_a_turn_is_the_same_on_every_path(kind: str) -> None:
    """Collar, spring length, height and loads after one turn of the front left collar."""
    car = owned()
    if kind == "turn at the log":
        after, _ = log.turn(car, moment(1), "front_left", 1.0)
    elif kind == "done":
        after = carried_out(
            car, Deed(turns={Corner.FRONT_LEFT: 1.0}, when=NOW + 1, of=log.COLLAR_LOG)
        )
    else:
        base = log.stands(put(car, "corners.front_left.collar", 1.0))
        after, _ = log.home(car, base, moment(1))
    assert after.corners.front_left.collar == 1.0
    # One turn at one side of the end moves the middle of the end by half a turn's lift.
    assert after.front.droop_length == pytest.approx(0.0385 - 0.5 * 0.75e-3, abs=1e-9)
    lift = after.front.ride_height - car.front.ride_height
    assert 0.0 < lift < 0.75e-3 / 0.65
    was = car.corners
    assert after.corners.front_left.load > was.front_left.load
    assert after.corners.front_right.load < was.front_right.load
    total = sum(after.corner(c).load for c in CORNERS)
    assert total == pytest.approx(sum(car.corner(c).load for c in CORNERS), rel=1e-9)
    for path in ("front.ride_height", "corners.rear_right.load", "front.droop_length"):
        source = after.origins[path]
        assert (source.how, source.when, source.of) == ("predicted", NOW + 1, "log")
        assert source.u is not None and source.u >= uncertainty_of(car, path)
    assert after.origins["front.pitch"] == car.origins["front.pitch"]


def test_a_length_in_turns_is_no_surer_than_their_pitch() -> None:
    """5 turns of (1 ± 0.58) mm from 54 mm that a ruler has shown: u² = u(54)² + (5 · 0.29)²
    (JCGM 100:2008, 5.1.2)."""
    car = put(owned(), "rear.pitch", 1e-3, Origin("assumed", u=0.29e-3))
    car = put(car, "rear.droop_length", 54e-3, Origin("measured", NOW, u=0.2e-3))
    turns = dict.fromkeys(CORNERS[2:], -5.0)
    after = carried_out(car, Deed(turns=turns, when=NOW, of="log"))
    assert after.rear.droop_length == pytest.approx(59e-3)
    expected = (0.2e-3**2 + (5 * 0.29e-3) ** 2) ** 0.5
    assert after.origins["rear.droop_length"].u == pytest.approx(expected)


def test_a_damper_is_no_surer_in_length_than_the_pitch_of_its_rod_end() -> None:
    """1 mm more by a pitch of (0.5 ± 0.1) mm: two turns, so ± 0.2 mm (k = 2) more."""
    car = put(owned(), "rod_end.pitch", 0.5e-3, Origin("assumed", u=0.05e-3))
    car = put(car, "front.droop_length", 38.5e-3, Origin("measured", NOW, u=0.01e-3))
    path = "corners.{}.damper_length"
    fitted = {path.format(corner): (72.8e-3, MEASURED) for corner in CORNERS[:2]}
    after = carried_out(car, Deed(fitted=fitted, when=NOW))
    expected = (0.01e-3**2 + 0.1e-3**2) ** 0.5
    assert after.origins["front.droop_length"].u == pytest.approx(expected)


@pytest.mark.parametrize("path", ["front.droop_length", "front.damper_length"])
def test_what_nobody_has_known_is_not_known_by_work(path: str) -> None:
    usual = Origin("assumed", NOW, u=30e-3)
    car = put(owned(), path, record.get(owned(), path), usual)
    turns = dict.fromkeys(CORNERS[:2], 2.0)
    thread = {f"corners.{corner}.engaged": (7e-3, MEASURED) for corner in CORNERS[:2]}
    for deed in (Deed(turns=turns, when=NOW), Deed(fitted=thread, when=NOW)):
        assert carried_out(car, deed).origins[path] == usual


def test_what_was_measured_after_a_deed_stays_what_was_measured() -> None:
    car, _ = log.turn(owned(), moment(1), "front_left", 1.0)
    car = carried_out(car, Deed(learned={"front.ride_height": (0.0231, MEASURED)}))
    assert car.front.ride_height == 0.0231
    assert car.origins["front.ride_height"] == MEASURED
    assert car.origins["corners.front_left.load"].how == "predicted"


def test_what_cannot_be_predicted_is_not_known_any_more() -> None:
    """A height that was measured before a turn is no height after it."""
    car = put(empty("New"), "front.ride_height", 0.022, MEASURED)
    after, entry = log.turn(car, moment(1), "front_left", 1.0)
    assert not is_known(after, "front.ride_height")
    assert text(log.undone(after, entry)) == text(car)


@pytest.mark.parametrize(
    ("row", "volume", "left"), [(1, 10e-6, 50e-6), (3, 20e-6, 0.0), (9, 1e-6, None)]
)
def test_bottles_are_drawn_down(row: int, volume: float, left: float | None) -> None:
    car = owned()
    after = carried_out(car, Deed(poured={(): {row: volume}}))
    if left is None:
        assert after == car
    else:
        assert after.bottles[row - 1].left == pytest.approx(left, abs=1e-15)


def test_two_oils_out_of_one_bottle_are_rounded_once() -> None:
    """Twice 0.14 mL is 0.28 mL, so 0.3 mL to the tenth."""
    car = owned()
    deed = Deed(poured={(End.FRONT,): {1: 0.14e-6}, (End.REAR,): {1: 0.14e-6}})
    assert built(plain(deed), "log") == deed
    assert carried_out(car, deed).bottles[0].left == pytest.approx(59.7e-6)


def test_pours_of_the_first_lines_were_for_no_end() -> None:
    assert built({"poured": {"2": 1e-6}}, "log").poured == {(): {2: 1e-6}}
    for broken in (
        {"middle": {"2": 1e-6}},
        {"front": {"0": 1e-6}},
        {"front": 1e-6},
        {"": {}, "1": 1},
    ):
        with pytest.raises(Refused, match="damaged"):
            built({"poured": broken}, "log")


def test_an_entry_of_the_first_version_is_read_and_taken_back() -> None:
    """It knows of no deed: the collar alone goes back."""
    car = put(owned(), "corners.front_left.collar", 0.5)
    old = log.to_json(Entry("e1", "car", NOW, 0.0, "turn", "front_left", 0.5, log.stands(car)))
    assert not {"does", "was"} & old.keys()
    assert log.undone(car, log.from_json(old)).corners.front_left.collar == 0.0


@given(what=deed(), which=CARS)
@settings(max_examples=60, deadline=None)
def test_a_damaged_deed_is_refused_in_one_sentence(what: Deed, which: str) -> None:
    try:
        _, entry = log.happened(a_car(which), moment(1), log.DONE, what, "note")
    except Refused:
        return
    stored: dict[str, Any] = json.loads(json.dumps(log.to_json(entry)))
    assert log.from_json(stored) == entry
    for part in ("does", "was"):
        for wrong in (None, [], {"x": 1}, {"turns": {"middle": 1}}, {"front.pitch": [1]}):
            with pytest.raises(Refused, match="damaged"):
                log.from_json({**stored, part: wrong})


def test_no_path_of_the_record_is_forgotten() -> None:
    assert len(singles()) > 100
    assert {path.partition(".")[0] for path in singles()} >= {"front", "rear", "corners", "tools"}
