"""What a form says of its own work: that it is done, in the words of the log, until something that
its answer rests on has changed; that a height was measured elsewhere than predicted.

No outside source: what the hand did is the source, and the gauge.
"""

import re
from dataclasses import replace

import pytest

from calc.answering.answer import Answer
from calc.forms.catalogue import BY_SLUG
from calc.kept import log
from calc.kept.doing import done, measured, saved
from calc.kept.entry_words import done_words, undone_words
from calc.kept.log import Entry, Moment
from calc.kept.log_view import view
from calc.kept.since import Past, Since, outdated, since
from calc.language import speaking
from calc.model.car import Bottle, Car, empty, forget, put
from calc.model.corners import CORNERS
from calc.model.origin import Origin
from calc.replying.reading import run
from calc.units import NBSP
from tests.owned import owned

NOW = 1_700_000_000.0  # 2023-11-14 22:13:20 UTC
BOTTLES = (Bottle("thin", 300e-6, 80e-6), Bottle("thick", 900e-6, 80e-6))
BLEND = {"task": "bottles", "target": "500", "amount": "20"}
SWAP = {"new_rate": "0.72", "new_free": "42", "new_solid": "12"}
ALIKE = {"new_rate": "0.655", "new_free": "40", "new_solid": "13"}


def carried_out(slug: str, typed: dict[str, str], car: Car) -> tuple[Car, list[Entry], Answer]:
    """The form's answer done at NOW, what was typed saved before; the log from its base on."""
    form = BY_SLUG[slug]
    entries = [log.set_base(car, Moment("base", "car", NOW - 1, 0.0))]
    learned = saved(form, typed, car, NOW - 0.5)
    if not learned.is_empty:
        car, entry = log.happened(car, Moment("typed", "car", NOW - 0.5, 0.0), log.ENTERED, learned)
        entries.append(entry)
    answer = run(form, typed, car).answer
    assert answer is not None
    deed = done(answer, car, NOW, slug)
    car, entry = log.happened(car, Moment("done", "car", NOW, 0.0), log.DONE, deed)
    return car, [*entries, entry], answer


def said(
    slug: str, typed: dict[str, str], car: Car, entries: list[Entry], touched: float = 0.0
) -> Since:
    form = BY_SLUG[slug]
    past = Past(entries, touched, "2023-11-14")
    return since(form, typed, run(form, typed, car), car, past, "metric")


@pytest.fixture
def blender() -> Car:
    return replace(owned(), bottles=BOTTLES)


def test_oils_for_both_ends_do_not_read_as_one_mix(blender: Car) -> None:
    """What is right at a temperature that the calculation has chosen was not measured there."""
    typed = {"now": "12", "front_oil": "500", "rear_oil": "600", "front_at": "23", "rear_at": "23"}
    car, entries, answer = carried_out("hotter", typed, blender)
    assert len(answer.pours) == 4
    told = said("hotter", typed, car, entries).done
    assert told is not None
    text = told.says.replace("\N{NO-BREAK SPACE}", " ")
    for end in ("front", "rear"):
        (thin, thick) = (one for one in answer.pours if one.ends == (end,))
        amounts = [f"{one.volume * 1e6:.1f} mL of" for one in (thin, thick)]
        assert re.search(f"Both {end} dampers: {amounts[0]} \\d+ cSt with {amounts[1]}", text)
    for name, end in (("front", car.front), ("rear", car.rear)):
        assert f"; {name} oil {end.oil * 1e6:.0f} cSt" in text
    assert {car.origins[f"{end}.oil_at"].how for end in ("front", "rear")} == {"predicted"}


def test_what_was_mixed_before_a_build_is_not_said_to_be_in_the_dampers(blender: Car) -> None:
    """The oil of the evening is mixed before the first damper is open, and is the oil that the
    build list then tells to fill in."""
    typed = {"end.front.target": "500", "end.rear.target": "500"}
    car, entries, answer = carried_out("evening-oil", typed, blender)
    words = done_words(entries[-1], car, entries, "metric").replace("\N{NO-BREAK SPACE}", " ")
    assert f"; front oil {car.front.oil * 1e6:.0f} cSt" in words
    noted = " ".join(write.says for write in answer.writes)
    assert "mixed for the front dampers" in noted
    assert not re.search("filled|in the dampers", words + noted)


