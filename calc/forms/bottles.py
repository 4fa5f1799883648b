"""The bottles owned, as entries of a form and as what `oil_choice` works with."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from calc.answering.answer import Caution, Pour, Write
from calc.asking.entry import When
from calc.asking.record import MOST
from calc.forms.fields import against
from calc.forms.names import dampers_label, end_word
from calc.forms.oil_choice import NoOil, Portion, bottle_name, nearest
from calc.forms.writes import end_write
from calc.language import later, tr
from calc.model.car import Bottle
from calc.model.corners import End
from calc.replying.inputs import Inputs, Row, from_car, rows, up_to


class BottleRow(Row[str]):
    name: str = from_car("bottles.{row}.name")
    viscosity: float = from_car("bottles.{row}.viscosity")
    left: float | None = from_car("bottles.{row}.left")


def owned(rows: Iterable[BottleRow]) -> list[Bottle]:
    return [Bottle(row.name, row.viscosity, row.left) for row in rows]


Poured = tuple[tuple[int, float], ...]


def poured(places: Iterable[int], bottles: Iterable[Bottle], portions: Iterable[Portion]) -> Poured:
    """Volumes in m3 by the bottle's place in the car's list; the portions are of these very
    bottles, so that of two that are alike the one that was chosen is drawn from."""
    standing = list(zip(places, bottles, strict=True))
    return tuple(
        (place, volume)
        for taken, volume in portions
        for place, bottle in standing
        if bottle is taken
    )


def pours(of: Poured, *ends: End) -> tuple[Pour, ...]:
    """The same as pours of an answer, for all dampers of these ends together."""
    return tuple(Pour(place, volume, ends) for place, volume in of)


def places(rows: Iterable[BottleRow]) -> list[int]:
    """Where the bottles stand in the car's list."""
    return [int(row.key) for row in rows]


def bottles_owned(*, least: int = 0, when: When = ()) -> Any:
    """The bottles of the car record, each a `BottleRow`."""
    return rows(label="Bottles", each=up_to(MOST, "Bottle"), least=least, when=when)


def none_entered(rows: Sequence[BottleRow]) -> tuple[Caution, ...]:
    """Where the owner's bottles could say more, and none is entered: the way to them."""
    if rows:
        return ()
    text = tr("Your bottles are not entered yet. Enter them to see what to refill with.")
    return (Caution(text, at="bottles.1.viscosity"),)


def sentence(lack: NoOil) -> str:
    """Why the bottles do not give an oil, as a sentence of its own."""
    clause = str(lack)
    return f"{clause[0].upper()}{clause[1:]}."


_SAME, _THICKER = later("as thick as"), later("{share} thicker than")
_THINNER = later("{share} thinner than")


def compared(asked: Inputs, ratio: float) -> str:
    """How thick an oil is against another: "17% thinner than", "as thick as"."""
    return against(asked, ratio, _SAME, _THICKER, _THINNER)


def nearest_words(asked: Inputs, bottles: Sequence[Bottle], target: float) -> str:
    """A sentence about the bottle that comes nearest to the target; none without bottles."""
    near = nearest(bottles, target)
    if near is None:
        return ""
    if near.left is None:
        return tr(
            " The nearest bottle is {bottle}, {compared} that; how much is in it is not known.",
            bottle=bottle_name(near, asked.say),
            compared=compared(asked, near.viscosity / target),
        )
    return tr(
        " The nearest bottle is {bottle}, {compared} that, with {left} in it.",
        bottle=bottle_name(near, asked.say),
        left=asked.say(near.left, "volume", 1),
        compared=compared(asked, near.viscosity / target),
    )


def refill(end: End, oil: str) -> str:
    """The instruction: both dampers of an end get this oil, and its amounts are for both."""
    return tr("Both {end} dampers: refill with {oil}.", end=end_word(end), oil=oil)


def refill_gives(
    asked: Inputs, made: float, old: float, *, feels: float, now: float, then: float
) -> str:
    """What a refill gives: the oil `made` by its label, and how it feels now against the old one
    then; `feels` is their ratio, temperatures are in K."""
    return tr(
        "That is {viscosity} by label (25 °C). At {now} it is {compared} the {old} oil "
        "was at {then}.",
        viscosity=asked.say(made, "viscosity"),
        compared=compared(asked, feels),
        old=asked.say(old, "viscosity"),
        now=asked.typed(now, "temperature"),
        then=asked.typed(then, "temperature"),
    )


def leave_oil(end: End, oil: str) -> str:
    """The instruction: the oil in both dampers of an end is right."""
    return tr("{dampers}: leave the {oil} oil in.", dampers=dampers_label(end), oil=oil)


def needs_oil(end: End, oil: str) -> str:
    """The instruction: both dampers of an end want an oil that the bottles do not give."""
    return tr("{dampers}: you need {oil} oil.", dampers=dampers_label(end), oil=oil)


def as_labelled(value: float) -> float:
    """The three digits that a mix is worth, as they stand on its bottle."""
    return float(f"{value:.3g}")


def refilled(asked: Inputs, end: End, grade: float, warm: float) -> tuple[Write, ...]:
    """What the record takes over: an oil (m2/s at 25 C) that is right at a temperature (K)."""
    right = tr("right at {temperature}", temperature=asked.typed(warm, "temperature"))
    return (
        end_write(asked, end, "oil", as_labelled(grade)),
        Write(f"{end}.oil_at", warm, right),
    )


def in_the_list() -> str:
    """Of a blend that was bottled."""
    return tr("It is in your list of bottles from then on.")


_COUNTED = 100.0
"""Drops; more are miscounted (common practice, no source)."""
_OFF = 0.05
"""Share by which a mix may miss what is wanted unremarked: a bottle's label is no surer (common
practice, no source)."""


def miscounted(drops: float) -> Iterator[Caution]:
    """Where a recipe asks for more drops of one oil than anybody counts."""
    if drops > _COUNTED:
        text = tr(
            "Measure with: nobody counts {count} drops; a syringe or a scale measures as much.",
            count=f"{drops:.0f}",
        )
        yield Caution(text, stop=True)


def missed(
    asked: Inputs, dampers: str, made: float, wanted: float, doubt: float
) -> Iterator[Caution]:
    """Where the bottles give these dampers, at best, another oil than the one wanted: a stop, if
    it is another beyond the ± of what they give, `doubt`."""
    if abs(made / wanted - 1) <= _OFF:
        return
    text = tr(
        "{dampers}: your bottles do not give {wanted}; the nearest is {made}, {compared} that.",
        dampers=dampers,
        wanted=asked.say(wanted, "viscosity"),
        made=asked.say(made, "viscosity"),
        compared=compared(asked, made / wanted),
    )
    if abs(made - wanted) <= doubt:
        yield Caution(f"{text} {tr('The difference is within the ± of the bottle.')}")
    else:
        yield Caution(f"{text} {tr('Choose another oil, or enter another bottle.')}", stop=True)


def too_coarse(asked: Inputs, made: float, wanted: float) -> Iterator[Caution]:
    """Where the steps of the tool are too coarse for so little oil."""
    if abs(made / wanted - 1) > _OFF:
        text = tr(
            "Measured in such steps it becomes {made}, {compared} what you want: measure finer, or "
            "make more at once.",
            made=asked.say(made, "viscosity"),
            compared=compared(asked, made / wanted),
        )
        yield Caution(text, stop=True)
