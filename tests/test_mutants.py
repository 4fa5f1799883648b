"""The bench of mutants: what it draws, that a child meets the mutant, and that tests tell it."""

import ast
import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.mutation import changes
from tests.bench.mutation.changes import Mutant, drawn, mutants, mutated
from tests.bench.mutation.marks import Marks
from tests.bench.mutation.reach import Reach, Reached, mirrors

ROOT = Path(__file__).parents[1]
SOURCE = '''"""Text."""

import math
from typing import Literal

__all__ = ["lift", "side"]
Side = Literal["left", "right"]


def lift(turns: float, pitch: float = 0.001) -> float:
    """Text."""
    assert turns >= 0
    if not math.isfinite(turns) or turns == "left":
        raise ValueError(f"{turns} is no number")
    return turns * pitch
'''


def found(source: str) -> set[tuple[str, str, str]]:
    return {(m.kind, m.was, m.became) for node in mutants("calc/x.py", source) for m in node}


def test_code_is_changed_and_texts_are_left_alone() -> None:
    assert found(SOURCE) == {
        ("constant", "0.001", "0.0011"),
        ("condition", "not math.isfinite(turns) or turns == 'left'",
         "not (not math.isfinite(turns) or turns == 'left')"),
        ("logic", "not math.isfinite(turns) or turns == 'left'",
         "not math.isfinite(turns) and turns == 'left'"),
        ("logic", "not math.isfinite(turns)", "math.isfinite(turns)"),
        ("comparison", "turns == 'left'", "turns != 'left'"),
        ("key", "'left'", "'leftx'"),
        ("returned", "return turns * pitch", "return 1.1 * (turns * pitch)"),
        ("arithmetic", "turns * pitch", "turns / pitch"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("x = a < b", ("comparison", "a < b", "a <= b")),
        ("x = a < b", ("comparison", "a < b", "a >= b")),
        ("x = -a", ("arithmetic", "-a", "a")),
        ("x += 2.5", ("arithmetic", "x += 2.5", "x -= 2.5")),
        ("x = 1e-12", ("constant", "1e-12", "1e-09")),
        ("x = True", ("constant", "True", "False")),
        ("x = y['front']", ("key", "'front'", "'frontx'")),
        ("x = min(a, b)", ("function", "min(a, b)", "max(a, b)")),
        ("x = abs(a)", ("function", "abs(a)", "a")),
        ("x = f(a, b)", ("argument", "f(a, b)", "f(b, a)")),
        ("x = f(a, b)", ("argument", "f(a, b)", "f(a)")),
        ("x = f(a, b=c)", ("argument", "f(a, b=c)", "f(a)")),
        ("x = [a for a in b if a]", ("condition", "for a in b if a", "for a in b if not a")),
        ("f(a)", ("statement", "f(a)", "pass")),
    ],
)
def test_a_kind_of_change_by_itself(code: str, change: tuple[str, str, str]) -> None:
    assert change in {(kind, was.strip(), became.strip()) for kind, was, became in found(code)}


def test_the_draw_is_the_same_each_time_and_another_for_another_seed() -> None:
    some = "calc/"
    one = drawn(ROOT, 40, 20, 1, some)
    assert one == drawn(ROOT, 40, 20, 1, some)
    assert [mutant.at_physics for mutant in one] == [True] * 40 + [False] * 20
    other = drawn(ROOT, 40, 20, 2, some)
    assert len({mutant.place for mutant in one} & {mutant.place for mutant in other}) < 5
    assert [m.path[:13] for m in drawn(ROOT, 5, 0, 1, "calc/physics")] == ["calc/physics/"] * 5


def test_a_change_elsewhere_in_the_file_leaves_a_mutant_its_place() -> None:
    below = mutants("calc/x.py", SOURCE.replace("import math\n", "import math\nWIDE = 3\n"))
    places = {mutant.place for node in below for mutant in node}
    assert {mutant.place for node in mutants("calc/x.py", SOURCE) for mutant in node} <= places


def test_the_tree_differs_in_the_one_place_and_is_refused_for_another_source() -> None:
    for variants in mutants("calc/x.py", SOURCE):
        for mutant in variants:
            plain, changed = ast.unparse(ast.parse(SOURCE)), ast.unparse(mutated(SOURCE, mutant))
            differ = [pair for pair in zip(plain.split("\n"), changed.split("\n"), strict=True)
                      if pair[0] != pair[1]]  # fmt: skip
            assert len(differ) == 1
    (product,) = (
        node[0] for node in mutants("calc/x.py", SOURCE) if node[0].was == "turns * pitch"
    )
    with pytest.raises(ValueError, match="not the file"):
        mutated(SOURCE.replace("*", "-"), product)


