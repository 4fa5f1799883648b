"""The memory image: Python with the whole application loaded, made at build time.

Restoring it is many times faster than starting Python. Node makes it in another process; without a
suitable Node the site is built without it and starts the ordinary way.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from site_src.build.packing import SUFFIX, packed
from site_src.build.toolchain import ROOT, nodes

HERE = Path(__file__).parent
CACHE = ROOT / ".cache" / "image"
# The image of another release may not fit the browsers: see make.mjs.
NODE_RELEASE = "v20."
FACTS = "image.json"
KEPT = (FACTS, "image.bin", "stdlib.zip")


@dataclass(frozen=True)
class Image:
    """The memory to restore, facts about it, and the standard library to use without it."""

    content: bytes
    memory: int
    hiwire: object
    library: bytes


def make(
    packages: Path, runtime: Mapping[str, bytes], app: bytes, *, cached: bool = True
) -> Image | None:
    """The image of the application in the archive `app`, or None if no Node can make it.

    It fits no runtime but the one it was made with.
    """
    node = find_node(packages)
    if node is None:
        print("No Node 20 here: built without a memory image, Python starts slower.", flush=True)
        return None
    folder = CACHE / _key(runtime, app)
    if cached and folder.exists():
        return _read(folder)
    with tempfile.TemporaryDirectory() as temporary:
        made = Path(temporary) / "made"
        made.mkdir()
        for name, content in {**runtime, "app.zip": app}.items():
            (made / name).write_bytes(content)
        command = [node, str(HERE / "make.mjs"), str(made)]
        # Python in the image keeps the zone that it was made in, and would take it to every user.
        surroundings = os.environ | {"TZ": "UTC"}
        done = subprocess.run(
            command, env=surroundings, capture_output=True, text=True, check=False
        )
        if done.returncode:
            # The scripts of the runtime are one line of a megabyte; the reason is at the end.
            reason = "\n".join(line[:200] for line in done.stderr.splitlines()[-20:])
            print(f"Built without a memory image, because making it failed:\n{reason}", flush=True)
            return None
        if cached:
            _store(made, folder)
        return _read(made)


def find_node(packages: Path) -> str | None:
    """The pinned Node, else the machine's if it is of the same release line."""
    for path in nodes(packages):
        asked = subprocess.run([path, "--version"], capture_output=True, text=True, check=False)
        if asked.stdout.startswith(NODE_RELEASE):
            return path
    return None


def files(image: Image | None, runtime: str) -> dict[str, bytes]:
    """Files for the site: the image, and the facts to check before it is used.

    `runtime` is the name of the folder of the runtime, which changes with its contents.
    """
    if image is None:
        return {}
    facts = {
        "sha256": hashlib.sha256(image.content).hexdigest(),
        "memory": image.memory,
        "hiwire": image.hiwire,
        "runtime": runtime,
    }
    told = json.dumps(facts, indent=1, sort_keys=True).encode()
    return {FACTS: told, "image" + SUFFIX: packed(image.content)}


def _read(folder: Path) -> Image:
    facts = json.loads((folder / "image.json").read_bytes())
    content = (folder / "image.bin").read_bytes()
    library = (folder / "stdlib.zip").read_bytes()
    return Image(content, facts["memory"], facts["hiwire"], library)


def _store(made: Path, folder: Path) -> None:
    """Keep this image and no older one; another build may be doing the same."""
    CACHE.mkdir(parents=True, exist_ok=True)
    for old in CACHE.iterdir():
        shutil.rmtree(old, ignore_errors=True)
    fresh = Path(tempfile.mkdtemp(dir=CACHE)) / "fresh"
    fresh.mkdir()
    for name in KEPT:
        shutil.copy(made / name, fresh)
    with suppress(OSError):  # the other build was faster
        fresh.rename(folder)


def _key(runtime: Mapping[str, bytes], app: bytes) -> str:
    parts = [*(runtime[name] for name in sorted(runtime)), app]
    parts += [f.read_bytes() for f in sorted(HERE.iterdir()) if f.is_file()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()[:20]
