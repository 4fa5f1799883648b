"""One thing changes: a body on four springs, solved by scipy, stands as the list promises."""

import re
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calc.answering.answer import Answer
from calc.forms.catalogue import BY_SLUG
from calc.model.car import Bottle, Car, put
from calc.model.corners import CORNERS
from calc.physics.linkage import Linkage, position
from calc.replying.reading import run
from calc.units import NBSP, STANDARD_GRAVITY
from tests.forms.asking import UNDRAWN, answered, cautions, done, stops, value, values
from tests.forms.four_corners import Load, axle_of, corner, loads, on_tyre, rest, spring_curve

FORM = BY_SLUG["whole-car"]
ask = partial(answered, FORM)
ask_undrawn = partial(answered, FORM, UNDRAWN)
STEP = 0.25


def turns_of(car: Car) -> list[float]:
    return [getattr(car.corners, key).collar for key in CORNERS]


def borne_by(now: Car, then: Car) -> list[Load]:
    """How the wheels of the old car bear with the new springs and the turns of `then`, on its
    tyres."""
    curves = []
    for key, load, turns in zip(CORNERS, loads(now), turns_of(then), strict=True):
        was, becomes = axle_of(now, key), axle_of(then, key)
        gap = becomes.spring_free - was.droop_length + turns * was.pitch
        curves.append(
            on_tyre(spring_curve(was, load, becomes.spring_rate, gap), load, was.tyre_rate)
        )
    return curves


def stands(now: Car, then: Car, extra: tuple[float, float, float] = (0, 0, 0)) -> list[float]:
    """Rise at the wheels, m, of the old car with the new springs and the turns of `then`."""
    return rest(now, borne_by(now, then), extra)


def cross_of(now: Car, then: Car, rises: list[float]) -> float:
    """What the scales make of it then, wheels and arms with it."""
    curves = zip(CORNERS, borne_by(now, then), rises, strict=True)
    masses = [
        curve(rise) / STANDARD_GRAVITY + axle_of(now, key).unsprung for key, curve, rise in curves
    ]
    return (masses[0] + masses[3]) / sum(masses)


def within(rises: list[float], car: Car) -> None:
    """No corner is off by more than half a step of its own collar."""
    for key, rise in zip(CORNERS, rises, strict=True):
        assert abs(rise) <= STEP / 2 * corner(car, key).turn_lift * (1 + 1e-6) + 1e-9


@given(
    rates=st.tuples(st.integers(400, 1300), st.integers(300, 900)),
    frees=st.tuples(st.integers(37, 46), st.integers(52, 68)),
    both=st.booleans(),
)
@settings(max_examples=80, deadline=None)
def test_new_springs_leave_every_corner_within_half_a_step(
    rates: tuple[int, int], frees: tuple[int, int], both: bool
) -> None:
    typed = {"front_rate": str(rates[0] / 1e3), "front_free": str(frees[0]), "front_solid": "8"}
    if both:
        typed |= {"rear_rate": str(rates[1] / 1e3), "rear_free": str(frees[1]), "rear_solid": "9"}
    answer = ask_undrawn(**typed)
    assume(not any("droop" in c.text and c.stop for c in answer.cautions))
    then = done(answer)
    rises = stands(UNDRAWN, then)
    within(rises, UNDRAWN)
    for key, rise in zip(CORNERS, rises, strict=True):
        assert value(answer, f"{key}_rise") == pytest.approx(rise, abs=1e-6)
    cross = cross_of(UNDRAWN, then, rises)
    assert value(answer, "cross_weight") == pytest.approx(cross, abs=1e-6)


SOFT = put(put(UNDRAWN, "front.tyre_rate", 1500.0), "rear.tyre_rate", 800.0)
"""On tyres that give, as a car for rough ground has them."""


