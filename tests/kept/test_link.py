"""A car as a short text: it comes back whole, and nothing that is not one gets in."""

import base64
import json
import math
import string
import zlib
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.asking.entry import Refused
from calc.asking.record import MOST
from calc.kept import link, link_words
from calc.kept.link_words import WORDS_1
from calc.model.car import Bottle, Car, Spring, added_since, from_json, put, singles, to_json
from calc.model.origin import Origin
from tests.owned import owned
from tests.strategies import CARS

LONG = "a bottle with a name of forty characters"
FULL = replace(
    owned(),
    bottles=tuple(Bottle(LONG, (100 + 37 * n) * 1e-6, (3 + n) * 1e-6) for n in range(MOST)),
    springs=tuple(
        Spring(LONG, 450.0 + 13 * n, (38 + n / 2) * 1e-3, (13 + n / 4) * 1e-3) for n in range(MOST)
    ),
)


def packed_by_hand(stored: object, words: str = WORDS_1) -> str:
    """What `pack` makes of any JSON value."""
    text = stored if isinstance(stored, str) else json.dumps(stored)
    squeezer = zlib.compressobj(zdict=words.encode())
    return "1" + in_letters(squeezer.compress(text.encode()) + squeezer.flush())


def in_letters(data: bytes) -> str:
    return base64.b32encode(data).decode()


def told(car: Car) -> dict[str, Any]:
    """The car without the day and the deed its values come from, for which a code has no room."""
    stored = to_json(car)
    words = {path: {**one, "when": 0, "of": ""} for path, one in stored["origins"].items()}
    return {**stored, "origins": words}


def same(one: Any, other: Any) -> bool:
    """Equal, numbers to ten digits."""
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[k], other[k]) for k in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float):
        return math.isclose(one, other, rel_tol=1e-9)
    return bool(one == other)


@settings(max_examples=100, deadline=None)
@given(CARS)
def test_every_car_comes_back(car: Car) -> None:
    back = link.unpack(link.pack(car))
    assert same(told(car), told(back))
    assert link.pack(back) == link.pack(car)


@pytest.mark.parametrize("car", [Car(), FULL], ids=["demo", "full"])
def test_it_comes_back_from_an_address_in_any_case(car: Car) -> None:
    address = f"https://example.org/bench/index.html#{link.FRAGMENT}{link.pack(car)}"
    for text in (address, link.pack(car).lower(), f"  {link.pack(car)}\n"):
        assert same(told(link.unpack(text)), told(car))


@settings(max_examples=50, deadline=None)
@given(CARS)
def test_a_slim_car_lacks_only_names_and_digits(car: Car) -> None:
    back = link.unpack(link.pack(link.slim(car), link.FEW_DIGITS))
    for mine, theirs in ((car.bottles, back.bottles), (car.springs, back.springs)):
        assert len(mine) == len(theirs)
        assert not any(row.name for row in theirs)
    assert back.name == car.name
    assert math.isclose(back.front.pitch, car.front.pitch, rel_tol=1e-5)


def test_a_link_needs_no_escaping_and_is_short() -> None:
    """Letters and digits that a QR code holds in its alphanumeric mode (ISO/IEC 18004, 7.3.4)."""
    for car in (Car(), FULL):
        assert set(link.pack(car)) <= set(string.ascii_uppercase + string.digits)
    # Far longer only if the record has outgrown the words that both ends know.
    assert len(link.pack(Car())) < 300
    assert len(link.pack(FULL)) < link.LONGEST / 2


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=300) | st.binary(max_size=200).map(lambda b: "1" + in_letters(b)))
def test_nothing_else_gets_in(text: str) -> None:
    with pytest.raises(Refused, match=r"\.$"):
        link.unpack(text)


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 10_000), st.sampled_from(string.ascii_uppercase + "234567"))
def test_one_letter_changed_is_noticed_or_harmless(place: int, letter: str) -> None:
    """The text carries a checksum (RFC 1950): another car never comes out."""
    whole = link.pack(FULL)
    place = 1 + place % (len(whole) - 1)
    changed = whole[:place] + letter + whole[place + 1 :]
    try:
        back = link.unpack(changed)
    except Refused:
        return
    assert same(told(back), told(FULL))


@pytest.mark.parametrize("cut", [1, 2, 10, 50])
def test_a_text_cut_off_is_refused(cut: int) -> None:
    with pytest.raises(Refused, match="damaged or not whole"):
        link.unpack(link.pack(FULL)[:-cut])


def test_limits_hold() -> None:
    with pytest.raises(Refused, match="too long"):
        link.unpack("1" + "A" * link.LONGEST)
    bomb = packed_by_hand('{"schema":"' + "x" * 1_000_000 + '"}')
    assert len(bomb) < link.LONGEST
    with pytest.raises(Refused, match="damaged or not whole"):
        link.unpack(bomb)
    nested = packed_by_hand("[" * 40_000 + "]" * 9_000)
    with pytest.raises(Refused, match="damaged or not whole"):
        link.unpack(nested)


