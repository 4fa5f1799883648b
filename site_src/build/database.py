"""Package from npm for the store: a thin library over the browser's own database."""

from __future__ import annotations

import json
from pathlib import Path

from site_src.pages.info import Licence

NAME = "idb.js"


def script(packages: Path) -> bytes:
    """The library as the ES module that its authors built."""
    return (packages / "idb" / "build" / "index.js").read_bytes()


def licence(packages: Path) -> Licence:
    """Its terms."""
    folder = packages / "idb"
    version: str = json.loads((folder / "package.json").read_bytes())["version"]
    text = (folder / "LICENSE").read_text("utf-8")
    return Licence("idb", version, "ISC", text, f"pkg:npm/idb@{version}")
