"""A build that is not finished, as a backup has it: texts with their units and their times."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from calc.asking.entry import Refused
from calc.language import tr
from calc.model.origin import is_number
from calc.units import IMPERIAL, METRIC

_MOST, _LONGEST, _NAME = 2_000, 4_000, 80
_LATEST = 1e14  # ms


@dataclass(frozen=True)
class Told:
    """What was entered, in the units of which system, and when (ms since 1970)."""

    text: str
    system: str
    time: float


@dataclass(frozen=True)
class Unfinished:
    """The build of a car, by name of the entry."""

    car: str
    texts: Mapping[str, Told]


def to_json(build: Unfinished) -> dict[str, Any]:
    return {
        "car": build.car,
        "texts": {
            name: {"text": one.text, "system": one.system, "time": one.time}
            for name, one in build.texts.items()
        },
    }


def from_json(stored: object) -> Unfinished:
    """The build in stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict) or set(stored) != {"car", "texts"}:
        raise _damaged()
    car, texts = stored["car"], stored["texts"]
    if not isinstance(car, str) or not isinstance(texts, dict) or len(texts) > _MOST:
        raise _damaged()
    return Unfinished(car, {_name(name): _told(one) for name, one in texts.items()})


def _name(name: object) -> str:
    if not isinstance(name, str) or not 0 < len(name) <= _NAME:
        raise _damaged()
    return name


def _told(stored: object) -> Told:
    if not isinstance(stored, dict) or set(stored) != {"text", "system", "time"}:
        raise _damaged()
    text, system, time = stored["text"], stored["system"], stored["time"]
    if not isinstance(text, str) or len(text) > _LONGEST or system not in (METRIC, IMPERIAL):
        raise _damaged()
    if not is_number(time) or not 0 <= time < _LATEST:
        raise _damaged()
    return Told(text, system, float(time))


def _damaged() -> Refused:
    return Refused(tr("The build list is damaged."))


def joined(mine: Unfinished, theirs: Unfinished) -> Unfinished:
    """Everything of both; of an entry that both have, the one made last."""
    newer = {
        name: one
        for name, one in theirs.texts.items()
        if name not in mine.texts or one.time > mine.texts[name].time
    }
    return Unfinished(mine.car, {**mine.texts, **newer})
