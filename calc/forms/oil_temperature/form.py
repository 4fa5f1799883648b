"""Oil and temperature: what an oil is on a warm day, and which oil feels as another did."""

from dataclasses import replace

from calc.answering.answer import Answer, Caution, Quantity, Step
from calc.forms.bottles import (
    compared,
    leave_oil,
    nearest_words,
    needs_oil,
    none_entered,
    owned,
    pours,
    refill,
    refill_gives,
    refilled,
    sentence,
)
from calc.forms.cautions import opened, spill
from calc.forms.filling import Wanted, filled_from, in_stock
from calc.forms.oil_choice import NEAR, Named, NoOil
from calc.forms.oil_temperature.inputs import Asked, FeelFigures, then_of
from calc.forms.oil_temperature.pictures import plot, table, working
from calc.forms.oil_warm import law_uncertainty, oil_cautions
from calc.language import tr
from calc.model.oil import clamp
from calc.physics import oil
from calc.physics.warm import dynamic_at, same_feel
from calc.replying.form import Form


def figures(asked: Asked) -> FeelFigures:
    grade, then, now = asked.oil, clamp(then_of(asked)), clamp(asked.now)
    same = asked.ask == "same"
    return FeelFigures(
        wanted=same_feel(grade, then, now) * asked.law_between if same else None,
        viscosity_then=oil.viscosity_at(grade, then) * asked.law_then if same else None,
        viscosity_now=oil.viscosity_at(grade, now) * asked.law_now,
        dynamic_now=dynamic_at(grade, now) * asked.law_now,
        change=dynamic_at(grade, now) / dynamic_at(grade, then) * asked.law_between - 1,
    )


def _quantities(asked: Asked) -> tuple[Quantity, ...]:
    then, now = then_of(asked), asked.now
    asked = asked.assuming(
        (Asked.law_then, 1.0, law_uncertainty(then)),
        (Asked.law_now, 1.0, law_uncertainty(now)),
        (Asked.law_between, 1.0, law_uncertainty(now, then)),
    )
    return asked.quantities(
        asked.propagate(figures),
        then=asked.typed(then, "temperature"),
        now=asked.typed(now, "temperature"),
    )


def solve(asked: Asked) -> Answer:
    answer = Answer(
        steps=(_has(asked),),
        quantities=_quantities(asked),
        tables=(table(asked),),
        plots=(plot(asked),),
        cautions=tuple(oil_cautions(asked, [asked.oil], [then_of(asked), asked.now])),
        working=working(asked),
    )
    return _with_oil(asked, answer) if asked.ask == "same" else answer


def _with_oil(asked: Asked, answer: Answer) -> Answer:
    """The answer with the oil to fill in, where the bottles give one."""
    wanted = same_feel(asked.oil, clamp(then_of(asked)), clamp(asked.now))
    if abs(wanted / asked.oil - 1) <= NEAR:
        return replace(answer, steps=(_leave(asked),))
    try:
        fill = Wanted(wanted, asked.fill.to_make, asked.syringe)
        made = filled_from(in_stock(asked.bottles), fill, asked.say)
    except NoOil as lack:
        steps = (_no_bottle(asked, wanted), *answer.steps)
        lacks = none_entered(asked.bottles) or (Caution(sentence(lack)),)
        return replace(answer, steps=steps, cautions=(*lacks, *answer.cautions, spill()))
    return replace(
        answer,
        steps=(_fill(asked, made.oil),),
        cautions=(*answer.cautions, opened()),
        writes=refilled(asked, asked.axle, made.oil.viscosity, asked.now),
        pours=pours(made.poured, asked.axle),
    )


def _has(asked: Asked) -> Step:
    grade = asked.say(asked.oil, "viscosity")
    now = oil.viscosity_at(asked.oil, clamp(asked.now))
    at = asked.typed(asked.now, "temperature")
    return Step(
        tr(
            "At {now} the {oil} oil is {viscosity}.",
            now=at,
            oil=grade,
            viscosity=asked.say(now, "viscosity"),
        ),
        tr("That is {compared} at 25 °C.", compared=compared(asked, now / asked.oil)),
    )


def _fill(asked: Asked, oil_now: Named) -> Step:
    now, then = asked.now, then_of(asked)
    feels = dynamic_at(oil_now.viscosity, clamp(now)) / dynamic_at(asked.oil, clamp(then))
    return Step(
        refill(asked.axle, oil_now.words),
        refill_gives(asked, oil_now.viscosity, asked.oil, feels=feels, now=now, then=then),
    )


def _leave(asked: Asked) -> Step:
    then, now = asked.typed(then_of(asked), "temperature"), asked.typed(asked.now, "temperature")
    return Step(
        leave_oil(asked.axle, asked.say(asked.oil, "viscosity")),
        tr(
            "At {now} it feels as it did at {then}, to within the ± of its label.",
            now=now,
            then=then,
        ),
    )


def _no_bottle(asked: Asked, wanted: float) -> Step:
    then = asked.typed(then_of(asked), "temperature")
    return Step(
        needs_oil(asked.axle, asked.say(wanted, "viscosity")),
        tr(
            "That feels as the {old} oil did at {then}.",
            old=asked.say(asked.oil, "viscosity"),
            then=then,
        )
        + nearest_words(asked, owned(asked.bottles), wanted),
    )


FORM = Form(
    slug="oil-temperature",
    title="Oil and temperature",
    moment="bench",
    asks="On the bench, one oil at any temperature: how thick is it then, and which other oil "
    "feels the same?",
    inputs=Asked,
    solve=solve,
    first=("oil", "worked_at"),
)