@given(
    car=st.sampled_from([UNDRAWN, SOFT]), mass=st.integers(-150, 300),
    along=st.integers(-60, 340), across=st.integers(-40, 40),
)  # fmt: skip
@settings(max_examples=80, deadline=None)
def test_a_new_load_leaves_the_heights_and_the_cross_weight(
    car: Car, mass: int, along: int, across: int
) -> None:
    typed = {"change": "load", "added": str(mass), "along": str(along), "across": str(across)}
    answer = answered(FORM, car, **typed)
    assume(not any(c.stop for c in answer.cautions))
    then = done(answer)
    weight = mass / 1e3 * STANDARD_GRAVITY
    extra = (weight, weight * along / 1e3, weight * across / 1e3)
    rises = stands(car, then, extra)
    within(rises, car)
    for key, rise in zip(CORNERS, rises, strict=True):
        assert value(answer, f"{key}_rise") == pytest.approx(rise, abs=1e-6)
    cross = cross_of(car, then, rises)
    assert value(answer, "cross_weight") == pytest.approx(cross, abs=1e-6)
    masses = [getattr(then.corners, key).load for key in CORNERS]
    assert sum(masses) == pytest.approx(1.656 + mass / 1e3, abs=1e-6)
    assert abs((masses[0] + masses[3]) / sum(masses) - 835 / 1656) <= 0.005


@pytest.mark.parametrize(
    ("added", "along", "across", "says"),
    [
        (
            "50",
            "100",
            "20",
            "Put 50 g in, 100 mm ahead of the rear axle, 20 mm left of the middle line.",
        ),
        (
            "-50",
            "-30",
            "-20",
            "Take 50 g out, 30 mm behind the rear axle, 20 mm right of the middle line.",
        ),
        ("50", "0", "0", "Put 50 g in, 0 mm ahead of the rear axle, on the middle line."),
    ],
)
def test_a_mass_is_put_where_its_signs_say(added: str, along: str, across: str, says: str) -> None:
    """The signs of the fields: ahead of the rear axle and left of the middle are positive."""
    answer = ask(change="load", added=added, along=along, across=across)
    assert says in [step.text.replace("\u00a0", " ") for step in answer.steps]


def hole_curve(car: Car, key: str, load: float, turns: float, other: bool):  # type: ignore[no-untyped-def]
    """Wheel load against the rise of the body in one of the two drawn holes."""
    axle, arm = axle_of(car, key), axle_of(car, key).arm
    points = {
        False: ((arm.lower_out, arm.lower_up), (arm.upper_out, arm.upper_up)),
        True: (
            (arm.other_lower_out, arm.other_lower_up),
            (arm.other_upper_out, arm.other_upper_up),
        ),
    }
    ends = (arm.pivot_out, arm.pivot_up), (arm.wheel_out, arm.wheel_up)
    now = Linkage(ends[0], *points[False], ends[1])
    linkage = Linkage(ends[0], *points[other], ends[1])
    ride = position(now, 0.0)
    force = load / ride.motion_ratio
    seat = ride.damper_length - (axle.spring_free - force / axle.spring_rate) + turns * axle.pitch

    def curve(rise: float) -> float:
        at = position(linkage, -rise)
        press = axle.spring_free - (at.damper_length - seat)
        return at.motion_ratio * axle.spring_rate * max(0.0, press)

    return curve


@pytest.mark.parametrize("ends", [("front",), ("rear",), ("front", "rear")])
def test_another_hole_leaves_every_corner_within_half_a_step(ends: tuple[str, ...]) -> None:
    """Both arms as drawn, no small angles, no constant ratio."""
    answer = ask(change="hole", hole_end="both" if len(ends) == 2 else ends[0])
    then = done(answer)
    curves = [
        hole_curve(Car(), key, load, turns, key.partition("_")[0] in ends)
        for key, load, turns in zip(CORNERS, loads(Car()), turns_of(then), strict=True)
    ]
    rises = rest(Car(), curves)
    for key, rise in zip(CORNERS, rises, strict=True):
        lift = axle_of(Car(), key).pitch / axle_of(then, key).motion_ratio
        assert abs(rise) <= STEP / 2 * lift * 1.03
        assert value(answer, f"{key}_rise") == pytest.approx(rise, abs=0.02e-3)


