"""A build as it is kept: what was ticked, read and changed, by name of the entry.

The page keeps it as typed texts of a form that is no form, so that each is there as soon as it was
made: `tick.fill.front_left` is "1", or "again" for what has to be done once more, with the names of
what has been read since; `read.stroke.front_left` a number; `name.front_left` a letter;
`kind.front`, `scope`; `order` and `out` are keys of steps; `own.KEY` is a step of one's own.
`of.front_left` is the letter that ticks and readings of a corner belong to; those of a damper whose
letter is at no corner wait as `read.stroke.:A` until it is back. Unknown names stay where they are.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, partial
from typing import TypeVar

from calc.asking import declare
from calc.asking.entry import Choice, Number, Refused, Text, only
from calc.asking.typed import Measured
from calc.forms.names import damper_label
from calc.kept.build.readings import READINGS, read
from calc.kept.build.steps import (
    BY_KEY,
    KINDS,
    ORDER,
    STEPS,
    TROUBLES,
    Kind,
    Step,
    Trouble,
    step_at,
)
from calc.language import later, tr
from calc.model.car import Car, put
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.origin import Origin

SLUG = "build"
"""Under which the page keeps what is entered here."""
DONE, AGAIN = "1", "again"
NAME = Text(
    later("Letter on the cap"), 12,
    later("Any letter or word: it is the damper's name in the records."), optional=True,
)  # fmt: skip
DUE_AFTER: Number = declare.number(
    label="Open each after this many runs", kind="count", usual="1 to 50", possible="1 to 1000",
    whole=True, optional=True,
    measure="It depends on your oil and your track; leave it empty for no reminder.",
)  # fmt: skip
OWN = Text(later("A step of your own"), 120, optional=True)
ASIDE = ":"
"""Before the letter of a damper whose place another one has taken."""
MOST_OWN = 40
_OWN_KEY = re.compile(r"own-[0-9a-z]{1,24}")
SCOPE = Choice(
    later("To build"),
    (
        ("all", later("all four")),
        ("front", later("the front pair")),
        ("rear", later("the rear pair")),
    ),
)
KIND: Mapping[End, Choice] = {
    End.FRONT: Choice(later("Front dampers"), KINDS, when=only("scope", "all", End.FRONT)),
    End.REAR: Choice(later("Rear dampers"), KINDS, when=only("scope", "all", End.REAR)),
}


_Told = TypeVar("_Told")


@dataclass(frozen=True)
class Build:
    """What is known of the build of a car; `texts` are as typed, in the units of `system`."""

    car: Car
    texts: Mapping[str, str]
    system: str

    @cached_property
    def corners(self) -> tuple[Corner, ...]:
        """The dampers that are built."""
        return tuple(one for one in CORNERS if self.scope in ("all", one.end))

    @property
    def ends(self) -> tuple[End, ...]:
        return tuple(end for end in ENDS if self.scope in ("all", end))

    @property
    def scope(self) -> str:
        return self._chosen("scope", SCOPE)

    def kind(self, end: End) -> Kind:
        chosen = self._chosen(f"kind.{end}", KIND[end])
        return next(kind for kind, _ in KINDS if kind == chosen)

    def _chosen(self, name: str, choice: Choice) -> str:
        told = self.texts.get(name, "")
        return told if told in dict(choice.options) else choice.start

    @cached_property
    def own(self) -> Mapping[str, str]:
        """Steps of one's own, by key."""
        found: dict[str, str] = {}
        for name, text in self.texts.items():
            key = name.removeprefix("own.")
            if key != name and text.strip() and _OWN_KEY.fullmatch(key) and len(found) < MOST_OWN:
                found[key] = " ".join(text.split())[: OWN.longest]
        return found

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Every step in the order wanted, those left out among them: a step that the order does
        not name (of a newer version, or one's own) follows the one that it usually follows."""
        told = [key for key in self.texts.get("order", "").split() if self._is_step(key)]
        made = list(dict.fromkeys(told))
        for place, key in enumerate(ORDER):
            if key not in made:
                before = next((k for k in ORDER[:place][::-1] if k in made), None)
                made.insert(made.index(before) + 1 if before else 0, key)
        return (*made, *(key for key in self.own if key not in made))

    def _is_step(self, key: str) -> bool:
        return key in BY_KEY or key in self.own

    @cached_property
    def left_out(self) -> frozenset[str]:
        """Steps that the user does without."""
        return frozenset(self.texts.get("out", "").split()) & frozenset(self.order)

    @cached_property
    def steps(self) -> tuple[str, ...]:
        """The steps that are gone through, by key, in their order."""
        return tuple(key for key in self.order if key not in self.left_out and self.at(key))

    def at(self, key: str) -> tuple[Corner, ...]:
        """The dampers that have a step."""
        only = step_at(key).only
        return tuple(one for one in self.corners if self.kind(one.end) in only)

    def reads(self, key: str, corner: Corner | None = None) -> tuple[str, ...]:
        """What is read at a step, of one damper or of any."""
        there = self.at(key) if corner is None else (corner,)
        kinds = {self.kind(one.end) for one in there}
        return tuple(name for name in step_at(key).reads if kinds & frozenset(READINGS[name].only))

    def tick(self, key: str, corner: Corner) -> str:
        return self.texts.get(f"tick.{key}.{corner}", "")

    def is_done(self, key: str, corner: Corner) -> bool:
        return self.tick(key, corner) == DONE

    @property
    def counts(self) -> tuple[int, int]:
        """How many ticks there are, and how many readings."""
        ticks = sum(self.is_done(key, corner) for key in self.steps for corner in self.at(key))
        return ticks, len(self._read[0])

    def progress(self, corner: Corner) -> tuple[int, int]:
        """How many of its steps a damper has behind it, and how many they are."""
        keys = [key for key in self.steps if corner in self.at(key)]
        return sum(self.is_done(key, corner) for key in keys), len(keys)

    def has_begun(self) -> bool:
        """Whether anything was ticked or read."""
        return any(self.counts)

    def next_step(self, corner: Corner) -> str:
        """The first step that is not done for a damper; empty where all are."""
        undone = (k for k in self.steps if corner in self.at(k) and not self.is_done(k, corner))
        return next(undone, "")

    @property
    def due(self) -> float | None:
        """After how many runs a damper is to be opened, None where the owner has not said."""
        told, _ = self._told("due", DUE_AFTER.read)
        return told.value if told else None

    def name(self, corner: Corner) -> str:
        """The letter on its cap, empty where there is none."""
        return self._told(f"name.{corner}", NAME.read)[0] or ""

    def label(self, corner: Corner) -> str:
        """ "A, front left", "Front left" without a letter."""
        return damper_label(self.name(corner), corner)

    def _told(self, name: str, reads: Callable[[str], _Told]) -> tuple[_Told | None, str]:
        """What was entered, or what is wrong with it."""
        try:
            return reads(self.texts.get(name, "")), ""
        except Refused as refused:
            return None, str(refused)

    @cached_property
    def _read(self) -> tuple[dict[tuple[str, Corner], Measured], dict[str, str]]:
        found: dict[tuple[str, Corner], Measured] = {}
        problems: dict[str, str] = {}
        for step in map(step_at, self.steps):
            for corner in self.at(step.key):
                for reading in self.reads(step.key, corner):
                    name = f"read.{reading}.{corner}"
                    reads = partial(read, reading, car=self.car, system=self.system)
                    one, problems[name] = self._told(name, reads)
                    if one is not None:
                        found[reading, corner] = one
        _, problems["due"] = self._told("due", DUE_AFTER.read)
        names = [self.name(corner) for corner in self.corners]
        for corner in self.corners:
            letter, wrong = self._told(f"name.{corner}", NAME.read)
            if letter and names.count(letter) > 1:
                wrong = tr(
                    "“{name}” is on two caps: give each damper its own letter, or they share one "
                    "record.",
                    name=letter,
                )
            problems[f"name.{corner}"] = wrong
        return found, {name: wrong for name, wrong in problems.items() if wrong}

    @cached_property
    def aside(self) -> Mapping[str, Mapping[str, Measured]]:
        """What was read of dampers whose place another one has taken, by their letter; without
        what cannot be read."""
        found: dict[str, dict[str, Measured]] = {}
        for name in self.texts:
            what, reading, letter = (*name.split(".", 2), "", "")[:3]
            if what != "read" or reading not in READINGS or not letter.startswith(ASIDE):
                continue
            one, _ = self._told(name, partial(read, reading, car=self.car, system=self.system))
            if one is not None:
                found.setdefault(letter.removeprefix(ASIDE), {})[reading] = one
        return found

    @property
    def problems(self) -> Mapping[str, str]:
        """What is wrong with an entry, by its name."""
        return self._read[1]

    def reading(self, name: str, corner: Corner) -> Measured | None:
        """What was read of a damper, and holds: not what was read before it was opened again, nor
        at a step that is left out."""
        return None if self._is_before(name, corner) else self._read[0].get((name, corner))

    def is_old(self, name: str, corner: Corner) -> bool:
        """Whether a reading is one of before the damper was opened again."""
        return (name, corner) in self._read[0] and self._is_before(name, corner)

    def _is_before(self, name: str, corner: Corner) -> bool:
        """Whether the damper was opened again and this has not been read since."""
        again, *since = self.tick(step_of(name).key, corner).split() or [""]
        return again == AGAIN and name not in since

    def title(self, key: str) -> str:
        return self.own[key] if key in self.own else tr(BY_KEY[key].title)

    def troubles(self, key: str) -> tuple[Trouble, ...]:
        """What can be seen at a step: first what is its own."""
        later_ones = (one.key for one in TROUBLES.values() if self._shows_at(key, one))
        names = dict.fromkeys((*step_at(key).troubles, *later_ones))
        return tuple(TROUBLES[name] for name in names)

    def _shows_at(self, key: str, trouble: Trouble) -> bool:
        """Whether a step has come to where this trouble can be seen from then on."""
        if not trouble.since:
            return False
        since = trouble.since if trouble.since in self.steps else trouble.back
        return since in self.steps and self.steps.index(key) >= self.steps.index(since)

    def redone(self, key: str, trouble: Trouble, corner: Corner) -> tuple[str, ...]:
        """The steps that a damper goes through once more when it falls out at one; none where it
        cannot go back, because the list lacks the step or has it later."""
        if trouble.back not in self.steps or key not in self.steps:
            return ()
        if self.kind(corner.end) not in trouble.only:
            return ()
        first, last = self.steps.index(trouble.back), self.steps.index(key)
        return tuple(
            one
            for one in self.steps[first : last + 1]
            if corner in self.at(one) and (not trouble.again or one in trouble.again)
        )

    def car_of(self, corner: Corner, readings: Iterable[str]) -> Car:
        """The car with these readings of a damper in place of what its record has; where it has
        none yet, with that of the other one of its pair."""
        car = self.car
        for name in readings:
            read = self.reading_of_pair(name, corner)
            if read is not None:
                path = READINGS[name].path.format(corner=corner, end=corner.end)
                car = put(car, path, read.value, Origin("measured", u=read.u))
        return car

    def reading_of_pair(self, name: str, corner: Corner) -> Measured | None:
        """What was read of a damper, else of the other one of its pair."""
        return self.reading(name, corner) or self.reading(name, corner.other)


def numbers(texts: Mapping[str, str]) -> dict[str, Number]:
    """The numbers among what is entered, by the name of the entry."""
    found: dict[str, Number] = {}
    for name in texts:
        what, _, rest = name.partition(".")
        reading = rest.partition(".")[0]
        if what == "read" and reading in READINGS:
            found[name] = READINGS[reading].entry
    return found


def step_of(reading: str) -> Step:
    """The step at which something is read."""
    return _STEP_OF[reading]


_STEP_OF: Mapping[str, Step] = {reading: step for step in STEPS for reading in step.reads}
