"""Where a value comes from, as it is stored and read again."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.asking.entry import Number, Refused
from calc.asking.typed import Measured
from calc.model.car import empty, from_json, put, singles, to_json
from calc.model.origin import HOWS, Origin, assumed, usual_value
from calc.units import METRIC, SYSTEMS, entry_text
from tests.damaged import is_one_sentence

PATH = "front.ride_height"


def stored(origin: dict[str, Any]) -> dict[str, Any]:
    car = to_json(put(empty("Blue"), PATH, 0.022, Origin("measured", 1.7e9)))
    return {**car, "origins": {PATH: origin}}


@given(how=st.sampled_from(sorted(HOWS)), when=st.floats(0, 9e10), u=st.none() | st.floats(0, 1))
def test_it_comes_back(how: Any, when: float, u: float | None) -> None:
    car = put(empty("Blue"), PATH, 0.022, Origin(how, when, "collar-turns", u))
    assert from_json(json.loads(json.dumps(to_json(car)))).origins == car.origins


def test_what_is_assumed_reads_as_it_is_and_is_short() -> None:
    """Nobody knows 670.82 g of a load that is usually 150 to 3000 g."""
    for path, entry in singles().items():
        if not isinstance(entry, Number):
            continue
        value, u = usual_value(entry), assumed(entry).u
        shown = entry_text(value, entry.kind, METRIC, u)
        assert entry.read(shown) == Measured(pytest.approx(value, rel=1e-12, abs=1e-15)), path
        for system in SYSTEMS:
            digits = entry_text(value, entry.kind, system, u).replace(".", "").strip("-0")
            assert len(digits) <= (2 if u else 4), (path, digits)


@pytest.mark.parametrize("name", ["when", "u"])
@pytest.mark.parametrize("value", [10**400, -1, 1e309, "1", True, [], {}, float("nan")])
def test_a_time_or_uncertainty_that_is_none_is_refused(name: str, value: Any) -> None:
    """A whole number that no float can hold included, which JSON allows."""
    with pytest.raises(Refused) as refused:
        from_json(stored({"how": "measured", name: value}))
    assert is_one_sentence(str(refused.value))
