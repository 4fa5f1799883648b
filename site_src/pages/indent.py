"""Indentation helps the reader of a template; the phone need not load it."""

from site_src.pages import tree

_SPACE = " \t\r\n\f"  # WHATWG Infra, "ASCII whitespace": a no-break space is none
# Between these a browser shows no space.
_BLOCKS = (
    "article", "aside", "caption", "dd", "details", "div", "dl", "dt", "fieldset", "figcaption",
    "figure", "form", "h1", "h2", "h3", "h4", "legend", "li", "main", "nav", "ol", "p", "section",
    "summary", "table", "tbody", "td", "th", "thead", "tr", "ul",
)  # fmt: skip
# In these every space counts.
_EXACT = ("pre", "script", "style", "textarea")


def without_indent(text: str) -> str:
    """The page without spaces at line starts before tags, and without line ends before the tags of
    blocks."""
    page = tree.read(text)
    for element in page.iter():
        if element.tag in _EXACT:
            continue
        following = [*element.children[1:], element]
        element.children = [
            _trimmed(child, after.tag)
            if isinstance(child, str) and isinstance(after, tree.Element)
            else child
            for child, after in zip(element.children, following, strict=False)
        ]
    return str(page)


def _trimmed(text: str, tag: str) -> str:
    """Text in front of a tag of this name."""
    words = text.rstrip(_SPACE)
    if tag in _BLOCKS:
        return words
    before, line_end, _ = text[len(words) :].partition("\n")
    return words + before + line_end
