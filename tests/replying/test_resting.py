"""What stands beside a value that nobody has typed here: where it comes from."""

import pytest

from calc.forms.catalogue import BY_SLUG
from calc.model.car import empty, entry_at, put
from calc.model.origin import Origin, entered
from calc.replying.reading import run
from calc.replying.resting import said_origins
from calc.units import METRIC


@pytest.mark.parametrize(
    ("path", "value", "field", "word"),
    [
        ("front.ride_height", 0.022, "ride_height", "measured"),
        ("front.spring_rate", 640.0, "spring_rate", "from the label"),
        ("front.wanted_height", 0.0235, "wanted_height", "entered"),
    ],
)
def test_a_wish_was_not_measured(path: str, value: float, field: str, word: str) -> None:
    form, car = BY_SLUG["collar-turns"], empty("Mine")
    car = put(car, path, value, entered(entry_at(path), 1.0))
    told = dict(said_origins(form, run(form, {}, car), METRIC))
    assert told[field] == word


def test_a_doubt_of_its_own_is_said() -> None:
    form, car = BY_SLUG["collar-turns"], empty("Mine")
    car = put(car, "front.ride_height", 0.022, Origin("predicted", 1.0, "log", 0.15e-3))
    told = dict(said_origins(form, run(form, {}, car), METRIC))
    assert (
        told["ride_height"]
        == "predicted, not measured since, ±\N{NO-BREAK SPACE}0.30\N{NO-BREAK SPACE}mm"
    )
