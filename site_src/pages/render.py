"""The pages of the site, made at build time with true answers for the demo car."""

from dataclasses import replace
from typing import Any

from markupsafe import Markup

from calc import units
from calc.asking.entry import Choice, Entry, Number, Rows, Text, shown
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.forms.names import corner_label, corner_word
from calc.forms.recorded import FOLDED
from calc.kept.chapters import RECORD, chapter_at_corner, chapter_of_field, title_of
from calc.kept.setups import SAVE
from calc.language import NAMES, later, speaking, spoken, tr
from calc.model.car import demo
from calc.model.corners import CORNERS
from calc.replying.form import Form
from calc.replying.reading import run
from calc.replying.resting import counted
from site_src.both import build_list, garage
from site_src.both.fragment import answer_html
from site_src.pages import front, guide, languages, pictured, ready, script_texts
from site_src.pages.asked import asked, by_range, everything, kinds, names
from site_src.pages.environment import ENVIRONMENT
from site_src.pages.indent import without_indent
from site_src.pages.info import BuildInfo

MOMENTS = (
    ("bench", later("On the bench")),
    ("car", later("Springs and height")),
    ("track", later("At the track")),
    ("cars", later("Cars")),
    ("paper", later("On paper, and help")),
)
_FINER = "finer"
_CORNER, _DAMPERS = "corner", later("Dampers")
# Pages that are neither a form nor kept by the garage.
OTHERS = (
    garage.Place(
        "sheet", later("Cheat sheet"), "paper", later("One page for the lid of the toolbox.")
    ),
    garage.Place(
        "help", later("Help"), "paper", later("How to measure, how to read an answer, cautions.")
    ),
)


def pages(build: BuildInfo) -> dict[str, bytes]:
    """Path in the site -> content, for every page in every language."""
    found: dict[str, bytes] = {}
    for code in NAMES:
        with speaking(code):
            found |= _pages(build)
    return found


def _pages(build: BuildInfo) -> dict[str, bytes]:
    """Every page in the language spoken."""
    made = tr("Version {version} of {date}.", version=build.version, date=build.date)
    index, pictures = _index(build, made)
    pages = {"index.html": index, "licences.html": _licences(build)}
    pages |= ready.pages(build, made)
    for slug in guide.slugs():
        pages[f"guides/{slug}.html"] = _guide(build, slug)
    texts = {
        languages.own_path(path): without_indent(text).encode() for path, text in pages.items()
    }
    return {**texts, **pictured.files(pictures)}


def _index(build: BuildInfo, made: str) -> tuple[str, list[pictured.PictureFile]]:
    """The page of all forms, and the picture files that it refers to."""
    views = [_view(form) for form in FORMS]
    more = {"setups": SAVE.fields}
    everything_asked = everything(FORMS, more)
    drawings = pictured.drawings(one.drawing for one in everything_asked)
    page = ENVIRONMENT.get_template("index.html").render(
        build=build,
        made=made,
        forms=views,
        guides=(
            (tr("Good to know"), [slug for slug in guide.slugs() if slug not in BY_SLUG]),
            (tr("Form by form"), [slug for slug in guide.slugs() if slug in BY_SLUG]),
        ),
        guide_title=guide.title,
        moments=[(moment, tr(title)) for moment, title in MOMENTS],
        menus=menus(),
        questions=front.questions(),
        asked_at=front.asked_at,
        front_picture=front.picture(),
        doors={moment: _doors(moment) for moment, _ in MOMENTS},
        symbol=units.symbol_text,
        corners=[(corner, corner_label(corner), corner_word(corner)) for corner in CORNERS],
        shown=shown,
        starts={view["form"].slug: view["filled"] for view in views},
        asked=by_range(everything_asked),
        asked_by=names(FORMS, more),
        how_id=lambda slug, entry: everything_asked.get(asked(slug, entry), ""),
        kinds=kinds(everything_asked),
        folded=FOLDED,
        drawings=drawings,
        script_words=script_texts.of_scripts(),
        decimal=spoken().decimal,
        **languages.here("index.html"),
        **garage.at_build(),
        build_list=build_list.at_build(),
        **ready.choices(),
    )
    return page, [*drawings, *(picture for view in views for picture in view["pictures"])]


def menus() -> list[tuple[str, list[tuple[str, str]]]]:
    """The bar within reach of the thumb: one word for each menu, and the moments in it with their
    titles. `sense` tells the translator that this track is the one to race on, not the distance
    between two wheels."""
    bench, springs, track, *more = ((moment, tr(title)) for moment, title in MOMENTS)
    return [
        (tr("Bench"), [bench]),
        (tr("Springs"), [springs]),
        (tr("Track", sense="to race on"), [track]),
        (tr("More"), more),
    ]