def test_a_mix_is_said_with_what_was_poured(blender: Car) -> None:
    """The next recipe is another one, as the bottles are emptier: it is not the one that was
    carried out."""
    car, entries, answer = carried_out("oil-blend", BLEND, blender)
    told = said("oil-blend", BLEND, car, entries).done
    assert told is not None and told.ids == ("done",) and told.poured and told.when == "22:13"
    volumes = answer.poured.values()
    for volume, oil in zip(volumes, ("300", "900"), strict=True):
        assert f"{volume * 1e6:.1f}\N{NO-BREAK SPACE}mL of {oil}" in told.says
    assert f"20.0\N{NO-BREAK SPACE}mL of {car.bottles[-1].viscosity * 1e6:.0f}" in told.says
    ((_, rows),) = view(car, entries, NOW, 0.0, "metric").days
    assert told.says.rstrip(".") in rows[0].what
    with speaking("de"):
        german = said("oil-blend", BLEND, car, entries).done
    assert german is not None and " mit " in german.says


def test_it_is_said_until_something_is_typed_or_another_deed_moves_what_it_rests_on(
    blender: Car,
) -> None:
    car, entries, _ = carried_out("oil-blend", BLEND, blender)
    assert said("oil-blend", BLEND, car, entries, NOW + 1).done is None
    noted = log.noted(car, Moment("note", "car", NOW + 1, 0.0), "good oil")
    after_note = said("oil-blend", BLEND, car, [*entries, noted]).done
    assert after_note is not None and after_note.ids == ()  # it is the newest line no more
    turned, entry = log.turn(car, Moment("turn", "car", NOW + 2, 0.0), "front_left", 1.0)
    assert said("oil-blend", BLEND, turned, [*entries, entry]).done is not None
    car, entries, _ = carried_out("collar-turns", {"wanted_height": "24"}, owned())
    assert said("collar-turns", {}, car, entries).done is not None
    turned, entry = log.turn(car, Moment("turn", "car", NOW + 2, 0.0), "front_left", 1.0)
    assert said("collar-turns", {}, turned, [*entries, entry]).done is None


def test_a_swap_names_its_spring_and_its_turns() -> None:
    car, entries, answer = carried_out("spring-swap", SWAP, owned())
    told = said("spring-swap", {}, car, entries).done
    assert told is not None
    assert "0.72" in told.says and "42" in told.says
    turns = [step.text.rstrip(".") for step in answer.steps if step.way]
    assert turns and all(text in told.says for text in turns)
    ((_, rows),) = view(car, entries, NOW, 0.0, "metric").days
    assert any("0.72" in row.what for row in rows)


@pytest.mark.parametrize("swap", [SWAP, ALIKE])
@pytest.mark.parametrize("known", [True, False])
def test_the_height_of_the_end_that_was_worked_at_is_asked_for_until_it_is_measured(
    known: bool, swap: dict[str, str]
) -> None:
    """A spring swap asks for no height itself; that of the other end has not changed by its work.
    A spring nearly like the old one moves no collar, but the car. Collar turns do ask for it."""
    before = owned() if known else forget(owned(), "front.ride_height")
    car, entries, _ = carried_out("spring-swap", swap, before)
    assert bool(entries[-1].does.turns) == (swap is SWAP)
    told = said("spring-swap", {}, car, entries).done
    assert told is not None
    assert told.heights == (("end.front.ride_height", "Front, ride height now"),)
    seen = put(car, "front.ride_height", 0.022, Origin("measured", NOW + 1))
    looked = said("spring-swap", {}, seen, entries).done
    assert looked is not None and looked.heights == ()
    car, entries, _ = carried_out("collar-turns", {"wanted_height": "24"}, owned())
    turned = said("collar-turns", {}, car, entries).done
    assert turned is not None and turned.heights == ()


HEIGHT = "ride_height"


