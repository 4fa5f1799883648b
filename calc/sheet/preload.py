"""The block of preload and sag: what a few turns of both collars of an end bring."""

from collections.abc import Sequence

from calc import units
from calc.answering.uncertainty import COVERAGE
from calc.forms.growth import with_growth
from calc.forms.names import end_label
from calc.forms.spring_preload.form import seat_of
from calc.forms.spring_preload.inputs import Asked
from calc.language import tr
from calc.model.car import Car
from calc.model.corners import ENDS, End
from calc.model.standing import Seat
from calc.replying.inputs import Problem
from calc.sheet.asking import Said, ask, of_ends
from calc.sheet.grid import (
    BLANK,
    Grid,
    Part,
    Role,
    doubt,
    length,
    tells_nothing,
    too_doubtful,
    up_or_down,
)
from calc.units import NBSP

TURNS = (-2.0, -1.0, -0.5, 0.0, 0.5, 1.0, 2.0)
_KEEP = (3, 1, 5, 0, 6, 2, 4)
_ROLES: tuple[Role, ...] = ("key", "answer", "answer", "small")


def preload(car: Car, system: str) -> Part:
    """Both ends; what is not known is left to the pencil, and named."""
    grids: list[Grid] = []
    notes: list[str] = []
    reasons: dict[End, str] = {}
    sure = dict.fromkeys(("preload", "sag"), 0.0)
    for end in ENDS:
        said = ask("spring-preload", {"axle": end}, car, system)
        try:
            _worth_printing(said, system)
            notes += said.notes
            now, u = _now(said.asked), {name: said.u(name) for name in sure}
            if vague := not now.on_stop and COVERAGE * u["sag"] > now.sag:
                notes.append(tr("{end}: {why}", end=end_label(end), why=_no_sag(u["sag"], system)))
                u["sag"] = 0.0
            grids.append(_grid(end, now, said.asked.pitch, system, sags=not vague))
            sure = {name: max(sure[name], u[name]) for name in sure}
        except Problem as problem:
            reasons[end] = str(problem)
            grids.append(_blank(end))
    once = tuple(dict.fromkeys((*notes, *of_ends(reasons))))
    return Part(tuple(grids), _about(sure, system), notes=once)


def _worth_printing(said: Said, system: str) -> None:
    """Raises Problem where the numbers would be too doubtful."""
    if not said.reply.answer:
        return
    u = said.u("preload")
    if tells_nothing(u, TURNS[-1] * said.asked.pitch):
        unit = units.unit_of("length", system).symbol
        raise Problem("preload", too_doubtful(f"{doubt(u, 'length', system)}{NBSP}{unit}"))


def _no_sag(u: float, system: str) -> str:
    unit = units.unit_of("length", system).symbol
    sure = f"{doubt(u, 'length', system)}{NBSP}{unit}"
    return tr("sag worked out to {doubt} only: measure, then write it in.", doubt=sure)


def _about(sure: dict[str, float], system: str) -> str:
    unit = units.unit_of("length", system).symbol
    pre, sag = (doubt(u, "length", system) for u in sure.values())
    if not pre:
        return unit
    if not sag:
        return tr("{unit}, preload {first}", unit=unit, first=pre)
    return tr("{unit}, preload {first}, sag {second}", unit=unit, first=pre, second=sag)


def _now(asked: Asked) -> Seat:
    return seat_of(with_growth(asked, asked.axle, asked.arm, asked.motion_ratio))


def _grid(end: End, now: Seat, pitch: float, system: str, *, sags: bool) -> Grid:
    """With its sags, or with room to write them."""
    rows = []
    for turns in TURNS:
        then = now.down(turns * pitch)
        pressed = length(then.preload, system) if then.preload >= 0 else tr("loose")
        sag = length(then.sag, system) if sags else BLANK
        share = units.number_text(then.sag_share, "share", system, 0) if sags else BLANK
        rows.append((_key(turns), pressed, sag, share))
    return _of(end, rows)


def _blank(end: End) -> Grid:
    """For the pencil."""
    return _of(end, [(_key(turns), BLANK, BLANK, BLANK) for turns in TURNS])


def _key(turns: float) -> str:
    return tr("now") if turns == 0 else up_or_down(turns)


def _of(end: End, rows: Sequence[tuple[str, ...]]) -> Grid:
    """The grid of an end; where its sags are left to the pencil, nobody works out their shares."""
    heads = ("", tr("preload", sense="head"), tr("sag", sense="head"), "%")
    boxed = frozenset({TURNS.index(0.0)})
    grid = Grid(heads, _ROLES, tuple(rows), end_label(end), boxed=boxed, keep=_KEEP)
    return grid if any(row[3] for row in rows) else grid.only((0, 1, 2))
