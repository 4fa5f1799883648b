"""The stored car: it comes back whole, and whatever was done to it is refused in one sentence."""

import copy
import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.asking import record
from calc.asking.entry import Choice, Number, Refused, Text
from calc.language import speaking
from calc.model.car import (
    SCHEMA,
    Bottle,
    Car,
    added_since,
    demo,
    empty,
    entry_at,
    from_json,
    is_known,
    numbers,
    put,
    singles,
    to_json,
)
from tests.damaged import altered, is_one_sentence, places
from tests.owned import owned
from tests.strategies import CARS

DEMO = to_json(Car())
HUGE = 10**400


@settings(max_examples=60, deadline=None)
@given(car=CARS)
def test_every_car_comes_back_from_its_json_as_it_was(car: Car) -> None:
    assert from_json(json.loads(json.dumps(to_json(car), allow_nan=False))) == car


def test_the_demo_car_is_marked_and_stays_a_car_apart() -> None:
    assert Car().demo
    changed = put(Car(), "front.pitch", 1e-3)
    assert changed.front.pitch == 1e-3 and changed.demo
    assert changed.rear == Car().rear
    assert not empty("Mine").demo


def test_the_demo_car_is_stored_alike_in_every_language_and_read_in_the_one_spoken() -> None:
    poured = put(Car(), "bottles.1.left", 1e-6)
    for code, cap in (("en", "blue cap"), ("de", "blauer Deckel"), ("es", "tapón azul")):
        with speaking(code):
            shown = from_json(to_json(poured))
            assert shown.bottles[0].name == demo().bottles[0].name == cap
            assert to_json(shown) == to_json(poured)
    named = replace(poured, demo=False)
    with speaking("de"):  # its owner's names, whoever speaks
        assert from_json(to_json(named)).bottles == named.bottles


PLACES = places(DEMO)
ANYTHING = st.recursive(
    st.one_of(
        st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=60),
        st.sampled_from([HUGE, -HUGE, 1e308, "\ud800", "1" * 5000, "nan", SCHEMA + 1]),
    ),
    lambda inner: st.lists(inner, max_size=25) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=30,
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@given(path=st.sampled_from(PLACES), value=ANYTHING)
def test_any_other_value_anywhere_makes_a_car_or_one_sentence(
    path: tuple[Any, ...], value: Any
) -> None:
    try:
        car = from_json(altered(DEMO, path, value))
    except Refused as refused:
        assert is_one_sentence(str(refused))
        return
    assert from_json(to_json(car)) == car
    for place, entry in numbers():
        inside = record.get(car, place)
        assert inside is None or entry.possible[0] <= inside <= entry.possible[1]


WRONG_TYPES: list[Any] = [None, True, "1", [], {}, [1.0], float("nan"), float("inf"), HUGE, 1j]


@pytest.mark.parametrize(
    ("path", "wrong"),
    [
        (place, wrong)
        for place, entry in numbers()
        for wrong in WRONG_TYPES
        if wrong is not None or not entry.optional
    ],
    ids=lambda one: one if isinstance(one, str) else type(one).__name__,
)
def test_a_number_of_another_type_is_refused(path: str, wrong: Any) -> None:
    keys = tuple(int(key) - 1 if key.isdigit() else key for key in path.split("."))
    with pytest.raises(Refused, match=r"^The car record is damaged at .*\.$"):
        from_json(altered(DEMO, keys, wrong))


@pytest.mark.parametrize(("path", "entry"), numbers(), ids=lambda it: str(it)[:30])
def test_a_number_out_of_its_possible_range_is_refused(path: str, entry: Number) -> None:
    keys = tuple(int(key) - 1 if key.isdigit() else key for key in path.split("."))
    low, high = entry.possible
    for wrong in (low - 0.01 * (high - low), high + 0.01 * (high - low), -1e300, 1e300):
        with pytest.raises(Refused, match="is not possible here"):
            from_json(altered(DEMO, keys, wrong))


