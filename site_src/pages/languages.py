"""Pages side by side in each language: index.html, and index.de.html beside it."""

import re
from dataclasses import dataclass
from typing import Any

from calc.language import ENGLISH, NAMES, spoken

_LINK = re.compile(r'<(?:a|link)\b[^>]*\bhref="([^":#]*)\.html[^>]*>')

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
    """What the template of a page says of its language, and of the page in others."""
    return {"lang": spoken().code, "languages": beside(path)}


def with_own_links(page: str) -> str:
    """The page, its links leading on in the language spoken; a link to a language stays."""

    def lead(found: re.Match[str]) -> str:
        if "hreflang=" in found[0]:
            return found[0]
        return found[0].replace(f'href="{found[1]}.html', f'href="{own(found[1] + ".html")}', 1)

    return page if spoken().code == ENGLISH else _LINK.sub(lead, page)
