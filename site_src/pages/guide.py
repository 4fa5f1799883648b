"""The guides: Markdown in guides/, turned to HTML at build time, with drawings and field lists.

`![caption](drawing:NAME)` on a line of its own becomes the drawing. `{fields}` becomes the list
of all fields of the form of that name, `{units}` the units that are understood: both are declared
elsewhere and must not be repeated. Every heading has an address. The first use of each word that
words.py explains is a link to it. Links to other guides stay in the language of the page.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path
from xml.etree.ElementTree import Element, SubElement

from markdown import Markdown  # type: ignore[import-untyped]  # it ships no types
from markdown.extensions import Extension  # type: ignore[import-untyped]
from markdown.treeprocessors import Treeprocessor  # type: ignore[import-untyped]

from calc import units
from calc.asking.entry import Choice, Number, Rows, Text
from calc.forms.catalogue import BY_SLUG
from calc.language import ENGLISH, later, speaking, spoken, tr
from calc.replying.form import Form
from site_src.pages import words
from site_src.pages.drawing import draw
from site_src.pages.languages import path_in

GUIDES = Path(__file__).parent / "guides"
_DRAWING = "drawing:"
# After all steps of Markdown itself; the last has the priority 0.
_LAST = -10


def slugs() -> tuple[str, ...]:
    """All guides: first those of the forms in the order of the job, then the rest by name."""
    found = {path.stem for path in GUIDES.glob("*.md")}
    forms = [slug for slug in BY_SLUG if slug in found]
    return (*forms, *sorted(found.difference(forms)))


def title(slug: str) -> str:
    """The first heading of a guide."""
    return _text(slug).splitlines()[0].removeprefix("# ").strip()


def language(slug: str) -> str:
    """The language of the text of a guide: the one spoken if it is translated, else English."""
    return spoken().code if _path(slug, spoken().code).exists() else ENGLISH


def html(slug: str) -> str:
    """A guide as HTML. Raises KeyError for a drawing that does not exist."""
    code = spoken().code
    with speaking(language(slug)):
        made: str = Markdown(extensions=["def_list", _Guide(slug, code)]).convert(_text(slug))
        return made


class _Guide(Extension):  # type: ignore[misc]
    """The additions to Markdown for one guide on a page in a language."""

    def __init__(self, slug: str, code: str) -> None:
        super().__init__()
        self._slug, self._code = slug, code

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 - the name that Markdown calls
        md.treeprocessors.register(_Finish(md, self._slug, self._code), "guide", _LAST)


class _Finish(Treeprocessor):  # type: ignore[misc]
    """Works on the tree of a guide after Markdown has built it."""

    def __init__(self, md: Markdown, slug: str, code: str) -> None:
        super().__init__(md)
        self._slug, self._code = slug, code

    def run(self, root: Element) -> None:
        words.address_headings(root)
        if self._slug == words.SLUG:
            words.address_entries(root)
        else:
            words.link(root, words.places(_text(words.SLUG)))
        for link in root.iter("a"):
            link.set("href", _in_language(link.get("href", ""), self._code))
        for parent in list(root.iter()):
            parent[:] = [self._replacement(child) for child in parent]

    def _replacement(self, element: Element) -> Element:
        """The drawing or list that a paragraph stands for; any other element unchanged."""
        if element.tag != "p":
            return element
        children = list(element)
        if not children and element.text == "{fields}":
            new = _list(_fields(BY_SLUG[self._slug]))
        elif not children and element.text == "{units}":
            new = _list(_units())
        elif len(children) == 1 and children[0].get("src", "").startswith(_DRAWING):
            new = self._figure(children[0])
        else:
            return element
        new.tail = element.tail
        return new

    def _figure(self, image: Element) -> Element:
        svg = draw(image.get("src", "").removeprefix(_DRAWING)).svg
        figure = Element("figure", {"class": "drawing"})
        figure.text = self.md.htmlStash.store(svg)  # put in unchanged at the end
        SubElement(figure, "figcaption").text = image.get("alt")
        return figure


def _in_language(href: str, code: str) -> str:
    """A link to another guide, leading to the page in that language; any other link unchanged."""
    page, hash_, place = href.partition("#")
    if ":" in page or not page.endswith(".html"):
        return href
    return f"{path_in(page, code)}{hash_}{place}"


def _list(entries: Iterable[tuple[str, str]]) -> Element:
    """A list of entries, each a bold heading and a text; duplicates are left out."""
    made = Element("ul", {"class": "entries"})
    for head, text in dict.fromkeys(entries):
        bold = SubElement(SubElement(made, "li"), "b")
        bold.text, bold.tail = head, f" {text}"
    return made


def _text(slug: str) -> str:
    code = language(slug)
    text = _path(slug, code).read_text("utf-8")
    return text.replace("{words}", words.written(code)) if slug == words.SLUG else text


def _path(slug: str, code: str) -> Path:
    folder = GUIDES if code == ENGLISH else GUIDES / code
    return folder / f"{slug}.md"


def _asked(form: Form) -> Iterator[Choice | Number | Text]:
    for entry in form.fields:
        if isinstance(entry, Rows):
            yield from entry.columns
        else:
            yield entry


def _fields(form: Form) -> Iterator[tuple[str, str]]:
    """Label of each field of the form; how to measure it, and its usual range."""
    for entry in _asked(form):
        label = entry.said if entry.said.endswith("?") else f"{entry.said}."
        yield label, " ".join(_about(entry))


def _about(entry: Choice | Number | Text) -> Iterator[str]:
    if isinstance(entry, Choice):
        options = "; ".join(text for _, text in entry.said_options)
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


def _units() -> Iterator[tuple[str, str]]:
    """The units of each kind that has more than one name."""
    for kind, names in _named():
        if len(names) > 1:
            yield f"{tr(_KINDS[kind])}:", ", ".join(names)


def _named() -> Iterator[tuple[str, list[str]]]:
    for kind, each in units.KINDS.items():
        yield kind, list(dict.fromkeys(name for unit in each for name in units.names(unit)))
