"""The check of the JavaScript's types: looks at every script, passes, finds what is wrong."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from site_src.build.check_types import PROJECTS, TYPES, complaints, main
from site_src.build.toolchain import NODE_MODULES, ROOT, nodes, npm_packages
from site_src.live import questions as live

SCRIPTS = ("site_src/static", "site_src/build/image", "tests/site")
STATIC, IMAGE, TESTS = SCRIPTS
# A file, what stands in it, what would be wrong there, and what the check has to say of it.
WRONG = [
    (f"{STATIC}/page/store.js", "record?.revision ?? 0", "record?.revison ?? 0", "'revison'"),
    (f"{STATIC}/page/db.js", 'objectStore("settings")', 'objectStore("setting")', "'\"setting\"'"),
    (f"{STATIC}/page/log.js", "now: now(), zone }", "now: now(), zome: zone }", "'zome'"),
    (f"{STATIC}/page/answering.js", "reply.steps", "reply.stepps", "'stepps'"),
    (f"{STATIC}/head/last.js", "answered.question", "answered.questions", "'questions'"),
    (f"{STATIC}/page/words.js", "100 * share", '"100" + share', "'string'"),
    (f"{STATIC}/workers/worker.js", "= facts.memory", "= facts.runtime", "'string'"),
    (f"{STATIC}/workers/sw.js", "strategy.matchOptions", "strategy.matchOption", "'matchOption'"),
    (f"{IMAGE}/make.mjs", "process.exit(0)", 'process.exit("0")', "'string'"),
    (f"{TESTS}/access.js", "e.outerHTML", "e.outerHtml", "'outerHtml'"),
]


def test_the_types_hold(capsys: pytest.CaptureFixture[str]) -> None:
    assert main() == 0
    assert capsys.readouterr().out == ""


def test_every_script_is_looked_at() -> None:
    packages = npm_packages()
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


def test_the_questions_are_those_that_python_answers() -> None:
    declared = (ROOT / TYPES / "talk.d.ts").read_text("utf-8")
    talk = declared.partition("interface Talk {\n")[2].partition("\n}\n")[0]
    assert sorted(re.findall(r"^  (\w+): \[", talk, re.MULTILINE)) == sorted(live._QUESTIONS)


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
