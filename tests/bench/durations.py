"""Where the time of a run of the tests goes: seconds by file, and its longest tests.

    python3 build_site.py test --durations=0 > LOG
    python tests/bench/durations.py LOG [LOG of another run, to stand beside it]

Prints tables for RESULTS.md. Processes that work side by side each count their own seconds.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from pathlib import Path

ROW = re.compile(r"\s*([\d.]+)s (?:call|setup|teardown)\s+(\S+?)::(.*)")
END = re.compile(r"=+ (.*(?:passed|failed).*?) =+$", re.MULTILINE)
FILES, TESTS = 30, 25


def read(log: Path) -> tuple[Counter[str], Counter[str], list[str]]:
    """Seconds by file, seconds by test, what pytest said at the end."""
    text = log.read_text("utf-8", errors="replace")
    files: Counter[str] = Counter()
    tests: Counter[str] = Counter()
    for line in text.splitlines():
        if row := ROW.match(line):
            files[row[2]] += float(row[1])
            tests[f"{row[2]}::{row[3].strip()}"] += float(row[1])
    return files, tests, END.findall(text)


def table(name: str, runs: list[Counter[str]], most: int) -> None:
    print(f"| {name} | {' | '.join(f'run {n + 1}, s' for n in range(len(runs)))} |")
    print(f"|---|{'---|' * len(runs)}")
    order = sum(runs, Counter())
    for key, _ in order.most_common(most):
        print(f"| {key} | {' | '.join(f'{run[key]:.0f}' for run in runs)} |")
    rest = [sum(run.values()) - sum(run[key] for key, _ in order.most_common(most)) for run in runs]
    print(f"| all others | {' | '.join(f'{seconds:.0f}' for seconds in rest)} |\n")


def main() -> None:
    runs = [read(Path(name)) for name in sys.argv[1:]]
    if not runs:
        raise SystemExit(__doc__)
    for number, (_, _, ends) in enumerate(runs):
        print(f"Run {number + 1}: {'; '.join(ends)}.\n")
    table("file", [files for files, _, _ in runs], FILES)
    table("test", [tests for _, tests, _ in runs], TESTS)


if __name__ == "__main__":
    main()
