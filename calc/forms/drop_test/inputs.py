"""What the drop test asks: timed runs of one mass or of several, the piston, the oil."""

from typing import Any, Literal

from calc.answering.answer import OfDamper
from calc.asking.declare import choice, number, text
from calc.asking.entry import When, only
from calc.forms.fields import which_end
from calc.forms.names import damper_label
from calc.forms.oil_warm import warm_oil
from calc.forms.piston import DamperInputs, PistonModel
from calc.forms.recorded import at_the_end
from calc.language import later, tr
from calc.model.corners import Corner, End, Side
from calc.physics.gas import ATMOSPHERE, TrappedGas
from calc.replying.inputs import Group, Row, assumed, from_car, group, rows, up_to

Task = Literal["one", "friction", "sides"]
_ONE_MASS = only("task", "one", "sides")
_RUNS = up_to(12, "Run")


def _mass(**more: Any) -> Any:
    return number(
        label="Hanging mass", kind="mass", usual="10 to 300 g", possible="0.5 to 10000 g",
        measure="The mass and its hook; shaft, piston and rod end are asked for below.",
        tool="scale", **more,
    )  # fmt: skip


def _time() -> Any:
    return number(
        label="Time", kind="time", usual="0.5 to 30 s", possible="0.02 to 3600 s",
        measure="From one mark to the other; start the watch after the shaft has begun to move. A "
        "hand is good to ± 0.2 s a run; for a time taken from a film, type your own ± behind it.",
    )  # fmt: skip


def _scatter() -> Any:
    return assumed(later("scatter of the runs, or of the hand at the watch"), cause="scatter")


class Run(Row[str]):
    time: float = _time()


class LoadedRun(Run):
    """With the mass that hung."""

    mass: float = _mass()
    time: float = _time()


def _runs(label: str, *times: str, when: When) -> Any:
    """Timed runs, all with one mass."""
    examples = tuple((f"{time} s",) for time in times)
    return rows(label=label, each=_RUNS, least=2, examples=examples, when=when)


class ShutAir(Group):
    """The air that is shut in with the oil, and the stroke over which it is squeezed."""

    gas: float = from_car("{axle}.inside.gas")
    closed_at: float = from_car("{axle}.inside.closed_at")
    pressure: float = from_car("{axle}.inside.pressure")
    stroke: float = from_car("{axle}.stroke")


class Asked(PistonModel):
    task: Task = choice(
        label="Task",
        options={
            "one": "damping of one damper",
            "friction": "friction and damping apart",
            "sides": "left against right",
        },
        measure="A mass hangs on the shaft, no spring on the damper, and pulls it out: the "
        "rebound.",
    )
    axle: End = which_end()
    which: Literal["left", "right", "spare"] = choice(
        label="Damper",
        options={"left": "left", "right": "right", "spare": "a spare"},
        measure="What you measure goes into the record of this one.",
        when=only("task", "one", "friction"),
    )
    letter: str = text(
        label="Letter on the cap", longest=12, optional=True, when=only("which", "spare"),
        measure="Without a letter its record cannot be found.",
    )  # fmt: skip
    cap: Literal["loose", "shut"] = choice(
        label="Cap of the damper",
        options={"loose": "loosened, air comes and goes", "shut": "closed, as on the car"},
        measure="Loosen it a turn if you can: trapped air pushes the shaft out or holds it back.",
    )
    mass: float = _mass(example="50 g", when=_ONE_MASS)
    distance: float = number(
        label="Distance that is timed", kind="length", usual="5 to 50 mm", possible="1 to 300 mm",
        measure="Between two marks, the first a little below the start, the last before the end.",
        example="18 mm", tool="ruler", readings=2,
    )  # fmt: skip
    runs: tuple[Run, ...] = _runs(
        "Timed runs", "1.18", "1.14", "1.17", "1.20", "1.15", when=only("task", "one")
    )
    loaded: tuple[LoadedRun, ...] = rows(
        label="Timed runs, with two masses or more", each=_RUNS, least=3,
        examples=(
            ("20 g", "3.51 s"), ("20 g", "3.39 s"), ("20 g", "3.57 s"),
            ("50 g", "1.28 s"), ("50 g", "1.25 s"), ("50 g", "1.31 s"),
        ),
        when=only("task", "friction"),
    )  # fmt: skip
    left: tuple[Run, ...] = _runs(
        "Left damper, timed runs", "1.17", "1.14", "1.19", "1.16", "1.15",
        when=only("task", "sides"),
    )  # fmt: skip
    right: tuple[Run, ...] = _runs(
        "Right damper, timed runs", "1.23", "1.20", "1.25", "1.21", "1.22",
        when=only("task", "sides"),
    )  # fmt: skip
    friction: float = number(
        label="Seal drag", kind="force", usual="0 to 0.5 N", possible="0 to 50 N",
        measure="From a hanging-weight test with two masses; 0 where you do not know it.",
        start="0 N",
        when=_ONE_MASS,
    )  # fmt: skip
    oil: float = from_car("{axle}.oil")
    warm: float = warm_oil()
    piston: DamperInputs = group()
    moving: float = from_car("{axle}.inside.moving")
    air: ShutAir = group(when=only("cap", "shut"), change=at_the_end)
    timed_at: float = assumed("where in the stroke the marks are", 0.0, 12**-0.5)
    runs_scatter: float = _scatter()
    left_scatter: float = _scatter()
    right_scatter: float = _scatter()
    difference_scatter: float = _scatter()
    damping_scatter: float = _scatter()
    friction_scatter: float = _scatter()

    @property
    def corner(self) -> Corner | None:
        """Where the one damper is that is tested; None for a spare."""
        at = {corner.side: corner for corner in self.axle.corners}
        return None if self.which == "spare" else at[Side(self.which)]

    @property
    def damper(self) -> str:
        """The one damper that is tested, in words."""
        if self.corner is None and not self.letter:
            return tr("The spare damper")
        return damper_label("" if self.corner else self.letter, self.corner)

    def of_damper(self, reading: str, value: float, u: float, says: str) -> tuple[OfDamper, ...]:
        """What was measured of it, for its record; nothing of one that no record finds."""
        letter = "" if self.corner else self.letter
        if not (self.corner or letter):
            return ()
        return (OfDamper(self.corner or "", letter, reading, value, u, says),)

    @property
    def locks(self) -> bool:
        """Whether the shaft stops short of the end of its stroke, all air squeezed away."""
        return self.cap == "shut" and self._trapped.locked_at <= self.air.stroke

    @property
    def _trapped(self) -> TrappedGas:
        air = self.air
        return TrappedGas(air.gas, air.closed_at, self.piston.shaft, ATMOSPHERE + air.pressure)

    @property
    def air_force(self) -> float:
        """Mean push of the air that is shut in, N, over the timed part of the stroke, which is
        anywhere in it; not for one that `locks`."""
        if self.cap == "loose":
            return 0.0
        air, travel = self.air, min(self.distance, self.air.stroke)
        middle = air.stroke / 2 + self.timed_at * (air.stroke - travel)
        # Simpson's rule over the way from one mark to the other; the air outside is that of a day.
        places = [max(middle + side * travel / 2, 0.0) for side in (-1, 0, 1)]
        first, half, last = map(self._trapped.force_at, places)
        return (first + 4 * half + last) / 6 + air.pressure * self._trapped.area
