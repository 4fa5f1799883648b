"""The build list: its steps, what comes of readings, how a damper goes back, and what is kept."""

import json
from collections.abc import Iterable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.asking import record
from calc.asking.entry import Refused
from calc.asking.typed import Measured
from calc.forms.catalogue import BY_SLUG
from calc.kept import dampers, doing, log
from calc.kept.build.build import AGAIN, DONE, Build, step_of
from calc.kept.build.facts import facts, preload_turns, rest_times
from calc.kept.build.finish import can_finish, finished, given_up, kept_for_next
from calc.kept.build.readings import READINGS
from calc.kept.build.said import says
from calc.kept.build.steps import BY_KEY, KINDS, ORDER, STEPS, TROUBLES
from calc.kept.build.verdict import verdict
from calc.kept.build.view import left_out, progress, step_views
from calc.kept.deeds import Deed, taken_out
from calc.kept.log import Entry, Moment
from calc.kept.seen import BLED, FITTED, LEAK, MEASURED, RAN, SHELF, Seen
from calc.model.car import Car, empty, is_known, put
from calc.model.corners import CORNERS, Corner, End
from calc.model.origin import Origin, usual_value
from calc.replying.reading import run

AT = Moment("e1", "c1", 1.7e9, 3600.0)
MINE = put(empty("My car"), "tools.oil_scale", 1e-5)
"""With a scale that tells small pistons apart."""


def build(car: Car = MINE, **texts: str) -> Build:
    """Names with double underscores for points: tick__fill__front_left="1"."""
    return Build(car, {name.replace("__", "."): text for name, text in texts.items()}, "metric")


def typed(value: float, kind: str) -> str:
    return units.entry_text(value, kind)


def alike(end: End = End.FRONT) -> dict[str, str]:
    """The usual value of every reading, the same at both dampers of an end."""
    return {
        f"read.{name}.{corner}": typed(usual_value(one.entry), one.entry.kind)
        for name, one in READINGS.items()
        for corner in end.corners
    }


# The steps.


def test_every_reading_trouble_and_step_has_its_place() -> None:
    read = [name for step in STEPS for name in step.reads]
    assert sorted(read) == sorted(READINGS)
    assert len(ORDER) == len(STEPS)
    used = {key for step in STEPS for key in step.troubles}
    assert used == {one.key for one in TROUBLES.values() if not one.since}
    for trouble in TROUBLES.values():
        assert not trouble.since or ORDER.index(trouble.back) <= ORDER.index(trouble.since)
    for step in STEPS:
        for key in step.troubles:
            trouble = TROUBLES[key]
            assert ORDER.index(trouble.back) <= ORDER.index(step.key), (step.key, key)
            assert set(trouble.again) <= set(ORDER)


@pytest.mark.parametrize("kind", [kind for kind, _ in KINDS])
def test_each_kind_of_damper_has_its_own_way_to_fill_and_close(kind: str) -> None:
    """Air stays in an emulsion: nothing rests (common practice, no source)."""
    built = build(kind__front=kind, kind__rear=kind)
    assert ("rest" in built.steps) == (kind != "emulsion")
    views = {view.key: view for view in step_views(built)}
    for key in ("fill", "top_up", "close"):
        assert len(views[key].texts) == 2, "one text for all kinds and one for this"
    others = {
        view.key: view.texts
        for other, _ in KINDS
        if other != kind
        for view in step_views(build(kind__front=other, kind__rear=other))
    }
    assert all(views[key].texts != others[key] for key in ("fill", "close"))


def test_an_emulsion_is_measured_out_and_has_no_bubble_to_bleed() -> None:
    """How much oil goes in decides its share of air, so the list asks it of no other kind; and what
    it falls out by is another share, not a bubble."""
    built = build(
        kind__front="emulsion", read__filled__front_left="4.2", read__filled__front_right="4.2",
    )  # fmt: skip
    cells = {one.key: one for one in step_views(built)}["fill"].cells
    assert [bool(cell.fields) for cell in cells] == [True, True, False, False]
    car, _ = finished(built, AT)
    assert car.front.inside.held == pytest.approx(4.2e-6)
    assert not is_known(car, "rear.inside.held")
    again = Build(car, {"kind.front": "emulsion"}, "metric")
    assert texts_of(again, "fill") == ["Rear: not known yet", "Front: 4.2 mL in each"]
    outs = {one.key: one for one in {v.key: v for v in step_views(built)}["rebound"].outs}
    assert [way.corners for way in outs["foam"].ways] == [*End.FRONT.corners]
    assert [way.corners for way in outs["bubble"].ways] == [*End.REAR.corners]


def test_ends_of_different_kinds_are_told_apart() -> None:
    built = build(kind__rear="emulsion")
    assert built.at("rest") == End.FRONT.corners
    assert [one.end for one in facts(built, ("rest",))] == ["Front"]
    fill = next(view for view in step_views(built) if view.key == "fill")
    assert [text.partition(":")[0] for text in fill.texts[1:]] == ["Front", "Rear"]


