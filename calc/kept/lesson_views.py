"""What gauge and scales have taught, in words: beside what was predicted what was measured, and the
values that would explain it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calc import units
from calc.answering.uncertainty import COVERAGE
from calc.asking import record
from calc.forms.names import corner_word, end_label
from calc.kept.lessons import Lesson, Offer, Teaches, Weighed, lessons, weighed
from calc.kept.log import Entry
from calc.language import later, tr
from calc.model.car import Car, number_at
from calc.model.corners import End

_USE: Mapping[Teaches, str] = {
    "motion_ratio": later("Use that ratio"),
    "pitch": later("Use that pitch"),
    "spring_rate": later("Use that rate"),
    "friction": later("Use that friction"),
}
_PER_TURN: Mapping[Teaches, str] = {
    "motion_ratio": later(
        "Your car moves {rise} ± {doubt} for each turn: a motion ratio of {value} ± {width} would "
        "give that. {now} was only assumed."
    ),
    "pitch": later(
        "Your car moves {rise} ± {doubt} for each turn: a thread pitch of {value} ± {width} would "
        "give that. {now} was only assumed."
    ),
}
"""Of a value in place of one that was only assumed."""
_EXPLAINS: Mapping[Teaches, str] = {
    "motion_ratio": later(
        "A motion ratio of {value} ± {width} instead of {now} would explain all {count} "
        "measurements best."
    ),
    "spring_rate": later(
        "A spring rate of {value} ± {width} instead of {now} would explain where the car settled "
        "on the spring that was fitted."
    ),
    "friction": later(
        "The {count} heights scatter by more than the gauge does: friction that lets the car come "
        "to rest within {value} ± {width} would explain it, not within {now}."
    ),
}
_RATIO_ONCE = later("A motion ratio of {value} ± {width} instead of {now} would explain it.")


@dataclass(frozen=True)
class LessonView:
    """What the gauge has shown at an end, and the values that it offers; none where those of the
    record explain it as well. What the scales have shown is of no end and offers none. `paths` are
    the values of the record that it is about."""

    says: str
    is_off: bool
    paths: frozenset[str]
    end: str = ""
    offers: tuple["OfferView", ...] = ()


@dataclass(frozen=True)
class OfferView:
    """A value that would explain it, as a sentence and as its button; the value in SI for that."""

    name: str
    says: str
    use: str
    value: float
    u: float


def lesson_views(car: Car, entries: Sequence[Entry], system: str) -> tuple[LessonView, ...]:
    """What the entries of a car's log teach, oldest first, in words."""
    of_heights = (_lesson(car, one, system) for one in lessons(car, entries))
    of_loads = weighed(car, entries)
    return (*of_heights, *((_of_scales(of_loads, system),) if of_loads else ()))


def _of_scales(found: Sequence[Weighed], system: str) -> LessonView:
    corners = []
    for one in found:
        predicted, width = _with_doubt(one.predicted, one.u_predicted, "mass", system)
        corners.append(
            tr(
                "{corner} {predicted} ± {width} predicted, {measured} measured",
                corner=corner_word(one.corner),
                predicted=predicted,
                width=width,
                measured=units.show(one.measured, "mass", system),
            )
        )
    says = tr("On the scales: {corners}.", corners="; ".join(corners))
    is_off = any(one.is_off for one in found)
    if is_off:
        says += " " + tr(
            "That is more than the ± of both and friction: bounce the car and weigh it again, see "
            "that the scales stand level, that each collar is where the log has it, and that "
            "nothing was put in or taken out."
        )
    return LessonView(says, is_off, frozenset(f"corners.{one.corner}.load" for one in found))


def _lesson(car: Car, lesson: Lesson, system: str) -> LessonView:
    last = lesson.last
    predicted, width = _with_doubt(last.height, last.u_height, "length", system)
    says = tr(
        "{end}: {predicted} ± {width} of ride height was predicted, {measured} measured.",
        end=end_label(lesson.end),
        predicted=predicted,
        width=width,
        measured=units.show(last.height - last.predicted + last.measured, "length", system),
    )
    if last.is_off:
        says += " " + tr(
            "That is more than the ± of both: bounce the car and measure again, see that each "
            "collar is where the log has it, and that preload and rate are right."
        )
    offers = tuple(_offer(car, lesson.end, one, system) for one in lesson.offers)
    paths = frozenset({f"{lesson.end}.ride_height"})
    return LessonView(says, last.is_off, paths, lesson.end, offers)


def _offer(car: Car, end: End, offer: Offer, system: str) -> OfferView:
    path = f"{end}.{offer.name}"
    kind = number_at(path).kind
    value, width = _with_doubt(offer.value, offer.u, kind, system)
    now = units.show(record.get(car, path), kind, system)
    if offer.per_turn is not None:
        rise, doubt = _with_doubt(*offer.per_turn, "length", system)
        text = _PER_TURN[offer.name]
        says = tr(text, rise=rise, doubt=doubt, value=value, width=width, now=now)
    else:
        once = offer.name == "motion_ratio" and offer.count == 1
        text = _RATIO_ONCE if once else _EXPLAINS[offer.name]
        says = tr(text, value=value, width=width, now=now, count=offer.count)
    return OfferView(offer.name, says, tr(_USE[offer.name]), offer.value, offer.u)


def _with_doubt(value: float, u: float, kind: str, system: str) -> tuple[str, str]:
    """A value and its ± (k = 2), to as many decimals as its standard uncertainty leaves."""
    places = units.decimals_for(u, kind, system)
    return (
        units.number_text(value, kind, system, places),
        units.show(COVERAGE * u, kind, system, places),
    )
