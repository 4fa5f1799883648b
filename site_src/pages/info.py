"""Facts about the build that the pages show or need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

# The policy of every page: a header from our own server, a meta element everywhere.
CSP = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
    )
)


class Licence(NamedTuple):
    """Terms of one thing that the site carries along: their name by SPDX, and their text.

    `address` is where a package is in its index, as a package URL; `changed` what we did to it. The
    version of what is inside another is not always known.
    """

    name: str
    version: str
    licence_name: str
    text: str
    address: str
    changed: str = ""


@dataclass(frozen=True)
class BuildInfo:
    """One build: `version` is a short hash of all its inputs, `date` is YYYY-MM-DD. `pdfs` are the
    paths of the printed pages, where the site has them."""

    version: str
    date: str
    assets: Mapping[str, str]
    licences: tuple[Licence, ...]
    csp: str = CSP
    pdfs: frozenset[str] = frozenset()

    def asset(self, name: str) -> str:
        """Address of a static file, the archive or the runtime, relative to the root of the site.

        Raises LookupError for an unknown name, so that no page can refer to a missing file.
        """
        if name not in self.assets:
            raise LookupError(f"no asset named {name}; there are: {', '.join(sorted(self.assets))}")
        return self.assets[name]
