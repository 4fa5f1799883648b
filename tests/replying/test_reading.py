"""Reading a form: the car fills what is not typed, every error is told at once, keeping keeps."""

import pytest

from calc import units
from calc.asking.entry import Number
from calc.asking.typed import change_in
from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car, put, to_json
from calc.model.origin import Origin
from calc.replying.reading import read, run
from calc.units import IMPERIAL, METRIC
from tests.owned import owned
from tests.saving import keep

COLLAR, BLEND, CAR = BY_SLUG["collar-turns"], BY_SLUG["oil-blend"], BY_SLUG["car"]


def test_a_height_far_from_the_one_before_is_asked_about() -> None:
    """55 mm on a car that stood at 22 mm is rather the length of a spring."""
    car = owned()
    assert car.front.ride_height == pytest.approx(22e-3)
    for typed, asked in ("55", True), ("10.5", True), ("30", False), ("", False):
        unusual = run(COLLAR, {"ride_height": typed} if typed else {}, car).unusual
        assert ("ride_height" in unusual) == asked
    assert "22" in run(COLLAR, {"ride_height": "55"}, car).unusual["ride_height"]
    assert not run(COLLAR, {"ride_height": "55"}, Car()).unusual, "invented heights are nobody's"


def test_the_car_fills_what_is_not_typed() -> None:
    given, reply = read(COLLAR, {"axle": "rear", "pitch": "1"}, Car())
    assert given.pitch == pytest.approx(1e-3)
    assert given.motion_ratio == Car().rear.motion_ratio
    assert reply.filled["motion_ratio"] == "0.62"
    assert "pitch" not in reply.filled


def test_a_value_from_the_car_is_exact_and_not_the_text_it_is_shown_as() -> None:
    car = keep(COLLAR, {"pitch": "0.041 in"}, Car())
    given, reply = read(COLLAR, {}, car, units.METRIC)
    assert given.pitch == pytest.approx(0.041 * 0.0254, rel=1e-15)
    assert reply.filled["pitch"] == "1.0414"


def test_every_error_is_told_at_once_and_no_answer_is_given() -> None:
    reply = run(COLLAR, {"pitch": "0", "motion_ratio": "x", "spring_rate": ""}, Car())
    assert set(reply.problems) == {"pitch", "motion_ratio", "spring_rate"}
    assert reply.answer is None


def test_a_typed_doubt_is_taken_before_that_of_the_tool() -> None:
    """± is the half-width that holds 95 of 100: u is half of it (coverage factor 2)."""
    given, _ = read(COLLAR, {"ride_height": "22 ± 0.2"}, Car())
    assert given.u["ride_height"] == pytest.approx(0.1e-3)
    given, _ = read(COLLAR, {"ride_height": "22"}, Car())
    # A reading to the nearest 0.5 mm: JCGM 100:2008, F.2.2.1, step / sqrt(12).
    assert given.u["ride_height"] == pytest.approx(0.5e-3 / 12**0.5)


def test_a_weight_number_is_read_by_the_owners_own_line() -> None:
    lined = Car()
    for path, noted in (("slope", 16.0), ("offset", -120.0)):
        lined = put(lined, f"weight_scale.{path}", noted, Origin("measured"))
    given, _ = read(BLEND, {"target": "30 wt"}, lined)
    assert given.target == pytest.approx((16 * 30 - 120) * 1e-6)
    assert "makers differ" in read(BLEND, {"target": "30 wt"}, Car())[1].problems["target"]


def test_keeping_writes_what_was_typed_and_has_a_home_and_nothing_else() -> None:
    typed = {"axle": "rear", "pitch": "1", "wanted_height": "25", "scope": "axle"}
    kept = keep(COLLAR, typed, Car())
    assert (kept.rear.pitch, kept.rear.wanted_height) == (1e-3, 0.025)
    assert kept.front == Car().front
    before, after = to_json(Car()), to_json(kept)
    assert {name for name in before if before[name] != after[name]} == {"rear"}