def _doors(moment: str) -> list[tuple[str, str, str]]:
    """Address, title and question of each page that is wanted at a moment."""
    pages: tuple[Form | garage.Place, ...] = (*FORMS, *garage.PLACES, *OTHERS)
    return [(one.slug, tr(one.title), tr(one.asks)) for one in pages if one.moment == moment]


def _view(form: Form) -> dict[str, Any]:
    reply = run(form, {}, demo())
    album = pictured.Album(form.slug)
    return {
        "form": form,
        "filled": reply.filled,
        # Choices that are no value of the car, so that the address holds them.
        "choices": " ".join(
            entry.name for entry in form.fields if isinstance(entry, Choice) and not entry.car
        ),
        "chapters": chapters_of(form),
        "answer": Markup(answer_html(form, reply, units.METRIC, at_rest=album.show)),
        "rests": counted(form, reply),
        "pictures": album.pictures,
    }


def chapters_of(form: Form) -> list[tuple[str, str, list[Entry]]]:
    """The entries of a form in chapters that fold: (key, title, entries). All of the car's page is
    in some; of other forms only what they need from the car besides, at their end."""
    if form.slug != RECORD:
        titles = {"": "", _FINER: tr("Finer points"), FOLDED: tr("From the car")}
        parts: dict[str, list[Entry]] = {key: [] for key in titles}
        for entry in form.fields:
            for key, part in parts_of(form, entry):
                parts[key].append(part)
        return [(key, titles[key], entries) for key, entries in parts.items() if entries]
    made: dict[str, list[Entry]] = {}
    for entry in form.fields:
        for key, part in _of_record(entry):
            made.setdefault(key, []).append(part)
    return [(key, title_of(key), entries) for key, entries in made.items()]


def _of_record(entry: Entry) -> list[tuple[str, Entry]]:
    """(chapter, entry) on the page of the car: of a corner, its damper stands apart."""
    if entry.name != _CORNER or not isinstance(entry, Rows):
        return [(chapter_of_field(entry.name), entry)]
    parted: dict[str, list[Any]] = {}
    for column in entry.columns:
        parted.setdefault(chapter_at_corner(column.name), []).append(column)
    labels = {"damper": _DAMPERS}
    return [
        (key, replace(entry, columns=tuple(columns), label=labels.get(key, entry.label)))
        for key, columns in parted.items()
    ]


def parts_of(form: Form, entry: Entry) -> list[tuple[str, Entry]]:
    """(chapter, entry); rows are parted by their columns, so that each chapter has its own."""
    if not isinstance(entry, Rows):
        return [(_chapter(form, entry, entry.name), entry)]
    by_chapter: dict[str, list[Any]] = {}
    for column in entry.columns:
        chapter = _chapter(form, column, f"{entry.name}.{column.name}")
        by_chapter.setdefault(chapter, []).append(column)
    if not entry.every and len(by_chapter) > 1:
        return [("", entry)]
    if len(by_chapter) == 1:
        return [(key, entry) for key in by_chapter]
    return [
        (
            key,
            replace(
                entry, columns=tuple(own), label=own[0].label if len(own) == 1 else entry.label
            ),
        )
        for key, own in by_chapter.items()
    ]


def _chapter(form: Form, entry: Choice | Number | Text, name: str) -> str:
    """Where a field stands: among what is asked, the finer points, or what comes from the car."""
    if entry.group == FOLDED:
        return FOLDED
    if form.first is None or name in form.first:
        return ""
    return FOLDED if entry.car else _FINER if name in form.finer else ""


def _guide(build: BuildInfo, slug: str) -> str:
    known = slug in BY_SLUG or slug in {place.slug for place in garage.PLACES}
    return ENVIRONMENT.get_template("page.html").render(
        build=build,
        up="../",
        back=f"#{slug}" if known else "#help",
        title=guide.title(slug),
        body=guide.html(slug),
        body_lang=guide.language(slug),
        licences=(),
        **languages.here(f"guides/{slug}.html"),
    )


def _licences(build: BuildInfo) -> str:
    return ENVIRONMENT.get_template("page.html").render(
        build=build,
        up="",
        back="#help",
        title=tr("Licences"),
        body="",
        body_lang=spoken().code,
        licences=build.licences,
        **languages.here("licences.html"),
    )
