"""A recipe of two oils, rounded to what a hand can measure, with the doubt of what it gives."""

import math
from dataclasses import dataclass

from calc import units
from calc.form import Given
from calc.forms.shared import LAW_INPUT, by_law, with_inputs
from calc.hand import to_step
from calc.physics import oil
from calc.uncertainty import resolution

RATIO_LIMIT = 3.0  # bottles further apart than this: the laws part company (common practice)


@dataclass(frozen=True)
class Recipe:
    """Volumes in m3 of two oils, exact and as measured out; `step` is one more of the thick."""

    thin: float
    thick: float
    exact_share: float
    thin_volume: float
    thick_volume: float
    step: float
    words: str

    @property
    def share(self) -> float:
        return self.thick_volume / (self.thin_volume + self.thick_volume)


def interaction(given: Given) -> float:
    """The Grunberg-Nissan term of the one measured blend, 0 (the log law) where there is none."""
    share, measured = given.maybe("measured_share"), given.maybe("measured")
    if share is None or measured is None:
        return 0.0
    return oil.interaction(share, given.thin, given.thick, measured)


def round_recipe(given: Given, thin: float, thick: float, share: float, amount: float) -> Recipe:
    """The share of thick oil in `amount` m3, rounded to the step the user measures with."""
    way = given.choice("step")
    if way == "parts":
        parts_thin, parts_thick = oil.whole_parts(share)[0]
        part = amount / (parts_thin + parts_thick)
        words = f"{parts_thin} : {parts_thick}"
        return Recipe(thin, thick, share, parts_thin * part, parts_thick * part, part, words)
    if way == "scale":
        # Each oil has its own density, so the step in volume differs between the two.
        steps = [given.oil_scale / oil.density(viscosity) for viscosity in (thin, thick)]
    else:
        steps = [given.numbers[way]] * 2
    thin_volume = to_step((1 - share) * amount, steps[0])
    thick_volume = to_step(share * amount, steps[1])
    if thin_volume + thick_volume <= 0:
        thick_volume = steps[1]
    words = ""
    if way == "drop":
        words = f"{round(thin_volume / steps[0])} drops : {round(thick_volume / steps[1])} drops"
    return Recipe(thin, thick, share, thin_volume, thick_volume, steps[1], words)


def with_measuring(given: Given, recipe: Recipe, term: float) -> Given:
    """The entries, joined by what was poured and by the law, each with its doubt."""
    reading = 0.0 if given.choice("step") == "parts" else resolution(recipe.step)
    thin, thick = recipe.thin_volume, recipe.thick_volume
    poured = {
        "poured_thin": (thin, min(reading, thin), "how exactly the thin oil is measured"),
        "poured_thick": (thick, min(reading, thick), "how exactly the thick oil is measured"),
    }
    # One measured blend decides what the laws leave open.
    law = {name: (value, 0.0 if term else u, says) for name, (value, u, says) in LAW_INPUT.items()}
    return with_inputs(given, {**poured, **law})


def poured_viscosity(given: Given, thin: float, thick: float, term: float) -> float:
    """Viscosity of what was poured, by the log law, one measured blend, or as `law` says."""
    share = given.poured_thick / (given.poured_thin + given.poured_thick)
    if term:
        return oil.blend_measured(share, thin, thick, term)
    return by_law([(1 - share, thin), (share, thick)], given.law)


def measure_words(given: Given, volume: float, viscosity_25: float) -> str:
    """How much of an oil to measure out, in the way the user measures."""
    mass = volume * oil.density(viscosity_25)
    way = given.choice("step")
    if way == "scale":
        return given.say(mass, "mass", _places(given, given.oil_scale, "mass"))
    if way == "drop":
        return f"{round(volume / given.drop)}\u00a0drops"
    if way == "syringe":
        return given.say(volume, "volume", _places(given, given.syringe, "volume"))
    return given.say(volume, "volume", 1)


def _places(given: Given, step: float, kind: str) -> int:
    """Decimals that show a step of the tool without losing a digit of it, three at most."""
    shown = step / units.unit_of(kind, given.system).factor
    return next((n for n in range(3) if math.isclose(round(shown, n), shown, rel_tol=1e-9)), 3)
