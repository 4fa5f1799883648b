"""Which test runs which lines of calc, and how long it takes: measured once, kept by the sources.

Each test file is run in a child of its own, a large one in parts, with the modules of `marks`. A
file whose sources are as they were is not run again.
"""

from __future__ import annotations

import ast
import hashlib
import json
import os
import re
import sys
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest

from tests.bench.mutation.changes import Mutant
from tests.bench.mutation.children import ROOT, Told, arguments, in_child
from tests.bench.mutation.marks import Marks

# What asks for one of these needs a browser or a built site, where calc runs out of the process.
OUT_OF_REACH = {"browser", "dist", "proxy", "runtime", "absent_engines", "tmp_path"}
OWN = "tests/test_mutants.py"
LONGEST = 3600.0  # s for one part of a test file
PART = 6000  # bytes of a test file for each part that it is run in

Part = tuple[str, int, int]  # test file, which part, of how many


@dataclass
class Reached:
    """One test: the lines of each file of calc that it runs, as bits."""

    seconds: float
    lines: dict[str, int]
    ok: bool = True


@dataclass
class Reach:
    """All tests in reach, and what importing calc runs by itself."""

    tests: dict[str, Reached] = field(default_factory=dict)
    imported: dict[str, int] = field(default_factory=dict)

    def of(self, mutant: Mutant) -> list[str]:
        """Tests that can notice the mutant, those of the same subject first, then the quick ones.

        They are those that run its line. A line that is run by the import, a declaration say, is
        noticed by whatever uses the module: there it is the tests that run any function of the
        module or of those that import it.
        """
        path = mutant.path
        found = {n for n, test in self.tests.items() if test.lines.get(path, 0) >> mutant.at & 1}
        if self.imported.get(path, 0) >> mutant.at & 1 or not found:
            found |= self._using(path)
        found |= {name for name in self.tests if mirrors(name, path)}
        return sorted(found, key=lambda name: self._rank(name, path))

    def _using(self, path: str) -> set[str]:
        users, seen, found = {path, *importers().get(path, ())}, {path}, set[str]()
        while users and not found:
            found = {n for n, test in self.tests.items() if any(test.lines.get(u) for u in users)}
            seen |= users
            users = {user for used in users for user in importers().get(used, ())} - seen
        return found

    def _rank(self, name: str, path: str) -> tuple[int, float, str]:
        return (not mirrors(name, path), round(self.tests[name].seconds, 2), name)


def mirrors(test: str, path: str) -> bool:
    """Whether a test stands in a file about the same subject: a form's has its name and all of its
    room's modules, else test_x.py has x.py."""
    file = Path(test.partition("::")[0])
    subject = file.stem.removeprefix("test_")
    place = file.parent.as_posix().removeprefix("tests").strip("/")
    home, *below = Path(path).relative_to("calc").parts
    if home == "forms" and len(below) == 2:
        return place == home and subject == below[0]
    at_home = place == home or (place == "reference" and home == "physics")
    return at_home and below[-1:] == [f"{subject}.py"]


@cache
def importers() -> dict[str, set[str]]:
    """Files of calc -> files of calc that import them."""
    found: dict[str, set[str]] = defaultdict(set)
    for file in _sources("calc"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            for name in _imported(node):
                found[f"{name.replace('.', '/')}.py"].add(file.relative_to(ROOT).as_posix())
    return dict(found)


def _imported(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.ImportFrom) and node.module:
        yield node.module
        yield from (f"{node.module}.{alias.name}" for alias in node.names)
    elif isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)


def _sources(*folders: str, ends: str = ".py") -> list[Path]:
    return sorted(file for name in folders for file in (ROOT / name).rglob(f"*{ends}"))


def digest(files: Iterable[Path]) -> str:
    """One name for what stands in all of these files."""
    total = hashlib.sha256()
    for file in files:
        total.update(file.relative_to(ROOT).as_posix().encode() + b"\0")
        total.update(file.read_bytes() + b"\0")
    return total.hexdigest()[:20]


def suites(without: Collection[str] = ()) -> list[Part]:
    """All parts of the test files, those that are likely to take long first."""
    found: list[tuple[int, Part]] = []
    for file in (f for f in _sources("tests") if f.name.startswith("test_")):
        path, size = file.relative_to(ROOT).as_posix(), file.stat().st_size
        parts = 1 + size // PART
        if path != OWN and path not in without:
            found += [(size, (path, number, parts)) for number in range(parts)]
    return [part for _, part in sorted(found, reverse=True)]


