"""The car page in chapters: what is known of each, and which questions wait for it."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.asking.entry import path_of
from calc.forms.catalogue import FORMS
from calc.language import abridged, later, tr
from calc.model.car import Car, is_sure, singles
from calc.replying.form import Form
from calc.replying.reading import read
from calc.replying.resting import OfRecord

RECORD = "car"
"""The form that is the record itself."""

_TITLES: Mapping[str, str] = {
    "car": later("The car as a whole"),
    "end": later("Ends of the car"),
    "inside": later("Inside the dampers"),
    "arm": later("Arms and holes"),
    "damper": later("Dampers, one by one"),
    "corner": later("Corners"),
    "bottles": later("Bottles owned"),
    "springs": later("Springs owned"),
    "tools": later("Tools"),
}
_OF_FIELD = {"tools": "tools", "weight_scale": "tools", "body": "car", "rod_end": "car"}
_NOT_ASKED = "weight_scale."  # on the car page: it comes from two lines, on another page
_OF_DAMPER = frozenset({"stroke", "engaged", "damper_length"})
"""Values of a corner that are of its damper, whichever corner that is at."""
_NAMED = 3  # questions that are named before the rest is counted


def chapter_of_field(name: str) -> str:
    """The chapter of a field of the car page: "end" for "end.front.pitch"."""
    head = name.partition(".")[0]
    return _OF_FIELD.get(head, head if head in _TITLES else "car")


def chapter_of(path: str) -> str:
    """The chapter of a value of the record: "inside" for "front.inside.clearance"."""
    head, _, rest = path.partition(".")
    if head in ("front", "rear"):
        part = rest.partition(".")[0]
        return part if part in ("inside", "arm") else "end"
    return chapter_at_corner(path) if head == "corners" else chapter_of_field(path)


def chapter_at_corner(path: str) -> str:
    """The chapter of a value of a corner, or of its column: "damper" for "stroke"."""
    return "damper" if path.rpartition(".")[2] in _OF_DAMPER else "corner"


def title_of(chapter: str) -> str:
    return tr(_TITLES[chapter])


@dataclass(frozen=True)
class Chapter:
    """`known` of `total` values; `waiting` are the titles of the forms that lack one of them."""

    key: str
    known: int
    total: int
    waiting: tuple[str, ...]

    @property
    def said(self) -> str:
        """In a few words: "12 of 44 known; Collar turns and 2 more wait for it"."""
        if not self.total:
            return ""
        known = OfRecord(self.known, self.total).said
        if not self.waiting:
            return known
        titles = abridged(self.waiting, _NAMED)
        return tr("{known}; waiting for it: {titles}", known=known, titles=titles)


def chapters(car: Car) -> tuple[Chapter, ...]:
    """All chapters of the car page, in its order."""
    waiting: dict[str, list[str]] = {key: [] for key in _TITLES}
    for form in FORMS:
        if form.slug != RECORD:
            for key in {chapter_of(path) for path in missing(form, car)}:
                waiting[key].append(form.said_title)
    paths: dict[str, list[str]] = {key: [] for key in _TITLES}
    for path in singles():
        if not path.startswith(_NOT_ASKED):
            paths[chapter_of(path)].append(path)
    return tuple(
        Chapter(key, sum(is_sure(car, p) for p in paths[key]), len(paths[key]), tuple(titles))
        for key, titles in waiting.items()
    )


def missing(form: Form, car: Car) -> tuple[str, ...]:
    """Paths of what a form needs from the car as it opens, and nobody knows."""
    asked, reply = read(form, {}, car)
    paths = (path_of(form.by_name[name], asked.choices) for name in reply.open)
    return tuple(filter(None, paths))
