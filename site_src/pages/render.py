"""The pages of the site, made at build time with true answers for the demo car."""

from typing import Any

from markupsafe import Markup

from calc import units
from calc.asking.entry import Choice, Entry, shown
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.forms.names import corner_label
from calc.forms.recorded import FOLDED
from calc.kept.chapters import RECORD, chapter_of_field, title_of
from calc.kept.setups import SAVE
from calc.language import NAMES, later, speaking, spoken, tr
from calc.model.car import Car
from calc.model.corners import CORNERS
from calc.replying.form import Form
from calc.replying.reading import run
from site_src.both import garage
from site_src.both.fragment import answer_html
from site_src.pages import guide, languages, pictured, ready, script_texts
from site_src.pages.asked import asked, by_range, everything, kinds, names
from site_src.pages.environment import ENVIRONMENT
from site_src.pages.indent import without_indent
from site_src.pages.info import BuildInfo

MOMENTS = (
    ("bench", later("On the bench")),
    ("car", later("Springs and height")),
    ("track", later("At the track")),
    ("paper", later("On paper, and help")),
)
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
        moments=moments(),
        doors={moment: _doors(moment) for moment, _ in MOMENTS},
        symbol=units.symbol_text,
        corners=[(corner, corner_label(corner)) for corner in CORNERS],
        shown=shown,
        starts={view["form"].slug: view["filled"] for view in views},
        asked=by_range(everything_asked),
        asked_by=names(FORMS, more),
        how_id=lambda slug, entry: everything_asked.get(asked(slug, entry), ""),
        kinds=kinds(everything_asked),
        drawings=drawings,
        script_words=script_texts.of_scripts(),
        decimal=spoken().decimal,
        **languages.here("index.html"),
        **garage.at_build(),
        **ready.choices(),
    )
    return page, [*drawings, *(picture for view in views for picture in view["pictures"])]


def moments() -> list[tuple[str, str, str]]:
    """The moments with their titles, and one word each for the bar within reach of the thumb.
    `sense` tells the translator that this track is the one to race on, not the distance between two
    wheels."""
    shorts = (tr("Bench"), tr("Springs"), tr("Track", sense="to race on"), tr("Paper"))
    told = zip(MOMENTS, shorts, strict=True)
    return [(moment, tr(title), short) for (moment, title), short in told]


def _doors(moment: str) -> list[tuple[str, str, str]]:
    """Address, title and question of each page that is wanted at a moment."""
    pages: tuple[Form | garage.Place, ...] = (*FORMS, *garage.PLACES, *OTHERS)
    return [(one.slug, tr(one.title), tr(one.asks)) for one in pages if one.moment == moment]


def _view(form: Form) -> dict[str, Any]:
    reply = run(form, {}, Car())
    album = pictured.Album(form.slug)
    return {
        "form": form,
        "filled": reply.filled,
        # Choices that are no value of the car, so that the address holds them.
        "choices": " ".join(
            entry.name for entry in form.fields if isinstance(entry, Choice) and not entry.car
        ),
        "chapters": _chapters(form),
        "answer": Markup(answer_html(form, reply, units.METRIC, at_rest=album.show)),
        "pictures": album.pictures,
    }


def _chapters(form: Form) -> list[tuple[str, str, list[Entry]]]:
    """The entries of a form in chapters that fold: (key, title, entries). All of the car's page is
    in some; of other forms only what they need from the car besides, at their end."""
    if form.slug != RECORD:
        open_, below = (
            [entry for entry in form.fields if (entry.group == FOLDED) == is_folded]
            for is_folded in (False, True)
        )
        folded = [(FOLDED, tr("From the car"), below)] if below else []
        return [("", "", open_), *folded]
    made: dict[str, list[Entry]] = {}
    for entry in form.fields:
        made.setdefault(chapter_of_field(entry.name), []).append(entry)
    return [(key, title_of(key), entries) for key, entries in made.items()]


def _guide(build: BuildInfo, slug: str) -> str:
    known = any(form.slug == slug for form in FORMS)
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
