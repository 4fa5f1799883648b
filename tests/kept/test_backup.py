"""The backup file: it comes back whole or not at all, and restoring does what was shown."""

import hashlib
import json
import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calc.asking.entry import Refused
from calc.asking.typed import Measured
from calc.kept import backup, log
from calc.kept.backup import Backup, Kept, Mine, from_text, merged, replaced, to_text
from calc.kept.build.unfinished import Told, Unfinished
from calc.kept.deeds import Deed
from calc.kept.log import Moment
from calc.kept.seen import Seen
from calc.kept.setups import Setup
from calc.model.car import Car, added_since, put
from tests.damaged import altered, is_one_sentence, places
from tests.strategies import CARS


def a_backup() -> Backup:
    """A car with a set-up and a short log, names that are hard to carry included."""
    car = replace(Car(), name="Ärger 🙂 <b>")
    at = Moment("e1", "c1", 1.7e9, 7200.0)
    turned, entry = log.turn(car, replace(at, id="e2"), "rear_left", 0.25, "“softer”")
    saved = Setup("Final", "2031-05-24", "clay", "", car)
    seen = Seen("built", "A", "bladder", {"stroke": Measured(0.022, 1.4e-5)})
    built, line = log.happened(
        turned, replace(at, id="e3"), log.DAMPER, Deed(), corner="front_left", damper=seen
    )
    under_way = {"read.stroke.front_left": Told("7/8 in", "imperial", 1.7e12)}
    return Backup(
        1.7e9,
        (Kept("c1", 1.7e9, built),),
        (Kept("s1", 1.7e9, saved, "c1"),),
        (log.set_base(car, at), entry, line),
        (Unfinished("c1", under_way),),
    )


EXAMPLE = a_backup()
TEXT = to_text(EXAMPLE)


def same_or_one_sentence(text: str) -> bool:
    """Whether the text gave the very same data; else it must have been refused properly."""
    try:
        read = from_text(text)
    except Refused as refused:
        assert is_one_sentence(str(refused))
        return False
    assert read == EXAMPLE
    return True


@settings(max_examples=25, deadline=None)
@given(car=CARS)
def test_every_car_comes_back_from_its_backup(car: Car) -> None:
    made = Backup(1.0, (Kept("c1", 1.0, car),), (), ())
    assert from_text(to_text(made)) == made


def test_cut_at_any_byte_it_is_refused() -> None:
    """Every place where a copy may have ended, some 7000."""
    whole = TEXT.encode()
    assert len(whole) > 5_000
    read = [
        n for n in range(len(whole)) if same_or_one_sentence(whole[:n].decode(errors="replace"))
    ]
    assert read == []


@pytest.mark.parametrize(
    "each", [1, pytest.param(2, marks=pytest.mark.wide("the same bytes, another way each"))]
)
def test_altered_at_any_byte_it_is_the_same_or_refused(each: int) -> None:
    """Every byte in turn becomes another, as a bad card would have it; or two others."""
    whole, chance = TEXT.encode(), random.Random(1)
    same = cases = 0
    for n, byte in enumerate(whole):
        others = [byte ^ 1 << chance.randrange(8), chance.choice(b' 0e"}\\\n\xff')]
        chance.shuffle(others)
        for other in {*others[:each]} - {byte}:
            cases += 1
            text = (whole[:n] + bytes([other]) + whole[n + 1 :]).decode(errors="replace")
            same += same_or_one_sentence(text)
    assert cases > 5_000 * each
    assert same < cases / 10  # blanks between the values, which mean nothing


CONTENT = backup.plain(EXAMPLE)
ANYTHING = st.recursive(
    st.one_of(
        st.none(), st.booleans(), st.integers(), st.floats(allow_nan=False, allow_infinity=False),
        st.text(max_size=60), st.sampled_from([10**400, 1e308, "<script>", "\u202e", "x" * 10_000]),
    ),
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=10,
)  # fmt: skip


@settings(max_examples=200, deadline=None)
@example(path=("cars", 0, "car", "origins"), value={"\U00018d09": None})
@example(path=("log", 0, "does"), value={"poured": {"9" * 5000: 1e-6}})
@example(path=("log", 2, "damper", "did"), value=[])
@example(path=("log", 2, "damper", "kind"), value={})
@given(path=st.sampled_from([p for p in places(CONTENT) if p]), value=ANYTHING)
def test_forged_with_a_true_sum_every_value_is_still_checked(
    path: tuple[Any, ...], value: Any
) -> None:
    content = altered(CONTENT, path, value)
    text = json.dumps({**content, "sum": backup._sum(content)})
    try:
        read = from_text(text)
    except Refused as refused:
        assert is_one_sentence(str(refused))
        return
    assert from_text(to_text(read)) == read


