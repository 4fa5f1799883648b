"""What a form answers: finished text and SI values, instructions first. Knows no markup."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from calc.answering.uncertainty import Uncertain


@dataclass(frozen=True)
class Step:
    """One instruction that a hand can follow, and the real result of the rounded action. `way` is
    where a collar goes, for the arrow beside the words. Where something is turned, `of` names the
    quantity of the exact turns, whose uncertainty the instruction has; `step` is the hand's."""

    text: str
    gives: str = ""
    way: Literal["", "up", "down"] = ""
    of: str = ""
    step: float = 0.0


@dataclass(frozen=True)
class Quantity:
    """A named result in SI. `u` is its standard uncertainty; `main` is the name of the input
    behind most of it, `main_label` is how it is called in the language spoken, and `main_share`
    says how much (0 to 1) of the variance that input makes: these are worked out when they are
    first asked for. `ends` are how far below and above the value its interval reaches, where
    these differ. `inputs` are the labels by name. `decimals` is for a figure without uncertainty
    that its unit's usual decimals would not show."""

    name: str
    label: str
    value: float
    kind: str
    uncertain: Uncertain | None = None
    inputs: Mapping[str, str] = field(default_factory=dict, compare=False)
    note: str = ""
    decimals: int | None = None

    @property
    def u(self) -> float:
        return self.uncertain.u if self.uncertain else 0.0

    @property
    def reach(self) -> tuple[float, float]:
        """How far its interval reaches below the value and above it."""
        return self.uncertain.uncertainty.reach if self.uncertain else (0.0, 0.0)

    @property
    def alone(self) -> Mapping[str, tuple[float, float]]:
        """How far each input alone moves it below and above its value."""
        return self.uncertain.uncertainty.alone if self.uncertain else {}

    @property
    def main(self) -> str:
        return self.uncertain.main if self.uncertain else ""

    @property
    def main_label(self) -> str:
        return self.inputs.get(self.main, "")

    @property
    def main_share(self) -> float:
        return self.uncertain.main_share if self.uncertain else 0.0

    @property
    def ends(self) -> tuple[float, float] | None:
        return self.uncertain.ends if self.uncertain else None


@dataclass(frozen=True)
class Table:
    """Finished texts in columns; `mark` is the row to find first (the user's own case)."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    mark: int = -1


@dataclass(frozen=True)
class Axis:
    label: str
    kind: str


@dataclass(frozen=True)
class Curve:
    """Points in SI, joined by a line. `style`: main, second, limit (thin, dashed); points, which
    have nothing to do with one another, are not joined."""

    label: str
    points: tuple[tuple[float, float], ...]
    style: str = "main"


@dataclass(frozen=True)
class Mark:
    """A single point worth naming on a plot."""

    x: float
    y: float
    label: str


@dataclass(frozen=True)
class Plot:
    """A picture that is an answer too; `says` is its text alternative."""

    title: str
    x: Axis
    y: Axis
    curves: tuple[Curve, ...]
    marks: tuple[Mark, ...] = ()
    says: str = ""


@dataclass(frozen=True)
class Line:
    """A line of a drawing through points in m. `style`: main, thin, dashed, solid (filled).
    `width` in m is that of a part drawn to scale (a wire); 0 is a pen line."""

    points: tuple[tuple[float, float], ...]
    style: str = "main"
    width: float = 0.0


@dataclass(frozen=True)
class Ring:
    """A circle of a drawing, a pin or a hole; m."""

    x: float
    y: float
    radius: float
    style: str = "main"


@dataclass(frozen=True)
class Tag:
    """Words beside a point of a drawing, m. `side`: right, left, above, below."""

    x: float
    y: float
    text: str
    side: str = "right"


@dataclass(frozen=True)
class Drawing:
    """A picture to scale, in m, y upward; `says` is its text alternative."""

    title: str
    lines: tuple[Line, ...]
    rings: tuple[Ring, ...] = ()
    tags: tuple[Tag, ...] = ()
    says: str = ""


@dataclass(frozen=True)
class AtCorner:
    """What is done at a corner and what that comes to, the first text largest; `way` is where its
    collar goes, which an arrow shows, so that the first text may be bare: `says` has it in words.
    `corner` is one of `calc.model.corners`."""

    corner: Any
    texts: tuple[str, ...]
    way: Literal["", "up", "down"] = ""
    says: str = ""


@dataclass(frozen=True)
class Caution:
    """A warning. `stop` cautions mean that the instruction will not do what is wanted; one that
    `bars` takes its place, because the work would be useless or do harm. `at` is the field at which
    it is mended, to be led to. `finding` says in one short line that it is these numbers that are
    wrong; it is empty where the work itself is what to be careful with. `where` is the end or the
    corner (of `calc.model.corners`) whose spring it is about."""

    text: str
    stop: bool = False
    at: str = ""
    finding: str = ""
    where: Any = None
    bars: bool = False


def barring(text: str, where: Any = None, at: str = "") -> Caution:
    """A stop that takes the place of the instruction: the spring would go solid, the thread end."""
    return Caution(text, stop=True, where=where, at=at, bars=True)


@dataclass(frozen=True)
class Working:
    """A relation, the same with the user's numbers put in, its result, and where it is from."""

    relation: str
    filled: str
    source: str = ""


