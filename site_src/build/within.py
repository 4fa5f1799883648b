"""What others wrote that is inside the runtime: in its WebAssembly module and its loader.

Nothing in the package lists it, so each is known by a text that it leaves in the file; where that
says a release, so does the list. Terms are in licences/.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from site_src.pages.info import Licence

TEXTS = Path(__file__).parent / "licences"
MODULE, CALLER = "pyodide.asm.wasm", "pyodide.mjs"


class Known(NamedTuple):
    """A pattern in a file of the package; its group, if it has one, is the release."""

    name: str
    licence_name: str
    text: str
    pattern: bytes
    file: str = MODULE


KNOWN = (
    Known("zlib", "Zlib", "zlib", rb"deflate ([\d.]+) Copyright"),
    Known("bzip2", "bzip2-1.0.6", "bzip2", rb"bzip2/libbzip2"),
    Known("liblzma", "LicenseRef-public-domain", "xz", rb"\xfd7zXZ"),
    Known("Zstandard", "BSD-3-Clause", "zstd", rb"ZSTD_"),
    Known("SQLite", "blessing", "sqlite", rb"SQLite format 3"),
    Known("Expat", "MIT", "expat", rb"expat_([\d.]+)"),
    Known("libmpdec", "BSD-2-Clause", "libmpdec", rb"mpd_"),
    Known("HACL*", "MIT", "hacl", rb"Hacl"),
    Known("Mersenne Twister", "BSD-3-Clause", "mersenne-twister", rb"PyInit__random"),
    Known("dtoa", "dtoa", "dtoa", rb"PyOS_string_to_double"),
    Known("musl", "MIT", "musl", rb"Wrong medium type"),
    Known("error-stack-parser", "MIT", "error-stack-parser", rb"ErrorStackParser", CALLER),
)


def found(package: Path, address: str) -> Iterator[Licence]:
    """Terms of what is in the files of the package that has this address."""
    files: Mapping[str, bytes] = {name: (package / name).read_bytes() for name in (MODULE, CALLER)}
    for known in KNOWN:
        if match := re.search(known.pattern, files[known.file]):
            release = match[1].decode().rstrip(".") if match.re.groups else ""
            text = (TEXTS / f"{known.text}.txt").read_text("utf-8")
            inside = f"{address}#{known.text}"
            yield Licence(known.name, release, known.licence_name, text, inside)
