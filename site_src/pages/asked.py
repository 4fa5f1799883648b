"""Everything that the page asks for, described once: how to measure it, its usual range, units and
steps. A field refers to the description, so that the page need not repeat it 400 times."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from calc import units
from calc.asking.entry import Choice, Entry, Number, Rows, Text
from calc.language import tr
from calc.model.car import Tools
from calc.replying.form import Form
from calc.replying.stepping import steps, units_of
from site_src.pages.drawings.shown import shown


@dataclass(frozen=True)
class Range:
    """The usual range of a number. `usual` is a sentence for each system of units, `low` the lower
    end in each, from which an empty field starts counting; all are empty for a text."""

    kind: str = ""
    usual: tuple[str, ...] = ()
    low: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    signed: bool = False


@dataclass(frozen=True)
class Asked:
    """One thing to enter: how to measure it, and the drawing that shows where."""

    range: Range
    measure: str
    drawing: str


def asked(form: str, entry: Number | Text) -> Asked:
    """The description that belongs to a field of a form, in the language spoken."""
    found = _range(entry) if isinstance(entry, Number) else Range()
    return Asked(found, entry.said_measure, shown(form, entry.name))


def _range(number: Number) -> Range:
    ranges = dict.fromkeys(number.range_text(system, "usual") for system in units.SYSTEMS)
    return Range(
        number.kind,
        tuple(tr("Usual: {range}.", range=text) for text in ranges),
        tuple(_low(number, system) for system in units.SYSTEMS),
        steps(number, Tools()),
        number.possible[0] < 0,
    )


def _low(number: Number, system: str) -> str:
    """For scripts: with a decimal point in every language."""
    value = units.unit_of(number.kind, system).from_si(number.usual[0])
    return f"{value:.6f}".rstrip("0").rstrip(".")


def everything(forms: Iterable[Form], more: Mapping[str, Iterable[Entry]]) -> dict[Asked, str]:
    """All descriptions for the forms and for `more` places, each with its id on the page."""
    found: dict[Asked, str] = {}
    for form, entry in _entries(forms, more):
        one = asked(form, entry)
        if one.measure or one.range.kind:
            found.setdefault(one, f"h{len(found)}")
    return found


def names(forms: Iterable[Form], more: Mapping[str, Iterable[Entry]]) -> dict[Asked, str]:
    """The labels of the fields that share each description, for the page where it stands apart from
    them."""
    found: dict[Asked, dict[str, None]] = {}
    for form, entry in _entries(forms, more):
        label = entry.parts[-1] if entry.parts else entry.label
        found.setdefault(asked(form, entry), {})[tr(label)] = None
    return {one: _in_short(tuple(labels)) for one, labels in found.items()}


def _in_short(labels: tuple[str, ...]) -> str:
    """At most three labels, without those that only add words in front of another."""
    lower = [label.lower() for label in labels]
    plain = [
        label for label in labels
        if not any(label.lower() != one and label.lower().endswith(one) for one in lower)
    ]  # fmt: skip
    return "; ".join(plain[:3]) + (" …" if len(plain) > 3 else "")


def _entries(
    forms: Iterable[Form], more: Mapping[str, Iterable[Entry]]
) -> Iterator[tuple[str, Number | Text]]:
    fields = {form.slug: tuple(form.fields) for form in forms}
    for slug, entries in {**fields, **more}.items():
        for entry in entries:
            for column in entry.columns if isinstance(entry, Rows) else (entry,):
                if not isinstance(column, Choice):
                    yield slug, column


def by_range(found: Mapping[Asked, str]) -> dict[Range, list[tuple[str, Asked]]]:
    """The entries that are asked for, grouped by usual range."""
    groups: dict[Range, list[tuple[str, Asked]]] = {}
    for one, id_ in found.items():
        groups.setdefault(one.range, []).append((id_, one))
    return groups


def kinds(found: Iterable[Asked]) -> str:
    """The units of each kind with all their names, for scripts: "length:1:mm|in,inch|cm|m;...". The
    number is the index of the unit in the imperial system."""
    return ";".join(
        f"{kind}:{units.KINDS[kind].index(units.unit_of(kind, units.IMPERIAL))}:"
        + "|".join(",".join(dict.fromkeys(units.names(unit))) for unit in units_of(kind))
        for kind in sorted({one.range.kind for one in found if one.range.kind})
    )
