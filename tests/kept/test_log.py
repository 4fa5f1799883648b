"""The collar log: the car and its log never differ, every way leads back, the clock is right."""

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.answering.hand import turn_words
from calc.asking.entry import Refused
from calc.forms.names import CORNER_LABELS
from calc.kept import log
from calc.kept.deeds import Deed
from calc.kept.log import BASE, CHECK, Entry, Moment
from calc.kept.log_view import gathered, home_steps, local, to_csv, view
from calc.model.car import LEFT_HAND, Car, put
from calc.model.corners import CORNERS, Corner
from calc.model.origin import Origin

QUARTERS = st.integers(-24, 24).map(lambda n: n / 4)
DEEDS = st.lists(
    st.one_of(
        st.tuples(st.just("turn"), st.sampled_from(CORNERS), QUARTERS),
        st.tuples(st.just("check"), st.sampled_from(CORNERS), QUARTERS),
        st.tuples(st.just("base"), st.just(""), st.just(0.0)),
        st.tuples(st.just("note"), st.just(""), st.just(0.0)),
    ),
    max_size=25,
)
START = 1_700_000_000.0


def moment(n: int) -> Moment:
    return Moment(f"entry{n}", "car", START + 60.0 * n, 3600.0)


def done(deeds: list[tuple[str, str, float]]) -> tuple[list[Car], list[Entry]]:
    """The car before and after every deed, and the log of them."""
    cars, entries = [Car()], [log.set_base(Car(), moment(0))]
    for n, (what, corner, turns) in enumerate(deeds, start=1):
        car = cars[-1]
        if what == "turn":
            car, entry = log.turn(car, moment(n), corner, turns)
        elif what == "check":
            car, entry = log.check(car, moment(n), corner, turns)
        elif what == "base":
            entry = log.set_base(car, moment(n))
        else:
            entry = log.noted(car, moment(n), "softer")
        cars.append(car)
        entries.append(entry)
    return cars, entries


@settings(max_examples=150, deadline=None)
@given(deeds=DEEDS)
def test_car_and_log_never_differ(deeds: list[tuple[str, str, float]]) -> None:
    """Net turns are the sum of what was done since the base; the newest line says what the car
    says; taking back line after line leads through every car there was."""
    cars, entries = done(deeds)
    base = log.last_base(entries)
    assert base is not None
    since = entries[entries.index(base) :]
    for corner, turned in log.net(cars[-1], base.stands).items():
        assert turned == sum(entry.turns for entry in since if entry.corner == corner)
    assert entries[-1].stands == log.stands(cars[-1])
    car = cars[-1]
    for before, entry in zip(reversed(cars[:-1]), reversed(entries), strict=False):
        car = log.undone(car, entry)
        assert log.stands(car) == log.stands(before)


@settings(max_examples=150, deadline=None)
@given(deeds=DEEDS, left=st.booleans())
def test_the_way_home_leads_to_the_base(deeds: list[tuple[str, str, float]], left: bool) -> None:
    """Every collar that is not at the base has one instruction, of its turns and the way back."""
    cars, entries = done(deeds)
    car = put(cars[-1], "thread_hand", LEFT_HAND) if left else cars[-1]
    base = log.last_base(entries)
    assert base is not None
    steps = home_steps(car, base.stands, "metric")
    turned = {corner: n for corner, n in log.net(car, base.stands).items() if n}
    expected = [f"{dict(CORNER_LABELS)[c]} collar: {turn_words(-n)}." for c, n in turned.items()]
    assert [step.text for step in steps] == expected
    for step in steps:
        # A right-hand thread tightens, goes down, clockwise (common practice, no source).
        clockwise = step.gives.startswith("Clockwise")
        assert clockwise == (("down" in step.text) != left)
    back, entry = log.home(car, base.stands, moment(99))
    assert log.stands(back) == base.stands == entry.stands
    lines = log.lines(entry) if turned else ()
    assert {line.corner: -line.turns for line in lines} == turned
    assert not lines or lines[-1].stands == base.stands


@pytest.mark.parametrize(
    ("touch", "says", "gives"),
    [
        (0.25, "1 1/4 turns up", "Anticlockwise, seen from the cap end (looser; car down)"),
        (-0.25, "1 1/4 turns down", "Clockwise, seen from the cap end (tighter; car up)"),
    ],
)
def test_the_example_of_the_job(touch: float, says: str, gives: str) -> None:
    """ "Rear left collar: 1 1/4 turns up": five quarter turns down since the base lead back so, by
    1.25 x 0.75 mm of thread."""
    car, base = Car(), log.stands(Car())
    for n in range(5):
        car, _ = log.turn(car, moment(n), "rear_left", touch)
    step = home_steps(car, base, "metric")[0]
    assert step.text.replace("\u00a0", " ") == f"Rear left collar: {says}."
    assert step.gives.replace("\u00a0", " ") == f"{gives}. 0.94 mm of thread."


