"""Tests run in a forked child: what is slow to import is there already, and nothing of calc is.

The child may be handed a mutant. An import hook then gives the changed syntax tree for that one
module; nothing is written. A test that starts a new Python, as a user does, sees no mutant.
"""

from __future__ import annotations

import ast
import ctypes
import gc
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import select
import shutil
import signal
import sys
import time
import warnings
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType, FrameType, ModuleType
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[3]
KEPT = ROOT / ".cache" / "mutants"
TEMPORARY = KEPT / "tmp"
HEAVY = (
    "hypothesis.strategies", "numpy", "scipy.constants", "scipy.integrate", "scipy.interpolate",
    "scipy.optimize", "scipy.special", "scipy.stats", "fluids", "pint", "uncertainties", "jinja2",
    "markdown", "tests.reference.cases",
)  # fmt: skip
SHORT_OF = 4 * 2**30  # bytes; a mutant that asks for more is stopped before the machine is
OF_ITS_OWN = 20.0  # s in which tests have to be collected, and that each gets beyond its usual
THE_RUN = "the run"  # failed, and no test of it
PR_SET_PDEATHSIG = 1
TIMES = 4.0  # so many times its usual time a test may take
ARGUMENTS = (
    "-q", "--tb=short", "-p", "no:cacheprovider", "-p", "no:randomly", "-p", "no:xdist",
    "-W", "ignore::pytest.PytestAssertRewriteWarning",  # hypothesis is there already
)  # fmt: skip
MORE: list[str] = []  # arguments that were asked for


@dataclass
class Told:
    """What a child has to say."""

    failed: str = ""  # the first test that failed, or the file that could not be collected
    why: str = ""
    done: int = 0  # tests that were run
    code: int = 0  # of pytest
    notes: dict[str, Any] = field(default_factory=dict)
    to: int = -1  # where it is said to

    def say(self) -> None:
        """Say it, and end the child at once."""
        try:
            signal.setitimer(signal.ITIMER_PROF, 0)
            with os.fdopen(self.to, "w") as pipe:
                json.dump(self.__dict__, pipe)
        finally:
            os._exit(0)


def prepare() -> None:
    """Import once, in the parent, what every child would import."""
    os.chdir(ROOT)
    shutil.rmtree(TEMPORARY, ignore_errors=True)
    TEMPORARY.mkdir(parents=True)
    sys.path[:0] = [path for path in [str(ROOT)] if path not in sys.path]
    # One thread: the machine has no more to give, and threads do not live through a fork.
    os.environ.update(OPENBLAS_NUM_THREADS="1", OMP_NUM_THREADS="1")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for name in HEAVY:
            importlib.import_module(name)
    from hypothesis import Phase, configuration, settings

    configuration.set_hypothesis_home_dir(KEPT / "hypothesis")
    # A failure is enough: it is not made smaller. What is tried until then is what it always is.
    phases = [phase for phase in Phase if phase not in (Phase.shrink, Phase.explain)]
    settings.register_profile("first failure", phases=phases)
    settings.load_profile("first failure")
    # What is compiled is kept, away from the tree.
    sys.dont_write_bytecode, sys.pycache_prefix = False, str(KEPT / "pycache")
    gc.freeze()  # the collector need not look through all this again in each child
    mine = [name for name in sys.modules if name.split(".")[0] in ("calc", "site_src")]
    if mine:
        raise RuntimeError(f"in the parent already: {', '.join(mine)}")


class Changed(importlib.machinery.SourceFileLoader):
    """Loads one module from a syntax tree of ours."""

    tree: ast.Module

    def get_code(self, fullname: str) -> CodeType:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return compile(self.tree, self.path, "exec", dont_inherit=True)


