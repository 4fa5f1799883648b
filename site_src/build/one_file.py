"""The whole site in one HTML file that works from any folder, stick or mail, with no server.

The same pages of one language, scripts and parts; only their addresses are made while the page
loads. A browser allows such a file no service worker, and may forget entries at any time.

The pages are read as trees (site_src.pages.tree) and put together. An attribute that changes here
makes its start tag be written again, with the same attributes in the same order.
"""

from __future__ import annotations

import base64
import gzip
import json
import re
from collections.abc import Callable, Mapping
from graphlib import TopologicalSorter
from posixpath import dirname, join, normpath

from calc import language
from calc.language import ENGLISH
from site_src.build.assemble import STATIC
from site_src.build.packing import NAME, SUFFIX
from site_src.pages import tree
from site_src.pages.languages import path_in
from site_src.pages.pictured import FOLDER as DRAWINGS
from site_src.pages.tree import Element

NAMES = {code: path_in("one-file.html", code) for code in language.NAMES}
CSP = "; ".join(
    (
        "default-src 'none'",
        "script-src 'unsafe-inline' 'wasm-unsafe-eval' blob:",
        "style-src 'unsafe-inline'",
        "img-src data: blob:",
        "connect-src data: blob:",
        "worker-src blob:",
        "base-uri 'none'",
        "form-action 'none'",
    )
)
# Our scripts that are not modules, and the service worker.
PLAIN = ("head.js", "language.js", "look.js", "sw.js")
# Scripts of the runtime: they are compressed for this file alone.
SCRIPTS = (NAME, "pyodide.js", "pyodide.asm.js")
PARTS = (f"app.zip{SUFFIX}", "image.json", f"image{SUFFIX}", f"pyodide.asm.wasm{SUFFIX}")
MORE_PARTS = (f"python_stdlib.zip{SUFFIX}", "pyodide-lock.json")
# Code that works on a site only: its script, the code, its replacement here.
CHANGES = (("offline.js", 'new URL("../sw.js", import.meta.url)', '""'),)
# The worker makes the addresses of its parts itself: in one browser the worker of a file cannot
# open an address that its page has made.
IN_WORKER = """
self.parts = {};
addEventListener("message", (event) => {
  if (!event.data.blobs) return;
  event.stopImmediatePropagation();
  for (const [name, blob] of Object.entries(event.data.blobs)) {
    self.parts[name] = URL.createObjectURL(blob);
  }
});
"""
# How one of our modules loads another; a type in a comment only names it.
LOADS = re.compile(r'(from |import |import\()"\.\/([\w.-]+)"(?!\)\.)')
BEGIN = """\
(async () => {
  const script = (text) => URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  const blobs = {};
  for (const element of document.querySelectorAll("script[data-part]")) {
    const { part, gzip } = element.dataset;
    const { body } = await fetch("data:text/javascript;base64," + element.textContent);
    const content = gzip ? body.pipeThrough(new DecompressionStream("gzip")) : body;
    const headers = { "Content-Type": "text/javascript" };
    blobs[part] = await new Response(content, { headers }).blob();
    element.remove();
  }
  const modules = JSON.parse(document.getElementById("modules").textContent);
  const workerAddress = script(modules["worker.js"]);
  delete modules["worker.js"];
  globalThis.launchAlone = () => {
    const worker = new Worker(workerAddress);
    worker.postMessage({ blobs });
    return worker;
  };
  const made = {};
  for (const [name, text] of Object.entries(modules)) {
    made[name] = script(text.replace(/%s/g, (_, how, other) => how + '"' + made[other] + '"'));
  }
  await import(made["early.js"]);
  import(made["shell.js"]);
})();
"""


def one_file(files: Mapping[str, bytes], code: str = ENGLISH) -> bytes:
    """The site, path -> content, as one page in a language. It may be in the other folder of the
    same name."""
    by_name = {path.rpartition("/")[2]: content for path, content in files.items()}
    others = _others(files, code)
    start = path_in("index.html", code)
    names = {start: "", **others}
    page = tree.read(files[start].decode())
    head, body, main = page.the("head"), page.the("body"), page.the("main")
    styles = [_style(link, files) for link in page.iter("link") if link.get("rel") == "stylesheet"]
    (said,) = (one.get("data-said") for one in head.iter("script") if one.get("data-said"))
    _drop(page, _is_left_out)
    _lead_inside(page, start, names)
    for path in others:
        main.children += [_section(files[path].decode(), path, names), "\n"]
    for image in page.iter("img"):
        if image.get("src").startswith(f"{DRAWINGS}/"):
            image.set("src", _inside(files[image.get("src")]))
    page.the("html").set("data-alone", "yes")
    (policy,) = (m for m in page.iter("meta") if m.get("http-equiv") == "Content-Security-Policy")
    policy.set("content", CSP)
    head.children += [_script(by_name["look.js"].decode()), *styles]
    words = () if code == ENGLISH else (code + SUFFIX,)
    body.children += [
        _script(_head("last.js"), {"data-said": said}),
        _parts(by_name, words),
        _modules(by_name),
        _script(BEGIN % LOADS.pattern),
    ]
    return str(page).encode()


