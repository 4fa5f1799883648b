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
from calc.asking.entry import Choice, Number, Rows, Text
from calc.forms.catalogue import BY_SLUG
from calc.language import ENGLISH, later, speaking, spoken, tr
from calc.replying.form import Form
from site_src.pages import words
from site_src.pages.drawing import draw

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


def language(slug: str) -> str:
    """The language in which there is a guide: the one spoken, else English."""
    return spoken().code if _path(slug, spoken().code).exists() else ENGLISH


def html(slug: str) -> str:
    """A guide as HTML. Raises KeyError for a drawing that does not exist."""
    with speaking(language(slug)):
        return _html(slug)


def _html(slug: str) -> str:
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
    return _path(slug, language(slug)).read_text("utf-8")


def _path(slug: str, code: str) -> Path:
    folder = GUIDES if code == ENGLISH else GUIDES / code
    return folder / f"{slug}.md"


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
        f"<li><b>{escape(entry.said)}.</b> {escape(' '.join(_about(entry)))}</li>"
        for entry in _asked(form)
    )
    return f'<ul class="entries">{"".join(lines)}</ul>'


def _about(entry: Choice | Number | Text) -> Iterator[str]:
    if isinstance(entry, Choice):
        options = ", ".join(text for _, text in entry.said_options)
        yield tr("One of: {options}.", options=options)
    if entry.measure:
        yield entry.said_measure
    if isinstance(entry, Number):
        ranges = dict.fromkeys(entry.range_text(system, "usual") for system in units.SYSTEMS)
        yield tr("Usual: {range}.", range=tr(", or ").join(ranges))


_KINDS = {
    "length": later("Length"),
    "mass": later("Mass"),
    "force": later("Force"),
    "rate": later("Rate"),
    "viscosity": later("Viscosity"),
    "dynamic": later("Dynamic"),
    "temperature": later("Temperature"),
    "volume": later("Volume"),
    "turns": later("Turns"),
    "time": later("Time"),
    "wait": later("Wait"),
    "pressure": later("Pressure"),
    "speed": later("Speed"),
    "damping": later("Damping"),
    "angle": later("Angle"),
    "density": later("Density"),
    "modulus": later("Modulus"),
}


def _units() -> str:
    """The units of each kind that has more than one name."""
    known = ((kind, names) for kind, names in _named() if len(names) > 1)
    lines = (
        f"<li><b>{escape(tr(_KINDS[kind]))}:</b> {escape(', '.join(names))}</li>"
        for kind, names in known
    )
    return f'<ul class="entries">{"".join(lines)}</ul>'


def _named() -> Iterator[tuple[str, list[str]]]:
    for kind, each in units.KINDS.items():
        yield kind, list(dict.fromkeys(name for unit in each for name in units.names(unit)))