@given(
    order=st.lists(st.sampled_from([*ORDER, "own-1", "own-2", "nonsense", "own-3"])),
    out=st.lists(st.sampled_from([*ORDER, "own-1", "nonsense"])),
)
@settings(deadline=None)
def test_whatever_the_order_no_step_is_lost(order: list[str], out: list[str]) -> None:
    built = Build(
        Car(),
        {"order": " ".join(order), "out": " ".join(out), "own.own-1": "Warm the oil",
         "own.own-2": " "},
        "metric",
    )  # fmt: skip
    assert sorted(built.order) == sorted([*ORDER, "own-1"])
    assert set(built.steps) | built.left_out == {*ORDER, "own-1"}
    told = list(dict.fromkeys(key for key in order if key in built.order))
    assert [key for key in built.order if key in told] == told, "as the user has it"
    assert [key for key, _ in left_out(built)] == [k for k in built.order if k in built.left_out]


# The numbers of the car.


def test_an_empty_car_leads_to_every_number_that_it_lacks() -> None:
    """And each address is a field that the page of the car has."""
    built, known = build(), build(car=Car())
    fields = BY_SLUG["car"].by_name
    for step in STEPS:
        lacking, there = facts(built, step.facts), facts(known, step.facts)
        assert len(lacking) == len(there)
        assert all(one.lacks for one in lacking)
        assert not any(one.lacks for one in there)
        for one in lacking:
            for lack in one.lacks:
                assert lack.address.removeprefix("#car-") in fields


def test_the_numbers_are_those_of_the_car() -> None:
    """By hand from the demo car. Preload (40 - 38.5) mm / 0.75 mm = 2 turns. A bubble of 0.1 mm in
    400 cSt at 25 °C: at 20 °C silicone oil is some 10 % thicker, so by Stokes (1851)
    v = 9.81 m/s² (1e-4 m)² / (18 · 4.4e-4 m²/s) = 1.24e-5 m/s, and 33 mm take 44 min."""
    car = Car()
    assert preload_turns(car, End.FRONT) == 2.0
    longest, shortest = rest_times(car, End.FRONT)
    assert longest == pytest.approx(44 * 60, rel=0.05)
    assert longest == pytest.approx(1.5 * shortest)
    loose = put(car, "front.droop_length", 0.041)
    assert preload_turns(loose, End.FRONT) == 0.0


def test_turns_that_no_thread_has_are_not_told() -> None:
    """498 mm of preload, 664 turns of 0.75 mm: no body is as long as half of that spring."""
    car = put(put(Car(), "front.spring_free", 0.5), "front.droop_length", 0.002)
    assert preload_turns(car, End.FRONT) is None
    front, _ = facts(build(car=car), ("preload",))
    assert front.text == "further than a thread goes: check these lengths"


def texts_of(built: Build, step: str) -> list[str]:
    return [f"{one.end}: {plainly(one.text)}" for one in facts(built, BY_KEY[step].facts)]


def test_a_pair_takes_the_oil_of_two_and_three_quarters_of_it_go_in_first() -> None:
    """As the step says; 0.75 x 3.3 mL to a step of the syringe, 0.1 mL."""
    built = build(car=Car())
    assert texts_of(built, "oil")[0] == "Front: 400 cSt, 3.3 mL in each, 6.6 mL for the pair"
    assert texts_of(built, "fill")[0] == "Front: about 2.5 mL of 3.3 mL"


def test_what_was_read_in_the_list_is_known_to_its_later_steps() -> None:
    """The car knows none of it. At the step where it is read it is not asked for again."""
    read = {f"read.closed.{one}": "10" for one in End.FRONT.corners}
    built = build(**read, **{f"read.oil.{one}": "400" for one in CORNERS})
    assert texts_of(built, "rebound") == [
        "Front: shaft 10.0 mm in, as read at “Close”", "Rear: not known yet",
    ]  # fmt: skip
    assert texts_of(built, "close") == ["Rear: not known yet"]
    (front, _) = facts(built, ("rest",))
    assert [lack.address for lack in front.lacks] == ["#car-inside.front.length"]
    known = put(MINE, "front.inside.length", 33e-3, Origin("measured", 1.0))
    (rest, _) = facts(Build(known, built.texts, "metric"), ("rest",))
    assert "as read at “Oil”" in rest.text and rest.paths == ("front.inside.length",)


def test_a_reading_comes_before_the_record_but_where_it_is_held_against_it() -> None:
    other = {"read.closed.front_left": "8 mm", "read.closed.front_right": "9.5 mm"}
    built = Build(Car(), other, "metric")
    assert texts_of(built, "close")[0] == "Front: shaft 10.0 mm in"
    assert texts_of(built, "rebound")[:2] == [
        "Front left: shaft 8.0 mm in, as read at “Close”",
        "Front right: shaft 9.5 mm in, as read at “Close”",
    ]
    one = Build(Car(), {"read.closed.front_left": "8 mm"}, "metric")
    assert texts_of(one, "rebound")[0] == "Front: shaft 8.0 mm in, as read at “Close”"


# The verdict.