def _others(files: Mapping[str, bytes], code: str) -> dict[str, str]:
    """All other pages of a language: path -> their name, without the language."""
    found = {}
    for path in sorted(files):
        plain, _, language = path.removesuffix(".html").partition(".")
        if path.endswith(".html") and (language or ENGLISH) == code and plain != "index":
            found[path] = plain.replace("/", "-")
    return found


def _is_left_out(element: Element) -> bool:
    """Whether the file has no use for it: references to files, which are inlined, and links to
    other languages."""
    return (
        element.tag == "link"
        or (element.tag == "script" and "src" in element.attributes)
        or "languages" in element.get("class").split()
    )


def _drop(page: Element, unwanted: Callable[[Element], bool]) -> None:
    """Remove elements from a page, with the line end behind each."""
    for element in page.iter():
        kept: list[Element | str] = []
        dropped = False
        for child in element.children:
            if isinstance(child, str):
                kept.append(child.removeprefix("\n") if dropped else child)
                dropped = False
            elif not (dropped := unwanted(child)):
                kept.append(child)
        element.children = kept


def _lead_inside(element: Element, path: str, names: Mapping[str, str]) -> None:
    """Turn links from the page at `path` to other pages into links within this file. Raises
    LookupError for a link to a page that is not in it."""
    for link in element.iter("a"):
        page, _, place = link.get("href").partition("#")
        if page:
            name = names[normpath(join(dirname(path), page))]
            link.set("href", "#" + "#".join(filter(None, (name, place))))


def _section(text: str, path: str, names: Mapping[str, str]) -> Element:
    """The content of another page as a page of the one page."""
    main, name = tree.read(text).the("main"), names[path]
    _lead_inside(main, path, names)
    main.set("class", f"page {main.get('class')}")
    attributes: dict[str, str | None] = {**main.attributes, "data-page": name, "id": name}
    opening = tree.start_tag("section", attributes)
    return Element("section", attributes, opening, "</section>", main.children)


def _style(link: Element, files: Mapping[str, bytes]) -> str:
    media = {"media": link.get("media")} if "media" in link.attributes else {}
    return f"{tree.start_tag('style', media)}\n{files[link.get('href')].decode()}</style>\n"


def _script(text: str, attributes: Mapping[str, str | None] | None = None) -> str:
    return f"{tree.start_tag('script', attributes or {})}\n{text}</script>\n"


def _head(name: str) -> str:
    """A script that the site's pages have in their head, among others."""
    return (STATIC / "head" / name).read_text("utf-8")


def _inside(picture: bytes) -> str:
    """A picture as a data: address."""
    return f"data:image/svg+xml;base64,{base64.b64encode(picture).decode()}"


def _parts(by_name: Mapping[str, bytes], words: tuple[str, ...]) -> str:
    """Each part of the runtime and the application as text; the dictionaries of `words` too."""
    lines = []
    for name in (*SCRIPTS, *PARTS, *MORE_PARTS, *words):
        if name not in by_name:
            continue  # a build without an image
        content = gzip.compress(by_name[name], mtime=0) if name in SCRIPTS else by_name[name]
        flag = " data-gzip=yes" if name in SCRIPTS else ""
        text = base64.b64encode(content).decode()
        lines.append(f'<script type="text/plain" data-part="{name}"{flag}>{text}</script>\n')
    return "".join(lines)


def _modules(by_name: Mapping[str, bytes]) -> str:
    """Our scripts as one JSON object, with the changes they need here, each behind those that it
    loads. Raises graphlib.CycleError where some load each other."""
    texts = {
        name: content.decode()
        for name, content in by_name.items()
        if name.endswith(".js") and name not in (*SCRIPTS, *PLAIN)
        if not name.startswith("wb-")
    }
    for name, before, after in CHANGES:
        if texts[name].count(before) != 1:
            raise LookupError(f"{name} no longer says {before}")
        texts[name] = texts[name].replace(before, after)
    texts["worker.js"] = IN_WORKER + texts["worker.js"]
    texts["early.js"] = _head("early.js")
    loads = {name: [other for _, other in LOADS.findall(text)] for name, text in texts.items()}
    ordered = {name: texts[name] for name in TopologicalSorter(loads).static_order()}
    text = json.dumps(ordered).replace("<", "\\u003c")
    return f'<script type="application/json" id="modules">{text}</script>\n'