def test_tests_of_the_same_subject_come_first_then_the_quick_ones() -> None:
    reach = Reach(
        {
            "tests/forms/test_stroke.py::test_a": Reached(0.1, {"calc/physics/stack.py": 1 << 7}),
            "tests/forms/test_stroke.py::test_b": Reached(0.05, {"calc/physics/stack.py": 1 << 7}),
            "tests/forms/test_stroke.py::test_c": Reached(0.05, {"calc/physics/stack.py": 1 << 8}),
            "tests/physics/test_stack.py::test_d": Reached(9, {"calc/physics/stack.py": 1 << 7}),
        },
        {"calc/physics/stack.py": 1 << 3},
    )
    at_seven = Mutant("calc/physics/stack.py", 8, 7, "", "", "", 0, 0, "")
    assert [name[-1] for name in reach.of(at_seven)] == ["d", "b", "a"]
    declared = Mutant("calc/physics/stack.py", 4, 3, "", "", "", 0, 0, "")
    assert [name[-1] for name in reach.of(declared)] == ["d", "b", "c", "a"]


def test_marks_note_what_is_run_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "marked").mkdir()
    file = tmp_path / "marked/lift.py"
    file.write_text(SOURCE, encoding="utf-8")
    marks = Marks(tmp_path, "marked")
    spec = marks.find_spec("marked.lift")
    assert spec is not None and spec.loader is not None and marks.find_spec("other") is None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert lines(marks.take()["marked/lift.py"]) == {3, 4, 6, 7, 10}
    assert module.lift(2.0) == 0.002 and module.lift.__doc__ == "Text."
    assert lines(marks.take()["marked/lift.py"]) == {12, 13, 15}
    with pytest.raises(ValueError, match="no number"):
        module.lift(float("inf"))
    assert lines(marks.take()["marked/lift.py"]) == {12, 13, 14}
    assert marks.take() == {}


def lines(bits: int) -> set[int]:
    return {line for line in range(bits.bit_length()) if bits >> line & 1}


def test_a_form_in_parts_has_the_tests_of_the_form() -> None:
    assert mirrors("tests/forms/test_stroke.py::test_x", "calc/forms/stroke/pictures.py")
    assert mirrors("tests/reference/test_oil.py::test_x", "calc/physics/oil.py")
    assert mirrors("tests/kept/test_link.py::test_x", "calc/kept/link.py")
    assert not mirrors("tests/kept/test_link.py::test_x", "calc/physics/linkage.py")
    assert not mirrors("tests/site/test_link.py::test_x", "calc/kept/link.py")


# In a process of its own: the parent of the children must not have imported calc.
CHILDREN = """
import sys
sys.path.insert(0, {root!r})
from functools import partial
from tests.bench.mutation import changes, children
children.HEAVY = ("hypothesis.strategies", "scipy.optimize")
children.prepare()
path = "calc/physics/root.py"
source = (children.ROOT / path).read_text()
tests = ["tests/physics/test_root.py::" + name for name in {tests!r}]
made = [m for node in changes.mutants(path, source) for m in node]
for was, became in [("", ""), *{wanted!r}]:
    hook = None
    if was:
        (mutant,) = [m for m in made if (m.was, m.became) == (was, became)]
        hook = children.Hook(path, changes.mutated(source, mutant))
    told = children.in_child(partial(children.run, tests=tests, usual={{}}, hook=hook), 100)
    print(told.done, told.failed.partition("::")[2], sep=":")
"""


def test_a_child_tells_a_mutant_from_its_like_and_from_none() -> None:
    tests = ["test_it_finds_what_scipy_finds", "test_a_flat_start_does_not_stall"]
    wanted = [("value < 0", "value >= 0"), ("value < 0", "value <= 0")]  # zero has left before
    script = CHILDREN.format(root=str(ROOT), tests=tests, wanted=wanted)
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    plain, killed, like = done.stdout.split()
    assert plain == like == f"{len(tests)}:"
    assert killed.partition(":")[2] in tests


def test_what_is_drawn_can_be_compiled() -> None:
    for mutant in drawn(ROOT, 30, 10, 3, "calc/p"):
        source = (ROOT / mutant.path).read_text(encoding="utf-8")
        compile(mutated(source, mutant), mutant.path, "exec")


def test_operators_are_said() -> None:
    kinds = {
        mutant.kind
        for file in sorted((ROOT / "calc/physics").glob("*.py"))
        for node in mutants(file.relative_to(ROOT).as_posix(), file.read_text(encoding="utf-8"))
        for mutant in node
    }
    assert kinds == {line.split()[0] for line in changes.OPERATORS.splitlines() if line[0] != " "}
