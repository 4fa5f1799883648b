"""Inputs as a typed class: what is declared is what is read, and a slip fails before any answer."""

import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from inspect import get_annotations
from pathlib import Path
from typing import Any, Literal

import pytest

from calc.answering.answer import Answer, Step
from calc.asking.declare import choice, number, si, si_range, text
from calc.asking.entry import Number, Rows, only
from calc.forms.catalogue import FORMS
from calc.model.car import Car
from calc.model.corners import End
from calc.replying.figures import Figures, by_key, figure
from calc.replying.form import Form
from calc.replying.inputs import (
    Group,
    Inputs,
    Problem,
    Row,
    assumed,
    from_car,
    group,
    groups,
    rows,
    up_to,
)
from calc.replying.reading import read, run

ROOT = Path(__file__).parents[2]


def length(label: str, **more: Any) -> Any:
    return number(
        label=label, kind="length", usual="1 to 10 mm", possible="0 to 20 mm", measure="Measure.",
        **more,
    )  # fmt: skip


class Ring(Row[str]):
    width: float = length("Width", relative=0.1)


class Washer(Group):
    inner: float = length("Inside diameter", start="3 mm")
    outer: float = length("Outside diameter", start="7 mm", relative=0.01)


class Bearing(Group):
    play: float = from_car("{axle}.friction")
    seat: Washer = group(prefix="seat_", when=only("how", "washers"))
    rattle: float = assumed("how it rattles")


def of_end(end: str) -> Callable[[Any], Any]:
    return lambda entry: replace(
        entry, label=f"{end} {entry.label}", car=entry.car.replace("{axle}", end)
    )


class Asked(Inputs):
    how: Literal["washers", "rings"] = choice(
        label="What there is", options={"washers": "washers", "rings": "rings"}
    )
    axle: End = choice(label="End", options={"front": "front", "rear": "rear"})
    pitch: float = from_car("{axle}.pitch")
    spare: float | None = length("Spare", optional=True, when=only("how", "rings"))
    rings: tuple[Ring, ...] = rows(
        label="Rings", each=up_to(3, "Ring"), examples=(("2 mm",), ("4 mm",)),
        when=only("how", "rings"),
    )  # fmt: skip
    thin: Washer = group(when=only("how", "washers"))
    thick: Washer = group(prefix="thick_", when=only("how", "washers"))
    bearings: Mapping[End, Bearing] = groups(keys=End, change=of_end)
    title: str = text(label="Title", optional=True)
    wear: float = assumed("wear", 1.0, 0.05)
    scatter: float = assumed("scatter")


class RingFigures(Figures):
    width: float = figure("Width times {times}", kind="length")


class StackFigures(Figures):
    height: float = figure("Height", kind="length")
    spare: float | None = figure("Spare", kind="length", default=None)
    each: dict[str, RingFigures] = by_key(lambda key, label: f"{key}: {label}")


def figures(asked: Asked) -> StackFigures:
    widths = {row.key: row.width for row in asked.rings}
    return StackFigures(
        height=sum(widths.values()) * asked.wear + asked.scatter,
        each={key: RingFigures(width=2 * width) for key, width in widths.items()},
    )


def solve(asked: Asked) -> Answer:
    made = asked.assuming((Asked.scatter, 0.0, 0.1e-3)).propagate(figures)
    return Answer((Step("Stack them."),), asked.quantities(made, times="2"))


FORM = Form("rings", "Rings", "bench", "How high?", Asked, solve)


def asked(**typed: str) -> Asked:
    inputs, reply = read(FORM, {name.replace("__", "."): v for name, v in typed.items()}, Car())
    assert reply.problems == {}
    return inputs


def test_values_are_read_by_attribute_as_the_annotation_says() -> None:
    given = asked(how="rings", axle="rear", spare="3", title="bronze")
    assert (given.how, given.axle) == ("rings", End.REAR) and isinstance(given.axle, End)
    assert given.pitch == Car().rear.pitch
    assert given.spare == pytest.approx(3e-3)
    assert [row.width for row in given.rings] == pytest.approx([2e-3, 4e-3])
    assert [(row.key, row.label) for row in given.rings] == [("1", "Ring 1"), ("2", "Ring 2")]
    assert given.title == "bronze"
    assert (given.wear, given.u["wear"]) == (1.0, 0.05)
    assert asked(how="rings").spare is None


