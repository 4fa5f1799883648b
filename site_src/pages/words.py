"""The glossary of the guides: an address for each word of the trade, and links to its entry.

trade_words.toml is the table of the words in all languages. It becomes the entries of words.md: in
front of the slash of an entry is the word, behind it are the forms of it that are linked in the
guides; a word with two meanings has none, so that no link misleads.
"""

import re  # for words in plain text
import tomllib
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

from calc.language import tr

SLUG = "words"
TABLE = Path(__file__).parent / "trade_words.toml"
_NOT_IN = ("a", "code", "h1", "h2", "h3")


@dataclass(frozen=True)
class Word:
    """A word of the trade in one language, the forms of it that are linked, and what others say."""

    word: str
    forms: tuple[str, ...]
    also: tuple[str, ...]
    means: str


@dataclass(frozen=True)
class Never:
    """A pattern that no text of a language has, what is said instead, and where it is right."""

    language: str
    pattern: str
    say: str
    but: tuple[str, ...]

    def found(self, text: str) -> list[str]:
        """Each place in a text that has it, and is none of the phrases in which it is right."""
        text = " ".join(text.split())
        for phrase in self.but:
            text = text.replace(phrase, "")
        return [found[0] for found in re.finditer(rf"(?<!\w)(?:{self.pattern})(?!\w)", text)]


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(TABLE.read_text("utf-8"))


def sections(code: str) -> Iterator[tuple[str, list[Word]]]:
    """The table in a language: heading and words. A word that it does not have is left out."""
    for section in _table()["section"]:
        words = [entry[code] for entry in section["word"] if code in entry]
        yield (
            section[code],
            [Word(it["word"], tuple(it["forms"]), tuple(it["also"]), it["means"]) for it in words],
        )


def never() -> list[Never]:
    """What no text says, of every language."""
    return [
        Never(it["language"], it["pattern"], it["say"], tuple(it["but"]))
        for it in _table()["never"]
    ]


def written(code: str) -> str:
    """The entries of the glossary as Markdown, in the language that is spoken."""
    lines = []
    for heading, words in sections(code):
        lines += [f"## {heading}", ""]
        for each in words:
            also = tr("Also called: {words}.", words=", ".join(each.also)) if each.also else ""
            head = " / ".join(filter(None, (each.word, ", ".join(each.forms))))
            lines += [head, f":   {each.means} {also}".rstrip(), ""]
    return "\n".join(lines)


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
