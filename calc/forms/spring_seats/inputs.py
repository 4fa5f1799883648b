"""What spring seats asks: where the collars stand by the calliper, and what is wanted."""

from typing import Any, Literal

from calc.asking.declare import choice, number
from calc.asking.entry import When, only
from calc.forms.entered import EndLoads
from calc.forms.fields import which_end
from calc.forms.friction import EndFriction
from calc.forms.recorded import ArmPlaces, at_the_end
from calc.model.corners import End
from calc.replying.inputs import Inputs, Row, from_car, group, rows, up_to

_THREAD, _CLIPS = only("held", "thread"), only("held", "clips")


def _gap(label: str, example: str, *, optional: bool = False, when: When = _THREAD) -> Any:
    return number(
        label=label, kind="length", example=example, usual="1 to 60 mm", possible="0 to 300 mm",
        tool="calliper", optional=optional, when=when,
        measure="With the depth bar of the calliper along the body, to the same face of the collar "
        "each time.",
    )  # fmt: skip


def _clips(label: str, example: str, *, when: When = _CLIPS) -> Any:
    return number(
        label=label, kind="length", example=example, usual="0 to 15 mm", possible="0 to 100 mm",
        tool="calliper", when=when, measure="The thickness of all of them together.",
    )  # fmt: skip


def _cup(label: str, example: str) -> Any:
    return number(
        label=label, kind="length", example=example, usual="0 to 10 mm", possible="0 to 60 mm",
        tool="calliper", when=only("aim", "cup"),
        measure="How high the face under the spring stands over the face that sits on the rod end.",
    )  # fmt: skip


class ClipRow(Row[str]):
    thickness: float = number(
        label="Thickness", kind="length", usual="0.5 to 10 mm", possible="0.1 to 60 mm",
        measure="One for each damper: a size you have only one of does not count.",
    )  # fmt: skip


class Asked(Inputs):
    axle: End = which_end()
    held: Literal["thread", "clips"] = choice(
        label="The spring is held by",
        options={"thread": "a threaded collar", "clips": "clip-on spacers"},
    )
    aim: Literal["gap", "height", "cup"] = choice(
        label="Aim for",
        options={
            "gap": "a place noted, or given by a manual",
            "height": "a ride height",
            "cup": "the same height on other cups",
        },
    )
    reference: Literal["cap", "foot"] = choice(
        label="The gap is measured from",
        options={"cap": "the cap, at the top", "foot": "the lower end of the body"},
        measure="From the cap it grows as the collar goes down, from the lower end it shrinks.",
        when=_THREAD,
    )
    gap_left: float = _gap("Gap left", "12 mm")
    gap_right: float = _gap("Gap right", "12.1 mm")
    wanted_gap: float = _gap("Gap wanted", "13 mm", when=_THREAD + only("aim", "gap"))
    clips_left: float = _clips("Spacers on the left damper", "2 mm")
    clips_right: float = _clips("Spacers on the right damper", "2 mm")
    wanted_clips: float = _clips("Spacers wanted on each", "4 mm", when=_CLIPS + only("aim", "gap"))
    clip: tuple[ClipRow, ...] = rows(
        label="Spacers you have", each=up_to(6, "Spacer"), least=1, when=_CLIPS,
        examples=(("1 mm",), ("2 mm",), ("3 mm",)),
    )  # fmt: skip
    cup_now: float = _cup("Height of the cup now", "2 mm")
    cup_new: float = _cup("Height of the other cup", "4 mm")
    ride_height: float = from_car("{axle}.ride_height")
    wanted_height: float = from_car("{axle}.wanted_height", when=only("aim", "height"))
    pitch: float = from_car("{axle}.pitch", when=_THREAD)
    gap_top: float | None = _gap("Gap with the collar all the way up", "3 mm", optional=True)
    gap_foot: float | None = _gap("Gap with the collar all the way down", "26 mm", optional=True)
    turn_step: float = from_car("tools.turn_step", when=_THREAD)
    thread_hand: Literal["right", "left"] = from_car("thread_hand", when=_THREAD)
    droop_length: float = from_car("{axle}.droop_length")
    spring_free: float = from_car("{axle}.spring_free")
    spring_rate: float = from_car("{axle}.spring_rate")
    spring_solid: float = from_car("{axle}.spring_solid")
    stroke: float = from_car("{axle}.stroke")
    motion_ratio: float = from_car("{axle}.motion_ratio")
    loads: EndLoads = group()
    friction: EndFriction = group(change=at_the_end)
    arm: ArmPlaces = group(prefix="arm.", change=at_the_end)