def test_a_group_reads_behind_its_prefix_and_names_its_fields_so() -> None:
    given = asked(thick_inner="4")
    assert (given.thin.inner, given.thick.inner) == pytest.approx((3e-3, 4e-3))
    assert given.thick.at(Washer.inner) == "thick_inner"
    assert given.thick.label_of(Washer.inner) == "Inside diameter"
    names = [name for _, name, _ in FORM.cells()]
    assert names[-11:-7] == ["inner", "outer", "thick_inner", "thick_outer"]


def test_a_group_for_each_key_holds_groups_and_assumptions() -> None:
    given = asked(front__play="2", rear__seat_inner="5")
    front, rear = given.bearings.values()
    assert (front.play, rear.play) == pytest.approx((2e-3, Car().rear.friction))
    assert (front.seat.inner, rear.seat.inner) == pytest.approx((3e-3, 5e-3))
    assert rear.seat.at(Washer.outer) == "rear.seat_outer"
    assert rear.seat.label_of(Washer.outer) == "rear Outside diameter"
    with pytest.raises(AttributeError, match=r"rear\.rattle is not asked for"):
        _ = rear.rattle
    joined = given.assuming((rear.at(Bearing.rattle), 1e-3, 2e-3), of="Rear")
    assert (joined.bearings[End.REAR].rattle, joined.u["rear.rattle"]) == (1e-3, 2e-3)
    assert joined.labels["rear.rattle"] == "Rear, how it rattles"
    with pytest.raises(AttributeError, match=r"front\.rattle is not asked for"):
        _ = joined.bearings[End.FRONT].rattle


def test_figures_are_shown_as_they_were_worked_out_in_full() -> None:
    given = asked(how="rings", rings__1__width="2 ± 0.2").assuming((Asked.scatter, 0.0, 0.0))
    found = given.propagate(figures)
    shown = found.showing(replace(found.value, height=7e-3))
    assert shown.uncertain["height"].value == 7e-3 and found.value.height == pytest.approx(6e-3)
    assert shown.uncertain["height"].u == found.uncertain["height"].u > 0


@pytest.mark.parametrize("name", ["spare", "rings", "scatter"])
def test_what_is_not_shown_or_not_there_yet_cannot_be_read(name: str) -> None:
    with pytest.raises(AttributeError, match=f"{name} is not asked for"):
        getattr(asked(how="washers"), name)
    with pytest.raises(AttributeError, match="inner is not asked for"):
        _ = asked(how="rings").thin.inner


def test_at_the_class_a_field_is_its_declaration() -> None:
    declared: Any = Asked
    assert isinstance(declared.pitch, Number) and isinstance(declared.rings, Rows)
    assert Problem(Asked.pitch, "Too fine.").name == "pitch"
    row, _ = asked(how="rings").rings
    assert Problem(row.at(Ring.width), "Too wide.").name == "rings.1.width"
    assert row.label_of(Ring.width) == "Ring 1, width"


def test_figures_come_back_with_uncertainty_main_input_and_label() -> None:
    answer = run(FORM, {"how": "rings", "rings.1.width": "2 ± 0.001"}, Car()).answer
    assert answer is not None
    height, *each = answer.quantities
    u = (0.0005e-3**2 + 0.4e-3**2 + (6e-3 * 0.05) ** 2 + 0.1e-3**2) ** 0.5
    assert (height.value, height.u) == pytest.approx((6e-3, u), rel=1e-6)
    assert (height.main, height.main_label) == ("rings.2.width", "Ring 2, width")
    assert [(one.name, one.label) for one in each] == [
        ("1_width", "1: Width times 2"), ("2_width", "2: Width times 2"),
    ]  # fmt: skip
    made = asked(how="rings").assuming((Asked.scatter, 0.0, 0.0)).propagate(figures)
    assert made.u.each["2"].width == pytest.approx(0.8e-3)
    assert made.u.spare is None


