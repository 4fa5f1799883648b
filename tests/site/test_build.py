"""What the build makes: the same bytes each time, whole, small, and pointing only at itself."""

from __future__ import annotations

import base64
import gzip
import io
import json
import os
import re
import shutil
import struct
import subprocess
import sys
import tomllib
import zipfile
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import urljoin, urlsplit

import pytest
from playwright.sync_api import Browser

from site_src.build import hosts, toolchain
from site_src.build.archive import BUNDLED, ROOMS
from site_src.build.carried import NAME as BOM
from site_src.build.packing import unpacked
from site_src.build.runtime import licences
from site_src.build.toolchain import NPM_PINS, ROOT, npm_packages
from site_src.build.within import KNOWN
from site_src.pages.info import CSP, BuildInfo
from tests.site.hands import visiting

MEGABYTE, KILOBYTE = 1_000_000, 1_000
PINS = ROOT / "site_src" / "build"
BUILD = "from pathlib import Path; import sys; from site_src.build.assemble import build; " + (
    "from site_src.build.toolchain import npm_packages; build(Path(sys.argv[1]), npm_packages())"
)
LINKS = {"href", "src"}


class Links(HTMLParser):
    """Collects the addresses on a page, its policy, and what the policy would forbid."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.forbidden: list[str] = []
        self.policy = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.addresses += [given[name] or "" for name in LINKS & given.keys()]
        script = tag == "script" and "src" not in given
        words = given.get("type") == "application/json"  # text to read, which no browser runs
        inline = tag == "style" or (script and not words) or "style" in given
        if inline or any(name.startswith("on") for name in given):
            self.forbidden.append(f"{tag} {given}")
        if given.get("http-equiv") == "Content-Security-Policy":
            self.policy = given["content"] or ""


def contents(folder: Path) -> dict[str, bytes]:
    """Path in the folder -> content of each file."""
    found = [f for f in folder.rglob("*") if f.is_file()]
    return {f.relative_to(folder).as_posix(): f.read_bytes() for f in found}


@pytest.fixture(scope="module")
def files(dist: Path) -> dict[str, bytes]:
    """Everything in dist/."""
    return contents(dist)


@pytest.fixture(scope="module")
def html(files: dict[str, bytes]) -> dict[str, Links]:
    """The pages, read."""
    return {n: Links(c.decode()) for n, c in files.items() if n.endswith(".html")}


def test_the_same_sources_give_the_same_bytes_and_leave_nothing_behind(
    files: dict[str, bytes], tmp_path: Path
) -> None:
    out = tmp_path / "dist"
    out.mkdir()
    (out / "stale.html").touch()
    environment = os.environ | {"PYTHONHASHSEED": "2", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    subprocess.run([sys.executable, "-c", BUILD, out], cwd=ROOT, env=environment, check=True)
    assert contents(out) == files
    assert [f.name for f in tmp_path.iterdir()] == ["dist"]


def test_another_version_has_other_names_but_the_same_runtime(
    files: dict[str, bytes], newer: tuple[Path, str]
) -> None:
    made = contents(newer[0])
    ours, runtime = ({n for n in files if n.startswith(kind)} for kind in ("a-", "py-"))
    assert ours
    assert not ours & made.keys()
    assert runtime == {n for n in made if n.startswith("py-")}
    assert files["sw.js"] != made["sw.js"]


def test_it_is_small(files: dict[str, bytes]) -> None:
    assert sum(map(len, files.values())) < 19 * MEGABYTE
    ours = [n for n in files if re.fullmatch(r"index\.html|a-\w+/.*\.(js|css)", n)]
    assert len(ours) >= 3
    # As a host sends them. Every form stands in the page with its answer, and they are much alike.
    assert sum(len(gzip.compress(files[name], 9)) for name in ours) < 200 * KILOBYTE
    assert sum(len(files[name]) for name in ours) < 750 * KILOBYTE


def test_links_are_relative_and_lead_somewhere(html: dict[str, Links], files) -> None:
    for name, page in html.items():
        for address in page.addresses:
            parts = urlsplit(address)
            if parts.scheme == "data":
                continue
            assert not parts.scheme, f"{name} points outside: {address}"
            assert not parts.netloc, f"{name} points outside: {address}"
            assert not address.startswith("/"), f"{name} assumes the root of a host: {address}"
            target = urljoin(name, parts.path) if parts.path else name
            assert target.removesuffix("/") in ("", ".") or target in files, f"{name}: {address}"


def test_every_page_carries_the_policy_and_keeps_to_it(html: dict[str, Links]) -> None:
    assert "index.html" in html
    for name, page in html.items():
        assert page.policy == CSP, name
        assert page.forbidden == [], name


def test_the_service_worker_keeps_every_file(files: dict[str, bytes]) -> None:
    head = files["sw.js"].decode().partition(";\nimportScripts(")[0]
    kept = json.loads(head.removeprefix("const FILES = "))
    own = {n for n in files if n == "sw.js" or n.startswith("wb-")} | hosts.files().keys()
    assert {entry["url"] for entry in kept} == files.keys() - own
    assert {entry["url"]: entry["size"] for entry in kept}["index.html"] == len(files["index.html"])
    first = {entry["url"] for entry in kept if entry["first"]}
    assert {"index.html", "index.de.html"} < first and "guides/words.html" not in first
    assert {name.rpartition("/")[2] for name in files.keys() - first} >= {
        "image.packed",
        "icon.svg",
    }
    assert {name for name in files if name.startswith("py-")} < first


def test_the_manifest_names_icons_of_the_right_size(files: dict[str, bytes]) -> None:
    icons = json.loads(files["manifest.webmanifest"])["icons"]
    pictures = [icon for icon in icons if icon["type"] == "image/png"]
    for icon in pictures:
        # PNG (ISO/IEC 15948), clause 11.2.2: width and height follow the first chunk's name.
        width, height = struct.unpack(">II", files[icon["src"]][16:24])
        assert icon["sizes"] == f"{width}x{height}"
    assert {"192x192", "512x512"} <= {icon["sizes"] for icon in pictures}
    assert "maskable" in {icon["purpose"] for icon in pictures}
    assert all(icon["src"] in files for icon in icons)


@pytest.mark.parametrize("size", [180, 192, 512])
def test_the_icons_are_the_drawing(browser: Browser, size: int) -> None:
    """To renew one after a change of icon.svg: save what this compares with (see DEVELOPERS.md)."""
    static = ROOT / "site_src" / "static"
    compare = """async ([svg, png, size]) => {
      const pixels = async (address) => {
        const image = new Image(size, size);
        image.src = address;
        await image.decode();
        const canvas = new OffscreenCanvas(size, size).getContext("2d");
        canvas.drawImage(image, 0, 0, size, size);
        return canvas.getImageData(0, 0, size, size).data;
      };
      const [a, b] = [await pixels(svg), await pixels(png)];
      return a.reduce((sum, value, i) => sum + Math.abs(value - b[i]), 0) / a.length;
    }"""
    with visiting(browser) as context:
        page = context.new_page()
        addresses = [data_address(static / n) for n in ("icon.svg", f"icon-{size}.png")]
        mean_difference = page.evaluate(compare, [*addresses, size])
    assert mean_difference < 1  # of 255: the edges only


def data_address(file: Path) -> str:
    """The file as a data: address, so that a blank page may look at it."""
    kind = {".svg": "image/svg+xml", ".png": "image/png"}[file.suffix]
    return f"data:{kind};base64,{base64.b64encode(file.read_bytes()).decode()}"


def test_the_archive_is_all_that_the_browser_needs(dist: Path, tmp_path: Path) -> None:
    """Unpacked, it answers in a Python without any installed package."""
    (archive,) = dist.glob("a-*/app.zip.packed")
    zipfile.ZipFile(io.BytesIO(unpacked(archive.read_bytes()))).extractall(tmp_path)
    script = "import sys; sys.path.insert(0, '.'); import site_src.live.worker"
    command = [sys.executable, "-I", "-S", "-c", script]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_the_archive_holds_nothing_else(files: dict[str, bytes]) -> None:
    (name,) = (n for n in files if n.endswith("/app.zip.packed"))
    archive = zipfile.ZipFile(io.BytesIO(unpacked(files[name])))
    names = archive.namelist()
    assert names == sorted(names)
    tops = {n.partition("/")[0].removesuffix(".py") for n in names}
    assert tops == {"calc", "site_src", *BUNDLED}
    rooms = {n.split("/")[1] for n in names if n.startswith("site_src/")}
    assert rooms == {"__init__.py", *ROOMS}
    assert not [n for n in names if n.endswith((".pyc", ".so", ".pyi", ".c"))]


def test_an_unknown_asset_is_an_error(dist: Path) -> None:
    info = BuildInfo("v", "d", {"shell.js": "a-v/shell.js"}, ())
    assert info.asset("shell.js") == "a-v/shell.js"
    with pytest.raises(LookupError, match=r"no asset named shel\.js"):
        info.asset("shel.js")


def test_every_bundled_thing_brings_its_licence() -> None:
    held = {licence.name: licence for licence in licences(npm_packages())}
    ours = ("Emscripten", "Jinja2", "MarkupSafe", "qrcodegen", "Workbox", "idb", "fzstd")
    assert held.keys() == {"Pyodide", "CPython", *ours, *(known.name for known in KNOWN)}
    assert held["zlib"].version == "1.3.1"  # as the module itself says
    assert "Mozilla Public License Version 2.0" in held["Pyodide"].text
    assert "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2" in held["CPython"].text
    for name in ours:
        assert "Copyright" in held[name].text
    pins = json.loads((PINS / "package.json").read_text())["devDependencies"]
    assert held["Pyodide"].version == pins["pyodide"]
    assert f"jinja2=={held['Jinja2'].version}" in declared("build")


def test_what_was_changed_is_said_on_the_page(files: dict[str, bytes]) -> None:
    """The runtime is trimmed, as test_image.py sees; all else is as its makers have it."""
    changed = [licence for licence in licences(npm_packages()) if licence.changed]
    assert [licence.name for licence in changed] == ["Pyodide"]
    page = unescape(files["licences.html"].decode())
    assert changed[0].changed in page
    assert "unchanged" not in page


# As the schema of CycloneDX 1.6 has them: what must be there, and what may be.
OF_LIST = {"bomFormat", "specVersion"}, {"version", "metadata", "components"}
OF_COMPONENT = {"type", "name"}, {"bom-ref", "version", "licenses", "purl", "pedigree"}
PURL = re.compile(r"pkg:(npm|pypi)/[a-z0-9-]+@\d[\w.]*(#[a-z0-9-]+)?")


def fits(told: dict[str, Any], keys: tuple[set[str], set[str]]) -> bool:
    must, may = keys
    return must <= told.keys() <= must | may


def test_the_list_for_machines_is_that_of_the_page(files: dict[str, bytes]) -> None:
    told = json.loads(files[BOM])
    carried = licences(npm_packages())
    (scripts,) = {name.split("/")[0] for name in files if name.startswith("a-")}
    assert fits(told, OF_LIST)
    assert (told["bomFormat"], told["specVersion"]) == ("CycloneDX", "1.6")
    assert told["metadata"]["component"]["version"] == scripts.removeprefix("a-")
    components = told["components"]
    assert all(fits(one, OF_COMPONENT) and PURL.fullmatch(one["purl"]) for one in components)
    assert len({one["bom-ref"] for one in components}) == len(components)
    listed = [
        (c["name"], c.get("version", ""), *c["licenses"][0]["license"].values()) for c in components
    ]
    assert listed == [licence[:3] for licence in carried]
    noted = {c["name"] for c in components if "pedigree" in c}
    assert noted == {licence.name for licence in carried if licence.changed}


LOCKS = {"build": (), "test": ("test",), "npm": ("npm",), "grammar": ("grammar",)}
PINNED = re.compile(r"([\w-]+)==([\w.]+)(?: ; [^\\]+)? \\")


def declared(name: str) -> set[str]:
    """The pins in pyproject.toml that a file of pins is made from."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    more = (project["optional-dependencies"][extra] for extra in LOCKS[name])
    return {*project["dependencies"], *(pin for pins in more for pin in pins)}


