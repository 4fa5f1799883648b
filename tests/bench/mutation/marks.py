"""Copies of the modules of calc that note which of their statements are run.

A mark stands before each statement: far quicker than a tracer, which would slow all of the tests
and their libraries down, not calc alone.
"""

from __future__ import annotations

import ast
import importlib.abc
import importlib.machinery
import importlib.util
from collections.abc import Callable, Sequence
from pathlib import Path
from types import CodeType, ModuleType

MARK = "__ran__"


def marked(source: str) -> ast.Module:
    """The syntax tree with a mark, of the line, before every statement that is run."""
    tree = ast.parse(source)
    for node in list(ast.walk(tree)):
        for name in ("body", "orelse", "finalbody"):
            statements = getattr(node, name, None)
            if isinstance(statements, list):
                setattr(node, name, [new for old in statements for new in _after_mark(old)])
    return ast.fix_missing_locations(tree)


def _after_mark(statement: ast.stmt) -> list[ast.stmt]:
    text = isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)
    future = isinstance(statement, ast.ImportFrom) and statement.module == "__future__"
    if text or future:  # these have to come first
        return [statement]
    call = ast.Call(ast.Name(MARK, ast.Load()), [ast.Constant(statement.lineno)], [])
    return [ast.copy_location(ast.Expr(call), statement), statement]


class Marks(importlib.abc.MetaPathFinder):
    """Finds the modules of a package; `lines` holds what has been run of each file since `take`."""

    def __init__(self, root: Path, package: str) -> None:
        self.files: dict[str, Path] = {}
        self.codes: dict[str, CodeType] = {}
        self.ran: dict[str, set[int]] = {}
        for file in sorted((root / package).rglob("*.py")):
            path = file.relative_to(root)
            name = ".".join(path.with_suffix("").parts).removesuffix(".__init__")
            self.files[name] = file
            # Without our own __future__: the types of a form's fields are no texts.
            tree = marked(file.read_text(encoding="utf-8"))
            self.codes[name] = compile(tree, file, "exec", dont_inherit=True)
            self.ran[path.as_posix()] = set()
        self.root = root

    def take(self) -> dict[str, int]:
        """Files -> their lines that have been run, as bits; the count begins again."""
        taken = {path: sum(1 << line for line in lines) for path, lines in self.ran.items()}
        for lines in self.ran.values():
            lines.clear()
        return {path: bits for path, bits in taken.items() if bits}

    def find_spec(
        self, name: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if name not in self.files:
            return None
        file = self.files[name]
        loader = _Loader(name, str(file))
        loader.code = self.codes[name]
        loader.mark = self.ran[file.relative_to(self.root).as_posix()].add
        return importlib.util.spec_from_file_location(name, file, loader=loader)


class _Loader(importlib.machinery.SourceFileLoader):
    code: CodeType
    mark: Callable[[int], None]

    def get_code(self, fullname: str) -> CodeType:
        return self.code

    def exec_module(self, module: ModuleType) -> None:
        vars(module)[MARK] = self.mark
        super().exec_module(module)
