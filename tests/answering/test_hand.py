"""What a hand is told: rounding by hand, words for turning and for waiting."""

import pytest

from calc.answering.answer import Quantity, Step
from calc.answering.hand import give_or_take, to_step, turn_words, wait_range, wait_words, way_words
from calc.answering.uncertainty import Uncertain, Uncertainty, propagate
from calc.units import NBSP


@pytest.mark.parametrize(
    ("value", "step", "rounded"),
    [
        (0.37, 0.25, 0.25),
        (0.38, 0.25, 0.5),
        (0.375, 0.25, 0.5),  # halves go away from zero
        (-0.375, 0.25, -0.5),
        (-0.37, 0.25, -0.25),
        (0.124, 0.25, 0.0),
        (7.3, 2.0, 8.0),
        (6.9, 2.0, 6.0),
    ],
)
def test_the_nearest_step(value: float, step: float, rounded: float) -> None:
    assert to_step(value, step) == rounded


def test_turns_in_words() -> None:
    assert turn_words(0.0) == "no turn"
    assert turn_words(1.0) == f"1{NBSP}turn down"
    assert turn_words(-2.0) == f"2{NBSP}turns up"


def test_down_is_clockwise_from_the_cap_unless_the_thread_is_left_hand() -> None:
    down, up = " (tighter; car up).", " (looser; car down)."
    clockwise, back = "Clockwise, seen from the cap end", "Anticlockwise, seen from the cap end"
    assert (way_words(1.0, "right"), way_words(-1.0, "right")) == (clockwise + down, back + up)
    assert (way_words(1.0, "left"), way_words(-1.0, "left")) == (back + down, clockwise + up)
    assert way_words(0.0, "right") == way_words(0.0, "left") == ""


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (1.0, "5 s"),
        (55.0, "55 s"),
        (55.1, "60 s"),
        (60.0, "60 s"),
        (60.1, "2 min"),
        (180.0, "3 min"),
        (5400.0, "90 min"),
        (5401.0, "2 h"),
        (9000.0, "2.5 h"),
        (9001.0, "3 h"),
        (172800.0, "48 h"),
        (172801.0, "3 days"),
        (864000.0, "10 days"),
        (86400.0 * 1234.5, "1 235 days"),
    ],
)
def test_a_wait_is_rounded_up_to_what_a_hand_keeps(seconds: float, words: str) -> None:
    assert wait_words(seconds) == words.replace(" ", NBSP)


@pytest.mark.parametrize(
    ("shortest", "longest", "words"),
    [
        (1620.0, 2520.0, ("27", "42 min")),
        (30.0, 90.0, ("30 s", "2 min")),
        (172801.0, 864000.0, ("3", "10 days")),
    ],
)
def test_two_waits_have_their_unit_once(
    shortest: float, longest: float, words: tuple[str, str]
) -> None:
    assert wait_range(shortest, longest) == tuple(word.replace(" ", NBSP) for word in words)


LABELS = {"now": "Ride height now"}
AGAIN = "Measure again first; what makes it unsure: Ride height now."


@pytest.mark.parametrize(
    ("u", "says", "large"),
    [
        (0.02, "Give or take less than 1/8 turn.", False),
        (0.031, "Give or take less than 1/8 turn.", False),
        (0.032, "Give or take 1/8 turn.", False),
        (0.05, "Give or take 1/8 turn.", False),
        (0.07, "Give or take 1/4 turn.", True),
        (0.25, "Give or take 1/2 turn.", True),
        (0.51, "Give or take 1 1/4 turns.", True),
        (0.7, f"Give or take 1 1/2 turns. {AGAIN}", True),
        (1.6, f"Give or take 4 turns. {AGAIN}", True),
    ],
)
def test_an_instruction_says_its_doubt_in_parts_of_a_turn(u: float, says: str, large: bool) -> None:
    """The expanded uncertainty (k = 2, JCGM 100:2008, 6.2.1) is rounded up, never down: for a hand
    that turns by quarters 2 × 0.05 = 0.1 is told as 1/8, 2 × 0.51 = 1.02 as 1 1/4."""
    step = Step("Both front collars: 1 1/4 turns down.", of="turns", step=0.25)
    found = Uncertainty(u, alone={"now": (2 * u, 2 * u)})
    exact = Quantity("turns", "Turns", 1.3, "turns", Uncertain(1.3, lambda: found), LABELS)
    doubt = give_or_take(step, [exact])
    assert doubt is not None
    assert doubt.says.replace("\u00a0", " ") == says
    assert doubt.large is large


