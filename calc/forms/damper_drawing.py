"""The damper to scale at full droop, at ride height and at full bump, with the user's spring."""

from dataclasses import dataclass

from calc.answering.answer import Drawing, Line, Ring, Tag
from calc.forms.names import end_word
from calc.forms.piston import DamperInputs
from calc.forms.recorded import DrawnBody
from calc.language import later, tr
from calc.model.corners import End
from calc.model.standing import Finding, Seat
from calc.replying.inputs import Inputs

_WALL = 1.2e-3  # m, of the body
_RIM = 2.5e-3  # m by which collar and cup stand out from the body
_COIL = 1.4e-3  # m of solid length that one drawn coil stands for
_LEAST_COILS, _MOST_COILS = 4, 12
_PLATE = 1.2e-3  # m, thickness of collar and cup as drawn
_EYE = 2.2e-3  # m
_CLEAR = 3e-3  # m between the body and the cup at full bump
_DROOP, _RIDE, _BUMP = later("full droop"), later("ride height"), later("full bump")


@dataclass(frozen=True)
class _Shape:
    """What all three pictures share, m: the foot of the body stands at height 0."""

    seat: Seat
    bore: float
    shaft: float

    @property
    def half(self) -> float:
        """Half the width of collar and cup."""
        return self.bore / 2 + _WALL + _RIM

    @property
    def droop_cup(self) -> float:
        """Height of the cup at full droop."""
        return -(self.seat.stroke + _CLEAR)

    @property
    def collar(self) -> float:
        return self.droop_cup + self.seat.droop_length

    @property
    def foot(self) -> float:
        """Lower end of the body: it has to reach down to the collar."""
        return min(0.0, self.collar - 2 * _PLATE)

    @property
    def top(self) -> float:
        return max(self.seat.stroke + 4 * _CLEAR, self.collar + 2 * _CLEAR)


def damper_drawing(
    asked: Inputs, seat: Seat, end: End, body: DrawnBody | DamperInputs
) -> tuple[Drawing, ...]:
    """Three pictures side by side; coil bind and a loose spring can be seen. None where bore or
    shaft is not known."""
    bore, shaft = body.bore, body.shaft
    if bore is None or shaft is None:
        return ()
    shape = _Shape(seat, bore, min(shaft, bore))
    bound = max(0.0, -seat.bind_margin)
    bump = max(0.0, seat.stroke - bound)
    pitch = 2 * shape.half + max(14e-3, shape.half)
    lines: list[Line] = []
    rings: list[Ring] = []
    tags: list[Tag] = []
    for place, (name, travel) in enumerate(((_DROOP, 0.0), (_RIDE, seat.travel), (_BUMP, bump))):
        x = place * pitch
        lines += _damper(shape, x, travel) + _spring(shape, x, travel)
        rings += [
            Ring(x, shape.droop_cup + travel - 2 * _EYE, _EYE),
            Ring(x, shape.top + 2 * _EYE, _EYE),
        ]
        tags.append(Tag(x, shape.droop_cup - 3 * _EYE, _caption(asked, seat, name), "below"))
        tags.append(_length(asked, shape, x, travel))
    if Finding.BINDS in seat.findings:
        lines.append(_ghost(shape, 2 * pitch))
    title = tr("Your {end} damper to scale: full droop, ride height, full bump", end=end_word(end))
    return (Drawing(title, tuple(lines), tuple(rings), tuple(tags), _says(asked, seat)),)


def _damper(shape: _Shape, x: float, travel: float) -> list[Line]:
    """Body, cap, piston, shaft, collar and cup with the shaft pushed in by `travel`."""
    cup = shape.droop_cup + travel
    body, rod = shape.bore / 2 + _WALL, shape.shaft / 2
    piston = shape.foot + 2 * _PLATE + travel
    top = shape.top
    return [
        _box(x - body, shape.foot, x + body, top),
        _plate(x, top, body, up=_EYE),
        _box(x - shape.bore / 2, piston, x + shape.bore / 2, piston + 2 * _PLATE),
        _box(x - rod, cup - _EYE, x + rod, piston),
        _plate(x, shape.collar, shape.half, up=_PLATE),
        _plate(x, cup, shape.half, up=-_PLATE),
    ]


