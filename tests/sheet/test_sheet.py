"""The sheet says what the forms and the command line say, for any car."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.__main__ import main
from calc.answering.answer import Table
from calc.forms.catalogue import BY_SLUG
from calc.forms.spring_swap.table import swap_table
from calc.model.car import Bottle, Car, to_json
from calc.replying.reading import run
from calc.sheet.blocks import (
    BLOCKS,
    BY_KEY,
    CAUTIONS,
    PENCIL_HEAD,
    USUAL,
    Carried,
    Noted,
    Sheet,
    sheet,
)
from calc.sheet.tables import springs
from tests.strategies import CARS

# Blocks that are the first table of a form, with what is typed into it.
FROM_FORMS: Mapping[str, tuple[str, Mapping[str, str]]] = {
    **{f"collar-{axle}": ("collar-turns", {"axle": axle}) for axle in ("front", "rear")},
    **{f"preload-{axle}": ("spring-preload", {"axle": axle}) for axle in ("front", "rear")},
    "stroke": ("stroke", {}),
}
SYSTEMS = st.sampled_from(units.SYSTEMS)
KEYS = [block.key for block in BLOCKS]


def table_of(content: object) -> Table:
    table = content.table if isinstance(content, Noted) else content
    assert isinstance(table, Table)
    return table


def printed(made: Sheet) -> dict[str, Table]:
    return {b.key: table_of(b.content) for b in made.blocks if isinstance(b.content, Table | Noted)}


def without_pencil(table: Table) -> list[list[str]]:
    """Heads and rows without the blank column."""
    last = len(table.heads) - 1 if table.heads[-1] == PENCIL_HEAD else len(table.heads)
    return [list(row[:last]) for row in (table.heads, *table.rows)]


@settings(max_examples=50, deadline=None)
@given(CARS, SYSTEMS)
def test_tables_are_those_on_the_screen(car: Car, system: str) -> None:
    made = sheet(car, system)
    tables = printed(made)
    for key, (slug, typed) in FROM_FORMS.items():
        reply = run(BY_SLUG[slug], typed, car, system)
        assert (key in tables) == (reply.answer is not None)
        if reply.answer:
            shown = reply.answer.tables[0]
            assert without_pencil(tables[key]) == [list(row) for row in (shown.heads, *shown.rows)]
            assert tables[key].mark == shown.mark
        else:
            said = " ".join(made.missing)
            assert BY_KEY[key].title in said
            assert next(iter(reply.problems.values()), "Not known yet: ") in said


def test_tables_are_those_of_the_command_line(
    capsys: pytest.CaptureFixture[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    file = tmp_path_factory.mktemp("car") / "car.json"
    compared = 0

    @settings(max_examples=50, deadline=None)
    @given(CARS)
    def compare(car: Car) -> None:
        nonlocal compared
        file.write_text(json.dumps(to_json(car)), "utf-8")
        tables = printed(sheet(car))
        for key, (slug, typed) in FROM_FORMS.items():
            entries = [f"{name}={value}" for name, value in typed.items()]
            code = main([slug, *entries, "--json", "--car", str(file)])
            said = json.loads(capsys.readouterr().out)
            assert (code == 0) == (key in tables)
            if code == 0:
                first = said["tables"][0]
                assert without_pencil(tables[key]) == [first["heads"], *first["rows"]]
                compared += 1

    compare()
    assert compared > 20


def share_of(ratio: str) -> Fraction:
    thin, _, thick = ratio.split(units.NBSP)
    return Fraction(int(thick), int(thin) + int(thick))


@settings(max_examples=50, deadline=None)
@given(st.lists(st.floats(50e-6, 2000e-6), min_size=2, max_size=20))
def test_blends_are_those_of_the_form(viscosities: list[float]) -> None:
    """To the rounding of what is typed into the form: its cSt have two decimals."""
    grades = sorted({round(v * 1e6) * 1e-6 for v in viscosities})
    car = replace(Car(), bottles=tuple(Bottle("", grade, 1e-5) for grade in grades))
    if len(grades) < 2:
        assert "blends" not in printed(sheet(car))
        return
    table = printed(sheet(car))["blends"]
    assert len(table.rows) == len(grades) - 1
    for (_, *row), thin, thick in zip(table.rows, grades, grades[1:], strict=False):
        typed = {
            "task": "blend",
            "thin": units.entry_text(thin, "viscosity"),
            "thick": units.entry_text(thick, "viscosity"),
            "target": units.entry_text((thin + thick) / 2, "viscosity"),
        }
        answer = run(BY_SLUG["oil-blend"], typed, car).answer
        assert answer is not None
        by_share = {
            share_of(ratio): (gives, laws) for ratio, _, gives, laws in answer.tables[0].rows
        }
        for head, cell in zip(table.heads[1:-1], row[:-1], strict=True):
            assert by_share[share_of(head)][0] == cell
        assert by_share[Fraction(1, 2)][1] == row[-1]


@settings(max_examples=30, deadline=None)
@given(CARS, SYSTEMS)
def test_swaps_are_those_of_the_springs_owned(car: Car, system: str) -> None:
    tables = printed(sheet(car, system))
    rows = [
        (axle.capitalize(), *row[:-1])
        for axle in ("front", "rear")
        for row in tables.get(f"swap-{axle}", Table("", (), ())).rows
    ]
    assert rows == list(swap_table(car, system).rows)


@settings(max_examples=30, deadline=None)
@given(CARS, st.lists(st.sampled_from(KEYS)))
def test_blocks_stand_as_they_were_chosen(car: Car, keys: list[str]) -> None:
    made = sheet(car, units.METRIC, keys)
    wanted = list(dict.fromkeys(keys))
    got = [block.key for block in made.blocks]
    assert got == [key for key in wanted if key in got]
    assert len(got) + len(made.missing) == len(wanted)
    for key in wanted:
        assert key in got or any(BY_KEY[key].title in sentence for sentence in made.missing)


def test_the_demo_car_has_every_block() -> None:
    made = sheet(Car(), units.METRIC, KEYS)
    assert made.missing == ()
    assert [block.key for block in made.blocks] == KEYS
    assert set(USUAL) < set(KEYS)


def test_what_makes_a_table_useless_stands_beside_it() -> None:
    """A car on its droop stops: its collars do not lift it, and the paper says so."""
    car = replace(Car(), front=replace(Car().front, droop_length=20e-3))
    (collar,) = (b for b in sheet(car).blocks if b.key == "collar-front")
    assert isinstance(collar.content, Noted)
    assert "topped out (on its droop stop)" in " ".join(collar.content.notes)


def test_cautions_name_every_danger_of_the_bench() -> None:
    said = " ".join(CAUTIONS).lower()
    words = ("eye", "slippery", "motor", "children", "thread-locking", "plastic", "manual", "rules")
    assert [word for word in words if word not in said] == []


def rows_of(tables: Iterable[Table]) -> Iterable[tuple[Table, tuple[str, ...]]]:
    return ((table, row) for table in tables for row in (table.heads, *table.rows))


@settings(max_examples=50, deadline=None)
@given(CARS, SYSTEMS)
def test_every_row_has_its_cells(car: Car, system: str) -> None:
    made = sheet(car, system, KEYS)
    for table, row in rows_of(printed(made).values()):
        assert len(row) == len(table.heads)
    pencils = [t for t in printed(made).values() if t.heads[-1] == PENCIL_HEAD]
    assert pencils
    assert not any(row[-1] for table in pencils for row in table.rows)
    (code,) = (b.content for b in made.blocks if isinstance(b.content, Carried))
    assert len(code.texts) == 2


def test_a_spring_without_a_name_has_its_number() -> None:
    """Where each spring is in the record: the second one has lost its name."""
    first, second, *rest = Car().springs
    car = replace(Car(), springs=(first, replace(second, name=""), *rest))
    shown = [row[0] for row in springs(car, units.METRIC).rows]
    assert shown == [first.name, "spring 2", *(spring.name for spring in rest)]