Written = Literal["entered", "predicted"]


@dataclass(frozen=True)
class Write:
    """A value that the car record takes over once the instruction has been carried out: `entered`
    where its owner has typed or measured it, else `predicted` until somebody looks. `u` is its
    standard uncertainty where it is known. What has only changed its place in the record, and was
    at the path `moved_from` before, is as sure there as it was. Where it `replaces` nothing, the
    part that is there has been looked at, and nothing follows from that."""

    path: str
    value: float
    says: str
    how: Written = "predicted"
    u: float | None = None
    moved_from: str = ""
    replaces: bool = True


@dataclass(frozen=True)
class OfDamper:
    """Something measured of one damper, for its record: at its corner (of `calc.model.corners`) or
    by the letter on its cap, whichever is not empty; the name of the reading there, its value with
    the standard uncertainty (SI), and how it was measured."""

    corner: str
    letter: str
    reading: str
    value: float
    u: float
    says: str


@dataclass(frozen=True)
class Filled:
    """A bottle that the work fills: its name, its oil in m²/s at 25 °C as it is written on it and
    with the uncertainty, how much in m³."""

    name: str
    viscosity: float
    uncertain: Uncertain
    volume: float


@dataclass(frozen=True)
class Listed:
    """A spring for the list of the car: its name, rate in N/m, free and solid length in m, and the
    standard uncertainty of each by name."""

    name: str
    rate: float
    free: float
    solid: float
    u: Mapping[str, float]


@dataclass(frozen=True)
class Pour:
    """Oil out of a bottle of the car, by its row, in m³. `ends` are those whose dampers are all
    filled of it together; none where it is not said for which it is."""

    row: int
    volume: float
    ends: tuple[str, ...] = ()


@dataclass(frozen=True)
class Answer:
    """`above` is the car seen from above, with something at each corner; empty where there is
    nothing to show. `pours` is what the work takes out of the car's bottles, `bottled` are those
    that it fills; `listed` are springs for its list; `measured` goes into the records of the
    dampers.

    `on_uncertainty` gives the cautions that depend on the uncertainty of a figure, in words. They
    follow the instruction, which is on screen before that is worked out, so none of them can be a
    stop: what changes the instruction or its stops is worked out first."""

    steps: tuple[Step, ...]
    quantities: tuple[Quantity, ...] = ()
    tables: tuple[Table, ...] = ()
    plots: tuple[Plot, ...] = ()
    cautions: tuple[Caution, ...] = ()
    working: tuple[Working, ...] = ()
    writes: tuple[Write, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    above: tuple[AtCorner, ...] = ()
    pours: tuple[Pour, ...] = ()
    measured: tuple[OfDamper, ...] = ()
    bottled: tuple[Filled, ...] = ()
    listed: tuple[Listed, ...] = ()
    on_uncertainty: Callable[[], tuple[str, ...]] = field(default=tuple, compare=False)

    @property
    def workable(self) -> "Answer":
        """The answer without an instruction, and without anything that follows from carrying it
        out, where a caution bars the work; the figures stay."""
        if not any(caution.bars for caution in self.cautions):
            return self
        return self.without_work(())

    def without_work(self, steps: tuple[Step, ...]) -> "Answer":
        """The answer with these instructions, and with nothing that follows from others."""
        return replace(
            self, steps=steps, above=(), writes=(), pours=(), bottled=(), listed=(), measured=()
        )

    @property
    def notes(self) -> bool:
        """Whether there is anything to keep once it is carried out."""
        return bool(self.writes or self.pours or self.listed or self.measured)

    @property
    def poured(self) -> dict[int, float]:
        """What it takes out of each bottle in all, m³, by row."""
        total: dict[int, float] = {}
        for one in self.pours:
            total[one.row] = total.get(one.row, 0.0) + one.volume
        return total

    @property
    def all_cautions(self) -> tuple[Caution, ...]:
        """The cautions, those that depend on an uncertainty last."""
        return (*self.cautions, *map(Caution, self.on_uncertainty()))
