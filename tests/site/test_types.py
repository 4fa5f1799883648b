"""The checks of types: of the JavaScript, that they look at every script and find what is wrong;
of the questions of the page on both of their sides. That ours hold is seen before the tests."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from calc.kept.log import Entry, Moment, set_base
from calc.kept.setups import Setup
from calc.model.car import Car
from site_src.build import declarations
from site_src.build.check_types import PROJECTS, TYPES, complaints
from site_src.build.toolchain import NODE_MODULES, ROOT, nodes, npm_packages
from site_src.live.wire import written

SCRIPTS = ("site_src/static", "site_src/build/image", "tests/site")
STATIC, IMAGE, TESTS = SCRIPTS
# A file, what stands in it, what would be wrong there, and what the check has to say of it.
WRONG = [
    (f"{STATIC}/page/store.js", "record?.revision ?? 0", "record?.revison ?? 0", "'revison'"),
    (f"{STATIC}/page/db.js", 'objectStore("settings")', 'objectStore("setting")', "'\"setting\"'"),
    (f"{STATIC}/page/log.js", "zone: zone() }", "zome: zone() }", "'zome'"),
    (f"{STATIC}/page/answering.js", "reply.steps", "reply.stepps", "'stepps'"),
    (f"{STATIC}/head/last.js", "answered.question", "answered.questions", "'questions'"),
    (f"{STATIC}/page/words.js", ".toLocaleTimeString", ".toLocalTimeString", "'toLocalTimeString'"),
    (f"{STATIC}/workers/worker.js", "= facts.memory", "= facts.runtime", "'string'"),
    (f"{STATIC}/workers/sw.js", "strategy.matchOptions", "strategy.matchOption", "'matchOption'"),
    (f"{IMAGE}/make.mjs", "process.exit(0)", 'process.exit("0")', "'string'"),
    (f"{STATIC}/page/practice.js", 'ask: "figures"', 'ask: "figurs"', "'\"figurs\"'"),
    (
        f"{STATIC}/page/cars.js",
        "current: state.current })).html",
        "current: 1 })).html",
        "'number'",
    ),
    (
        f"{STATIC}/page/entering.js",
        "text, first, car, system }",
        "text, car, system }",
        "'Question<\"unit\">'",
    ),
    (f"{STATIC}/page/setups.js", "head.revision", "head.revison", "'revison'"),
    (f"{TESTS}/stand_in.js", 'figures: () => ({ html: "" })', 'figures: () => ""', "'string'"),
    (f"{TESTS}/access.js", "e.outerHTML", "e.outerHtml", "'outerHtml'"),
]


def test_every_script_is_looked_at() -> None:
    packages = npm_packages()
    declarations.write()
    command = [next(nodes(packages)), packages / "typescript" / "bin" / "tsc", "--listFilesOnly"]
    seen: set[Path] = set()
    for name in PROJECTS:
        project = ["--project", ROOT / TYPES / f"{name}.json"]
        done = subprocess.run([*command, *project], capture_output=True, text=True, check=True)
        seen |= {Path(line) for line in done.stdout.splitlines()}
    ours = {
        path
        for folder in ("calc", "site_src", "tests")
        for path in (ROOT / folder).rglob("*")
        if path.suffix in (".js", ".mjs", ".cjs")
    }
    assert len(ours) > 30
    assert not ours - seen


def test_stored_records_are_declared_as_they_are_written() -> None:
    car = Car()
    entry = set_base(car, Moment("1", "2", 1.0, 0.0))
    setup = Setup(name="?", date="2031-05-24", surface="", note="", car=car)
    for record in (car, entry, setup):
        kind = type(record)
        names = {line.partition(":")[0] for line in declarations.stored(kind)}
        spared = {name.removesuffix("?") for name in names if name.endswith("?")}
        told = set(written(record))
        assert (
            {name.removesuffix("?") for name in names}
            >= told
            >= names - {f"{name}?" for name in spared}
        ), kind


def test_the_declarations_keep_apart_what_is_called_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(declarations.NAMES, Entry, "Moment")
    with pytest.raises(ValueError, match="Moment"):
        declarations.declarations()


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """What the check says of our scripts with everything in WRONG wrong at once."""
    root = tmp_path_factory.mktemp("wrong")
    for folder in (*SCRIPTS, TYPES):
        shutil.copytree(ROOT / folder, root / folder)
    (root / ".cache" / "npm").mkdir(parents=True)
    (root / NODE_MODULES.relative_to(ROOT)).symlink_to(npm_packages())
    for name, right, wrong, _ in WRONG:
        text = (root / name).read_text("utf-8")
        assert right in text, f"{name} has changed: choose something else to get wrong"
        (root / name).write_text(text.replace(right, wrong, 1), "utf-8")
    return [line for line in complaints(npm_packages(), root) if not line.startswith(" ")]


@pytest.mark.parametrize(("name", "right", "telling"), [(n, r, t) for n, r, _, t in WRONG])
def test_what_is_wrong_is_found(said: list[str], name: str, right: str, telling: str) -> None:
    before = (ROOT / name).read_text("utf-8").partition(right)[0]
    here = [line for line in said if line.startswith(f"{name}({before.count(chr(10)) + 1},")]
    assert len(here) == 1, said
    assert telling in here[0]


def test_nothing_else_is_found(said: list[str]) -> None:
    assert len(said) == len(WRONG), said


# What would be wrong in Python about a question of the page, and what mypy has to say of it.
MISSPELT = [
    ("q.ANSWRE", '"ANSWRE"'),
    ("q.CarsAsked(cars=(), curent='')", '"curent"'),
    ("q.CarsAsked(cars=())", '"current"'),
    ("garage.cars(q.CarsAsked(cars=(), current='')).htlm", '"htlm"'),
    (
        "q.RestoreAsked(text='', way='merged', zone=0, cars={}, setups={}, log=(), builds=[])",
        '"way"',
    ),
    ("worker._answer_with(q.CARS, garage.undo)", '"_answer_with"'),
    ("use._ask(q.UNDO, q.CarsAsked(cars=(), current=''))", '"_ask"'),
]


def test_mypy_finds_a_misspelt_question(tmp_path: Path) -> None:
    head = (
        "from site_src.build.image import use\n"
        "from site_src.live import garage, questions as q, worker\n"
    )
    lines = [f"{line}\n" for line, _ in MISSPELT]
    file = tmp_path / "misspelt.py"
    file.write_text(head + "".join(lines), "utf-8")
    command = [sys.executable, "-m", "mypy", "--no-error-summary", "--no-pretty", file]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    said = [line for line in done.stdout.splitlines() if ": error: " in line]
    assert len(said) == len(MISSPELT), done.stdout + done.stderr
    for number, (one, (line, telling)) in enumerate(zip(said, MISSPELT, strict=True), 3):
        assert f"misspelt.py:{number}: error: " in one, line
        assert telling in one, line
