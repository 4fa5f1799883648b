"""Collar turns by the full model: a rigid body on four springs, all heights and loads."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.answer import Answer, Axis, Caution, Curve, Plot, Quantity, Step, Table, Working, Write
from calc.form import Given, Row
from calc.forms.shared import CORNER_NAMES, STAND, sprung_load
from calc.hand import turn_words, way_words
from calc.physics.chassis import Corner, Point, shares, turn_collars
from calc.physics.linear import back_substitute, triangular
from calc.physics.linear import solve as solve_linear
from calc.physics.linkage import lift_per_turn, wheel_rate
from calc.physics.settle import Leg, Stance, balance_point, measured_leg, settle, turned
from calc.physics.turns import Wish, best_turns, equations
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_CLEAR = 0.3e-3  # m; four heights this far from one plane are a reading to doubt
_MOST = 60.0  # turns either way; no thread is longer
_AROUND = 6  # steps tried either side of the exact turns


@dataclass(frozen=True)
class State:
    """The car as measured: corners in order, where and how high it was measured, scale loads."""

    corners: tuple[Corner, ...]
    points: tuple[Point, ...]
    heights: tuple[float, ...]
    loads: tuple[float, ...]

    def heights_after(self, turns: Sequence[float]) -> list[float]:
        """By the linear model, which holds while every wheel is clear of its stops."""
        change = turn_collars(self.corners, turns)
        return [h + change.rise(p) for h, p in zip(self.heights, self.points, strict=True)]


def state(given: Given) -> State:
    ends = {row.key: row for row in given.rows("end")}
    corners, points = [], []
    for row in given.rows("corner"):
        end = ends[row.key.partition("_")[0]]
        side = 1.0 if row.key.endswith("left") else -1.0
        front = end.key == "front"
        corners.append(
            Corner(
                x=given.wheelbase if front else 0.0,
                y=side * end.track / 2,
                wheel_rate=wheel_rate(rate=end.spring_rate, motion_ratio=end.motion_ratio),
                turn_lift=lift_per_turn(pitch=end.pitch, motion_ratio=end.motion_ratio),
                tyre_rate=given.maybe("tyre_rate"),
            )
        )
        along = given.wheelbase + end.reach if front else -end.reach
        points.append((along, side * end.gauge_width / 2))
    rows = given.rows("corner")
    return State(
        tuple(corners),
        tuple(points),
        tuple(row.height for row in rows),
        tuple(row.load * STANDARD_GRAVITY for row in rows),
    )


def plane(points: Sequence[Point], heights: Sequence[float]) -> tuple[float, float, float]:
    """Heave, pitch and roll of the plane nearest to four heights (least squares), m and m/m."""
    arms = [(1.0, x, y) for x, y in points]
    matrix = [[sum(a[i] * a[j] for a in arms) for j in range(3)] for i in range(3)]
    right = [sum(a[i] * h for a, h in zip(arms, heights, strict=True)) for i in range(3)]
    heave, pitch, roll = solve_linear(matrix, right)
    return heave, pitch, roll


def legs(given: Given, car: State) -> tuple[Leg, ...]:
    """Every corner with its droop stop, standing as it was measured."""
    ends = {row.key: row for row in given.rows("end")}
    heave, pitch, roll = plane(car.points, car.heights)
    made = []
    for row, corner in zip(given.rows("corner"), car.corners, strict=True):
        end = ends[row.key.partition("_")[0]]
        load = sprung_load(row.load, end.unsprung, f"end.{end.key}.unsprung")
        preload = (end.spring_free - end.droop_length) * end.spring_rate * end.motion_ratio
        height = heave + pitch * corner.x + roll * corner.y
        made.append(measured_leg(corner, load=load, preload=preload, height=height))
    return tuple(made)


def solve(given: Given) -> Answer:
    car = state(given)
    rows = given.rows("corner")
    exact: tuple[float, ...] = ()
    if given.choice("ask") == "turns":
        exact, turns = _best(given, car)
    else:
        turns = tuple(row.turns for row in rows)
    standing = legs(given, car)
    loads = [leg_load(row, given) for row in rows]
    weight, centre = sum(loads), balance_point(car.corners, loads)
    before = settle(standing, weight=weight, centre=centre)
    moved = [turned(leg, n) for leg, n in zip(standing, turns, strict=True)]
    after = settle(moved, weight=weight, centre=centre)
    heights = [
        h + after.height(p) - before.height(p) for h, p in zip(car.heights, car.points, strict=True)
    ]
    scale = [
        max(0.0, f + a - b) for f, a, b in zip(car.loads, after.loads, before.loads, strict=True)
    ]
    return Answer(
        steps=_steps(given, rows, turns, heights, scale),
        quantities=_quantities(given, turns, exact, heights, scale),
        tables=(_table(given, rows, turns, heights, scale), _effects(given, car)),
        plots=(_plot(given, car),),
        cautions=(*_cautions(given, car, before, after), STAND),
        working=_working(given, car, turns, scale),
        writes=_writes(given, turns, heights, scale),
    )


def leg_load(row: Row, given: Given) -> float:
    end = next(end for end in given.rows("end") if row.key.startswith(end.key))
    return sprung_load(row.load, end.unsprung, f"end.{end.key}.unsprung")


def _best(given: Given, car: State) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The turns that serve the wish best, exact and in whole steps of the hand."""
    rises = tuple(
        row.wanted - height for row, height in zip(given.rows("corner"), car.heights, strict=True)
    )
    wish = Wish(car.points, rises, cross_weight=given.maybe("cross_wanted"))
    one_turn = equations(car.corners, wish, loads=car.loads, step=1.0)
    exact = [min(max(n, -_MOST), _MOST) for n in back_substitute(*triangular(*one_turn))]
    step, reach = given.turn_step, _AROUND * given.turn_step
    limits = [(n - reach, n + reach) for n in exact]
    rounded = best_turns(car.corners, wish, loads=car.loads, step=step, limits=limits).turns
    return tuple(exact), rounded


