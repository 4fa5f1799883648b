"""Which bottles make an oil: against trying every pair under every law."""

import math
import re
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.forms.oil_choice import NoOil, best_mix, named, nearest
from calc.model.car import Bottle
from calc.physics import oil
from calc.units import show

STEP = 0.1e-6
GRADES = st.lists(st.integers(60, 5000), min_size=1, max_size=6, unique=True)


def bottles(grades: list[int], left: float = 1e-4) -> list[Bottle]:
    return [Bottle("", grade * 1e-6, left) for grade in grades]


@given(grades=GRADES, target=st.integers(60, 5000))
@settings(max_examples=150, deadline=None)
def test_the_pair_taken_is_the_one_whose_laws_disagree_least(
    grades: list[int], target: int
) -> None:
    owned, wanted = bottles(grades), target * 1e-6
    around = [
        (low, high)
        for low, high in combinations(sorted(grades), 2)
        if low <= target <= high
    ]  # fmt: skip
    if target in grades:
        assert best_mix(owned, wanted, 1e-6, show).single
        return
    if not around:
        with pytest.raises(NoOil, match="cannot be made from your bottles") as lack:
            best_mix(owned, wanted, 1e-6, show)
        assert lack.value.lacks == "target"
        return
    spreads = {}
    for low, high in around:
        share = oil.share_of_thick(wanted, low * 1e-6, high * 1e-6)
        parts = [(1 - share, low * 1e-6), (share, high * 1e-6)]
        answers = [oil.blend(parts, law) for law in oil.BAND]
        spreads[low, high] = max(answers) / min(answers)
    mix = best_mix(owned, wanted, 1e-6, show)
    taken = round(mix.thin.viscosity * 1e6), round(mix.thick.viscosity * 1e6)
    assert spreads[taken] == pytest.approx(min(spreads.values()), rel=1e-12)


@given(grades=GRADES, target=st.integers(60, 5000))
@settings(max_examples=100, deadline=None)
def test_what_is_named_is_what_its_words_make(grades: list[int], target: int) -> None:
    try:
        made = named(bottles(grades), target * 1e-6, 8e-6, STEP, show)
    except NoOil:
        return
    if made.words.startswith("straight "):
        # Near enough, or nearer than any blend in ten parts: less than half a part of the other.
        part = math.log(max(grades) / min(grades)) / 10
        off = abs(math.log(made.viscosity / (target * 1e-6)))
        assert off <= max(0.03, part / 2) + 1e-9
        return
    words = re.fullmatch(r"([\d.]+) mL of (\d+) cSt mixed with ([\d.]+) mL of (\d+) cSt "
                         r"\(parts (\d+) : (\d+)\)", made.words.replace("\u00a0", " "))  # fmt: skip
    assert words is not None, made.words
    thin, low, thick, high, few, many = map(float, words.groups())
    assert few + many <= 10 and thin / thick == pytest.approx(few / many)
    assert 8 <= thin + thick < 8 + (few + many) * 0.1
    assert made.viscosity == pytest.approx(oil.blend([(thin, low * 1e-6), (thick, high * 1e-6)]))
    assert [volume for _, volume in made.portions] == pytest.approx([thin * 1e-6, thick * 1e-6])
    assert made.low <= made.viscosity <= made.high


def test_the_nearest_bottle_is_the_nearest_by_ratio() -> None:
    """900 to 600 is 1.5, 600 to 350 is 1.71, and 350 is the nearer by difference; a blend of two is
    as far off by its shares, which go with the logarithm."""
    near = nearest(bottles([350, 900]), 600e-6)
    assert near is not None and near.viscosity == 900e-6
    mix = best_mix(bottles([350, 900]), 600e-6, 1e-6, show, near=0.45)
    assert mix.single and mix.thin.viscosity == 900e-6


def test_a_bottle_that_is_nearly_empty_is_not_counted_on() -> None:
    owned = [Bottle("", 300e-6, 1e-6), Bottle("", 500e-6, 1e-6)]
    with pytest.raises(NoOil, match="at most") as lack:
        best_mix(owned, 400e-6, 20e-6, show)
    assert lack.value.lacks == "amount"
    assert "20.00\u00a0mL of 400\u00a0cSt is wanted" in str(lack.value)
    assert best_mix(owned, 300e-6, 0.5e-6, show).single


def test_no_bottles_are_said() -> None:
    with pytest.raises(NoOil, match="no bottle"):
        best_mix([], 400e-6, 1e-6, show)


@settings(max_examples=200, deadline=None)
@given(
    stock=st.lists(
        st.tuples(st.integers(50, 2000), st.none() | st.integers(0, 600)), min_size=1, max_size=5
    ),
    target=st.integers(60, 1900),
    amount=st.integers(20, 400),
)
def test_no_recipe_takes_more_than_is_in_a_bottle(
    stock: list[tuple[int, int | None]], target: int, amount: int
) -> None:
    """In tenths of a millilitre, whatever the whole parts round to."""
    owned = [
        Bottle("", grade * 1e-6, None if tenths is None else tenths * 1e-7)
        for grade, tenths in stock
    ]
    try:
        oil = named(owned, target * 1e-6, amount * 1e-7, STEP, show)
    except NoOil:
        return
    taken = oil.portions
    assert sum(volume for _, volume in taken) >= amount * 1e-7 * (1 - 1e-9)
    assert taken and all(volume <= bottle.at_most * (1 + 1e-9) for bottle, volume in taken)
    assert ("part" in oil.words) == (len(taken) == 2)


def test_a_syringe_measures_the_parts_out() -> None:
    """By hand: three parts in one make 8 mL of 2 mL each; marks of 0.5 mL leave that as it is, of
    0.3 mL make each part 2.1 mL, and a bottle that holds no more than 6.2 mL gives just those."""
    wanted = oil.blend([(3, 300e-6), (1, 900e-6)])
    for step, left, words in (
        (0.5e-6, 100e-6, "6.0 mL of 300 cSt mixed with 2.0 mL of 900 cSt (parts 3 : 1)"),
        (0.3e-6, 100e-6, "6.3 mL of 300 cSt mixed with 2.1 mL of 900 cSt (parts 3 : 1)"),
        (0.3e-6, 6.2e-6, "6.0 mL of 300 cSt mixed with 2.0 mL of 900 cSt (parts 3 : 1)"),
    ):
        made = named(bottles([300, 900], left), wanted, 8e-6, step, show)
        assert made.words.replace("\u00a0", " ") == words
