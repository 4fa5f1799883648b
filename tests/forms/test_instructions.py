"""Instructions name part, direction and effect in every language; what stops one comes first."""

import re
from functools import cache

import pytest

from calc import units
from calc.answering.answer import Answer, Step
from calc.answering.hand import give_or_take
from calc.asking.entry import Number
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.language import NAMES, speaking
from calc.model.car import Car, put
from calc.replying.plain import answer_text, reply_data
from calc.replying.reading import run
from site_src.both.fragment import answer_html
from tests.forms.ways import Choices, shown_cells, ways

each_language = pytest.mark.parametrize("code", NAMES)


def answered(slug: str, **typed: str) -> Answer:
    reply = run(BY_SLUG[slug], typed, Car())
    assert reply.answer is not None, reply.problems
    return reply.answer


# Turning.

TURNING = {
    "collar-turns", "corner-loads", "spring-swap", "spring-preload", "motion-ratio", "whole-car",
    "stroke", "spring-seats",
}  # fmt: skip
MORE: list[tuple[str, Choices]] = [
    ("spring-swap", {"new_rate": "2"}),
    ("spring-swap", {"new_rate": "0.5", "thread_hand": "left"}),
    ("whole-car", {"change": "load", "added": "50", "along": "100", "across": "20"}),
    ("whole-car", {"change": "load", "added": "-50", "along": "100", "across": "-20"}),
    ("spring-preload", {"wanted_sag": "20"}),
    ("spring-preload", {"droop_length": "41.5"}),
    ("collar-turns", {"wanted_height": "36"}),
    ("collar-turns", {"wanted_height": "20"}),
    ("stroke", {"aim": "alike"}),
]
# A turn, the part, the direction and the effect as each language says them.
TURN = {"en": r"\d turns?\b", "de": r"\d Umdrehung(en)?\b", "es": r"\d (de )?vueltas?\b"}
PART = {
    "collar": {"en": r"\bcollars?\b", "de": r"\bStellringe?\b", "es": r"\banillos?\b"},
    "rod end": {"en": r"\brod end\b", "de": r"\bKugelpfanne\b", "es": r"\brótula\b"},
}
WAY = {
    "down": {"en": r"\bdown\b", "de": r"nach unten", "es": r"hacia abajo"},
    "up": {"en": r"\bup\b", "de": r"nach oben", "es": r"hacia arriba"},
    "out": {"en": r"\bout\b", "de": r"herausdrehen", "es": r"\bdesenroscar\b"},
    "in": {"en": r"\bin\b", "de": r"hineindrehen", "es": r"\benroscar\b"},
}
EFFECT = {
    "down": {"en": "tighter; car up", "de": "hebt das Auto", "es": "sube el coche"},
    "up": {"en": "looser; car down", "de": "senkt das Auto", "es": "baja el coche"},
    "out": {"en": "longer", "de": "länger", "es": "más largo"},
    "in": {"en": "shorter", "de": "kürzer", "es": "más corto"},
}
# What can be read as the way to turn: a side of the car at the verb or before the count.
MISREAD = {
    "en": r"\b(left|right) \d",
    "de": r"\b(links|rechts) \d|\b(links|rechts) drehen",
    "es": r"\ba la (izquierda|derecha)\b|\b(izquierd|derech)[oa] \d",
}


@cache
def answers(code: str) -> list[tuple[str, Answer]]:
    """What every form answers in every way, and some more, in a language."""
    asked = [(form.slug, way) for form in FORMS for way in ways(form)]
    with speaking(code):
        replies = [(slug, run(BY_SLUG[slug], typed, Car())) for slug, typed in (*asked, *MORE)]
    return [(slug, reply.answer) for slug, reply in replies if reply.answer]


def plain(text: str) -> str:
    return text.replace(units.NBSP, " ")


def check_turn(step: Step, code: str) -> None:
    text, all_of_it = plain(step.text), plain(f"{step.text} {step.gives}")
    parts = [part for part, said in PART.items() if re.search(said[code], text, re.I)]
    assert len(parts) == 1, all_of_it
    pair = ("out", "in") if parts == ["rod end"] else ("down", "up")
    found = [way for way in pair if re.search(WAY[way][code], text)]
    assert len(found) == 1, all_of_it
    effects = [way for way in pair if EFFECT[way][code] in all_of_it]
    assert effects == found, all_of_it