def test_a_height_far_from_the_prediction_is_said_where_it_is_typed() -> None:
    """Up by 1.5 mm was predicted, up by 4 mm is measured: beyond a calliper's 0.1 mm and any
    prediction's doubt. The same words stand in the log once it is saved there."""
    car, entries, _ = carried_out("collar-turns", {"wanted_height": "24"}, owned())
    assert said("collar-turns", {}, car, entries).lessons == ()
    predicted = car.front.ride_height * 1e3
    near, far = ({HEIGHT: f"{predicted + off:.2f}"} for off in (0.05, 4.0))
    assert said("collar-turns", near, car, entries, NOW + 5).lessons == ()
    (lesson,) = said("collar-turns", far, car, entries, NOW + 5).lessons
    assert f"{predicted:.1f}"[:4] in lesson.says and far[HEIGHT] in lesson.says
    assert "bounce the car and measure again" in lesson.says
    kept = saved(BY_SLUG["collar-turns"], far, car, NOW + 6)
    car, entry = log.happened(car, Moment("m", "car", NOW + 6, 0.0), log.ENTERED, kept)
    entries.append(entry)
    (again,) = said("collar-turns", {}, car, entries, NOW + 7).lessons
    assert again == lesson
    assert view(car, entries, NOW, 0.0, "metric").lessons == (lesson,)


def test_what_the_gauge_says_of_an_assumed_ratio_is_offered_where_it_is_typed() -> None:
    """Not far from the prediction, which is in more doubt than the gauge."""
    usual = put(owned(), "front.motion_ratio", 0.7, Origin("assumed", u=0.17))
    car, entries, _ = carried_out("collar-turns", {"wanted_height": "24"}, usual)
    typed = {HEIGHT: f"{(car.front.ride_height - 0.0003) * 1e3:.2f} ± 0.02"}
    (lesson,) = said("collar-turns", typed, car, entries, NOW + 5).lessons
    (offer,) = lesson.offers
    assert not lesson.is_off and offer.name == "motion_ratio" and offer.value > 0.7
    assert "mm for each turn" in offer.says.replace("\N{NO-BREAK SPACE}", " ")
    assert "0.700 was only assumed" in offer.says


def test_a_load_far_from_the_prediction_is_said_where_it_is_typed() -> None:
    """As predicted, to a gram, nothing is said; 50 g more on one scale is beyond the ± of scale,
    prediction and friction. A form that rests on no load says nothing of it."""
    typed = {"corner.front_left.load": "400"}
    car, entries, _ = carried_out("corner-loads", typed, owned())
    now = {corner: car.corner(corner).load * 1e3 for corner in CORNERS}
    near = {f"corner.{corner}.load": f"{load + 1:.0f}" for corner, load in now.items()}
    far = {**near, "corner.rear_left.load": f"{now[CORNERS[2]] + 50:.0f}"}
    assert said("corner-loads", near, car, entries, NOW + 5).lessons == ()
    (lesson,) = said("corner-loads", far, car, entries, NOW + 5).lessons
    assert (
        f"rear left {now[CORNERS[2]]:.0f}"[:12] in lesson.says and "weigh it again" in lesson.says
    )
    assert not lesson.offers
    kept = saved(BY_SLUG["corner-loads"], far, car, NOW + 6)
    car, entry = log.happened(car, Moment("m", "car", NOW + 6, 0.0), log.ENTERED, kept)
    entries.append(entry)
    assert said("corner-loads", {}, car, entries, NOW + 7).lessons == (lesson,)
    assert said("oil-temperature", {}, car, entries, NOW + 7).lessons == ()
    assert view(car, entries, NOW, 0.0, "metric").lessons == (lesson,)


OLD = ("ride_height", "wanted_height")


def old(car: Car, entries: list[Entry], when: float, undone: tuple[str, ...] = ()) -> set[str]:
    """Which heights typed at some time tell of another car than the one there is now."""
    typed = {"ride_height": "23.6", "wanted_height": "24"}
    past = Past(entries, typed_at=[(name, when, undone) for name in OLD])
    return {*outdated(BY_SLUG["collar-turns"], typed, car, past, "metric")}


def test_a_height_typed_before_work_is_that_of_another_car() -> None:
    """A height that was measured before the collars were turned is not the height now; the one
    that is wanted stays wanted, and so does what was measured after the work."""
    car, entries, _ = carried_out("collar-turns", {"wanted_height": "24"}, owned())
    assert old(car, entries, NOW - 0.2) == {"ride_height"}
    assert old(car, entries, NOW + 1) == set()
    turned, turn = log.turn(car, Moment("turn", "car", NOW + 2, 0.0), "front_left", 0.5)
    assert old(turned, [*entries, turn], NOW + 1) == {"ride_height"}
    home, back = log.home(turned, log.stands(owned()), Moment("home", "car", NOW + 4, 0.0))
    assert old(home, [*entries, turn, back], NOW + 3) == {"ride_height"}


