"""Checks the types that our JavaScript declares in its comments.

One project for each place where scripts run, because each has a different environment: the page,
the worker of Python, the service worker, the Node that makes the memory image, the pages of the
tests.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from site_src.build import declarations
from site_src.build.toolchain import ROOT, nodes, npm_packages

TYPES = Path("site_src", "build", "types")
PROJECTS = ("page", "worker", "service_worker", "node", "tests")


def complaints(packages: Path, root: Path = ROOT) -> list[str]:
    """Messages of the checker about the scripts under `root`, which has the packages in a .cache of
    its own; empty if every type holds."""
    node = next(nodes(packages), None)
    if node is None:
        raise SystemExit("No Node here: the types of the JavaScript cannot be checked.")
    declarations.write(root)
    checker = str(packages / "typescript" / "bin" / "tsc")
    said: list[str] = []
    for name in PROJECTS:
        command = [node, checker, "--pretty", "false", "--project", str(TYPES / f"{name}.json")]
        done = subprocess.run(command, cwd=root, capture_output=True, text=True, check=False)
        if done.returncode:
            said += (done.stdout + done.stderr).splitlines() or [f"{name}: {done.returncode}"]
    return list(dict.fromkeys(said))  # the tests look at scripts of the page again


def main() -> int:
    """Print the messages; 1 if there are any."""
    found = complaints(npm_packages())
    print("".join(f"{line}\n" for line in found), end="", flush=True)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
