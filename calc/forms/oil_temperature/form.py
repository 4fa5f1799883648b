"""Oil and temperature: what an oil is on a warm day, and which oil feels as another did."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answering.answer import Answer, Caution, Quantity, Step, Write
from calc.asking.entry import Choice, Number, only
from calc.forms.cautions import opened, spill
from calc.forms.common.bottles import (
    amount_field,
    bottle_rows,
    bottles_of,
    compared,
    nearest_words,
    sentence,
)
from calc.forms.common.oil_choice import NEAR, Named, NoOil, named
from calc.forms.common.oil_warm import law_doubt, oil_cautions, within
from calc.forms.fields import AXLE, chosen_end
from calc.forms.inputs import with_inputs
from calc.forms.names import end_word
from calc.forms.oil_temperature.pictures import plot, table, then_of, working
from calc.language import later, tr
from calc.physics import oil
from calc.physics.warm import dynamic_at, same_feel
from calc.replying.form import Form, Given, from_car

_SAME = only("ask", "same")

FIELDS = (
    Choice(
        "Question",
        (("same", "the oil that feels as it did"), ("viscosity", "what my oil has now")),
        name="ask",
    ),
    AXLE,
    from_car("{axle}.oil"),
    from_car("temperature", "worked_at", when=_SAME),
    Number(
        "Temperature now", "temperature", (273.15, 323.15), (213.15, 573.15),
        "Of the dampers: the air in the shade for a car that stands there, more after a run.",
        name="now", start=308.15, relative=1 / 300,
    ),
    amount_field(8e-6, _SAME),
    bottle_rows(_SAME),
)  # fmt: skip


def figures(given: Given) -> Mapping[str, float]:
    grade, then, now = given.oil, within(then_of(given)), within(given.now)
    return {
        "wanted": same_feel(grade, then, now) * given.law_between,
        "viscosity_then": oil.viscosity_at(grade, then) * given.law_then,
        "viscosity_now": oil.viscosity_at(grade, now) * given.law_now,
        "dynamic_now": dynamic_at(grade, now) * given.law_now,
        "change": dynamic_at(grade, now) / dynamic_at(grade, then) * given.law_between - 1,
    }


_LABELS = (
    ("wanted", later("Oil that feels now as it did at {then}, at 25 °C"), "viscosity"),
    ("viscosity_then", later("Viscosity of the oil in the dampers at {then}"), "viscosity"),
    ("viscosity_now", later("Viscosity of the oil in the dampers at {now}"), "viscosity"),
    ("dynamic_now", later("Its dynamic viscosity at {now}"), "dynamic"),
    ("change", later("Thicker or thinner (−) than at {then}"), "share"),
)
_SAME_ONLY = ("wanted", "viscosity_then")


def _quantities(given: Given) -> tuple[Quantity, ...]:
    laws = {
        "law_then": law_doubt(then_of(given)),
        "law_now": law_doubt(given.now),
        "law_between": law_doubt(given.now, then_of(given)),
    }
    given = with_inputs(given, laws)
    doubted = given.carry(figures)
    then = given.say(then_of(given), "temperature")
    now = given.say(given.now, "temperature")
    left_out = () if given.choice("ask") == "same" else _SAME_ONLY
    return tuple(
        given.quantity(name, tr(says, then=then, now=now), kind, doubted[name])
        for name, says, kind in _LABELS
        if name not in left_out
    )


def solve(given: Given) -> Answer:
    answer = Answer(
        steps=(_has(given),),
        quantities=_quantities(given),
        tables=(table(given),),
        plots=(plot(given),),
        cautions=tuple(oil_cautions(given, [given.oil], [then_of(given), given.now])),
        working=working(given),
    )
    return _with_oil(given, answer) if given.choice("ask") == "same" else answer


def _with_oil(given: Given, answer: Answer) -> Answer:
    """The answer with the oil to fill in, where the bottles give one."""
    wanted = same_feel(given.oil, within(then_of(given)), within(given.now))
    if abs(wanted / given.oil - 1) <= NEAR:
        return replace(answer, steps=(_leave(given),))
    try:
        oil_now = named(bottles_of(given), wanted, given.amount, given.say)
    except NoOil as lack:
        stop = Caution(sentence(lack), stop=True)
        step = _no_bottle(given, wanted)
        return replace(answer, steps=(step,), cautions=(stop, *answer.cautions, spill()))
    return replace(
        answer,
        steps=(_fill(given, oil_now),),
        cautions=(*answer.cautions, opened()),
        writes=(_note(given, oil_now),),
    )


def _has(given: Given) -> Step:
    grade = given.say(given.oil, "viscosity")
    now = oil.viscosity_at(given.oil, within(given.now))
    at = given.say(given.now, "temperature")
    return Step(
        tr(
            "At {now} the {oil} oil has {viscosity}.",
            now=at,
            oil=grade,
            viscosity=given.say(now, "viscosity"),
        ),
        tr("That is {compared} at 25 °C.", compared=compared(given, now / given.oil)),
    )


def _fill(given: Given, oil_now: Named) -> Step:
    then, now = given.say(then_of(given), "temperature"), given.say(given.now, "temperature")
    feels = dynamic_at(oil_now.viscosity, within(given.now))
    off = compared(given, feels / dynamic_at(given.oil, within(then_of(given))))
    return Step(
        tr(
            "Fill the {end} dampers with {oil}.",
            end=end_word(chosen_end(given)),
            oil=oil_now.words,
        ),
        tr(
            "It has {viscosity} at 25 °C, and at {now} it is {compared} the {old} oil was at "
            "{then}.",
            viscosity=given.say(oil_now.viscosity, "viscosity"),
            now=now,
            compared=off,
            old=given.say(given.oil, "viscosity"),
            then=then,
        ),
    )


def _leave(given: Given) -> Step:
    then, now = given.say(then_of(given), "temperature"), given.say(given.now, "temperature")
    return Step(
        tr(
            "Leave the {oil} oil in the {end} dampers.",
            oil=given.say(given.oil, "viscosity"),
            end=end_word(chosen_end(given)),
        ),
        tr(
            "At {now} it feels as it did at {then}, as nearly as its own label is right.",
            now=now,
            then=then,
        ),
    )


def _no_bottle(given: Given, wanted: float) -> Step:
    then = given.say(then_of(given), "temperature")
    return Step(
        tr("It takes {oil} oil.", oil=given.say(wanted, "viscosity")),
        tr(
            "That feels as the {old} oil did at {then}.",
            old=given.say(given.oil, "viscosity"),
            then=then,
        )
        + nearest_words(given, bottles_of(given), wanted),
    )


def _note(given: Given, oil_now: Named) -> Write:
    end, shown = chosen_end(given), given.say(oil_now.viscosity, "viscosity")
    says = tr("{end} oil {oil}", end=end_word(end), oil=shown)
    return Write(f"{end}.oil", oil_now.viscosity, says)


FORM = Form(
    "oil-temperature",
    "Oil and temperature",
    "bench",
    "Which oil feels today as yours did on another day?",
    FIELDS,
    solve,
)
