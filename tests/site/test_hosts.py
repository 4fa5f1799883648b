"""The files for hosts say the same headers, of the same addresses, as the project's own server."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from site_src.build.hosts import FOR_EVER, HEADERS, POLICY
from site_src.pages.info import CSP


@pytest.fixture(scope="module")
def addresses(dist: Path) -> dict[str, bool]:
    """Address of each file, and whether its name changes with its content."""
    names = (f.relative_to(dist).as_posix() for f in dist.rglob("*") if f.is_file())
    return {f"/{name}": bool(re.match(r"(a|py)-\w{10}/|wb-\w{10}\.", name)) for name in names}


def test_nobody_may_frame_a_page_and_the_rest_is_the_policy_of_the_page() -> None:
    assert POLICY.split("; ") == [*CSP.split("; "), "frame-ancestors 'none'"]


def test_the_file_by_lines(dist: Path, addresses: dict[str, bool]) -> None:
    """A path at the margin, its headers set in; a star at the end stands for the rest."""
    said: dict[str, dict[str, str]] = {}
    for line in (dist / "_headers").read_text().splitlines():
        if line.startswith("/"):
            block = said.setdefault(line, {})
        elif not line.startswith("#"):
            name, _, value = line.strip().partition(": ")
            block[name] = value
    assert said["/*"] == HEADERS
    for address, hashed in addresses.items():
        found = [
            block["Cache-Control"]
            for path, block in said.items()
            if address.startswith(path.removesuffix("*")) and "Cache-Control" in block
        ]
        assert found == ([FOR_EVER] if hashed else []), address


def test_the_file_for_folders(dist: Path, addresses: dict[str, bool]) -> None:
    text = (dist / ".htaccess").read_text()
    assert dict(re.findall(r'Header always set (\S+) "([^"]*)"', text)) == HEADERS
    (pattern,) = re.findall(r'SetEnvIf Request_URI "([^"]*)" named_by_content', text)
    assert f'"{FOR_EVER}" env=named_by_content' in text
    for address, hashed in addresses.items():
        assert bool(re.search(pattern, f"/in/a/folder{address}")) == hashed, address
    assert text.count("<IfModule") == text.count("</IfModule") == 2


def test_the_file_to_include(dist: Path, addresses: dict[str, bool]) -> None:
    text = (dist / "nginx-headers.conf").read_text()
    places = re.findall(r'location (?:~ "([^"]*)"|/) {\n(.*?)\n}', text, re.DOTALL)
    assert len(places) == 2
    for pattern, block in places:
        told = dict(re.findall(r'add_header (\S+) "([^"]*)"', block))
        keep = told.pop("Cache-Control")
        assert told == HEADERS
        assert (keep == FOR_EVER) == bool(pattern)
        for address, hashed in addresses.items():
            assert not pattern or bool(re.search(pattern, address)) == hashed, address
