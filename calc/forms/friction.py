"""Friction of the standing car in the forms: seals and joints hold it anywhere within a band.

Pressed down and let go it stands low by half the band, lifted and let go high by as much; rolled or
bounced, anywhere between. What it does at a corner is what so much collar would do there.
"""

import math
from collections.abc import Iterator, Sequence

from calc.answering.answer import Caution
from calc.asking.entry import Number, When
from calc.forms.inputs import with_inputs
from calc.forms.names import corner_label, end_label, end_word
from calc.forms.recorded import StandingFriction, folded, folded_at
from calc.language import later, tr
from calc.model.corners import CORNERS, ENDS, End
from calc.replying.form import Given

AGAIN = math.sqrt(2.0)
"""What is seen of the band from one reading to the next: it is another place each time, and both
are equally doubtful."""
_REST = later("where friction lets it come to rest")


def friction_of_end(when: When = ()) -> tuple[Number, ...]:
    """The band of the chosen end."""
    return folded(StandingFriction, when=when)


def frictions(when: When = ()) -> tuple[Number, ...]:
    """The bands of both ends."""
    return tuple(entry for end in ENDS for entry in folded_at(end, StandingFriction, when=when))


def with_end_friction(given: Given, end: End) -> Given:
    """The entries joined by where in its band the chosen end stands: one push moves both of its
    corners alike."""
    return with_inputs(given, {f"{end}.rest": (0.0, _spread(given, "friction"), _label(end))})


def with_end_frictions(given: Given) -> Given:
    """The same for both ends."""
    return with_inputs(
        given,
        {f"{end}.rest": (0.0, _spread(given, f"{end}.friction"), _label(end)) for end in ENDS},
    )


def with_corner_frictions(given: Given) -> Given:
    """The entries joined by where in its band each corner stands, each for itself."""
    extra = {
        f"{corner}.rest": (
            0.0,
            _spread(given, f"{corner.end}.friction"),
            tr("{row}, {column}", row=corner_label(corner), column=tr(_REST)),
        )
        for corner in CORNERS
    }
    return with_inputs(given, extra)


def _label(end: End) -> str:
    return tr("{row}, {column}", row=end_label(end), column=tr(_REST))


def _spread(given: Given, name: str) -> float:
    """Standard uncertainty of the place in a band, m: any is as likely (JCGM 100:2008, 4.3.7), and
    the band has a doubt of its own."""
    return math.hypot(given.numbers[name], given.u[name]) / math.sqrt(12.0)


def rest(given: Given, end: End) -> float:
    """How high in its band the end stands, m."""
    return given.numbers[f"{end}.rest"]


def rests(given: Given) -> Sequence[float]:
    """The same of the four corners."""
    return [given.numbers[f"{corner}.rest"] for corner in CORNERS]


def hides(end: End, rise: float, band: float, given: Given) -> Iterator[Caution]:
    """Where an end is to rise or sink by less than friction may hide."""
    if 0.0 < abs(rise) < band / 2:
        text = tr(
            "The {end} moves by {rise}, and friction lets it come to rest {off} too high or too "
            "low: measure pressed down and lifted, before and after, and go by the means.",
            end=end_word(end),
            rise=given.say(abs(rise), "length"),
            off=given.say(band / 2, "length"),
        )
        yield Caution(text)