@pytest.mark.parametrize("name", LOCKS)
def test_each_package_is_pinned_with_the_hashes_of_its_files(name: str) -> None:
    lines = (PINS / "pins" / f"{name}.txt").read_text("utf-8").splitlines()
    held: dict[str, list[str]] = {}
    for line in lines:
        if match := PINNED.fullmatch(line):
            hashes = held.setdefault(f"{match[1]}=={match[2]}", [])
        else:
            hashes.append(re.fullmatch(r"    --hash=sha256:([0-9a-f]{64})(?: \\)?", line)[1])
    assert all(held.values())
    assert declared(name) <= held.keys()  # and what those need in turn
    assert (name != "build") or declared(name) == held.keys()


def test_a_file_that_is_not_as_pinned_is_refused(tmp_path: Path) -> None:
    """By pip itself, as the build calls it; nothing is fetched for that."""
    (tmp_path / "one-1.0-py3-none-any.whl").write_bytes(b"not what it was")
    pins = tmp_path / "pins.txt"
    pins.write_text(f"one==1.0 --hash=sha256:{'0' * 64}\n")
    command = [
        sys.executable,
        "-m",
        "pip",
        "install",
        "--dry-run",
        "--require-hashes",
        "--no-index",
    ]
    more = ["--find-links", str(tmp_path), "--requirement", str(pins)]
    done = subprocess.run([*command, *more], capture_output=True, text=True, check=False)
    assert done.returncode
    assert "DO NOT MATCH THE HASHES" in done.stderr