@pytest.mark.parametrize(
    ("turns", "ends", "says"),
    [
        (1.4, (0.8, 2.2), "It may be 1/2 to 3 3/4 turns."),
        (-1.4, (2.2, 0.8), "It may be 1/2 to 3 3/4 turns."),
        (1.4, (1.5, 0.4), f"Give or take 1 1/2 turns. {AGAIN}"),
    ],
)
def test_a_doubt_that_reaches_further_on_one_side_is_said_by_its_ends(
    turns: float, ends: tuple[float, float], says: str
) -> None:
    """Rounded outwards: 1.4 - 0.8 = 0.6 is told as 1/2, 1.4 + 2.2 = 3.6 as 3 3/4. Only an interval
    that holds 0 says that not even the way is sure: no hand turns before it is measured again."""
    exact = Uncertain(turns, lambda: Uncertainty(0.75, ends=ends, alone={"now": ends}))
    step = Step("Both front collars.", of="turns", step=0.25)
    doubt = give_or_take(step, [Quantity("turns", "Turns", turns, "turns", exact, LABELS)])
    assert doubt is not None
    assert doubt.says.replace("\u00a0", " ") == says


@pytest.mark.parametrize(
    ("at", "turned_by"),
    [
        ({}, ("leans", "slips")),
        ({"turns": 4.0}, ("leans",)),
        ({"turns": 4.6}, ("leans",)),
        ({"turns": 8.0}, ()),
        ({"turns": -1.0}, ("lifts", "leans", "slips")),
    ],
)
def test_what_could_turn_the_way_is_named_and_not_what_moves_it_most(
    at: dict[str, float], turned_by: tuple[str, ...]
) -> None:
    """By hand, each moved by two standard uncertainties: what lifts adds up to 9 turns and takes
    none away, what leans moves it by 4.2 both ways, what slips by 2.4. Of 4.6 turns none can take
    all, both together can: √(4.2² + 2.4²) = 4.84."""
    widths = {"turns": 0.0, "lifts": 4.5, "leans": 2.1, "slips": 1.2}
    found = propagate(
        lambda at: {"turns": at["turns"] + max(0.0, at["lifts"]) + at["leans"] + at["slips"]},
        {"turns": 2.0, "lifts": 0.0, "leans": 0.0, "slips": 0.0, **at},
        widths,
    )["turns"]
    assert found.main == "lifts"
    step = Step("Both front collars.", of="turns", step=0.25)
    labels = {name: name for name in widths}
    doubt = give_or_take(step, [Quantity("turns", "Turns", found.value, "turns", found, labels)])
    assert doubt is not None and doubt.turned_by == turned_by


def test_no_doubt_is_made_up() -> None:
    assert (
        give_or_take(
            Step("Bounce the car."),
            [Quantity("turns", "", 1.0, "turns", Uncertain(1.0, lambda: Uncertainty(0.1)))],
        )
        is None
    )
    assert give_or_take(Step("Turn.", of="turns"), [Quantity("turns", "", 1.0, "turns")]) is None
    typed = Quantity("turns", "", 3.0, "turns", Uncertain(3.0, lambda: Uncertainty(1e-15)))
    assert give_or_take(Step("Turn.", of="turns"), [typed]) is None
