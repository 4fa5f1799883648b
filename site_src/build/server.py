"""A plain server for dist/ on this machine: right types, the policy as a header, nothing stale."""

from __future__ import annotations

import gzip
import io
import socket
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, BinaryIO

from site_src.build.hosts import FOR_EVER, HASHED, HEADERS, TYPES

HOST = "127.0.0.1"
TEXT = "; charset=utf-8"
COMPRESSED = (".html", ".css", ".js", ".json", ".svg", ".webmanifest")


class Handler(SimpleHTTPRequestHandler):
    """Serves the files of `server.root` as a careful static host would."""

    server: SiteServer
    extensions_map = {  # noqa: RUF012 - as the base class has it
        "": "application/octet-stream",
        ".html": "text/html" + TEXT,
        ".css": "text/css" + TEXT,
        ".js": TYPES[".js"] + TEXT,
        ".json": "application/json",
        ".pdf": "application/pdf",
        ".png": "image/png",
        ".svg": "image/svg+xml",
        ".txt": "text/plain" + TEXT,
        ".wasm": "application/wasm",
        ".webmanifest": TYPES[".webmanifest"],
        ".zip": "application/zip",
    }

    def __init__(
        self, request: socket.socket, client_address: tuple[str, int], server: SiteServer
    ) -> None:
        super().__init__(request, client_address, server, directory=str(server.root))

    def send_response(self, code: int, message: str | None = None) -> None:
        """Remember whether there is anything to cache."""
        self.found = code < 400
        super().send_response(code, message)

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Send text compressed, as hosts do."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        taken = "gzip" in self.headers.get("Accept-Encoding", "")
        if not taken or path.suffix not in COMPRESSED or not path.is_file():
            return super().send_head()
        content = _compressed(path, path.stat().st_mtime_ns)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        return io.BytesIO(content)

    def end_headers(self) -> None:
        """Add the policy, and how long a file may be kept: for ever only if its name is hashed."""
        for name, value in HEADERS.items():
            self.send_header(name, value)
        hashed = self.path.startswith(tuple(f"/{name}" for name in HASHED))
        keep = FOR_EVER if hashed and self.found else "no-store"
        self.send_header("Cache-Control", keep)
        super().end_headers()

    def list_directory(self, path: object) -> None:
        """No listings: a folder without a page is not found."""
        self.send_error(404)

    def log_message(self, format: str, *args: object) -> None:
        """Silent; the browser's own tools show requests better."""


@lru_cache(maxsize=500)
def _compressed(path: Path, changed: int) -> bytes:
    """The file, compressed; `changed` is its time of modification in ns, and keys the cache."""
    return gzip.compress(path.read_bytes(), mtime=0)


class SiteServer(ThreadingHTTPServer):
    """Listens on loopback only; `root` may be changed while it runs."""

    def __init__(self, root: Path, port: int = 0, handler: type[Handler] = Handler) -> None:
        self.root = root
        super().__init__((HOST, port), handler)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that leaves before the reply is complete is no error of ours."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)

    @property
    def address(self) -> str:
        """Address of the site, with a slash at the end."""
        return f"http://{HOST}:{self.server_port}/"


@contextmanager
def serving(root: Path, handler: type[Handler] = Handler) -> Iterator[str]:
    """Serve the site in a folder, at the address given, inside of the `with` block."""
    with SiteServer(root, handler=handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield server.address
        finally:
            server.shutdown()