def test_steps_of_a_tenth_come_back_to_nothing() -> None:
    car, base = Car(), log.stands(Car())
    for n in range(10):
        car, _ = log.turn(car, moment(n), "front_left", 0.1)
    car, _ = log.turn(car, moment(11), "front_left", -1.0)
    assert home_steps(car, base, "metric") == ()
    assert view(car, [log.set_base(Car(), moment(0))], START, 0, "metric").corners[0].net == "0"


def test_a_collar_that_crept_is_told_and_stands_where_it_was_found() -> None:
    car, crept = log.check(Car(), moment(1), "front_right", -0.25)
    _, still = log.check(car, moment(2), "rear_left", 0.0)
    entries = [log.set_base(Car(), moment(0)), crept, still]
    assert car.corners.front_right.collar == -0.25
    assert (
        view(car, (), START, 0, "metric").corners[1].stands.replace("\u00a0", " ")
        == "Is 1/4 up from its mark."
    )
    assert log.drift(entries, "front_right") == -0.25 and log.drift(entries, "rear_left") == 0
    shown = view(car, entries, START, 3600, "metric")
    looked = {corner.key: corner.looked.replace("\u00a0", " ") for corner in shown.corners}
    assert looked["front_right"].endswith("found 1/4 turn up.")
    assert looked["rear_left"].endswith("still there.") and not looked["front_left"]
    assert "front right" in shown.cautions[1].text


def test_before_a_collar_is_turned_the_car_is_off() -> None:
    (caution,) = view(Car(), (), START, 0, "metric").cautions
    assert "car off" in caution.text and "disconnect the motor" in caution.text


@pytest.mark.parametrize(
    ("time", "zone", "shown"),
    [
        # RFC 3339 (2002), section 5.8: the instants of its examples and how they are written.
        (482196050.52, 0, "1985-04-12 23:20:50"),
        (851042397.0, -8 * 3600, "1996-12-19 16:39:57"),
        (-1041337172.13, 1200, "1937-01-01 12:00:27"),  # +00:20 there
    ],
)
def test_the_clock_is_the_one_on_the_wall(time: float, zone: float, shown: str) -> None:
    assert local(time, zone).strftime("%Y-%m-%d %H:%M:%S") == shown


def test_touches_of_one_button_are_one_turn_of_the_hand() -> None:
    entries = []
    car = Car()
    for n, (corner, turns) in enumerate(
        [("front_left", 0.25)] * 3 + [("front_right", 0.25), ("front_left", 0.25)]
    ):
        at = replace(moment(n), time=START + n)
        car, entry = log.turn(car, at, corner, turns)
        entries.append(entry)
    car, late = log.turn(car, replace(moment(9), time=START + 500), "front_left", 0.25)
    rows = gathered([*entries, late])
    assert [(entry.corner, turns) for entry, turns in rows] == [
        ("front_left", 0.25), ("front_left", 0.25), ("front_right", 0.25), ("front_left", 0.75),
    ]  # fmt: skip


def test_a_turn_with_a_note_keeps_its_line() -> None:
    car, noted = log.turn(Car(), moment(1), "front_left", 0.25, "too low")
    _, touched = log.turn(car, replace(moment(1), time=noted.time + 1), "front_left", 0.25)
    rows = gathered([noted, touched])
    assert [(entry.note, turns) for entry, turns in rows] == [("", 0.25), ("too low", 0.25)]


def test_the_plot_ends_where_the_collars_stand() -> None:
    cars, entries = done([("turn", "front_left", 0.5), ("turn", "rear_right", -1.25)])
    plot = view(cars[-1], entries, START + 300, 3600.0, "metric").plot
    assert plot is not None
    ends = {curve.label: curve.points[-1][1] for curve in plot.curves}
    # Collars that were nowhere apart share one line, so that no name stands at another's.
    assert ends == {"Front left": 0.5, "Front right, rear left": 0, "Rear right": -1.25}
    # It stood at the base until it was turned.
    assert {y for _, y in plot.curves[0].points} == {0, 0.5}
    times = [x for curve in plot.curves for x, _ in curve.points]
    assert 0 <= min(times) <= max(times) <= 24 * 3600
    # The day after, the day's plot is empty and the base is told with its day.
    later = view(cars[-1], entries, START + 86_400, 3600.0, "metric")
    assert later.plot is None and "2023-11-14" in later.base


