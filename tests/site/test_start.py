"""How Python comes up: from its image in every engine, the ordinary way when anything is wrong."""

from __future__ import annotations

import contextlib
import json
import re
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from calc.forms.catalogue import FORMS
from site_src.build.packing import packed
from site_src.build.server import Handler, serving
from tests.site import engines
from tests.site.engines import PATIENCE, Chromium, Engine
from tests.site.hands import visiting
from tests.site.hosting import Site

STARTED = """
  const send = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (message, ...more) {
    if (message.runtime) globalThis.started ??= document.readyState;
    send.call(this, message, ...more);
  };
"""
LIVE = "['live', 'failed'].includes(document.documentElement.dataset.engine)"
TOO = pytest.mark.wide("asked in test_offline; what compares the hash is the same in every engine")
SAFE = "document.documentElement.dataset.offline === 'safe'"
BOOT = "return document.documentElement.dataset.boot"
SPOIL_ON_DEVICE = """
  return (async () => {
    for (const name of await caches.keys()) {
      const cache = await caches.open(name);
      for (const request of await cache.keys()) {
        if (!request.url.endsWith("/image.packed")) continue;
        const kept = await cache.match(request);
        const content = new Uint8Array(await kept.arrayBuffer());
        content[content.length >> 1] ^= 1;
        await cache.put(request, new Response(content, { headers: kept.headers }));
        return true;
      }
    }
    return false;
  })()
"""


class Someone:
    """Somebody with one engine: each visit is a new start of the browser, if it can be one."""

    def __init__(self, name: str, browser: Browser, profile: Path) -> None:
        self.name, self.profile = name, profile
        self.stack = contextlib.ExitStack()
        self.context = browser.new_context() if name == "Chromium" else None
        self.now: Engine | None = None

    def visit(self, address: str) -> Engine:
        """Open the site and wait until it answers."""
        if self.context:
            self.now = Chromium(self.context.new_page())
        elif self.name == "Firefox" or self.now is None:
            self.stack.close()
            start = engines.firefox if self.name == "Firefox" else engines.webkit
            self.now = self.stack.enter_context(start(self.profile))
        else:  # WebKit's driver starts a browser that remembers nothing: the same one, once more
            self.now.open("about:blank")
        self.now.open(address)
        self.now.wait(LIVE)
        return self.now

    def leave(self) -> None:
        """End the browser."""
        self.stack.close()
        if self.context:
            self.context.close()


@pytest.fixture
def someone(name: str, browser: Browser, tmp_path: Path) -> Iterator[Someone]:
    """One visitor with the engine of that name."""
    engines.need(name)
    visitor = Someone(name, browser, tmp_path / "profile")
    yield visitor
    visitor.leave()


@pytest.fixture
def copy(dist: Path, tmp_path: Path) -> Path:
    """The built site in a folder that a test may spoil."""
    return shutil.copytree(dist, tmp_path / "copy")


@pytest.mark.parametrize("name", engines.NEEDED)
def test_every_engine_starts_from_the_image(someone: Someone, own_site) -> None:
    engine = someone.visit(own_site.url)
    assert engine.script(BOOT) == "restored"
    for form in FORMS:
        panel = f"document.getElementById('{form.slug}-answer')"
        engine.script(f"{panel}.innerHTML = ''; location.hash = '{form.slug}'")
        engine.wait(f"{panel}.querySelector('[data-quantity]')")
    engine.script("location.hash = 'sheet'")
    engine.wait("document.getElementById('sheet-paper').textContent.includes('height you want')")
    assert engine.script(BOOT) == "restored"
    engine.wait(SAFE)
    own_site.stop()
    again = someone.visit(own_site.url)
    assert again.script(BOOT) == "restored"
    assert again.script("return document.documentElement.dataset.engine") == "live"
    own_site.start()


