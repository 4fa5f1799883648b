"""The questions of the page: each is asked in advance and answered, and read strictly."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable, Sequence
from copy import deepcopy
from pathlib import Path
from typing import Any, get_args

import pytest

from calc import units
from calc.asking import record
from calc.kept.lessons import Teaches
from calc.kept.link import pack
from calc.kept.log import DAMPER, DONE, ENTERED, KINDS, SETUP
from calc.model.car import Car, empty, from_json, put, to_json
from calc.model.corners import Corner, End
from calc.model.origin import Origin
from site_src.build.image import use
from site_src.build.toolchain import nodes, npm_packages
from site_src.live import questions, worker
from site_src.live.questions import QUESTIONS
from site_src.live.wire import declared, optional, reader

STAND_IN = Path(__file__).parent / "stand_in.js"
Asked = dict[str, Any]


@pytest.fixture(scope="module")
def warm_up(questions: list[Asked]) -> dict[str, Asked]:
    """The last question of each name."""
    return {told["ask"]: told for told in questions}


def refused(question: Asked) -> str:
    reply: dict[str, str] = json.loads(worker.answer(json.dumps(question)))
    assert reply.keys() == {"refused"}, question
    return reply["refused"]


def test_each_is_answered_and_asked_in_advance(warm_up: dict[str, Asked]) -> None:
    assert list(worker.ANSWERS) == list(QUESTIONS)
    assert warm_up.keys() == QUESTIONS.keys()


def test_no_image_is_made_where_one_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(use, "FORMS", use.FORMS[:1])
    monkeypatch.setitem(QUESTIONS, "spare", questions.CARS)
    with pytest.raises(LookupError, match="spare"):
        use.use_everything()


def test_the_stand_in_answers_each_with_all_of_its_reply(warm_up: dict[str, Asked]) -> None:
    script = f"""const DEMO = {json.dumps(to_json(Car()))};
{STAND_IN.read_text("utf-8")}
const replies = Object.entries({json.dumps(warm_up)})
  .map(([name, told]) => [name, ANSWERS[name](told)]);
