"""The versions of a page in each language, side by side: index.html, index.de.html and so on."""

from dataclasses import dataclass
from typing import Any

from calc.language import ENGLISH, NAMES, spoken

# In each language itself: what a device that speaks it is offered on a page that does not.
OFFERS = {
    "en": "This page in English",
    "de": "Diese Seite auf Deutsch",
    "es": "Esta página en español",
}


@dataclass(frozen=True)
class Beside:
    """The version of a page in one language, with its address relative to the page."""

    code: str
    name: str
    offer: str
    href: str
    here: bool


def named(path: str, code: str) -> str:
    """Path of a page in a language; English has the plain name."""
    return path if code == ENGLISH else f"{path.removesuffix('.html')}.{code}.html"


def own(path: str) -> str:
    """Path of a page in the language spoken."""
    return named(path, spoken().code)


def beside(path: str) -> list[Beside]:
    """A page in every language, English first."""
    name = path.rpartition("/")[2]
    return [
        Beside(code, language, OFFERS[code], named(name, code), code == spoken().code)
        for code, language in NAMES.items()
    ]


def here(path: str) -> dict[str, Any]:
    """Variables of every template of a page: its language, its other versions, and `to`, through
    which every link to a page of the site goes."""
    return {"lang": spoken().code, "languages": beside(path), "to": own}
