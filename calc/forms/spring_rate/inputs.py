"""What spring rate asks, each way to a rate its own."""

from dataclasses import replace
from typing import Any, Literal

from calc.asking.declare import choice, number, si
from calc.asking.entry import only
from calc.forms.fields import SpringInputs, of_spring, spring_typed
from calc.replying.inputs import Inputs, Row, assumed, rows, up_to

Known = Literal["label", "readings", "wire", "series", "clipped"]
_LABEL, _READ, _WIRE = only("known", "label"), only("known", "readings"), only("known", "wire")
_LISTED = only("goes", "list")
_SERIES, _CLIPPED = only("known", "series"), only("known", "clipped")


def _length(label: str, usual: str, possible: str, measure: str, **more: Any) -> Any:
    return number(
        label=label, kind="length", usual=usual, possible=possible, measure=measure, **more
    )


def _rate(label: str, measure: str, **more: Any) -> Any:
    return number(
        label=label, kind="rate", usual="0.1 to 5 N/mm", possible="0.005 to 200 N/mm",
        measure=measure, example="0.65 N/mm", relative=0.03, **more,
    )  # fmt: skip


class Reading(Row[str]):
    length: float = _length(
        "Length of the spring", "10 to 120 mm", "1 to 500 mm",
        "Pressed down on the scale between two plates: from plate to plate.", tool="ruler",
    )  # fmt: skip
    mass: float = number(
        label="The scale shows", kind="mass", usual="0 to 3 kg", possible="0 to 50 kg",
        measure="Set to zero with the lower plate on it.", tool="scale",
    )  # fmt: skip


class Asked(Inputs):
    known: Known = choice(
        label="What do you know about the spring",
        options={
            "label": "a label",
            "readings": "scale and ruler",
            "wire": "its wire",
            "series": "two in series",
            "clipped": "clip a coil",
        },
    )
    label_rate: float = _rate(
        "Rate on the label",
        "In any unit: write 4.2 lbf/in, 75 gf/mm or 0.7 kgf/cm behind the number.", when=_LABEL,
    )  # fmt: skip
    readings: tuple[Reading, ...] = rows(
        label="Readings", each=up_to(8, "Reading"), least=2, when=_READ,
        measure="Two are enough, five over the travel that the spring really works in are better.",
        examples=(
            ("38 mm", "133 g"), ("34 mm", "397 g"), ("30 mm", "664 g"), ("26 mm", "927 g"),
            ("22 mm", "1194 g"),
        ),
    )  # fmt: skip
    wire: float = _length(
        "Wire thickness", "0.6 to 3 mm", "0.1 to 20 mm",
        "With the calliper, at three places; scrape paint off first: the rate goes with its "
        "fourth power.",
        example="1.25 mm", tool="calliper", when=_WIRE,
    )  # fmt: skip
    outside: float = _length(
        "Outside diameter", "8 to 30 mm", "1 to 200 mm", "With the calliper, over the coils.",
        example="18 mm", tool="calliper", when=_WIRE,
    )  # fmt: skip
    coils: float = number(
        label="Coils, flat ends included", kind="ratio", usual="2.5 to 15", possible="2.5 to 60",
        measure="Count from tip to tip, parts of a turn too.", example="8", relative=0.01,
        when=_WIRE,
    )  # fmt: skip
    ends: Literal["closed", "ground"] = choice(
        label="End coils",
        options={"closed": "closed", "ground": "closed and ground flat"},
        measure="Closed: the last coil lies on its neighbour. At both ends that coil does not "
        "give.",
        when=_WIRE,
    )
    material: Literal["steel", "stainless_1_4310", "music"] = choice(
        label="Wire",
        options={
            "steel": "spring steel",
            "stainless_1_4310": "stainless, 1.4310",
            "music": "music wire",
        },
        measure="A magnet does not settle it: drawn stainless wire is often magnetic too. Go by "
        "the bag or the data sheet.",
        when=_WIRE,
    )
    first: SpringInputs = spring_typed(
        "First spring", "first_", rate="0.4 N/mm", free="20 mm", solid="7 mm", when=_SERIES
    )
    second: SpringInputs = spring_typed(
        "Second spring", "second_", rate="0.9 N/mm", free="30 mm", solid="10 mm", when=_SERIES
    )
    whole_rate: float = _rate(
        "Rate before clipping", "From the label, or with a scale and a ruler.", when=_CLIPPED
    )
    active: float = number(
        label="Active coils now", kind="ratio", usual="0.5 to 15", possible="0.5 to 60",
        measure="All coils, less the flat one at each end.", example="7", relative=0.02,
        when=_CLIPPED,
    )  # fmt: skip
    whole_free: float = _length(
        "Free length now", "20 to 120 mm", "5 to 500 mm", "Off the car, with nothing on it.",
        example="40 mm", tool="ruler", when=_CLIPPED,
    )  # fmt: skip
    whole_wire: float = _length(
        "Wire of the spring to clip", "0.6 to 3 mm", "0.1 to 20 mm", "With the calliper.",
        example="1.4 mm", tool="calliper", when=_CLIPPED,
    )  # fmt: skip
    clipped: float = number(
        label="Active coils clipped off", kind="ratio", usual="0 to 3", possible="0 to 60",
        measure="Besides the flat end coil, which is cut off anyway.", example="0.5",
        when=_CLIPPED,
    )  # fmt: skip
    bent: float = number(
        label="Active coils bent flat for the new end", kind="ratio", usual="0.5 to 1",
        possible="0 to 2", example="0.75", when=_CLIPPED,
        measure="About three quarters of a coil lie flat again (common practice, no source).",
    )  # fmt: skip
    goes: Literal["no", "front", "rear", "list"] = choice(
        label="Save to the car",
        options={
            "no": "no",
            "front": "for the front",
            "rear": "for the rear",
            "list": "in the list of springs",
        },
    )
    spring_name: str = replace(of_spring("name"), when=_LISTED)
    spring_free: float = replace(
        of_spring("free"), example=si("40 mm", "length"),
        when=_LISTED + only("known", "label", "wire"),
    )  # fmt: skip
    spring_solid: float = replace(
        of_spring("solid"), example=si("13 mm", "length"),
        when=_LISTED + only("known", "label", "readings"),
    )  # fmt: skip
    modulus: float = assumed("shear modulus of the wire")
    scattered: float = assumed("how the readings scatter about the line")
    shifted: float = assumed("how far the readings lie above or below the line")
