"""Oil for today by temperature: table, plot and working."""

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.forms.hotter.inputs import Asked
from calc.forms.names import end_label, end_word
from calc.forms.oil_warm import LAW_SOURCE, TABLE_TEMPERATURES, kelvin, plotted, row_near
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.oil import clamp
from calc.physics.warm import dynamic_at


def table(asked: Asked) -> Table:
    rows = tuple(
        (
            asked.bare(t, "temperature", 0),
            *(asked.bare(asked.wanted(end, t), "viscosity") for end in ENDS),
        )
        for t in TABLE_TEMPERATURES
    )
    heads = (asked.symbol("temperature"), *(f"{end_label(end)} cSt" for end in ENDS))
    return Table(tr("Oil that feels as it did, by temperature"), heads, rows, row_near(asked.now))


def plot(asked: Asked) -> Plot:
    now = clamp(asked.now)
    steps = plotted(now, *(asked.then(end) for end in ENDS))
    front, rear = (tuple((t, asked.wanted(end, t)) for t in steps) for end in ENDS)
    return Plot(
        tr("Oil to use by temperature"),
        Axis(tr("Temperature"), "temperature"),
        Axis(tr("Viscosity at 25 °C"), "viscosity"),
        (Curve(end_word(End.FRONT), front), Curve(end_word(End.REAR), rear, "second")),
        (Mark(now, asked.wanted(End.FRONT), tr("now")),),
        tr(
            "At {now} you need {front} at the front and {rear} at the rear; the warmer, "
            "the thicker.",
            now=asked.typed(asked.now, "temperature"),
            front=asked.say(asked.wanted(End.FRONT), "viscosity"),
            rear=asked.say(asked.wanted(End.REAR), "viscosity"),
        ),
    )


def working(asked: Asked) -> tuple[Working, ...]:
    now = clamp(asked.now)
    return tuple(
        Working(
            tr("log10 ν = log10 ν25 + 763.1 (1/T − 1/298.15); the same ν × density now as then"),
            tr(
                "{end}: {old} at {then} is {dynamic}; so is {new} at {now}",
                end=end_word(end),
                old=asked.say(asked.grade(end), "viscosity"),
                then=kelvin(asked, asked.then(end)),
                dynamic=asked.say(dynamic_at(asked.grade(end), asked.then(end)), "dynamic"),
                new=asked.say(asked.wanted(end), "viscosity"),
                now=kelvin(asked, now),
            ),
            tr(LAW_SOURCE),
        )
        for end in ENDS
    )
