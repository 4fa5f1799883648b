"""Everything in dist/, put together in memory and then written.

    index.html ...      the pages, made by site_src.pages.render
    manifest.webmanifest, sw.js, wb-HASH.js
    bom.json            what is carried along, for machines
    _headers ...        what hosts should send, for those that read it
    a-VERSION/          our scripts, styles, icons, dictionaries and app.zip under plain names
    py-HASH/            the Python runtime

The name of a folder changes with its contents, so the files inside can keep plain names and find
each other, and no cache can ever mix two versions.
"""

from __future__ import annotations

import base64
import hashlib
import json
import shutil
import subprocess
from collections.abc import Iterable, Mapping
from pathlib import Path

from calc.language import ENGLISH, NAMES, dictionary
from site_src.build import carried, database, hosts, image, packing
from site_src.build.archive import app_files, pack
from site_src.build.packing import SUFFIX, packed
from site_src.build.runtime import LIBRARY, licences, parts, site_files, workbox
from site_src.build.toolchain import ROOT
from site_src.pages import render
from site_src.pages.info import BuildInfo

PAGES = ROOT / "site_src" / "pages"
STATIC = ROOT / "site_src" / "static"
# Scripts that run before the page is read; the browser gets them as one file, in this order.
HEAD = ("early.js", "language.js", "look.js", "last.js")
HEAD_ALONE = ("early.js", "last.js")  # needed on the page of forms only
STYLES = ROOT / "site_src" / "styles"
STYLE_ORDER = ("tokens", "shell", "fields", "answer", "garage", "build", "text", "moving")
# Static files that live at the root of the site, under names that cannot change.
MANIFEST, WORKER = "manifest.webmanifest", "sw.js"
INPUTS = ("calc", "site_src", "build_site.py", "pyproject.toml")
UNKNOWN_DATE = "1970-01-01"


def build(
    out: Path, packages: Path, date: str | None = None, pdfs: Mapping[str, bytes] | None = None
) -> BuildInfo:
    """Make the site in the folder `out`, replacing its contents; `pdfs` as in `assemble`."""
    info, files = assemble(packages, date or source_date(), pdfs)
    fresh = out.with_name(out.name + ".new")
    for folder in (fresh, out):
        shutil.rmtree(folder, ignore_errors=True)
    for name, content in files.items():
        path = fresh / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    fresh.rename(out)
    return info


def assemble(
    packages: Path, date: str, pdfs: Mapping[str, bytes] | None = None
) -> tuple[BuildInfo, dict[str, bytes]]:
    """The build's description and the whole site: path -> content.

    `pdfs` are pages of the same site printed before. A page links to them, and the service worker
    leaves them to the network: who wants one on the device saves it.
    """
    static, app = _static(), pack(app_files(ROOT))
    unpacking = packing.script(packages, static[packing.NAME])
    library = workbox(packages) + unpacking
    whole = parts(packages)
    made = image.make(packages, whole, app)
    runtime = site_files(whole | ({LIBRARY: made.library} if made else {}))
    runtime[packing.NAME] = unpacking
    runtime_folder = f"py-{digest(runtime)}"
    elsewhere = (MANIFEST, WORKER, packing.NAME, *HEAD_ALONE)
    shell = {name: content for name, content in static.items() if name not in elsewhere}
    shell |= {"app.zip" + SUFFIX: packed(app), **image.files(made, runtime_folder)}
    shell["head.js"] = b"\n".join(static[name] for name in HEAD)
    shell["style.css"] = style()
    shell[database.NAME] = database.script(packages)
    shell |= {code + SUFFIX: _words(code) for code in NAMES if code != ENGLISH}
    sources = {str(i): c for i, c in enumerate([date.encode(), library, *_other_sources()])}
    version = digest({**runtime, **static, **shell, **sources})
    folders = {f"a-{version}": shell, runtime_folder: runtime}
    assets = {name: f"{folder}/{name}" for folder, names in folders.items() for name in names}
    shown = {**assets, MANIFEST: MANIFEST}
    info = BuildInfo(version, date, shown, licences(packages), pdfs=frozenset(pdfs or ()))

    files = {f"{folder}/{name}": c for folder, some in folders.items() for name, c in some.items()}
    files |= render.pages(info)
    files[MANIFEST] = _manifest(static[MANIFEST], info)
    files[carried.NAME] = carried.bom(version, info.licences)
    library_name = f"wb-{digest({'': library})}.js"
    worker = _service_worker(static[WORKER], files, library_name)
    return info, {**files, library_name: library, WORKER: worker, **hosts.files(), **(pdfs or {})}


