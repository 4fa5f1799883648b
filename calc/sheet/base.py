"""The block of the set-up: the car seen from above, with what is on it at each corner and end."""

from calc import units
from calc.forms.names import END_LABELS
from calc.language import later, tr
from calc.model.car import Car, is_known
from calc.model.corners import CORNERS, Corner, End
from calc.sheet.grid import BLANK, Base, Grid, Role, Spot, answers, turned, up_or_down
from calc.sheet.value import mark, value
from calc.units import NBSP

_ON_THE_CARD = (0, 1, 2, 3, 4, 7)
"""Columns of the first page of the pocket card; the others are on those of filling and height."""
_SHORT = {
    Corner.FRONT_LEFT: later("FL"), Corner.FRONT_RIGHT: later("FR"),
    Corner.REAR_LEFT: later("RL"), Corner.REAR_RIGHT: later("RR"),
}  # fmt: skip


def base(car: Car, system: str) -> Base:
    """What nobody knows is left to the pencil."""
    length, rate, mass = (units.unit_of(k, system).symbol for k in ("length", "rate", "mass"))
    degrees = units.unit_of("temperature", system).symbol
    spots = tuple(_spot(car, corner, system, mass) for corner in CORNERS)
    heads = (
        "", tr("spring {unit}", unit=rate), tr("oil cSt"), tr("right at {unit}", unit=degrees),
        tr("piston"), tr("fill mL"), tr("shaft in when closing"), tr("spring at full droop"),
        tr("height now"), tr("wanted", sense="height"),
    )  # fmt: skip
    roles: tuple[Role, ...] = ("key", *answers(len(heads) - 1))
    rows = tuple((tr(label), *_end(car, end, system)) for end, label in END_LABELS)
    about = tr("on the car: {length}; pencil in your changes", length=length)
    grid = Grid(heads, roles, rows)
    return Base(spots, grid, about, turned(grid.only(_ON_THE_CARD)))


def _spot(car: Car, corner: Corner, system: str, mass: str) -> Spot:
    path = f"corners.{corner}"
    collar = car.corner(corner).collar
    known = is_known(car, f"{path}.collar")
    turned = up_or_down(collar) if known else BLANK
    values = (
        (tr("load {unit}", unit=mass), value(car, f"{path}.load", system, 0)),
        (tr("collar"), turned + (mark(car, f"{path}.collar") if known else "")),
    )
    return Spot(corner_short(corner), values)


def corner_short(corner: Corner) -> str:
    """ "FL", where there is no room for its words."""
    return tr(_SHORT[corner])


def _end(car: Car, end: End, system: str) -> tuple[str, ...]:
    return (
        value(car, f"{end}.spring_rate", system, 2),
        value(car, f"{end}.oil", system),
        value(car, f"{end}.oil_at", system, 0),
        _piston(car, end, system),
        value(car, f"{end}.inside.held", system, 1),
        value(car, f"{end}.inside.closed_at", system, 1),
        value(car, f"{end}.droop_length", system, 1),
        value(car, f"{end}.ride_height", system, 1),
        value(car, f"{end}.wanted_height", system, 1),
    )


def _piston(car: Car, end: End, system: str) -> str:
    """Holes and their diameter: "3 × 1.6"."""
    paths = (f"{end}.holes", f"{end}.hole")
    if not all(is_known(car, path) for path in paths):
        return BLANK
    holes, hole = car.axle(end).holes, car.axle(end).hole
    size = units.number_text(hole, "length", system, units.places(1, "length", system))
    return f"{holes:.0f}{NBSP}×{NBSP}{size}{mark(car, *paths)}"
