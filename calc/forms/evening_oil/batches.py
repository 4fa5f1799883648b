"""The batches of the evening: one for all four dampers where both ends take one oil, else two."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.answering.answer import Pour
from calc.forms.bottles import owned, places
from calc.forms.evening_oil.inputs import Asked, EndRow
from calc.language import tr
from calc.model.car import Bottle
from calc.model.corners import ENDS, PER_END, End
from calc.model.oil import by_law
from calc.physics.batches import Batch, Recipe, Stock, coarse, shared
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import Problem


@dataclass(frozen=True)
class Mixed:
    """One oil: for which ends, the volume that goes into the dampers, m3, the recipe in steps of
    `size`, m3, and the bottles that it is made of."""

    ends: tuple[End, ...]
    target: float
    filled: float
    recipe: Recipe
    size: float
    thin: Bottle
    thick: Bottle

    @property
    def number(self) -> str:
        """Of the oil, by which its figures are found: the oils stand in the order of their ends."""
        return str(self.ends[0].place + 1)

    @property
    def single(self) -> bool:
        """Whether a bottle is taken as it is."""
        return self.recipe.thick_steps == 0

    @cached_property
    def volume(self) -> float:
        return (self.recipe.thin_steps + self.recipe.thick_steps) * self.size

    def kept(self, waste: float) -> float:
        """What is left once the dampers are filled, m3; an own bottle where it is a blend."""
        return max(0.0, self.volume - self.filled * (1 + waste))


def needs(asked: Asked) -> dict[tuple[End, ...], tuple[float, float]]:
    """By the ends of each oil: the oil wanted, m2/s, and what goes into the dampers, m3."""
    rows: dict[End, EndRow] = {row.key: row for row in asked.end}
    front, rear = (rows[end] for end in ENDS)
    fills = {end: PER_END * rows[end].held for end in ENDS}
    if math.isclose(front.target, rear.target, rel_tol=1e-6):
        return {ENDS: (front.target, sum(fills.values()))}
    return {(end,): (rows[end].target, fills[end]) for end in ENDS}


def mixed(asked: Asked) -> list[Mixed]:
    """Raises Problem where the bottles do not do."""
    wanted, bottles = needs(asked), owned(asked.bottles)
    step = asked.syringe if asked.step == "syringe" else asked.drop
    volumes = [fill * (1 + asked.waste) + asked.spare for _, fill in wanted.values()]
    size = max(coarse(volume, step)[1] for volume in volumes)
    batches = [
        Batch(target, math.ceil(volume / size - 1e-9))
        for (target, _), volume in zip(wanted.values(), volumes, strict=True)
    ]
    enough = size * sum(batch.steps for batch in batches)
    stock = [
        Stock(one.viscosity, math.floor(min(one.at_most, enough) / size + 1e-9)) for one in bottles
    ]
    recipes = shared(batches, stock)
    if recipes is None:
        raise _too_little(asked, sum(volumes), bottles)
    recipes = tuple(
        recipe if recipe.thick_steps else replace(recipe, thin_steps=_of_fill(asked, fill, size))
        for recipe, (_, fill) in zip(recipes, wanted.values(), strict=True)
    )
    return [
        Mixed(ends, target, fill, recipe, size, bottles[recipe.thin], bottles[recipe.thick])
        for (ends, (target, fill)), recipe in zip(wanted.items(), recipes, strict=True)
    ]


def _of_fill(asked: Asked, fill: float, size: float) -> int:
    """Steps of a bottle that is taken as it is: nothing of it has to be kept beside it."""
    return math.ceil(fill * (1 + asked.waste) / size - 1e-9)


def _too_little(asked: Asked, needed: float, bottles: Sequence[Bottle]) -> Problem:
    return Problem(
        Asked.spare,
        tr(
            "Surplus to keep of each oil: you need {needed} in all, and your bottles hold "
            "{there}, not enough of two for each oil; keep less, or add a bottle.",
            needed=asked.say(needed, "volume"),
            there=asked.say(sum(bottle.at_most for bottle in bottles), "volume"),
        ),
    )


def drawn(asked: Asked, made: Sequence[Mixed]) -> tuple[Pour, ...]:
    """What all of it takes out of the bottles of the car's list."""
    rows = places(asked.bottles)
    return tuple(
        Pour(rows[place], one.recipe.drawn(place) * one.size, one.ends)
        for one in made
        for place in dict.fromkeys((one.recipe.thin, one.recipe.thick))
    )


class OilFigures(Figures):
    viscosity: float = figure("viscosity of the oil at 25 °C", kind="viscosity")
    volume: float = figure("volume to mix", kind="volume")
    kept: float = figure("surplus to keep", kind="volume")


class EveningFigures(Figures):
    oils: Mapping[str, OilFigures] = by_key(
        lambda number, label: tr("Oil {number}: {label}", number=number, label=label)
    )


def figures(asked: Asked, made: Sequence[Mixed]) -> EveningFigures:
    fills = [fill for _, fill in needs(asked).values()]
    return EveningFigures(
        oils={
            one.number: OilFigures(
                viscosity=_viscosity(asked, one),
                volume=one.volume,
                kept=one.volume - fill * (1 + asked.waste),
            )
            for one, fill in zip(made, fills, strict=True)
        }
    )


def _viscosity(asked: Asked, one: Mixed) -> float:
    """Of what is poured, by the log law or as `law` says."""
    rows = asked.bottles
    recipe = one.recipe
    if one.single:
        return rows[recipe.thin].viscosity
    thick = recipe.thick_steps + asked.reading
    parts = [
        (recipe.thin_steps - asked.reading, rows[recipe.thin].viscosity),
        (thick, rows[recipe.thick].viscosity),
    ]
    return by_law(parts, asked.law)
