"""Oil and temperature as a table, a plot and its working."""

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.forms.oil_temperature.inputs import Asked, then_of
from calc.forms.oil_warm import LAW_SOURCE, TABLE_TEMPERATURES, kelvin, plotted, row_near
from calc.language import tr
from calc.model.oil import clamp
from calc.physics import oil
from calc.physics.warm import dynamic_at, same_feel


def table(asked: Asked) -> Table:
    then = clamp(then_of(asked))
    rows = tuple(
        (
            asked.bare(temperature, "temperature", 0),
            asked.bare(oil.viscosity_at(asked.oil, temperature), "viscosity"),
            asked.bare(oil.viscosity_at(1.0, temperature), "share", 0),
            asked.bare(same_feel(asked.oil, then, temperature), "viscosity"),
        )
        for temperature in TABLE_TEMPERATURES
    )
    then_says = asked.typed(then_of(asked), "temperature")
    heads = (
        asked.symbol("temperature"), tr("Viscosity cSt"), tr("% of 25 °C"),
        tr("As it felt at {then}: cSt", then=then_says),
    )  # fmt: skip
    title = tr("{oil} oil by temperature", oil=asked.say(asked.oil, "viscosity"))
    return Table(title, heads, rows, row_near(asked.now))


def plot(asked: Asked) -> Plot:
    then, now = then_of(asked), asked.now
    steps = plotted(then, now)
    has = tuple((t, oil.viscosity_at(asked.oil, t)) for t in steps)
    marks = [Mark(clamp(now), oil.viscosity_at(asked.oil, clamp(now)), tr("now"))]
    curves = [Curve(tr("it has"), has)]
    if asked.ask == "same":
        start = clamp(then)
        marks.append(Mark(start, oil.viscosity_at(asked.oil, start), tr("it worked")))
        wanted = tuple((t, same_feel(asked.oil, start, t)) for t in steps)
        curves.append(Curve(tr("same feel"), wanted, "second"))
    return Plot(
        tr("{oil} oil and temperature", oil=asked.say(asked.oil, "viscosity")),
        Axis(tr("Temperature"), "temperature"),
        Axis(tr("Viscosity"), "viscosity"),
        tuple(curves),
        tuple(marks),
        tr(
            "The oil is {viscosity} at {now}; it gets thinner all the way from cold to warm.",
            viscosity=asked.say(oil.viscosity_at(asked.oil, clamp(now)), "viscosity"),
            now=asked.typed(now, "temperature"),
        ),
    )


def working(asked: Asked) -> tuple[Working, ...]:
    say, then, now = asked.say, clamp(then_of(asked)), clamp(asked.now)
    lines = [
        Working(
            tr("log10 ν = log10 ν25 + 763.1 (1/T − 1/298.15), T in K"),
            tr(
                "{oil} at {now}: {viscosity}",
                oil=say(asked.oil, "viscosity"),
                now=kelvin(asked, now),
                viscosity=say(oil.viscosity_at(asked.oil, now), "viscosity"),
            ),
            tr(LAW_SOURCE),
        ),
        Working(
            tr("dynamic viscosity μ = ν × density at that temperature"),
            f"{say(oil.viscosity_at(asked.oil, now), 'viscosity')} × "
            f"{say(oil.density(asked.oil, now), 'density')} = "
            f"{say(dynamic_at(asked.oil, now), 'dynamic')}",
            tr("density from silicone makers' tables, 0.095% less for each kelvin"),
        ),
    ]
    if asked.ask == "same":
        lines.append(_wanted_working(asked, then, now))
    return tuple(lines)


def _wanted_working(asked: Asked, then: float, now: float) -> Working:
    return Working(
        tr("the oil wanted now has the μ that the old one had then"),
        tr(
            "{dynamic} at {then}; with {oil} the same at {now}",
            dynamic=asked.say(dynamic_at(asked.oil, then), "dynamic"),
            then=kelvin(asked, then),
            oil=asked.say(same_feel(asked.oil, then, now), "viscosity"),
            now=kelvin(asked, now),
        ),
        tr("slow flow through holes goes with the dynamic viscosity"),
    )
