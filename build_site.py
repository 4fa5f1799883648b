#!/usr/bin/env python3
"""The one command: build the site, serve it, test everything.

    python3 build_site.py                 make dist/
    python3 build_site.py serve [--port N]
    python3 build_site.py pdf             make dist/, and the ready sheets and charts in dist/pdf
    python3 build_site.py one-file        the whole site in one HTML file for each language
    python3 build_site.py test [--all] [arguments for pytest]
    python3 build_site.py pictures        every page at three widths, in .cache/pictures
    python3 build_site.py words           bring the dictionaries in step with what is said

Needs Python 3.11 or later and nothing else: what else is needed is fetched once, as pinned.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

if sys.version_info < (3, 11):  # noqa: UP036 - an older Python must get a sentence
    raise SystemExit("This needs Python 3.11 or later.")

from site_src.build.toolchain import ROOT, enter_venv, npm_packages

DIST = ROOT / "dist"
TASKS = ("build", "serve", "test", "pictures", "one-file", "pdf", "words")
ONE_FILE = ROOT / "one-file"
PICTURES = ROOT / ".cache" / "pictures"
# Three processes on two cores, because tests in browsers wait now and then; one that has finished
# its own tests takes some of another's.
SIDE_BY_SIDE = ["-n", str(max(2, round(1.5 * (os.cpu_count() or 1)))), "--dist", "worksteal"]
# Before an issue is called resolved: all tests, in an order of their own, with wider searches.
WIDE = ["--all", "-p", "randomly", "--hypothesis-profile=wide"]
WIDER = {"FORM_EXAMPLES": "400"}
CHECKS = (
    ["ruff", "check"],
    ["ruff", "format", "--check"],
    ["mypy"],
    ["lint-imports", "--no-cache"],
    ["python", "-m", "site_src.build.check_types"],
)


def main(arguments: list[str]) -> int:
    """Read the command line, get what is needed, do what was asked."""
    parser = argparse.ArgumentParser(prog="build_site.py", description="Build, serve or test.")
    parser.add_argument("task", nargs="?", choices=TASKS, default="build")
    parser.add_argument("--port", type=int, default=8000, help="for serve: the port to listen on")
    parser.add_argument("--all", action="store_true", help="for test: the wide tests too")
    options, rest = parser.parse_known_args(arguments)
    if rest and options.task != "test":
        parser.error(f"not understood: {' '.join(rest)}")
    enter_venv(tests=options.task in ("test", "pictures", "pdf"))
    if options.task == "words":
        words()
        return 0
    if options.task == "test":
        npm_packages()
        return check(rest, wide=options.all)
    date = make()
    if options.task == "serve":
        serve(options.port)
    if options.task == "one-file":
        one_file()
    if options.task == "pictures":
        pictures()
    if options.task == "pdf":
        papers(date)
    return 0


def make() -> str:
    """Build dist/ and say what came out; its date."""
    from site_src.build.assemble import build  # only here are the pinned packages certain

    info = build(DIST, npm_packages())
    size = sum(f.stat().st_size for f in DIST.rglob("*") if f.is_file())
    print(f"dist: version {info.version} of {info.date}, {size / 1e6:.1f} MB", flush=True)
    return info.date


def one_file() -> None:
    """Write the edition that is one file; beside dist/, because it holds all of that again."""
    from site_src.build import one_file as edition

    files = {f.relative_to(DIST).as_posix(): f.read_bytes() for f in DIST.rglob("*") if f.is_file()}
    ONE_FILE.mkdir(exist_ok=True)
    for code, name in edition.NAMES.items():
        content = edition.one_file(files, code)
        (ONE_FILE / name).write_bytes(content)
        print(f"{ONE_FILE.name}/{name}: {len(content) / 1e6:.1f} MB", flush=True)


def words() -> None:
    """Write what is not translated yet into the dictionaries, and say how much that is."""
    from site_src.build.words import LANGUAGES, write

    for code, empty in write().items():
        print(f"{(LANGUAGES / code).relative_to(ROOT)}.json: {empty} not translated")


def serve(port: int) -> None:
    """Serve dist/ on this machine until interrupted."""
    from site_src.build.server import SiteServer

    try:
        server = SiteServer(DIST, port)
    except OSError as error:
        raise SystemExit(f"Port {port} cannot be used ({error.strerror}); try --port N.") from None
    with server:
        print(f"Serving on {server.address} (stop with Ctrl-C)", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print()


def pictures() -> None:
    """Take a picture of every page at three widths in three looks, and as it prints."""
    from site_src.build.pictures import take

    print(f"{len(take(DIST, PICTURES))} pictures in {PICTURES.relative_to(ROOT)}")


def papers(date: str) -> None:
    """Print the ready sheets and charts, and build once more with links to them; not part of a
    build, because it takes a browser."""
    from site_src.build.assemble import build
    from site_src.build.papers import printed

    files = printed(DIST, date)
    build(DIST, npm_packages(), date, files)
    print(f"{len(files)} files in {DIST.name}/pdf, {sum(map(len, files.values())) / 1e6:.1f} MB")


def check(pytest_arguments: list[str], *, wide: bool) -> int:
    """Lint, format and types, side by side, then the tests; what fails ends it."""
    tools = Path(sys.prefix) / "bin"
    pipe, both = subprocess.PIPE, subprocess.STDOUT
    begun = [
        subprocess.Popen([tools / name, *arguments], cwd=ROOT, stdout=pipe, stderr=both)
        for name, *arguments in CHECKS
    ]
    for one in begun:
        print(one.communicate()[0].decode(errors="replace"), end="", flush=True)
    if failed := next((one.returncode for one in begun if one.returncode), 0):
        return failed
    tests = [str(tools / "pytest"), *SIDE_BY_SIDE, *(WIDE if wide else []), *pytest_arguments]
    environment = os.environ | (WIDER if wide else {})
    return subprocess.run(tests, cwd=ROOT, env=environment, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
