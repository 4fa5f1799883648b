"""Spring rate: from a label, a scale and a ruler, the wire; two in series; a clipped coil."""

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Entry, Number, Rows, only
from calc.forms.fields import FREE, RATE, spring_fields
from calc.forms.spring_rate import clip as spring_rate_clip
from calc.forms.spring_rate import made as spring_rate_made
from calc.forms.spring_rate import pair as spring_rate_pair
from calc.forms.spring_rate import read as spring_rate_read
from calc.replying.form import Form, Given

_LABEL, _READ, _WIRE = only("known", "label"), only("known", "readings"), only("known", "wire")
_SERIES, _CLIPPED = only("known", "series"), only("known", "clipped")
_MOST_READINGS = 8


def _length(
    label: str, usual: tuple[float, float], possible: tuple[float, float], measure: str,
    **more: object,
) -> Number:  # fmt: skip
    return Number(label, "length", usual, possible, measure, **more)  # type: ignore[arg-type]


def _coils(label: str, start: float, measure: str, least: float, **more: object) -> Number:
    return Number(
        label, "ratio", (least, 15), (least, 60), measure, start=start, **more  # type: ignore[arg-type]
    )  # fmt: skip


FIELDS: tuple[Entry, ...] = (
    Choice(
        "What do you know of the spring",
        (
            ("label", "a label"),
            ("readings", "scale and ruler"),
            ("wire", "its wire"),
            ("series", "two in series"),
            ("clipped", "clip a coil"),
        ),
        name="known",
    ),
    Number(
        "Rate on the label", "rate", *RATE,
        "In any unit: write 4.2 lbf/in, 75 gf/mm or 0.7 kgf/cm behind the number.",
        name="label_rate", start=650.0, relative=0.03, when=_LABEL,
    ),
    Rows(
        "Readings",
        (
            _length(
                "Length of the spring", (10e-3, 120e-3), (1e-3, 0.5),
                "Pressed down on the scale between two plates: from plate to plate.",
                name="length", tool="ruler",
            ),
            Number(
                "The scale shows", "mass", (0.0, 3.0), (0.0, 50.0),
                "Set to zero with the lower plate on it.", name="mass", tool="scale",
            ),
        ),
        tuple((str(n), f"Reading {n}") for n in range(1, _MOST_READINGS + 1)),
        "Two are enough, five over the travel that the spring really works in are better.",
        name="readings", least=2, when=_READ,
        starts=((38e-3, 0.133), (34e-3, 0.397), (30e-3, 0.664), (26e-3, 0.927), (22e-3, 1.194)),
    ),
    _length(
        "Wire thickness", (0.6e-3, 3e-3), (0.1e-3, 20e-3),
        "With the calliper, at three places; scrape paint off first: the rate goes with its "
        "fourth power.",
        name="wire", start=1.25e-3, tool="calliper", when=_WIRE,
    ),
    _length(
        "Outside diameter", (8e-3, 30e-3), (1e-3, 200e-3), "With the calliper, over the coils.",
        name="outside", start=18e-3, tool="calliper", when=_WIRE,
    ),
    _coils(
        "Coils, flat ends included", 8.0, "Count from tip to tip, parts of a turn too.", 2.5,
        name="coils", relative=0.01, when=_WIRE,
    ),
    Choice(
        "End coils",
        (("closed", "closed"), ("ground", "closed and ground flat")),
        "Closed: the last coil lies on its neighbour. At both ends that coil does not give.",
        name="ends", when=_WIRE,
    ),
    Choice(
        "Wire",
        (
            ("steel", "spring steel"),
            ("stainless_1_4310", "stainless, 1.4310"),
            ("music", "music wire"),
        ),
        "A magnet hardly holds stainless wire.", name="material", when=_WIRE,
    ),
    *spring_fields("first", "First spring", (400.0, 20e-3, 7e-3), _SERIES),
    *spring_fields("second", "Second spring", (900.0, 30e-3, 10e-3), _SERIES),
    Number(
        "Rate before clipping", "rate", *RATE, "From the label, or with a scale and a ruler.",
        name="whole_rate", start=650.0, relative=0.03, when=_CLIPPED,
    ),
    _coils(
        "Active coils now", 7.0, "All coils, less the flat one at each end.", 0.5,
        name="active", relative=0.02, when=_CLIPPED,
    ),
    _length(
        "Free length now", *FREE, "Off the car, with nothing on it.",
        name="whole_free", start=40e-3, tool="ruler", when=_CLIPPED,
    ),
    _length(
        "Wire of the spring to clip", (0.6e-3, 3e-3), (0.1e-3, 20e-3), "With the calliper.",
        name="whole_wire", start=1.4e-3, tool="calliper", when=_CLIPPED,
    ),
    Number(
        "Active coils clipped off", "ratio", (0.0, 3.0), (0.0, 60.0),
        "What goes beside the flat end coil, which goes in any case.",
        name="clipped", start=0.5, when=_CLIPPED,
    ),
    Number(
        "Active coils bent flat for the new end", "ratio", (0.5, 1.0), (0.0, 2.0),
        "About three quarters of a coil lie flat again (common practice, no source).",
        name="bent", start=0.75, when=_CLIPPED,
    ),
    Choice(
        "Note it in the car",
        (("no", "no"), ("front", "for the front"), ("rear", "for the rear")),
        name="goes",
    ),
)  # fmt: skip


def solve(given: Given) -> Answer:
    return _WAYS[given.choice("known")](given)


_WAYS = {
    "label": spring_rate_made.solve_label,
    "readings": spring_rate_read.solve,
    "wire": spring_rate_made.solve_wire,
    "series": spring_rate_pair.solve,
    "clipped": spring_rate_clip.solve,
}

FORM = Form(
    "spring-rate",
    "Spring rate",
    "bench",
    "How stiff is this spring, from its label, a scale and a ruler, or its wire?",
    FIELDS,
    solve,
)
