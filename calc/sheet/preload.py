"""The block of preload and sag: what a few turns of both collars of an end bring."""

from calc import units
from calc.forms.growth import with_growth
from calc.forms.names import end_label
from calc.forms.spring_preload.form import seat_of
from calc.language import tr
from calc.model.car import Car
from calc.model.corners import ENDS, End
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
            grids.append(_grid(end, said, system))
            sure = {name: max(u, said.u(name)) for name, u in sure.items()}
        except Problem as problem:
            reasons[end] = str(problem)
            grids.append(_grid(end, None, system))
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


def _about(sure: dict[str, float], system: str) -> str:
    unit = units.unit_of("length", system).symbol
    pre, sag = (doubt(u, "length", system) for u in sure.values())
    if not pre or not sag:
        return unit
    return tr("{unit}, preload {first}, sag {second}", unit=unit, first=pre, second=sag)


def _grid(end: End, said: Said | None, system: str) -> Grid:
    heads = ("", tr("preload", sense="head"), tr("sag", sense="head"), "%")
    rows = []
    asked = None
    if said is not None:
        asked = with_growth(said.asked, said.asked.axle, said.asked.arm, said.asked.motion_ratio)
        now = seat_of(asked)
    for turns in TURNS:
        key = tr("now") if turns == 0 else up_or_down(turns)
        if asked is None:
            rows.append((key, BLANK, BLANK, BLANK))
            continue
        then = now.down(turns * asked.pitch)
        pressed = length(then.preload, system) if then.preload >= 0 else tr("loose")
        share = units.number_text(then.sag_share, "share", system, 0)
        rows.append((key, pressed, length(then.sag, system), share))
    boxed = frozenset({TURNS.index(0.0)})
    return Grid(heads, _ROLES, tuple(rows), end_label(end), boxed=boxed, keep=_KEEP)
