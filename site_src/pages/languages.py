"""The versions of a page in each language, side by side: index.html, index.de.html and so on."""

from dataclasses import dataclass
from typing import Any

from calc.language import ENGLISH, NAMES, spoken

# In the language itself: the offer to a device set to it, on a page in another language.
OFFERS = {
    "en": "This page in English",
    "de": "Diese Seite auf Deutsch",
    "es": "Esta página en español",
}


@dataclass(frozen=True)
class Version:
    """The version of a page in one language, with its address relative to the page."""

    code: str
    name: str
    offer: str
    href: str
    here: bool


def path_in(path: str, code: str) -> str:
    """Path of a page in a language; English has the plain name."""
    return path if code == ENGLISH else f"{path.removesuffix('.html')}.{code}.html"


def own_path(path: str) -> str:
    """Path of a page in the language spoken."""
    return path_in(path, spoken().code)


def versions(path: str) -> list[Version]:
    """A page in every language, English first."""
    name = path.rpartition("/")[2]
    return [
        Version(code, language, OFFERS[code], path_in(name, code), code == spoken().code)
        for code, language in NAMES.items()
    ]


def here(path: str) -> dict[str, Any]:
    """Variables of every template of a page: its language, its other versions, and `to`, through
    which every link to a page of the site goes."""
    return {"lang": spoken().code, "languages": versions(path), "to": own_path}