@pytest.mark.parametrize(
    "typed",
    [
        {"change": "spring"},
        {"change": "spring", "front_rate": "1.1"},
        {"change": "hole", "hole_end": "both"},
        {"change": "piston"},
        {"change": "piston", "front_hole": "", "rear_hole": "1.5"},
        {"change": "load", "added": "200"},
        {"change": "oil"},
        {"change": "oil", "front_oil": "300", "rear_oil": "350"},
    ],
)
def test_the_damping_ratio_stays_as_another_form_finds_it(typed: dict[str, str]) -> None:
    """Noted in the car, the ride frequency form finds the ratios that the list promised."""
    answer = ask(**typed)
    ratios = []
    for car in (Car(), done(answer)):
        reply = run(BY_SLUG["ride-frequency"], {}, car)
        assert reply.answer is not None
        ratios.append([value(reply.answer, f"{end}_ratio") for end in ("front", "rear")])
    for was, then, end in zip(*ratios, ("front", "rear"), strict=True):
        assert value(answer, f"{end}_ratio") == pytest.approx(then, rel=2e-3)
        # A drill comes in tenths of a millimetre, which is coarser than a blend of oils.
        assert then == pytest.approx(was, rel=0.12 if typed["change"] == "oil" else 0.06)


def test_the_spring_form_and_the_hole_form_name_the_same_turns() -> None:
    swap = run(BY_SLUG["spring-swap"], {}, Car()).answer
    holes = run(BY_SLUG["motion-ratio"], {}, Car()).answer
    assert swap is not None and holes is not None
    spring, hole = ask(change="spring"), ask(change="hole")
    for side in ("left", "right"):
        exact = value(swap, f"turns_{side}")
        assert value(spring, f"front_{side}_turns") == pytest.approx(exact, rel=1e-9)
    mean = (value(hole, "front_left_turns") + value(hole, "front_right_turns")) / 2
    assert mean == pytest.approx(value(holes, "turns"), rel=1e-6)


def test_keeping_the_preload_lets_the_height_go() -> None:
    """A spring 3 mm longer: four turns of 0.75 mm up; 1.5 mm stay pressed at full droop."""
    answer = ask_undrawn(keep="preload", front_free="43")
    then = done(answer)
    assert turns_of(then) == [-4.0, -4.0, 0.0, 0.0]
    assert then.front.spring_free - then.front.droop_length == pytest.approx(1.5e-3)
    rises = stands(UNDRAWN, then)
    assert then.front.ride_height - UNDRAWN.front.ride_height == pytest.approx(
        (rises[0] + rises[1]) / 2, abs=1e-6
    )


def test_new_scale_readings_are_a_new_load() -> None:
    readings = {"front_left": 395, "front_right": 389, "rear_left": 480, "rear_right": 492}
    typed = {f"scales.{key}.load": str(mass) for key, mass in readings.items()}
    answer = ask_undrawn(change="load", load_known="scales", **typed)
    then = done(answer)
    added = {key: readings[key] - 1e3 * getattr(UNDRAWN.corners, key).load for key in CORNERS}
    weight = [added[key] / 1e3 * STANDARD_GRAVITY for key in CORNERS]
    places = [corner(UNDRAWN, key) for key in CORNERS]
    extra = (
        sum(weight),
        sum(w * p.x for w, p in zip(weight, places, strict=True)),
        sum(w * p.y for w, p in zip(weight, places, strict=True)),
    )
    within(stands(UNDRAWN, then, extra), UNDRAWN)


def test_nothing_entered_changes_nothing() -> None:
    answer = ask(front_rate="", front_free="", front_solid="")
    assert [step.text for step in answer.steps] == ["Nothing changes: leave the car as it is."]
    assert answer.writes == ()


def test_what_the_bottles_cannot_make_is_no_stop() -> None:
    car = replace(Car(), bottles=(Bottle("", 50e-6, 1e-4),))
    answer = ask(car, change="piston")
    said = [one for one in answer.cautions if "cannot be made from your bottles" in one.text]
    assert said and all("The nearest bottle is 50" in one.text for one in said)
    assert "cannot be made" not in stops(answer) and answer.writes
    needed = next(step for step in answer.steps if "you need" in step.text)
    assert needed.gives.endswith("with the change alone.")