console.log(JSON.stringify(Object.fromEntries(replies)));
"""
    node = next(nodes(npm_packages()))
    done = subprocess.run([node, "-"], input=script, capture_output=True, text=True, check=True)
    replies = json.loads(done.stdout)
    assert replies.keys() == QUESTIONS.keys()
    for name, reply in replies.items():
        if isinstance(reply.get("car"), dict):
            reply["car"].pop("noted", None)  # where the stand-in keeps what was typed
        reader(QUESTIONS[name].reply)(reply)


@pytest.mark.parametrize("name", QUESTIONS)
def test_a_missing_or_an_unknown_name_is_refused(warm_up: dict[str, Asked], name: str) -> None:
    asked = warm_up[name]
    kind = QUESTIONS[name].asked
    assert asked.keys() - {"ask"} <= declared(kind).keys()
    for one in declared(kind).keys() - optional(kind):
        sentence = refused({key: value for key, value in asked.items() if key != one})
        assert f"“{name}” without “{one}”" in sentence
    assert f"“{name}” with “spare”, which is unknown" in refused({**asked, "spare": None})


def at(*path: str) -> Callable[[Asked], Asked]:
    """The record in a question to which the last name of a path belongs."""

    def found(asked: Asked) -> Asked:
        for name in path[:-1]:
            asked = asked[name]
        return asked

    return found


WRONG = [
    ("answer", ("form",), "gearbox"),
    ("answer", ("typed", "pitch"), 0.75),
    ("answer", ("typed",), ["0.75"]),
    ("answer", ("system",), "nautical"),
    ("keep", ("form",), "gearbox"),
    ("unit", ("form",), "gearbox"),
    ("sheet", ("blocks",), "oil"),
    ("log", ("now",), "soon"),
    ("log", ("now",), float("nan")),
    ("log", ("now",), 10**400),
    ("log", ("now",), True),
    ("log", ("entries",), None),
    ("collar", ("act", "kind"), "dance"),
    ("collar", ("at", "based"), "no"),
    ("collar", ("at",), None),
    ("compare", ("one", "name"), None),
    ("another", ("copies",), 0),
    ("restore", ("cars",), {"2": [1.0]}),
    ("received", ("names",), {"2": 2}),
]


@pytest.mark.parametrize(("name", "path", "value"), WRONG)
def test_a_value_of_another_type_is_refused(
    warm_up: dict[str, Asked], name: str, path: tuple[str, ...], value: object
) -> None:
    asked = deepcopy(warm_up[name])
    at(*path)(asked)[path[-1]] = value
    place = ".".join(path)
    assert f"“{name}” with a “{place}" in refused(asked)


def test_the_refusal_leads_to_the_place_in_a_list(warm_up: dict[str, Asked]) -> None:
    heads = deepcopy(warm_up["setups"])
    del heads["heads"][0]["surface"]
    assert "without “heads.1.surface”" in refused(heads)
    cars = deepcopy(warm_up["restore"])
    cars["cars"] = {"2": ["late", "Buggy"]}
    assert "a “cars.2.1” that is not understood" in refused(cars)
    act = deepcopy(warm_up["collar"])
    act["act"]["spare"] = 1
    assert "with “act.spare”, which is unknown" in refused(act)


def test_a_car_in_a_question_is_checked_as_one_that_is_kept(warm_up: dict[str, Asked]) -> None:
    car = to_json(Car())
    del car["rod_end"]
    assert refused({**warm_up["answer"], "car": car}) == (
        "The car record is damaged at car: rod_end is missing."
    )


@pytest.mark.parametrize(
    ("what", "value", "u"),
    [
        ("motion_ratio", 0.7, 0.02),
        ("spring_rate", 700.0, 20.0),
        ("friction", 0.7e-3, 0.2e-3),
        ("pitch", 0.8e-3, 0.1e-3),
    ],
)
def test_what_the_log_has_taught_is_in_the_car(
    warm_up: dict[str, Asked], what: str, value: float, u: float
) -> None:
    act = {"kind": "learn", "end": "rear", "what": what, "value": value, "u": u}
    reply = json.loads(worker.answer(json.dumps({**warm_up["collar"], "act": act})))
    car = from_json(reply["car"])
    source = car.origins[f"rear.{what}"]
    assert (source.how, source.u) == ("measured", u)
    assert record.get(car, f"rear.{what}") == value
    assert reply["log"][-1]["kind"] == ENTERED


def test_a_row_that_is_not_complete_yet_stays_typed(warm_up: dict[str, Asked]) -> None:
    """Cell after cell is typed; the list is in the car once all of them are."""
    cells = {"name": "blue", "rate": "0.5 N/mm", "free": "40 mm", "solid": "13 mm"}
    whole = {f"springs.1.{name}": text for name, text in cells.items()}
    car, typed = to_json(empty("Mine")), dict[str, str]()
    for n, (name, text) in enumerate(whole.items(), 1):
        asked = {**warm_up["keep"], "form": "car", "car": car, "typed": {**typed, name: text}}
        reply = json.loads(worker.answer(json.dumps(asked)))
        typed, car = reply["typed"], reply["car"]
        assert set(typed) == (set(list(whole)[:n]) if n < len(whole) else set())
    (spring,) = from_json(car).springs
    assert (spring.name, spring.rate) == ("blue", pytest.approx(500.0))
    assert (spring.free, spring.solid) == (pytest.approx(40e-3), pytest.approx(13e-3))


def test_what_cannot_be_read_stays_typed(warm_up: dict[str, Asked]) -> None:
    car = to_json(empty("Mine"))
    asked = {**warm_up["keep"], "form": "car", "car": car, "system": "metric"}
    asked["typed"] = {"end.front.pitch": "abc", "end.rear.pitch": "0.8"}
    reply = json.loads(worker.answer(json.dumps(asked)))
    assert reply["typed"] == {"end.front.pitch": "abc"}
    assert from_json(reply["car"]).rear.pitch == pytest.approx(0.8e-3)


@pytest.mark.parametrize(
    ("weighed", "says"),
    [
        ((*Corner,), "1376 g ready to run."),
        (End.FRONT.corners, "Front 688 g, rear not weighed."),
        (End.REAR.corners, "Rear 688 g, front not weighed."),
        ((Corner.FRONT_LEFT, Corner.REAR_LEFT, Corner.REAR_RIGHT), "Rear 688 g, front not"),
        ((Corner.FRONT_LEFT,), "Weight not known."),
    ],
)
def test_a_car_by_link_states_only_what_is_known(
    warm_up: dict[str, Asked], weighed: Sequence[Corner], says: str
) -> None:
    car = put(empty("Club car"), "rear.oil", 288e-6, Origin("label"))
    for corner in weighed:
        car = put(car, f"corners.{corner}.load", 0.344, Origin("measured"))
    reply = worker.answer(json.dumps({**warm_up["received"], "text": pack(car)}))
    html = json.loads(reply)["html"].replace(units.NBSP, " ")
    assert says in html
    assert "Oil: front not known yet, rear 288 cSt." in html


def test_home_without_a_base_is_refused(warm_up: dict[str, Asked]) -> None:
    sentence = refused({**warm_up["collar"], "act": {"kind": "home"}})
    assert sentence.startswith("No base is set yet")


def test_the_lists_of_words_are_those_of_calc() -> None:
    assert get_args(questions.System) == units.SYSTEMS
    assert get_args(declared(questions.Act)["what"]) == get_args(Teaches)
    kinds = get_args(declared(questions.Act)["kind"])
    # What else the log knows is no act at the collars: entered values, forms and set-ups.
    assert set(kinds) == {*dict(KINDS), "learn"} - {ENTERED, DONE, SETUP, DAMPER}
