"""Whether the two dampers of an end are alike, and at which step one is caught that is not."""

from collections.abc import Iterator
from dataclasses import dataclass

from calc.kept.build.build import Build
from calc.kept.build.readings import READINGS
from calc.model.corners import End
from calc.physics.alike import Judged, difference_doubt, judged


@dataclass(frozen=True)
class Compared:
    """One reading of both dampers of an end: left less right, its standard uncertainty, how
    far apart they may be (SI)."""

    step: str
    reading: str
    end: End
    left: float
    right: float
    u: float
    limit: float

    @property
    def difference(self) -> float:
        return self.left - self.right

    @property
    def judged(self) -> Judged:
        return judged(self.difference, self.u, self.limit)

    @property
    def beyond(self) -> bool:
        """Whether the tool could not call two alike that are, and says so itself."""
        coarse = READINGS[self.reading].coarse
        return bool(coarse) and self.judged == judged(0.0, self.u, self.limit) == "open"


@dataclass(frozen=True)
class Verdict:
    """All that was read of both dampers of an end, in the order of the steps. `missing` are
    readings that one of them lacks."""

    end: End
    compared: tuple[Compared, ...]
    missing: tuple[str, ...]

    @property
    def caught(self) -> Compared | None:
        """The first reading by which they are not alike."""
        return next((one for one in self.compared if one.judged == "apart"), None)

    @property
    def open(self) -> tuple[Compared, ...]:
        """Readings by which nothing is proved, though it could be."""
        return tuple(one for one in self.compared if one.judged == "open" and not one.beyond)

    @property
    def telling(self) -> int:
        """How many readings say something."""
        return sum(not one.beyond for one in self.compared)

    @property
    def says(self) -> Judged | None:
        """None where nothing that tells was read of both."""
        if not self.telling:
            return None
        if self.caught:
            return "apart"
        return "open" if self.open else "alike"


def compared(build: Build, step: str, end: End) -> Iterator[Compared]:
    """The readings of a step that both dampers of an end have."""
    for reading in build.reads(step, end.corners[0]):
        left, right = (build.reading(reading, corner) for corner in end.corners)
        if left is None or right is None:
            continue
        about, car = READINGS[reading], build.car
        u = difference_doubt(about.doubt(car, left), about.doubt(car, right))
        mean = (left.value + right.value) / 2
        # Where both are nothing, so is a share of it: they are alike as soon as they are equal.
        limit = max(about.limit(car, end, mean), _LEAST)
        yield Compared(step, reading, end, left.value, right.value, u, limit)


_LEAST = 1e-12


def verdict(build: Build, end: End) -> Verdict:
    """Of the two dampers of an end, from all steps that are gone through."""
    found: list[Compared] = []
    missing: list[str] = []
    for step in build.steps:
        if not set(end.corners) & set(build.at(step)):
            continue
        both = list(compared(build, step, end))
        found += both
        read = {one.reading for one in both}
        missing += [name for name in build.reads(step, end.corners[0]) if name not in read]
    return Verdict(end, tuple(found), tuple(missing))
