"""The application archive: all the Python that runs in the browser, in one zip."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from importlib.util import find_spec
from pathlib import Path

# Pure Python, so that the files that render the pages at build time run in the browser too.
BUNDLED = ("jinja2", "markupsafe", "qrcodegen")
# The rooms of site_src whose code runs in the browser; the others make the pages beforehand.
ROOMS = ("both", "live")
# The oldest time a zip can hold: the archive must not change with the clock.
EPOCH = (1980, 1, 1, 0, 0, 0)


def app_files(root: Path) -> dict[str, bytes]:
    """Path in the archive -> content: calc, the rooms of site_src that run in the browser with
    their templates, packages."""
    site = root / "site_src"
    files = [*_sources(root / "calc"), site / "__init__.py"]
    files += [f for room in ROOMS for f in (*_sources(site / room), *(site / room).rglob("*.html"))]
    found = {f.relative_to(root).as_posix(): f.read_bytes() for f in files}
    for package in BUNDLED:
        home, files = _package(package)
        found |= {f.relative_to(home).as_posix(): f.read_bytes() for f in files}
    return found


def pack(files: Mapping[str, bytes]) -> bytes:
    """A zip of these files, stored: on the host it is packed as a whole. The same files give the
    same bytes."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, EPOCH)
            entry.create_system = 3  # Unix, whatever the build runs on
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name])
    return buffer.getvalue()


def _sources(folder: Path) -> list[Path]:
    return [f for f in folder.rglob("*.py") if f.is_file()]


def _package(name: str) -> tuple[Path, list[Path]]:
    """Location and files of an installed package or single module."""
    spec = find_spec(name)
    if spec is None or spec.origin is None:
        raise LookupError(f"the package {name} is not installed")
    origin = Path(spec.origin)
    if spec.submodule_search_locations is None:
        return origin.parent, [origin]
    return origin.parent.parent, _sources(origin.parent)
