"""Oil and temperature as a table, a plot and its working."""

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.forms.common.oil_warm import LAW_SOURCE, TABLE_TEMPERATURES, kelvin
from calc.language import tr
from calc.model.oil import within
from calc.physics import oil
from calc.physics.warm import dynamic_at, same_feel
from calc.replying.form import Given


def then_of(given: Given) -> float:
    """The temperature to compare with: when the set-up worked, else 25 °C."""
    return given.maybe("worked_at") or oil.ROOM


def table(given: Given) -> Table:
    then = within(then_of(given))
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
    then_says = given.say(then_of(given), "temperature")
    heads = (
        given.symbol("temperature"), tr("Has cSt"), tr("% of 25 °C"),
        tr("As it felt at {then}: cSt", then=then_says),
    )  # fmt: skip
    title = tr("{oil} oil by temperature", oil=given.say(given.oil, "viscosity"))
    return Table(title, heads, rows, mark)


def plot(given: Given) -> Plot:
    then, now = then_of(given), given.now
    low, high = (within(edge) for edge in (min(273.15, then, now), max(323.15, then, now)))
    steps = [low + (high - low) * n / 20 for n in range(21)]
    has = tuple((t, oil.viscosity_at(given.oil, t)) for t in steps)
    marks = [Mark(within(now), oil.viscosity_at(given.oil, within(now)), tr("now"))]
    curves = [Curve(tr("it has"), has)]
    if given.choice("ask") == "same":
        start = within(then)
        marks.append(Mark(start, oil.viscosity_at(given.oil, start), tr("it worked")))
        wanted = tuple((t, same_feel(given.oil, start, t)) for t in steps)
        curves.append(Curve(tr("same feel"), wanted, "second"))
    return Plot(
        tr("{oil} oil and temperature", oil=given.say(given.oil, "viscosity")),
        Axis(tr("Temperature"), "temperature"),
        Axis(tr("Viscosity"), "viscosity"),
        tuple(curves),
        tuple(marks),
        tr(
            "The oil has {viscosity} at {now}; it gets thinner all the way from cold to warm.",
            viscosity=given.say(oil.viscosity_at(given.oil, within(now)), "viscosity"),
            now=given.say(now, "temperature"),
        ),
    )


def working(given: Given) -> tuple[Working, ...]:
    say, then, now = given.say, within(then_of(given)), within(given.now)
    lines = [
        Working(
            tr("log10 ν = log10 ν25 + 763.1 (1/T − 1/298.15), T in K"),
            tr(
                "{oil} at {now}: {viscosity}",
                oil=say(given.oil, "viscosity"),
                now=kelvin(given, now),
                viscosity=say(oil.viscosity_at(given.oil, now), "viscosity"),
            ),
            tr(LAW_SOURCE),
        ),
        Working(
            tr("dynamic viscosity μ = ν × density at that temperature"),
            f"{say(oil.viscosity_at(given.oil, now), 'viscosity')} × "
            f"{say(oil.density(given.oil, now), 'density')} = "
            f"{say(dynamic_at(given.oil, now), 'dynamic')}",
            tr("density from silicone makers' tables, 0.095 % less for each kelvin"),
        ),
    ]
    if given.choice("ask") == "same":
        lines.append(_wanted_working(given, then, now))
    return tuple(lines)


def _wanted_working(given: Given, then: float, now: float) -> Working:
    return Working(
        tr("the oil wanted has now the μ that the old one had then"),
        tr(
            "{dynamic} at {then}; with {oil} the same at {now}",
            dynamic=given.say(dynamic_at(given.oil, then), "dynamic"),
            then=kelvin(given, then),
            oil=given.say(same_feel(given.oil, then, now), "viscosity"),
            now=kelvin(given, now),
        ),
        tr("slow flow through holes goes with the dynamic viscosity"),
    )
