"""What an answer rests on: which of its values were measured, assumed, predicted; and how a value
says where it comes from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from calc.answering.uncertainty import COVERAGE
from calc.asking import record
from calc.asking.entry import Number
from calc.language import abridged, later, tr
from calc.model.following import is_gauged
from calc.model.origin import How, Origin, usual_value
from calc.replying.form import Form, Reply
from calc.replying.learned import can_be_assumed
from calc.units import decimals_for, gap, spelt, spoken_symbol, unit_of

_WORDS: Mapping[How, str] = {
    "measured": later("measured"),
    "label": later("from the label"),
    "assumed": later("assumed"),
    "predicted": later("predicted, not measured since"),
    "noted": later("kept, origin not noted"),
    "stale": later("measured before the work"),
}
_COUNTS: Mapping[How, str] = {
    "assumed": later("{count} assumed ({entries})"),
    "predicted": later("{count} predicted, not measured since ({entries})"),
    "noted": later("{count} of an origin not noted ({entries})"),
}
_SHORT: Mapping[How, str] = {
    "assumed": later("{count} assumed"),
    "predicted": later("{count} predicted"),
    "noted": later("{count} of an origin not noted"),
}
_NAMED = 4  # entries that are named before the rest is counted
_NEEDED = 8  # the same of those that only the owner can tell


@dataclass(frozen=True)
class Resting:
    """`known` values are typed, measured or read off a label; the others by how they came, each a
    field and its label; `first` is the field to look at first, one of those others where there
    is one; empty where the car gives no value."""

    known: int
    others: Mapping[How, tuple[tuple[str, str], ...]]
    demo: bool
    first: str

    @property
    def short(self) -> str:
        """In a few words: "Rests on 9 known values, 2 assumed"."""
        if self.demo:
            return tr("Demo car: invented numbers.")
        shown = [says for says, _ in self.listed]
        return tr("Rests on {parts}.", parts=", ".join([_known(self.known), *shown]))

    @property
    def listed(self) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
        """The others: how many came in a way, in words, and which."""
        return tuple(
            (tr(_SHORT[how], count=len(fields)), fields) for how, fields in self.others.items()
        )

    @property
    def said(self) -> str:
        """In one line: "Rests on 9 known values, 2 assumed (pitch, motion ratio)." """
        if self.demo:
            return tr("This is the demo car: its numbers are invented, none is yours.")
        found = [
            tr(_COUNTS[how], count=len(fields), entries="; ".join(label for _, label in fields))
            for how, fields in self.others.items()
        ]
        return tr("Rests on {parts}.", parts=", ".join([_known(self.known), *found]))


def _known(count: int) -> str:
    return tr("1 known value") if count == 1 else tr("{count} known values", count=count)


@dataclass(frozen=True)
class OfRecord:
    """`known` of `total` values of the car, its lists and its name apart."""

    known: int
    total: int

    @property
    def said(self) -> str:
        return tr("{known} of {total} known", known=self.known, total=self.total)


def of_record(form: Form, reply: Reply) -> OfRecord:
    """How much of the car is known, from a reply of the form that is the record itself."""
    cells = form.by_name
    single = {one for one in reply.asked if one != "name" and not record.in_list(cells[one].car)}
    not_known = {*reply.assumed, *reply.open, *reply.problems}
    return OfRecord(len(single - not_known), len(single))


def counted(form: Form, reply: Reply) -> str:
    """What the car gives a form, in the fewest words: "9 known, 2 assumed, 1 missing"."""
    rests = resting(form, reply)
    if rests.demo:
        return tr("invented numbers")
    missing, lacking = len(reply.open), len({*reply.open} & {*reply.asked})
    typed = len(reply.keepable)
    parts = [
        tr("{count} known", count=rests.known - lacking),
        *(says for says, _ in rests.listed),
        *([tr("{count} missing", count=missing)] if missing else []),
        *([tr("{count} changed here", count=typed)] if typed else []),
    ]
    return ", ".join(parts)


def resting(form: Form, reply: Reply) -> Resting:
    """What the answer of a form rests on."""
    others: dict[How, tuple[tuple[str, str], ...]] = {}
    for how in _COUNTS:
        found = tuple(
            (name, form.by_name[name].said) for name, one in reply.sources.items() if one.how == how
        )
        if found:
            others[how] = found
    asked = len(reply.asked)
    given = [name for name in reply.asked if name in reply.sources]
    ordered = sorted(given, key=lambda name: reply.sources[name].how not in _COUNTS)
    first = next(iter(ordered), "")
    return Resting(asked - sum(map(len, others.values())), others, reply.demo, first)


def origin_words(source: Origin, entry: Number | None, system: str) -> str:
    """How a value came to stand in the record: "assumed, ± 0.3 mm". What no tool reads and no label
    tells was not measured: a height that is wanted, a name. A ± that would reach below nothing is
    told as the range that is usual."""
    is_read = entry is not None and entry.is_measured
    word = tr("entered") if source.how == "measured" and not is_read else tr(_WORDS[source.how])
    if source.u is None or entry is None:
        return word
    if (
        source.how == "assumed"
        and entry.usual[0] >= 0.0
        and usual_value(entry) < COVERAGE * source.u
    ):
        return tr("{origin}, usual {range}", origin=word, range=entry.range_text(system, "usual"))
    unit = unit_of(entry.kind, system)
    wide = float(f"{COVERAGE * source.u / unit.factor:.2g}")  # two digits: JCGM 100:2008, 7.2.6
    places = decimals_for(source.u, entry.kind, system)
    width = spelt(f"{wide:.{places}f}") + gap(unit) + spoken_symbol(unit)
    return tr("{origin}, ± {width}", origin=word, width=width)


def said_origins(form: Form, reply: Reply, system: str) -> Iterator[tuple[str, str]]:
    """(field, where the value in it comes from), for every value that nobody has typed here, and
    for what was there before work. What the form itself begins with is no value of one's own car
    either."""
    for name, source in reply.sources.items():
        cell = form.by_name[name]
        yield name, origin_words(source, cell if isinstance(cell, Number) else None, system)
    for name in reply.stale:
        yield name, _before(reply, name)
    for name in reply.filled.keys() - reply.sources.keys():
        cell = form.by_name[name]
        if isinstance(cell, Number) and cell.start is not None and not (cell.car or reply.demo):
            yield name, tr("to start with")


@dataclass(frozen=True)
class Missing:
    """A field that is needed and known to nobody, and what is usual there; whether that can be
    assumed, is `asked_for` by name, or has to be `measured` on the car; what a gauge showed there
    `before` work that has changed it."""

    name: str
    label: str
    usual: str
    can_be_assumed: bool
    asked_for: bool
    measured: bool
    before: str


def not_known(form: Form, reply: Reply, system: str) -> tuple[Missing, ...]:
    """What keeps a form from an answer though nothing is wrong."""
    return tuple(
        Missing(
            name, cell.said, cell.range_text(system, "usual"), can_be_assumed(cell),
            cell.asked_for, cell.is_measured, _before(reply, name),
        )
        for name in reply.open
        if isinstance(cell := form.by_name[name], Number)
    )  # fmt: skip


def _before(reply: Reply, name: str) -> str:
    """What a gauge showed at a field before work that has changed it, in words."""
    value = reply.stale.get(name)
    return tr("{value} before the work", value=value) if value else ""


def still_missing(lacking: Sequence[Missing]) -> str:
    """What keeps a form from an answer, in one sentence: by name, once only its owner can tell."""
    own = [one.label for one in lacking if not one.can_be_assumed]
    names = abridged(own, _NEEDED)
    if lacking and len(own) == len(lacking):
        if all(one.before for one in lacking):
            return tr("Measure again: {entries}.", entries=names)
        if all(one.asked_for and one.measured for one in lacking):
            return tr("Measure on the car: {entries}.", entries=names)
        return tr("Still missing: {entries}.", entries=names)
    if 0 < len(lacking) <= _NAMED:
        return tr("Still missing: {entries}.", entries="; ".join(one.label for one in lacking))
    if own:
        return tr(
            "Still missing: {count} values. To be typed in any case: {entries}.",
            count=len(lacking),
            entries=names,
        )
    return tr("Still missing: {count} values.", count=len(lacking))


def to_measure(form: Form, reply: Reply) -> tuple[tuple[str, str], ...]:
    """(field, its label) of what this form's own work has changed on the standing car, and nobody
    has measured since; of what is stale by any work."""
    predicted = [
        name
        for name, source in reply.sources.items()
        if source.how == "predicted" and source.of == form.slug
        if is_gauged(form.by_name[name].car)
    ]
    return tuple((name, form.by_name[name].said) for name in (*predicted, *reply.stale))