@each_language
def test_a_step_of_a_turn_names_part_direction_and_effect(code: str) -> None:
    seen = set()
    for slug, answer in answers(code):
        for step in answer.steps:
            if re.search(TURN[code], plain(step.text)):
                check_turn(step, code)
                seen.add(slug)
    assert seen == TURNING


def test_an_instruction_to_turn_says_how_surely() -> None:
    """Its step names the exact turns among the figures, which have a doubt; turns that were typed
    are as sure as they are."""
    seen = set()
    for slug, answer in answers("en"):
        figures = {quantity.name: quantity for quantity in answer.quantities}
        for step in answer.steps:
            if not re.search(TURN["en"], plain(step.text)):
                continue
            assert step.of, (slug, step.text)
            if step.of in figures:
                assert figures[step.of].kind == "turns"
                sure = (figures[step.of].u or 0.0) < 1e-9  # typed, and counted exactly
                assert sure or give_or_take(step, answer.quantities)
                seen.add(slug)
    assert seen == TURNING


@each_language
def test_no_direction_can_be_read_as_its_opposite(code: str) -> None:
    """Spanish "girar a la derecha" is clockwise, whatever comes behind it."""
    for _, answer in answers(code):
        said = [step.text for step in answer.steps]
        said += [write.says for write in answer.writes if "collar" in write.path]
        for text in said:
            assert not re.search(MISREAD[code], plain(text)), text


def test_a_turn_the_droop_stops_cut_short_is_said_to_go_as_far_as_it_goes() -> None:
    assert answered("collar-turns", wanted_height="36").steps[0].text.endswith("as far as it goes.")
    made = answered("collar-turns", wanted_height="24")
    assert made.steps[0].text.startswith("Both front collars:")


# Stops.


@pytest.mark.parametrize(
    ("slug", "typed"),
    [
        ("collar-turns", {"wanted_height": "36"}),
        ("spring-preload", {"spring_solid": "20"}),
        ("oil-blend", {"thin": "30", "thick": "40", "target": "35"}),
    ],
)
def test_what_stops_an_instruction_is_read_before_it(slug: str, typed: dict[str, str]) -> None:
    form = BY_SLUG[slug]
    reply = run(form, typed, Car())
    assert reply.answer is not None
    assert any(caution.stop for caution in reply.answer.cautions)
    text = answer_text(reply.answer)
    assert text.startswith("STOP: ")
    html = answer_html(form, reply, units.METRIC)
    if any(caution.bars for caution in reply.answer.cautions):
        assert 'class="step' not in html and 'data-do="done"' not in html
        assert "\n1. " not in text
    else:
        assert max(m.start() for m in re.finditer("^STOP: ", text, re.M)) < text.index("\n1. ")
        assert html.rindex('class="caution stop"') < html.index('class="step')
    data = list(reply_data(slug, reply))
    assert data.index("cautions") < data.index("steps")


def test_an_answer_without_a_stop_begins_with_its_step() -> None:
    form = BY_SLUG["collar-turns"]
    reply = run(form, {"wanted_height": "24"}, Car())
    assert reply.answer is not None
    assert answer_text(reply.answer).startswith("1. ")
    assert "stop" not in answer_html(form, reply, units.METRIC).partition('class="step')[0]


@pytest.mark.parametrize(
    ("slug", "line"),
    [
        ("collar-turns", "Both front collars: 1 1/4 turns down. Give or take 3/8 turn."),
        ("spring-swap", "Both front collars: 1 1/4 turns up. Give or take 1 turn. 2 more steps"),
        ("corner-loads", "Rear left collar: 1/4 turn down. Give or take 1/4 turn. 3 more steps"),
    ],
)
def test_the_line_that_stays_has_the_number(slug: str, line: str) -> None:
    """And says how many instructions it leaves out."""
    form = BY_SLUG[slug]
    html = answer_html(form, run(form, {}, Car()), units.METRIC)
    brief = html.partition('class="brief"')[2].partition("</p>")[0].partition(">")[2]
    assert plain(re.sub("<[^>]*>", "", brief)).strip() == line


