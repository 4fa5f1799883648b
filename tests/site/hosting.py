"""The built site on loopback: a host that can fail, a network that can really be cut."""

from __future__ import annotations

import base64
import hashlib
import shutil
import sys
import threading
import time
from collections import Counter
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import ClassVar

from site_src.build.assemble import INPUTS, build, source_date
from site_src.build.server import Handler, SiteServer
from site_src.build.toolchain import ROOT, exclusively, npm_packages

BUILT = ROOT / ".cache" / "site"
PAUSES, SHORT_PAUSES = b"const PAUSES = [1000, 3000, 9000];", b"const PAUSES = [10, 30, 90];"
# On a busy machine loopback is judged slow, and Python then starts without its image.
QUICK, PATIENT = b"const QUICK = 1000;", b"const QUICK = 60_000;"
KEPT_BUILDS = 6  # two versions each of three states of the tree


def built(date: str | None = None) -> Path:
    """The site as built from the sources as they are, once for all processes and runs."""
    date = date or source_date()
    out = BUILT / _key(date) / "dist"
    with exclusively("site"):
        if not out.exists():
            old = sorted(BUILT.glob("*/"), key=lambda folder: folder.stat().st_mtime)
            for folder in old[: 1 - KEPT_BUILDS]:
                shutil.rmtree(folder, ignore_errors=True)
            out.parent.mkdir(parents=True, exist_ok=True)
            build(out, npm_packages(), date)
    return out


def _key(date: str) -> str:
    """A name for everything that a build reads."""
    whole = hashlib.sha256(f"{sys.version} {date}".encode())
    for name in INPUTS:
        top = ROOT / name
        for file in [top] if top.is_file() else sorted(top.rglob("*")):
            if file.is_file() and "__pycache__" not in file.parts:
                whole.update(f"{file.relative_to(ROOT)}\0".encode() + file.read_bytes())
    return whole.hexdigest()[:16]


def hurried(folder: Path) -> bytes:
    """The service worker of a built site, which waits less long before it asks again, and takes the
    patient worker for what was built."""
    script = (folder / "sw.js").read_bytes()
    assert script.count(PAUSES) == 1
    (worker,) = folder.glob("a-*/worker.js")
    content = worker.read_bytes()
    script = script.replace(_integrity(content), _integrity(patient(content)))
    return script.replace(PAUSES, SHORT_PAUSES)


def patient(worker: bytes) -> bytes:
    """The worker of Python of a built site, which calls no link slow."""
    assert worker.count(QUICK) == 1
    return worker.replace(QUICK, PATIENT)


def _integrity(content: bytes) -> bytes:
    return base64.b64encode(hashlib.sha256(content).digest())


class FaultyHandler(Handler):
    """Varies its answers, as some hosts do, and lacks what the test says is broken."""

    server: FaultyServer

    def do_GET(self) -> None:  # noqa: N802 - the name http.server calls
        path = self.path.partition("?")[0].lstrip("/")
        self.server.asked.append(path)
        if self.server.answer and path not in self.server.spared:
            status, content = self.server.answer
            self.send_response(status)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content)
        elif path in self.server.instead:
            self.send_whole(*self.server.instead[path])
        elif path.endswith("sw.js") and self.server.hurried:
            self.send_whole(hurried(self.server.root / path.removesuffix("sw.js")), ".js")
        elif (most := self.server.most.get(path.rpartition("/")[2])) is not None:
            self.send_some(path, most)
        elif any(path.endswith(name) for name in self.server.broken):
            self.send_error(404)
        elif path.endswith("/worker.js") and self.server.hurried:
            self.send_whole(patient((self.server.root / path).read_bytes()), ".js")
        else:
            super().do_GET()

    def send_whole(self, content: bytes, ending: str) -> None:
        """As a file with that ending."""
        self.send_response(200)
        self.send_header("Content-Type", self.extensions_map[ending])
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def send_some(self, path: str, most: int) -> None:
        """A file from the place asked for, the connection cut after so many bytes."""
        content = (self.server.root / path).read_bytes()
        wanted = self.headers.get("Range", "bytes=0-").removeprefix("bytes=").removesuffix("-")
        first = int(wanted)
        self.send_response(206 if first else 200)
        self.send_header("Content-Length", str(len(content) - first))
        self.send_header("Content-Range", f"bytes {first}-{len(content) - 1}/{len(content)}")
        self.end_headers()
        self.wfile.write(content[first : first + most])
        self.wfile.flush()
        if first + most < len(content):
            time.sleep(0.5)  # so that what was sent is read before the link breaks
            self.server.cut[path.rpartition("/")[2]] += 1
        self.close_connection = True

    def end_headers(self) -> None:
        self.send_header("Vary", "Accept, Origin")
        super().end_headers()


class FaultyServer(SiteServer):
    """Remembers what was asked for.

    `broken` holds endings of paths that are not found, `instead` what comes for a path, with an
    ending that has its type; `most` how many bytes of a file each connection gives, and `cut` how
    often it has broken off. `answer` is a status and a page in place of everything but the paths
    that are `spared`. `hurried` is the service worker with short pauses between its tries, and the
    worker of Python that calls no link slow.
    """

    def __init__(self, root: Path, port: int) -> None:
        self.broken: set[str] = set()
        self.asked: list[str] = []
        self.answer: tuple[int, bytes] | None = None
        self.spared: set[str] = set()
        self.instead: dict[str, tuple[bytes, str]] = {}
        self.most: dict[str, int] = {}
        self.cut: Counter[str] = Counter()
        self.hurried = True
        super().__init__(root, port, FaultyHandler)


class Site:
    """A served folder. stop() cuts the network; start() brings it back on the same port."""

    def __init__(self, root: Path, port: int = 0) -> None:
        self.server = FaultyServer(root, port)
        serve(self.server)

    @property
    def url(self) -> str:
        return self.server.address

    def stop(self) -> None:
        self.server.shutdown()
        self.server.server_close()

    def start(self) -> None:
        self.server = FaultyServer(self.server.root, self.server.server_port)
        serve(self.server)


def serve(server: HTTPServer) -> None:
    """In a thread; the short poll makes shutdown() quick."""
    threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()


class Outside(BaseHTTPRequestHandler):
    """The proxy between the browser and every host but this: notes who was asked for, refuses."""

    asked: ClassVar[list[str]] = []

    def do_GET(self) -> None:
        self.asked.append(f"{self.command} {self.path}")
        self.send_error(403)

    do_CONNECT = do_POST = do_HEAD = do_GET  # noqa: N815 - the names http.server calls

    def log_message(self, format: str, *args: object) -> None:
        """Nothing to print: the test looks at `asked`."""
