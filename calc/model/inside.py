"""What is inside the dampers of an end, in the car record, and the rod ends on their shafts."""

from dataclasses import dataclass

from calc.asking.record import number, with_quantities

BY_DRILLS = (
    "Half-way between the largest drill shank that goes in without force and the next: where "
    "1.6 mm goes in and 1.7 mm does not, 1.65 mm. With drills in finer steps, add the ±."
)
DRILLS = "0.1 mm"
"""From one drill to the next (common practice, no source): a hole is anywhere between two."""
_HOW_MANY = "Count them; 0 where there are none."


@dataclass(frozen=True)
class Inside:
    """Piston and oil of the two dampers of an end: further holes, play, volumes, trapped gas."""

    clearance: float = number(
        label="Play of the piston in the bore, on the diameter", kind="length", start="0.1 mm",
        usual="0.02 to 0.3 mm", possible="0 to 2 mm", relative=0.2,
        measure="Bore less the diameter of the piston; or, with the piston pushed to one side, the "
        "thickest strip of feeler gauge that goes in on the other.",
    )  # fmt: skip
    more_holes: float = number(
        label="More holes, of another size", kind="count", start="0", typical="0", usual="0 to 8",
        possible="0 to 20", whole=True, measure=_HOW_MANY,
    )  # fmt: skip
    more_hole: float = number(
        label="Diameter of the holes of another size", kind="length", start="1.4 mm",
        typical="1.4 mm", usual="0.8 to 2 mm", possible="0.2 to 8 mm", reads=DRILLS, step="0.05 mm",
        measure=BY_DRILLS,
    )  # fmt: skip
    compression_holes: float = number(
        label="Holes open in compression only", kind="count", start="0", typical="0",
        usual="0 to 8",
        possible="0 to 20", whole=True,
        measure="Holes under a disc that lifts when the shaft goes in. " + _HOW_MANY,
    )  # fmt: skip
    compression_hole: float = number(
        label="Diameter of the holes open in compression", kind="length", start="1.2 mm",
        typical="1.2 mm", usual="0.8 to 2 mm", possible="0.2 to 8 mm", reads=DRILLS, step="0.05 mm",
        measure=BY_DRILLS,
    )  # fmt: skip
    rebound_holes: float = number(
        label="Holes open in rebound only", kind="count", start="0", typical="0", usual="0 to 8",
        possible="0 to 20", whole=True,
        measure="Holes under a disc that lifts when the shaft comes out. " + _HOW_MANY,
    )  # fmt: skip
    rebound_hole: float = number(
        label="Diameter of the holes open in rebound", kind="length", start="1.2 mm",
        typical="1.2 mm", usual="0.8 to 2 mm", possible="0.2 to 8 mm", reads=DRILLS, step="0.05 mm",
        measure=BY_DRILLS,
    )  # fmt: skip
    length: float = number(
        label="Inside length of the body", kind="length", start="33 mm", usual="15 to 90 mm",
        possible="3 to 400 mm", tool="ruler",
        measure="Depth of the empty body from its rim to the seal, with the depth bar of the "
        "calliper.",
    )  # fmt: skip
    parts: float = number(
        label="Volume of piston, clips and spacers inside", kind="volume", start="0.25 mL",
        usual="0.05 to 1 mL", possible="0 to 50 mL", relative=0.3,
        measure="Thickness of the piston times the area of the bore, and a little for the clips.",
    )  # fmt: skip
    held: float = number(
        label="Oil in one damper", kind="volume", start="3.3 mL", usual="1 to 10 mL",
        possible="0.02 to 500 mL", relative=0.05,
        measure="The oil in it when full: draw it out with a syringe once.",
    )  # fmt: skip
    closed_at: float = number(
        label="Shaft pushed in when you close the cap", kind="length", start="10 mm",
        usual="0 to 40 mm", possible="0 to 300 mm", tool="ruler",
        measure="How far in from fully out the shaft is at that moment.",
    )  # fmt: skip
    gas: float = number(
        label="Trapped air", kind="volume", start="0.5 mL", usual="0.05 to 2 mL",
        possible="0.001 to 100 mL", relative=0.2,
        measure="Fill the space in the cap behind the bladder from a syringe and read how much "
        "went in; without a bladder, the air above the oil.",
    )  # fmt: skip
    pressure: float = number(
        label="Pressure of the trapped air, above the air outside", kind="pressure", start="0 kPa",
        typical="0 kPa", usual="0 to 50 kPa", possible="-80 to 2000 kPa",
        measure="At the moment the cap is closed; 0 where nothing was pumped in.",
    )  # fmt: skip
    moving: float = number(
        label="Mass of shaft, piston and rod end", kind="mass", start="2.5 g", typical="3 g",
        usual="1 to 8 g", possible="0 to 500 g", tool="oil_scale",
        measure="On the scale, taken out, with all that moves with the shaft.",
    )  # fmt: skip


REAR_INSIDE = with_quantities(
    Inside, length="41 mm", held="4.2 mL", closed_at="14 mm", gas="0.6 mL", moving="2.8 g"
)
"""Of the demo car, whose front dampers are `Inside()`."""


@dataclass(frozen=True)
class RodEnd:
    """The thread that holds the rod end on every shaft."""

    thread: float = number(
        label="Thread of the shaft, diameter", kind="length", start="3 mm", usual="2 to 5 mm",
        possible="1 to 20 mm", tool="calliper",
        measure="Over the crests of the thread, with the calliper.",
    )  # fmt: skip
    pitch: float = number(
        label="Thread pitch of the shaft", kind="length", start="0.5 mm", usual="0.4 to 0.8 mm",
        possible="0.1 to 3 mm", relative=0.005,
        measure="M3 is 0.5 mm, M4 is 0.7 mm; or measure ten turns.",
    )  # fmt: skip
