"""What keeps the damping of an end once one thing has changed: another oil, or a drill."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace

from calc.answering.hand import to_step
from calc.forms.bottles import Poured, nearest_words
from calc.forms.end_damper import other_piston
from calc.forms.failures import clause
from calc.forms.filling import Fill, Wanted, filled_together
from calc.forms.names import end_word
from calc.forms.oil_choice import Named, NoOil
from calc.forms.piston import DamperInputs
from calc.forms.whole_car.inputs import Asked
from calc.forms.whole_car.state import EndState, State
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.damper import Bench, Damped
from calc.physics.damper import Piston
from calc.physics.failure import PhysicsError
from calc.physics.root import NoRoot, rising_root
from calc.replying.inputs import Problem

_AS_IT_IS = 0.05  # relative: damping this near needs no other oil
_DRILL = 0.1e-3  # m, from one drill to the next
_SMALLEST, _WIDER = 0.3, (3.0, 2.5, 2.0, 1.6, 1.3, 1.15, 1.05)  # times the hole as it is


@dataclass(frozen=True)
class Damping:
    """Damping ratio of an end before, after the change alone, and once it is mended: the exact
    oil, by name where the bottles give one (`lack` says why not) with what is poured out of which,
    or the drill for its holes; and the damper then with the oil in it, m2/s at 25 C."""

    before: float
    changed: float
    mended: float
    grade: float
    then: Damped
    oil: float
    named: Named | None = None
    lack: str = ""
    hole: float | None = None
    poured: Poured = ()

    @property
    def wants_oil(self) -> bool:
        """Whether an oil would keep it that the bottles do not give."""
        return bool(self.lack) and self.grade != self.oil

    @property
    def stays(self) -> bool:
        return abs(self.changed / self.before - 1) <= _AS_IT_IS


def damping_of(asked: Asked, was: State, becomes: State) -> dict[End, Damping]:
    """What keeps the damping ratio of both ends."""
    made = {end: _exact(asked, was.end(end), becomes.end(end)) for end in ENDS}
    if asked.change == "oil":
        return made
    needs = {
        end: Wanted(one.grade, asked.ends[end].to_make, asked.syringe) for end, one in made.items()
    }
    wanted = {end: need for end, need in needs.items() if need.grade != made[end].oil}
    stock = dict(enumerate(asked.car.bottles, 1))
    fills = filled_together(stock, wanted, asked.say)
    filled = {end: _filled(asked, made[end], end, fill) for end, fill in fills.items()}
    return {**made, **filled}


def _filled(asked: Asked, made: Damping, end: End, fill: Fill | NoOil) -> Damping:
    if isinstance(fill, NoOil):
        lack = tr("For the {end}, {lack}.", end=end_word(end), lack=fill)
        return replace(made, lack=lack + nearest_words(asked, asked.car.bottles, made.grade))
    grade = fill.oil.viscosity
    return replace(
        made, mended=made.then.ratio(grade), oil=grade, named=fill.oil, poured=fill.poured
    )


def _exact(asked: Asked, was: EndState, becomes: EndState) -> Damping:
    """With the exact oil that keeps the ratio of an end, before the bottles are looked at."""
    bench = asked.bench(was.key)
    wanted = was.damped(was.mean_seat, bench).ratio(was.oil)
    then = becomes.damped(was.settled(becomes), bench)
    changed = then.ratio(becomes.oil)
    made = Damping(
        before=wanted,
        changed=changed,
        mended=changed,
        grade=becomes.oil,
        then=then,
        oil=becomes.oil,
    )
    if made.stays:
        return made
    if asked.change == "oil":
        return _drilled(asked, bench, made, was.key)
    try:
        grade = then.grade_for(wanted)
    except PhysicsError as failure:
        end, why = end_word(was.key), clause(failure)
        lack = tr("The {end} damping cannot be kept by oil: {why}.", end=end, why=why)
        return replace(made, lack=lack)
    return replace(made, grade=grade)


def _drilled(asked: Asked, bench: Bench, made: Damping, key: End) -> Damping:
    """The drill for the plain holes with which the new oil damps as the old one did."""
    damper = asked.dampers[key]
    oil, now = made.oil, damper.hole
    piston = damper.made()
    wanted = bench.damping(piston, oil) * made.before / made.changed

    def drilled(hole: float) -> Piston:
        return other_piston(damper, key, Asked.change, (DamperInputs.hole, hole))

    def damping(hole: float) -> float:
        return bench.damping(drilled(hole), oil)

    try:
        low, high = now * _SMALLEST, now * _largest(damping, now)
        exact = rising_root(lambda hole: 1 - damping(hole) / wanted, low, high, 1e-9)
        hole = to_step(exact, _DRILL)
        gives = made.changed * damping(hole) / bench.damping(piston, oil)
    except (NoRoot, Problem):  # a Problem: rounded to the drill, the holes exceed the piston
        lack = tr(
            "No drill size makes the {end} piston damp as before with this oil.", end=end_word(key)
        )
        return replace(made, lack=lack)
    then = replace(made.then, piston=drilled(hole))
    return replace(made, mended=gives, hole=hole, then=then)


def _largest(damping: Callable[[float], float], now: float) -> float:
    """How many times as wide the holes may be before they no longer fit the piston."""
    for times in _WIDER:
        with suppress(Problem):
            damping(now * times)
            return times
    return 1.0
