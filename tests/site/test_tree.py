"""Pages as trees: nothing is lost in reading and writing, and nothing is cut with patterns."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from site_src.pages import tree
from site_src.pages.indent import without_indent

SITE = Path(__file__).parents[2] / "site_src"

PAGE = """<!doctype html>
<html lang=en data-alone>
<!-- a <b> in a comment --><head><script>if (a < b && "</p>") {}</script></head>
<body CLASS='x "y"'>A &amp; B &lt; C &nbsp;&#39; \u2028 \x0b ü
<img alt="1 < 2 > 0"><br><input disabled /><svg viewBox="0 0 1 1"><path d="M0 0"/></svg >
</body></html>
"""


def test_a_page_is_written_as_it_was_read() -> None:
    page = tree.read(PAGE)
    assert str(page) == PAGE
    assert page.the("body").get("class") == 'x "y"'
    assert page.the("img").get("alt") == "1 < 2 > 0"
    assert page.the("html").attributes == {"lang": "en", "data-alone": None}
    assert [element.tag for element in page.iter()] == [
        "", "html", "head", "script", "body", "img", "br", "input", "svg", "path",
    ]  # fmt: skip


def test_an_attribute_changes_its_own_tag_and_nothing_else() -> None:
    page = tree.read('<p><a href="x" title=\'"&amp;"\' hidden>one</a> <a href="y">two</a></p>')
    first, _ = page.iter("a")
    first.set("href", 'a"b<c')
    changed = '<a href="a&quot;b&lt;c" title="&quot;&amp;&quot;" hidden>'
    assert str(page) == f'<p>{changed}one</a> <a href="y">two</a></p>'
    again = next(tree.read(str(page)).iter("a"))
    assert again.attributes == first.attributes


@pytest.mark.parametrize("text", ["<p>open", "<p><b>crossed</p></b>", "closed</p>", "<p></p></p>"])
def test_tags_that_do_not_match_are_an_error(text: str) -> None:
    with pytest.raises(ValueError, match=r"</p> does not close|<p> is never closed"):
        tree.read(text)


def test_one_of_a_kind_is_one() -> None:
    page = tree.read("<ul><li>1</li><li>2</li></ul>")
    assert str(page.the("ul")) == "<ul><li>1</li><li>2</li></ul>"
    for tag, count in (("li", 2), ("main", 0)):
        with pytest.raises(LookupError, match=f"{count} elements <{tag}>"):
            page.the(tag)


@pytest.mark.parametrize(
    ("written", "sent"),
    [
        ("<ul>\n  <li>1</li>\n  <li>2 </li>\n</ul>\n", "<ul><li>1</li><li>2</li></ul>\n"),
        ("<p>a  \n   <b>b</b> <i>c</i>\n</p>", "<p>a  \n<b>b</b> <i>c</i></p>"),
        ("<td>\u00a0 </td>", "<td>\u00a0</td>"),
        ("<main><pre>  a\n  </pre>\n</main>", "<main><pre>  a\n  </pre></main>"),
        ("<p><script>\n  a\n  </script></p>", "<p><script>\n  a\n  </script></p>"),
    ],
)
def test_indentation_is_left_out_where_no_browser_shows_it(written: str, sent: str) -> None:
    assert without_indent(written) == sent


# The house: HTML is never cut with patterns.

# What is searched there, which is no HTML.
PATTERNS = {
    "both/ink.py": "plain text, for letters that XML or an id cannot hold",
    "build/one_file.py": "our JavaScript",
    "build/papers.py": "bytes of a PDF",
    "build/trim.py": "JavaScript of the runtime",
    "build/within.py": "bytes of the runtime, for what others wrote in it",
    "pages/charts/nomogram.py": "plain text, for numbers parted from their units",
    "pages/script_texts.py": "our JavaScript",
    "pages/words.py": "plain text of a guide, for words of the glossary",
}
MARKUP = re.compile(r"</?[a-z!]|/>|\b[a-z-]+=[\"']|&\w+;")
CUTTING = {
    "count", "endswith", "find", "index", "lstrip", "partition", "removeprefix", "removesuffix",
    "replace", "rfind", "rindex", "rpartition", "rsplit", "rstrip", "split", "startswith", "strip",
}  # fmt: skip


def test_patterns_are_for_what_is_no_html() -> None:
    sources = {path.relative_to(SITE).as_posix(): path for path in SITE.rglob("*.py")}
    users = {name for name, path in sources.items() if "re" in imports(path.read_text("utf-8"))}
    assert users == PATTERNS.keys()
    cutting = {name: list(cuts(path.read_text("utf-8"))) for name, path in sources.items()}
    assert {name: calls for name, calls in cutting.items() if calls} == {}


def test_cutting_is_found() -> None:
    assert imports("import os, re as r") == {"os", "re"}
    assert imports("from re import sub") == {"re"}
    for line in ('x.replace("</head>", y)', "x.partition('href=\"')", 'f(x.split(f"<{tag} id"))'):
        assert len(list(cuts(line))) == 1
    assert list(cuts('x.replace(" / ", "<b>")\nx.replace("<", "")')) == []


def imports(source: str) -> set[str]:
    """Modules that a source imports."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(node.module or "")
    return found


def cuts(source: str) -> Iterator[str]:
    """Calls that look for markup in a text."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.args:
            texts = [
                part.value
                for part in ast.walk(node.args[0])
                if isinstance(part, ast.Constant) and isinstance(part.value, str)
            ]
            if node.func.attr in CUTTING and MARKUP.search("x".join(texts)):
                yield ast.unparse(node)
