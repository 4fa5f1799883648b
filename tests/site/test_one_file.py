"""The edition that is one file, opened from disk where nothing else is."""

from __future__ import annotations

import re
from graphlib import CycleError
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from calc.forms.catalogue import FORMS
from calc.language import ENGLISH
from site_src.build.one_file import NAMES, one_file
from tests.site import engines
from tests.site.hands import visiting

LIVE = "document.documentElement.dataset.engine === 'live'"


def written(dist: Path, folder: Path, code: str) -> str:
    """Address of the file in a language, alone in a folder."""
    files = {f.relative_to(dist).as_posix(): f.read_bytes() for f in dist.rglob("*") if f.is_file()}
    path = folder / NAMES[code]
    path.write_bytes(one_file(files, code))
    return path.as_uri()


@pytest.fixture(scope="module")
def address(dist: Path, tmp_path_factory: pytest.TempPathFactory) -> str:
    return written(dist, tmp_path_factory.mktemp("one"), ENGLISH)


def test_every_form_answers_from_the_file(browser: Browser, address: str) -> None:
    asked: list[str] = []
    with visiting(browser, python="within") as context:
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.goto(address)
        html = page.locator("html")
        expect(html).to_have_attribute("data-engine", "live")
        assert html.get_attribute("data-boot") == "restored"
        for form in FORMS:
            panel = page.locator(f"#{form.slug}-answer")
            panel.evaluate("(panel) => (panel.innerHTML = '')")
            page.evaluate(f"location.hash = '{form.slug}'")
            expect(panel.locator("[data-quantity]").first).to_be_attached()
        for name in ("guides-safety", "licences"):
            page.evaluate(f"location.hash = '{name}'")
            expect(page.locator(f"#{name} h1")).to_be_visible()
        expect(page.locator("#offline-state")).to_contain_text("this one file")
    assert not [url for url in asked if not url.startswith(("file:", "blob:", "data:"))]


def test_it_speaks_another_language(browser: Browser, dist: Path, tmp_path: Path) -> None:
    with visiting(browser, python="within") as context:
        page = context.new_page()
        page.goto(written(dist, tmp_path, "de") + "#oil-blend")
        html = page.locator("html")
        expect(html).to_have_attribute("data-engine", "live")
        expect(html).to_have_attribute("data-boot", "restored")
        expect(page.locator("#offline-state")).to_contain_text("in dieser einen Datei")
        expect(page.locator("#oil-blend-answer .step").first).to_contain_text("Mischen: ")
        page.evaluate("location.hash = 'guides-safety'")
        expect(page.locator("#guides-safety h1")).to_have_text("Sicherheit")


def test_firefox_opens_it_too(tmp_path: Path, address: str) -> None:
    engines.need("Firefox")
    with engines.firefox(tmp_path / "profile") as engine:
        engine.open(address)
        engine.wait(LIVE)
        assert engine.script("return document.documentElement.dataset.boot") == "restored"


def test_what_is_no_longer_there_is_said(dist: Path) -> None:
    files = {f.relative_to(dist).as_posix(): f.read_bytes() for f in dist.rglob("*") if f.is_file()}
    (script,) = (name for name in files if name.endswith("/offline.js"))
    with pytest.raises(LookupError, match=r"offline\.js no longer says"):
        one_file({**files, script: b"// nothing"})
    # Two scripts that load each other cannot be given addresses one after the other.
    (script,) = (name for name in files if name.endswith("/words.js"))
    with pytest.raises(CycleError, match=r"words\.js"):
        one_file({**files, script: b'import "./shell.js";'})


@pytest.mark.parametrize("code", NAMES)
def test_every_page_of_the_site_is_in_it(dist: Path, code: str) -> None:
    """No link leads to a file that is not there: this one is all there is."""
    files = {f.relative_to(dist).as_posix(): f.read_bytes() for f in dist.rglob("*") if f.is_file()}
    page = one_file(files, code).decode()
    for path in files:
        name, _, ending = path.partition(".")
        if ending == "html" and name != "index":
            assert f'data-page="{name.replace("/", "-")}"' in page
    shown = re.sub("<script.*?</script>", "", page, flags=re.DOTALL)
    assert set(re.findall(r' href="#([^"?#]+)', shown)) <= set(re.findall(r' id="([^"]+)"', shown))
    assert re.findall(r'href="(?!#)[^"]*"', page) == []
