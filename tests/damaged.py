"""Stored JSON as it comes back damaged, and how that is refused."""

import copy
from typing import Any

Path = tuple[Any, ...]


def places(stored: Any, path: Path = ()) -> list[Path]:
    """The path of every value in it, containers included."""
    if not isinstance(stored, dict | list):
        return [path]
    below = stored.items() if isinstance(stored, dict) else enumerate(stored)
    return [path] + [p for key, inner in below for p in places(inner, (*path, key))]


def altered(stored: Any, path: Path, value: Any) -> Any:
    """What is stored with another value at a path; what was given stays as it is."""
    if not path:
        return value
    made = inner = copy.deepcopy(stored)
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return made


def is_one_sentence(text: str) -> bool:
    return text.endswith(".") and "\n" not in text and text.isprintable() and len(text) < 300