def _steps(
    given: Given,
    rows: Sequence[Row],
    turns: Sequence[float],
    heights: Sequence[float],
    scale: Sequence[float],
) -> tuple[Step, ...]:
    hand = given.choice("thread_hand")
    cross = shares(scale).cross
    made = [
        Step(
            f"{row.label}: {turn_words(n)}.",
            f"{way_words(n, hand)} Height then {given.say(h, 'length')}.",
        )
        for row, n, h in zip(rows, turns, heights, strict=True)
        if n
    ]
    if not made:
        made = [Step("Leave all four collars as they are.")]
    return (
        *made,
        Step(
            "Bounce the car and measure again.", f"Cross weight then {given.say(cross, 'share')}."
        ),
    )


def _quantities(
    given: Given,
    turns: Sequence[float],
    exact: Sequence[float],
    heights: Sequence[float],
    scale: Sequence[float],
) -> tuple[Quantity, ...]:
    def figures(shifted: Given) -> Mapping[str, float]:
        car = state(shifted)
        loads = [
            f + c for f, c in zip(car.loads, turn_collars(car.corners, turns).loads, strict=True)
        ]
        after = car.heights_after(turns)
        named = {f"{key}_height_after": h for key, h in zip(CORNER_NAMES, after, strict=True)}
        return {**named, "cross_weight_after": shares([max(f, 0.0) for f in loads]).cross}

    doubted = given.carry(figures)
    result = [
        Quantity(f"{key}_turns", f"{name.capitalize()}: turns, exact", n, "turns")
        for (key, name), n in zip(CORNER_NAMES.items(), exact, strict=False)
    ]
    for (key, name), height in zip(CORNER_NAMES.items(), heights, strict=True):
        figure = replace(doubted[f"{key}_height_after"], value=height)
        label = f"{name.capitalize()}: height after the turns"
        result.append(given.quantity(f"{key}_height_after", label, "length", figure))
    cross = replace(doubted["cross_weight_after"], value=shares(scale).cross)
    label = "Cross weight after (front left + rear right)"
    result.append(given.quantity("cross_weight_after", label, "share", cross))
    for name, label, share in (
        ("front_share", "Front share", shares(scale).front),
        ("left_share", "Left share", shares(scale).left),
    ):
        result.append(Quantity(name, label, share, "share"))
    result.append(Quantity("total_load", "Load of the whole car", sum(scale), "force"))
    return tuple(result)


def _table(
    given: Given,
    rows: Sequence[Row],
    turns: Sequence[float],
    heights: Sequence[float],
    scale: Sequence[float],
) -> Table:
    lines = tuple(
        (
            row.label,
            turns_number(n),
            given.bare(row.height, "length"),
            given.bare(h, "length"),
            given.bare(row.load, "mass", 0),
            given.bare(f / STANDARD_GRAVITY, "mass", 0),
        )
        for row, n, h, f in zip(rows, turns, heights, scale, strict=True)
    )
    length, mass = given.symbol("length"), given.symbol("mass")
    heads = (
        "Corner", "Turns down", f"Height now {length}", f"then {length}",
        f"Load now {mass}", f"then {mass}",
    )  # fmt: skip
    return Table("Corners before and after", heads, lines)