@pytest.mark.parametrize("path", [p for p in PLACES if p and not isinstance(p[-1], int)], ids=str)
def test_a_key_that_is_missing_or_unknown_is_refused(path: tuple[Any, ...]) -> None:
    for add in (False, True):
        stored: Any = copy.deepcopy(DEMO)
        inner = stored
        for key in path[:-1]:
            inner = inner[key]
        if add:
            inner["unknown \ud800\n"] = 1
        else:
            del inner[path[-1]]
        with pytest.raises(Refused) as refused:
            from_json(stored)
        assert is_one_sentence(str(refused.value))


@pytest.mark.parametrize("stored", [None, 1, "car", [], {}, {"schema": "1"}, {"schema": 0}, [DEMO]])
def test_what_is_no_car_is_refused(stored: object) -> None:
    with pytest.raises(Refused, match=r"^This is not a car record\.$"):
        from_json(stored)


def test_a_car_of_a_later_version_asks_for_an_update() -> None:
    for schema in (SCHEMA + 1, HUGE):
        with pytest.raises(Refused, match="newer version: update the site"):
            from_json({**DEMO, "schema": schema})


def test_a_list_longer_than_anybody_owns_is_refused() -> None:
    bottles = DEMO["bottles"][:1]
    assert len(from_json({**DEMO, "bottles": bottles * record.MOST}).bottles) == record.MOST
    with pytest.raises(Refused, match=r"damaged at car\.bottles"):
        from_json({**DEMO, "bottles": bottles * (record.MOST + 1)})


def test_paths_lead_to_declarations_and_values() -> None:
    car = Car()
    assert isinstance(entry_at("bottles.2.left"), Number)
    assert isinstance(entry_at("thread_hand"), Choice)
    assert isinstance(entry_at("name"), Text)
    assert record.get(car, "bottles.2.left") == car.bottles[1].left
    assert record.get(car, "bottles.19.left") is None
    assert put(car, "bottles.2.left", 1e-6).bottles[1].left == 1e-6
    assert put(car, "bottles.2.left", 1e-6).bottles[0] == car.bottles[0]
    assert record.in_list("bottles.2.left") and not record.in_list("front.pitch")


def test_the_demo_car_lies_within_its_own_usual_ranges() -> None:
    for path, entry in numbers():
        assert not entry.is_unusual(record.get(Car(), path)), path


def test_only_what_is_optional_may_be_missing() -> None:
    stored = to_json(replace(Car(), bottles=(Bottle("", 3e-4, None),)))
    assert from_json(json.loads(json.dumps(stored))).bottles == (Bottle("", 3e-4, None),)
    for broken in ({"viscosity": None, "left": None}, {"viscosity": 3e-4}):
        with pytest.raises(Refused, match=r"damaged at car\.bottles"):
            from_json({**stored, "bottles": [{"name": "", **broken}]})


@pytest.mark.parametrize("u", [[], {"name": 1.0}, {"viscosity": -1.0}, {"viscosity": "1"}, None])
def test_uncertainties_of_a_row_are_checked(u: Any) -> None:
    bottle = {"name": "", "viscosity": 3e-4, "left": None}
    with pytest.raises(Refused, match=r"damaged at car\.bottles"):
        from_json({**DEMO, "bottles": [{**bottle, "u": u}]})


def test_what_the_first_schema_stored_is_read_for_ever() -> None:
    """Cars on phones, in links and in back-ups bear a 1: a new number needs a way from the old."""
    stored = {key: value for key, value in DEMO.items() if key != "schema"}
    assert from_json({"schema": 1, **stored}) == Car()


@pytest.mark.parametrize("schema", [1, 2, 3, 4, 5])
def test_a_record_of_an_older_schema_lacks_what_came_later(schema: int) -> None:
    """A length of each damper came with the fourth: the demo car has one, of another nobody has
    measured any; the length of the pair stays as it was known."""
    for car in (Car(), owned()):
        stored = json.loads(json.dumps(to_json(car)))
        for path in added_since(schema):
            *above, last = path.split(".")
            holder = stored
            for name in above:
                holder = holder[name]
            del holder[last]
            stored["origins"].pop(path, None)
        back = from_json({**stored, "schema": schema})
        for path in singles():
            assert is_known(back, path) == (car.demo or path not in added_since(schema)), path
        assert back.front == car.front or schema < 3
        assert to_json(back)["schema"] == SCHEMA
        assert car != Car() or back == car
