"""Oil for both ends out of the same bottles: no bottle gives more than is in it."""

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.forms.filling import Fill, Wanted, filled_from, filled_together, to_make
from calc.forms.oil_choice import NoOil
from calc.model.car import Bottle
from calc.model.corners import End
from calc.units import show

FINE = 1e-15
"""m³; marks so fine that no recipe is rounded to them."""
together = partial(filled_together, say=show)
STOCK = st.lists(
    st.tuples(st.integers(50, 2000), st.none() | st.integers(0, 300)), min_size=1, max_size=5
)
WANTED = st.tuples(st.integers(60, 1900), st.integers(20, 200))


def bottles(*owned: tuple[int, int | None]) -> dict[int, Bottle]:
    """By cSt and tenths of a millilitre; None where nobody knows how many."""
    return {
        n: Bottle("", cst * 1e-6, None if left is None else left * 1e-7)
        for n, (cst, left) in enumerate(owned, 1)
    }


def wanted(front: tuple[int, int], rear: tuple[int, int]) -> dict[End, Wanted]:
    return {
        end: Wanted(cst * 1e-6, amount * 1e-7, FINE)
        for end, (cst, amount) in zip(End, (front, rear), strict=True)
    }


def poured(fills: dict[End, Fill | NoOil]) -> dict[int, float]:
    total: dict[int, float] = {}
    for one in fills.values():
        for place, volume in one.poured if isinstance(one, Fill) else ():
            total[place] = total.get(place, 0.0) + volume
    return total


@settings(max_examples=300, deadline=None)
@given(owned=STOCK, front=WANTED, rear=WANTED)
def test_both_ends_together_take_no_more_than_is_there(
    owned: list[tuple[int, int | None]], front: tuple[int, int], rear: tuple[int, int]
) -> None:
    stock, both = bottles(*owned), wanted(front, rear)
    fills = together(stock, both)
    for place, volume in poured(fills).items():
        assert volume <= stock[place].at_most * (1 + 1e-6)
    for end, one in fills.items():
        if isinstance(one, Fill):
            assert sum(volume for _, volume in one.poured) == pytest.approx(both[end].amount)


@settings(max_examples=200, deadline=None)
@given(owned=STOCK, front=WANTED, rear=WANTED)
def test_an_end_that_has_an_oil_alone_loses_it_only_to_the_other(
    owned: list[tuple[int, int | None]], front: tuple[int, int], rear: tuple[int, int]
) -> None:
    """In bottles twice as full each end has what it has alone in these."""
    stock, both = bottles(*owned), wanted(front, rear)
    fills = together(stock, both)
    for end, one in both.items():
        try:
            filled_from(stock, one, show)
        except NoOil:
            assert isinstance(fills[end], NoOil)
        else:
            other = fills[End.FRONT if end is End.REAR else End.REAR]
            assert isinstance(fills[end], Fill) or isinstance(other, Fill)
    full = {n: replace(bottle, left=1.0) for n, bottle in stock.items()}
    alone = {end: filled_or_not(full, one) for end, one in both.items()}
    assert {end: words(one) for end, one in together(full, both).items()} == alone


def filled_or_not(stock: dict[int, Bottle], one: Wanted) -> str:
    try:
        return words(filled_from(stock, one, show))
    except NoOil as lack:
        return words(lack)


def words(one: Fill | NoOil) -> str:
    return one.oil.words if isinstance(one, Fill) else str(one)


def test_one_end_gets_the_next_best_recipe_where_a_bottle_is_too_small_for_both() -> None:
    """Both want 350 cSt; the bottle of it holds 8 mL, and each end takes more than 7."""
    stock = bottles((200, 600), (300, 250), (350, 80), (500, 450))
    fills = together(stock, wanted((350, 76), (350, 76)))
    said = [words(one) for one in fills.values()]
    assert sorted(text.startswith("straight 350") for text in said) == [False, True]
    assert any("of 300" in text for text in said)


def test_where_no_recipe_does_for_both_the_front_is_filled_and_the_rear_is_told_why() -> None:
    fills = together(bottles((350, 80)), wanted((350, 76), (350, 50)))
    assert words(fills[End.FRONT]).startswith("straight 350")
    rear = fills[End.REAR]
    assert isinstance(rear, NoOil) and rear.lacks == "amount"
    assert "once the front dampers are filled" in str(rear)
    assert "5.00\u00a0mL of 350\u00a0cSt" in str(rear)


def test_two_dampers_and_what_runs_over_are_made() -> None:
    """Twice 4.2 mL and 15 % (common practice, no source)."""
    assert to_make(4.2e-6) == pytest.approx(9.66e-6)
