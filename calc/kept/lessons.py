"""What gauge and scales teach: what was predicted of the work, beside what was measured since.

Turned collars lift an end by pitch / motion ratio. Where the car rises by another share of that
than predicted, time after time, the motion ratio of the record is off, and the best one by least
squares over all that has been seen is offered. Where that ratio or the pitch was only assumed, what
was seen is offered as soon as it is surer, off or not. Heights that scatter about that by more than
the gauge does show the band within which friction holds the car. Another spring lets the car settle
by load / rate: where it settles elsewhere than predicted, it is the rate of the spring that was
fitted, its load being known. Loads on the scales are compared and no value is offered for them:
springs, collars, friction and how level the scales stand move them all alike.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, get_args

from calc.answering.uncertainty import COVERAGE
from calc.asking import record
from calc.kept.log import Entry
from calc.model.car import Car, is_known, is_sure, number_at
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.following import share_of, stands_up, uncertainty_with
from calc.model.origin import Origin
from calc.model.standing import stand_up
from calc.units import STANDARD_GRAVITY

Teaches = Literal["motion_ratio", "spring_rate", "friction", "pitch"]
_TAUGHT: tuple[Teaches, ...] = get_args(Teaches)
_LEAST = 0.2e-3
"""m; a smaller predicted rise teaches nothing that a height gauge could show."""


def _differ(by: float, u: float, other_u: float) -> bool:
    """Whether two values that are `by` apart differ by more than both uncertainties allow."""
    return abs(by) > COVERAGE * math.hypot(u, other_u)


@dataclass(frozen=True)
class Observation:
    """A predicted change of height beside the measured one, m, with the standard uncertainty of
    the measured change (the gauge's, and where friction lets the car come to rest) and of the
    whole prediction; the predicted height itself with its own. `by` is what was done: collars
    turned, springs fitted, or both. `then` has the values of the record that the prediction was
    made with."""

    height: float
    u_height: float
    predicted: float
    measured: float
    u_gauge: float
    u_friction: float
    u_predicted: float
    by: frozenset[str]
    then: Mapping[Teaches, float]

    @property
    def u_measured(self) -> float:
        return math.hypot(self.u_gauge, self.u_friction)

    @property
    def is_off(self) -> bool:
        """Whether the two differ by more than both allow."""
        return _differ(self.measured - self.predicted, self.u_measured, self.u_predicted)


@dataclass(frozen=True)
class Offer:
    """A value of the record, SI, that would have predicted better what was seen, with its standard
    uncertainty, and how many heights it rests on. One that takes the place of what was only assumed
    has how far the car has moved `per_turn`, m, with the standard uncertainty of that."""

    name: Teaches
    value: float
    u: float
    count: int
    per_turn: tuple[float, float] | None = None


@dataclass(frozen=True)
class Lesson:
    """What an end has shown, and which other values of the record would explain it: only those
    that can be, and that differ from the record by more than their uncertainty or are surer than
    what was only assumed."""

    end: End
    seen: tuple[Observation, ...]
    offers: tuple[Offer, ...]

    @property
    def last(self) -> Observation:
        return self.seen[-1]


@dataclass(frozen=True)
class Weighed:
    """A predicted load on the scale of a corner beside the one that it showed then, kg, each with
    its standard uncertainty; that of the second has where friction lets the car come to rest."""

    corner: Corner
    predicted: float
    u_predicted: float
    measured: float
    u_measured: float

    @property
    def is_off(self) -> bool:
        """Whether the two differ by more than both allow."""
        return _differ(self.measured - self.predicted, self.u_measured, self.u_predicted)


def weighed(car: Car, entries: Sequence[Entry]) -> tuple[Weighed, ...]:
    """The corners that were weighed after a load had been predicted there, and not worked on since;
    the entries of a car's log, oldest first."""
    rests = _loads_of_friction(car)
    found = []
    for corner in CORNERS:
        path = f"corners.{corner}.load"
        predicted = measured = None
        for entry in entries:
            was, told = entry.was.get(path), entry.does.learned.get(path)
            if told is not None:
                if was is not None and was[1] is not None and was[1].how == "predicted":
                    predicted = was
                measured = told
            elif was is not None:
                predicted = measured = None
        if predicted and measured:
            u, u_scale = (uncertainty_with(car, path, one[1]) for one in (predicted, measured))
            u_measured = math.hypot(u_scale, rests[corner.place])
            found.append(Weighed(corner, predicted[0], u, measured[0], u_measured))
    return tuple(found)


def _loads_of_friction(car: Car) -> list[float]:
    """Standard uncertainty of what each scale shows from one reading to the next, kg: every corner
    comes to rest anywhere in the band of its end, another time elsewhere; nothing where too little
    is known to tell."""
    squares = [0.0] * len(CORNERS)
    if not stands_up(car):
        return squares
    try:
        standing = stand_up(car)
        for corner in CORNERS:
            offsets = [0.0] * len(CORNERS)
            # Two places, each anywhere in the band (JCGM 100:2008, 4.3.7).
            offsets[corner.place] = _of_record(car, f"{corner.end}.friction") / math.sqrt(6.0)
            loads = standing.held(offsets).loads
            squares = [sum_ + load**2 for sum_, load in zip(squares, loads, strict=True)]
    except ValueError:
        return [0.0] * len(CORNERS)
    return [math.sqrt(square) / STANDARD_GRAVITY for square in squares]


def lessons(car: Car, entries: Sequence[Entry]) -> tuple[Lesson, ...]:
    """What the entries of a car's log teach, oldest first; one lesson an end at most. It ends with
    what it is about: where the height is another since, or a value that would explain it."""
    found = []
    for end in ENDS:
        seen, holds = _seen(car, end, entries)
        if holds:
            turned = _turned(car, end, seen)
            made = (_moved(car, end, turned), _rate(car, end, seen), _friction(turned))
            fit = tuple(offer for offer in made if offer and _fits(car, end, offer))
            found.append(Lesson(end, seen, fit))
    return tuple(found)


@dataclass
class _Open:
    """A height that was predicted from the one before the work."""

    before: float
    u_before: float
    by: set[str]
    predicted: tuple[float, Origin] | None = None


def _seen(car: Car, end: End, entries: Sequence[Entry]) -> tuple[tuple[Observation, ...], bool]:
    """Every time that a height was measured where one had been predicted, and whether the last of
    them still holds. A height that is measured once more replaces the one before."""
    path = f"{end}.ride_height"
    found: list[Observation] = []
    work: _Open | None = None
    looked = False
    for entry, then in zip(entries, _then(car, end, entries), strict=True):
        was, told = entry.was.get(path), entry.does.learned.get(path)
        if told is None:
            if was is not None and was[1] is not None and was[1].how != "predicted":
                work = _Open(was[0], uncertainty_with(car, path, was[1]), set())
            if work:
                work.by.update(_kinds(end, entry))
            looked = looked and was is None and not _explains(end, entry)
            continue
        if work and was is not None and was[1] is not None and was[1].how == "predicted":
            work.predicted = was[0], was[1]
        elif not looked:
            work = None
        made = _observed(car, path, work, told, then) if work else None
        if made:
            found[len(found) - looked :] = [made]
        looked = made is not None
    return tuple(found), looked


def _observed(
    car: Car, path: str, work: _Open, told: tuple[float, Origin], then: Mapping[Teaches, float]
) -> Observation | None:
    if work.predicted is None or abs(work.predicted[0] - work.before) < _LEAST:
        return None
    height, source = work.predicted
    u = math.hypot(work.u_before, uncertainty_with(car, path, told[1]))
    # What is common to both, the height before, is in the measured change.
    u_rise = math.sqrt(max(0.0, (source.u or 0.0) ** 2 - work.u_before**2))
    # Two heights, each anywhere in the band (JCGM 100:2008, 4.3.7).
    rest = then["friction"] / math.sqrt(6.0)
    return Observation(
        height, source.u or 0.0, height - work.before, told[0] - work.before, u, rest, u_rise,
        frozenset(work.by), then,
    )  # fmt: skip


def _explains(end: End, entry: Entry) -> bool:
    """Whether an entry changes a spring of an end, or another value that would explain heights."""
    names = (*_TAUGHT, "spring_free")
    return any(f"{end}.{name}" in entry.was for name in names)


def _kinds(end: End, entry: Entry) -> Iterator[str]:
    if any(entry.does.turns.values()):
        yield "turned"
    for path in entry.does.fitted:
        if ".spring_" in path:
            yield "fitted" if path.startswith(f"{end}.") else "fitted elsewhere"


def _then(car: Car, end: End, entries: Sequence[Entry]) -> Sequence[Mapping[Teaches, float]]:
    """The values of the record when each entry was made, itself carried out."""
    now: dict[Teaches, float] = {}
    for name in _TAUGHT:
        now[name] = _of_record(car, f"{end}.{name}")
    found = []
    for one in reversed(entries):
        found.append(dict(now))
        for name in _TAUGHT:
            if (was := one.was.get(f"{end}.{name}")) and was[1] is not None:
                now[name] = was[0]
    return found[::-1]


def _of_record(car: Car, path: str) -> float:
    """The number of the record; where nobody knows it, what is typical instead."""
    usual = None if is_known(car, path) else number_at(path).typical
    value: float = record.get(car, path) if usual is None else usual
    return value


def _fits(car: Car, end: End, offer: Offer) -> bool:
    """Whether an offer can be, and says more than the record does."""
    path = f"{end}.{offer.name}"
    entry = number_at(path)
    low, high = entry.usual
    is_far = abs(offer.value - record.get(car, path)) > COVERAGE * offer.u
    return low <= offer.value <= high and (offer.per_turn is not None or is_far)


def _turned(car: Car, end: End, seen: Sequence[Observation]) -> list[tuple[Observation, float]]:
    """Those after turned collars alone, each with the rise that a motion ratio of 1 would give by
    the pitch of the record."""
    pitch = record.get(car, f"{end}.pitch")
    return [
        (s, s.predicted * s.then["motion_ratio"] * pitch / s.then["pitch"])
        for s in seen
        if s.by == {"turned"}
    ]


def _moved(car: Car, end: End, turned: Sequence[tuple[Observation, float]]) -> Offer | None:
    """The motion ratio or the pitch by which the car would have been predicted to move as it did:
    first what was only assumed, as far as it can be. Its doubt has that of the other one."""
    best = _ratio(turned)
    if best is None:
        return None
    ratio, pitch = f"{end}.motion_ratio", f"{end}.pitch"
    of_turns, of_ratio, of_pitch = best.u / best.value, share_of(car, ratio), share_of(car, pitch)
    turn = record.get(car, pitch) / best.value
    moved = turn, turn * of_turns
    made = replace(best, u=best.value * math.hypot(of_turns, of_pitch))
    value = turn * record.get(car, ratio)
    other = Offer("pitch", value, value * math.hypot(of_turns, of_ratio), best.count, moved)
    both = not (is_sure(car, ratio) or is_sure(car, pitch))

    def is_surer(offer: Offer, of_record: float) -> bool:
        """Whether it says more than what was assumed: of both the turns tell only together."""
        if both:
            return of_turns < math.hypot(of_ratio, of_pitch)
        return offer.u / offer.value < of_record

    offers = []
    if not is_sure(car, ratio) and is_surer(made, of_ratio):
        offers.append(replace(made, per_turn=moved))
    if not is_sure(car, pitch) and is_surer(other, of_pitch):
        offers.append(other)
    return next((offer for offer in (*offers, made) if _fits(car, end, offer)), None)


def _ratio(turned: Sequence[tuple[Observation, float]]) -> Offer | None:
    """The ratio R for which measured = lift / R, lift being pitch times turns."""
    squares = math.fsum(lift**2 for _, lift in turned)
    share = math.fsum(lift * s.measured for s, lift in turned) / squares if turned else 0.0
    if share <= 0:
        return None
    u = math.sqrt(math.fsum((lift * s.u_measured) ** 2 for s, lift in turned)) / squares
    return Offer("motion_ratio", 1 / share, u / share**2, len(turned))


def _friction(turned: Sequence[tuple[Observation, float]]) -> Offer | None:
    """The band that the scatter about the best ratio shows beyond the gauge's own: the difference
    of two heights, each anywhere in a band, has the variance band² / 6."""
    best = _ratio(turned)
    free = len(turned) - 1
    if best is None or free < 1:
        return None
    variance = math.fsum((s.measured - lift / best.value) ** 2 for s, lift in turned) / free
    gauge = math.fsum(s.u_gauge**2 for s, _ in turned) / len(turned)
    if variance <= gauge:
        return None
    band = math.sqrt(6.0 * (variance - gauge))
    # A variance from few has the relative standard uncertainty √(2 / n) (JCGM 100:2008, E.4.3);
    # neighbours share a height, which makes them worth 2/3 as many: 1 + 2 (1/2)² = 3/2.
    u = 6.0 * variance * math.sqrt(3.0 / free) / (2.0 * band)
    return Offer("friction", band, u, len(turned))


def _rate(car: Car, end: End, seen: Sequence[Observation]) -> Offer | None:
    """The rate of the spring fitted last, from the height at which it carries its known load."""
    fitted = [s for s in seen if s.by == {"fitted"}]
    if not fitted or not stands_up(car):
        return None
    last = fitted[-1]
    if last.then["spring_rate"] != record.get(car, f"{end}.spring_rate"):
        return None  # of another spring
    try:
        seats = zip(CORNERS, stand_up(car).seats, strict=True)
        force = math.fsum(seat.force for corner, seat in seats if corner.end is end) / 2
    except ValueError:
        return None
    if force <= 0:
        return None
    ratio = last.then["motion_ratio"]
    give = 1 / last.then["spring_rate"] - (last.measured - last.predicted) * ratio / force
    if give <= 0:
        return None
    u = math.hypot(last.u_measured, last.u_predicted) * ratio / force
    return Offer("spring_rate", 1 / give, u / give**2, 1)
