"""The figures of a form as a typed class: what `figures(asked)` works out, with label and kind.

class MixFigures(Figures):
    viscosity: float = figure("Viscosity of the mix at 25 °C", kind="viscosity")
    spare: float | None = figure("What is left over", kind="volume", default=None)
    ends: Mapping[End, EndFigures] = by_key(lambda end, label: f"{end_word(end)}: {label}")
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, dataclass, field, fields, replace
from functools import partial
from typing import Any, ClassVar, Generic, Self, TypeVar, dataclass_transform

from calc.answering.uncertainty import Uncertain
from calc.language import tr

Labelled = Callable[[Any, str], str]  # key, label in the language spoken -> label with the key


def figure(label: str, *, kind: str, default: Any = MISSING, least: float = -math.inf) -> Any:
    """A figure, shown under its label; `default` None is for one that is not always there. `least`
    (SI) is where its interval ends, because physics does."""
    return field(default=default, metadata={"label": label, "kind": kind, "least": least})


def by_key(labelled: Labelled, *, key_last: bool = False) -> Any:
    """Figures that are there for several keys; in their names the key stands first or last."""
    return field(metadata={"labelled": labelled, "key_last": key_last})


@dataclass_transform(kw_only_default=True, field_specifiers=(figure, by_key))
class Figures:
    """Exact figures in SI. One that is None is not there."""

    _fields: ClassVar[tuple[Field[Any], ...]]

    def __init_subclass__(cls) -> None:
        made: Any = dataclass(kw_only=True)(cls)
        cls._fields = fields(made)

    def flat(self) -> dict[str, float]:
        """The figures by name, in their order."""
        found: dict[str, float] = {}
        for one in self._fields:
            value = getattr(self, one.name)
            if "labelled" in one.metadata:
                for key, inner in value.items():
                    for name, number in inner.flat().items():
                        found[_name(one, key, name)] = number
            elif value is not None:
                found[one.name] = value
        return found

    def mapped(self, value_at: Callable[[str], float]) -> Self:
        """These figures with other values, by name."""
        made: dict[str, Any] = {}
        for one in self._fields:
            value = getattr(self, one.name)
            if "labelled" in one.metadata:
                made[one.name] = {
                    key: inner.mapped(partial(_value, value_at, one, key))
                    for key, inner in value.items()
                }
            elif value is not None:
                made[one.name] = value_at(one.name)
        return replace(self, **made)  # type: ignore[type-var]

    def labels(self, **words: str) -> dict[str, tuple[str, str, float]]:
        """Label, with these words put in, kind and least value of each figure by name."""
        found: dict[str, tuple[str, str, float]] = {}
        for one in self._fields:
            value, meta = getattr(self, one.name), one.metadata
            if "labelled" in meta:
                for key, inner in value.items():
                    for name, (label, *more) in inner.labels(**words).items():
                        found[_name(one, key, name)] = meta["labelled"](key, label), *more
            elif value is not None:
                found[one.name] = tr(meta["label"], **words), meta["kind"], meta["least"]
        return found


def _name(by: Field[Any], key: str, name: str) -> str:
    """The name of a figure that is there for several keys; the key may be nothing."""
    if not key:
        return name
    return f"{name}_{key}" if by.metadata["key_last"] else f"{key}_{name}"


def _value(value_at: Callable[[str], float], by: Field[Any], key: str, name: str) -> float:
    return value_at(_name(by, key, name))


_Found = TypeVar("_Found", bound=Figures)


@dataclass(frozen=True)
class Propagated(Generic[_Found]):
    """Figures with the uncertainty of the inputs propagated into them."""

    value: _Found
    uncertain: Mapping[str, Uncertain]

    def showing(self, shown: _Found) -> "Propagated[_Found]":
        """The figures that are shown, where these go a shorter way or know nothing of a rounding:
        their uncertainty is that of these."""
        uncertain = {name: self.uncertain[name].at(value) for name, value in shown.flat().items()}
        return Propagated(shown, uncertain)

    @property
    def u(self) -> _Found:
        """The standard uncertainty of each."""
        return self.value.mapped(lambda name: self.uncertain[name].u)
