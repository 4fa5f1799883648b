"""Charts read back with a straight edge, by somebody who knows nothing of how they were drawn.

The reader takes the lines of a scale with the numbers beside them, judges by eye (linearly) between
two lines, and lays a straight edge. The hand may be off by so many millimetres at each point laid
or read. What is true comes from the calculation that the page makes.
"""

import math
import random
import re
from bisect import bisect
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from xml.etree import ElementTree

from calc.model.standing import Seat, SpringSize, stack_of
from calc.physics import damper, oil, warm
from calc.physics.linkage import lift_per_turn
from calc.physics.ride import GRAVITY
from calc.physics.spring import spring_force
from site_src.pages.charts.book import charts
from site_src.pages.charts.draw import Paper
from site_src.pages.charts.nomogram import Chart
from tests.site.pictures import SVG, read

Point = tuple[float, float]


@dataclass(frozen=True)
class Ruled:
    """The lines of one side of a scale: (value, place on paper in mm)."""

    lines: tuple[tuple[float, Point], ...]

    def place(self, value: float) -> Point:
        """Where a value lies, by eye between the two lines next to it."""
        values = [line for line, _ in self.lines]
        assert values[0] <= value <= values[-1]
        upper = min(max(bisect(values, value), 1), len(values) - 1)
        (low, (ax, ay)), (high, (bx, by)) = self.lines[upper - 1 : upper + 1]
        along = (value - low) / (high - low)
        return ax + along * (bx - ax), ay + along * (by - ay)

    def value(self, y: float) -> float:
        """The reading at this height of an upright scale; a little beyond its ends too."""
        rising = self.lines[0][1][1] < self.lines[-1][1][1]
        lines = self.lines if rising else self.lines[::-1]
        upper = min(max(bisect([at for _, (_, at) in lines], y), 1), len(lines) - 1)
        (low, (_, ay)), (high, (_, by)) = lines[upper - 1 : upper + 1]
        return low + (y - ay) / (by - ay) * (high - low)

    @property
    def x(self) -> float:
        """Of an upright scale."""
        return self.lines[0][1][0]

    def ends(self) -> tuple[float, float]:
        return self.lines[0][0], self.lines[-1][0]

    def holds(self, value: float) -> bool:
        return self.ends()[0] <= value <= self.ends()[1]


def ruled(side: ElementTree.Element) -> Ruled:
    lines = []
    for line in side.iter(f"{SVG}path"):
        start = re.match(r"M([-\d.]+) ([-\d.]+)[hv]", line.attrib["d"])
        assert start
        lines.append((float(line.attrib["data-value"]), (float(start[1]), float(start[2]))))
    return Ruled(tuple(sorted(lines)))


@cache
def drawn(paper: Paper) -> tuple[Chart, ...]:
    return charts(paper)


class Sheet:
    """A chart on paper."""

    def __init__(self, paper: Paper, key: str) -> None:
        (self.chart,) = (chart for chart in drawn(paper) if chart.key == key)
        self.root = read(self.chart.svg)
        self.sides = {
            (scale.attrib["data-scale"], side.attrib["data-unit"]): ruled(side)
            for scale in self.root.iter(f"{SVG}g")
            if "data-scale" in scale.attrib
            for side in scale.iter(f"{SVG}g")
            if "data-unit" in side.attrib
        }

    def __getitem__(self, name: tuple[str, str]) -> Ruled:
        return self.sides[name]


def met(one: Point, other: Point, x: float) -> float:
    """Height at which a straight edge over two points crosses the upright line at x."""
    return one[1] + (other[1] - one[1]) * (x - one[0]) / (other[0] - one[0])


@dataclass
class Hand:
    """Lays an edge and reads, `off` mm from where it should at each point (standard)."""

    rng: random.Random
    off: float = 0.0

    def shaken(self) -> float:
        """How far from it, mm."""
        return self.rng.gauss(0.0, self.off) if self.off else 0.0

    def set(self, scale: Ruled, value: float) -> Point:
        """A point on an upright scale."""
        x, y = scale.place(value)
        return x, y + self.shaken()

    def set_across(self, scale: Ruled, value: float) -> Point:
        """A point on a level scale."""
        x, y = scale.place(value)
        return x + self.shaken(), y

    def crossed(self, one: Point, other: Point, scale: Ruled) -> Point:
        """Where an edge over two points crosses an upright scale, as marked or read."""
        return scale.x, met(one, other, scale.x) + self.shaken()