def test_dampers_with_the_same_readings_are_alike_by_all_of_them() -> None:
    kinds = {"kind.front": "emulsion", "kind.rear": "bladder"}
    built = Build(MINE, {**alike(), **alike(End.REAR), **kinds}, "metric")
    for end in End:
        found = verdict(built, end)
        assert (found.says, found.missing) == ("alike", ())
        mine = {name for name, one in READINGS.items() if built.kind(end) in one.only}
        assert {one.reading for one in found.compared} == mine


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_a_damper_that_differs_is_caught_at_the_first_step_where_it_shows(
    data: st.DataObject,
) -> None:
    """Some readings of the left damper are moved beyond the limit and the ± of both; whatever the
    order of the steps, the verdict names the first of them and calls no other reading unlike."""
    moved = data.draw(st.sets(st.sampled_from(sorted(READINGS)), min_size=1, max_size=4))
    order = data.draw(st.permutations(ORDER))
    texts = {**alike(), "order": " ".join(order), "kind.front": "emulsion"}
    for name in moved:
        about = READINGS[name]
        usual = usual_value(about.entry)
        # A limit that is a share grows with the mean: five times clears it.
        way = 5 * about.limit(MINE, End.FRONT, usual) + usual
        texts[f"read.{name}.front_left"] = typed(
            min(way, about.entry.possible[1]), about.entry.kind
        )
    built = Build(MINE, texts, "metric")
    assert built.problems == {}
    found = verdict(built, End.FRONT)
    first = min(moved, key=lambda name: (order.index(step_of(name).key),
                                         step_of(name).reads.index(name)))  # fmt: skip
    assert found.says == "apart"
    assert found.caught is not None
    assert (found.caught.reading, found.caught.step) == (first, step_of(first).key)
    assert {one.reading for one in found.compared if one.judged == "apart"} == moved


def test_a_scale_too_coarse_for_a_piston_is_not_asked_to_measure_finer() -> None:
    """A scale to 0.1 g has a u of 0.1 / √12 = 0.029 g (JCGM 100:2008, 4.3.7), a difference 0.041 g:
    5 % of a piston of less than 1.6 g is within twice that, whatever it reads."""
    car = put(MINE, "tools.oil_scale", 1e-4)
    masses = {f"read.mass.{one}": "0.9 g" for one in End.FRONT.corners}
    built = Build(car, masses, "metric")
    (said,) = says(built)["pistons"]
    assert "gauge rim and holes instead" in said.text and "Measure finer" not in said.text
    assert verdict(built, End.FRONT).says is None
    lengths = {f"read.length.{one}": "71.8 mm" for one in End.FRONT.corners}
    assert verdict(Build(car, {**masses, **lengths}, "metric"), End.FRONT).says == "alike"
    heavier = {"read.mass.front_left": "2.4 g", "read.mass.front_right": "2.8 g"}
    assert verdict(Build(car, heavier, "metric"), End.FRONT).says == "apart"


def test_a_number_that_is_only_assumed_says_so() -> None:
    guess = Origin("assumed", u=1e-3)
    car = put(MINE, "front.inside.closed_at", 10e-3, guess)
    assert texts_of(Build(car, {}, "metric"), "close")[0] == (
        "Front: shaft 10.0 mm in (only assumed)"
    )
    car = put(car, "front.spring_rate", 650.0, Origin("label", 1.0))
    car = put(car, "front.spring_free", 40e-3, guess)
    assert texts_of(Build(car, {}, "metric"), "spring")[0] == (
        "Front: 0.650 N/mm, 40.0 mm free (only assumed: spring free length)"
    )


def test_a_coarse_gauge_proves_nothing_and_says_so() -> None:
    """0.5 mm of the ruler behind two lengths that read the same: neither alike nor not."""
    built = build(
        read__length__front_left="71.8 ± 0.3 mm", read__length__front_right="71.8 ± 0.3 mm"
    )
    assert verdict(built, End.FRONT).says == "open"
    (said,) = says(built)["length"]
    assert "Measure finer" in said.text


def test_a_length_that_is_off_is_mended_in_turns_of_the_rod_end() -> None:
    """0.5 mm too long on a thread of 0.5 mm: one turn in."""
    built = build(car=Car(), read__length__front_left="71.8", read__length__front_right="72.3")
    (said,) = says(built)["length"]
    assert said.judged == "apart"
    assert "Front right rod end: 1\N{NO-BREAK SPACE}turn in (shorter)." in said.text


def test_a_limit_of_a_pitch_that_nobody_knows_says_so() -> None:
    texts = {"read.gap.rear_left": "12", "read.gap.rear_right": "13"}
    (unknown,) = says(Build(MINE, texts, "metric"))["touch"]
    (known,) = says(Build(Car(), texts, "metric"))["touch"]
    assert "usual pitch" in unknown.text
    assert "usual pitch" not in known.text