class Hook(importlib.abc.MetaPathFinder):
    """Finds that one module before anything else does."""

    def __init__(self, path: str, tree: ast.Module) -> None:
        self.name = path.removesuffix(".py").replace("/", ".")
        self.file = str(ROOT / path)
        self.tree = tree

    def find_spec(
        self, name: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if name != self.name:
            return None
        loader = Changed(name, self.file)
        loader.tree = self.tree
        return importlib.util.spec_from_file_location(name, self.file, loader=loader)


class Picked:
    """Plugin: of what is collected the tests of a list, in its order, each within its time."""

    def __init__(self, told: Told, wanted: Sequence[str], usual: dict[str, float]) -> None:
        self.told = told
        self.place = {test: number for number, test in enumerate(wanted)}
        self.usual = usual
        self.running = "collecting"

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted(
            (item for item in items if item.nodeid in self.place),
            key=lambda item: self.place[item.nodeid],
        )

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.told.failed = self.told.failed or report.nodeid
            self.told.why = self.told.why or _last_line(report.longreprtext)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Any:
        self.running = item.nodeid
        limit(OF_ITS_OWN + TIMES * self.usual.get(item.nodeid, 0.0))
        self.told.done += 1
        return (yield)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.told.failed, self.told.why = report.nodeid, _last_line(report.longreprtext)
            self.told.say()  # no tidying up: the child has done its work


def limit(seconds: float) -> None:
    """Stop this child when it has worked so much longer; a busy machine does not count."""
    signal.setitimer(signal.ITIMER_PROF, seconds)


def run(told: Told, tests: Sequence[str], usual: dict[str, float], hook: Hook | None) -> None:
    """In a child: the tests, up to the first that fails."""
    if hook is not None:
        sys.meta_path.insert(0, hook)
    picked = Picked(told, tests, usual)

    def too_long(_number: int, _frame: FrameType | None) -> None:
        told.failed, told.why = picked.running, "longer than its time"
        told.say()

    signal.signal(signal.SIGPROF, too_long)
    limit(3 * OF_ITS_OWN)
    told.code = int(pytest.main([*arguments(), "-x", *files_of(tests)], plugins=[picked]))
    if (
        told.code not in (0, 5) and not told.failed
    ):  # 5: a test of another name is no test that fails
        told.failed, told.why = THE_RUN, f"pytest ended with {told.code}"


def arguments() -> list[str]:
    """How pytest is called in a child; its temporary files are its own."""
    return [*ARGUMENTS, *MORE, f"--basetemp={TEMPORARY / str(os.getpid())}"]


def files_of(tests: Sequence[str]) -> list[str]:
    """The files that tests stand in, each once."""
    return list(dict.fromkeys(test.partition("::")[0] for test in tests))


class Child:
    """A fork of this process that does some work in silence and says at the end what came of it."""

    def __init__(self, work: Callable[[Told], None], longest: float) -> None:
        self.until = time.monotonic() + longest
        self.reading, writing = os.pipe()
        sys.stdout.flush()
        sys.stderr.flush()
        self.process = os.fork()
        if self.process == 0:
            os.close(self.reading)
            _work(work, writing)
        os.close(writing)
        self.heard: list[bytes] = []

    def fileno(self) -> int:
        return self.reading

    def hear(self) -> Told | None:
        """All it has to say, when it is done or its time is up; wait for it with `select`."""
        left = self.until - time.monotonic()
        ready, _, _ = select.select([self], [], [], 0)
        if ready and (part := os.read(self.reading, 1 << 20)):
            self.heard.append(part)
            return None
        if not ready and left > 0:
            return None
        self.end()
        if not ready:
            return Told(failed=THE_RUN, why="not done in time")
        heard = b"".join(self.heard)
        return Told(**json.loads(heard)) if heard else Told(failed=THE_RUN, why="the child died")

    def end(self) -> None:
        """Stop it and all that it has started."""
        os.close(self.reading)
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)


def in_child(work: Callable[[Told], None], longest: float) -> Told:
    """Do the work in a child and wait for what it says."""
    child = Child(work, longest)
    while (told := child.hear()) is None:
        select.select([child], [], [], max(0.0, child.until - time.monotonic()))
    return told


def _work(work: Callable[[Told], None], writing: int) -> None:
    told = Told(to=writing)
    try:
        os.setsid()
        with suppress(OSError, AttributeError):
            ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)  # where there is such a call
        resource.setrlimit(resource.RLIMIT_AS, (SHORT_OF, SHORT_OF))
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(nowhere, stream)
        work(told)
    except BaseException as error:
        told.failed, told.why = told.failed or THE_RUN, told.why or repr(error)
    finally:
        told.say()


def _last_line(text: str) -> str:
    errors = [line[1:].strip() for line in text.splitlines() if line.startswith("E ")]
    return (errors or text.splitlines() or [""])[0][:120]