def evenly(rng: random.Random, span: tuple[float, float]) -> float:
    """A value from a span, every ratio as likely as any other."""
    return math.exp(rng.uniform(math.log(span[0]), math.log(span[1])))


Reading = tuple[float, float]
"""As the chart says, and as the calculation does."""


def blend(chart: Sheet, hand: Hand) -> Reading | None:
    left, right, shares = chart["thin", "cSt"], chart["thick", "cSt"], chart["share", "%"]
    thin, thick = sorted(evenly(hand.rng, left.ends()) for _ in "ab")
    percent = hand.rng.uniform(0, 100)
    made = oil.blend([(100 - percent, thin * 1e-6), (percent, thick * 1e-6)]) * 1e6
    edge = hand.set(left, thin), hand.set(right, thick)
    y = met(*edge, shares.place(percent)[0]) + hand.shaken()
    return left.value(y), made


def collar(chart: Sheet, hand: Hand) -> Reading | None:
    pitch, lift, ratio = chart["pitch", "mm"], chart["lift", "mm"], chart["ratio", ""]
    turns, height = chart["turns", ""], chart["height", "mm"]
    p, mr = evenly(hand.rng, pitch.ends()), evenly(hand.rng, ratio.ends())
    n = round(8 * evenly(hand.rng, turns.ends())) / 8  # as finely as a collar is turned by hand
    one = lift_per_turn(pitch=p * 1e-3, motion_ratio=mr) * 1e3
    if not (lift.holds(one) and height.holds(n * one)):
        return None
    pivot = hand.crossed(hand.set(pitch, p), hand.set(ratio, mr), lift)
    return height.value(hand.crossed(pivot, hand.set(turns, n), height)[1]), n * one


def spring(chart: Sheet, hand: Hand) -> Reading | None:
    rate, force, preload = chart["rate", "N/mm"], chart["force", "N"], chart["preload", "mm"]
    k, s = evenly(hand.rng, rate.ends()), evenly(hand.rng, preload.ends())
    f = spring_force(rate=k * 1e3, compression=s * 1e-3)
    if not force.holds(f):
        return None
    return force.value(hand.crossed(hand.set(rate, k), hand.set(preload, s), force)[1]), f


def temperature(chart: Sheet, hand: Hand) -> Reading | None:
    grade, drag = chart["grade", "cSt"], chart["drag", "mPa·s"]
    heat = chart["temperature", "°C"]
    nu = evenly(hand.rng, grade.ends())
    now, then = (hand.rng.uniform(*heat.ends()) for _ in "ab")
    there = warm.dynamic_at(nu * 1e-6, now + 273.15) * 1e3
    same = warm.same_feel(nu * 1e-6, now + 273.15, then + 273.15) * 1e6
    if not (drag.holds(there) and grade.holds(same)):
        return None
    pivot = hand.crossed(hand.set(grade, nu), hand.set(heat, now), drag)
    return grade.value(hand.crossed(pivot, hand.set(heat, then), grade)[1]), same


def seat(load: float, ratio: float, rate: float, preload: float) -> Seat:
    """A spring on its collar: g, none, N/mm, mm. Its free length does not matter here."""
    stack = stack_of([SpringSize(rate * 1e3, 1.0)])
    return Seat(stack, load * 1e-3 * GRAVITY, ratio, 1.0 - preload * 1e-3)


def squeeze(chart: Sheet, hand: Hand) -> Reading | None:
    """By how much the spring is shorter, on the chart of sag."""
    load, ratio, force = chart["load", "g"], chart["ratio", ""], chart["force", "N"]
    rate, shorter = chart["rate", "N/mm"], chart["squeeze", "mm"]
    w, mr, k = (evenly(hand.rng, scale.ends()) for scale in (load, ratio, rate))
    stood = seat(w, mr, k, 0.0)
    c = stood.reach * 1e3
    if not (force.holds(stood.force) and shorter.holds(c)):
        return None
    pivot = hand.crossed(hand.set(load, w), hand.set(ratio, mr), force)
    return shorter.value(hand.crossed(pivot, hand.set(rate, k), shorter)[1]), c


