"""Lines of the log in words: what was done or entered, what was carried out, what was undone."""

from collections.abc import Mapping, Sequence
from typing import Any

from calc import units
from calc.answering.hand import turn_words
from calc.forms.evening_oil.weights import EXAMPLE, example
from calc.forms.names import collar_label, corner_word, end_word
from calc.forms.turning import both_turned
from calc.kept.labels import label_of, readings_of, said
from calc.kept.log import CHECK, DONE, HOME, TURN, Entry, kind_label, moved
from calc.kept.seen import DID, MEASURED, Seen
from calc.language import abridged, tr
from calc.model.car import Bottle, Car, singles
from calc.model.corners import CORNERS, ENDS, End
from calc.model.origin import Origin

_LINE = ("weight_scale.slope", "weight_scale.offset")
"""From a weight number to cSt: both are noted together, and neither tells anything by itself."""
_NAMED = 3  # values of one entry that are named before the rest is counted


def what_words(entry: Entry, turns: float, bottles: Sequence[Bottle], system: str) -> str:
    """What was done or entered, `turns` in all where several lines are one; `bottles` as they were
    before it."""
    if entry.kind == CHECK:
        found = tr("mark found {turns}", turns=turn_words(turns))
        return found if moved(turns) else tr("mark still there")
    if entry.kind == TURN:
        return turn_words(turns) if moved(turns) else tr("there and back")
    kind = kind_label(entry.kind) if entry.damper is None else _damper(entry, entry.damper)
    values = _values(entry)
    usual = {path: one for path, one in values.items() if one[1].how == "assumed"}
    others = {path: one for path, one in values.items() if path not in usual}
    told = [
        (
            kind,
            [
                *_measured(entry, system),
                *_poured(entry, bottles, system),
                *_bottled(entry, system),
                *_listed(entry, system),
                *_changed(others, system),
            ],
        ),
        (tr("Assumed, as is usual"), _changed(usual, system)),
    ]
    lines = [
        tr("{what}: {values}", what=what, values=abridged(changed, _NAMED))
        for what, changed in told
        if changed
    ]
    return ". ".join(lines) or kind


def _damper(entry: Entry, seen: Seen) -> str:
    """What was done with a damper, and with which: "Built, A, front left"."""
    corner = [corner_word(one) for one in CORNERS if one == entry.corner]
    return ", ".join(filter(None, (tr(DID[seen.did]), seen.name, *corner)))


def _measured(entry: Entry, system: str) -> list[str]:
    """What a form has measured of a damper; the record of the damper tells what a build has."""
    seen = entry.damper
    return readings_of(seen, system) if seen is not None and seen.did == MEASURED else []


def _values(entry: Entry) -> Mapping[str, tuple[Any, Origin]]:
    """Those that were entered or assumed, or of the parts that were fitted, by path."""
    return {**entry.does.fitted, **entry.does.learned}


def _changed(values: Mapping[str, tuple[Any, Origin]], system: str) -> list[str]:
    line = _weight_line(values, system)
    told = [
        _one_changed(path, source, said(value, singles()[path], system, source))
        for path, (value, source) in values.items()
        if path in singles() and not (line and path in _LINE)
    ]
    return told + line


def _one_changed(path: str, source: Origin, value: str) -> str:
    """Of an oil that was mixed nobody has said that it is in the dampers already."""
    end, _, name = path.partition(".")
    if name == "oil" and source.how == "predicted":
        return tr("{end} oil {value}", end=end_word(End(end)), value=value)
    return f"{label_of(path)} {value}"


def _weight_line(values: Mapping[str, tuple[Any, Origin]], system: str) -> list[str]:
    """The line from a weight number to cSt by an example, where it gives that an oil."""
    if not values.keys() >= {*_LINE}:
        return []
    slope, offset = (values[path][0] for path in _LINE)
    grade = example(slope, offset)
    if grade <= 0:
        return []
    oil = units.show(grade, "viscosity", system)
    return [tr("“{weight} wt” is {oil} by your table", weight=f"{EXAMPLE:.0f}", oil=oil)]


