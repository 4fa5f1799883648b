"""All that is said in a language: on screen, paper and command line, and in the guides."""

import json
import re
from collections.abc import Iterator

from site_src.build.toolchain import ROOT

# What is no prose: placeholders, addresses of links, tags, code.
CODE = re.compile(r"\{[^}]*\}|(?<=\])\([^)]*\)|<[^>]+>|&\w+;|`[^`]*`")
# Hyphens at which a word may break or is broken on a drawing, and raised figures.
BROKEN = re.compile(r"\u00ad|-\n(?=[a-zäöü])(?!minus)|[²³⁴]")


def texts(code: str) -> Iterator[tuple[str, str]]:
    """(where, text) of all that is said in a language."""
    dictionary = ROOT / "calc" / "languages" / f"{'de' if code == 'en' else code}.json"
    for key, said in json.loads(dictionary.read_text("utf-8")).items():
        yield key, key if code == "en" else said
    guides = ROOT / "site_src" / "pages" / "guides"
    for path in sorted((guides / ("" if code == "en" else code)).glob("*.md")):
        yield path.name, path.read_text("utf-8")


def prose(text: str) -> str:
    """A text with … for what is none of its words."""
    return CODE.sub(" … ", BROKEN.sub("", text))
