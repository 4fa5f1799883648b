"""The memory image and the trimmed runtime, as files."""

from __future__ import annotations

import ast
import hashlib
import json
import os
import re
import struct
import tempfile
from pathlib import Path

import pytest

from site_src.build import image, packing
from site_src.build.archive import app_files, pack
from site_src.build.runtime import CALLER, LOADER, WASM, parts
from site_src.build.toolchain import ROOT, npm_packages
from site_src.build.trim import trim

# What would come out alike at every start from the image.
CHANCE = {"random", "secrets", "uuid"}


@pytest.fixture(scope="module")
def runtime() -> dict[str, bytes]:
    return parts(npm_packages())


EACH = pytest.mark.wide("half a minute each; the first differs in everything from a usual build")


@pytest.mark.parametrize(
    ("zone", "language", "umask", "seed"),
    [
        ("Asia/Kathmandu", "de_DE.UTF-8", 0o077, "2"),
        pytest.param("America/St_Johns", "C", 0o022, "0", marks=EACH),
        pytest.param("Europe/Berlin", "ja_JP.eucJP", 0o002, "7", marks=EACH),
        pytest.param("UTC", "C.UTF-8", 0o022, "random", marks=EACH),
    ],
)
def test_it_is_the_same_whenever_and_wherever_it_is_made(
    runtime: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    zone: str,
    language: str,
    umask: int,
    seed: str,
) -> None:
    app = pack(app_files(ROOT))
    kept = image.make(npm_packages(), runtime, app)
    for name, value in (("TZ", zone), ("LANG", language), ("LC_ALL", language)):
        monkeypatch.setenv(name, value)
    monkeypatch.setenv("PYTHONHASHSEED", seed)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    before = os.umask(umask)
    try:
        one = image.make(npm_packages(), runtime, app, cached=False)
    finally:
        os.umask(before)
    assert one is not None
    assert one == kept
    assert str(ROOT).encode() not in one.content


def test_its_blocks_fill_it_exactly(dist: Path) -> None:
    content = memory(dist)
    (count,) = struct.unpack_from("<I", content)
    places = struct.unpack_from(f"<{2 * count}I", content, 4)
    starts, sizes = places[::2], places[1::2]
    assert 4 + 8 * count + sum(sizes) == len(content)
    ends = [start + size for start, size in zip(starts, sizes, strict=True)]
    assert all(end <= start for end, start in zip(ends, starts[1:], strict=False))
    assert ends[-1] <= facts(dist)["memory"]


def test_its_facts_are_those_of_what_lies_beside_it(dist: Path) -> None:
    told = facts(dist)
    assert told["sha256"] == hashlib.sha256(memory(dist)).hexdigest()
    assert (dist / told["runtime"]).is_dir()


def memory(dist: Path) -> bytes:
    return packing.unpacked(next(dist.glob("a-*/image.packed")).read_bytes())


def facts(dist: Path) -> dict[str, object]:
    told: dict[str, object] = json.loads(next(dist.glob("a-*/image.json")).read_bytes())
    return told


def test_nothing_of_ours_uses_chance() -> None:
    ours = [name for name in app_files(ROOT) if name.startswith(("calc/", "site_src/"))]
    assert {"calc/forms/stroke/form.py", "site_src/both/paper/layout.py"} <= set(ours)
    for path in (ROOT / name for name in ours if name.endswith(".py")):
        for node in ast.walk(ast.parse(path.read_bytes())):
            if isinstance(node, ast.Import):
                assert not CHANCE & {alias.name for alias in node.names}, path
            if isinstance(node, ast.ImportFrom):
                assert node.module not in CHANCE, path
    for path in (ROOT / "site_src").rglob("*.html"):
        assert not re.search(r"\|\s*random", path.read_text("utf-8")), path


def test_without_a_node_the_site_is_built_without_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(image, "find_node", lambda packages: None)
    assert image.make(npm_packages(), {}, b"") is None
    assert "without a memory image" in capsys.readouterr().out
    assert image.files(None, "py-0") == {}


def test_the_runtime_offers_only_what_its_loader_names(runtime: dict[str, bytes]) -> None:
    package = npm_packages() / "pyodide"
    assert len(runtime[LOADER]) < 0.7 * (package / LOADER).stat().st_size
    assert len(runtime[WASM]) < 0.97 * (package / WASM).stat().st_size
    assert b'wasmExports["malloc"]' in runtime[LOADER]


def test_the_runtime_begins_with_room_for_the_image(dist: Path, runtime: dict[str, bytes]) -> None:
    """Read by hand from the memory section of the module (WebAssembly 2.0, 5.5.8)."""
    wasm, at = runtime[WASM], 8
    while wasm[at] != 5:
        size, at = leb128(wasm, at + 1)
        at += size
    _, content = leb128(wasm, at + 1)
    count, limits = leb128(wasm, content)
    least, _ = leb128(wasm, limits + 1)
    assert (count, least) == (1, 640)
    assert facts(dist)["memory"] <= least * 65536  # type: ignore[operator]


def leb128(data: bytes, at: int) -> tuple[int, int]:
    """An unsigned number, and where it ends (WebAssembly 2.0, 5.2.2)."""
    value = shift = 0
    while True:
        value |= (data[at] & 0x7F) << shift
        at, shift = at + 1, shift + 7
        if data[at - 1] < 0x80:
            return value, at


def test_a_loader_that_is_not_as_it_was_is_left_whole() -> None:
    package = npm_packages() / "pyodide"
    loader, wasm, caller = ((package / name).read_bytes() for name in (LOADER, WASM, CALLER))
    text = loader.decode()
    assert trim(text.replace("assignWasmExports", "assign"), wasm, caller.decode()) is None
    odd = text.replace('=wasmExports["malloc"];', "=wasmExports.malloc;")
    assert odd != text
    assert trim(odd, wasm, caller.decode()) is None
