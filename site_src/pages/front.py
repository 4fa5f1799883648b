"""The front page shows what the site is about: a damper on its wheel, and the questions of the
moment at the parts that they are about, each a door."""

from markupsafe import Markup

from calc.language import later, tr
from site_src.pages.drawings.hand import PLAIN, THICK, THIN, block, line, path, ring, solid, spring

_LEFT = (
    ("collar-turns", later("Car too low")),
    ("spring-swap", later("New springs")),
    ("whole-car", later("Change a part")),
    ("corner-loads", later("Corner loads uneven")),
)
_RIGHT = (
    ("log", later("What did I turn?")),
    ("hotter", later("Hotter or colder")),
    ("build", later("Build the dampers")),
    ("oil-blend", later("Mix an oil")),
)
_SOUGHT = {
    "oil-blend": later("mix two bottles, oil in between, ratio of oils"),
    "evening-oil": later(
        "oil for all dampers, enough in the bottles, shopping list, weight number to cSt"
    ),
    "oil-temperature": later("summer, winter, colder day, warm room"),
    "piston-oil": later(
        "damper stiff or soft at high speed, jumps, landing, pack, different piston"
    ),
    "stroke": later("screw the rod end in or out, same stroke left and right"),
    "length-travel": later(
        "one wheel hangs lower than the other, set the droop, same length, spacer inside"
    ),
    "fill-bleed": later(
        "bubbles, air in the oil, wait, shock leaks oil, shaft comes back by itself, rebound"
    ),
    "drop-test": later("damper feels gritty, not smooth, sticks, drags, the same on both sides"),
    "pairing": later("left and right alike, both the same, do they match, which belong together"),
    "collar-turns": later(
        "car too low or too high, raise, lower, crooked, ride height, how many turns"
    ),
    "spring-preload": later("sag, bottoms out on landing, coils touch, spring loose"),
    "spring-seats": later("other cups, spacer under the spring, collar at the end of its thread"),
    "spring-swap": later("spring too soft or too hard, stiffer, softer, new springs"),
    "spring-rate": later("how stiff is a spring, spring without label, unknown spring"),
    "motion-ratio": later("which hole on the arm or tower, shock mount, angle of the damper"),
    "corner-loads": later(
        "tweak, car pulls to one side, crooked, different weight left and right, scales"
    ),
    "ride-frequency": later("car bounces, swings after a jump, too stiff, too soft, overdamped"),
    "whole-car": later("heavier battery, other body, change a part"),
    "hotter": later("hotter, colder, warmer today, summer, afternoon heat"),
    "car": later("my car, its numbers, new car"),
    "build": later("rebuild, assemble, both the same at the end, leak, checks"),
    "log": later("what did I change or turn yesterday, undo, go back"),
    "setups": later("go back to the set-up of a race, what did I change, compare, save"),
    "cars": later("new phone, take cars along, copy, move, delete a car, lost"),
    "sheet": later("print, pit box, something for the wall, without a phone"),
    "help": later("without internet, no network, how to measure, is it safe"),
}
"""By page: in which words it is looked for, beside those that stand on it."""
_PLACES = (40, 120, 200, 280)  # px: the middles of the four rows of questions


def questions() -> dict[str, list[tuple[str, str]]]:
    """(page, question) on each side of the picture, in the language spoken."""
    return {
        "left": [(slug, tr(text)) for slug, text in _LEFT],
        "right": [(slug, tr(text)) for slug, text in _RIGHT],
    }


def asked_at(slug: str) -> str:
    """The question of the moment that leads to a page, and in which words else it is looked for."""
    asked = [text for one, text in (*_LEFT, *_RIGHT) if one == slug]
    return ", ".join(map(tr, (*asked, _SOUGHT[slug])))


def picture() -> Markup:
    """A damper with its spring and collar above a wheel, and lines to the questions beside it. It
    says nothing that the questions do not, so it has no text alternative."""
    at_left, at_right = (46, 42, 42, 30), (74, 70, 66, 100)
    parts = (
        ring(60, 12, 8),
        block(44, 22, 32, 96, THICK, 4),
        *(line(44, y, 76, y + 3, THIN) for y in range(30, 62, 6)),
        solid(36, 62, 48, 9),
        spring(60, 71, 206, 22, 6),
        block(50, 104, 20, 6, PLAIN, 1),
        line(60, 110, 60, 214, THICK),
        solid(38, 206, 44, 7),
        ring(60, 224, 8),
        path("M60 232L18 262M60 232L84 246", PLAIN),
        block(6, 236, 24, 60, THICK, 9),
        line(0, 300, 60, 300, THICK),
        path("M92 262H108V270L114 280V306Q114 310 110 310H90Q86 310 86 306V280L92 270Z", PLAIN),
        line(86, 290, 114, 290, THIN),
        *(
            line(0, y, x, y if y < 250 else 266, THIN)
            for y, x in zip(_PLACES, at_left, strict=True)
        ),
        *(line(120, y, x, y, THIN) for y, x in zip(_PLACES, at_right, strict=True)),
    )
    return Markup(
        '<svg viewBox="0 0 120 320" width="120" height="320" aria-hidden="true">'
        f'<g fill="none" color="currentColor">{"".join(parts)}</g></svg>'
    )
