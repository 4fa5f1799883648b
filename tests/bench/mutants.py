"""How many small faults in calc the tests notice: mutants, drawn by a seed and tried one by one.

    python tests/bench/mutants.py                 300 mutants of calc, at least 100 in calc/physics
    python tests/bench/mutants.py --list          which ones, without trying them
    python tests/bench/mutants.py --only calc/physics --count 50 --seed 2
    python tests/bench/mutants.py --survivors-of .cache/mutants/results-....jsonl

First each test file is run once, to learn which test runs which statements (kept in .cache as long
as its sources stay). Then each mutant meets the tests that run its line, those of
the same subject first, up to the first that fails, in a forked child; the tree stays as it is. The
tests that `--select` picks (the short tier) come first, the others only where those saw nothing, so
one run gives the share of both. Lines that the import runs are taken to be run by every test that
runs a function of the module. Tests in browsers take no part: there calc runs elsewhere, and what
they would notice beyond the others is not counted. Every test that killed is run once without a
mutant at the end. Results are kept too; a run that was stopped goes on where it was.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import select
import sys
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from tests.bench.mutation import changes, children, reach  # noqa: E402
from tests.bench.mutation.changes import Mutant  # noqa: E402
from tests.bench.mutation.children import Child, Told  # noqa: E402
from tests.bench.mutation.marks import Marks  # noqa: E402

SHORT, REST, SURVIVED = "short tier", "the rest", "SURVIVED"
ITS_TIERS = "not wide"  # the marker of what only `build_site.py test --all` runs
BUDGET = 45.0  # s of tests, that a mutant meets in each tier
LONGEST = 1800.0  # s for all of one mutant

Shares = tuple[float, float]  # killed by the short tier, and by that or the rest


@dataclass(frozen=True)
class Verdict:
    """What became of a mutant."""

    place: str
    verdict: str
    test: str = ""
    why: str = ""
    seconds: float = 0.0
    ran: int = 0
    of: int = 0


class Trial:
    """Tries mutants on the tests that reach them."""

    def __init__(self, known: reach.Reach, short: set[str], budget: float, rest: bool) -> None:
        self.known, self.short, self.budget, self.rest = known, short, budget, rest
        self.usual = {name: test.seconds for name, test in known.tests.items()}

    def rounds(self, mutant: Mutant) -> Iterator[tuple[str, list[str], int]]:
        """Tier, tests to run and how many there would be; those of the subject by themselves."""
        tests = [name for name in self.known.of(mutant) if self.known.tests[name].ok]
        short = [name for name in tests if name in self.short]
        near = [name for name in short if reach.mirrors(name, mutant.path)]
        rest = [name for name in tests if name not in self.short] if self.rest else []
        for tier, names in ((SHORT, near), (SHORT, short[len(near) :]), (REST, rest)):
            yield tier, self._affordable(names), len(names)

    def _affordable(self, names: list[str]) -> list[str]:
        left, picked = self.budget, list[str]()
        for name in names:
            left -= self.usual[name]
            if left < 0 and picked:
                break
            picked.append(name)
        return picked

    def judge(self, told: Told, thing: Mutant) -> None:
        """In a child: try it, and leave the verdict in the notes."""
        started, mutant = time.monotonic(), thing
        source = (ROOT / mutant.path).read_text(encoding="utf-8")
        hook = children.Hook(mutant.path, changes.mutated(source, mutant))
        ran = total = 0
        verdict, test, why = SURVIVED, "", ""
        for tier, names, there in self.rounds(mutant):
            total += there
            if names and verdict == SURVIVED:
                work = partial(children.run, tests=names, usual=self.usual, hook=hook)
                heard = children.in_child(work, LONGEST)
                ran += heard.done
                if heard.failed:
                    verdict, test, why = tier, heard.failed, heard.why
        told.notes = Verdict(
            mutant.place, verdict, test, why, round(time.monotonic() - started, 1), ran, total
        ).__dict__


def main(arguments: list[str]) -> int:
    """Draw, map, try, report."""
    options = _options(arguments)
    sample = _sample(options)
    print(changes.OPERATORS)
    nodes = {True: 0, False: 0}
    for file in (ROOT / "calc").rglob("*.py"):
        path = file.relative_to(ROOT).as_posix()
        if path.startswith(options.only):
            for variants in changes.mutants(path, file.read_text(encoding="utf-8")):
                nodes[variants[0].at_physics] += 1
    print(
        f"{len(sample)} mutants at seed {options.seed}, of {sum(nodes.values())} nodes that can be"
        f" changed, {nodes[True]} of them in calc/physics."
    )
    if options.list:
        print(*sample, sep="\n")
        return 0
    children.MORE += options.argument
    children.prepare()
    started = time.monotonic()
    known = reach.gathered(_mapped(reach.suites(options.without), options.jobs))
    print(f"{len(known.tests)} tests mapped in {time.monotonic() - started:.0f} s.", flush=True)
    for name in (name for name, test in known.tests.items() if not test.ok):
        print(f"Left out, it fails without a mutant: {name}")
    if options.map:
        return 0
    short = reach.tier(options.select)
    trial = Trial(known, short, options.budget, not options.short_only)
    file = children.KEPT / f"results-{_tree()}-{_key(options)}.jsonl"
    verdicts = _tried(sample, trial, file, options.jobs)
    report(sample, verdicts, nodes)
    print(f"Kept in {file.relative_to(ROOT)}; {time.monotonic() - started:.0f} s.")
    return _killers_pass(trial, verdicts.values())


def _options(arguments: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Try mutants of calc on the tests.")
    add = parser.add_argument
    add("--count", type=int, default=300, help="mutants in all (300), a third of them in physics")
    add("--seed", type=int, default=1)
    add("--only", default="calc", help="files whose path begins so: calc/physics")
    add("--select", default=ITS_TIERS, help=f"pytest's -m for the short tier ({ITS_TIERS})")
    add("--short-only", action="store_true", help="leave the tests out that --select does not pick")
    add("--budget", type=float, default=BUDGET, help="seconds of tests for a mutant in each tier")
    add("--jobs", type=int, default=min(2, os.cpu_count() or 1))
    add("--argument", action="append", default=[], help="for pytest, say --argument=--all")
    add("--survivors-of", type=Path, help="only those that survived there")
    add("--without", action="append", default=[], help="a test file to leave out, to see its worth")
    add("--list", action="store_true", help="print the mutants and end")
    add("--map", action="store_true", help="learn which test runs what, and end")
    return parser.parse_args(arguments)


def _sample(options: argparse.Namespace) -> list[Mutant]:
    physics = (options.count + 2) // 3
    if options.only.startswith("calc/physics"):
        physics = options.count
    sample = changes.drawn(ROOT, physics, options.count - physics, options.seed, options.only)
    if options.survivors_of is None:
        return sample
    lines = options.survivors_of.read_text(encoding="utf-8").splitlines()
    survivors = {v["place"] for v in map(json.loads, lines) if v["verdict"] == SURVIVED}
    return [mutant for mutant in sample if mutant.place in survivors]


def _tree() -> str:
    files = [*(ROOT / "calc").rglob("*.py"), *(ROOT / "tests").rglob("*.py")]
    return reach.digest(sorted(f for f in files if "bench" not in f.parts))


def _key(options: argparse.Namespace) -> str:
    asked = (options.select, options.short_only, options.budget, options.without, options.argument)
    return hashlib.sha256(repr(asked).encode()).hexdigest()[:6]


def _mapped(parts: list[reach.Part], jobs: int) -> list[dict[str, Any]]:
    """The reach of all parts of the test files, so many at a time."""
    marks = Marks(ROOT, "calc")

    def find(told: Told, thing: reach.Part) -> None:
        reach.measured(thing, children.KEPT, marks)

    missing = [part for part in parts if not reach.kept(part, children.KEPT).exists()]
    for (path, number, of), told in _side_by_side(missing, find, jobs):
        if told.why:
            raise SystemExit(f"{path}: {told.why}")
        print(f"mapped {path} {number + 1}/{of}", flush=True)
    return [reach.measured(part, children.KEPT, marks) for part in parts]


def _side_by_side(things: Iterable[Any], work: Any, jobs: int) -> Iterator[tuple[Any, Told]]:
    """Work on each thing in a child, so many at a time; what was heard, as they come."""
    waiting = iter(things)
    busy: dict[Child, Any] = {}
    try:
        while True:
            while len(busy) < jobs and (thing := next(waiting, None)) is not None:
                busy[Child(partial(work, thing=thing), 4 * LONGEST)] = thing
            if not busy:
                return
            select.select(list(busy), [], [], 60.0)
            for child in list(busy):
                if (told := child.hear()) is not None:
                    yield busy.pop(child), told
    finally:
        for child in busy:
            child.end()


def _tried(sample: list[Mutant], trial: Trial, file: Path, jobs: int) -> dict[str, Verdict]:
    verdicts: dict[str, Verdict] = {}
    if file.exists():
        lines = file.read_text(encoding="utf-8").splitlines()
        verdicts = {v["place"]: Verdict(**v) for v in map(json.loads, lines)}
    missing = [mutant for mutant in sample if mutant.place not in verdicts]
    print(f"{len(sample) - len(missing)} were tried before.", flush=True)
    done = 0
    with file.open("a", encoding="utf-8") as kept:
        for mutant, told in _side_by_side(missing, trial.judge, jobs):
            if not told.notes:
                raise SystemExit(f"{mutant}\n  cannot be tried: {told.why}")
            verdict = verdicts[mutant.place] = Verdict(**told.notes)
            kept.write(json.dumps(verdict.__dict__) + "\n")
            kept.flush()
            done += 1
            print(f"{done}/{len(missing)}  {mutant}\n    {told_of(verdict)}", flush=True)
    return {mutant.place: verdicts[mutant.place] for mutant in sample}


def told_of(v: Verdict) -> str:
    """A verdict in a line."""
    if v.verdict == SURVIVED:
        return f"{SURVIVED}  {v.ran} of {v.of} tests in {v.seconds} s"
    return f"killed in {v.seconds} s by {v.verdict}: {v.test[:120]}: {v.why}"


def report(sample: list[Mutant], verdicts: dict[str, Verdict], nodes: dict[bool, int]) -> None:
    """Shares, and who survived."""
    print("\nSurvivors")
    for mutant in sample:
        if (v := verdicts[mutant.place]).verdict == SURVIVED:
            print(f"  {mutant}\n      {v.ran} of {v.of} tests")
    print(f"\n{'':<16}{'mutants':>8}{'killed by the short tier':>28}{'or by the rest':>20}")
    shares: dict[bool, Shares] = {}
    for name, where in (("calc/physics", True), ("elsewhere", False)):
        of = [verdicts[mutant.place] for mutant in sample if mutant.at_physics is where]
        if of:
            short = sum(v.verdict == SHORT for v in of)
            both = sum(v.verdict != SURVIVED for v in of)
            shares[where] = short / len(of), both / len(of)
            _row(name, len(of), shares[where], (short, both))
    if len(shares) == 2:
        _row("all of these", len(sample), _mean(shares, _numbers(sample)))
        _row("calc, by size", None, _mean(shares, nodes))


def _numbers(sample: list[Mutant]) -> dict[bool, int]:
    return {where: sum(m.at_physics is where for m in sample) for where in (True, False)}


def _mean(shares: dict[bool, Shares], sizes: dict[bool, int]) -> Shares:
    """Shares of the whole from those of its parts."""
    total = sum(sizes.values())
    short, both = (
        sum(sizes[where] * share[which] for where, share in shares.items()) / total
        for which in (0, 1)
    )
    return short, both


def _row(name: str, count: int | None, of: Shares, killed: tuple[int, int] | None = None) -> None:
    one, two = killed or ("", "")
    many = "" if count is None else count
    print(f"{name:<16}{many:>8}{one:>18}{100 * of[0]:>8.1f} %{two:>10}{100 * of[1]:>8.1f} %")


def _killers_pass(trial: Trial, verdicts: Iterable[Verdict]) -> int:
    """Run what killed without a mutant: 0 when all passes, else it was no mutant that failed it."""
    killers = sorted({v.test for v in verdicts if "::" in v.test})
    work = partial(children.run, tests=killers, usual=trial.usual, hook=None)
    heard = children.in_child(work, LONGEST)
    if heard.failed:
        print(f"Fails without a mutant: {heard.failed}: {heard.why}")
        return 1
    print(f"All {len(killers)} tests that killed pass without a mutant.")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
