"""What changes on the car, and what the form takes from the record besides, folded at its end."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, Literal

from calc.asking.declare import choice, number
from calc.asking.entry import When, only
from calc.forms.arm import DrawnArm
from calc.forms.end_damper import BothDampers, EndDamper
from calc.forms.entered import CornerRow, Weighed
from calc.forms.filling import EndFill, by_syringe, oil_held
from calc.forms.friction import EndFriction, FourCorners
from calc.forms.gas import Gas
from calc.forms.hurry import IN_A_HURRY, Hurry
from calc.forms.names import CORNER_LABELS
from calc.forms.oil_warm import warm_oil
from calc.forms.recorded import FOLDED, ArmPlaces, Tyre, at_ends, of_end
from calc.model.corners import ENDS, End
from calc.replying.inputs import Group, from_car, group, groups, rows

_HOLE, _NOT_HOLE = only("change", "hole"), only("change", "spring", "piston", "oil", "load")
_LOAD, _NOT_LOAD = only("change", "load"), only("change", "spring", "hole", "piston", "oil")
_FILLS = only("change", "spring", "hole", "piston", "load")
"""Changes after which another oil may keep the damping."""
_MASS = _LOAD + only("load_known", "mass")


def _new(label: str, kind: str, usual: str, possible: str, **more: Any) -> Any:
    return number(
        label=label, kind=kind, usual=usual, possible=possible,
        measure="Empty: it stays as it is.", optional=True, **more,
    )  # fmt: skip


class NewSpring(Group):
    rate: float | None = _new(
        "New {end} spring rate", "rate", "0.1 to 5 N/mm", "0.005 to 200 N/mm",
        example="0.76 N/mm", relative=0.03,
    )  # fmt: skip
    free: float | None = _new(
        "New {end} spring free length", "length", "20 to 120 mm", "5 to 500 mm",
        example="40 mm", tool="ruler",
    )  # fmt: skip
    solid: float | None = _new(
        "New {end} spring solid length", "length", "5 to 60 mm", "1 to 400 mm",
        example="14 mm", tool="ruler",
    )  # fmt: skip


class NewPiston(Group):
    holes: float | None = _new(
        "Holes of the new {end} piston, open both ways", "count", "1 to 10", "0 to 20", whole=True
    )
    hole: float | None = _new(
        "Diameter of a hole of the new {end} piston", "length", "0.8 to 2 mm", "0.2 to 8 mm",
        example="1.7 mm", tool="calliper",
    )  # fmt: skip
    thickness: float | None = _new(
        "Thickness of the new {end} piston", "length", "1 to 4 mm", "0.2 to 20 mm",
        tool="calliper",
    )  # fmt: skip


class NewOil(Group):
    oil: float | None = _new(
        "New {end} oil, at 25 °C", "viscosity", "100 to 1500 cSt", "5 to 200000 cSt",
        example="500 cSt", relative=0.03,
    )  # fmt: skip


def _new_at_ends(when: When) -> Any:
    """Something new for each end. It is the front of the demo car that gets it."""

    def at(end: str) -> Callable[[Any], Any]:
        def made(entry: Any) -> Any:
            example = entry.example if end == End.FRONT else None
            return replace(entry, label=entry.label.format(end=end), example=example)

        return made

    return groups(keys=ENDS, prefix="{key}_", when=when, change=at)


def _place(label: str, measure: str, example: str) -> Any:
    return number(
        label=label, kind="length", usual="-200 to 400 mm", possible="-3000 to 3000 mm",
        measure=measure, example=example, tool="ruler", when=_MASS,
    )  # fmt: skip


class RatioInputs(ArmPlaces):
    """Motion ratio of an end, and how it grows where its arm is known."""

    motion_ratio: float = from_car("{axle}.motion_ratio")


class EndInputs(Gas, EndFill):
    """An end as it is: springs, wheels, the oil and the gas in its dampers, their hole."""

    spring_rate: float = from_car("{axle}.spring_rate")
    spring_free: float = from_car("{axle}.spring_free")
    spring_solid: float = from_car("{axle}.spring_solid")
    droop_length: float = from_car("{axle}.droop_length")
    stroke: float = from_car("{axle}.stroke")
    pitch: float = from_car("{axle}.pitch")
    unsprung: float = from_car("{axle}.unsprung")
    oil: float = from_car("{axle}.oil")
    track: float = from_car("{axle}.track")
    ratio: RatioInputs = group(when=_NOT_HOLE)
    stays: RatioInputs = group(prefix="stays.", when=_HOLE + only("hole_end", "{other}"))
    arm: DrawnArm = group(when=_HOLE + only("hole_end", "{axle}", "both"))
    held: float = oil_held(when=_FILLS)
    ride_height: float | None = from_car(
        "{axle}.ride_height", optional=True, when=only("keep", "preload")
    )
    """Where it is not known, no height is predicted."""
    length: float | None = from_car(
        "{axle}.inside.length", optional=True, when=_NOT_LOAD + IN_A_HURRY
    )


def _of_this_end(end: str) -> Callable[[Any], Any]:
    """As `of_end`, in conditions too: "{axle}" is the end, "{other}" the other one."""
    made, (other,) = of_end(end), (one for one in ENDS if one != end)

    def changed(entry: Any) -> Any:
        when = tuple(
            (choice, frozenset(value.format(axle=end, other=other) for value in values))
            for choice, values in entry.when
        )
        return replace(made(entry), when=when)

    return changed


class CarHurry(Hurry):
    """And what the work at a corner takes, its damper shut."""

    at_corner: float = number(
        label="Time at one corner, damper not opened", kind="wait",
        usual="1 to 15 min", possible="5 to 20000 s", start="3 min", typical="3 min", relative=0.2,
        when=IN_A_HURRY + only("change", "spring", "hole"),
        measure="Its spring changed, or the damper moved to its other hole. Turning a collar alone "
        "is not counted. The number given is a guess (common practice, no source): time yourself "
        "once.",
    )  # fmt: skip

    @property
    def at_corner_longest(self) -> float:
        """As long as it may take (k = 2), s."""
        return self.longest(CarHurry.at_corner)


class ScaleRow(CornerRow):
    """What a scale shows with the new load in: no value of the car, for the work that follows
    changes it."""

    load: float = replace(from_car("corners.{row}.load"), car="", start=None)


class Asked(Weighed, FourCorners, BothDampers):
    change: Literal["spring", "hole", "piston", "oil", "load"] = choice(
        label="What are you changing",
        options={
            "spring": "a spring",
            "hole": "the mounting hole",
            "piston": "a piston",
            "oil": "the oil",
            "load": "the load",
        },
        measure="Everything else is as shown below, from the car record.",
    )
    keep: Literal["height", "preload"] = choice(
        label="Use the collars to keep",
        options={"height": "the ride height", "preload": "the preload"},
        measure="One collar cannot keep both when the spring or the load changes.",
    )
    hurry: CarHurry = group(when=_NOT_LOAD)
    new_springs: Mapping[End, NewSpring] = _new_at_ends(only("change", "spring"))
    hole_end: Literal["front", "rear", "both"] = choice(
        label="Move to the other mounting hole",
        options={"front": "the front dampers", "rear": "the rear dampers", "both": "all four"},
        measure="Both holes are entered below: see Motion ratio and mounting holes.",
        when=_HOLE,
    )
    new_pistons: Mapping[End, NewPiston] = _new_at_ends(only("change", "piston"))
    new_oils: Mapping[End, NewOil] = _new_at_ends(only("change", "oil"))
    load_known: Literal["mass", "scales"] = choice(
        label="Enter the new weight as",
        options={"mass": "a mass and its place", "scales": "four scale readings"},
        when=_LOAD,
    )
    added: float = number(
        label="Weight added", kind="mass", usual="-300 to 300 g", possible="-20 to 20 kg",
        measure="Battery, motor, ballast; what is taken out is negative.",
        example="60 g", tool="scale", when=_MASS,
    )  # fmt: skip
    along: float = _place(
        "How far ahead of the rear axle",
        "Along the car, to the middle of what is added.",
        "140 mm",
    )
    across: float = _place(
        "How far left of the middle", "Across the car; right is negative.", "0 mm"
    )
    scales: tuple[ScaleRow, ...] = rows(
        label="Scale readings with the new load", each=CORNER_LABELS, every=True,
        examples=(("381 g",), ("374 g",), ("477 g",), ("484 g",)),
        when=_LOAD + only("load_known", "scales"),
    )  # fmt: skip
    speed: float = number(
        label="Shaft speed to keep the damping at", kind="speed", usual="0.01 to 0.2 m/s",
        possible="0.001 to 2 m/s", measure="20 to 50 mm/s for chassis roll and dive.",
        start="0.05 m/s",
    )  # fmt: skip
    warm: float = warm_oil()
    turn_step: float = from_car("tools.turn_step")
    thread_hand: Literal["right", "left"] = from_car("thread_hand")
    corner: tuple[CornerRow, ...] = rows(
        label="Corners", each=CORNER_LABELS, every=True, group=FOLDED
    )
    wheelbase: float = from_car("body.wheelbase", group=FOLDED)
    syringe: float = by_syringe(when=_FILLS)
    ends: Mapping[End, EndInputs] = at_ends(change=_of_this_end)
    frictions: Mapping[End, EndFriction] = at_ends()
    tyres: Mapping[End, Tyre] = at_ends()
    dampers: Mapping[End, EndDamper] = at_ends()

    def gas(self, end: End) -> EndInputs:
        return self.ends[end]
