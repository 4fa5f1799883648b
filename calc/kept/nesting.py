"""How deep JSON from outside is nested, counted before it is parsed.

A parser goes one call deeper with each bracket. In the browser that overflows a stack which Python
does not guard: no exception, but the end of the runtime, after a hundred letters of a link.
"""

import re

DEEPEST = 24
"""Levels that are read; a backup of this schema has eight."""
_TEXT = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+\\?"?', re.DOTALL)
_NO_BRACKET = re.compile(r"[^\[\]{}]+")
_ONE_KIND = str.maketrans("{}", "[]")  # the parser will find those of two kinds


def too_deep(text: str) -> bool:
    """Whether brackets stand more than DEEPEST levels deep, or some are never closed.

    Each round takes away the innermost pairs; a text that is not closed runs to the end.
    """
    brackets = _NO_BRACKET.sub("", _TEXT.sub("", text)).translate(_ONE_KIND)
    for _ in range(DEEPEST):
        if not brackets:
            return False
        brackets = brackets.replace("[]", "")
    return bool(brackets)
