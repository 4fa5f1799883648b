"""What spring preload asks: one spring on its collar, the damper, the loads of its end."""

from typing import Literal

from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.forms.entered import EndLoads
from calc.forms.fields import which_end
from calc.forms.gas import air_push
from calc.forms.recorded import ArmPlaces, DrawnBody, Tyre, at_the_end
from calc.model.corners import End
from calc.replying.inputs import Inputs, from_car, group


class Asked(Inputs):
    axle: End = which_end()
    known: Literal["length", "turns"] = choice(
        label="Preload is known from",
        options={"length": "spring length at full droop", "turns": "turns down from first touch"},
        measure="First touch: the collar just meets the spring while the wheel hangs free.",
    )
    droop_length: float = from_car("{axle}.droop_length", when=only("known", "length"))
    past_touch: float = number(
        label="Turns down from first touch", kind="turns", usual="0 to 10 turns",
        possible="-60 to 200 turns", start="2 turns", when=only("known", "turns"),
        measure="From where the collar just touches the spring at full droop, counted downwards.",
    )  # fmt: skip
    spring_free: float = from_car("{axle}.spring_free")
    spring_rate: float = from_car("{axle}.spring_rate")
    spring_solid: float = from_car("{axle}.spring_solid")
    stroke: float = from_car("{axle}.stroke")
    motion_ratio: float = from_car("{axle}.motion_ratio")
    pitch: float = from_car("{axle}.pitch")
    loads: EndLoads = group()
    wanted_sag: float | None = number(
        label="Sag wanted, share of wheel travel", kind="share", usual="15 to 50 %",
        possible="0.1 to 99.9 %", optional=True,
        measure="Leave it empty to see what the spring does now.",
    )  # fmt: skip
    turn_step: float = from_car("tools.turn_step")
    thread_hand: Literal["right", "left"] = from_car("thread_hand")
    arm: ArmPlaces = group(prefix="arm.", change=at_the_end)
    body: DrawnBody = group(change=at_the_end)
    tyre: Tyre = group(change=at_the_end)
    air_push: float = air_push()
