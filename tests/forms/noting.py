"""Checked entries that note which of them a form's `solve` reads."""

from dataclasses import dataclass, field, fields, replace
from typing import Any

from calc.answering.uncertainty import Doubted, propagate
from calc.replying.form import Given


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


@dataclass(frozen=True)
class NotingGiven(Given):
    seen: set[str] = field(default_factory=set)

    def __getattribute__(self, name: str) -> Any:
        value = super().__getattribute__(name)
        return Noted(value, self.seen) if name in ("numbers", "texts", "choices") else value

    def carry(self, figures: Any) -> dict[str, Doubted]:
        # Each entry is looked up to be shifted, which is not yet to be read by the form.
        return propagate(
            lambda numbers: figures(replace(self, numbers=numbers)), dict(self.numbers), self.u
        )


def noting(given: Given) -> NotingGiven:
    return NotingGiven(**{item.name: getattr(given, item.name) for item in fields(Given)})