@pytest.mark.parametrize(
    "change",
    [
        {"schema": 99},
        {"schema": None},
        {"front": {}},
        {"unknown": 1},
        {"bottles": [{"name": "", "viscosity": 1e-4, "left": 0}] * (MOST + 1)},
        {"name": "x" * 41},
        {"thread_hand": "sideways"},
    ],
)
def test_every_check_of_the_record_holds(change: dict[str, Any]) -> None:
    stored = {**to_json(Car()), **change}
    with pytest.raises(Refused) as by_record:
        from_json(stored)
    with pytest.raises(Refused) as by_link:
        link.unpack(packed_by_hand(stored))
    assert str(by_link.value) == str(by_record.value)


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1e999", "-1"])
def test_a_number_that_is_none_is_refused(number: str) -> None:
    text = json.dumps(to_json(Car())).replace('"pitch": 0.00075', f'"pitch": {number}', 1)
    assert number in text
    with pytest.raises(Refused):
        link.unpack(packed_by_hand(text))


def test_a_newer_format_says_so() -> None:
    with pytest.raises(Refused, match="newer version"):
        link.unpack("5ABCDEFG")


def test_the_same_numbers_are_shown_before_and_after() -> None:
    back = link.unpack(link.pack(FULL))
    for mine, theirs in zip(FULL.springs, back.springs, strict=True):
        assert units.show(mine.rate, "rate") == units.show(theirs.rate, "rate")


def test_a_link_tells_the_origin_of_every_value() -> None:
    """A value whose path the format does not know would arrive as unknown."""
    assert set(link_words.PATHS_4.split()) == set(singles())


def test_a_link_of_the_second_format_lacks_what_its_record_had_not() -> None:
    """Codes on paper outlive the schema: what it did not know arrives as known to nobody."""
    stored = to_json(FULL)
    new = set(link_words.PATHS_4.split()) - set(link_words.PATHS_2.split())
    for path in new:
        *above, last = path.split(".")
        holder = stored
        for name in above:
            holder = holder[name]
        del holder[last]
    known = "m" * len(link_words.PATHS_2.split())
    told_then = {**stored, "schema": 2, "known": known}
    del told_then["origins"]
    back = link.unpack("2" + packed_by_hand(told_then)[1:])
    assert set(back.origins) == set(link_words.PATHS_2.split())
    assert back.front.pitch == FULL.front.pitch
    assert back.front.tyre_rate == 3000.0


OWNED_3 = (
    "3PD4SPQKZS6VYNN4ARXQS2YBHKCFBQ4JNMAZ2EW6AUD6ATKVAMACTEMJN4K2KFTDEKDECATBJVECFNQMQAAYDMACF7FUKHG"
    "KAUMM2QF7ECJYGKCHWIJMSMNGQQFYTJMS22Q5EVWOAGQFOCDWP222RTUNNNO6NSEKXNON3Z7BY3IQEO2MQ4PFZAFRDVO2Y5H"
    "RBBG25YRY35GRY25CIEMO5CRQ7NWQI6NWQSEN6Q2MJHHC2TQECEUX36HCYJ4U6KDR4KCVAKABU4LBUA"
)
DEMO_3 = (
    "3PD4SPQKZS6VYNN4ARVDXQC6YRTUBMMBIP6BCUKCYQFGEZCZYVUUDGGIUGIEFGSRKQFKTAJAARQGUAUJ63JUCNUDIA3VALOI"
    "ELQMYFPKQSYEQ25DADSG2YFVVRZJDMMENIK4MHM3VNVDHJ2Y2N53MJVO2EYXT7DRWZBIRVZHYGKSMLSDKVWRWOSCCFX35CRX"
    "2NARR3USII62NCRY35CRQ25HUAY5LAXGJZMXQOVSTJK5AGD4UNIA2XHNCGI"
)
"""Codes as the third format made them, of the demo car and of one that its owner has measured."""


def test_a_code_of_the_third_format_is_read_for_ever() -> None:
    assert link.unpack(DEMO_3) == Car()
    back, new = link.unpack(OWNED_3), {*added_since(3)}
    assert same(told(back)["front"], told(owned())["front"])
    assert set(back.origins) == set(singles()) - new


def test_a_length_of_each_damper_makes_no_link_longer_that_has_none() -> None:
    """Those of the third format are as long or longer; one that is known comes back."""
    assert len(link.pack(Car())) <= len(DEMO_3)
    car = link.unpack(OWNED_3)
    assert len(link.pack(car)) <= len(OWNED_3)
    source = Origin("measured")
    one = put(car, "corners.rear_left.damper_length", 0.0973, source)
    back = link.unpack(link.pack(one))
    assert back.corners.rear_left.damper_length == 0.0973
    assert set(back.origins) - set(car.origins) == {"corners.rear_left.damper_length"}