def _effects(given: Given, car: State) -> Table:
    lines = []
    for place, name in enumerate(CORNER_NAMES.values()):
        change = turn_collars(car.corners, [float(i == place) for i in range(4)])
        loads = [f + c for f, c in zip(car.loads, change.loads, strict=True)]
        cross = shares([max(f, 0.0) for f in loads]).cross - shares(car.loads).cross
        rises = (given.bare(change.rise(p), "length") for p in car.points)
        lines.append((name.capitalize(), *rises, given.bare(cross, "share")))
    unit = given.symbol("length")
    heads = ("One turn down at", f"FL {unit}", f"FR {unit}", f"RL {unit}", f"RR {unit}", "Cross %")
    return Table("What one turn of one collar does", heads, tuple(lines))


def _plot(given: Given, car: State) -> Plot:
    curves = []
    for place, name in enumerate(CORNER_NAMES.values()):
        ends = [
            (n, car.heights_after([n * float(i == place) for i in range(4)])[place])
            for n in (-3.0, 3.0)
        ]
        curves.append(Curve(name, tuple(ends), "main" if place < 2 else "second"))
    return Plot(
        "Height at a corner against turns of its own collar alone",
        Axis("Turns down (up is negative)", "turns"),
        Axis("Height at that corner", "length"),
        tuple(curves),
        says="Turning one collar alone moves its own corner less than turning both of an end: "
        "the body leans, and the load shifts across.",
    )


def _cautions(given: Given, car: State, before: Stance, after: Stance) -> list[Caution]:
    found = []
    names = list(CORNER_NAMES.values())
    for name, was, then, lifted in zip(
        names, before.on_stop, after.on_stop, after.lifted, strict=True
    ):
        if lifted:
            found.append(Caution(f"The {name} wheel would hang free of the ground.", stop=True))
        elif was:
            text = (
                f"The {name} sits on its droop stop: its preload holds more than its share, so "
                "turning that collar down will not lift it."
            )
            found.append(Caution(text, stop=True))
        elif then:
            found.append(
                Caution(f"After these turns the {name} sits on its droop stop.", stop=True)
            )
    heave, pitch, roll = plane(car.points, car.heights)
    off = max(
        abs(h - heave - pitch * x - roll * y)
        for h, (x, y) in zip(car.heights, car.points, strict=True)
    )
    if off > _CLEAR:
        text = (
            f"The four heights are off one plane by {given.say(off, 'length')} each: the chassis "
            "is twisted, or a reading is wrong. No collar can mend that."
        )
        found.append(Caution(text))
    return found


def _working(
    given: Given, car: State, turns: Sequence[float], scale: Sequence[float]
) -> tuple[Working, ...]:
    say = given.say
    change = turn_collars(car.corners, turns)
    per_corner = "; ".join(
        f"{name}: {say(corner.rate, 'rate')}, {say(corner.turn_lift, 'length')} a turn"
        for name, corner in zip(CORNER_NAMES.values(), car.corners, strict=True)
    )
    return (
        Working(
            "wheel rate = rate × motion ratio² (tyre in series); lift = pitch / motion ratio",
            per_corner,
        ),
        Working(
            "load change = wheel rate × (lift × turns − heave − pitch × x − roll × y); the four "
            "changes and their two moments add up to zero",
            f"heave at the rear axle {say(change.heave, 'length')}, along the wheelbase "
            f"{say(change.pitch * given.wheelbase, 'length')}, across a metre "
            f"{say(change.roll, 'length')}; loads add up to {say(sum(scale), 'force')}",
            "statics of a rigid body on four springs",
        ),
        Working(
            "cross weight = (front left + rear right) / total",
            f"({say(scale[0], 'force')} + {say(scale[3], 'force')}) / {say(sum(scale), 'force')} = "
            f"{say(shares(scale).cross, 'share')}",
        ),
    )


def _writes(
    given: Given, turns: Sequence[float], heights: Sequence[float], scale: Sequence[float]
) -> tuple[Write, ...]:
    """Collars and loads of each corner; heights and spring lengths as the mean of an end."""
    if not any(turns):
        return ()
    made = []
    for (key, name), n, load in zip(CORNER_NAMES.items(), turns, scale, strict=True):
        mass = load / STANDARD_GRAVITY
        if n:
            now = getattr(given.car.corners, key).collar
            words = turns_text(abs(n)) + (" down" if n > 0 else " up")
            made.append(Write(f"corners.{key}.collar", now + n, f"{name} collar {words}"))
        made.append(Write(f"corners.{key}.load", mass, f"{name} {given.say(mass, 'mass', 0)}"))
    for end, left in zip(given.rows("end"), (0, 2), strict=True):
        height = sum(heights[left : left + 2]) / 2
        length = end.droop_length - sum(turns[left : left + 2]) / 2 * end.pitch
        stand, spring = given.say(height, "length"), given.say(length, "length")
        made += [
            Write(f"{end.key}.ride_height", height, f"{end.key} ride height {stand}"),
            Write(f"{end.key}.droop_length", length, f"{end.key} spring at full droop {spring}"),
        ]
    return tuple(made)
