"""The timed runs of a drop test as entries of a form."""

from collections.abc import Sequence

from calc.asking.entry import Number, Rows, When

MOST = 12
_ROWS = tuple((str(n), f"Run {n}") for n in range(1, MOST + 1))


def mass_column(**more: object) -> Number:
    return Number(
        "Mass that hangs", "mass", (0.01, 0.3), (0.0005, 10),
        "All that pulls: the mass, its hook and the rod end.",
        name="mass", tool="scale", **more,  # type: ignore[arg-type]
    )  # fmt: skip


def time_column() -> Number:
    return Number(
        "Time", "time", (0.5, 30), (0.02, 3600),
        "From one mark to the other; start the watch after the shaft has begun to move.",
        name="time",
    )  # fmt: skip


def run_rows(label: str, name: str, starts: Sequence[float], when: When) -> Rows:
    """Timed runs, all with one mass."""
    return Rows(
        label, (time_column(),), _ROWS, name=name, least=2,
        starts=tuple((time,) for time in starts), when=when,
    )  # fmt: skip


def loaded_rows(name: str, starts: Sequence[tuple[float, float]], when: When) -> Rows:
    """Timed runs, each with the mass that hung."""
    return Rows(
        "Timed runs, with two masses or more", (mass_column(), time_column()), _ROWS,
        name=name, least=3, starts=tuple(starts), when=when,
    )  # fmt: skip
