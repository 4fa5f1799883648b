"""Now it is hotter (or colder): one instruction for the oil of each end."""

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
from calc.forms.bottles import (
    BottleRow,
    amount_to_make,
    bottles_owned,
    compared,
    nearest_words,
    owned,
    places,
    poured,
    sentence,
)
from calc.forms.cautions import opened
from calc.forms.names import END_LABELS, end_label, end_word
from calc.forms.oil_choice import NEAR, Named, NoOil, named
from calc.forms.oil_warm import (
    LAW,
    LAW_SOURCE,
    TABLE_TEMPERATURES,
    kelvin,
    law_uncertainty,
    oil_cautions,
    temperature_now,
)
from calc.language import tr
from calc.model.corners import End
from calc.model.oil import clamp
from calc.physics.warm import dynamic_at, same_feel
from calc.replying.figures import Figures, figure
from calc.replying.form import Form
from calc.replying.inputs import Inputs, assumed, from_car

_MUCH_WARMER = 10.0  # K; less moves the force by less than its own doubt


class Asked(Inputs):
    front_at: float = from_car("front.oil_at", label="The front oil was right at")
    rear_at: float = from_car("rear.oil_at", label="The rear oil was right at")
    now: float = temperature_now()
    front_oil: float = from_car("front.oil", label="Oil in the front dampers")
    rear_oil: float = from_car("rear.oil", label="Oil in the rear dampers")
    amount: float = amount_to_make("Amount to make for each end")
    bottles: tuple[BottleRow, ...] = bottles_owned()
    front_law: float = assumed(LAW)
    rear_law: float = assumed(LAW)


class HotterFigures(Figures):
    front_wanted: float = figure("Front oil that feels now as it did at {front}", kind="viscosity")
    rear_wanted: float = figure("Rear oil that feels now as it did at {rear}", kind="viscosity")
    change: float = figure("The oil now is thicker or thinner (−) than at {front}", kind="share")


def _grade(asked: Asked, end: End) -> float:
    return asked.front_oil if end is End.FRONT else asked.rear_oil


def _then(asked: Asked, end: End) -> float:
    """When the oil of an end was right, as far as the law goes."""
    return clamp(asked.front_at if end is End.FRONT else asked.rear_at)


def _wanted(asked: Asked, end: End, now: float | None = None) -> float:
    then = _then(asked, end)
    return same_feel(_grade(asked, end), then, clamp(asked.now if now is None else now))


def figures(asked: Asked) -> HotterFigures:
    then, now = _then(asked, End.FRONT), clamp(asked.now)
    grade = asked.front_oil
    return HotterFigures(
        front_wanted=_wanted(asked, End.FRONT) * asked.front_law,
        rear_wanted=_wanted(asked, End.REAR) * asked.rear_law,
        change=dynamic_at(grade, now) / dynamic_at(grade, then) * asked.front_law - 1,
    )


def solve(asked: Asked) -> Answer:
    uncertain = asked.assuming(
        (Asked.front_law, 1.0, law_uncertainty(asked.now, asked.front_at)),
        (Asked.rear_law, 1.0, law_uncertainty(asked.now, asked.rear_at)),
    )
    front, rear = (asked.say(at, "temperature") for at in (asked.front_at, asked.rear_at))
    grades = [asked.front_oil, asked.rear_oil]
    answer = Answer(
        steps=(),
        quantities=uncertain.quantities(uncertain.propagate(figures), front=front, rear=rear),
        tables=(_table(asked),),
        plots=(_plot(asked),),
        cautions=tuple(oil_cautions(asked, grades, [asked.front_at, asked.rear_at, asked.now])),
        working=_working(asked),
    )
    for end, _ in END_LABELS:
        answer = _with_end(asked, answer, end)
    together = _together(asked, answer)
    filled = (*_squeezed(asked), opened()) if answer.writes else _squeezed(asked)
    return replace(answer, cautions=(*answer.cautions, *together, *filled))


def _with_end(asked: Asked, answer: Answer, end: End) -> Answer:
    """The answer with the one instruction for this end."""
    wanted, grade = _wanted(asked, end), _grade(asked, end)
    if abs(wanted / grade - 1) <= NEAR:
        leave = Step(
            tr(
                "{end}: leave the {oil} oil in.",
                end=end_label(end),
                oil=asked.say(grade, "viscosity"),
            ),
            tr("It feels as it did, as nearly as its own label is right."),
        )
        return replace(answer, steps=(*answer.steps, leave))
    bottles = owned(asked.bottles)
    try:
        made = named(bottles, wanted, asked.amount, asked.say)
    except NoOil as lack:
        takes = Step(
            tr(
                "{end}: you need {oil} oil.", end=end_label(end), oil=asked.say(wanted, "viscosity")
            ),
            sentence(lack) + nearest_words(asked, bottles, wanted),
        )
        stop = Caution(tr("{end} dampers: {lack}.", end=end_label(end), lack=lack), stop=True)
        return replace(answer, steps=(*answer.steps, takes), cautions=(*answer.cautions, stop))
    shown = asked.say(made.viscosity, "viscosity")
    warm = asked.say(asked.now, "temperature")
    notes = (
        Write(f"{end}.oil", made.viscosity, tr("{end} oil {oil}", end=end_word(end), oil=shown)),
        Write(
            f"{end}.oil_at", asked.now, tr("right at {temperature}", temperature=warm), "measured"
        ),
    )
    taken = poured(places(asked.bottles), bottles, made.portions(asked.amount))
    return replace(
        answer,
        steps=(*answer.steps, _fill(asked, end, made)),
        writes=(*answer.writes, *notes),
        poured=(*answer.poured, *taken),
    )


