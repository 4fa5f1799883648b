"""Package from npm for the store: a thin library over the browser's own database."""

from __future__ import annotations

from pathlib import Path

NAME = "idb.js"


def script(packages: Path) -> bytes:
    """The library as the ES module that its authors built."""
    return (packages / "idb" / "build" / "index.js").read_bytes()
