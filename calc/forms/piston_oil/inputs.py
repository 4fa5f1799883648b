"""What piston and oil asks."""

from typing import Any, Literal

from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.forms.bottles import BottleRow, bottles_owned
from calc.forms.fields import which_end
from calc.forms.filling import EndFill, by_syringe
from calc.forms.gas import ShutIn
from calc.forms.oil_warm import warm_oil
from calc.forms.piston import DamperInputs, PistonInputs, PistonModel, other_piston_inputs
from calc.forms.recorded import at_the_end
from calc.model.corners import End
from calc.physics.damper import Direction
from calc.replying.inputs import assumed, from_car, group

_FORCE, _MATCH = only("task", "force"), only("task", "match")
_MIXED = _FORCE + only("air", "mixed")


def _speed(label: str, start: str, measure: str, **more: Any) -> Any:
    return number(
        label=label, kind="speed", usual="0.005 to 1.5 m/s", possible="0.001 to 2 m/s",
        start=start, measure=measure, **more,
    )  # fmt: skip


class Asked(PistonModel):
    task: Literal["force", "match"] = choice(
        label="Task",
        options={"force": "force of my piston and oil", "match": "the oil for another piston"},
    )
    axle: End = which_end()
    oil: float = from_car("{axle}.oil")
    warm: float = warm_oil()
    slow: float = _speed(
        "Slow shaft speed", "0.02 m/s",
        "Roll, dive and squat: 20 to 50 mm/s.",
    )  # fmt: skip
    fast: float = _speed(
        "Fast shaft speed", "0.5 m/s",
        "Landings and kerbs: 500 mm/s and more.",
    )  # fmt: skip
    air: Literal["apart", "mixed"] = choice(
        label="Air in the damper",
        options={"apart": "apart from the oil", "mixed": "mixed into the oil"},
        measure="Apart: behind a bladder, or risen to the cap while the damper stood. Mixed: an "
        "emulsion damper on the track, or one that was not bled.",
        when=_FORCE,
    )
    air_share: float = number(
        label="Share of air in the oil", kind="share", usual="1 to 20 %", possible="0 to 50 %",
        example="10 %", relative=0.3, when=_MIXED,
        measure="Trapped air as a share of air and oil together: 0.4 mL with 3.6 mL of oil is "
        "10%. All of it is mixed in after hard running, less when the damper has stood.",
    )  # fmt: skip
    column: float = number(
        label="Oil between piston and seal", kind="length", usual="5 to 30 mm",
        possible="0.5 to 300 mm", start="12 mm", typical="12 mm", relative=0.2, when=_MIXED,
        measure="From the piston to the seal that the shaft comes out of, with the car at rest.",
    )  # fmt: skip
    match_speed: float = _speed(
        "Match at shaft speed", "0.1 m/s",
        "Where you feel the difference: between the slow and the fast speed.", when=_MATCH,
    )  # fmt: skip
    way: Direction = choice(
        label="Match in",
        options={"rebound": "rebound", "compression": "compression"},
        measure="It matters only where holes close in one direction.",
        when=_MATCH,
    )
    other: PistonInputs = other_piston_inputs(_MATCH)
    bottles: tuple[BottleRow, ...] = bottles_owned(when=_MATCH)
    syringe: float = by_syringe(when=_MATCH)
    piston: DamperInputs = group()
    shut_in: ShutIn = group(change=at_the_end)
    fill: EndFill = group(when=_MATCH, change=at_the_end)
    drawn_out: float = assumed("how far the flow draws the bubbles out", 0.5, 12**-0.5)

    def behind(self) -> float:
        """Absolute pressure of the gas over the oil, Pa, wherever in its stroke the shaft is."""
        return self.shut_in.behind(self.piston.shaft)
