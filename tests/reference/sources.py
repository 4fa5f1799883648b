"""Which relation is checked against what outside this project: read out of the tests themselves.

    python -m tests.reference.sources > tests/reference/SOURCES.md

A relation is a public function or method of `calc.physics`. A test checks it where it names it,
itself or through a function of its own module: a function as it is imported, a method of anything
in a module that imports the method's. The sources of that test are the cases that it loads (their
source and status), the libraries that it asks (all general solvers are one), and the works that its
docstring or comments name with their year. What is no check from outside (properties, refusals) has
no source. A relation that is bookkeeping and no law, so that nothing outside could say otherwise,
has a test whose docstring begins with "Definition".
"""

import ast
import io
import re
import tokenize
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from tests.reference.cases import load
from tests.reference.reading import ROOT, imported, libraries, parsed

PHYSICS = ROOT / "calc" / "physics"
FOLDERS = ("reference", "physics", "answering", "forms", "model")
WORK = re.compile(
    r"(?:(?:[A-Z][\w&'-]+,? ){1,4}(?:and [A-Z]\w+ )?(?:1[5-9]|20)\d\d\b|"
    r"\b(?:JCGM|ISO|EN|ASTM|NIST|DIN) [\w-]*\d[\w:-]*)"
)
DEFINED = "definition"
OWN = {
    "batches.drawn", "batches.shared", "oil.at", "oil.whole_parts", "pairs.apart",
    "pairs.nearest_pairs", "pile.nearest_pile", "settle.knots", "settle.turned", "turns.best_turns",
    "turns.equations",
}  # fmt: skip
"""Searches and steps of our own, of which no work prints an example: a second way is a solver's."""
SKIPPED = {"failure.py", "require.py", "__init__.py"}


@dataclass
class Checked:
    """A relation, and source -> status of each check of it."""

    name: str
    sources: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Function:
    """What a function of a test module names (functions of the physics as "module.name", attributes
    of anything as ".name", its own module's functions), and its sources from outside."""

    names: frozenset[str]
    sources: Mapping[str, str]


def relations() -> dict[str, bool]:
    """ "module.name" of every public function and method of the physics, in their order, and
    whether it is a method."""
    found: dict[str, bool] = {}
    for path in sorted(PHYSICS.glob("*.py")):
        if path.name in SKIPPED:
            continue
        for node in ast.parse(path.read_text("utf-8")).body:
            method = isinstance(node, ast.ClassDef)
            found |= {
                f"{path.stem}.{one.name}": method
                for one in (node.body if isinstance(node, ast.ClassDef) else [node])
                if isinstance(one, ast.FunctionDef) and not one.name.startswith("_")
            }
    return found


def _named(node: ast.FunctionDef, packages: Mapping[str, str]) -> Iterator[str]:
    """Names of `Function`, where the module has these names from these packages."""
    for one in ast.walk(node):
        match one:
            case ast.Attribute(value=ast.Name(id=owner), attr=name) if owner in packages:
                if packages[owner] == "calc.physics":
                    yield f"{owner}.{name}"
            case ast.Attribute(attr=name):
                yield f".{name}"
            case ast.Name(id=name) if packages.get(name, "").startswith("calc.physics."):
                yield f"{packages[name].removeprefix('calc.physics.')}.{name}"
            case ast.Name(id=name):
                yield name


def _comments(source: str) -> dict[int, str]:
    tokens = tokenize.generate_tokens(io.StringIO(source).readline)
    return {one.start[0]: one.string for one in tokens if one.type == tokenize.COMMENT}


