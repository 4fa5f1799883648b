"""Ride frequency and damping ratio of both ends, and the oil for a wanted ratio."""

from calc.answering.answer import Answer
from calc.asking.entry import Entry, Number, Rows
from calc.forms.bottles import amount_field, bottle_rows
from calc.forms.end_damper import damper_doubts, dampers
from calc.forms.entered import arms, with_growth
from calc.forms.inputs import with_inputs
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.forms.oil_warm import law_doubt
from calc.forms.ride_frequency import words
from calc.forms.ride_frequency.figures import figures, ride
from calc.model.corners import ENDS
from calc.replying.form import Form, Given, from_car

FIELDS: tuple[Entry, ...] = (
    Rows(
        "Ends of the car",
        (
            from_car("{row}.spring_rate"),
            from_car("{row}.motion_ratio"),
            from_car("{row}.unsprung"),
            from_car("{row}.oil"),
            Number(
                "Damping ratio wanted", "ratio", (0.3, 1.0), (0.02, 5.0),
                "1 comes back from a bump without swinging past, 0.5 swings past by a sixth "
                "(the sum, not a rule of the trade: try what the track asks for).",
                name="wanted", start=0.6,
            ),
        ),
        END_LABELS,
        name="end",
        every=True,
    ),
    Rows(
        "Corners",
        (from_car("corners.{row}.load"),),
        CORNER_LABELS,
        name="corner",
        every=True,
    ),
    Number(
        "Shaft speed reckoned with", "speed", (0.01, 0.2), (0.001, 2.0),
        "The ratio holds for one speed: a few hundredths of a metre in a second for body roll and "
        "dive.",
        name="speed", start=0.05,
    ),
    from_car("temperature", "warm", label="Temperature of the oil", fills_only=True),
    amount_field(8e-6),
    bottle_rows(),
    *dampers(),
    *arms(),
)  # fmt: skip


def solve(given: Given) -> Answer:
    given = with_inputs(with_growth(given), {**damper_doubts(), "law_now": law_doubt(given.warm)})
    doubted = given.carry(figures)
    ends = {end: ride(given, end) for end in ENDS}
    oils = {end: words.oil_for(given, ends[end], doubted[f"{end}_ratio"]) for end in ENDS}
    return Answer(
        steps=tuple(words.step(given, ends[end], oils[end]) for end in ENDS),
        quantities=words.quantities(given, doubted, oils),
        tables=words.tables(given, ends),
        plots=words.plots(given, ends, oils),
        cautions=words.cautions(given, ends, oils),
        working=words.working(given, ends),
        writes=words.writes(given, oils),
        poured=words.taken(oils),
    )


FORM = Form(
    "ride-frequency",
    "Ride frequency and damping ratio",
    "car",
    "How fast does each end swing, how well is it damped, and which oil damps it as you want?",
    FIELDS,
    solve,
)
