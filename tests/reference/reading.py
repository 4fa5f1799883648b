"""The names in a test module and the libraries behind them, read out of its source."""

import ast
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
SOLVER = "a general solver (scipy, numpy)"
LIBRARIES = {
    "fluids": "library fluids", "scipy": SOLVER, "numpy": SOLVER, "pint": "library pint",
    "uncertainties": "library uncertainties", "fractions": "library fractions",
}  # fmt: skip
TAKEN = "BY_SLUG "
"""Before the slug of a form that is taken out of the catalogue."""


@cache
def parsed(path: Path) -> ast.Module:
    """A test module as a tree."""
    return ast.parse(path.read_text("utf-8"))


def imported(tree: ast.Module) -> dict[str, str]:
    """Name in the module -> the package at the head of where it is from."""
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {(one.asname or one.name).split(".")[0]: one.name for one in node.names}
        elif isinstance(node, ast.ImportFrom):
            found |= {one.asname or one.name: node.module or "" for one in node.names}
    return found


def _names(node: ast.AST) -> Iterator[str]:
    """Names that it uses, and TAKEN and the slug where a form is taken out of the catalogue."""
    for one in ast.walk(node):
        match one:
            case ast.Name(id=name):
                yield name
            case ast.Subscript(value=ast.Name(id="BY_SLUG"), slice=ast.Constant(value=str(slug))):
                yield TAKEN + slug


def uses_of(tree: ast.Module) -> dict[str, set[str]]:
    """The names that each function and each name of a module is made of."""
    found: dict[str, set[str]] = {}
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            found[node.name] = set(_names(node))
        elif isinstance(node, ast.Assign):
            for target in node.targets:
                found |= {name: set(_names(node.value)) for name in _names(target)}
    return found


def reached(name: str, uses: Mapping[str, set[str]]) -> set[str]:
    """The name with all the names that it is made of, and those that they are made of."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += uses.get(one, ())
    return found


@cache
def libraries(path: Path) -> dict[str, set[str]]:
    """Name in a module -> the libraries behind it, those of a helper included."""
    found = {}
    for name, package in imported(parsed(path)).items():
        head = package.split(".")[0]
        helper = ROOT / (package.replace(".", "/") + ".py")
        if head in LIBRARIES:
            found[name] = {LIBRARIES[head]}
        elif head == "tests" and helper.exists():
            uses, known = uses_of(parsed(helper)), libraries(helper)
            behind = [known[one] for one in reached(name, uses) if one in known]
            found[name] = set().union(*behind)
    return found
