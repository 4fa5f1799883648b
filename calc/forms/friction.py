"""Friction of the standing car in the forms: seals and joints hold it anywhere within a band.

Pressed down and let go it stands low by half the band, lifted and let go high by as much; rolled or
bounced, anywhere between. What it does at a corner is what so much collar would do there.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import TypeVar

from calc.answering.answer import Caution
from calc.forms.names import corner_label, end_label, place_word
from calc.language import later, tr
from calc.model.corners import CORNERS, Corner, End
from calc.replying.inputs import Group, Inputs, assumed, from_car, groups

BETWEEN_READINGS = math.sqrt(2.0)
"""What is seen of the band from one reading to the next: it is another place each time, and both
are equally doubtful."""
_REST = later("where friction lets it come to rest")


class EndFriction(Group):
    """How far apart an end stands once it was lifted and once it was pressed down, m, and how high
    in that band it stands: one push moves both of its corners alike."""

    friction: float = from_car("{axle}.friction")
    rest: float = assumed(_REST)


class CornerRest(Group):
    """How high in the band of its end a corner stands, m, each for itself."""

    rest: float = assumed(_REST)


class FourCorners(Inputs):
    """Of a form that is about all four corners."""

    frictions: Mapping[End, EndFriction]
    at_corners: Mapping[Corner, CornerRest] = groups(keys=CORNERS)

    def rests(self) -> list[float]:
        """How high in its band each corner stands, m."""
        return [one.rest for one in self.at_corners.values()]


_Asked = TypeVar("_Asked", bound=Inputs)
_Standing = TypeVar("_Standing", bound=FourCorners)


def with_end_friction(asked: _Asked, end: End, friction: EndFriction) -> _Asked:
    """The inputs joined by where in its band an end stands."""
    at = friction.at(EndFriction.rest)
    return asked.assuming((at, 0.0, _spread(friction)), of=end_label(end))


def with_corner_frictions(asked: _Standing) -> _Standing:
    """The inputs joined by where in its band each corner stands."""
    spreads = {end: _spread(friction) for end, friction in asked.frictions.items()}
    for corner, stands in asked.at_corners.items():
        at = stands.at(CornerRest.rest)
        asked = asked.assuming((at, 0.0, spreads[corner.end]), of=corner_label(corner))
    return asked


def _spread(friction: EndFriction) -> float:
    """Standard uncertainty of the place in a band, m: any is as likely (JCGM 100:2008, 4.3.7), and
    the band has an uncertainty of its own."""
    u = friction.of.u[friction.at(EndFriction.friction)]
    return math.hypot(friction.friction, u) / math.sqrt(12.0)


def hides(asked: Inputs, moves: Iterable[tuple[End | Corner, float, float]]) -> Iterator[Caution]:
    """Where an end or a corner is to rise or sink by less than friction may hide: what it is, how
    far (m), and how wide its band is (m)."""
    nothing = asked.say(0.0, "length")
    lost = [
        tr(
            "{place} {rise} (it comes to rest within ± {off})",
            place=place_word(where),
            rise=shown,
            off=asked.say(band / 2, "length"),
        )
        for where, rise, band in moves
        if abs(rise) < band / 2 and (shown := asked.say(abs(rise), "length")) != nothing
    ]
    if lost:
        text = tr(
            "So small a move is lost in friction: {moves}. Measure pressed down and lifted, before "
            "and after, and go by the means.",
            moves=", ".join(lost),
        )
        finding = tr("So small a move is lost in friction: {moves}.", moves=", ".join(lost))
        yield Caution(text, finding=finding)