def test_what_the_numbers_make_wrong_stands_on_the_card_and_other_cautions_below() -> None:
    """A spring of 18 mm is loose when the wheel hangs, and unusually short."""
    form = BY_SLUG["collar-turns"]
    reply = run(form, {}, put(Car(), "front.spring_free", 0.018))
    assert reply.answer is not None
    told = [c for c in reply.answer.cautions if c.finding]
    html = answer_html(form, reply, units.METRIC)
    card, _, below = html.partition('class="more"')
    assert told
    for caution in told:
        assert caution.finding in card and len(caution.finding) < 80
        assert (caution.text in below) == (caution.text != caution.finding)
    assert 'data-field="spring_free"' in card and "1 value is unusual" in card


# Two digits in the field of an oil.

# Each in the first way of its form that asks for it.
OILS = {
    (form.slug, name): way
    for form in FORMS
    for way in reversed(ways(form))
    for name, cell in shown_cells(form, way)
    if isinstance(cell, Number) and cell.kind == "viscosity"
}


@pytest.mark.parametrize(("slug", "name"), OILS)
def test_two_digits_of_an_oil_are_asked_about_before_any_step(slug: str, name: str) -> None:
    reply = run(BY_SLUG[slug], {**OILS[slug, name], name: "35"}, Car())
    if reply.answer is None:
        assert reply.problems  # then there is no step either
    else:
        first = reply.answer.cautions[0]
        assert first.stop and "Did you mean 35 wt?" in plain(first.text)
        assert name not in reply.unusual


@pytest.mark.parametrize("typed", ["35 cSt", "100", "350", "500"])
def test_an_oil_with_its_unit_or_three_digits_is_taken_as_it_is(typed: str) -> None:
    for way in ways(BY_SLUG["oil-blend"]):
        reply = run(BY_SLUG["oil-blend"], {**way, "thin": typed}, Car())
        assert "Did you mean" not in str(reply.problems)
        if reply.answer:
            assert not any("Did you mean" in c.text for c in reply.answer.cautions)


def test_two_digits_that_no_bottles_make_are_asked_about_too() -> None:
    problems = run(BY_SLUG["oil-blend"], {"target": "35"}, Car()).problems
    assert "Did you mean 35 wt?" in problems["target"]


@each_language
def test_the_question_is_asked_in_every_language(code: str) -> None:
    with speaking(code):
        answer = answered("oil-blend", thin="30", thick="40", target="35")
        questions = [plain(c.text) for c in answer.cautions if c.stop]
    assert len(questions) == 3
    for n, text in zip((30, 40, 35), questions, strict=True):
        assert re.search(rf"\b{n} wt\b[^.]*\?", text)


# Solid length.


def test_solid_length_is_told_one_way() -> None:
    """Shigley's Mechanical Engineering Design, table 10-1: d (N_t + 1) where ends are not ground;
    checked in tests/reference/spring.toml. It is asked for measured first."""
    told = [
        cell.measure
        for form in FORMS
        for _, _, cell in form.cells()
        if isinstance(cell, Number) and cell.label.lower().endswith("solid length")
        if not cell.optional
    ]
    assert len(told) > 5
    for text in told:
        assert text.startswith("Press it solid") and "(coils + 1) × wire" in text
        assert text.endswith("coils × wire only where the ends are ground flat.")


def test_a_spring_that_would_go_solid_is_not_to_be_fitted() -> None:
    """The stop takes the place of the instruction; the figures stay."""
    form = BY_SLUG["spring-swap"]
    for solid, is_fitted in (("12", True), ("28", False)):
        typed = {"new_rate": "0.72", "new_free": "42", "new_solid": solid}
        html = answer_html(form, run(form, typed, Car()), units.METRIC)
        assert ("fit the new front springs" in html) == is_fitted
        assert ('data-do="done"' in html) == is_fitted
        assert ("goes solid" in html) != is_fitted
        assert 'data-quantity="turns_left"' in html
