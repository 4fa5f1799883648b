"""The pages of the site, made at build time with true answers for the demo car."""

import re
from typing import Any

from calc import units
from calc.car import Car
from calc.catalogue import FORMS
from calc.entry import Choice
from calc.form import Form
from calc.reading import run
from site_src import garage, guide
from site_src.build.info import BuildInfo
from site_src.fragment import ENVIRONMENT, answer_html, sheet_html
from site_src.paper import ready

MOMENTS = (
    # moment, its title, the same in a word for the bar at the thumb
    ("bench", "On the bench", "Bench"),
    ("car", "Springs and height", "Springs"),
    ("track", "At the track", "Track"),
    ("paper", "On paper", "Paper"),
)
# Pages that are neither a form nor kept by the garage.
OTHERS = (
    garage.Place("sheet", "Cheat sheet", "paper", "One page for the lid of the toolbox."),
    garage.Place("help", "Help", "paper", "How to measure, how to read an answer, cautions."),
)


def pages(build: BuildInfo) -> dict[str, bytes]:
    """Path in the site -> content, for every page."""
    made = f"Version {build.version} of {build.date}."
    made_pages = {"index.html": _index(build, made), "licences.html": _licences(build)}
    made_pages |= ready.pages(build, made)
    for slug in guide.slugs():
        made_pages[f"guides/{slug}.html"] = _guide(build, slug)
    return {path: _without_indent(text).encode() for path, text in made_pages.items()}


def _without_indent(text: str) -> str:
    """Indentation in a template serves its reader; the phone need not carry it."""
    return re.sub(r"\n\s*(?=<)", "\n", text)


def _index(build: BuildInfo, made: str) -> str:
    return ENVIRONMENT.get_template("index.html").render(
        build=build,
        made=made,
        forms=[_view(form) for form in FORMS],
        guides=[{"slug": slug, "title": guide.title(slug)} for slug in guide.slugs()],
        moments=MOMENTS,
        doors={moment: _doors(moment) for moment, _, _ in MOMENTS},
        sheet=sheet_html(Car(), units.METRIC, made),
        symbol=lambda kind, system: units.unit_of(kind, system).symbol,
        **garage.at_build(),
        **ready.choices(),
    )


def _doors(moment: str) -> list[tuple[str, str, str]]:
    """Address, title and question of each page that is wanted at a moment."""
    everything = (*FORMS, *garage.PLACES, *OTHERS)
    return [(one.slug, one.title, one.asks) for one in everything if one.moment == moment]


def _view(form: Form) -> dict[str, Any]:
    reply = run(form, {}, Car())
    return {
        "form": form,
        "filled": reply.filled,
        # Choices that are no value of the car: an address can hold them.
        "choices": " ".join(
            entry.name for entry in form.fields if isinstance(entry, Choice) and not entry.car
        ),
        "answer": answer_html(form, reply, units.METRIC),
    }


def _guide(build: BuildInfo, slug: str) -> str:
    known = any(form.slug == slug for form in FORMS)
    return ENVIRONMENT.get_template("page.html").render(
        build=build,
        up="../",
        back=f"#{slug}" if known else "#help",
        title=guide.title(slug),
        body=guide.html(slug),
        licences=(),
    )


def _licences(build: BuildInfo) -> str:
    return ENVIRONMENT.get_template("page.html").render(
        build=build, up="", back="#help", title="Licences", body="", licences=build.licences
    )