def _of(
    node: ast.FunctionDef,
    packages: Mapping[str, str],
    behind: Mapping[str, set[str]],
    comments: Mapping[int, str],
) -> Function:
    names = {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}
    sources: dict[str, str] = {}
    for call in ast.walk(node):
        if (
            isinstance(call, ast.Call)
            and isinstance(call.func, ast.Name)
            and call.func.id == "load"
        ):
            told = [arg.value for arg in call.args if isinstance(arg, ast.Constant)]
            for case in load(*map(str, told)):
                sources[case.source.split(":")[0]] = case.status
    for name in names & behind.keys():
        sources |= dict.fromkeys(behind[name], "library")
    last = node.end_lineno or node.lineno
    said = (text for line, text in comments.items() if node.lineno <= line <= last)
    text = " ".join(((ast.get_docstring(node) or "") + " " + " ".join(said)).split())
    if text.startswith("Definition"):
        sources[DEFINED] = DEFINED
    memory = "memory" if "from memory" in text else "named"
    sources |= {work.strip(): memory for work in WORK.findall(text)}
    return Function(frozenset(_named(node, packages)), sources)


def _modules(tree: ast.Module) -> set[str]:
    """The modules of the physics that a test module imports."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module == "calc.physics":
            found |= {one.name for one in node.names}
        elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("calc.physics."):
            found.add(str(node.module).removeprefix("calc.physics."))
    return found


def _tests(path: Path) -> Iterator[tuple[set[str], set[str], Mapping[str, str]]]:
    """(modules, names, sources) of every test, with those of the functions that it calls."""
    source = path.read_text("utf-8")
    tree = parsed(path)
    packages, behind, comments = imported(tree), libraries(path), _comments(source)
    modules = _modules(tree)
    functions = {
        node.name: _of(node, packages, behind, comments)
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
    }
    for name, function in functions.items():
        if not name.startswith("test_"):
            continue
        names, sources = set(function.names), dict(function.sources)
        for other in function.names & functions.keys():
            names |= functions[other].names
            sources |= functions[other].sources
        yield modules, names, sources


def checked() -> list[Checked]:
    """Every relation with the sources of its checks."""
    known = relations()
    found = {name: Checked(name) for name in known}
    for folder in FOLDERS:
        for path in sorted((ROOT / "tests" / folder).glob("test_*.py")):
            for modules, names, sources in _tests(path):
                for name, one in found.items():
                    module, _, relation = name.partition(".")
                    if name in names or (
                        known[name] and module in modules and f".{relation}" in names
                    ):
                        one.sources |= sources
    return list(found.values())


def outside(one: Checked) -> int:
    """How many sources from outside a relation has: what is worked out apart or is practice alone
    is none."""
    own = ("computed", "common practice", DEFINED)
    return len({source for source, status in one.sources.items() if status not in own})


def table() -> str:
    """The table with its count, as Markdown."""
    rows = checked()
    counts = [outside(row) for row in rows]
    single = counts.count(1)
    defined = sum(DEFINED in row.sources for row in rows if not outside(row))
    none = counts.count(0) - defined
    alone = sum(count == 1 and row.name in OWN for row, count in zip(rows, counts, strict=True))
    more = len(rows) - none - single - defined
    lines = [
        "# What each relation is checked against",
        "",
        "Printed by `python -m tests.reference.sources`, which reads it out of the tests; its head",
        "says what counts. The wording of each source stands beside its check.",
        "",
        f"{len(rows)} relations: {more} with two sources from outside or more, {single} with one,"
        f" {defined} that are definitions, {none} with none.",
        "",
        f"Of those with one {alone} are searches and steps of our own, of which no work prints an",
        "example (*): another search tells. For the others none was found.",
        "",
        "| relation | sources | from outside |",
        "|---|---|---|",
    ]
    for row, count in zip(rows, counts, strict=True):
        if DEFINED in row.sources and not count:
            lines.append(f"| {row.name} | by definition | - |")
            continue
        said = "; ".join(
            f"{source} ({status})"
            for source, status in sorted(row.sources.items())
            if source != DEFINED
        ).replace("|", "/")
        mark = " *" if count == 1 and row.name in OWN else ""
        lines.append(f"| {row.name} | {said} | {count}{mark} |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(table(), end="")