@pytest.mark.parametrize(
    ("step", "reading", "text", "expected"),
    [
        ("pistons", "piston", "19.2", "does not go into a bore of 12"),
        ("pistons", "piston", "10.9", "leaves 1.10 mm of play"),
        ("pistons", "mass", "3.8", "too heavy"),  # 0.38 g of POM, as below
        ("pistons", "mass", "0.038", "is unusual"),
        ("pistons", "mass", "0.15", "too light"),
        ("close", "closed", "24", "further in than its whole stroke"),
        ("rebound", "rebound", "23", "come out further than its whole stroke"),
        ("stroke", "stroke", "220", "is unusual"),
    ],
)
def test_a_wrong_digit_has_its_sentence(step: str, reading: str, text: str, expected: str) -> None:
    """The right readings have none: a piston of POM (1410 kg/m³, a handbook value) of 11.9 mm and
    2.5 mm weighs 1410 (π/4) (11.9² − 3 · 1.6²) 2.5 mm³ = 0.37 g."""
    right = {"piston": "11.9", "mass": "0.37", "stroke": "22", "closed": "10", "rebound": "8"}
    texts = {f"read.{name}.front_left": value for name, value in right.items()}
    good = Build(Car(), texts, "metric")
    assert not any(says(good)[key] for key in ("pistons", "close", "rebound", "stroke"))
    wrong = Build(Car(), {**texts, f"read.{reading}.front_left": text}, "metric")
    assert any(expected in plainly(one.text) for one in says(wrong)[step])


def test_small_pistons_are_paired_by_a_share_of_their_size() -> None:
    """0.1 mm would be all the play that one of 10 mm has; 0.2 g nearly all that it weighs."""
    fine = put(MINE, "tools.calliper", 1e-5)
    apart = {"read.piston.front_left": "9.9", "read.piston.front_right": "9.8",
             "read.mass.front_left": "0.30", "read.mass.front_right": "0.38"}  # fmt: skip
    assert [one.judged for one in verdict(Build(fine, apart, "metric"), End.FRONT).compared] == [
        "apart", "apart",
    ]  # fmt: skip


@pytest.mark.parametrize(("time", "judged"), [("1.7", "alike"), ("1.6", "open")])
def test_times_by_hand_are_as_sure_as_the_mean_of_three(time: str, judged: str) -> None:
    """0.1 s each, 0.1 / √3 = 0.058 s for the mean and twice √2 of that for the difference: 0.163 s,
    where 10 % of the time are 0.17 s and 0.16 s."""
    times = {f"read.hang.{one}": time for one in End.FRONT.corners}
    assert verdict(Build(MINE, times, "metric"), End.FRONT).says == judged


def test_collars_at_first_touch_may_differ_by_the_smallest_turn() -> None:
    """A quarter of 0.75 mm is 0.19 mm; the calliper leaves less than 0.1 mm of doubt (k = 2)."""
    for right, judged in (("12.1", "alike"), ("12.4", "apart")):
        gaps = {"read.gap.front_left": "12.0", "read.gap.front_right": right}
        assert verdict(Build(Car(), gaps, "metric"), End.FRONT).says == judged


def test_nothing_read_is_no_verdict() -> None:
    assert verdict(build(), End.FRONT).says is None
    assert verdict(build(read__stroke__front_left="22"), End.FRONT).says is None


# One damper falls out.


def test_it_goes_back_alone_and_what_was_read_of_it_counts_no_more() -> None:
    corner, other = End.FRONT.corners
    texts = {f"tick.{key}.{one}": DONE for key in ORDER for one in CORNERS} | alike()
    built = Build(MINE, texts, "metric")
    again = built.redone("rebound", TROUBLES["bubble"], corner)
    assert again == ("work", "rest", "top_up", "close", "rebound")
    back = Build(MINE, {**texts, **{f"tick.{k}.{corner}": AGAIN for k in again}}, "metric")
    assert back.next_step(corner) == "work"
    assert back.next_step(other) == ""
    assert back.reading("rebound", corner) is None
    assert back.is_old("rebound", corner)
    assert back.reading("rebound", other) is not None
    assert back.reading("length", corner) is not None, "the length was not undone"
    found = verdict(back, End.FRONT)
    assert found.says == "alike"
    assert set(found.missing) == {"closed", "rebound", "rebound_time"}
    assert any("before it was opened" in said.text for said in says(back)["rebound"])


def test_what_is_read_anew_counts_before_it_is_ticked() -> None:
    """And what is not read anew beside it does not."""
    corner, other = End.FRONT.corners
    texts = alike() | {f"tick.rebound.{corner}": f"{AGAIN} rebound"}
    back = Build(MINE, texts, "metric")
    assert back.reading("rebound", corner) == back.reading("rebound", other)
    assert not back.is_old("rebound", corner)
    assert back.reading("rebound_time", corner) is None
    assert back.is_old("rebound_time", corner)
    assert back.next_step(corner) == build().next_step(corner)


def test_the_verdict_asks_for_nothing_that_only_a_later_step_reads() -> None:
    found = build(read__stroke__front_left="22", read__stroke__front_right="22")
    *_, missing = (said.text for said in says(found)["pair"] if "Front" in said.text)
    assert "damper length" in missing
    for later in ("spring rate", "droop", "collar"):
        assert later not in missing
    first = build(
        **{"order": "pair droop", "read.stroke.front_left": "22"}, read__droop__front_left="9"
    )
    assert not any("not measured" in said.text for said in says(first)["pair"])