def _words(code: str) -> bytes:
    """The dictionary of a language, which the page in that language passes to Python."""
    known = {key: text for key, text in dictionary(code).items() if text}
    return packed(json.dumps(known, ensure_ascii=False, separators=(",", ":")).encode())


def style() -> bytes:
    """All styles for the screen, in one file."""
    return b"\n".join((STYLES / f"{name}.css").read_bytes() for name in STYLE_ORDER)


def digest(files: Mapping[str, bytes]) -> str:
    """A short name for these files: ten hexadecimal digits of a hash of names and contents."""
    whole = hashlib.sha256()
    for name in sorted(files):
        whole.update(f"{name}\0{len(files[name])}\0".encode() + files[name])
    return whole.hexdigest()[:10]


def source_date() -> str:
    """Day of the last commit that touched the sources, so that one commit always builds the
    same."""
    command = ["git", "log", "-1", "--format=%cs", "--", *INPUTS]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    except OSError:
        return UNKNOWN_DATE
    return done.stdout.strip() or UNKNOWN_DATE


def _static() -> dict[str, bytes]:
    """Static files by name alone: the folders tell where they run, and are one folder on the
    site."""
    found = sorted(f for f in STATIC.rglob("*") if f.is_file())
    named = {f.name: f.read_bytes() for f in found}
    if len(named) < len(found):
        raise ValueError("two static files have the same name")
    return named


def _other_sources() -> Iterable[bytes]:
    """Inputs that shape the pages without being copied or archived: their makers, the build, the
    pins."""
    pages = sorted(f for f in PAGES.rglob("*") if f.is_file() and f.suffix != ".pyc")
    build_modules = sorted(Path(__file__).parent.rglob("*.py"))
    texts = sorted(Path(__file__).parent.rglob("*.txt"))  # licences and pins
    named = [*pages, *build_modules, *texts]
    return (f.read_bytes() for f in [*named, ROOT / "pyproject.toml"])


def _manifest(template: bytes, info: BuildInfo) -> bytes:
    """The web app manifest, with the addresses of its icons in place of their names."""
    manifest = json.loads(template)
    for icon in manifest["icons"]:
        icon["src"] = info.asset(icon["src"])
    return json.dumps(manifest, indent=1).encode()


def _service_worker(script: bytes, files: Mapping[str, bytes], library_name: str) -> bytes:
    """The service worker: the list of files to keep, the library, then our script."""
    entries = [_entry(name, files[name]) for name in sorted(files)]
    head = (
        f"const FILES = {json.dumps(entries, indent=1)};\n"
        f"importScripts({json.dumps(library_name)});\n\n"
    )
    return head.encode() + script


def _is_first(name: str) -> bool:
    """Whether an answer needs it: the page, what runs on it, Python. The memory image does no more
    than hasten the next start."""
    folder, _, plain = name.rpartition("/")
    if folder.startswith(("a-", "py-")):
        return plain != "image" + SUFFIX and not plain.startswith("icon")
    return not folder and plain.startswith(("index.", MANIFEST))


def _entry(name: str, content: bytes) -> dict[str, str | int | bool | None]:
    """One file to keep. A name without a hash has its revision beside it."""
    hashed = name.startswith(("a-", "py-"))
    integrity = base64.b64encode(hashlib.sha256(content).digest()).decode()
    return {
        "url": name,
        "revision": None if hashed else digest({name: content}),
        "integrity": f"sha256-{integrity}",
        "size": len(content),
        "first": _is_first(name),
    }
