"""What collar turns asks: heights, wanted or turns given, of one end, both ends or four corners."""

from collections.abc import Mapping
from typing import Any, Literal

from calc.asking.declare import choice, number
from calc.asking.entry import When, only
from calc.forms.entered import CornerRow, OnCorners, SprungEnd, at_scales
from calc.forms.fields import which_end
from calc.forms.findings import MOST_TURNS
from calc.forms.friction import EndFriction
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.forms.recorded import ArmPlaces, Shaft, Tyre, at_ends, at_the_end
from calc.model.corners import End
from calc.replying.inputs import Group, from_car, group, rows

_ONE, _BOTH, _FOUR = only("scope", "axle"), only("scope", "both"), only("scope", "corners")
_PAIRS = only("scope", "both", "corners")
_FIND, _GIVE = only("ask", "turns"), only("ask", "height")
_POSSIBLE = f"{-MOST_TURNS:.0f} to {MOST_TURNS:.0f} turns"


def _turns(label: str, start: str, when: When) -> Any:
    return number(
        label=label, kind="turns", usual="-4 to 4 turns", possible=_POSSIBLE,
        measure="Down raises the car and is positive; up is negative.", start=start, when=when,
    )  # fmt: skip


class Weighed(Group):
    """What the scales under an end show, kg; of one not weighed the droop stop is left out."""

    load_left: float | None = at_scales("left", optional=True)
    load_right: float | None = at_scales("right", optional=True)
    unsprung: float = from_car("{axle}.unsprung")

    @property
    def mean(self) -> float | None:
        """What a scale shows on average, kg."""
        left, right = self.load_left, self.load_right
        return None if left is None or right is None else (left + right) / 2


class EndRow(SprungEnd):
    ride_height: float = from_car("{row}.ride_height", when=_BOTH)
    wanted_height: float = from_car("{row}.wanted_height", when=_BOTH + _FIND)
    turns: float = _turns("Turns of both collars", "1 turn", _BOTH + _GIVE)
    pitch: float = from_car("{row}.pitch")
    motion_ratio: float = from_car("{row}.motion_ratio")
    spring_rate: float = from_car("{row}.spring_rate")
    spring_free: float = from_car("{row}.spring_free")
    droop_length: float = from_car("{row}.droop_length")
    unsprung: float = from_car("{row}.unsprung", when=_FOUR)
    reach: float = from_car("{row}.reach")
    track: float = from_car("{row}.track", when=_FOUR)
    gauge_width: float = from_car("{row}.gauge_width", when=_FOUR)


class HeightRow(CornerRow):
    load: float = from_car("corners.{row}.load")
    height: float = from_car("{end}.ride_height", label="Height now")
    wanted: float = from_car("{end}.wanted_height", label="Height wanted", when=_FIND)
    turns: float = _turns("Turns of the collar", "0 turns", _GIVE)


class Asked(OnCorners):
    scope: Literal["axle", "both", "corners"] = choice(
        label="Which part of the car",
        options={"axle": "one end", "both": "both ends", "corners": "four corners"},
        measure="“Four corners” also balances the loads; it asks for more measurements.",
    )
    ask: Literal["turns", "height"] = choice(
        label="What do you want to know",
        options={"turns": "turns for a height", "height": "height after turns"},
    )
    axle: End = which_end(_ONE)
    ride_height: float = from_car("{axle}.ride_height", when=_ONE)
    wanted_height: float = from_car("{axle}.wanted_height", when=_ONE + _FIND)
    turns: float = _turns("Turns of both collars", "1 turn", _ONE + _GIVE)
    pitch: float = from_car("{axle}.pitch", when=_ONE)
    motion_ratio: float = from_car("{axle}.motion_ratio", when=_ONE)
    spring_rate: float = from_car("{axle}.spring_rate", when=_ONE)
    spring_free: float = from_car("{axle}.spring_free", when=_ONE)
    droop_length: float = from_car("{axle}.droop_length", when=_ONE)
    reach: float = from_car("{axle}.reach", when=_ONE)
    end: tuple[EndRow, ...] = rows(
        label="Ends of the car", each=END_LABELS, every=True, when=_PAIRS
    )
    corner: tuple[HeightRow, ...] = rows(
        label="Corners", each=CORNER_LABELS, every=True, when=_FOUR
    )
    cross_wanted: float | None = number(
        label="Cross weight wanted", kind="share", usual="48 to 52 %", possible="20 to 80 %",
        measure="Front left + rear right, of the whole. 50% is even; anything else is tweak. "
        "Leave it empty if it does not matter.",
        start="50 %", optional=True, when=_FOUR + _FIND,
    )  # fmt: skip
    wheelbase: float = from_car("body.wheelbase")
    turn_step: float = from_car("tools.turn_step")
    thread_hand: Literal["right", "left"] = from_car("thread_hand")
    loads: Weighed = group(when=_ONE, change=at_the_end)
    loads_at: Mapping[End, Weighed] = at_ends(when=_BOTH)
    friction: EndFriction = group(when=_ONE, change=at_the_end)
    frictions: Mapping[End, EndFriction] = at_ends(when=_PAIRS)
    tyres: Mapping[End, Tyre] = at_ends(when=_FOUR)
    shaft: Shaft = group(when=_ONE, change=at_the_end)
    shafts: Mapping[End, Shaft] = at_ends(when=_PAIRS)
    arm: ArmPlaces = group(prefix="arm.", when=_ONE, change=at_the_end)
    arms: Mapping[End, ArmPlaces] = at_ends(prefix="arm.", when=_PAIRS)