def _fill(asked: Asked, end: End, made: Named) -> Step:
    feels = dynamic_at(made.viscosity, clamp(asked.now))
    off = compared(asked, feels / dynamic_at(_grade(asked, end), _then(asked, end)))
    return Step(
        tr("{end}: fill the dampers with {oil}.", end=end_label(end), oil=made.words),
        tr(
            "That is {viscosity} by label (25 °C). In today's heat it is {compared} the "
            "{old} oil was at {then}.",
            viscosity=asked.say(made.viscosity, "viscosity"),
            compared=off,
            old=asked.say(_grade(asked, end), "viscosity"),
            then=asked.say(_then(asked, end), "temperature"),
        ),
    )


def _together(asked: Asked, answer: Answer) -> tuple[Caution, ...]:
    """A word where two ends are filled: each was checked against the bottles alone."""
    if {f"{end}.oil" for end in End} - {write.path for write in answer.writes}:
        return ()
    return (
        Caution(
            tr(
                "Each end alone has enough in your bottles. Where both take from one bottle, see "
                "that it holds enough for the two before you empty a damper."
            )
        ),
    )


def _squeezed(asked: Asked) -> tuple[Caution, ...]:
    """A word about trapped air where the oil has grown by the heat."""
    if asked.now - min(asked.front_at, asked.rear_at) < _MUCH_WARMER:
        return ()
    return (
        Caution(
            tr(
                "Warmer oil grows and squeezes the air trapped in the dampers: they come back with "
                "more force, whatever the oil. Fill and bleed says how much more."
            )
        ),
    )


def _table(asked: Asked) -> Table:
    rows = tuple(
        (
            asked.bare(t, "temperature", 0),
            *(asked.bare(_wanted(asked, end, t), "viscosity") for end, _ in END_LABELS),
        )
        for t in TABLE_TEMPERATURES
    )
    gaps = [abs(asked.now - t) for t in TABLE_TEMPERATURES]
    mark = gaps.index(min(gaps)) if min(gaps) <= 2.5 else -1
    heads = (asked.symbol("temperature"), *(f"{end_label(end)} cSt" for end, _ in END_LABELS))
    return Table(tr("Oil that feels as it did, by temperature"), heads, rows, mark)


def _plot(asked: Asked) -> Plot:
    now, then = clamp(asked.now), [_then(asked, end) for end in End]
    low, high = min(273.15, now, *then), max(323.15, now, *then)
    steps = [low + (high - low) * n / 20 for n in range(21)]
    front, rear = (tuple((t, _wanted(asked, end, t)) for t in steps) for end, _ in END_LABELS)
    return Plot(
        tr("Oil to fill by temperature"),
        Axis(tr("Temperature"), "temperature"),
        Axis(tr("Viscosity at 25 °C"), "viscosity"),
        (Curve(end_word(End.FRONT), front), Curve(end_word(End.REAR), rear, "second")),
        (Mark(now, _wanted(asked, End.FRONT), tr("now")),),
        tr(
            "At {now} you need {front} at the front and {rear} at the rear; the warmer, "
            "the thicker.",
            now=asked.say(asked.now, "temperature"),
            front=asked.say(_wanted(asked, End.FRONT), "viscosity"),
            rear=asked.say(_wanted(asked, End.REAR), "viscosity"),
        ),
    )


def _working(asked: Asked) -> tuple[Working, ...]:
    now = clamp(asked.now)
    return tuple(
        Working(
            tr("log10 ν = log10 ν25 + 763.1 (1/T − 1/298.15); the same ν × density now as then"),
            tr(
                "{end}: {old} at {then} has {dynamic}; so has {new} at {now}",
                end=end_word(end),
                old=asked.say(_grade(asked, end), "viscosity"),
                then=kelvin(asked, _then(asked, end)),
                dynamic=asked.say(dynamic_at(_grade(asked, end), _then(asked, end)), "dynamic"),
                new=asked.say(_wanted(asked, end), "viscosity"),
                now=kelvin(asked, now),
            ),
            tr(LAW_SOURCE),
        )
        for end, _ in END_LABELS
    )


FORM = Form(
    slug="hotter",
    title="Oil for today",
    moment="track",
    asks="The day has warmed up or cooled down: what to do about the oil?",
    inputs=Asked,
    solve=solve,
    first=("front_at", "rear_at"),
)