def test_what_shows_late_can_be_told_at_every_step_after_its_cause() -> None:
    """A leak, a bubble, a scratch: whatever the order of the steps, and with the step of the cause
    left out too."""
    built = build()
    at = {view.key: {out.key for out in view.outs} for view in step_views(built)}
    assert at["lay_out"] == set()
    assert "leak_seal" not in at["oil"]
    for key in ORDER[ORDER.index("close") :]:
        assert at[key] >= {"drags", "scratch", "bubble", "leak_cap", "leak_seal"}, key
    short = build(out="close")
    assert {one.key for one in short.troubles("rebound")} >= {"bubble"}
    assert short.redone("rebound", TROUBLES["leak_cap"], Corner.FRONT_LEFT) == ()
    early = build(order="droop " + " ".join(key for key in ORDER if key != "droop"))
    assert [one.key for one in early.troubles("droop")] == ["droop"]


def test_a_rod_end_turned_late_moves_first_touch_as_well() -> None:
    """The cup sits on the rod end: where the spring just has no play is another place then."""
    again = build().redone("droop", TROUBLES["droop"], Corner.FRONT_LEFT)
    assert again == ("rod_end", "length", "touch", "mark", "mount", "droop")


def test_every_way_back_leads_to_a_step_before_and_names_only_its_damper() -> None:
    built = build()
    for view in step_views(built):
        for out in view.outs:
            for way in out.ways:
                pair = len(way.corners.split()) == 2
                assert pair == TROUBLES[out.key].both
                steps = way.steps.split()
                places = [built.steps.index(step) for step in steps]
                assert places == sorted(places)
                assert places[-1] <= built.steps.index(view.key)
                assert built.title(steps[0]) == out.back


# What is entered.


def test_a_wrong_reading_has_its_sentence_and_keeps_the_build_from_being_written() -> None:
    built = build(
        read__stroke__front_left="long", read__stroke__front_right="22", due="1.5",
        name__front_left="a name that no cap has room for", tick__stroke__front_left=DONE,
    )  # fmt: skip
    assert set(built.problems) == {"read.stroke.front_left", "due", "name.front_left"}
    assert not can_finish(built)
    assert can_finish(build(tick__stroke__front_left=DONE))
    assert can_finish(build(read__stroke__front_left="22"))
    assert not can_finish(build())
    hidden = build(read__stroke__front_left="long", out="stroke", tick__fill__rear_left=DONE)
    assert can_finish(hidden), "what is left out hinders nobody"


def test_a_letter_on_two_caps_is_refused_at_both() -> None:
    """A damper is found by it: two of one letter would have one record."""
    letters = {"name__front_left": "A", "name__front_right": "A", "name__rear_left": "C"}
    assert set(build(**letters).problems) == {"name.front_left", "name.front_right"}
    assert not build(scope="front", name__front_left="A", name__rear_left="A").problems


def test_progress_counts_the_steps_of_each_damper() -> None:
    built = build(kind__rear="emulsion", tick__lay_out__front_left=DONE)
    found = {one.corner: (one.done, one.all, one.next) for one in progress(built)}
    assert found[Corner.FRONT_LEFT] == (1, len(ORDER), ORDER[1])
    assert found[Corner.REAR_LEFT] == (0, len(ORDER) - 1, ORDER[0])
    assert [one.corner for one in progress(build(scope="rear"))] == list(End.REAR.corners)


# The records.


def whole(**more: str) -> Build:
    ticks = {f"tick.{key}.{one}": DONE for key in ORDER for one in CORNERS}
    names = {f"name.{one}": letter for one, letter in zip(CORNERS, "ABCD", strict=True)}
    return Build(MINE, {**ticks, **names, **alike(), **alike(End.REAR), **more}, "metric")


def test_a_stroke_nobody_has_said_is_that_of_the_built_pair() -> None:
    strokes = {"read.stroke.front_left": "24.1", "read.stroke.front_right": "24.1"}
    new = finished(Build(empty("New"), strokes, "metric"), AT)[0]
    assert new.front.stroke == pytest.approx(0.0241)
    assert new.origins["front.stroke"].how == "measured"
    said = put(empty("New"), "front.stroke", 0.024, Origin("measured", 1.0))
    assert finished(Build(said, strokes, "metric"), AT)[0].front.stroke == 0.024
    apart = {**strokes, "read.stroke.front_right": "26"}
    assert "front.stroke" not in finished(Build(empty("New"), apart, "metric"), AT)[0].origins


@pytest.mark.parametrize(
    "name",
    [name for name, one in READINGS.items() if one.path and name != "stroke"],
)
def test_what_is_read_anew_takes_the_place_of_what_was_read_before(name: str) -> None:
    """The mean of both, or each at its own damper; only the stroke that a pair is built to
    stays."""
    one = READINGS[name]
    corners = End.FRONT.corners
    paths = [one.path.format(corner=corner, end=End.FRONT) for corner in corners]
    places = {*paths, *filter(None, [one.of_pair.format(end=End.FRONT)])}
    value = usual_value(one.entry)
    car = MINE
    for place in places:
        car = put(car, place, 1.25 * value, Origin("measured", 1.0))
    texts = {f"read.{name}.{corner}": typed(value, one.entry.kind) for corner in corners}
    texts["kind.front"] = one.only[0]
    after = finished(Build(car, texts, "metric"), AT)[0]
    for place in places:
        assert record.get(after, place) == pytest.approx(value), place
        assert after.origins[place].when == AT.time, place