def test_a_height_typed_before_work_was_undone_is_that_of_another_car() -> None:
    """The line of the log is gone, so the text itself has what the work had changed."""
    car, entries, _ = carried_out("collar-turns", {"wanted_height": "24"}, owned())
    before = log.undone(car, entries[-1])
    assert old(before, entries[:-1], NOW + 1, tuple(entries[-1].was)) == {"ride_height"}
    assert old(before, entries[:-1], NOW - 0.2) == set()


def test_a_height_that_only_the_form_has_is_old_too_once_a_collar_is_turned() -> None:
    """Nobody had saved it, so nothing in the record was replaced."""
    car = empty("Mine")
    turned, turn = log.turn(car, Moment("turn", "car", NOW, 0.0), "front_left", 0.5)
    assert "front.ride_height" not in turn.was
    assert old(turned, [turn], NOW - 1) == {"ride_height"}


def test_what_is_entered_or_found_at_a_mark_changes_nothing_on_the_car() -> None:
    kept = saved(BY_SLUG["ride-frequency"], {"ride_height": "25"}, owned(), NOW)
    car, entered = log.happened(owned(), Moment("m", "car", NOW, 0.0), log.ENTERED, kept)
    car, check = log.check(car, Moment("c", "car", NOW + 1, 0.0), "front_left", 0.5)
    assert old(car, [entered, check], NOW - 1) == set()


def test_what_is_undone_is_said_and_what_the_hand_has_to_put_back() -> None:
    """The spring and the turns, in the words of the log; a number that was only entered has moved
    nothing on the car."""
    car, entries, answer = carried_out("spring-swap", SWAP, owned())
    says = undone_words(entries[-1], car, "metric").replace("\N{NO-BREAK SPACE}", " ")
    assert says.startswith("Undone: ") and "0.72 N/mm" in says and says.endswith("by hand.")
    turns = [step.text.rstrip(".") for step in answer.steps if step.way]
    assert turns and all(text.replace("\N{NO-BREAK SPACE}", " ") in says for text in turns)
    turned, turn = log.turn(car, Moment("turn", "car", NOW + 1, 0.0), "rear_left", -0.5)
    says = undone_words(turn, turned, "metric").replace("\N{NO-BREAK SPACE}", " ")
    assert "Rear left collar: 1/2 turn up." in says and "by hand" in says
    kept = saved(BY_SLUG["ride-frequency"], {"ride_height": "25"}, owned(), NOW)
    car, entered = log.happened(owned(), Moment("m", "car", NOW, 0.0), log.ENTERED, kept)
    assert undone_words(entered, car, "metric").startswith("Undone: Entered")
    assert "by hand" not in undone_words(entered, car, "metric")


ROW = {"bottles.2.viscosity": "350"}


def old_rows(slug: str, car: Car, entries: list[Entry], when: float) -> set[str]:
    """Which cells of a bottle typed at some time do not go with the list there is now."""
    past = Past(entries, typed_at=[(name, when, ()) for name in ROW])
    return {*outdated(BY_SLUG[slug], ROW, car, past, "metric")}


def test_a_row_typed_before_the_list_was_saved_elsewhere_is_not_mixed_with_it() -> None:
    """A viscosity typed for the second bottle is not that of the bottle which is the second now;
    what is typed after the list was saved, or on the page that saves it, is."""
    second = {"bottles.2.viscosity": "300", "bottles.2.left": "47.2"}
    typed = {"bottles.1.viscosity": "200", "bottles.1.left": "49", **second}
    kept = saved(BY_SLUG["oil-temperature"], typed, empty("Mine"), NOW)
    car, entry = log.happened(empty("Mine"), Moment("m", "car", NOW, 0.0), log.ENTERED, kept)
    assert [round(bottle.left * 1e6, 1) for bottle in car.bottles] == [49, 47.2]
    assert old_rows("car", car, [entry], NOW - 1) == {*ROW}
    assert old_rows("car", car, [entry], NOW + 1) == set()
    assert old_rows("oil-temperature", car, [entry], NOW - 1) == set()


