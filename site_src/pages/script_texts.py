"""Texts in our scripts, which a page in another language has to include."""

import json
import re
from pathlib import Path

from calc.language import spoken

STATIC = Path(__file__).parents[1] / "static"
_SCRIPT_CALL = re.compile(
    r"""\b(?:tr|later)\(\s*(?P<text>"(?:[^"\\]|\\.)*"(?:\s*\+\s*"(?:[^"\\]|\\.)*")*)"""
)
_SCRIPT_TEXT = re.compile(r'"(?:[^"\\]|\\.)*"')


def in_scripts() -> set[str]:
    return {key for path in STATIC.rglob("*.js") for key in in_script(path.read_text("utf-8"))}


def of_scripts() -> dict[str, str]:
    """Translations that the page includes for its scripts, in the language spoken."""
    known = spoken().words
    return {key: known[key] for key in sorted(in_scripts()) if known.get(key)}


def in_script(source: str) -> set[str]:
    """Texts in a script: literals in double quotes, joined where there are several with + between
    them."""
    return {
        "".join(json.loads(part) for part in _SCRIPT_TEXT.findall(call["text"]))
        for call in _SCRIPT_CALL.finditer(source)
    }