def test_the_sum_is_what_the_documentation_says() -> None:
    """FIPS 180-4's SHA-256 (by hashlib) of the canonical text, made here again."""
    told = json.loads(TEXT)
    said = told.pop("sum")
    canonical = json.dumps(told, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    assert said == hashlib.sha256(canonical.encode("ascii")).hexdigest()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "not a backup file"), ("{}", "not a backup file"), ("[1]", "not a backup file"),
        ("[" * 100_000, "not a backup file"), ("\x00\x01", "not a backup file"),
        ('{"format": "damper bench backup", "schema": 8}', "newer version"),
        ('{"format": "damper bench backup", "schema": 0}', "damaged"),
        ('{"format": "damper bench backup", "a": NaN}', "damaged"),
        ('{"format": "damper bench backup", "a": %s}' % ("9" * 9999), "damaged"),
        (TEXT.replace("0.65", "0.66"), "damaged"),
        ("x" * (backup.LARGEST + 1), "too large"),
    ],
)  # fmt: skip
def test_what_is_no_backup_is_told_so(text: str, says: str) -> None:
    with pytest.raises(Refused, match=says) as refused:
        from_text(text)
    assert is_one_sentence(str(refused.value))


def test_a_byte_order_mark_is_passed_over() -> None:
    assert from_text("\ufeff" + TEXT) == EXAMPLE


@pytest.mark.parametrize("schema", [1, 2, 3, 4, 5, 6])
def test_a_file_of_an_older_schema_is_read(schema: int) -> None:
    """Before the third they had no builds and no lines of dampers."""
    older = replace(EXAMPLE, log=EXAMPLE.log[:2], builds=())
    content = {**backup.plain(older), "schema": schema}
    if schema < 3:
        del content["builds"]
    assert from_text(json.dumps({**content, "sum": backup._sum(content)})) == older


def test_a_file_whose_cars_have_an_older_schema_is_read() -> None:
    """The length of each damper is of the fourth; nobody has measured it then."""
    content = json.loads(json.dumps(backup.plain(EXAMPLE)))
    records = [one["car"] for one in content["cars"]]
    for car in [*records, *(one["setup"]["car"] for one in content["setups"])]:
        car["schema"] = 3
        for path in added_since(3):
            del car["corners"][path.split(".")[1]]["damper_length"]
            car["origins"].pop(path, None)
    back = from_text(json.dumps({**content, "sum": backup._sum(content)}))
    for mine, theirs in zip(EXAMPLE.cars, back.cars, strict=True):
        assert theirs.value.front == mine.value.front
        known = set(mine.value.origins)
        assert set(theirs.value.origins) == (
            known if mine.value.demo else known - {*added_since(3)}
        )


def test_of_a_build_under_way_the_entry_made_last_stays() -> None:
    """On the device one entry is newer, in the file another; a third is only in the file."""
    mine = {"a": Told("1", "metric", 5.0), "b": Told("1", "metric", 5.0)}
    theirs = {
        "a": Told("2", "metric", 4.0), "b": Told("2", "metric", 6.0), "c": Told("2", "metric", 1.0),
    }  # fmt: skip
    there = replace(EXAMPLE, builds=(Unfinished("c1", theirs),))
    here = Mine({"c1": (1.7e9, "mine")}, {}, (), {"c1": Unfinished("c1", mine)})
    (build,) = merged(here, there).write.builds
    assert {name: one.text for name, one in build.texts.items()} == {"a": "1", "b": "2", "c": "2"}
    same = replace(here, builds={"c1": build})
    assert merged(same, there).write.builds == ()
    assert replaced(here, there).write.builds == there.builds


def test_records_without_a_car_or_twice_are_refused() -> None:
    for wrong in (
        replace(EXAMPLE, cars=()),
        replace(EXAMPLE, cars=EXAMPLE.cars * 2),
        replace(EXAMPLE, log=EXAMPLE.log * 2),
        replace(EXAMPLE, builds=EXAMPLE.builds * 2),
        replace(EXAMPLE, builds=(Unfinished("gone", {}),)),
    ):
        with pytest.raises(Refused, match="This backup is damaged"):
            from_text(to_text(wrong))


