"""Corner loads: shares of four scale readings, and the opposite turns for a cross weight."""

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Entry, Number, Rows
from calc.forms.corner_loads import words
from calc.forms.corner_loads.figures import best, figures, stand
from calc.forms.entered import arms, tyres, with_growth
from calc.forms.findings import check_thread
from calc.forms.friction import frictions, with_corner_frictions
from calc.forms.inputs import with_inputs
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.language import later
from calc.model.corners import CORNERS
from calc.replying.form import Form, Given, from_car

FIELDS: tuple[Entry, ...] = (
    Rows(
        "What the four scales show",
        (from_car("corners.{row}.load"),),
        CORNER_LABELS,
        "Ready to run, battery in, wheels straight, the scales level; roll the car on, bounce it, "
        "read. Again after lifting it: twice the same is a reading.",
        name="corner",
        every=True,
    ),
    Number(
        "Cross weight wanted", "share", (0.48, 0.52), (0.2, 0.8),
        "Front left + rear right, of the whole. 50% is even; anything else is tweak.",
        name="cross_wanted", start=0.5,
    ),
    Choice(
        "Turn the collars of",
        (("all", "all four corners"), ("front", "the front pair"), ("rear", "the rear pair")),
        "All four, the left against the right and the front against the rear, keep the car level; "
        "one pair alone lets it lean a little.",
        name="where",
    ),
    Rows(
        "Ends of the car",
        (
            from_car("{row}.spring_rate"),
            from_car("{row}.spring_free"),
            from_car("{row}.droop_length"),
            from_car("{row}.motion_ratio"),
            from_car("{row}.pitch"),
            from_car("{row}.unsprung"),
            from_car("{row}.track"),
        ),
        END_LABELS,
        name="end",
        every=True,
    ),
    from_car("body.wheelbase"),
    from_car("tools.turn_step"),
    from_car("thread_hand"),
    *frictions(),
    *tyres(),
    *arms(),
)  # fmt: skip


_LEVEL = 0.1e-3
"""m, standard uncertainty; a board and four scales lie no better than that without being levelled
by a gauge (common practice, no source)."""
_LEVELLED = later("how level the four scales stand")


def solve(given: Given) -> Answer:
    given = with_corner_frictions(with_growth(given))
    given = with_inputs(given, {"level": (0.0, _LEVEL, _LEVELLED)})
    now = stand(given)
    turns = best(given, now)
    for corner, leg, n in zip(CORNERS, now.legs, turns, strict=True):
        check_thread("cross_wanted", corner, n, leg.pitch, leg.seat.stack.free)
    after = now.turned(turns)
    doubted = given.carry(lambda shifted: figures(shifted, turns))
    return Answer(
        steps=words.steps(given, turns, after),
        above=words.above(given, turns, after),
        quantities=words.quantities(given, doubted),
        tables=words.tables(given, now, turns, after),
        plots=(words.plot(given, now, turns),),
        cautions=words.cautions(given, now, after),
        on_doubt=lambda: tuple(words.hidden(given, after, doubted["cross_weight"])),
        working=words.working(given, now),
        writes=words.writes(given, turns),
    )


FORM = Form(
    "corner-loads",
    "Corner loads and cross weight",
    "car",
    "How is the weight shared out, and which turns bring the cross weight where it should be?",
    FIELDS,
    solve,
    first=("corner.load",),
)
