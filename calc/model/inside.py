"""What is inside the dampers of an end, in the car record, and the rod ends on their shafts."""

from dataclasses import dataclass

from calc.asking.record import number

MM, ML = 1e-3, 1e-6
_DRILL = "The largest drill shank that goes in without force."
_HOW_MANY = "Count them; 0 where there are none."


@dataclass(frozen=True)
class Inside:
    """Piston and oil of the two dampers of an end: further holes, play, volumes, trapped gas."""

    clearance: float = number(
        0.1, "Play of the piston in the bore, on the diameter", "length", MM, (0.02, 0.3), (0, 2),
        "Bore less the diameter of the piston; or the strip of feeler gauge that just goes in "
        "beside the piston.", relative=0.2,
    )  # fmt: skip
    more_holes: float = number(
        0, "More holes, of another size", "count", 1, (0, 8), (0, 20), _HOW_MANY, whole=True,
    )  # fmt: skip
    more_hole: float = number(
        1.4, "Diameter of these", "length", MM, (0.8, 2), (0.2, 8), _DRILL, tool="calliper",
    )  # fmt: skip
    compression_holes: float = number(
        0, "Holes open in compression only", "count", 1, (0, 8), (0, 20),
        "Holes under a disc that lifts when the shaft goes in. " + _HOW_MANY, whole=True,
    )  # fmt: skip
    compression_hole: float = number(
        1.2, "Diameter of those open in compression", "length", MM, (0.8, 2), (0.2, 8), _DRILL,
        tool="calliper",
    )  # fmt: skip
    rebound_holes: float = number(
        0, "Holes open in rebound only", "count", 1, (0, 8), (0, 20),
        "Holes under a disc that lifts when the shaft comes out. " + _HOW_MANY, whole=True,
    )  # fmt: skip
    rebound_hole: float = number(
        1.2, "Diameter of those open in rebound", "length", MM, (0.8, 2), (0.2, 8), _DRILL,
        tool="calliper",
    )  # fmt: skip
    length: float = number(
        33, "Inside length of the body", "length", MM, (15, 90), (3, 400),
        "Depth of the empty body from its rim to the seal, with the end of the calliper.",
        tool="ruler",
    )  # fmt: skip
    parts: float = number(
        0.25, "Volume of piston, clips and spacers inside", "volume", ML, (0.05, 1), (0, 50),
        "Thickness of the piston times the area of the bore, and a little for the clips.",
        relative=0.3,
    )  # fmt: skip
    held: float = number(
        3.3, "Oil in one damper", "volume", ML, (1, 10), (0.02, 500),
        "What it holds when full: draw it out with a syringe once.", relative=0.05,
    )  # fmt: skip
    closed_at: float = number(
        10, "Shaft in the body when the cap is closed", "length", MM, (0, 40), (0, 300),
        "How far in from fully out the shaft stands at that moment.", tool="ruler",
    )  # fmt: skip
    gas: float = number(
        0.5, "Air shut in with the oil", "volume", ML, (0.05, 2), (0.001, 100),
        "What the cap holds behind the bladder, filled with a syringe; without a bladder the air "
        "that was left over the oil.", relative=0.2,
    )  # fmt: skip


REAR_INSIDE = Inside(length=41e-3, held=4.2e-6, closed_at=14e-3, gas=0.6e-6)
"""Of the demo car, whose front dampers are `Inside()`."""


@dataclass(frozen=True)
class RodEnd:
    """The thread that holds the rod end on every shaft."""

    thread: float = number(
        3, "Thread of the shaft, diameter", "length", MM, (2, 5), (1, 20),
        "Over the crests of the thread, with the calliper.", tool="calliper",
    )  # fmt: skip
    pitch: float = number(
        0.5, "Thread pitch of the shaft", "length", MM, (0.4, 0.8), (0.1, 3),
        "A 3 mm coarse thread has 0.5 mm, 4 mm has 0.7 mm; or measure ten turns.", relative=0.005,
    )  # fmt: skip
