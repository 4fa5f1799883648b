"""Ends, corners, and the parts of them that a hand turns, named in the language spoken.

A part is one text of its own and never put together of "collar", "front" and "left": in Spanish and
in German the side before the turns would read as the way to turn.
"""

from calc.language import inside, later, tr
from calc.model.corners import CORNERS, ENDS, Corner, End, Side

_END_LABELS = {End.FRONT: later("Front"), End.REAR: later("Rear")}
_CORNER_LABELS = {
    Corner.FRONT_LEFT: later("Front left"),
    Corner.FRONT_RIGHT: later("Front right"),
    Corner.REAR_LEFT: later("Rear left"),
    Corner.REAR_RIGHT: later("Rear right"),
}
END_LABELS: tuple[tuple[End, str], ...] = tuple((end, _END_LABELS[end]) for end in ENDS)
"""(key, label) of the rows and options that stand for the ends, as forms declare them."""
CORNER_LABELS: tuple[tuple[Corner, str], ...] = tuple((key, _CORNER_LABELS[key]) for key in CORNERS)
"""(key, label) of those that stand for the corners."""
_END_WORDS = {End.FRONT: later("front"), End.REAR: later("rear")}
_SIDE_LABELS = {Side.LEFT: later("Left"), Side.RIGHT: later("Right")}
_SIDE_WORDS = {Side.LEFT: later("left"), Side.RIGHT: later("right")}
_CORNER_WORDS = {
    Corner.FRONT_LEFT: later("front left"),
    Corner.FRONT_RIGHT: later("front right"),
    Corner.REAR_LEFT: later("rear left"),
    Corner.REAR_RIGHT: later("rear right"),
}
_DAMPERS = {End.FRONT: later("Front dampers"), End.REAR: later("Rear dampers")}
_COLLARS = {
    Corner.FRONT_LEFT: later("Front left collar"),
    Corner.FRONT_RIGHT: later("Front right collar"),
    Corner.REAR_LEFT: later("Rear left collar"),
    Corner.REAR_RIGHT: later("Rear right collar"),
}
_ROD_ENDS = {
    Corner.FRONT_LEFT: later("Front left rod end"),
    Corner.FRONT_RIGHT: later("Front right rod end"),
    Corner.REAR_LEFT: later("Rear left rod end"),
    Corner.REAR_RIGHT: later("Rear right rod end"),
}


def end_label(end: End) -> str:
    """ "Front", as the head of a row."""
    return tr(_END_LABELS[end])


def end_word(end: End) -> str:
    """ "front" for the inside of a sentence."""
    return tr(_END_WORDS[end])


def dampers_label(end: End) -> str:
    """ "Front dampers"."""
    return tr(_DAMPERS[end])


def side_label(side: Side) -> str:
    """ "Left", as the head of a row."""
    return tr(_SIDE_LABELS[side])


def side_word(side: Side) -> str:
    """ "left"."""
    return tr(_SIDE_WORDS[side])


def corner_label(corner: Corner) -> str:
    """ "Front left", as the head of a row."""
    return tr(_CORNER_LABELS[corner])


def corner_word(corner: Corner) -> str:
    """ "front left" for the inside of a sentence."""
    return tr(_CORNER_WORDS[corner])


def corner_first(corner: Corner) -> str:
    """ "Front left" at the head of a sentence: whole words, where Spanish shortens the row."""
    return corner_word(corner).capitalize()


def labelled_end(end: End, label: str) -> str:
    """ "Front: ride frequency"."""
    return f"{end_label(end)}: {label}"


def labelled_side(side: Side, label: str) -> str:
    return f"{side_label(side)}: {label}"


def labelled_corner(corner: Corner, label: str) -> str:
    return f"{corner_first(corner)}: {label}"


def damper_label(letter: str, corner: Corner | None) -> str:
    """A damper by the letter on its cap and where it is, None for the shelf: "A, front left", "A,
    on the shelf"; "Front left" without a letter, which only one on the car can be."""
    if corner is not None and not letter:
        return corner_label(corner)
    where = tr("on the shelf") if corner is None else corner_word(corner)
    return tr("{name}, {where}", name=letter, where=where)


def place_word(where: End | Corner) -> str:
    """An end or a corner where a sentence takes both: "The front left spring", "The front spring".
    Apart from `end_word` and `corner_word`: in Spanish it is a place, and they are adjectives."""
    if isinstance(where, End):
        front = where is End.FRONT
        return tr("front", sense="the place") if front else tr("rear", sense="the place")
    return {
        Corner.FRONT_LEFT: tr("front left", sense="the place"),
        Corner.FRONT_RIGHT: tr("front right", sense="the place"),
        Corner.REAR_LEFT: tr("rear left", sense="the place"),
        Corner.REAR_RIGHT: tr("rear right", sense="the place"),
    }[where]


def collar_label(corner: Corner) -> str:
    """ "Front left collar"."""
    return tr(_COLLARS[corner])


def collar_word(corner: Corner) -> str:
    """A collar inside a sentence: "front left collar"."""
    return inside(collar_label(corner))


def rod_end_label(corner: Corner) -> str:
    """ "Front left rod end"."""
    return tr(_ROD_ENDS[corner])
