"""Collar turns and ride height: one end, both ends, or four corners; turns from height or back."""

from dataclasses import replace

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Number, Rows, only
from calc.forms.collar_turns import corners as collar_corners
from calc.forms.collar_turns import ends as collar_ends
from calc.forms.entered import arm_of_end, arms, tyres
from calc.forms.fields import AXLE, corner_load_fields
from calc.forms.friction import friction_of_end, frictions
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.replying.form import Form, Given, from_car

_TURNS = (-4.0, 4.0), (-60.0, 60.0)
_ONE, _BOTH, _FOUR = only("scope", "axle"), only("scope", "both"), only("scope", "corners")
_PAIRS = only("scope", "both", "corners")
_FIND, _GIVE = only("ask", "turns"), only("ask", "height")


def _turns(label: str, start: float, **more: object) -> Number:
    measure = "Down raises the car and is positive; up is negative."
    return Number(label, "turns", *_TURNS, measure, start=start, **more)  # type: ignore[arg-type]


FIELDS = (
    Choice(
        "Which part of the car",
        (("axle", "one end"), ("both", "both ends"), ("corners", "four corners")),
        "Four corners also balances the loads; it asks for more measurements.",
        name="scope",
    ),
    Choice(
        "What do you want to know",
        (("turns", "turns for a height"), ("height", "height after turns")),
        name="ask",
    ),
    replace(AXLE, when=_ONE),
    from_car("{axle}.ride_height", when=_ONE),
    from_car("{axle}.wanted_height", when=_ONE + _FIND),
    _turns("Turns of both collars", 1.0, name="turns", when=_ONE + _GIVE),
    from_car("{axle}.pitch", when=_ONE),
    from_car("{axle}.motion_ratio", when=_ONE),
    from_car("{axle}.spring_rate", when=_ONE),
    from_car("{axle}.spring_free", when=_ONE),
    from_car("{axle}.droop_length", when=_ONE),
    *corner_load_fields(when=_ONE),
    from_car("{axle}.reach", when=_ONE),
    Rows(
        "Ends of the car",
        (
            from_car("{row}.ride_height", when=_BOTH),
            from_car("{row}.wanted_height", when=_BOTH + _FIND),
            _turns("Turns of both collars", 1.0, name="turns", when=_BOTH + _GIVE),
            from_car("{row}.pitch"),
            from_car("{row}.motion_ratio"),
            from_car("{row}.spring_rate"),
            from_car("{row}.spring_free"),
            from_car("{row}.droop_length"),
            from_car("{row}.unsprung"),
            from_car("{row}.reach"),
            from_car("{row}.track", when=_FOUR),
            from_car("{row}.gauge_width", when=_FOUR),
        ),
        END_LABELS,
        name="end",
        every=True,
        when=_PAIRS,
    ),
    Rows(
        "Corners",
        (
            from_car("corners.{row}.load"),
            from_car("{end}.ride_height", "height", label="Height now", when=_FOUR),
            from_car("{end}.wanted_height", "wanted", label="Height wanted", when=_FOUR + _FIND),
            _turns("Turns of the collar", 0.0, name="turns", when=_FOUR + _GIVE),
        ),
        CORNER_LABELS,
        name="corner",
        every=True,
        when=_PAIRS,
    ),
    Number(
        "Cross weight wanted", "share", (0.48, 0.52), (0.2, 0.8),
        "Front left + rear right, of the whole. 50% is even; anything else is tweak. "
        "Leave it empty if you do not mind.",
        name="cross_wanted", start=0.5, optional=True, when=_FOUR + _FIND,
    ),
    from_car("body.wheelbase"),
    from_car("tools.turn_step"),
    from_car("thread_hand"),
    *friction_of_end(when=_ONE),
    *frictions(when=_PAIRS),
    *tyres(when=_FOUR),
    *arm_of_end(when=_ONE),
    *arms(when=_PAIRS),
)  # fmt: skip


def solve(given: Given) -> Answer:
    scope = given.choice("scope")
    if scope == "corners":
        return collar_corners.solve(given)
    return collar_ends.solve_both(given) if scope == "both" else collar_ends.solve_one(given)


FORM = Form(
    "collar-turns",
    "Collar turns and ride height",
    "car",
    "How far to turn which collar for the height you want?",
    FIELDS,
    solve,
    first=(
        "ride_height",
        "wanted_height",
        "end.ride_height",
        "end.wanted_height",
        "corner.load",
        "corner.height",
        "corner.wanted",
    ),
    drawings={"wanted": "ride-height"},
)