def test_npm_says_why_it_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """A lock that is not of its package, which npm sees before it fetches anything."""
    for pins in NPM_PINS:
        shutil.copy(pins, tmp_path)
    package = json.loads((tmp_path / "package.json").read_text())
    package["devDependencies"]["idb"] = "1.0.0"
    (tmp_path / "package.json").write_text(json.dumps(package))
    monkeypatch.setattr(toolchain, "NPM_PINS", [tmp_path / pins.name for pins in NPM_PINS])
    monkeypatch.setattr(toolchain, "NPM", tmp_path / "npm")
    monkeypatch.setattr(toolchain, "NODE_MODULES", tmp_path / "npm" / "node_modules")
    with pytest.raises(SystemExit, match="the lines above tell why"):
        npm_packages()
    assert "idb" in capfd.readouterr().err


def test_all_that_is_fetched_is_pinned() -> None:
    wanted = json.loads((PINS / "package.json").read_text())["devDependencies"]
    assert all(re.fullmatch(r"\d+\.\d+\.\d+", version) for version in wanted.values())
    assert all(re.fullmatch(r"[\w-]+==[\d.]+", pin) for name in LOCKS for pin in declared(name))
    locked = json.loads((PINS / "package-lock.json").read_text())["packages"]
    packages = [entry for name, entry in locked.items() if name]
    assert all(entry["integrity"].startswith("sha512-") for entry in packages)
    assert not any("resolved" in entry for entry in packages)


def test_what_is_there_is_not_fetched_again(monkeypatch: pytest.MonkeyPatch) -> None:
    npm_packages()
    monkeypatch.setenv("PATH", "")
    assert (npm_packages() / "pyodide").is_dir()