def test_a_key_may_stand_last_or_be_nothing() -> None:
    class Both(Figures):
        force: float = figure("Force", kind="force")

    class Ways(Figures):
        ways: dict[str, Both] = by_key(lambda key, label: f"{label}, {key}", key_last=True)

    ways = Ways(ways={"": Both(force=1.0), "rebound": Both(force=2.0)})
    assert ways.flat() == {"force": 1.0, "force_rebound": 2.0}
    assert ways.labels()["force_rebound"][:2] == ("Force, rebound", "force")


WRONG_CLASSES: list[dict[str, tuple[Any, Any]]] = [
    {"a": (float, length("A", optional=True))},
    {"a": (float | None, length("A"))},
    {"a": (str, length("A"))},
    {"a": (Literal["x", "z"], choice(label="A", options={"x": "x", "y": "y"}))},
    {"a": (End, choice(label="A", options={"front": "front", "middle": "middle"}))},
    {"a": (float, text(label="A"))},
    {"a": (Ring, rows(label="A", each=()))},
    {"a": (Ring, group())},
    {"a": (Washer, groups(keys=End))},
    {"a": (str, assumed("A"))},
    {"numbers": (float, length("A"))},
    {"say": (float, length("A"))},
]


@pytest.mark.parametrize("wrong", WRONG_CLASSES)
def test_an_annotation_that_is_not_what_is_read_fails_at_once(
    wrong: dict[str, tuple[Any, Any]],
) -> None:
    body = {name: declared for name, (_, declared) in wrong.items()}
    annotations = {name: kind for name, (kind, _) in wrong.items()}
    with pytest.raises(TypeError):
        type("Wrong", (Inputs,), {"__annotations__": annotations, **body})


@pytest.mark.parametrize("when", [only("hov", "rings"), only("how", "ring")])
def test_a_condition_on_no_choice_fails_with_the_form(when: Any) -> None:
    class Wrong(Asked):
        more: float = length("More", when=when)

    with pytest.raises(TypeError, match="more: no choice ho"):
        Form("wrong", "Wrong", "bench", "Is it?", Wrong, solve)


def test_what_a_base_class_asks_for_has_to_be_declared() -> None:
    class Base(Inputs):
        warm: float

    class Whole(Base):
        warm: float = from_car("temperature")

    assert Form("whole", "Whole", "bench", "Is it?", Whole, solve_nothing).fields
    with pytest.raises(TypeError, match="Base does not declare warm"):
        Form("base", "Base", "bench", "Is it?", Base, solve_nothing)


def test_what_a_row_or_a_group_asks_for_has_to_be_declared_too() -> None:
    class Thick(Group):
        width: float

    class ThickRow(Row[str]):
        width: float

    for kind, made in ((Thick, group()), (tuple[ThickRow, ...], rows(label="A", each=()))):
        with pytest.raises(TypeError):
            type("Wrong", (Inputs,), {"__annotations__": {"a": kind}, "a": made})


def solve_nothing(asked: Inputs) -> Answer:
    return Answer((Step(f"Nothing in {asked.system}."),))


@pytest.mark.parametrize(
    ("said", "kind", "value"),
    [
        ("0.75 mm", "length", 0.75e-3), ("−60 °C", "temperature", 213.15), ("3", "count", 3.0),
        ("300 cSt", "viscosity", 300e-6), ("12 %", "share", 0.12), ("-100", "ratio", -100.0),
        ("0.03 mL", "volume", 3e-8), ("101.325 kPa", "pressure", 101325.0),
    ],
)  # fmt: skip
def test_a_declared_quantity_is_the_float_that_one_would_write(
    said: str, kind: str, value: float
) -> None:
    assert si(said, kind) == value