def wheel_sag(chart: Sheet, hand: Hand) -> Reading | None:
    """The second half of the chart of sag: from the shaft to the wheel."""
    shaft, ratio, wheel = chart["shaft", "mm"], chart["ratio", ""], chart["wheel", "mm"]
    travel, mr = evenly(hand.rng, shaft.ends()), evenly(hand.rng, ratio.ends())
    preload = hand.rng.uniform(0.0, 5.0)
    # A load that presses this spring by preload and travel.
    stood = seat((preload + travel) * 0.5 * mr / GRAVITY * 1e3, mr, 0.5, preload)
    sag = stood.sag * 1e3
    if not wheel.holds(sag):
        return None
    return wheel.value(hand.crossed(hand.set(shaft, travel), hand.set(ratio, mr), wheel)[1]), sag


def swap(chart: Sheet, hand: Hand, force: float | None = None) -> Reading | None:
    now, new, give = chart["now", "N/mm"], chart["new", "N/mm"], chart["give", "mm/N"]
    forces, shift = chart["force", "N"], chart["shift", "mm"]
    k, other = (evenly(hand.rng, scale.ends()) for scale in (now, new))
    f = force or evenly(hand.rng, forces.ends())
    before = seat(f / GRAVITY * 1e3, 1.0, k, 0.0)
    after = seat(f / GRAVITY * 1e3, 1.0, other, 0.0)
    down = before.shift_to(after) * 1e3
    if not (give.holds(1 / other - 1 / k) and shift.holds(down)):
        return None
    pivot = hand.crossed(hand.set(now, k), hand.set(new, other), give)
    return shift.value(hand.crossed(pivot, hand.set_across(forces, f), shift)[1]), down


def piston_damping(holes: int, hole: float, thickness: float, play: float) -> float:
    """Slow damping of a piston, mm, m, m, with 400 cSt in a body of 12 mm."""
    made = damper.Piston(
        holes=(damper.Holes(holes, hole * 1e-3, "both"),), thickness=thickness,
        diameter=12e-3 - play, bore=12e-3, shaft=3e-3, eccentricity=0.5,
    )  # fmt: skip
    return damper.damping_coefficient(made, 0.0, 400e-6, 970.0, "compression")


def piston(chart: Sheet, hand: Hand) -> Reading | None:
    holes, hole, opening = chart["holes", ""], chart["hole", "mm"], chart["opening", ""]
    grade, damping = chart["grade", "cSt"], chart["damping", ""]
    (n, d), (m, e) = ((hand.rng.randint(1, 10), evenly(hand.rng, hole.ends())) for _ in range(2))
    nu = evenly(hand.rng, grade.ends())
    one, other = (piston_damping(count, wide, 2.5e-3, 0.02e-3) for count, wide in ((n, d), (m, e)))
    same = nu * one / other
    if not grade.holds(same) or not all(
        opening.holds(opening_of(hole, holes, opening, *each)) for each in ((n, d), (m, e))
    ):
        return None
    first = hand.crossed(hand.set(holes, n), hand.set(hole, d), opening)
    second = hand.crossed(hand.set(holes, m), hand.set(hole, e), opening)
    pivot = hand.crossed(first, hand.set(grade, nu), damping)
    return grade.value(hand.crossed(second, pivot, grade)[1]), same


def opening_of(hole: Ruled, holes: Ruled, opening: Ruled, count: int, wide: float) -> float:
    return opening.value(met(holes.place(count), hole.place(wide), opening.x))


QUESTIONS: dict[str, tuple[str, Callable[[Sheet, Hand], Reading | None]]] = {
    "blend": ("blend", blend),
    "temperature": ("temperature", temperature),
    "piston": ("piston", piston),
    "collar": ("collar", collar),
    "spring": ("spring", spring),
    "sag: spring shorter": ("sag", squeeze),
    "sag: wheel": ("sag", wheel_sag),
    "swap": ("swap", swap),
}
"""Each question to a chart: (chart, how it is read)."""
ABSOLUTE = frozenset({"swap"})
"""Questions whose error is a length, mm, and not a share."""


def errors(paper: Paper, question: str, count: int, off: float) -> list[float]:
    """How far off so many random readings are, smallest first: shares, or mm where ABSOLUTE."""
    key, asked = QUESTIONS[question]
    chart, hand, found = Sheet(paper, key), Hand(random.Random(question), off), []
    while len(found) < count:
        reading = asked(chart, hand)
        if reading is not None:
            says, true = reading
            found.append(abs(says - true if question in ABSOLUTE else says / true - 1))
    return sorted(found)
