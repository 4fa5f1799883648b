"""The whole site in one HTML file that works from any folder, stick or mail, with no server.

The same pages of one language, scripts and parts; only their addresses are made while the page
loads. A browser lets no such file have a service worker, and keeps what is typed only for as long
as it likes.
"""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Mapping

from calc import language
from calc.language import ENGLISH
from site_src.build.assemble import STATIC
from site_src.build.runtime import PACKED, packed
from site_src.pages.languages import named

NAMES = {code: named("one-file.html", code) for code in language.NAMES}
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
# Our scripts that are no modules, and the service worker.
PLAIN = ("head.js", "language.js", "look.js", "sw.js")
# Scripts of the runtime: they are packed for this file alone.
SCRIPTS = ("pyodide.js", "pyodide.asm.js")
PARTS = ("app.zip", "image.json", f"image{PACKED}", f"pyodide.asm.wasm{PACKED}")
MORE_PARTS = ("python_stdlib.zip", "pyodide-lock.json")
# What cannot be as it is on a site: in which script, what it says there, what it says here.
CHANGES = (("offline.js", 'new URL("../sw.js", import.meta.url)', '""'),)
# Makes the worker and gives it all parts. It makes their addresses itself: one browser lets no
# worker of a file open an address that its page has made.
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
BEGIN = """
(async () => {
  const script = (text) => URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  const blobs = {};
  for (const element of document.querySelectorAll("script[data-part]")) {
    const { part, packed } = element.dataset;
    const { body } = await fetch("data:text/javascript;base64," + element.textContent);
    const content = packed ? body.pipeThrough(new DecompressionStream("gzip")) : body;
    const headers = { "Content-Type": "text/javascript" };
    blobs[part] = await new Response(content, { headers }).blob();
    element.remove();
  }
  const modules = JSON.parse(document.getElementById("modules").textContent);
  const workerAddress = script(modules["worker.js"]);
  delete modules["worker.js"];
  const launch = () => {
    const worker = new Worker(workerAddress);
    worker.postMessage({ blobs });
    return worker;
  };
  const { lang: language, dataset } = document.documentElement;
  const absolute = (address) => address && new URL(address, document.baseURI).href;
  const addresses = { language };
  for (const name of ["runtime", "app", "image", "words"]) {
    addresses[name] = absolute(dataset[name]);
  }
  const worker = launch();
  const heard = [];
  worker.onmessage = ({ data }) => heard.push(data);
  worker.postMessage(addresses);
  globalThis.early = { addresses, launch, worker, heard, start: () => {} };
  const NEEDED = /(?<=(?:from |import\\()")\\.\\/([\\w.-]+)(?="(?!\\)\\.))/g; // but not of a type
  const made = {};
  while (!made["shell.js"]) {
    for (const [name, text] of Object.entries(modules)) {
      const needs = [...text.matchAll(NEEDED)].map(([, other]) => other);
      if (made[name] || !needs.every((other) => made[other])) continue;
      made[name] = script(text.replace(NEEDED, (_, other) => made[other]));
    }
  }
  import(made["shell.js"]);
})();
"""


def one_file(files: Mapping[str, bytes], code: str = ENGLISH) -> bytes:
    """The site, path -> content, as one page in a language. It may be in the other folder of the
    same name."""
    by_name = {path.rpartition("/")[2]: content for path, content in files.items()}
    page = files[named("index.html", code)].decode()
    said = re.findall(r'data-said="([^"]*)"', page)[0]
    styles = re.findall(r'<link rel="stylesheet" href="([^"]+)"( media="print")?>', page)
    page = re.sub(r"<link [^>]*>\n?", "", page)
    page = re.sub(r'<script[^>]* src="[^"]+"[^>]*></script>\n?', "", page)
    page = re.sub(r"<(nav|p) class=\"languages.*?</\1>\n?", "", page, flags=re.DOTALL)
    page = re.sub(r'(http-equiv="Content-Security-Policy" content=")[^"]*', rf"\g<1>{CSP}", page)
    page = page.replace("<html ", "<html data-alone=yes ", 1)
    page = _with_pages(page, _pages(files, code))
    page = re.sub(
        r'src="(drawings/[^"]+)"', lambda found: f'src="{_inside(files[found[1]])}"', page
    )
    sheets = "".join(f"<style{m}>\n{files[path].decode()}</style>\n" for path, m in styles)
    early = f"<script>\n{by_name['look.js'].decode()}</script>\n"
    page = page.replace("</head>", f"{early}{sheets}</head>", 1)
    last = f'<script data-said="{said}">\n{(STATIC / "last.js").read_text("utf-8")}</script>\n'
    words = () if code == ENGLISH else (code + PACKED,)
    end = f"{last}{_parts(by_name, words)}{_modules(by_name)}"
    return page.replace("</body>", f"{end}<script>{BEGIN}</script>\n</body>", 1).encode()


def _pages(files: Mapping[str, bytes], code: str) -> dict[str, tuple[str, str]]:
    """All other pages of a language: path -> their name, without the language, and their text."""
    found = {}
    for path in sorted(files):
        plain, _, language = path.removesuffix(".html").partition(".")
        if path.endswith(".html") and (language or ENGLISH) == code and plain != "index":
            found[path] = (plain.replace("/", "-"), files[path].decode())
    return found


def _with_pages(page: str, others: Mapping[str, tuple[str, str]]) -> str:
    """All other pages as pages of the one page, and links to them."""
    sections = []
    for path, (name, text) in others.items():
        ((kind, more, body),) = re.findall(
            r'<main class="(\w+)"([^>]*)>(.*)</main>', text, re.DOTALL
        )
        body = re.sub(r'href="(?:\.\./)?index(?:\.\w\w)?\.html#', 'href="#', body)
        folder = "guides-" if path.startswith("guides/") else ""
        body = re.sub(r'href="([\w-]+)(?:\.\w\w)?\.html', rf'href="#{folder}\1', body)
        sections.append(
            f'<section class="page {kind}"{more} data-page="{name}" id="{name}">{body}</section>'
        )
    page = page.replace("</main>", "\n".join([*sections, "</main>"]), 1)
    for path, (name, _) in others.items():
        page = page.replace(f'href="{path}', f'href="#{name}')
    return page


def _inside(picture: bytes) -> str:
    """A picture as an address of its own content."""
    return f"data:image/svg+xml;base64,{base64.b64encode(picture).decode()}"


def _parts(by_name: Mapping[str, bytes], words: tuple[str, ...]) -> str:
    """Each part of the runtime and the application, in text; the dictionaries of `words` too."""
    lines = []
    for name in (*SCRIPTS, *PARTS, *MORE_PARTS, *words):
        if name not in by_name:
            continue  # a build without an image
        content = packed(by_name[name]) if name in SCRIPTS else by_name[name]
        flag = " data-packed=yes" if name in SCRIPTS else ""
        text = base64.b64encode(content).decode()
        lines.append(f'<script type="text/plain" data-part="{name}"{flag}>{text}</script>\n')
    return "".join(lines)


def _modules(by_name: Mapping[str, bytes]) -> str:
    """Our scripts as one JSON object, with the changes they need here."""
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
    text = json.dumps(texts).replace("<", "\\u003c")
    return f'<script type="application/json" id="modules">{text}</script>\n'
