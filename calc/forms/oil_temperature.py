"""Oil and temperature: what an oil is on a warm day, and which oil feels as another did."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Quantity,
    Step,
    Table,
    Working,
    Write,
)
from calc.entry import Choice, Number, only
from calc.form import Form, Given, from_car
from calc.forms.bottles import (
    amount_field,
    bottle_rows,
    bottles_of,
    compared,
    nearest_words,
    sentence,
)
from calc.forms.oil_choice import NEAR, Named, NoOil, named
from calc.forms.oil_warm import LAW_SOURCE, TABLE_TEMPERATURES, law_doubt, oil_cautions, within
from calc.forms.shared import AXLE, spill, with_inputs
from calc.physics import oil
from calc.physics.warm import dynamic_at, same_feel

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


def _then(given: Given) -> float:
    """The temperature to compare with: when the set-up worked, else 25 °C."""
    return given.maybe("worked_at") or oil.ROOM


def figures(given: Given) -> Mapping[str, float]:
    grade, then, now = given.oil, within(_then(given)), within(given.now)
    return {
        "wanted": same_feel(grade, then, now) * given.law_between,
        "viscosity_then": oil.viscosity_at(grade, then) * given.law_then,
        "viscosity_now": oil.viscosity_at(grade, now) * given.law_now,
        "dynamic_now": dynamic_at(grade, now) * given.law_now,
        "change": dynamic_at(grade, now) / dynamic_at(grade, then) * given.law_between - 1,
    }


def _quantities(given: Given) -> tuple[Quantity, ...]:
    laws = {
        "law_then": law_doubt(_then(given)),
        "law_now": law_doubt(given.now),
        "law_between": law_doubt(given.now, _then(given)),
    }
    given = with_inputs(given, laws)
    doubted = given.carry(figures)
    then = given.say(_then(given), "temperature")
    now = given.say(given.now, "temperature")
    labels = [
        ("viscosity_now", f"Viscosity of the oil in the dampers at {now}", "viscosity"),
        ("dynamic_now", f"Its dynamic viscosity at {now}", "dynamic"),
        ("change", f"Thicker or thinner (−) than at {then}", "share"),
    ]
    if given.choice("ask") == "same":
        wanted = ("wanted", f"Oil that feels now as it did at {then}, at 25 °C", "viscosity")
        before = ("viscosity_then", f"Viscosity of the oil in the dampers at {then}", "viscosity")
        labels = [wanted, before, *labels]
    return tuple(given.quantity(name, says, kind, doubted[name]) for name, says, kind in labels)


def solve(given: Given) -> Answer:
    answer = Answer(
        steps=(_has(given),),
        quantities=_quantities(given),
        tables=(_table(given),),
        plots=(_plot(given),),
        cautions=tuple(oil_cautions(given, [given.oil], [_then(given), given.now])),
        working=_working(given),
    )
    return _with_oil(given, answer) if given.choice("ask") == "same" else answer


def _with_oil(given: Given, answer: Answer) -> Answer:
    """The answer with the oil to fill in, where the bottles give one."""
    wanted = same_feel(given.oil, within(_then(given)), within(given.now))
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
        cautions=(*answer.cautions, spill()),
        writes=(_note(given, oil_now),),
    )


def _has(given: Given) -> Step:
    grade = given.say(given.oil, "viscosity")
    now = oil.viscosity_at(given.oil, within(given.now))
    at = given.say(given.now, "temperature")
    return Step(
        f"At {at} the {grade} oil has {given.say(now, 'viscosity')}.",
        f"That is {compared(given, now / given.oil)} at 25 °C.",
    )


def _fill(given: Given, oil_now: Named) -> Step:
    then, now = given.say(_then(given), "temperature"), given.say(given.now, "temperature")
    feels = dynamic_at(oil_now.viscosity, within(given.now))
    off = compared(given, feels / dynamic_at(given.oil, within(_then(given))))
    return Step(
        f"Fill the {given.choice('axle')} dampers with {oil_now.words}.",
        f"It has {given.say(oil_now.viscosity, 'viscosity')} at 25 °C, and at {now} it is {off} "
        f"the {given.say(given.oil, 'viscosity')} oil was at {then}.",
    )


def _leave(given: Given) -> Step:
    then, now = given.say(_then(given), "temperature"), given.say(given.now, "temperature")
    return Step(
        f"Leave the {given.say(given.oil, 'viscosity')} oil in the {given.choice('axle')} dampers.",
        f"At {now} it feels as it did at {then}, as nearly as its own label is right.",
    )


def _no_bottle(given: Given, wanted: float) -> Step:
    then = given.say(_then(given), "temperature")
    return Step(
        f"It takes {given.say(wanted, 'viscosity')} oil.",
        f"That feels as the {given.say(given.oil, 'viscosity')} oil did at {then}."
        + nearest_words(given, bottles_of(given), wanted),
    )


def _note(given: Given, oil_now: Named) -> Write:
    end = given.choice("axle")
    return Write(
        f"{end}.oil", oil_now.viscosity, f"{end} oil {given.say(oil_now.viscosity, 'viscosity')}"
    )


def _table(given: Given) -> Table:
    then = within(_then(given))
    rows = tuple(
        (
            given.bare(temperature, "temperature", 0),
            given.bare(oil.viscosity_at(given.oil, temperature), "viscosity"),
            given.bare(oil.viscosity_at(1.0, temperature), "share", 0),
            given.bare(same_feel(given.oil, then, temperature), "viscosity"),
        )
        for temperature in TABLE_TEMPERATURES
    )
    gaps = [abs(given.now - temperature) for temperature in TABLE_TEMPERATURES]
    mark = gaps.index(min(gaps)) if min(gaps) <= 2.5 else -1
    then_says = given.say(_then(given), "temperature")
    heads = (
        given.symbol("temperature"), "Has cSt", "Of its 25 °C %", f"As at {then_says}: cSt",
    )  # fmt: skip
    return Table(f"{given.say(given.oil, 'viscosity')} oil by temperature", heads, rows, mark)


def _plot(given: Given) -> Plot:
    then, now = _then(given), given.now
    low, high = (within(edge) for edge in (min(273.15, then, now), max(323.15, then, now)))
    steps = [low + (high - low) * n / 20 for n in range(21)]
    has = tuple((t, oil.viscosity_at(given.oil, t)) for t in steps)
    marks = [Mark(within(now), oil.viscosity_at(given.oil, within(now)), "now")]
    curves = [Curve("it has", has)]
    if given.choice("ask") == "same":
        start = within(then)
        marks.append(Mark(start, oil.viscosity_at(given.oil, start), "it worked"))
        wanted = tuple((t, same_feel(given.oil, start, t)) for t in steps)
        curves.append(Curve("same feel", wanted, "second"))
    at_now = given.say(oil.viscosity_at(given.oil, within(now)), "viscosity")
    return Plot(
        f"{given.say(given.oil, 'viscosity')} oil and temperature",
        Axis("Temperature", "temperature"),
        Axis("Viscosity", "viscosity"),
        tuple(curves),
        tuple(marks),
        f"The oil has {at_now} at {given.say(now, 'temperature')}; it gets thinner all the way "
        "from cold to warm.",
    )


def _working(given: Given) -> tuple[Working, ...]:
    say, then, now = given.say, within(_then(given)), within(given.now)
    lines = [
        Working(
            "log10 ν = log10 ν25 + 763.1 (1/T − 1/298.15), T in K",
            f"{say(given.oil, 'viscosity')} at {now:.2f} K: "
            f"{say(oil.viscosity_at(given.oil, now), 'viscosity')}",
            LAW_SOURCE,
        ),
        Working(
            "dynamic viscosity μ = ν × density at that temperature",
            f"{say(oil.viscosity_at(given.oil, now), 'viscosity')} × "
            f"{say(oil.density(given.oil, now), 'density')} = "
            f"{say(dynamic_at(given.oil, now), 'dynamic')}",
            "density from silicone makers' tables, 0.095 % less for each kelvin",
        ),
    ]
    if given.choice("ask") == "same":
        lines.append(
            Working(
                "the oil wanted has now the μ that the old one had then",
                f"{say(dynamic_at(given.oil, then), 'dynamic')} at {then:.2f} K; with "
                f"{say(same_feel(given.oil, then, now), 'viscosity')} the same at {now:.2f} K",
                "slow flow through holes goes with the dynamic viscosity",
            )
        )
    return tuple(lines)


FORM = Form(
    "oil-temperature",
    "Oil and temperature",
    "bench",
    "Which oil feels today as yours did on another day?",
    FIELDS,
    solve,
)