def test_a_row_typed_before_oil_was_poured_is_not_mixed_with_what_is_left(blender: Car) -> None:
    car, entries, _ = carried_out("oil-blend", BLEND, blender)
    assert old_rows("car", car, entries, NOW - 0.2) == {*ROW}
    assert old_rows("car", car, entries, NOW + 1) == set()


def test_what_is_only_measured_is_said_and_taken_back_as_a_whole() -> None:
    """Of both sides there is a line for each damper; what is said has both, and so has the undo."""
    car = owned()
    base = log.set_base(car, Moment("base", "car", NOW - 1, 0.0))
    times = {"left": ("1.71", "1.66", "1.73"), "right": ("1.80", "1.75", "1.83")}
    typed = {"task": "sides", "mass": "27.5", "distance": "15"} | {
        f"{side}.{n}.time": time for side, told in times.items() for n, time in enumerate(told, 1)
    }
    answer = run(BY_SLUG["drop-test"], typed, car).answer
    lines = measured(answer, car, Moment("done", "car", NOW, 0.0), "drop-test")
    assert [log.from_json(log.to_json(one)) for one in lines] == [*lines]
    told = said("drop-test", typed, car, [base, *lines]).done
    assert told is not None and told.ids == ("done-d2", "done-d1") and not told.poured
    for words in ("Measured, front left: Time under the weight 1.7 s", "front right", "1.8 s"):
        assert words in told.says.replace("\N{NO-BREAK SPACE}", " ")
    ((_, rows),) = view(car, [base, *lines], NOW, 0.0, "metric").days
    assert "weight 1.8" in rows[0].what and "weight 1.7" in rows[1].what
    assert said("drop-test", typed, car, [base, *lines], NOW + 1).done is None
    assert said("pairing", {}, car, [base, *lines]).done is None


def test_a_base_of_other_springs_is_not_turned_back_to() -> None:
    """A spring shorter by 8 mm, its collars down by about as much: turned back up by that it hangs
    loose by what the collar rises above its free length, and the car stands lower. Hooke's law:
    free length minus the room at full droop is the preload."""
    short = {"new_rate": "0.9", "new_free": "32", "new_solid": "10"}
    before = owned()
    car, entries, _ = carried_out("spring-swap", short, before)
    shown = view(car, entries, NOW, 0.0, "metric")
    assert shown.home == () and len(shown.not_home) == 1
    gap = (before.front.droop_length - 0.032) * 1e3
    assert gap > 1
    assert f"loose at full droop by {gap:.1f}\N{NO-BREAK SPACE}mm" in shown.not_home[0]
    assert re.search("The front would sit .* mm lower", shown.not_home[0].replace(NBSP, " "))
    usual = before
    for name in ("spring_rate", "spring_free", "spring_solid"):
        usual = put(usual, f"front.{name}", getattr(before.front, name), Origin("assumed"))
    swapped, entries_then, _ = carried_out("spring-swap", short, usual)
    assert view(swapped, entries_then, NOW, 0.0, "metric").home == ()  # it came off the car
    here = log.set_base(car, Moment("here", "car", NOW + 1, 0.0))
    car, turned = log.turn(car, Moment("turn", "car", NOW + 2, 0.0), "front_left", 1.0)
    again = view(car, [*entries, here, turned], NOW, 0.0, "metric")
    assert again.not_home == () and len(again.home) == 1


def test_own_weight_numbers_are_told_by_an_example() -> None:
    """(680 - 360) / (50 - 30) = 16 cSt a number, 35 x 16 - 120 = 440 cSt; with 10 cSt for the first
    it is 33.5 x 35 - 995 = 178 cSt, and with 200 cSt for 40 it would be 48 x 35 - 1720 = -40."""
    for first, says in (("360", "“35 wt” is 440 cSt by your table"), ("10", "is 178 cSt")):
        lines = {"line.1.weight": "30", "line.1.viscosity": first, "line.2.weight": "50"}
        lines["line.2.viscosity"] = "680"
        car, entries, _ = carried_out("evening-oil", {"task": "weights", **lines}, owned())
        words = done_words(entries[-1], car, entries, "metric").replace("\N{NO-BREAK SPACE}", " ")
        assert says in words and "added" not in words
    lines |= {"line.1.weight": "40", "line.1.viscosity": "200"}
    car, entries, _ = carried_out("evening-oil", {"task": "weights", **lines}, owned())
    assert "added to that" in done_words(entries[-1], car, entries, "metric")
