"""Spelling by `hunspell` with Debian's dictionaries, and slips of the hand that any language has.

Every text on screen, paper and command line in English (the keys of the dictionaries), German and
Spanish, and all guides. Words of the trade and of engineering that a dictionary lacks, and names
of sources, are in tests/spelling/: one a line, `names.txt` for all languages.
"""

import re
import shutil
import subprocess
from functools import cache
from pathlib import Path

import pytest

from site_src.build.toolchain import debian_install
from tests.texts import prose, texts

LISTS = Path(__file__).parent / "spelling"
LANGUAGES = {
    "en": ("en_GB", "hunspell-en-gb"),
    "de": ("de_DE", "hunspell-de-de"),
    "es": ("es_ES", "hunspell-es"),
}
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
each_language = pytest.mark.parametrize("code", LANGUAGES)


def allowed(code: str) -> set[str]:
    lists = (LISTS / f"{name}.txt" for name in (code, "names"))
    return {word for path in lists for word in path.read_text("utf-8").split()}


@cache
def checker(package: str) -> str:
    """The program, with a dictionary; the test is left out where neither is to be had."""
    for wanted, there in (("hunspell", shutil.which("hunspell")), (package, _is_there(package))):
        if not there and not debian_install(wanted):
            pytest.skip(f"{wanted} is not on this machine, and Debian's package cannot be had")
    return shutil.which("hunspell") or ""


def _is_there(package: str) -> bool:
    names = {name for name, its in LANGUAGES.values() if its == package}
    return any((Path("/usr/share/hunspell") / f"{name}.dic").exists() for name in names)


def unknown(words: set[str], code: str) -> list[str]:
    """Those of the words that the dictionary of a language lacks."""
    name, package = LANGUAGES[code]
    done = subprocess.run(
        [checker(package), "-d", name, "-l", "-i", "utf-8"],
        input="\n".join(sorted(words)), capture_output=True, text=True, check=True,
    )  # fmt: skip
    return sorted(set(done.stdout.split()))


@pytest.mark.wide("reads every text of three languages with dictionaries that have to be installed")
@each_language
def test_every_word_is_spelt_as_the_dictionary_has_it(code: str) -> None:
    words = {w for _, text in texts(code) for w in WORD.findall(prose(text)) if len(w) > 1}
    assert len(words) > 1500  # else nothing was read
    assert [w for w in unknown(words, code) if w not in allowed(code)] == []
    slip = {"en": "damperr", "de": "Dämmpfer", "es": "amortiguadorr"}[code]
    assert unknown({*words, slip}, code).count(slip) == 1


@pytest.mark.wide("its list is only as good as the dictionary beside it")
@each_language
def test_the_list_has_no_word_that_is_not_said_or_that_the_dictionary_has(code: str) -> None:
    own = set((LISTS / f"{code}.txt").read_text("utf-8").split())
    said = {w for _, text in texts(code) for w in WORD.findall(prose(text))}
    assert sorted(own - said) == []
    assert sorted(own - set(unknown(own, code))) == []


# A word may stand twice where a sentence ends between, or where it is meant.
TWICE = re.compile(r"\b([^\W\d_]{2,})[ \n]+\1\b")
MEANT = {"en": {"that", "had"}, "de": {"die", "der", "das", "sie"}, "es": set()}
PAIRS = {"en": ("“", "”"), "de": ("„", "“"), "es": ("«", "»")}
# Before a vowel that is spoken, and letters whose names begin with one.
WRONG_ARTICLE = re.compile(
    r"\b([Aa] (?=[aeioAEIO])(?!one\b|once\b|one-)\w+|[Aa]n (?![aeiouhAEIOUHFLMNRSX8])\w+)"
)


@each_language
def test_no_word_stands_twice_and_no_blank_before_a_stop(code: str) -> None:
    for where, text in texts(code):
        plain = prose(text)
        twice = [m[1] for m in TWICE.finditer(plain) if m[1].lower() not in MEANT[code]]
        assert not twice, (where, twice)
        assert not re.search(r"[^\W\d_] [,;:!?](?=\s|$)", text.replace(" :", " ")), where


@each_language
def test_what_is_opened_is_closed(code: str) -> None:
    opening, closing = PAIRS[code]
    for where, text in texts(code):
        for left, right in ((opening, closing), ("(", ")"), ("¿", "?" if code == "es" else "¿")):
            signs = text.removeprefix("? ").replace("**?**", "")  # the sign itself, in a legend
            assert signs.count(left) == signs.count(right), (where, left)


def test_an_stands_before_vowels() -> None:
    found = {m[0] for _, text in texts("en") for m in WRONG_ARTICLE.finditer(prose(text))}
    assert sorted(found) == []
