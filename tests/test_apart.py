"""No test leans on another: what two modules of tests need lies in a module of its own."""

import ast
from collections.abc import Iterator
from pathlib import Path

TESTS = Path(__file__).parent


def named(source: str) -> Iterator[str]:
    """Every module that a source imports, with what it takes from there behind it."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module or ''}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Constant) and str(node.value).startswith("tests."):
            yield str(node.value)  # for import_module and the like


def leans_on(source: str) -> set[str]:
    """What it takes from a module of tests or from a conftest, which pytest itself reads."""
    return {
        name
        for name in named(source)
        if any(part.startswith("test_") or part == "conftest" for part in name.split("."))
    }


def leaning(folder: Path) -> dict[str, set[str]]:
    found = {
        path.relative_to(TESTS).as_posix(): leans_on(path.read_text("utf-8"))
        for path in folder.rglob("*.py")
    }
    assert found
    return {name: taken for name, taken in found.items() if taken}


def test_a_module_that_leans_on_another_is_found_however_it_is_imported() -> None:
    ways = """
from tests.forms.test_stroke import ask
from tests.forms import test_stroke
import tests.site.conftest as shared
from .test_stroke import value
from . import conftest
def later():
    import_module("tests.forms.test_hotter")
    from tests.forms.asking import test_of_a_helper
"""
    assert len(leans_on(ways)) == 7
    assert leans_on("import pytest\nfrom tests.forms.asking import value") == set()


def test_no_module_takes_anything_from_one_of_tests() -> None:
    assert leaning(TESTS) == {}
