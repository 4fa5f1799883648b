"""The block of the springs: each one owned as if it went in and the car kept its height, and the
one that is in."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, zip_longest
from math import isclose

from calc import units
from calc.answering.uncertainty import COVERAGE
from calc.forms.names import end_label
from calc.forms.spring_swap.table import car_seat, gravest, mind, swapped
from calc.language import tr
from calc.model.car import Car, Spring, is_known
from calc.model.corners import ENDS, End
from calc.model.standing import Finding, Seat
from calc.sheet.asking import Said, ask, of_ends
from calc.sheet.grid import (
    BLANK,
    Grid,
    Part,
    Role,
    end_letter,
    hand_turns,
    length,
    nearest_first,
    too_doubtful,
    up_or_down,
)
from calc.sheet.value import mark, value
from calc.units import NBSP

_RESTS_ON = (
    "spring_rate", "spring_free", "spring_solid", "droop_length", "stroke", "motion_ratio", "pitch",
    "unsprung",
)  # fmt: skip
_MOST_DOUBT = 6.0
"""Turns: with a larger ± nothing is said of them (our judgement, no source)."""
_SAME = 1e-4  # relative: a spring of the list so near the record's is the one that is in
_ROLES: tuple[Role, ...] = ("key", "name", "answer", "key", "answer", "small", "label")


@dataclass(frozen=True)
class _Line:
    """`minded` is the last of the cells, but for a loose spring, which its preload tells too."""

    rate: float
    cells: tuple[str, ...]
    fitted: bool = False
    minded: str = BLANK


def springs(car: Car, system: str) -> Part:
    """Front and rear, the fitted ones in a box; none where the record of an end is not known."""
    answers = [said for end in ENDS if (said := _answered(car, end, system))]
    sure = max(map(_turns_sure, answers), default=0.0)
    guessed = sure > _MOST_DOUBT
    lines = {
        end: sorted(_lines(car, end, system, guessed), key=lambda one: one.rate) for end in ENDS
    }
    why = tr("The numbers that the turns rest on are not known yet.")
    notes = list(of_ends({end: why for end in ENDS if _seat(car, end) is None}))
    rate = units.unit_of("rate", system).symbol
    heads = (
        "", tr("spring"), rate, tr("turns", sense="head"), tr("preload", sense="head"), "Hz", "",
    )  # fmt: skip
    whole = [one for end in ENDS for one in lines[end]]
    minded = any(one.cells[-1] for one in whole)
    columns = len(heads) if minded else len(heads) - 1
    first = len(lines[End.FRONT])
    grid = Grid(
        heads[:columns],
        _ROLES[:columns],
        tuple(one.cells[:columns] for one in whole),
        boxed=frozenset(n for n, one in enumerate(whole) if one.fitted),
        ruled=frozenset({first - 1}) if 0 < first < len(whole) else frozenset(),
        keep=_keep(lines),
        owned=True,
    )
    about = [tr("turns for the same height")]
    if guessed:
        notes.append(too_doubtful(tr("± {turns} turns", turns=hand_turns(sure))))
    elif sure:
        about.append(f"±{NBSP}{hand_turns(sure)}")
    notes += dict.fromkeys(note for said in answers for note in said.rests)
    narrow = tuple(_end_alone(grid, lines, end) for end in ENDS)
    return Part((grid,), ", ".join(about), notes=tuple(notes), narrow=narrow)


def _end_alone(grid: Grid, lines: dict[End, list[_Line]], end: End) -> Grid:
    """What is nearest to read of one end: spring, rate, turns, preload or what to mind."""
    found = lines[end]
    last: Role = "label" if any(one.minded for one in found) else "answer"
    rate = next((one.rate for one in found if one.fitted), 0.0)
    order = nearest_first([one.rate for one in found], rate)
    return Grid(
        (end_label(end), *grid.heads[2:5]),
        (*_ROLES[1:4], last),
        tuple((*one.cells[1:4], one.minded or one.cells[4]) for one in found),
        boxed=frozenset(n for n, one in enumerate(found) if one.fitted),
        keep=tuple(sorted(order, key=lambda n: not found[n].fitted)),
        owned=True,
    )


def _rests_on(end: End) -> list[str]:
    loads = [f"corners.{corner}.load" for corner in end.corners]
    return [*(f"{end}.{name}" for name in _RESTS_ON), *loads]


def _seat(car: Car, end: End) -> Seat | None:
    return car_seat(car, end) if all(is_known(car, path) for path in _rests_on(end)) else None


def _answered(car: Car, end: End, system: str) -> Said | None:
    """The form for the first spring that fits: all rest on the same entries."""
    for place in range(1, len(car.springs) + 1):
        typed = {"axle": end, "new_is": "owned", "owned": str(place)}
        said = ask("spring-swap", typed, car, system)
        if said.reply.answer:
            return said
    return None


def _turns_sure(said: Said) -> float:
    """How far off the turns may be (k = 2), in quarters of a turn."""
    quarters = COVERAGE * max(said.u("turns_left"), said.u("turns_right")) * 4
    return (int(quarters) + 1) / 4


def _lines(car: Car, end: End, system: str, guessed: bool) -> Iterator[_Line]:
    """What stands on the car, and each spring of the list that can go in; turns and preloads that
    are `guessed` are left out."""
    seat, name = _seat(car, end), end_letter(end)
    axle = car.axle(end)
    now = value(car, f"{end}.spring_rate", system, 2)
    if seat is None:
        yield _Line(0.0, (name, tr("fitted"), now, BLANK, BLANK, BLANK, BLANK), fitted=True)
        return
    doubted = mark(car, *_rests_on(end))
    fitted = False
    for one in swapped(car.springs, seat, axle.pitch, car.tools.turn_step):
        is_in = not fitted and _is_in(one.spring, car, end)
        fitted = fitted or is_in
        called = one.spring.name or tr("spring {number}", number=one.number)
        rate = _rate(one.spring.rate, system)
        turns = tr("fitted") if is_in else BLANK if guessed else up_or_down(one.turns)
        stands, minded = _stands(one.after, system, guessed, doubted)
        yield _Line(one.spring.rate, (name, called, rate, turns, *stands), is_in, minded)
    if not fitted:
        stands, minded = _stands(seat, system, guessed, doubted)
        cells = (name, tr("fitted now"), now, up_or_down(0.0), *stands)
        yield _Line(axle.spring_rate, cells, fitted=True, minded=minded)


def _is_in(spring: Spring, car: Car, end: End) -> bool:
    axle = car.axle(end)
    sizes = ((spring.rate, axle.spring_rate), (spring.free, axle.spring_free))
    return all(isclose(a, b, rel_tol=_SAME) for a, b in sizes)


def _rate(rate: float, system: str) -> str:
    return units.number_text(rate, "rate", system, units.places(2, "rate", system))


def _stands(
    seat: Seat, system: str, guessed: bool, doubted: str
) -> tuple[tuple[str, str, str], str]:
    """Preload, frequency and what to mind, with the mark of what that rests on; and what to mind
    where it is not that the spring is loose."""
    frequency = units.number_text(seat.frequency, "frequency", system, 1) + doubted
    if guessed:
        return (BLANK, frequency, BLANK), BLANK
    pressed = length(seat.preload, system) + doubted if seat.preload >= 0 else tr("loose")
    words = mind(seat, system)
    words += doubted if words else BLANK
    return (pressed, frequency, words), BLANK if gravest(seat) is Finding.LOOSE else words


def _keep(lines: dict[End, list[_Line]]) -> tuple[int, ...]:
    """By importance, the ends by turns: what is fitted, then what is nearest to it."""
    ranked, start = [], 0
    for end in ENDS:
        found = lines[end]
        rate = next((one.rate for one in found if one.fitted), 0.0)
        order = nearest_first([one.rate for one in found], rate)
        order.sort(key=lambda n: not found[n].fitted)
        ranked.append([start + n for n in order])
        start += len(found)
    both = chain.from_iterable(zip_longest(*ranked))
    return tuple(n for n in both if n is not None)