def test_what_was_read_is_in_the_car_and_in_the_records_and_is_taken_back_to_the_byte() -> None:
    built = whole(**{"read.stroke.front_left": "21.6", "read.stroke.front_right": "22"})
    car, entries = finished(built, AT)
    assert car.corners.front_left.stroke == pytest.approx(0.0216)
    assert car.origins["corners.front_left.stroke"].how == "measured"
    assert car.origins["front.oil"].how == "label", "nobody measured the oil"
    length = usual_value(READINGS["length"].entry)
    assert car.front.damper_length == pytest.approx(length, rel=1e-3)
    a, *_ = dampers.records(entries)
    assert (a.name, a.corner, a.kind, a.runs) == ("A", "front_left", "bladder", 0)
    assert set(a.read) == set(READINGS) - {"filled"}, "of an emulsion alone"
    assert a.read["stroke"][0].value == pytest.approx(0.0216)
    for entry in entries[::-1]:
        car = taken_out(car, entry.was)
    assert car == MINE
    left = kept_for_next(built)
    assert {name for name, text in left.items() if text} == {f"name.{one}" for one in CORNERS}


def test_a_build_that_is_given_up_loses_no_reading() -> None:
    """Its readings are in the records, how far it was built too; the car keeps its values, and an
    entry that cannot be read stays where it is."""
    built = build(
        scope="front", name__front_left="A", tick__shaft__front_left=DONE,
        tick__seals__front_left=DONE, tick__shaft__front_right=DONE,
        read__length__front_left="71.8", read__stroke__front_left="long",
    )  # fmt: skip
    first, second = given_up(built, AT)
    (a, b) = dampers.records([first, second])
    assert (a.label, a.read["length"][0].value) == ("A, front left", pytest.approx(0.0718))
    assert first.note == f"2 of {len(ORDER)} steps done"
    assert (b.corner, b.read, b.opened) == ("front_right", {}, None)
    assert log.undone(MINE, second) == MINE
    assert {name: text for name, text in kept_for_next(built).items() if text} == {
        "scope": "front", "name.front_left": "A", "read.stroke.front_left": "long",
    }  # fmt: skip


def test_what_was_read_of_a_damper_before_its_spare_goes_into_its_own_record() -> None:
    """It waits under its letter; what cannot be read stays, and nothing of it is the spare's."""
    built = build(
        scope="front", name__front_left="S", tick__shaft__front_left=DONE,
        **{"read.stroke.:A.b": "21.6", "tick.shaft.:A.b": DONE, "read.length.:A.b": "long"},
    )  # fmt: skip
    _, entries = finished(built, AT)
    spare, old = dampers.records(json_again(entries))
    assert (spare.label, spare.read) == ("S, front left", {})
    assert (old.label, old.read["stroke"][0].value) == ("A.b, on the shelf", pytest.approx(0.0216))
    assert {name for name, text in kept_for_next(built).items() if text} == {
        "scope", "name.front_left", "read.length.:A.b",
    }  # fmt: skip


def test_an_end_that_is_not_built_keeps_what_was_done_at_it() -> None:
    """It was not written down with the other, so it is not cleared with it."""
    rear = {"tick.fill.rear_left": DONE, "read.stroke.rear_left": "30"}
    front = {"tick.fill.front_left": DONE, "read.stroke.front_left": "22"}
    built = Build(MINE, {"scope": "front", **rear, **front}, "metric")
    assert kept_for_next(built) == {"scope": "front", **rear, **dict.fromkeys(front, "")}


def test_a_pair_that_is_proved_unlike_leaves_no_mean_in_the_car() -> None:
    """Left can differ from right: then a mean is the length of neither."""
    built = whole(**{"read.length.front_left": "70", "read.length.front_right": "73"})
    car, _ = finished(built, AT)
    assert not is_known(car, "front.damper_length")
    assert is_known(car, "rear.damper_length")
    assert car.corners.front_left.damper_length == 0.07, "each has its own"
    assert car.corners.front_right.damper_length == 0.073


def test_only_dampers_that_were_worked_on_get_a_line() -> None:
    """A reading alone is work too: it would be lost with the ticks."""
    _, entries = finished(build(scope="front", tick__fill__front_right=DONE), AT)
    assert [entry.corner for entry in entries] == [Corner.FRONT_RIGHT]
    built = build(tick__fill__front_right=DONE, read__stroke__rear_left="22")
    _, entries = finished(built, AT)
    assert [entry.corner for entry in entries] == [Corner.FRONT_RIGHT, Corner.REAR_LEFT]
    assert entries[1].damper is not None and set(entries[1].damper.read) == {"stroke"}


def json_again(lines: Iterable[Entry]) -> list[Entry]:
    return [log.from_json(json.loads(json.dumps(log.to_json(line)))) for line in lines]