def bottles_then(car: Car, entries: Sequence[Entry]) -> dict[str, Sequence[Bottle]]:
    """The bottles as they were before each entry, by its number."""
    bottles: Sequence[Bottle] = car.bottles
    found = {}
    for entry in reversed(entries):
        if "bottles" in entry.was:
            bottles = entry.was["bottles"][0]
        found[entry.id] = bottles
    return found


def _poured(entry: Entry, bottles: Sequence[Bottle], system: str) -> list[str]:
    """What was taken out of the bottles of then: "Both front dampers: 8.5 mL of 300 cSt with ...".
    Where it is not said for which dampers it was, and both ends were filled, it may be two oils, so
    nothing is said to be mixed with anything."""
    both = all(f"{end}.oil" in entry.does.fitted for end in ENDS)
    told = []
    for ends, rows in entry.does.poured.items():
        parts = _out_of(rows, bottles, system)
        if not ends and both and len(parts) > 1:
            told.append(tr("{oils} out of the bottles", oils=", ".join(parts)))
            continue
        *others, last = parts or [""]
        oils = tr("{oils} with {last}", oils=", ".join(others), last=last) if others else last
        if len(ends) == len(ENDS):
            oils = tr("All four dampers: {oils}", oils=oils)
        elif ends:
            oils = tr("Both {end} dampers: {oils}", end=end_word(ends[0]), oils=oils)
        told.append(oils)
    return told


def _out_of(rows: Mapping[int, float], bottles: Sequence[Bottle], system: str) -> list[str]:
    """Each oil with how much of it: "8.5 mL of 300 cSt"."""
    return [
        tr(
            "{volume} of {oil}",
            volume=units.show(volume, "volume", system, 1),
            oil=units.show(bottles[row - 1].viscosity, "viscosity", system),
        )
        for row, volume in rows.items()
        if row <= len(bottles)
    ]


def _bottled(entry: Entry, system: str) -> list[str]:
    """What was filled into bottles: "20.0 mL of 500 cSt bottled"."""
    return [
        tr(
            "{volume} of {oil} bottled",
            volume=units.show(one.at_most, "volume", system, 1),
            oil=units.show(one.viscosity, "viscosity", system),
        )
        for one in entry.does.bottled
    ]


def _listed(entry: Entry, system: str) -> list[str]:
    """What came into the list of springs: "spring 0.65 N/mm (two dots) in the list"."""
    return [
        tr(
            "spring {spring} in the list",
            spring=units.show(one.rate, "rate", system) + (f" ({one.name})" if one.name else ""),
        )
        for one in entry.does.listed
    ]


def done_words(entry: Entry, car: Car, entries: Sequence[Entry], system: str) -> str:
    """The instruction that was carried out: what was poured and fitted, which collars were turned;
    what was measured of a damper. `car` is as the newest of the entries has left it."""
    if entry.damper is not None:
        read = "; ".join(_measured(entry, system))
        return tr("{what}: {values}", what=_damper(entry, entry.damper), values=read) + "."
    parts = [*_poured(entry, bottles_then(car, entries)[entry.id], system)]
    parts += _bottled(entry, system)
    parts += _listed(entry, system)
    parts += _changed(_values(entry), system)
    for end in ENDS:
        turns = {corner: entry.does.turns.get(corner, 0.0) for corner in end.corners}
        (left, right) = turns.values()
        if left and left == right:
            parts.append(both_turned(end, left))
        else:
            parts += [f"{collar_label(c)}: {turn_words(n)}." for c, n in turns.items() if n]
    return "; ".join(part.rstrip(".") for part in parts) + "."


def undone_words(entry: Entry, car: Car, system: str) -> str:
    """What taking the newest entry back takes out of the log, and what is left to the hand; `car`
    is as the entry has left it."""
    if entry.kind in (TURN, DONE, HOME) and entry.does.turns:
        what = done_words(entry, car, [entry], system)
    else:
        what = f"{what_words(entry, entry.turns, bottles_then(car, [entry])[entry.id], system)}."
    told = tr("Undone: {what}", what=what)
    if not (entry.does.turns or entry.does.fitted):
        return told
    by_hand = tr("What is already turned or fitted on the car has to be put back by hand.")
    return f"{told} {by_hand}"
