"""The four corners of a car and its two ends: their keys, their order, and the way between them.

The keys are those of the car record and of the fields of every form, so that a corner can stand in
a path (`f"corners.{corner}.load"`) as it is. Their words are in `calc.forms.names`.
"""

from enum import StrEnum


class End(StrEnum):
    FRONT = "front"
    REAR = "rear"

    @property
    def corners(self) -> tuple["Corner", "Corner"]:
        """Left and right."""
        return _OF_END[self]

    def corner(self, side: "Side") -> "Corner":
        left, right = self.corners
        return left if side is Side.LEFT else right

    @property
    def place(self) -> int:
        """Its place wherever two ends stand in a row."""
        return 0 if self is End.FRONT else 1


class Side(StrEnum):
    LEFT = "left"
    RIGHT = "right"


class Corner(StrEnum):
    FRONT_LEFT = "front_left"
    FRONT_RIGHT = "front_right"
    REAR_LEFT = "rear_left"
    REAR_RIGHT = "rear_right"

    @property
    def end(self) -> End:
        return _ENDS[self]

    @property
    def side(self) -> Side:
        return _SIDES[self]

    @property
    def place(self) -> int:
        """Its place wherever four corners stand in a row."""
        return _PLACES[self]

    @property
    def other(self) -> "Corner":
        """The corner at the other side of the same end."""
        left, right = self.end.corners
        return right if self is left else left


ENDS: tuple[End, End] = (End.FRONT, End.REAR)
PER_END = 2
"""Corners of an end, and so its dampers."""
CORNERS: tuple[Corner, Corner, Corner, Corner] = (
    Corner.FRONT_LEFT,
    Corner.FRONT_RIGHT,
    Corner.REAR_LEFT,
    Corner.REAR_RIGHT,
)
"""The order everywhere: in `calc.physics`, in tables, on paper."""

_OF_END = {
    End.FRONT: (Corner.FRONT_LEFT, Corner.FRONT_RIGHT),
    End.REAR: (Corner.REAR_LEFT, Corner.REAR_RIGHT),
}
_ENDS = {corner: end for end, corners in _OF_END.items() for corner in corners}
_SIDES = {
    corner: side for corners in _OF_END.values() for corner, side in zip(corners, Side, strict=True)
}
_PLACES = {corner: place for place, corner in enumerate(CORNERS)}


def at_end(end: End, values: tuple[float, ...]) -> tuple[float, float]:
    """Left and right of an end, of the values of four corners."""
    left, right = (values[corner.place] for corner in end.corners)
    return left, right


def mean_at(end: End, values: tuple[float, ...]) -> float:
    """Mean of both corners of an end, of the values of four corners."""
    return sum(at_end(end, values)) / 2
