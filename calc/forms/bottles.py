"""The bottles owned, as entries of a form and as what `oil_choice` works with."""

from calc.car import Bottle
from calc.entry import Number, Rows, When
from calc.form import Given, from_car
from calc.record import MOST


def bottle_rows(when: When = (), least: int = 0) -> Rows:
    """The bottles of the car record."""
    return Rows(
        "Bottles",
        (
            from_car("bottles.{row}.name"),
            from_car("bottles.{row}.viscosity"),
            from_car("bottles.{row}.left"),
        ),
        tuple((str(n), f"Bottle {n}") for n in range(1, MOST + 1)),
        name="bottles", least=least, when=when,
    )  # fmt: skip


def bottles_of(given: Given) -> list[Bottle]:
    return [
        Bottle(row.texts.get("name", ""), row.viscosity, row.left) for row in given.rows("bottles")
    ]


def amount_field(start: float, when: When = ()) -> Number:
    """How much oil is to be made, which decides whether a bottle holds enough."""
    return Number(
        "Amount to make", "volume", (1e-6, 100e-6), (0.05e-6, 5000e-6),
        "Both dampers of an end, and a little to spare.", name="amount", start=start, when=when,
    )  # fmt: skip
