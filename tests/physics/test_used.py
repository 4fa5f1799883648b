"""Physics that nothing calculates with is not kept: each public name is used beyond the tests."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PHYSICS = sorted((ROOT / "calc" / "physics").glob("*.py"))
SOURCES = [*(ROOT / "calc").rglob("*.py"), *(ROOT / "site_src").rglob("*.py")]


def defined(module: ast.Module) -> Iterator[str]:
    """Public functions, classes and constants of a module."""
    for node in module.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            names = [node.name]
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names = [n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name)]
        else:
            continue
        yield from (name for name in names if not name.startswith("_"))


def used(module: ast.Module, own: str = "") -> set[tuple[str, str]]:
    """(module of the physics, name) of everything that a file reads from there; `own` is its name
    where it is one of them."""
    modules, names = {}, {}
    for node in ast.walk(module):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                local = alias.asname or alias.name
                if node.module == "calc.physics":
                    modules[local] = alias.name
                elif node.module.startswith("calc.physics."):
                    names[local] = (node.module.rpartition(".")[2], alias.name)
    found = set()
    for node in ast.walk(module):
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            found |= {(modules[m], node.attr) for m in [node.value.id] if m in modules}
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
            found.add(names.get(node.id, (own, node.id)))
    return found


@pytest.fixture(scope="module")
def everything_used() -> set[tuple[str, str]]:
    found = set()
    for path in SOURCES:
        found |= used(ast.parse(path.read_text()), path.stem if path in PHYSICS else "")
    return found


@pytest.mark.parametrize("path", PHYSICS, ids=lambda path: path.stem)
def test_all_physics_is_used(path: Path, everything_used: set[tuple[str, str]]) -> None:
    there = {(path.stem, name) for name in defined(ast.parse(path.read_text()))}
    assert sorted(there - everything_used) == []


def test_a_name_that_only_its_definition_mentions_is_not_used() -> None:
    module = ast.parse("from calc.physics import oil\nLIMIT = 1\ndef f(): return oil.blend(LIMIT)")
    assert list(defined(module)) == ["LIMIT", "f"]
    assert used(module, "own") == {("own", "oil"), ("own", "LIMIT"), ("oil", "blend")}
