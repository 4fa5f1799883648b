"""The glossary of the guides: an address for each word of the trade, and links to its entry.

words.md explains the words. In front of the slash of an entry is the word, behind it are the forms
of it that are linked in the guides; a word with two meanings has none, so that no link misleads.
"""

import re  # for words in plain text
import unicodedata
from collections.abc import Mapping
from itertools import pairwise
from xml.etree.ElementTree import Element

SLUG = "words"
_NOT_IN = ("a", "code", "h1", "h2", "h3")


def address(text: str) -> str:
    """ "Weight number" -> "weight-number": the fragment of a link to it."""
    letters = unicodedata.normalize("NFKD", text.lower())
    plain = "".join(c for c in letters if not unicodedata.combining(c))
    return "-".join(re.findall(r"\w+", plain))


def address_headings(root: Element) -> None:
    """Give every second-level heading an id."""
    for heading in root.iter("h2"):
        heading.set("id", address("".join(heading.itertext())))


def address_entries(root: Element) -> None:
    """Give each entry of the glossary an id, and remove its forms, which only the links need."""
    for entry in root.iter("dt"):
        entry.text = (entry.text or "").partition(" / ")[0]
        entry.set("id", address(entry.text))


def places(text: str) -> dict[str, str]:
    """Form of a word in lower case -> page and id of its entry."""
    found = {}
    for entry, meaning in pairwise(text.splitlines()):
        word, _, forms = entry.partition(" / ")
        if meaning.startswith(": "):
            for form in filter(None, forms.split(", ")):
                found[form.lower()] = f"{SLUG}.html#{address(word)}"
    return found


def link(root: Element, targets: Mapping[str, str]) -> None:
    """Link the first use of each word outside headings, links and code."""
    longest_first = sorted(map(re.escape, targets), key=len, reverse=True)
    words = re.compile(rf"(?<![\w-])({'|'.join(longest_first)})(?![\w-])", re.IGNORECASE)
    _link_below(root, words, targets, set())


def _link_below(
    element: Element, words: re.Pattern[str], targets: Mapping[str, str], linked: set[str]
) -> None:
    """Link the words in an element in reading order, except to targets in `linked`."""
    if element.tag in _NOT_IN:
        return
    element.text, made = _links(element.text or "", words, targets, linked)
    for child in list(element):
        _link_below(child, words, targets, linked)
        child.tail, links = _links(child.tail or "", words, targets, linked)
        made += [child, *links]
    element[:] = made


def _links(
    text: str, words: re.Pattern[str], targets: Mapping[str, str], linked: set[str]
) -> tuple[str, list[Element]]:
    """The text in front of the first new link, and the links, each with the text behind it."""
    found = []
    for word in words.finditer(text):
        target = targets[word[0].lower()]
        if target not in linked:
            linked.add(target)
            found.append((word, target))
    ends = [word.start() for word, _ in found] + [len(text)]
    links = []
    for (word, target), end in zip(found, ends[1:], strict=True):
        link = Element("a", href=target)
        link.text, link.tail = word[0], text[word.end() : end]
        links.append(link)
    return text[: ends[0]], links
