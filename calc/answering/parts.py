"""The parts that a hand turns, named whole: "Front left collar".

A part is one text of its own and never put together of "collar", "front" and "left": in Spanish and
in German the side before the turns would read as the way to turn.
"""

from calc.language import inside, later, tr

_COLLARS = {
    "front_left": later("Front left collar"),
    "front_right": later("Front right collar"),
    "rear_left": later("Rear left collar"),
    "rear_right": later("Rear right collar"),
}
_ROD_ENDS = {
    "front_left": later("Front left rod end"),
    "front_right": later("Front right rod end"),
    "rear_left": later("Rear left rod end"),
    "rear_right": later("Rear right rod end"),
}


def collar_label(corner: str) -> str:
    """ "Front left collar" for "front_left", in the language spoken."""
    return tr(_COLLARS[corner])


def collar_word(corner: str) -> str:
    """The same for the inside of a sentence."""
    return inside(collar_label(corner))


def rod_end_label(corner: str) -> str:
    """ "Front left rod end"."""
    return tr(_ROD_ENDS[corner])
