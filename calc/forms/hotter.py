"""Now it is hotter (or colder): one instruction for the oil of each end."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answering.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Step,
    Table,
    Working,
    Write,
)
from calc.asking.entry import Number
from calc.forms.cautions import opened
from calc.forms.common.bottles import (
    amount_field,
    bottle_rows,
    bottles_of,
    compared,
    nearest_words,
    sentence,
)
from calc.forms.common.oil_choice import NEAR, Named, NoOil, named
from calc.forms.common.oil_warm import (
    LAW_SOURCE,
    TABLE_TEMPERATURES,
    kelvin,
    law_doubt,
    oil_cautions,
    within,
)
from calc.forms.inputs import with_inputs
from calc.forms.names import END_LABELS, end_label, end_word
from calc.language import later, tr
from calc.model.corners import End
from calc.physics.warm import dynamic_at, same_feel
from calc.replying.form import Form, Given, from_car

FIELDS = (
    from_car("temperature", "worked_at"),
    Number(
        "Temperature now", "temperature", (273.15, 323.15), (213.15, 573.15),
        "Of the dampers: the air in the shade for a car that stands there, more after a run.",
        name="now", start=308.15, relative=1 / 300,
    ),
    from_car("front.oil", "front_oil", label="Oil in the front dampers"),
    from_car("rear.oil", "rear_oil", label="Oil in the rear dampers"),
    replace(amount_field(8e-6), label="Amount to make for each end"),
    bottle_rows(),
)  # fmt: skip


_LABELS = (
    ("front_wanted", later("Front oil that feels now as it did at {then}"), "viscosity"),
    ("rear_wanted", later("Rear oil that feels now as it did at {then}"), "viscosity"),
    ("change", later("The oil now is thicker or thinner (−) than at {then}"), "share"),
)


def _end(end: End) -> str:
    """The end at the head of a sentence."""
    return end_label(end)


def _grade(given: Given, end: End) -> float:
    return given.numbers[f"{end}_oil"]


def _wanted(given: Given, end: End, now: float | None = None) -> float:
    then = within(given.worked_at)
    return same_feel(_grade(given, end), then, within(given.now if now is None else now))


def figures(given: Given) -> Mapping[str, float]:
    then, now = within(given.worked_at), within(given.now)
    grade = given.front_oil
    return {
        "front_wanted": _wanted(given, End.FRONT) * given.law,
        "rear_wanted": _wanted(given, End.REAR) * given.law,
        "change": dynamic_at(grade, now) / dynamic_at(grade, then) * given.law - 1,
    }


def solve(given: Given) -> Answer:
    doubted = with_inputs(given, {"law": law_doubt(given.now, given.worked_at)}).carry(figures)
    then = given.say(given.worked_at, "temperature")
    grades = [given.front_oil, given.rear_oil]
    answer = Answer(
        steps=(),
        quantities=tuple(
            given.quantity(name, tr(says, then=then), kind, doubted[name])
            for name, says, kind in _LABELS
        ),
        tables=(_table(given),),
        plots=(_plot(given),),
        cautions=tuple(oil_cautions(given, grades, [given.worked_at, given.now])),
        working=_working(given),
    )
    for end, _ in END_LABELS:
        answer = _with_end(given, answer, end)
    together = _together(given, answer)
    filled = (opened(),) if answer.writes else ()
    return replace(answer, cautions=(*answer.cautions, *together, *filled))


def _with_end(given: Given, answer: Answer, end: End) -> Answer:
    """The answer with the one instruction for this end."""
    wanted, grade = _wanted(given, end), _grade(given, end)
    if abs(wanted / grade - 1) <= NEAR:
        leave = Step(
            tr("{end}: leave the {oil} oil in.", end=_end(end), oil=given.say(grade, "viscosity")),
            tr("It feels as it did, as nearly as its own label is right."),
        )
        return replace(answer, steps=(*answer.steps, leave))
    try:
        made = named(bottles_of(given), wanted, given.amount, given.say)
    except NoOil as lack:
        takes = Step(
            tr("{end}: it takes {oil} oil.", end=_end(end), oil=given.say(wanted, "viscosity")),
            sentence(lack) + nearest_words(given, bottles_of(given), wanted),
        )
        stop = Caution(tr("{end} dampers: {lack}.", end=_end(end), lack=lack), stop=True)
        return replace(answer, steps=(*answer.steps, takes), cautions=(*answer.cautions, stop))
    shown = given.say(made.viscosity, "viscosity")
    note = Write(f"{end}.oil", made.viscosity, tr("{end} oil {oil}", end=end_word(end), oil=shown))
    return replace(
        answer, steps=(*answer.steps, _fill(given, end, made)), writes=(*answer.writes, note)
    )


def _fill(given: Given, end: End, made: Named) -> Step:
    feels = dynamic_at(made.viscosity, within(given.now))
    off = compared(given, feels / dynamic_at(_grade(given, end), within(given.worked_at)))
    return Step(
        tr("{end}: fill the dampers with {oil}.", end=_end(end), oil=made.words),
        tr(
            "It has {viscosity} at 25 °C, and now it is {compared} the {old} oil was at {then}.",
            viscosity=given.say(made.viscosity, "viscosity"),
            compared=off,
            old=given.say(_grade(given, end), "viscosity"),
            then=given.say(given.worked_at, "temperature"),
        ),
    )


def _together(given: Given, answer: Answer) -> tuple[Caution, ...]:
    """A word where two ends are filled: each was checked against the bottles alone."""
    if len(answer.writes) < len(END_LABELS):
        return ()
    return (
        Caution(
            tr(
                "Each end alone has enough in your bottles. Where both take from one bottle, see "
                "that it holds enough for the two before you empty a damper."
            )
        ),
    )


def _table(given: Given) -> Table:
    rows = tuple(
        (
            given.bare(t, "temperature", 0),
            *(given.bare(_wanted(given, end, t), "viscosity") for end, _ in END_LABELS),
        )
        for t in TABLE_TEMPERATURES
    )
    gaps = [abs(given.now - t) for t in TABLE_TEMPERATURES]
    mark = gaps.index(min(gaps)) if min(gaps) <= 2.5 else -1
    heads = (given.symbol("temperature"), *(f"{_end(end)} cSt" for end, _ in END_LABELS))
    return Table(tr("Oil that feels as it did, by temperature"), heads, rows, mark)


def _plot(given: Given) -> Plot:
    then, now = within(given.worked_at), within(given.now)
    low, high = min(273.15, then, now), max(323.15, then, now)
    steps = [low + (high - low) * n / 20 for n in range(21)]
    front, rear = (tuple((t, _wanted(given, end, t)) for t in steps) for end, _ in END_LABELS)
    return Plot(
        tr("Oil to fill by temperature"),
        Axis(tr("Temperature"), "temperature"),
        Axis(tr("Viscosity at 25 °C"), "viscosity"),
        (Curve(end_word(End.FRONT), front), Curve(end_word(End.REAR), rear, "second")),
        (Mark(now, _wanted(given, End.FRONT), tr("now")),),
        tr(
            "At {now} it takes {front} at the front and {rear} at the rear; the warmer, the "
            "thicker.",
            now=given.say(given.now, "temperature"),
            front=given.say(_wanted(given, End.FRONT), "viscosity"),
            rear=given.say(_wanted(given, End.REAR), "viscosity"),
        ),
    )


def _working(given: Given) -> tuple[Working, ...]:
    then, now = within(given.worked_at), within(given.now)
    return tuple(
        Working(
            tr("log10 ν = log10 ν25 + 763.1 (1/T − 1/298.15); the same ν × density now as then"),
            tr(
                "{end}: {old} at {then} has {dynamic}; so has {new} at {now}",
                end=end_word(end),
                old=given.say(_grade(given, end), "viscosity"),
                then=kelvin(given, then),
                dynamic=given.say(dynamic_at(_grade(given, end), then), "dynamic"),
                new=given.say(_wanted(given, end), "viscosity"),
                now=kelvin(given, now),
            ),
            tr(LAW_SOURCE),
        )
        for end, _ in END_LABELS
    )


FORM = Form(
    "hotter",
    "Now it is hotter",
    "track",
    "The day has warmed up or cooled down: what to do about the oil?",
    FIELDS,
    solve,
)