@given(built=st.sampled_from([whole(), whole(scope="rear"), build(tick__fill__rear_left=DONE)]))
def test_lines_of_dampers_come_back_from_json(built: Build) -> None:
    lines = finished(built, AT)[1]
    assert json_again(lines) == list(lines)


def test_a_line_of_a_damper_that_nothing_finds_is_refused() -> None:
    """Its record would have neither letter nor corner."""
    line = log.to_json(dampers.happened(MINE, AT, LEAK, "", "front_left")[1][0])
    with pytest.raises(Refused):
        log.from_json({**line, "corner": ""})


def lines(*done: tuple[str, str, str]) -> list[Entry]:
    made = []
    for n, (did, name, corner) in enumerate(done):
        at = replace(AT, id=f"d{n}", time=AT.time + n + 10)
        made += dampers.happened(MINE, at, did, name, corner)[1]
    return made


def test_a_record_goes_with_its_letter_to_the_shelf_and_to_another_corner() -> None:
    _, built = finished(whole(), AT)
    more = (
        (RAN, "", ""), (RAN, "", ""), (SHELF, "A", ""), (RAN, "", ""),
        (FITTED, "A", "rear_left"), (RAN, "", ""), (LEAK, "B", "front_right"),
        (BLED, "D", "rear_right"),
    )  # fmt: skip
    found = {one.name: one for one in dampers.records([*built, *lines(*more)])}
    assert (found["A"].corner, found["A"].runs) == ("rear_left", 3), "on the shelf nothing runs"
    assert (found["C"].corner, found["C"].runs) == ("", 3), "it made room"
    assert (found["B"].runs, found["B"].leaks) == (4, True)
    assert (found["D"].runs, found["D"].leaks) == (0, False)
    assert dampers.due(found["B"], None)
    assert [dampers.due(found["A"], most) for most in (None, 3, 4)] == [False, True, False]
    again = lines(*more, (BLED, "B", "front_right"))
    tight = {one.name: one for one in dampers.records([*built, *again])}["B"]
    assert (tight.runs, tight.leaks) == (0, False)


def test_what_is_known_of_a_corner_goes_with_its_damper() -> None:
    """Stroke and thread are of the damper, not of the corner: measured on it then, by the list or
    since by a form. Of one that was never measured nothing is known; each deed is taken back to the
    byte."""
    car, there = finished(whole(**{f"read.engaged.{one}": "7 mm" for one in CORNERS}), AT)
    form = Origin("measured", AT.time + 50, u=1e-4)
    car = put(car, "corners.front_left.stroke", 0.0215, form)
    lines_ = [*there]

    def done(did: str, name: str, corner: str = "") -> None:
        nonlocal car
        at = replace(AT, id=f"m{len(lines_)}", time=AT.time + 100 * len(lines_))
        before = car
        car, made = dampers.happened(car, at, did, name, corner, lines_)
        back = car
        for entry in made[::-1]:
            back = taken_out(back, entry.was)
            told = json.loads(json.dumps(log.to_json(entry)))
            assert log.from_json(told) == entry
        assert back == before
        lines_.extend(made)

    done(SHELF, "A")
    a = next(one for one in dampers.records(lines_) if one.name == "A")
    assert a.read["stroke"][1].time == form.when, "the day it was measured, not of the move"
    assert not is_known(car, "corners.front_left.stroke")
    assert not is_known(car, "corners.front_left.engaged")
    done(FITTED, "A", "rear_left")
    assert car.corners.rear_left.stroke == 0.0215, "as the form has measured it"
    assert car.origins["corners.rear_left.engaged"].when == AT.time + 1e-3, "when it was measured"
    assert is_known(car, "corners.rear_right.stroke"), "nobody touched that one"
    done(FITTED, "C", "front_left")
    stroke = usual_value(READINGS["stroke"].entry)
    assert car.corners.front_left.stroke == pytest.approx(stroke)
    done(FITTED, "spare", "front_left")
    assert not is_known(car, "corners.front_left.stroke")
    found = {one.name: one.corner for one in dampers.records(lines_)}
    assert (found["A"], found["C"], found["spare"]) == ("rear_left", "", "front_left")
    assert dampers.happened(Car(), AT, SHELF, "A", "", there)[0] == Car(), "the demo car knows all"


def test_a_measurement_at_a_corner_is_of_the_damper_that_is_there() -> None:
    """A form knows the corner and no letter."""
    _, there = finished(whole(), AT)
    late = replace(AT, id="late", time=AT.time + 500)
    seen = Seen(MEASURED, read={"hang": Measured(1.7, 0.02)})
    _, line = log.happened(MINE, late, log.DAMPER, Deed(), corner="front_left", damper=seen)
    on_the_shelf = Seen(MEASURED, "spare", read={"hang": Measured(1.9, 0.02)})
    _, other = log.happened(MINE, replace(late, id="o"), log.DAMPER, Deed(), damper=on_the_shelf)
    found = {one.key: one for one in dampers.records([*there, line, other])}
    assert found["A"].read["hang"][0].value == 1.7
    assert found["A"].opened is not line and found["A"].corner == "front_left"
    assert found["spare"].corner == "" and "front_left" not in found


