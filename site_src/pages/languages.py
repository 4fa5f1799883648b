"""Pages side by side in each language: index.html, and index.de.html beside it."""

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
    """The same page in a language: where it is, as seen from the page itself."""

    code: str
    name: str
    offer: str
    href: str
    here: bool


def named(path: str, code: str) -> str:
    """Where a page is in a language; English has the plain name."""
    return path if code == ENGLISH else f"{path.removesuffix('.html')}.{code}.html"


def own(path: str) -> str:
    """Where a page is in the language spoken."""
    return named(path, spoken().code)


def beside(path: str) -> list[Beside]:
    """A page in every language, English first."""
    name = path.rpartition("/")[2]
    return [
        Beside(code, language, OFFERS[code], named(name, code), code == spoken().code)
        for code, language in NAMES.items()
    ]


def here(path: str) -> dict[str, Any]:
    """Variables of every page's template: its language, the same page in others, and `to`, which
    every link to a page of the site goes through."""
    return {"lang": spoken().code, "languages": beside(path), "to": own}
