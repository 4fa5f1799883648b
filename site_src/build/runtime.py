"""Packages from npm: the Python runtime for the browser, and the precaching library."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.metadata import distribution, version
from importlib.util import find_spec
from itertools import takewhile
from pathlib import Path

from site_src.build.carried import from_npm, npm_version
from site_src.build.packing import SUFFIX, packed
from site_src.build.trim import trim
from site_src.build.within import TEXTS, found
from site_src.pages.info import Licence

# Names in the package.
CALLER, LOADER, WASM = "pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm"
LIBRARY, LOCK = "python_stdlib.zip", "pyodide-lock.json"
# In the order of their dependencies.
WORKBOX = ("workbox-core", "workbox-routing", "workbox-strategies", "workbox-precaching")


def parts(packages: Path) -> dict[str, bytes]:
    """The runtime as used here, under its names in the package."""
    folder = packages / "pyodide"
    files = {name: (folder / name).read_bytes() for name in (CALLER, LOADER, WASM, LIBRARY)}
    # The list of packages that could be fetched: none is, so only its head remains.
    lock = json.loads((folder / LOCK).read_bytes())
    files[LOCK] = json.dumps({"info": lock["info"], "packages": {}}, sort_keys=True).encode()
    trimmed = trim(files[LOADER].decode(), files[WASM], files[CALLER].decode())
    if trimmed is None:
        print("The runtime is not as it was: used whole, which starts slower.", flush=True)
        return files
    return files | {LOADER: trimmed[0].encode(), WASM: trimmed[1]}


def site_files(runtime: Mapping[str, bytes]) -> dict[str, bytes]:
    """The parts of the runtime under their names on the site.

    Not every host serves .mjs as JavaScript, and browsers refuse a module of the wrong type; all
    hosts know .js.
    """
    return {
        "pyodide.js": runtime[CALLER],
        "pyodide.asm.js": runtime[LOADER],
        WASM + SUFFIX: packed(runtime[WASM]),
        LIBRARY + SUFFIX: packed(runtime[LIBRARY]),
        LOCK: runtime[LOCK],
    }


def workbox(packages: Path) -> bytes:
    """The prebuilt files of the precaching library as one script."""
    parts = []
    for name in WORKBOX:
        text = (packages / name / "build" / f"{name}.prod.js").read_text("utf-8")
        kept = [line for line in text.splitlines() if not line.startswith("//# sourceMappingURL")]
        parts.append("\n".join(kept))
    return "\n".join([*parts, ""]).encode()


# Said in English as the terms are.
_TRIMMED = (
    "Changed: functions for other compiled modules are taken out of the list of exports of the "
    "WebAssembly module and out of its loader, and files are renamed. The source of that change is "
    "site_src/build/trim.py of this project; that of Pyodide is published with its release."
)


def licences(packages: Path) -> tuple[Licence, ...]:
    """Terms of everything on the site that others wrote."""
    python = json.loads((packages / "pyodide" / LOCK).read_bytes())["info"]
    emscripten = python["platform"].removeprefix("emscripten_").replace("_", ".")
    pyodide = npm_version(packages / "pyodide")
    within = f"pkg:npm/pyodide@{pyodide}"
    qr = version("qrcodegen")
    return (
        Licence("Pyodide", pyodide, "MPL-2.0", _text("pyodide"), within, _TRIMMED),
        Licence("CPython", python["python"], "PSF-2.0", _text("cpython"), f"{within}#cpython"),
        Licence("Emscripten", emscripten, "MIT", _text("emscripten"), f"{within}#emscripten"),
        *found(packages / "pyodide", within),
        _installed("Jinja2", "BSD-3-Clause"),
        _installed("MarkupSafe", "BSD-3-Clause"),
        Licence("qrcodegen", qr, "MIT", _head_of("qrcodegen"), f"pkg:pypi/qrcodegen@{qr}"),
        from_npm(packages / "workbox-precaching", "MIT", "Workbox"),
        from_npm(packages / "idb", "ISC"),
        from_npm(packages / "fzstd", "MIT"),
    )


def _text(name: str) -> str:
    return (TEXTS / f"{name}.txt").read_text("utf-8")


def _head_of(module: str) -> str:
    """The comment at the head of a module that states its terms nowhere else."""
    spec = find_spec(module)
    if spec is None or spec.origin is None:
        raise LookupError(f"the module {module} is not installed")
    lines = Path(spec.origin).read_text("utf-8").splitlines()
    head = takewhile(lambda line: line.startswith("#"), lines)
    return "\n".join(line.removeprefix("#").strip() for line in head).strip()


def _installed(name: str, licence_name: str) -> Licence:
    package = distribution(name)
    files = [f for f in package.files or [] if f.name == "LICENSE.txt"]
    if len(files) != 1:
        raise LookupError(f"{name} does not bring its licence along")
    text = Path(str(files[0].locate())).read_text("utf-8")
    address = f"pkg:pypi/{name.lower()}@{package.version}"
    return Licence(name, package.version, licence_name, text, address)