def test_holes_that_cannot_be_are_told_at_their_field() -> None:
    car = Car()
    arm = replace(car.front.arm, other_upper_up=0.2)
    broken = replace(car, front=replace(car.front, arm=arm))
    reply = run(FORM, {"change": "hole"}, broken)
    assert "does not reach" in reply.problems["front.other_upper_out"]
    short = replace(car, front=replace(car.front, damper_length=0.05))
    reply = run(FORM, {"change": "hole"}, short)
    assert "does not reach" in reply.problems["front.damper_length"], "nor in the hole it is in"


def test_coil_bind_and_droop_stops_stop() -> None:
    assert "goes solid" in stops(ask(front_solid="20"))
    car = Car()
    pressed = replace(car, front=replace(car.front, droop_length=30e-3))
    assert "topped out (on its droop stop)" in stops(ask(pressed))


def test_a_change_smaller_than_friction_is_said_to_be_so() -> None:
    """4.38 and 4.44 N on 0.65 and on 0.66 N/mm: 0.157 mm at a wheel of ratio 0.65, and a band of
    0.4 mm hides 0.2 mm."""
    told = cautions(ask_undrawn(front_rate="0.66", front_free="40"))
    assert "front 0.16 mm (it comes to rest within ± 0.20 mm)" in told
    assert "friction" not in cautions(ask_undrawn(front_rate="0.68", front_free="40"))
    kept = ask_undrawn(front_rate="0.66", front_free="40", keep="preload")
    assert "lost in friction: front" in cautions(kept)


def test_where_the_oil_parts_the_damping_is_less_in_bump_and_said_to_be() -> None:
    """What the list leaves in the dampers is what the other form says of them."""
    car = put(Car(), "front.oil", 1500e-6)
    made = ask(car, speed="200 mm/s", front_rate="0.65", front_free="40")
    other = answered(BY_SLUG["ride-frequency"], car, speed="200 mm/s")
    for name in ("bump", "rebound"):
        ratio = f"{value(other, f'front_ratio_{name}'):.2f} in {name}"
        assert ratio in cautions(made) and ratio in cautions(other)
    assert value(made, "front_ratio") == pytest.approx(value(other, "front_ratio"), rel=1e-6)
    assert "tears (cavitates)" not in cautions(ask(car))


def test_dampers_too_stiff_for_the_tyres_are_said_to_leave_the_car_to_them() -> None:
    """Mass, spring beside damper, and tyre one after the other: the swing that is left is the pair
    of roots of c m s^3 + (k + kt) m s^2 + c kt s + k kt, by numpy."""
    car = put(put(SOFT, "front.oil", 1500e-6), "front.tyre_rate", 1000.0)
    made = ask(car, change="oil", front_oil="1500", rear_oil="310")
    axle, tyre = car.front, 1000.0
    wheel = axle.spring_rate * axle.motion_ratio**2
    mass = (0.365 + 0.359) / 2 - axle.unsprung
    share = tyre / (wheel + tyre)
    damping = 2 * value(made, "front_ratio") * np.sqrt(share * wheel * mass) / share**2
    roots = np.roots([damping * mass, (wheel + tyre) * mass, damping * tyre, wheel * tyre])
    swing = roots[np.argmax(roots.imag)]
    warned = re.search(
        r"bounces on its tyres instead, with a damping ratio of (\d\.\d\d)", cautions(made)
    )
    assert warned and float(warned[1]) == pytest.approx(-swing.real / abs(swing), abs=0.015)
    assert "on its tyres" not in cautions(ask(SOFT, change="oil", rear_oil="310"))


def order(answer: Answer, *heads: str) -> list[int]:
    """Place of the first step that has each of these words in it."""
    texts = [step.text for step in answer.steps]
    return [next(n for n, text in enumerate(texts) if head in text) for head in heads]