def alter(image: Path) -> None:
    """One bit of the content."""
    content = bytearray(image.read_bytes())
    content[len(content) // 2] ^= 1
    image.write_bytes(content)


def truncate(image: Path) -> None:
    image.write_bytes(image.read_bytes()[:-1000])


def of_another_build(image: Path) -> None:
    facts = image.with_suffix(".json")
    told = json.loads(facts.read_text()) | {"runtime": "py-0123456789"}
    facts.write_text(json.dumps(told))


@TOO
@pytest.mark.parametrize("name", engines.NEEDED)
def test_an_altered_image_is_noticed_by_every_engine(
    someone: Someone, own_site, copy: Path
) -> None:
    alter(next(copy.glob("a-*/image.packed")))
    own_site.server.root = copy
    engine = someone.visit(own_site.url)
    assert engine.script(BOOT) == "stock"
    assert engine.script("return document.documentElement.dataset.engine") == "live"


@pytest.mark.parametrize(
    "spoil",
    [
        pytest.param(truncate, marks=pytest.mark.wide("found by its hash, as an altered one is")),
        of_another_build,
        pytest.param(Path.unlink, marks=pytest.mark.wide("asked in test_offline, test_languages")),
    ],
)
def test_a_broken_image_leads_to_the_ordinary_start(
    browser: Browser, own_site, copy: Path, spoil: Callable[[Path], None]
) -> None:
    spoil(next(copy.glob("a-*/image.packed")))
    own_site.server.root = copy
    with visiting(browser, python="within") as context:
        engine = Chromium(context.new_page())
        engine.open(own_site.url)
        engine.wait(LIVE)
        assert engine.script(BOOT) == "stock"
        assert engine.script("return document.documentElement.dataset.engine") == "live"
        assert len([line for line in engine.said if "image" in line and "Python" in line]) == 1


def no_runtime(file: Path) -> None:
    file.write_bytes(packed(b"\0asm of another kind"))


def another_hash(file: Path) -> None:
    content = bytearray(file.read_bytes())
    content[8] ^= 1  # of the hash: all behind it can be unpacked
    file.write_bytes(content)


@pytest.mark.parametrize("spoil", [no_runtime, another_hash])
def test_where_python_cannot_run_the_page_says_so(
    browser: Browser, own_site, copy: Path, spoil: Callable[[Path], None]
) -> None:
    """The demo car's answers stay, and a sentence says what they are."""
    spoil(next(copy.glob("py-*/pyodide.asm.wasm.packed")))
    own_site.server.root = copy
    with visiting(browser, python="within") as context:
        engine = Chromium(context.new_page())
        engine.open(own_site.url)
        engine.wait("document.documentElement.dataset.engine === 'failed'")
        said = engine.script("return document.getElementById('engine-state').textContent")
        assert "did not start" in said


def test_one_bit_altered_on_the_device(owner: Page, same_site: Site) -> None:
    engine = Chromium(owner)
    assert engine.script(BOOT) == "restored"
    assert engine.script(SPOIL_ON_DEVICE)
    same_site.stop()
    engine.open(same_site.url)
    engine.wait(LIVE)
    assert engine.script(BOOT) == "stock"
    assert engine.script("return document.documentElement.dataset.engine") == "live"
    same_site.start()


# In the worker, for one question only: what a runtime does whose stack overflows.
OVERFLOW = """if (question.ask === "csv") {
      const deeper = () => 1 + deeper();
      console.info("asked for its end");
      deeper();
    }
    self.postMessage({ id, reply"""
TWO_QUESTIONS = """
  const { src } = document.querySelector('script[src$="shell.js"]');
  return import(src.replace("shell.js", "ask.js")).then(async (m) => {
    const bad = m.ask({ ask: "csv", entries: [], names: {} }).catch((error) => error);
    const good = m.ask({ ask: "cars", cars: [], current: "" });
    const error = await bad;
    return [error instanceof m.Failure, error.message, typeof (await good).html];
  })
"""


def test_python_that_fails_is_started_anew_and_not_asked_that_again(
    browser: Browser, own_site, copy: Path
) -> None:
    """Its asker gets a sentence, the question behind it its reply, from another Python."""
    worker = next(copy.glob("a-*/worker.js"))
    text = worker.read_text("utf-8")
    assert text.count("self.postMessage({ id, reply") == 1
    worker.write_text(text.replace("self.postMessage({ id, reply", OVERFLOW), "utf-8")
    own_site.server.root = copy
    with visiting(browser, python="within") as context:
        engine = Chromium(context.new_page())
        engine.open(own_site.url)
        engine.wait(LIVE)
        assert engine.script(BOOT) == "restored"
        failed, sentence, replied = engine.script(TWO_QUESTIONS)
        assert failed and sentence.endswith(".") and replied == "string"
        assert engine.script(BOOT) == "stock"
        assert engine.said.count("asked for its end") == 1
        panel = "document.getElementById('oil-blend-answer')"
        engine.script(
            f"{panel}.innerHTML = ''; location.hash = 'sheet'; location.hash = 'oil-blend'"
        )
        engine.wait(f"{panel}.querySelector('[data-quantity]')")


@pytest.mark.parametrize(
    "ranges",
    [True, pytest.param(False, marks=pytest.mark.wide("begins again and skips what it has"))],
)
def test_a_link_that_breaks_off_is_taken_up_where_it_broke(
    browser: Browser, dist: Path, ranges: bool
) -> None:
    """The runtime and the image come in halves, each connection cut after one."""
    asked: list[str] = []

    class Breaking(Handler):
        def do_GET(self) -> None:  # noqa: N802 - the name http.server calls
            if not self.path.endswith(".packed"):
                return super().do_GET()
            content = (dist / self.path.lstrip("/")).read_bytes()
            wanted = self.headers.get("Range", "") if ranges else ""
            asked.append(f"{self.path.rpartition('/')[2]} {self.headers.get('Range', '')}".strip())
            first = int(wanted.removeprefix("bytes=").removesuffix("-") or 0)
            again = any(line.startswith(self.path.rpartition("/")[2]) for line in asked[:-1])
            self.send_response(206 if wanted else 200)
            self.send_header("Content-Length", str(len(content) - first))
            if wanted:
                last = len(content) - 1
                self.send_header("Content-Range", f"bytes {first}-{last}/{len(content)}")
            self.end_headers()
            self.wfile.write(content[first:] if again else content[: len(content) // 2])
            self.wfile.flush()
            if not again:
                time.sleep(2)  # so that what was sent is read before the link breaks
            self.close_connection = True
            return None

    with serving(dist, Breaking) as address, visiting(browser, python="within") as context:
        engine = Chromium(context.new_page())
        engine.open(address + "#oil-blend")
        engine.wait(LIVE)
        assert engine.script("return document.documentElement.dataset.engine") == "live"
        assert engine.script(BOOT) == "restored"
    for name in ("pyodide.asm.wasm.packed", "image.packed"):
        (size,) = {f.stat().st_size for f in dist.rglob(name)}
        first, second = (line for line in asked if line.startswith(name))
        assert first == name
        had = re.fullmatch(rf"{re.escape(name)} bytes=(\d+)-", second)
        assert had and 0 < int(had[1]) <= size // 2


BLEND = {"thin": "333", "thick": "500", "target": "450"}


def blend(engine: Chromium, page: Page) -> None:
    """Somebody's own three numbers, which begin a car of his own, and the answer to them."""
    for name, text in BLEND.items():
        page.locator(f"#oil-blend [name={name}]").fill(text)
    engine.wait("document.getElementById('engine-state').textContent === 'Car: My car.'")
    asked = "JSON.parse(globalThis.early.answered?.question ?? '{}')"
    engine.wait(f"{asked}.typed?.target === '450' && {asked}.car")
    engine.wait("!document.querySelector('#oil-blend-answer .coming')")


def test_the_last_answer_is_there_before_python(browser: Browser, own_site) -> None:
    with visiting(browser, python="within") as context:
        page = context.new_page()
        engine = Chromium(page)
        engine.open(own_site.url + "#oil-blend")
        engine.wait(LIVE)
        share = page.locator("#oil-blend-answer [data-quantity]").first
        before = share.get_attribute("data-value")
        blend(engine, page)
        engine.wait(
            "document.querySelector('#oil-blend-answer [data-quantity]').dataset.value"
            f" !== '{before}'"
        )
        seen = share.get_attribute("data-value")
        # What a device does when another app comes to the front.
        engine.script(
            "Object.defineProperty(document, 'hidden', {value: true});"
            "dispatchEvent(new Event('visibilitychange'))"
        )
        told = engine.script("return JSON.parse(localStorage['damper-bench-last']).question")
        assert json.loads(told)["typed"] == BLEND
        page.route("**/worker.js", lambda route: None)  # Python never comes up
        engine.open("about:blank")
        page.goto(own_site.url, wait_until="commit")
        mark = page.locator("#oil-blend-answer .from-last-time")
        expect(mark).to_be_visible()
        assert share.get_attribute("data-value") == seen


def test_it_does_not_wait_for_the_page_it_belongs_to(browser: Browser, dist: Path) -> None:
    """The first half of the page is enough; when its own place is there, it goes there."""
    form = FORMS[-1].slug
    text = (dist / "index.html").read_text("utf-8")
    kept = {
        "made": re.findall('data-made="([^"]*)"', text)[0],
        "lang": "en",
        "page": form,
        "address": "",
        "title": "Kept title",
        "html": "<p>Kept answer</p>",
    }
    whole = threading.Event()

    class Halting(Handler):
        def do_GET(self) -> None:  # noqa: N802 - the name http.server calls
            if self.path != "/":
                return super().do_GET()
            before, after = text.encode().split(b'data-page="all"', 1)
            self.found = True
            self.send_response(200)
            self.send_header("Content-Type", "text/html; charset=utf-8")
            self.end_headers()
            self.wfile.write(before + b'data-page="all"' + after[: len(after) // 9])
            self.wfile.flush()
            whole.wait(PATIENCE)
            return self.wfile.write(after[len(after) // 9 :])

    with serving(dist, Halting) as address, visiting(browser, python="within") as context:
        page = context.new_page()
        page.goto(f"{address}licences.html")
        page.evaluate("kept => localStorage['damper-bench-last'] = JSON.stringify(kept)", kept)
        page.route("**/worker.js", lambda route: None)  # Python never comes up
        page.goto(f"{address}#{form}", wait_until="commit")
        alone = page.locator("main > .page:not([data-page])")
        expect(alone.locator(".answer")).to_contain_text("Kept answer")
        expect(alone.locator("h2")).to_have_text("Kept title")
        assert page.locator("[data-page]:visible").count() == 0
        whole.set()
        expect(page.locator(f"#{form}-answer")).to_contain_text("Kept answer")
        expect(alone).to_have_count(0)
        expect(page.locator("[data-page]:visible")).to_have_count(1)


@pytest.mark.parametrize(("address", "then"), [("#oil-blend", "loading"), ("", "complete")])
def test_python_waits_only_where_nothing_is_asked(
    browser: Browser, own_site, address: str, then: str
) -> None:
    """The list of pages comes before it, a form does not."""
    with visiting(browser, python="within") as context:
        page = context.new_page()
        page.add_init_script(STARTED)
        page.goto(own_site.url + address)
        root = page.locator("html")
        expect(root).to_have_attribute("data-engine", "live", timeout=1000 * PATIENCE)
        assert page.evaluate("globalThis.started") == then


def test_python_practises_when_it_comes_from_the_device(owner: Page, same_site: Site) -> None:
    """On the second visit, that is (test_offline has the first)."""
    practised = "localStorage['damper-bench-practised']"
    made = "JSON.stringify(document.documentElement.dataset.made)"
    engine = Chromium(owner)
    engine.script(f"delete {practised}")
    engine.open("about:blank")
    engine.open(same_site.url + "#oil-blend")
    engine.wait(LIVE)
    assert not engine.script(f"return {practised}")
    engine.wait(f"{practised} === {made}")


@pytest.mark.parametrize("still", [True, False], ids=["still", "changed elsewhere since"])
def test_what_was_asked_last_is_asked_first(browser: Browser, own_site, still: bool) -> None:
    """Before the database has spoken; where it says otherwise, that is answered in the end."""
    with visiting(browser, python="within") as context:
        page = context.new_page()
        engine = Chromium(page)
        engine.open(own_site.url + "#oil-blend")
        engine.wait(LIVE)
        share = page.locator("#oil-blend-answer [data-quantity]").first
        blend(engine, page)
        right = share.get_attribute("data-value")
        page.goto(own_site.url + "licences.html")
        if not still:
            engine.script(
                "const last = JSON.parse(localStorage['damper-bench-last']);"
                "last.question = last.question.replace('333', '222');"
                "localStorage['damper-bench-last'] = JSON.stringify(last)"
            )
        engine.open(own_site.url + "#oil-blend")
        engine.wait("document.documentElement.dataset.last")
        engine.wait("globalThis.early.asked !== undefined")
        engine.wait(LIVE)
        assert engine.script("return globalThis.early.asked === ''") == still
        expect(share).to_have_attribute("data-value", right or "")
        expect(page.locator("#oil-blend-answer .from-last-time")).to_have_count(0)
