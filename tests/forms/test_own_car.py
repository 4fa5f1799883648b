"""An answer of one's own car rests on what its form shows, and on nothing of the demo car."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import fields, replace
from typing import Any

import pytest

from calc.answering.answer import Answer
from calc.asking import record
from calc.asking.entry import Number
from calc.forms.catalogue import FORMS
from calc.kept import doing
from calc.kept.deeds import carried_out
from calc.model import car as cars
from calc.model.car import Car, empty, forget, is_asked_for, is_known, put, singles
from calc.model.corners import CORNERS
from calc.model.origin import Origin
from calc.replying.form import Form, Reply
from calc.replying.learned import usual
from calc.replying.reading import run
from tests.forms.every import Along, along_few_or_all, each_form, each_way
from tests.forms.ways import Choices
from tests.owned import BEFORE, owned

_READ_WITH = ("tools.", "weight_scale.")
"""How exactly an owner reads and what a weight number means: that comes with each entry."""


def with_readings(form: Form, way: Choices) -> Choices:
    """The readings that a form shows for the demo car alone, typed for another."""
    shown = run(form, way, Car()).filled
    readings = (
        name
        for _, name, cell in form.cells()
        if isinstance(cell, Number) and not cell.car and cell.example is not None and name in shown
    )
    return {**{name: shown[name] for name in readings}, **way}


def assumed(form: Form, typed: Choices, lists: Car) -> Car:
    """A car of which nothing is known but what this form had to assume and what only a gauge tells,
    with the bottles and springs of another."""
    car = replace(empty("Blue buggy"), bottles=lists.bottles, springs=lists.springs)
    for path, (value, source) in usual(form, typed, car, BEFORE).items():
        car = put(car, path, value, source)
    reply = run(form, typed, car)
    for name in reply.open:
        cell = form.by_name[name]
        path = cell.car.format(**reply.filled)
        if path and is_asked_for(cell):
            car = put(car, path, record.get(lists, path), Origin("measured", BEFORE))
    return car


def other(entry: record.Declared, value: Any) -> Any:
    """Another value that the entry may have."""
    if not isinstance(entry, Number):
        return next(option for option in _options(entry) if option != value)
    low, high = entry.possible
    if entry.whole:
        return value + 1 if value < high else value - 1
    near = value * 1.03 + (high - low) * 1e-5
    return near if low <= near <= high else value * 0.97 - (high - low) * 1e-5


def _options(entry: Any) -> list[str]:
    return [value for value, _ in entry.options]


def compared(reply: Reply, car: Car) -> Answer | None:
    """The answer, with turns in place of where a collar stands then: that is counted on from where
    it stands in the log, and nothing else goes by it."""
    if reply.answer is None:
        return None
    stands = {f"corners.{corner}.collar": car.corner(corner).collar for corner in CORNERS}
    writes = (
        replace(write, value=round(write.value - stands.get(write.path, 0.0), 9))
        for write in reply.answer.writes
    )
    return replace(reply.answer, writes=tuple(writes))


@each_way
def test_what_no_field_shows_is_in_no_answer(form: Form, way: Choices) -> None:
    typed, car = with_readings(form, way), owned()
    reply = run(form, typed, car)
    assert reply.answer is not None
    cells = {name: cell for _, name, cell in form.cells()}
    shown = {cells[name].car.format(**reply.filled) for name in reply.asked}
    hidden = [p for p in singles() if p not in shown and not p.startswith(_READ_WITH)]
    moved = unknown = car
    for path in hidden:
        moved = put(moved, path, other(singles()[path], record.get(car, path)))
        unknown = forget(unknown, path)
    for another in (moved, unknown):
        assert compared(run(form, typed, another), another) == compared(reply, car)


@each_way
def test_nothing_counts_as_known_of_a_car_that_nobody_knows(form: Form, way: Choices) -> None:
    typed = with_readings(form, way)
    reply = run(form, typed, assumed(form, typed, Car()))
    cells = {name: cell for _, name, cell in form.cells()}
    of_car = {name for name in reply.asked if not record.in_list(cells[name].car)} - {"name"}
    assert of_car - reply.sources.keys() - typed.keys() == set()
    assert reply.open == ()


def _moved(car: Car) -> Car:
    """All numbers of a car moved, those in its lists too."""
    for path, entry in singles().items():
        if isinstance(entry, Number):
            car = put(car, path, other(entry, record.get(car, path)))
    bottles = tuple(replace(one, viscosity=one.viscosity * 1.03) for one in car.bottles)
    springs = tuple(replace(one, rate=one.rate * 1.03) for one in car.springs)
    return replace(car, bottles=bottles, springs=springs)


@contextmanager
def another_demo(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """With other numbers in the demo car and other examples in the forms."""
    initialise, examples = Car.__init__, [
        (cell, cell.example)
        for form in FORMS
        for _, _, cell in form.cells()
        if isinstance(cell, Number) and cell.example is not None
    ]  # fmt: skip

    def moved_init(self: Car, *args: Any, **given: Any) -> None:
        initialise(self, *args, **given)
        if not (args or given):
            made = _moved(replace(self, name=self.name))
            for item in fields(Car):
                object.__setattr__(self, item.name, getattr(made, item.name))

    with monkeypatch.context() as patched:
        patched.setattr(Car, "__init__", moved_init)
        for cell, example in examples:
            object.__setattr__(cell, "example", other(cell, example))
        cars._nothing_known.cache_clear()
        try:
            yield
        finally:
            for cell, example in examples:
                object.__setattr__(cell, "example", example)
            cars._nothing_known.cache_clear()


@along_few_or_all
@each_form
def test_no_number_of_the_demo_car_is_in_a_reply_of_another(
    form: Form, along: Along, monkeypatch: pytest.MonkeyPatch
) -> None:
    demo, measured = Car(), owned()
    all_typed = [(way, with_readings(form, way)) for way in along(form)]

    def replies() -> list[Reply]:
        found = []
        for way, typed in all_typed:
            found += [run(form, typed, assumed(form, typed, demo)), run(form, typed, measured)]
            if typed != way:
                found.append(run(form, way, measured))
        return found

    before, shown = replies(), [run(form, way, Car()) for way, _ in all_typed]
    assert any(reply.answer for reply in before)
    with another_demo(monkeypatch):
        assert [run(form, way, Car()) for way, _ in all_typed] != shown
        assert replies() == before
    assert run(form, all_typed[0][0], Car()) == shown[0]


@each_way
def test_what_is_usual_can_be_taken_on_a_car_of_which_nothing_is_known(
    form: Form, way: Choices
) -> None:
    """No bottle or spring is invented: a list that is empty stays so, and is asked for. Nor is a
    reading: whoever has not measured is asked to, and no answer holds a height of nobody's."""
    car = empty("Blue buggy")
    taken = carried_out(car, doing.assumed(form, way, car, BEFORE))
    assert (taken.bottles, taken.springs) == ((), ())
    reply = run(form, way, taken)
    left = [form.by_name[name] for name in reply.open]
    assert all(not cell.car or record.in_list(cell.car) or is_asked_for(cell) for cell in left)
    asked_for = {name for name, cell in form.by_name.items() if is_asked_for(cell)}
    assert asked_for.isdisjoint(reply.sources)
    if reply.answer:
        assert asked_for.isdisjoint(reply.asked)


@pytest.mark.parametrize("reading", ["ride_height", "load", "stroke", "damper_length"])
def test_what_the_work_changes_and_a_gauge_shows_is_a_reading(reading: str) -> None:
    """Common practice, no source: height, corner weights, a stroke and a length are measured on
    the car at hand, however like another it is."""
    corners = reading in ("load", "stroke", "damper_length")
    found = [
        path
        for path in singles()
        if path.endswith(f".{reading}") and path.startswith("corners.") == corners
    ]
    assert found and all(is_asked_for(singles()[path]) for path in found)
    old = put(empty("Old"), found[0], 0.03, Origin("assumed", BEFORE))
    assert not is_known(old, found[0]), "kept by a version that assumed it"
