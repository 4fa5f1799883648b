"""Checked entries that note which of them a form's `solve` reads."""

from dataclasses import fields
from typing import Any

from calc.replying.inputs import Inputs


class Noted(dict[str, Any]):
    """A dict that notes the keys that are looked up; copying it whole is no look."""

    def __init__(self, values: Any, seen: set[str]) -> None:
        super().__init__(values)
        self.seen = seen

    def __getitem__(self, key: str) -> Any:
        self.seen.add(key)
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        self.seen.add(key)
        return super().get(key, default)


_LOOKED_UP = ("numbers", "texts", "choices")


def noting(inputs: Inputs, seen: set[str]) -> Inputs:
    """The inputs, which add to `seen` the names of those looked up."""

    def get(self: Inputs, name: str) -> Any:
        value = object.__getattribute__(self, name)
        return Noted(value, seen) if name in _LOOKED_UP and isinstance(value, dict) else value

    kind = type("Noting", (type(inputs),), {"__getattribute__": get})
    return kind(**{item.name: getattr(inputs, item.name) for item in fields(Inputs)})