def test_what_is_wrong_is_not_kept_and_the_rest_is() -> None:
    kept = keep(COLLAR, {"pitch": "0", "wanted_height": "25"}, Car())
    assert kept.front.pitch == Car().front.pitch
    assert kept.front.wanted_height == 0.025


def test_a_row_left_out_is_passed_over_and_a_row_half_filled_is_a_problem() -> None:
    made = {"task": "made", "oils.4.viscosity": "800", "oils.4.amount": "5"}
    given, reply = read(BLEND, made, Car())
    assert reply.problems == {}
    assert [row.key for row in given.oils] == ["1", "2", "4"]
    half = run(BLEND, {"task": "made", "oils.4.viscosity": "800"}, Car())
    assert set(half.problems) == {"oils.4.amount"}


def test_bottles_are_kept_as_a_list_without_the_ones_taken_out() -> None:
    out = {f"bottles.1.{name}": "" for name in ("name", "viscosity", "left")}
    new = {"bottles.6.viscosity": "1000", "bottles.6.left": "20"}
    kept = keep(CAR, {**out, **new}, Car())
    grades = [round(bottle.viscosity * 1e6) for bottle in kept.bottles]
    assert grades == [300, 350, 500, 800, 1000]


def test_a_wrong_choice_is_told_beside_the_other_errors() -> None:
    reply = run(COLLAR, {"axle": "middle", "pitch": "0"}, Car())
    assert set(reply.problems) == {"axle", "pitch"}


def test_fields_that_are_not_asked_for_are_neither_kept_nor_in_the_way() -> None:
    typed = {"scope": "both", "pitch": "1", "wanted_height": "x"}
    assert run(COLLAR, typed, Car()).problems == {}
    assert keep(COLLAR, typed, Car()) == Car()


def test_turns_further_than_a_thread_goes_are_a_problem_at_their_field() -> None:
    """60 turns of 0.75 mm are 45 mm: more than half of the 40 mm that the spring is long."""
    reply = run(COLLAR, {"ask": "height", "turns": "60"}, Car())
    assert reply.answer is None
    assert (
        list(reply.problems) == ["turns"] and "no thread goes that far" in reply.problems["turns"]
    )
    assert run(COLLAR, {"ask": "height", "turns": "20"}, Car()).problems == {}


def test_an_unusual_value_is_asked_about_and_used() -> None:
    reply = run(COLLAR, {"pitch": "2"}, Car())
    assert reply.answer is not None
    assert list(reply.unusual) == ["pitch"] and "2\u00a0mm is unusual" in reply.unusual["pitch"]
    # At its field although another keeps the form from an answer.
    assert list(run(COLLAR, {"pitch": "2", "wanted_height": "x"}, Car()).unusual) == ["pitch"]
    assert run(COLLAR, {}, Car()).unusual == {}


@pytest.mark.parametrize(
    ("slug", "typed", "asked"),
    [
        ("hotter", {"now": "140"}, True),
        ("hotter", {"now": "60"}, False),
        ("hotter", {"now": "140 °C"}, False),
        ("collar-turns", {"wanted_height": "190"}, True),
        ("collar-turns", {"wanted_height": "190 mm"}, False),
        ("oil-blend", {"task": "blend", "amount": "900"}, True),
    ],
)
def test_a_number_far_from_what_is_usual_is_asked_about_before_anything_is_done(
    slug: str, typed: dict[str, str], asked: bool
) -> None:
    """Typed with its unit it is confirmed; the question stands first, and at its field."""
    reply = run(BY_SLUG[slug], typed, Car())
    assert reply.answer is not None
    (*_, name), (*_, text) = typed, typed.values()
    lead = reply.answer.cautions[0]
    assert (lead.at == name and lead.bars) == asked
    if asked:
        assert "far from what is usual" in lead.text and f"“{text}\u00a0" in lead.text
        assert name in reply.unusual
        worked = reply.answer.workable
        assert not (worked.steps or worked.writes or worked.pours)