def test_a_range_has_its_unit_once_or_twice() -> None:
    assert si_range("0.5 to 1.5 mm", "length") == (0.5e-3, 1.5e-3)
    assert si_range("5 g to 1 kg", "mass") == (5e-3, 1.0)
    assert si_range("0 to 20", "count") == (0.0, 20.0)


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("0.75", "length"), ("0.75 g", "length"), ("0.75mm", "length"), ("3 mm", "count"),
        ("1,5 mm", "length"), ("", "length"), ("mm", "length"), ("1 mm ", "length"),
    ],
)  # fmt: skip
def test_a_declared_quantity_without_the_unit_of_its_kind_is_refused(said: str, kind: str) -> None:
    with pytest.raises(ValueError, match="is no quantity of the kind"):
        si(said, kind)


# A line in a form, and what the type check has to say of it; nothing where the line is right.
LINES = [
    ("asked.pitch + asked.thick.outer + asked.rings[0].width", ""),
    ("asked.how == 'rings'", ""),
    ("asked.spare is None or asked.spare + 1", ""),
    ("figures(asked).each['1'].width", ""),
    ("asked.propagate(figures).u.height", ""),
    ("Problem(Asked.pitch, 'Too fine.')", ""),
    ("asked.axle is End.REAR", ""),
    ("asked.bearings[End.REAR].seat.inner", ""),
    ("asked.bearings[End.REAR].rattel", '"Bearing" has no attribute "rattel"'),
    ("asked.bearings[End.REAR].seat.iner", '"Washer" has no attribute "iner"'),
    ("asked.bearings[End.REAR].at(Bearing.paly)", '"type[Bearing]" has no attribute "paly"'),
    ("asked.axle is End.REER", '"type[End]" has no attribute "REER"'),
    ("asked.pich", '"Asked" has no attribute "pich"'),
    ("asked.rings[0].widht", '"Ring" has no attribute "widht"'),
    ("asked.thick.inside", '"Washer" has no attribute "inside"'),
    ("asked.how == 'ring'", "Non-overlapping equality check"),
    ("asked.spare + 1", "Unsupported operand types"),
    ("figures(asked).hight", '"StackFigures" has no attribute "hight"'),
    ("asked.propagate(figures).value.hight", '"StackFigures" has no attribute "hight"'),
    ("StackFigures(hight=1.0, each={})", 'Unexpected keyword argument "hight"'),
    ("Problem(Asked.pich, 'Too fine.')", '"type[Asked]" has no attribute "pich"'),
    ("Form('a', 'A', 'bench', 'A?', Asked, other)", "incompatible type"),
]


# The same of a field of every form.
OF_FORMS = {f"of_{form.slug.replace('-', '_')}": form.inputs for form in FORMS}
for name, inputs in OF_FORMS.items():
    field = next(iter(get_annotations(inputs)))
    LINES += [(f"{name}.{field}", ""), (f"{name}.{field}x", f'"Asked" has no attribute "{field}x"')]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """What mypy says of each line."""
    head = [
        "from calc.answering.answer import Answer",
        "from calc.model.corners import End",
        "from calc.replying.form import Form",
        "from calc.replying.inputs import Inputs, Problem",
        "from tests.replying.test_inputs import Asked, Bearing, StackFigures, figures",
        *(f"import {inputs.__module__}" for inputs in OF_FORMS.values()),
        "class Other(Inputs): ...",
        "def other(asked: Other) -> Answer: raise NotImplementedError",
        "def check(asked: Asked,",
        *(f"    {name}: {one.__module__}.{one.__qualname__}," for name, one in OF_FORMS.items()),
        ") -> None:",
    ]
    file = tmp_path_factory.mktemp("typed") / "lines.py"
    file.write_text("\n".join(head + [f"    print({line})" for line, _ in LINES]), "utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--no-error-summary", str(file)],
        cwd=ROOT, env={"MYPYPATH": str(ROOT), "PATH": ""}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    found = [""] * len(LINES)
    for line in done.stdout.splitlines():
        _, number, told = line.split(":", 2)
        found[int(number) - len(head) - 1] += told
    assert done.stderr == ""
    return found


@pytest.mark.parametrize("number", range(len(LINES)), ids=[line for line, _ in LINES])
def test_the_type_check_finds_a_slip_and_nothing_else(told: list[str], number: int) -> None:
    wrong = LINES[number][1]
    assert wrong in told[number] if wrong else told[number] == ""
