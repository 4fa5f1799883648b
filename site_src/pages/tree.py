"""A page as a tree: read with the HTML parser of the standard library, changed, written again.

Everything that is not changed is written exactly as it was read. The pages are our own, so a tag
that is never closed is an error, not something to guess about.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from html import escape
from html.parser import HTMLParser
from itertools import accumulate

# Elements without an end tag: WHATWG HTML, 13.1.2, "Void elements"; from memory.
_VOID = (
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track",
    "wbr",
)  # fmt: skip


@dataclass(eq=False)
class Element:
    """An element with its tags as they are written. Text among its children is HTML as written,
    doctype and comments included."""

    tag: str
    attributes: dict[str, str | None]
    opening: str
    closing: str = ""
    children: list[Element | str] = field(default_factory=list)

    def __str__(self) -> str:
        return f"{self.opening}{self.inside}{self.closing}"

    @property
    def inside(self) -> str:
        """The HTML between its tags."""
        return "".join(map(str, self.children))

    def get(self, name: str) -> str:
        """The value of an attribute, empty without one."""
        return self.attributes.get(name) or ""

    def set(self, name: str, value: str) -> None:
        """Change or add an attribute of an HTML element (the parser turns the names of SVG
        attributes to lower case)."""
        self.attributes[name] = value
        self.opening = start_tag(self.tag, self.attributes)

    def iter(self, *tags: str) -> Iterator[Element]:
        """The element and all its descendants in document order; only those of `tags`, if any are
        given."""
        if not tags or self.tag in tags:
            yield self
        for child in self.children:
            if isinstance(child, Element):
                yield from child.iter(*tags)

    def the(self, tag: str) -> Element:
        """The only descendant with this tag. Raises LookupError unless there is exactly one."""
        found = list(self.iter(tag))
        if len(found) != 1:
            raise LookupError(f"{len(found)} elements <{tag}>, not one")
        return found[0]


def start_tag(tag: str, attributes: Mapping[str, str | None]) -> str:
    """The source of a start tag."""
    written = [name if value is None else f'{name}="{_quoted(value)}"'
               for name, value in attributes.items()]  # fmt: skip
    return f"<{' '.join([tag, *written])}>"


def _quoted(value: str) -> str:
    return escape(value, quote=False).replace('"', "&quot;")


def read(text: str) -> Element:
    """The tree of a page: a nameless element around everything. Raises ValueError where tags do not
    match."""
    reader = _Reader(text)
    reader.feed(text)
    reader.close()
    return reader.whole()


class _Reader(HTMLParser):
    """Builds the tree from the tags; everything between two tags is text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text
        self._lines = list(accumulate((len(line) + 1 for line in text.split("\n")), initial=0))
        self._done = 0
        self._open = [Element("", {}, "")]

    def whole(self) -> Element:
        if len(self._open) > 1:
            raise ValueError(f"<{self._open[-1].tag}> is never closed")
        self._take_text(len(self._text))
        return self._open[0]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = self._start(tag, attrs)
        if tag not in _VOID:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._start(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        element = self._open[-1]
        if element.tag != tag:
            raise ValueError(f"line {self.getpos()[0]}: </{tag}> does not close <{element.tag}>")
        start = self._take_text(self._place())
        self._done = self._text.index(">", start) + 1
        element.closing = self._text[start : self._done]
        self._open.pop()

    def _start(self, tag: str, attrs: list[tuple[str, str | None]]) -> Element:
        start = self._take_text(self._place())
        opening = self.get_starttag_text() or ""
        self._done = start + len(opening)
        element = Element(tag, dict(attrs), opening)
        self._open[-1].children.append(element)
        return element

    def _place(self) -> int:
        line, column = self.getpos()
        return self._lines[line - 1] + column

    def _take_text(self, end: int) -> int:
        """Add the text since the last tag, up to `end`, which is returned."""
        if end > self._done:
            self._open[-1].children.append(self._text[self._done : end])
        return end