def test_a_number_of_the_record_or_without_a_unit_is_not_held_up() -> None:
    car = put(owned(), "temperature", 400.0)
    for typed in ({}, {"temperature": "126.85"}):
        reply = run(CAR, typed, car)
        assert reply.answer is not None
        assert not any(caution.bars for caution in reply.answer.cautions)


@pytest.mark.parametrize(
    ("usual", "kind", "near", "far"),
    [
        ((0.01, 0.03), "length", (0.09, 0.0034, 0.0), (0.091, 0.0033, -0.01)),
        ((273.15, 323.15), "temperature", (373.15, 223.15), (374.0, 223.0)),
        ((-1.0, 1.0), "turns", (3.0, -3.0), (3.1, -3.1)),
    ],
)
def test_far_is_three_times_or_a_width_away(
    usual: tuple[float, float], kind: str, near: tuple[float, ...], far: tuple[float, ...]
) -> None:
    entry = Number("x", kind, usual, (-1000.0, 1000.0), "")
    assert not any(map(entry.is_far, near)) and all(map(entry.is_far, far))


@pytest.mark.parametrize("text", ["-2", "+2", "−2 mm", "2 mm lower", "lower by 2"])
def test_a_change_in_place_of_a_height_is_told_what_to_type(text: str) -> None:
    """23 mm less 2 are 21, and 2 more 25."""
    typed = {"axle": "rear", "ride_height": "23", "wanted_height": text}
    reply = run(COLLAR, typed, Car())
    assert reply.problems == {
        "wanted_height": "Ride height wanted: type the height itself, not the change. It is "
        "23\u00a0mm now; 2\u00a0mm lower is 21\u00a0mm, 2\u00a0mm higher is 25\u00a0mm."
    }


@pytest.mark.parametrize(
    ("text", "system", "change"),
    [
        ("0.2 cm lower", METRIC, 2e-3),
        ("3 mm", METRIC, None),
        ("3 mm lower", IMPERIAL, 3e-3),
        ("1/8 in up", METRIC, 25.4e-3 / 8),
        ("-0.1", IMPERIAL, 2.54e-3),
        ("lower", METRIC, None),
    ],
)
def test_a_change_is_as_large_as_its_unit_says(
    text: str, system: str, change: float | None
) -> None:
    """An inch is 25.4 mm (NIST SP 811, B.8)."""
    found = change_in(text, "length", system)
    assert found == (None if change is None else pytest.approx(change))


@pytest.mark.parametrize("text", ["21", "21 mm", "+21", "21 ± 0.2 mm", "20 1/2"])
def test_a_height_is_no_change(text: str) -> None:
    typed = {"axle": "rear", "ride_height": "23", "wanted_height": text}
    assert run(COLLAR, typed, Car()).answer


def test_a_value_typed_in_inches_is_kept_to_the_last_digit_when_shown_again() -> None:
    kept = keep(COLLAR, {"wanted_height": "0.9"}, Car(), units.IMPERIAL)
    shown = run(COLLAR, {}, kept, units.METRIC).filled["wanted_height"]
    assert keep(COLLAR, {"wanted_height": shown}, kept) == kept


@pytest.mark.parametrize(("load", "misfit"), [("70", True), ("70.1", False)])
def test_a_corner_weighs_more_than_its_wheel_and_arm(load: str, misfit: bool) -> None:
    """Wheel and arm of the demo car weigh 70 g."""
    answer = run(CAR, {"corner.front_left.load": load}, Car()).answer
    assert answer is not None
    told = [caution.text for caution in answer.cautions if "wheel and arm cannot" in caution.text]
    assert [text.partition(":")[0] for text in told] == ["Front left"] * misfit
