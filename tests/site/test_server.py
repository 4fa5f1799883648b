"""The server for this machine behaves as a careful static host would."""

from __future__ import annotations

import gzip
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from site_src.build.hosts import HEADERS, POLICY
from site_src.build.server import SiteServer, serving


def test_the_server_is_a_careful_host(dist: Path, site) -> None:
    (wasm,) = dist.glob("py-*/pyodide.asm.wasm.packed")
    for path, kind, keep in (
        ("", "text/html; charset=utf-8", "no-store"),
        ("sw.js", "text/javascript; charset=utf-8", "no-store"),
        (wasm.relative_to(dist).as_posix(), "application/octet-stream", "immutable"),
    ):
        with urllib.request.urlopen(site.url + path) as response:
            assert response.headers["Content-Type"] == kind
            assert {name: response.headers[name] for name in HEADERS} == HEADERS
            assert keep in response.headers["Cache-Control"]


def test_text_goes_compressed_to_who_can_read_that(dist: Path) -> None:
    with serving(dist) as address:
        for path in ("", "index.html", "sw.js", "manifest.webmanifest"):
            content = (dist / (path or "index.html")).read_bytes()
            asked = urllib.request.Request(address + path, headers={"Accept-Encoding": "br, gzip"})
            with urllib.request.urlopen(asked) as response:
                sent = response.read()
                assert response.headers["Content-Encoding"] == "gzip"
                assert response.headers["Content-Security-Policy"] == POLICY
                assert len(sent) < len(content)
                assert gzip.decompress(sent) == content
            with urllib.request.urlopen(address + path) as response:
                assert response.headers["Content-Encoding"] is None
                assert response.read() == content


@pytest.mark.parametrize("path", ["nothing", "../../../../etc/passwd", "../pyproject.toml"])
def test_the_server_gives_nothing_else(site, path: str) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404") as failure:
        urllib.request.urlopen(site.url + path)
    assert failure.value.headers["Cache-Control"] == "no-store"
    failure.value.close()


def test_the_server_lists_no_folder(dist: Path, site) -> None:
    (folder,) = dist.glob("py-*")
    with pytest.raises(urllib.error.HTTPError, match="404") as failure:
        urllib.request.urlopen(f"{site.url}{folder.name}/")
    failure.value.close()


def test_the_server_is_on_loopback_only(dist: Path) -> None:
    with SiteServer(dist) as server:
        assert server.server_address[0] == "127.0.0.1"
