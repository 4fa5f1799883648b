"""What is asked anywhere on the page, each thing said once: how it is measured, what is usual, its
units and steps. A field points at it, so that the page need not repeat it 400 times."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from calc import units
from calc.car import Tools
from calc.entry import Choice, Entry, Number, Rows, Text
from calc.form import Form
from calc.language import tr
from calc.stepping import steps, units_of
from site_src.drawings.shown import shown


@dataclass(frozen=True)
class Asked:
    """One thing that is asked. `usual` is a sentence for each system of units, `low` the usual
    low end in each, where an empty field begins; empty for what is no number."""

    measure: str
    kind: str = ""
    usual: tuple[str, ...] = ()
    low: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    signed: bool = False
    drawing: str = ""


def asked(form: str, entry: Number | Text) -> Asked:
    """What a field of a form asks, in the language spoken."""
    drawing = shown(form, entry.name)
    if isinstance(entry, Text):
        return Asked(entry.said_measure, drawing=drawing)
    ranges = dict.fromkeys(entry.range_text(system, "usual") for system in units.SYSTEMS)
    return Asked(
        entry.said_measure,
        entry.kind,
        tuple(tr("Usual: {range}.", range=text) for text in ranges),
        tuple(_low(entry, system) for system in units.SYSTEMS),
        steps(entry, Tools()),
        entry.possible[0] < 0,
        drawing,
    )


def _low(number: Number, system: str) -> str:
    """For scripts: with a point, whatever the language."""
    value = units.unit_of(number.kind, system).from_si(number.usual[0])
    return f"{value:.6f}".rstrip("0").rstrip(".")


def everything(forms: Iterable[Form], more: Mapping[str, Iterable[Entry]]) -> dict[Asked, str]:
    """All that is asked in the forms and in `more` places, each with the id it has on the page."""
    found: dict[Asked, str] = {}
    for form, entry in _entries(forms, more):
        one = asked(form, entry)
        if one.measure or one.kind:
            found.setdefault(one, f"h{len(found)}")
    return found


def _entries(
    forms: Iterable[Form], more: Mapping[str, Iterable[Entry]]
) -> Iterator[tuple[str, Number | Text]]:
    fields = {form.slug: tuple(form.fields) for form in forms}
    for slug, entries in {**fields, **more}.items():
        for entry in entries:
            for column in entry.columns if isinstance(entry, Rows) else (entry,):
                if not isinstance(column, Choice):
                    yield slug, column


def kinds(found: Iterable[Asked]) -> str:
    """The units of each kind and all their names, for scripts: "length:1:mm|in,inch|cm|m;...". The
    number says which of them is shown with inches."""
    return ";".join(
        f"{kind}:{units.KINDS[kind].index(units.unit_of(kind, units.IMPERIAL))}:"
        + "|".join(",".join(dict.fromkeys(units.names(unit))) for unit in units_of(kind))
        for kind in sorted({one.kind for one in found if one.kind})
    )
