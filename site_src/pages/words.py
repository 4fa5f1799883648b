"""The words of the trade in the guides: an address for each, and links to what they mean.

words.md explains them. Before the slash of an entry stands the word, behind it the forms of it
that are linked in the guides; a word with two meanings has none, so that no link misleads.
"""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from html import escape

SLUG = "words"
_ENTRY = re.compile(r"^(.+)\n: ", re.MULTILINE)
_TAG = re.compile(r"(<[^>]+>)")
_NOT_IN = ("a", "code", "h1", "h2", "h3", "svg")


def address(text: str) -> str:
    """ "Weight number" -> "weight-number": what a link to it says after #."""
    plain = unicodedata.normalize("NFKD", re.sub(r"<[^>]+>|&\w+;", "", text).lower())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return "-".join(re.findall(r"\w+", plain))


def with_addresses(html: str) -> str:
    """Every heading of the second rank with an id of its own."""
    return re.sub(r"<h2>(.*?)</h2>", lambda h: f'<h2 id="{address(h[1])}">{h[1]}</h2>', html)


def list_of(html: str) -> str:
    """The list of words: an id for each, and without the forms, which only the links need."""

    def entry(found: re.Match[str]) -> str:
        word = found[1].partition(" / ")[0]
        return f'<dt id="{address(word)}">{word}</dt>'

    return re.sub(r"<dt>(.*?)</dt>", entry, html)


def places(text: str) -> dict[str, str]:
    """Form of a word, in small letters -> where it is explained."""
    found = {}
    for entry in _ENTRY.findall(text):
        word, _, forms = entry.partition(" / ")
        for form in filter(None, forms.split(", ")):
            found[form.lower()] = f"{SLUG}.html#{address(word)}"
    return found


def linked(html: str, targets: Mapping[str, str]) -> str:
    """The guide with each word linked where it stands first, though not in headings and links."""
    longest_first = sorted((escape(form) for form in targets), key=len, reverse=True)
    pattern = re.compile(rf"(?<![\w-])({'|'.join(longest_first)})(?![\w-])", re.IGNORECASE)
    seen: set[str] = set()

    def link(found: re.Match[str]) -> str:
        target = targets[found[0].lower()]
        if target in seen:
            return found[0]
        seen.add(target)
        return f'<a href="{target}">{found[0]}</a>'

    return "".join(pattern.sub(link, piece) if free else piece for piece, free in _pieces(html))


def _pieces(html: str) -> Iterator[tuple[str, bool]]:
    """Tags and texts of the HTML, and whether a link may stand there."""
    inside: list[str] = []
    for piece in _TAG.split(html):
        tag = re.match(r"<(/?)(\w+)", piece)
        if tag and tag[2] in _NOT_IN:
            if tag[1]:
                inside.remove(tag[2])
            else:
                inside.append(tag[2])
        yield piece, not tag and not inside