def test_a_swap_of_springs_tells_of_the_spring_and_of_each_collar() -> None:
    base = log.set_base(Car(), moment(0))
    deed = Deed(
        turns={Corner.FRONT_LEFT: 2.0, Corner.FRONT_RIGHT: 2.0},
        fitted={"front.spring_rate": (720.0, Origin("predicted", 1.0, "spring-swap"))},
    )
    car, entry = log.happened(Car(), moment(1), log.DONE, deed, "From Spring swap")
    plot = view(car, [base, entry], START, 3600.0, "metric").plot
    assert plot is not None and [line.label for line in plot.curves] == ["Front", "Rear"]
    days = view(car, [base, entry], START + 90_000, 3600.0, "metric").days
    assert [day for day, _ in days] == ["2023-11-14"]  # 1 700 000 000 s, in the zone of the phone
    right, left, swap, _ = days[0][1]
    assert (left.where, right.where) == ("Front left", "Front right")
    assert left.net == right.net == "then 2\u00a0turns down from base"
    assert swap.what.replace("\u00a0", " ") == "Carried out: Front, spring rate 0.72 N/mm"
    assert (swap.where, swap.note, swap.time) == ("", "From Spring swap", "23:14")


def test_what_is_typed_on_another_page_is_a_line_of_its_own() -> None:
    """A value was typed on the page that its line names, whatever was typed elsewhere since."""
    told = {}
    for n, (path, of) in enumerate(
        [
            ("front.ride_height", "collar-turns"),
            ("rear.ride_height", "hotter"),
            ("rear.ride_height", "hotter"),
        ]
    ):
        told[n] = Deed(learned={path: (0.02 + n / 1000, Origin("measured", 1.0 + n))}, of=of)
    _, first = log.happened(Car(), moment(0), log.ENTERED, told[0], "From Collar turns")
    assert log.together(Car(), first, told[1], moment(1)) == (Car(), told[1], moment(1))
    after, second = log.happened(Car(), moment(1), log.ENTERED, told[1], "From Oil for today")
    _, joined, at = log.together(after, second, told[2], moment(2))
    assert at.id == "entry1" and joined.learned["rear.ride_height"][0] == 0.022


def test_what_is_usual_is_not_told_as_entered() -> None:
    deed = Deed(
        learned={
            "front.ride_height": (0.0215, Origin("measured", 1.0)),
            "front.pitch": (0.001, Origin("assumed", 1.0, u=0.0003)),
        },
        of="collar-turns",
    )
    car, entry = log.happened(Car(), moment(0), log.ENTERED, deed, "From Collar turns")
    line = view(car, [entry], 1.0, 0.0, "metric").days[0][1][0]
    assert line.what.replace("\N{NO-BREAK SPACE}", " ") == (
        "Entered: Front, ride height now 21.5 mm. "
        "Assumed, as is usual: Front, thread pitch of the body 1 mm"
    )


@pytest.mark.parametrize(
    "note", ["=1+1", "+a", "-b", "@c", 'quote " , comma', "plain", "\u202e<b>"]
)
def test_a_spreadsheet_reads_the_log_and_runs_nothing(note: str) -> None:
    _, entry = log.turn(Car(), moment(1), "rear_left", 1.25, note)
    base = log.set_base(Car(), moment(0))
    rows = list(csv.DictReader(io.StringIO(to_csv([base, entry], {"car": note}))))
    assert rows[1]["Corner"] == "Rear left" and rows[1]["Turns down"] == "1.25"
    assert rows[1]["Rear left position"] == "1.25" and rows[0]["Done"] == "Base set"
    for cell in (rows[1]["Note"], rows[1]["Car"]):
        assert not cell.startswith(("=", "+", "-", "@"))
        assert cell.removeprefix("'").replace("\u202e", "") == note.replace("\u202e", "")


@settings(max_examples=100, deadline=None)
@given(deeds=DEEDS)
def test_every_entry_comes_back_from_its_json(deeds: list[tuple[str, str, float]]) -> None:
    for entry in done(deeds)[1]:
        assert log.from_json(log.to_json(entry)) == entry


def test_what_cannot_be_is_refused_in_a_sentence() -> None:
    with pytest.raises(Refused, match="is not possible here"):
        log.turn(Car(), moment(1), "front_left", 300)
    with pytest.raises(Refused, match="choose one of the four"):
        log.turn(Car(), moment(1), "middle", 0.25)
    with pytest.raises(Refused, match="characters are too many"):
        log.turn(Car(), moment(1), "front_left", 0.25, "x" * 10_000)
    with pytest.raises(Refused, match="nothing was entered"):
        log.noted(Car(), moment(1), " \u202e ")
    stored = log.to_json(log.set_base(Car(), moment(1)))
    for wrong in (
        {"turns": 1}, {"corner": "front_left"}, {"kind": CHECK}, {"kind": "x"}, {"stands": None},
        {"time": float("nan")}, {"id": ""}, {"zone": 1e6}, {"more": 1},
    ):  # fmt: skip
        with pytest.raises(Refused, match=r"\.$"):
            log.from_json({**stored, **wrong})
    assert log.from_json({**stored, "kind": BASE}).kind == BASE
