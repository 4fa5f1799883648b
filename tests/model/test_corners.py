"""Corners and ends: the keys of the car record, in the order of the physics."""

from dataclasses import fields

import pytest

from calc.model import car
from calc.model.corners import CORNERS, ENDS, Corner, End, Side, at_end, mean_at


def test_the_keys_are_those_of_the_car_record_in_its_order() -> None:
    assert [item.name for item in fields(car.Corners)] == list(CORNERS)
    named = {item.name for item in fields(car.Car)}
    assert set(ENDS) <= named


def test_every_corner_is_made_of_its_end_and_its_side() -> None:
    assert [f"{corner.end}_{corner.side}" for corner in CORNERS] == list(CORNERS)
    assert [(corner.end, corner.side) for corner in CORNERS] == [
        (end, side) for end in End for side in Side
    ]


@pytest.mark.parametrize("corner", CORNERS)
def test_the_other_corner_is_across_the_car(corner: Corner) -> None:
    other = corner.other
    assert other.end is corner.end and other.side is not corner.side and other.other is corner
    assert CORNERS[corner.place] is corner and corner in corner.end.corners


def test_values_of_four_corners_by_end() -> None:
    values = (1.0, 2.0, 10.0, 20.0)
    assert at_end(End.FRONT, values) == (1.0, 2.0) and at_end(End.REAR, values) == (10.0, 20.0)
    assert mean_at(End.REAR, values) == 15.0


def test_a_car_gives_its_ends_and_corners_by_key() -> None:
    one = car.Car()
    assert one.axle(End.FRONT) is one.front and one.axle(End.REAR) is one.rear
    assert one.corner(Corner.REAR_RIGHT) is one.corners.rear_right