def measured(slug: str, typed: dict[str, str], car: Car) -> tuple[Entry, ...]:
    return doing.measured(run(BY_SLUG[slug], typed, car).answer, car, AT, slug)


def test_a_hanging_weight_test_of_both_sides_is_in_the_records_of_both() -> None:
    """From a film, worked out by hand: the mean of the left runs is 1.694 s, their scatter
    0.0270 s, over √5 0.0121 s; the t of 4 degrees of freedom is 2.87 at 95.45 % (JCGM 100:2008,
    table G.2): half of it is in u."""
    typed_ = {"task": "sides"}
    for side, times in (("left", (1.71, 1.66, 1.73, 1.69, 1.68)), ("right", (1.8, 1.75, 1.83))):
        typed_ |= {f"{side}.{n}.time": f"{time} ± 0.001" for n, time in enumerate(times, 1)}
    left, right = measured("drop-test", typed_, Car())
    assert (left.corner, right.corner, left.note) == (*End.FRONT.corners, "50 g over 18 mm")
    assert left.damper is not None
    found = left.damper.read["hang"]
    assert found.value == pytest.approx(1.694)
    assert found.u == pytest.approx(0.0121 * 2.87 / 2, rel=3e-3)
    assert (
        doing.measured(
            run(BY_SLUG["drop-test"], typed_, Car()).answer,
            Car(),
            replace(AT, id="again"),
            "drop-test",
            right,
        )
        == ()
    ), "said once more, nothing is new"


def test_a_hanging_weight_test_of_one_damper_is_in_the_record_of_that_one() -> None:
    """The demo's runs: 1.18, 1.14, 1.17, 1.20, 1.15 s have a mean of 1.168 s."""
    (right,) = measured("drop-test", {"axle": "rear", "which": "right"}, Car())
    assert right.corner == Corner.REAR_RIGHT and right.damper is not None
    assert right.damper.read["hang"].value == pytest.approx(1.168)
    (spare,) = measured("drop-test", {"which": "spare", "letter": "S"}, Car())
    assert (spare.corner, spare.damper and spare.damper.name) == ("", "S")
    assert measured("drop-test", {"which": "spare"}, Car()) == (), "no record finds it"
    (drags,) = measured("drop-test", {"task": "friction"}, Car())
    assert drags.damper is not None and set(drags.damper.read) == {"drag"}
    assert plainly(drags.note) == "in oil, 20 g to 50 g over 18 mm"


def test_dampers_that_are_paired_by_their_letter_keep_their_times() -> None:
    typed_ = {"parts": "dampers", "pairs": "1", "dampers.1.time": "1.7", "dampers.2.time": "1.8",
              "dampers.1.letter": "A"}  # fmt: skip
    (line,) = measured("pairing", typed_, MINE)
    _, there = finished(whole(), AT)
    a = dampers.records([*there, replace(line, time=AT.time + 9)])[0]
    assert (a.label, a.read["hang"][0].value) == ("A, front left", 1.7)


@pytest.mark.parametrize(
    ("did", "name", "corner"),
    [("nonsense", "A", "front_left"), ("built", "A", "front_left"), (BLED, "A", "middle"),
     (SHELF, "", "front_left"), (FITTED, "A", ""), (LEAK, "", ""), (BLED, "", "")],
)  # fmt: skip
def test_what_cannot_be_done_with_a_damper_is_refused(did: str, name: str, corner: str) -> None:
    with pytest.raises(Refused):
        dampers.happened(MINE, AT, did, name, corner)


def test_the_origin_of_a_mean_has_the_doubt_of_both() -> None:
    """JCGM 100:2008, 5.1.2: u of the mean of two is the root of the squares, by two."""
    built = whole(
        **{"read.length.front_left": "71.8 ± 0.06 mm", "read.length.front_right": "71.8 ± 0.08 mm"}
    )
    car, _ = finished(built, AT)
    assert car.origins["front.damper_length"] == Origin(
        "measured", AT.time, u=pytest.approx(2.5e-5)
    )
    assert BY_KEY["length"].reads == ("length",)


def test_rod_ends_that_hold_too_little_are_not_just_alike() -> None:
    """Twice the diameter of the thread in plastic: a rule of thumb, common practice, no source."""
    car = put(MINE, "rod_end.thread", 3e-3, Origin("measured", 1.0))
    on = {f"read.engaged.{corner}": "5 mm" for corner in CORNERS}
    found = says(Build(car, on, "metric"))["rod_end"]
    short = [one for one in found if "is too little to hold, at least 6.0 mm" in plainly(one.text)]
    assert [one.judged for one in short] == ["apart"] * 4
    inches = says(Build(car, on, "imperial"))["rod_end"]
    assert any("at least 0.236\u00a0in" in one.text for one in inches), "6 mm, not cut to 0.2 in"
    on = {f"read.engaged.{corner}": "6.5 mm" for corner in CORNERS}
    assert all(one.judged == "alike" for one in says(Build(car, on, "metric"))["rod_end"])


def plainly(text: str) -> str:
    return text.replace(units.NBSP, " ")