def test_what_cannot_be_read_or_has_no_car_does_not_block_the_rest() -> None:
    """A set-up whose car is gone, one without its own copy of it, a car of a newer version and what
    belongs to that: left out and counted. The rest is the backup that it would be alone."""
    content = json.loads(json.dumps(backup.plain(EXAMPLE)))
    assert backup.readable(content) == (EXAMPLE, {"cars": 0, "setups": 0, "log": 0, "builds": 0})
    (car,), (setup,), (line, *_) = content["cars"], content["setups"], content["log"]
    newer = {**car, "id": "c2", "car": {**car["car"], "schema": 99}}
    bare = {**setup, "id": "s4", "setup": {**setup["setup"]}}
    del bare["setup"]["car"]
    content["cars"].append(newer)
    content["setups"] += [
        {**setup, "id": "s2", "owner": "gone"},
        {**setup, "id": "s3", "owner": "c2"},
        bare,
    ]
    content["log"].append({**line, "id": "e9", "car": "gone"})
    content["builds"].append({"car": "gone", "texts": {}})
    read, left = backup.readable(content)
    assert read == EXAMPLE
    assert left == {"cars": 1, "setups": 3, "log": 1, "builds": 1}
    assert from_text(to_text(read)) == EXAMPLE


NUMBERS = st.lists(st.integers(1, 8).map(lambda n: f"c{n}"), unique=True, max_size=6)


def device(cars: list[str], times: list[int], entries: list[str]) -> Mine:
    return Mine(
        {n: (float(t), f"car {n}") for n, t in zip(cars, times, strict=False)}, {}, set(entries)
    )


@settings(max_examples=150, deadline=None)
@given(
    mine=NUMBERS, theirs=NUMBERS, entries=NUMBERS,
    times=st.lists(st.integers(0, 3), min_size=12, max_size=12),
)  # fmt: skip
def test_merging_loses_nothing_and_replacing_gives_the_backup(
    mine: list[str], theirs: list[str], entries: list[str], times: list[int]
) -> None:
    here = device(mine, times, entries)
    cars = tuple(
        Kept(n, float(t), put(Car(), "name", f"car {n}"))
        for n, t in zip(theirs, times[6:], strict=False)
    )
    lines = tuple(
        log.set_base(Car(), Moment(f"c{n}", cars[0].id, 1.0, 0.0)) for n in (1, 2)
    ) if cars else ()  # fmt: skip
    there = Backup(9.0, cars, (), lines)
    plan = merged(here, there)
    after = {n: changed for n, (changed, _) in here.cars.items()}
    after |= {one.id: one.changed for one in plan.write.cars}
    newest = {n: changed for n, (changed, _) in here.cars.items()}
    for one in cars:
        newest[one.id] = max(newest.get(one.id, 0.0), one.changed)
    assert after == newest and not plan.clears
    assert {entry.id for entry in plan.write.log} == {e.id for e in lines} - set(entries)
    assert len(plan.changes) == len(plan.write.cars)
    whole = replaced(here, there)
    assert whole.clears and whole.write == there
    gone = sorted(c.name for c in whole.changes if c.what == "gone")
    assert gone == sorted(f"car {n}" for n in set(here.cars) - {one.id for one in cars})
    assert whole.entries_gone == len(set(entries) - {e.id for e in lines})


def test_what_restoring_does_is_told_of_every_car_and_set_up() -> None:
    """Of each sort one that only the backup has, one older on the device, one newer there."""

    def kept(names: str, value: Any) -> tuple[Kept[Any], ...]:
        return tuple(
            Kept(f"{names}{n}", 5.0, replace(value, name=f"{names} {n}")) for n in (1, 2, 3)
        )

    there = Backup(
        9.0, kept("car", Car()), kept("setup", Setup("x", "2031-05-24", "", "", Car())), ()
    )
    here = Mine(
        {"car2": (4.0, "old"), "car3": (6.0, "mine"), "car4": (1.0, "only here")},
        {"setup2": (4.0, "old"), "setup3": (6.0, "mine"), "setup4": (1.0, "only here")},
        set(),
    )
    both = {(c.sort, c.what, c.name) for c in merged(here, there).changes}
    assert both == {
        ("car", "new", "car 1"), ("car", "newer", "car 2"),
        ("set-up", "new", "setup 1"), ("set-up", "newer", "setup 2"),
    }  # fmt: skip
    instead = {(c.sort, c.what, c.name) for c in replaced(here, there).changes}
    assert instead == both | {
        ("car", "older", "car 3"), ("car", "gone", "only here"),
        ("set-up", "older", "setup 3"), ("set-up", "gone", "only here"),
    }  # fmt: skip


def test_a_record_has_a_number_of_letters_and_digits() -> None:
    for number, taken in (("", False), ("a" * 61, False), ("a b", False), ("a" * 60, True)):
        text = to_text(Backup(9.0, (Kept(number, 5.0, Car()),), (), ()))
        if taken:
            assert from_text(text).cars[0].id == number
        else:
            with pytest.raises(Refused, match="damaged"):
                from_text(text)
