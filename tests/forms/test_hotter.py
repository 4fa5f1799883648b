"""Oil for today: one instruction for each end, against the published law of silicone oil."""

from functools import partial
from itertools import pairwise

import pytest

from calc.forms.hotter import FORM
from calc.model.car import Bottle, Car
from calc.physics.warm import dynamic_at
from tests.forms.asking import answered, values

ask = partial(answered, FORM)


def test_both_ends_follow_the_published_equation() -> None:
    """log10 nu = 763.1/(273 + T) + const: silicone fluid makers' technical data, read second-hand;
    0.095 % of volume for each kelvin, makers' data, from memory."""
    wider = (1 + 9.5e-4 * 10) / (1 - 9.5e-4 * 3)
    ratio = 10 ** (763.1 * (1 / 295.15 - 1 / 308.15)) * wider
    answer = ask(front_at="22", rear_at="22", now="35", front_oil="400", rear_oil="300")
    found = values(answer)
    assert found["front_wanted"] == pytest.approx(400e-6 * ratio, rel=1e-3)
    assert found["rear_wanted"] == pytest.approx(300e-6 * ratio, rel=1e-3)
    assert found["change"] == pytest.approx(1 / ratio - 1, rel=1e-2)


def test_the_same_day_leaves_both_ends() -> None:
    answer = ask(front_at="25", rear_at="25", now="25")
    assert len(answer.steps) == 2 and not answer.writes
    assert all("leave" in step.text for step in answer.steps)


def test_bottles_give_one_instruction_for_each_end() -> None:
    car = Car(bottles=(Bottle("", 200e-6, 60e-6), Bottle("", 1000e-6, 60e-6)))
    answer = ask(car, front_at="22", rear_at="22", now="35", front_oil="400", rear_oil="300")
    assert [step.text.split(":")[0] for step in answer.steps] == ["Front", "Rear"]
    assert [write.path for write in answer.writes] == [
        "front.oil", "front.oil_at", "rear.oil", "rear.oil_at",
    ]  # fmt: skip


def test_an_end_without_an_oil_is_a_stop_and_the_other_is_still_told() -> None:
    car = Car(bottles=(Bottle("", 200e-6, 60e-6), Bottle("", 500e-6, 60e-6)))
    answer = ask(car, front_at="22", rear_at="22", now="35", front_oil="900", rear_oil="300")
    assert [write.path for write in answer.writes] == ["rear.oil", "rear.oil_at"]
    assert any(c.stop and c.text.startswith("Front") for c in answer.cautions)


def test_the_plot_runs_over_the_days_and_says_what_the_table_would() -> None:
    """From 0 to 50 °C, and the dynamic viscosity stays what it is at the 22 °C that felt right."""
    front = ask(front_at="22", rear_at="22", now="35", front_oil="400").plots[0].curves[0].points
    assert [front[0][0], front[-1][0]] == pytest.approx([273.15, 323.15])
    assert all(one[0] < two[0] and one[1] < two[1] for one, two in pairwise(front))
    right = dynamic_at(400e-6, 295.15)
    assert [dynamic_at(grade, t) for t, grade in front] == pytest.approx([right] * 21, rel=1e-6)
