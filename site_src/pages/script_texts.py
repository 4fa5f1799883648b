"""Texts that our scripts say, which a page in another language has to bring along."""

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
    """What the page has to bring along for its scripts, in the language spoken."""
    known = spoken().words
    return {key: known[key] for key in sorted(in_scripts()) if known.get(key)}


def in_script(source: str) -> set[str]:
    """Of a script: literals in double quotes, also where several are joined by +."""
    return {
        "".join(json.loads(part) for part in _SCRIPT_TEXT.findall(call["text"]))
        for call in _SCRIPT_CALL.finditer(source)
    }
