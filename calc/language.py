"""The language that is spoken: English stands in the code, the others in languages/CODE.json.

A sentence is looked up whole, by its English, and its parts are filled in afterwards, so that a
translation may put them in another order. What is missing is said in English.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

ENGLISH = "en"
NAMES = {"en": "English", "de": "Deutsch", "es": "Español"}


@dataclass(frozen=True)
class Language:
    """A language: its code (ISO 639-1), its decimal sign and its words for the English ones."""

    code: str
    decimal: str = "."
    words: Mapping[str, str] = field(default_factory=dict)


_DECIMALS = {"de": ",", "es": ","}
_spoken = Language(ENGLISH)


def spoken() -> Language:
    """The language in which everything is said now."""
    return _spoken


def use(code: str, words: Mapping[str, str] | None = None) -> None:
    """Speak this language from now on; `words` are its translations, else they are read from the
    package. Raises KeyError for a language that is not there."""
    global _spoken
    if code not in NAMES:
        raise KeyError(code)
    if words is None:
        words = {} if code == ENGLISH else dictionary(code)
    _spoken = Language(code, _DECIMALS.get(code, "."), words)


@contextmanager
def speaking(code: str) -> Iterator[None]:
    """Speak a language for a while."""
    global _spoken
    before = _spoken
    use(code)
    try:
        yield
    finally:
        _spoken = before


def dictionary(code: str) -> dict[str, str]:
    """All that is translated into a language: English -> its words."""
    path = Path(__file__).parent / "languages" / f"{code}.json"
    words: dict[str, str] = json.loads(path.read_text("utf-8"))
    return words


def tr(english: str, /, sense: str = "", **parts: object) -> str:
    """The sentence in the language spoken, its {parts} filled in; in English where the dictionary
    has nothing for it.

    `sense` tells two meanings of one English word apart: they are "down" and "down (sense)" in the
    dictionary.
    """
    key = f"{english} ({sense})" if sense else english
    text = _spoken.words.get(key) or english
    # No line ends between ± and its number.
    return text.replace("± {", "±\u00a0{").format(**parts) if parts else text


def abridged(entries: Sequence[str], most: int) -> str:
    """Entries in a row; of those beyond `most` only how many: "pitch; stroke and 3 more"."""
    shown, more = "; ".join(entries[:most]), len(entries) - most
    return tr("{entries} and {count} more", entries=shown, count=more) if more > 0 else shown


_ADJECTIVE_AND_NOUN = re.compile(r"\w+ [A-ZÄÖÜ][a-zäöü]")  # in German, where nouns are large


def inside(text: str) -> str:
    """A label for the inside of a sentence: its first letter small, unless of a German noun."""
    noun_first = _spoken.code == "de" and not _ADJECTIVE_AND_NOUN.match(text)
    return text if noun_first else text[:1].lower() + text[1:]


def numbered(english: str) -> str:
    """A label that may end in a number: "Bottle 3" is the word and the number."""
    word, _, number = english.rpartition(" ")
    return f"{tr(word)} {number}" if number.isdigit() else tr(english)


def later(english: str) -> str:
    """Marks a text that is declared here and translated where it is shown."""
    return english