def _stand_on(path: str) -> list[Path]:
    """What the reach of a test file may hang on."""
    text = (ROOT / path).read_text(encoding="utf-8")
    shared = [
        f
        for f in [*_sources("tests"), *_sources("tests", ends=".toml")]
        if not f.name.startswith("test_") and "bench" not in f.parts
    ]
    site = _sources("site_src") if "site_src" in text or path.startswith("tests/site/") else []
    words = _sources("calc", ends=".json")
    return [*_sources("calc"), *words, *site, *shared, ROOT / "pyproject.toml", ROOT / path]


class Traced:
    """Plugin: what each test of a part runs, and how long it takes."""

    def __init__(self, told: Told, marks: Marks, number: int, of: int) -> None:
        self.marks, self.number, self.of = marks, number, of
        self.seconds: dict[str, float] = {}
        self.failed: list[str] = []
        self.lines: dict[str, dict[str, str]] = {}
        told.notes.update(seconds=self.seconds, failed=self.failed, lines=self.lines)

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = [item for item in items if in_reach(item)][self.number :: self.of]

    def pytest_collection_finish(self) -> None:
        self._take("")  # the imports

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Any:
        started = worked()
        result = yield
        self.seconds[item.nodeid] = round(worked() - started, 3)
        self._take(item.nodeid)
        return result

    def _take(self, name: str) -> None:
        self.lines[name] = {path: hex(bits) for path, bits in self.marks.take().items()}

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.append(report.nodeid)


def worked() -> float:
    """Seconds of work of this process and of those it waited for, however busy the machine is."""
    return sum(os.times()[:4])


def in_reach(item: pytest.Item) -> bool:
    """Whether a test runs calc in its own process, and takes no browser for it."""
    asked = set(getattr(item, "fixturenames", ()))
    return not (item.nodeid.startswith("tests/site/") and asked & OUT_OF_REACH)


def trace(told: Told, part: Part, marks: Marks) -> None:
    """In a child: one part of a test file."""
    path, number, of = part
    sys.meta_path.insert(0, marks)
    told.code = int(pytest.main([*arguments(), path], plugins=[Traced(told, marks, number, of)]))


def kept(part: Part, where: Path) -> Path:
    """Where the reach of a part, as its sources are, is or would be kept."""
    path, number, of = part
    return where / "reach" / f"{Path(path).stem}-{digest(_stand_on(path))}-{number}-{of}.json"


def measured(part: Part, where: Path, marks: Marks) -> dict[str, Any]:
    """What a part of a test file reaches, as kept or else found again."""
    file = kept(part, where)
    if not file.exists():
        told = in_child(partial(trace, part=part, marks=marks), LONGEST)
        if told.why or told.code not in (0, 1, 5):  # passed, failed, none in reach
            raise RuntimeError(f"{part} cannot be run: {told.code} {told.why}")
        file.parent.mkdir(parents=True, exist_ok=True)
        unfinished = file.with_suffix(".unfinished")
        unfinished.write_text(json.dumps(told.notes), encoding="utf-8")
        unfinished.replace(file)
    notes: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    return notes


def gathered(notes: Iterable[dict[str, Any]]) -> Reach:
    """All test files together."""
    reach = Reach()
    for each in notes:
        lines = {
            test: {path: int(bits, 16) for path, bits in of.items()}
            for test, of in each["lines"].items()
        }
        for path, bits in lines.pop("", {}).items():
            reach.imported[path] = reach.imported.get(path, 0) | bits
        for test, seconds in each["seconds"].items():
            ok = test not in each["failed"]
            reach.tests[test] = Reached(seconds, lines.get(test, {}), ok)
    return reach


def tier(expression: str) -> set[str]:
    """The tests in reach that pytest's -m picks."""

    class Names:
        def pytest_configure(self, config: pytest.Config) -> None:
            for name in re.findall(r"\w+", expression):  # one that no test bears yet is no error
                config.addinivalue_line("markers", f"{name}: asked for")

        def pytest_collection_finish(self, session: pytest.Session) -> None:
            names.extend(item.nodeid for item in session.items if in_reach(item))

    names: list[str] = []

    def collect(told: Told) -> None:
        told.code = int(
            pytest.main([*arguments(), "--collect-only", "-m", expression], plugins=[Names()])
        )
        told.notes["names"] = names

    told = in_child(collect, LONGEST)
    if told.code not in (0, 5):
        raise RuntimeError(f"the tests cannot be collected: {told.code} {told.why}")
    return set(told.notes["names"])
