"""What an entry says of itself: its texts, declared in English, in the language spoken."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from calc import units
from calc.language import inside, numbered, tr


class Said:
    """What every entry has."""

    label: str
    measure: str

    @property
    def said(self) -> str:
        """The label."""
        return tr(self.label)

    @property
    def said_measure(self) -> str:
        return tr(self.measure)


class SaidCell(Said):
    """An entry that may stand in a row: `parts` are the row's label and its own then."""

    parts: tuple[str, ...]

    @property
    def said(self) -> str:
        if not self.parts:
            return tr(self.label)
        row, column = self.parts
        return tr("{row}, {column}", row=numbered(row), column=inside(tr(column)))


class SaidNumber(SaidCell):
    """A number with its ranges."""

    kind: str
    usual: tuple[float, float]
    possible: tuple[float, float]

    def range_text(self, system: str, which: str) -> str:
        """ "0.5 to 1.5 mm": the usual or the possible range, to three digits."""
        unit = units.unit_of(self.kind, system)
        bounds = self.usual if which == "usual" else self.possible
        low, high = (
            _to_three_digits(unit.from_si(bound), way)
            for bound, way in zip(bounds, (ROUND_CEILING, ROUND_FLOOR), strict=True)
        )
        span = tr("{low} to {high}", low=low, high=high).replace("-", "−")
        gap = " " if units.gap(unit) else ""
        return f"{span}{gap}{units.symbol_text(self.kind, system)}"

    def impossible(self, value: float, system: str) -> str:
        """The sentence that refuses a value."""
        number = units.unit_of(self.kind, system).from_si(value)
        told = {
            "label": self.said,
            "possible": self.range_text(system, "possible"),
            "usual": self.range_text(system, "usual"),
        }
        if not 1e-4 <= abs(number) < 1e6 and number != 0:
            # A power of ten, NaN or infinity would only puzzle.
            return tr(
                "{label}: that is not possible here; possible is {possible}, usual {usual}.", **told
            )
        symbol = units.symbol_text(self.kind, system)
        given = f"{units.spelt(f'{number:.6g}')} {symbol}".strip().replace("-", "−")
        return tr(
            "{label}: {given} is not possible here; possible is {possible}, usual {usual}.",
            given=given, **told,
        )  # fmt: skip


def _to_three_digits(number: float, rounding: str) -> str:
    """A bound to three digits, rounded into its range, so that the number shown is itself in."""
    exact = Decimal(f"{number:.12g}")
    step = Decimal(1).scaleb(exact.adjusted() - 2) if exact else Decimal(1)
    return units.spelt(f"{float(exact.quantize(step, rounding)):.10g}")
