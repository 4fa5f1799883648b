"""Replies to what the page asks about texts in fields: the next unit, the other system of units."""

from collections.abc import Mapping
from typing import Any

from calc.asking.entry import Number
from calc.asking.next_unit import in_next_unit
from calc.asking.typed import convert_text
from calc.forms.catalogue import BY_SLUG
from calc.kept.build.build import SLUG as BUILD
from calc.kept.build.build import numbers
from site_src.live.forms import form_at
from site_src.live.questions import ConvertAsked, Converted, PlainText, UnitAsked


def unit(asked: UnitAsked) -> PlainText:
    """What was typed in a field, in the next unit."""
    cell = form_at(asked.form).by_name.get(asked.name)
    if not isinstance(cell, Number):
        return PlainText(text=asked.text)
    own = asked.at_work.own_units(cell.kind)
    text = in_next_unit(asked.text, cell.kind, asked.system, own, asked.first)
    return PlainText(text=text)


def convert(asked: ConvertAsked) -> Converted:
    """What was typed without a unit, in the units of the system that is chosen now. The page keeps
    texts of what is no form as well; those stay as they are there."""
    typed = {
        slug: _converted(BY_SLUG[slug].by_name, texts, asked.before, asked.system)
        for slug, texts in asked.all.items()
        if slug in BY_SLUG
    }
    if BUILD in asked.all:
        texts = asked.all[BUILD]
        cells = numbers(texts)
        typed[BUILD] = _converted(cells, texts, asked.before, asked.system)
    return Converted(typed=typed)


def _converted(
    cells: Mapping[str, Any], texts: Mapping[str, str], before: str, after: str
) -> dict[str, str]:
    return {
        name: convert_text(text, cell.kind, before, after)
        if isinstance(cell := cells.get(name), Number)
        else text
        for name, text in texts.items()
    }
