"""The guides: Markdown in guides/, turned to HTML at build time, with drawings and field lists.

`![caption](drawing:NAME)` on a line of its own becomes the drawing. `{fields}` becomes the list
of everything the form of that name asks for, `{units}` the units that are understood: both are
declared elsewhere and must not be said twice. Every heading has an address. The words that
words.md explains lead there from where a guide uses them first.
"""

import re
from collections.abc import Iterator
from html import escape
from pathlib import Path

from markdown import markdown  # type: ignore[import-untyped]  # it ships no types

from calc import units
from calc.catalogue import BY_SLUG
from calc.entry import Choice, Number, Rows, Text
from calc.form import Form
from site_src import words
from site_src.drawing import draw

GUIDES = Path(__file__).parent / "guides"
_DRAWING = re.compile(r'<p><img alt="([^"]*)" src="drawing:([a-z-]+)" /></p>')


def slugs() -> tuple[str, ...]:
    """The guides: those of the forms first, in the order of the job, then the rest by name."""
    found = {path.stem for path in GUIDES.glob("*.md")}
    forms = [slug for slug in BY_SLUG if slug in found]
    return (*forms, *sorted(found.difference(forms)))


def title(slug: str) -> str:
    """The first heading of a guide."""
    return _text(slug).splitlines()[0].removeprefix("# ").strip()


def html(slug: str) -> str:
    """A guide as HTML. Raises KeyError for a drawing that does not exist."""
    made = words.with_addresses(markdown(_text(slug), extensions=["def_list"]))
    if slug == words.SLUG:
        made = words.list_of(made)
    else:
        made = words.linked(made, words.places(_text(words.SLUG)))
    made = _DRAWING.sub(_figure, made)
    if "<p>{fields}</p>" in made:
        made = made.replace("<p>{fields}</p>", _fields(BY_SLUG[slug]))
    return made.replace("<p>{units}</p>", _units())


def _text(slug: str) -> str:
    return (GUIDES / f"{slug}.md").read_text("utf-8")


def _figure(found: re.Match[str]) -> str:
    caption, name = found.groups()  # the caption comes out of Markdown already escaped
    return f'<figure class="drawing">{draw(name)}<figcaption>{caption}</figcaption></figure>'


def _asked(form: Form) -> Iterator[Choice | Number | Text]:
    for entry in form.fields:
        if isinstance(entry, Rows):
            yield from entry.columns
        else:
            yield entry


def _fields(form: Form) -> str:
    """What the form asks for, each once: label, how to measure it, what is usual."""
    lines = dict.fromkeys(
        f"<li><b>{escape(entry.label)}.</b> {escape(' '.join(_about(entry)))}</li>"
        for entry in _asked(form)
    )
    return f'<ul class="entries">{"".join(lines)}</ul>'


def _about(entry: Choice | Number | Text) -> Iterator[str]:
    if isinstance(entry, Choice):
        yield f"One of: {', '.join(text for _, text in entry.options)}."
    if entry.measure:
        yield entry.measure
    if isinstance(entry, Number):
        ranges = dict.fromkeys(entry.range_text(system, "usual") for system in units.SYSTEMS)
        yield f"Usual: {', or '.join(ranges)}."


def _units() -> str:
    """The units of each kind that has more than one name."""
    known = (
        (kind, [name for unit in each for name in (unit.symbol, *unit.also)])
        for kind, each in units.KINDS.items()
    )
    lines = (
        f"<li><b>{escape(kind.capitalize())}:</b> {escape(', '.join(names))}</li>"
        for kind, names in known
        if len(names) > 1
    )
    return f'<ul class="entries">{"".join(lines)}</ul>'