@pytest.mark.parametrize(
    ("typed", "heads"),
    [
        ({"change": "oil"}, ("drill", "Front dampers: refill", "collars", "Bounce")),
        (
            {"change": "oil", "front_oil": "300", "rear_oil": "350"},
            (
                "fit pistons",
                "drill",
                "Front dampers: refill",
                "Rear dampers: refill",
                "collars",
                "Bounce",
            ),
        ),
        (
            {"change": "piston", "rear_hole": "1.5"},
            ("new front pistons", "new rear pistons", "refill with", "collars", "Bounce"),
        ),
        ({"change": "spring"}, ("Mark", "refill with", "new front springs", "collars:", "Bounce")),
        (
            {"change": "hole", "hole_end": "both"},
            ("Mark", "front dampers to", "rear dampers to", "Front left collar", "Bounce"),
        ),
        (
            {"change": "load", "added": "200"},
            ("Mark", "refill with", "Put", "collars:", "Bounce"),
        ),
    ],
)
def test_the_list_is_in_the_order_of_the_work(
    typed: dict[str, str], heads: tuple[str, ...]
) -> None:
    """Common practice, no source: what is done inside a damper comes before its spring, a piston
    is drilled, deburred and washed before oil goes on it, and collars are turned last."""
    places = order(ask(**typed), *heads)
    assert places == sorted(places) and len(set(places)) == len(places)


def test_a_piston_is_deburred_and_washed_when_it_is_drilled() -> None:
    drill = next(step.text for step in ask(change="oil").steps if "drill" in step.text)
    assert "burr" in drill and "wash" in drill


def plainly(text: str) -> str:
    return text.replace(NBSP, " ")


def hurried(left: str, **typed: str) -> Answer:
    return ask(time="short", left=left, refill="12", at_corner="3", **typed)


@pytest.mark.parametrize(
    ("left", "says", "oil"),
    [
        ("60", "60 min to go: all of it.", True),
        ("29", "29 min to go: the change, with the oil left in.", False),
        ("5", "5 min to go: leave the car as it is.", False),
    ],
)
def test_too_little_time_leaves_out_what_matters_less(left: str, says: str, oil: bool) -> None:
    """Both front springs are 2 × 3 min, both front dampers refilled another 2 × 12 min: 30 min."""
    answer = hurried(left)
    assert plainly(answer.steps[0].text) == says
    noted_ = {write.path for write in answer.writes}
    assert ("front.oil" in noted_, bool(answer.poured)) == (oil, oil)
    assert ("front.spring_rate" in noted_) == (left != "5")
    assert any("refill" in step.text for step in answer.steps[1:]) == oil
    assert not any("you need" in step.text for step in answer.steps)
    title, rows = answer.tables[0].title, answer.tables[0].rows
    assert plainly(title) == f"Work that fits into {left} min"
    assert [plainly(row[1]) for row in rows] == ["30 min", "6 min", "at once"]
    if left == "5":
        assert "takes 6 min" in plainly(answer.steps[0].gives) and len(answer.steps) == 1


def test_what_no_time_is_left_for_is_told_with_its_size() -> None:
    """The damping ratio after the change alone is that of the answer with time enough."""
    share = 1 - values(ask())["front_damping_change"]
    gives = plainly(hurried("29").steps[0].gives)
    assert f"the front damps {100 * share:.0f}% less than before" in gives.replace(" %", "%")
    assert values(hurried("29"))["front_ratio"] == pytest.approx(
        values(ask())["front_ratio_before"] * (1 - share)
    )


def test_a_change_in_the_dampers_takes_their_refill_and_nothing_else() -> None:
    """Two dampers are 24 min, four 48; one end of both fits but half a change is not advised."""
    front = {"change": "oil", "front_oil": "500"}
    answer = hurried("30", **front)
    assert "all of it" in answer.steps[0].text
    assert [plainly(row[1]) for row in answer.tables[0].rows] == ["24 min", "at once"]
    both = hurried("30", **front, rear_oil="400")
    assert [row[0] for row in both.tables[0].rows] == [
        "all of it", "the front only", "the rear only", "leave the car as it is",
    ]  # fmt: skip
    assert "leave the car" in both.steps[0].text and not both.writes


def test_loads_far_apart_near_the_solid_length_are_answered() -> None:
    """The mean of the turns of both corners is not that of their mean: it would bind the coils."""
    loads = {"corner.front_right.load": "2000", "corner.rear_right.load": "1000"}
    answer = ask(change="spring", front_free="31.25", **loads)
    then = answer.tables[0].rows[4]
    assert plainly(then[0]) == "Ride frequency, Hz"
    assert float(then[2]) == pytest.approx(values(answer)["front_frequency"], rel=0.01)
