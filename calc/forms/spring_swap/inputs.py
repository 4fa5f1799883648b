"""What a spring swap asks: the springs now and then, the damper, the loads."""

from typing import Literal

from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.forms.entered import EndLoads
from calc.forms.fields import SpringInputs, spring_typed, which_end
from calc.forms.friction import EndFriction
from calc.forms.gas import air_push
from calc.forms.recorded import ArmPlaces, DrawnBody, Tyre, at_the_end
from calc.model.corners import End
from calc.replying.inputs import Inputs, from_car, group


class Asked(Inputs):
    axle: End = which_end()
    now_is: Literal["single", "pair"] = choice(
        label="On the damper now",
        options={"single": "one spring", "pair": "two in series"},
        measure="Two in series: one on the other, with a washer between them.",
    )
    new_is: Literal["single", "pair", "owned"] = choice(
        label="The new one is",
        options={"single": "one spring", "pair": "two in series", "owned": "one of my list"},
    )
    spring_rate: float = from_car("{axle}.spring_rate", label="Spring rate now")
    spring_free: float = from_car("{axle}.spring_free", label="Free length now")
    spring_solid: float = from_car("{axle}.spring_solid", label="Solid length now")
    second: SpringInputs = spring_typed(
        "Second fitted spring", "second_", rate="2 N/mm", free="15 mm", solid="6 mm",
        when=only("now_is", "pair"),
    )  # fmt: skip
    owned: float = number(
        label="Number of the spring in my list", kind="count", usual="1 to 20",
        possible="1 to 20", start="2", whole=True, when=only("new_is", "owned"),
        measure="Counted from the top of the springs owned, on the page of the car.",
    )  # fmt: skip
    new: SpringInputs = spring_typed(
        "New spring", "new_", rate="0.76 N/mm", free="40 mm", solid="14 mm",
        when=only("new_is", "single", "pair"),
    )  # fmt: skip
    second_new: SpringInputs = spring_typed(
        "Second new spring", "with_", rate="2 N/mm", free="15 mm", solid="6 mm",
        when=only("new_is", "pair"),
    )  # fmt: skip
    droop_length: float = from_car(
        "{axle}.droop_length", label="Length from collar to cup at full droop, now"
    )
    stroke: float = from_car("{axle}.stroke")
    motion_ratio: float = from_car("{axle}.motion_ratio")
    pitch: float = from_car("{axle}.pitch")
    loads: EndLoads = group()
    turn_step: float = from_car("tools.turn_step")
    thread_hand: Literal["right", "left"] = from_car("thread_hand")
    friction: EndFriction = group(change=at_the_end)
    arm: ArmPlaces = group(prefix="arm.", change=at_the_end)
    body: DrawnBody = group(change=at_the_end)
    tyre: Tyre = group(change=at_the_end)
    air_push: float = air_push()