def _spring(shape: _Shape, x: float, travel: float) -> list[Line]:
    """The coils of every spring in the stack, each pressed by the same force."""
    seat = shape.seat
    force = seat.stack.force(seat.preload + travel)
    base, lines = shape.droop_cup + travel, []
    for place, spring in enumerate(seat.stack.springs):
        free = spring.travel + seat.stack.solid / len(seat.stack.springs)
        solid = free - spring.travel
        length = free - min(force / spring.rate, spring.travel)
        lines += _coils(x, base, shape.half - _COIL, length, solid)
        base += length
        if place + 1 < len(seat.stack.springs):
            lines.append(_plate(x, base, shape.half, up=0.4 * _PLATE))
    return lines


def _coils(x: float, base: float, half: float, length: float, solid: float) -> list[Line]:
    """Slanted front strands, their wire so thick that they touch when the spring is solid."""
    count = min(max(round(solid / _COIL), _LEAST_COILS), _MOST_COILS)
    wire = solid / count
    rise = (length - wire) / (count - 0.5)
    foot = base + wire / 2
    return [
        Line(
            ((x - half, foot + n * rise), (x + half, foot + (n + 0.5) * rise)),
            width=0.85 * wire,
        )
        for n in range(count)
    ]


def _ghost(shape: _Shape, x: float) -> Line:
    """How far the cup would come at full bump, had the spring not gone solid."""
    cup, wide = shape.droop_cup + shape.seat.stroke, shape.half + 2 * _RIM
    return Line(((x - wide, cup), (x + wide, cup)), "dashed")


def _length(asked: Inputs, shape: _Shape, x: float, travel: float) -> Tag:
    """How long the spring stands, beside its middle."""
    seat = shape.seat
    length = min(seat.droop_length - travel, seat.stack.free)
    middle = shape.droop_cup + travel + length / 2
    return Tag(x + shape.half, middle, asked.bare(length, "length", 1))


def _caption(asked: Inputs, seat: Seat, name: str) -> str:
    """Two lines at most: there is little room below each picture."""
    if name == _DROOP and Finding.LOOSE in seat.findings:
        return tr("full droop\nloose by {gap}", gap=asked.bare(-seat.preload, "length", 1))
    if name == _RIDE and Finding.ON_STOP in seat.findings:
        return tr("ride height\non its droop stop")
    if name == _BUMP and Finding.BINDS in seat.findings:
        early = asked.bare(-seat.bind_margin, "length", 1)
        return tr("coil bind, {early}\nbefore full bump", early=early)
    return tr(name)


def _says(asked: Inputs, seat: Seat) -> str:
    say = asked.say
    said = [
        tr(
            "From collar to cup {droop} at full droop, {ride} at ride height, {bump} at full bump.",
            droop=say(seat.droop_length, "length"),
            ride=say(seat.droop_length - seat.travel, "length"),
            bump=say(seat.droop_length - seat.stroke, "length"),
        )
    ]
    if Finding.LOOSE in seat.findings:
        gap = say(-seat.preload, "length")
        said.append(tr("The spring is loose by {gap} at full droop.", gap=gap))
    if Finding.BINDS in seat.findings:
        early = say(-seat.bind_margin, "length")
        said.append(tr("Its coils touch {early} before full bump.", early=early))
    return " ".join(said)


def _box(left: float, low: float, right: float, high: float) -> Line:
    corners = ((left, low), (left, high), (right, high), (right, low), (left, low))
    return Line(corners, "thin")


def _plate(x: float, y: float, half: float, up: float) -> Line:
    """A filled part as wide as twice `half`."""
    return Line(((x - half, y), (x + half, y), (x + half, y + up), (x - half, y + up)), "solid")
