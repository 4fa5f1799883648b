"""All four dampers filled from the bottles there are: what to mix, what is left, the label."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from calc.answering.answer import Answer, Caution, Filled, Step, Table, Working, Write
from calc.answering.hand import step_places
from calc.answering.uncertainty import COVERAGE, resolution
from calc.forms.bottles import in_the_list, miscounted, missed, places
from calc.forms.cautions import FAR_APART, far_apart, opened
from calc.forms.evening_oil.batches import EveningFigures, Mixed, drawn, figures, mixed
from calc.forms.evening_oil.inputs import Asked
from calc.forms.names import dampers_label, end_word
from calc.forms.oil_choice import bottle_name
from calc.language import inside, tr
from calc.model.car import text_at
from calc.model.corners import ENDS, PER_END
from calc.model.oil import LAW_UNCERTAINTY
from calc.replying.figures import Propagated

_LOOSE = 0.25
"""Share of what the dampers take: with a ± beyond it, the instruction itself has it."""
_WORTH = 0.5e-6  # m3; less is not kept in a bottle (common practice, no source)


def solve(asked: Asked) -> Answer:
    made = mixed(asked)
    asked = asked.assuming((Asked.law, 0.0, LAW_UNCERTAINTY), (Asked.reading, 0.0, resolution(1.0)))
    found = asked.propagate(lambda at: figures(at, made))
    answer = Answer(
        steps=tuple(step for one in made for step in _steps(asked, one, found)),
        quantities=asked.quantities(found),
        cautions=(*_cautions(asked, made, found), opened()),
        working=_working(asked, made),
        writes=_writes(asked, made, found),
        pours=drawn(asked, made),
        bottled=_bottled(asked, made, found),
    )
    tables = (_draw_down(asked, answer.poured), *_labels(asked, made, found))
    return replace(answer, tables=tables)


def _is_bottled(asked: Asked, one: Mixed) -> bool:
    """Whether what is left of it goes into a bottle of its own."""
    return not one.single and one.kept(asked.waste) > _WORTH


def _for(made: Mixed) -> str:
    """Which dampers it is for, for the inside of a sentence."""
    if len(made.ends) == len(ENDS):
        return tr("all four dampers")
    return tr("both {end} dampers", end=end_word(made.ends[0]))


def _dampers(made: Mixed) -> str:
    """Which dampers it is for, at the head of a sentence."""
    if len(made.ends) == len(ENDS):
        return tr("All four dampers")
    return dampers_label(made.ends[0])


def _steps(asked: Asked, one: Mixed, found: Propagated[EveningFigures]) -> list[Step]:
    say, recipe = asked.say, one.recipe
    at, u = found.value.oils[one.number], found.u.oils[one.number]
    makes = tr(
        "That makes {viscosity} ± {doubt}; you want {target}.",
        viscosity=say(at.viscosity, "viscosity"),
        doubt=say(COVERAGE * u.viscosity, "viscosity"),
        target=say(one.target, "viscosity"),
    )
    doubt = COVERAGE * u.kept
    gives = f"{makes} {_taken(asked, one, doubt)}"
    thin = _poured(asked, one, recipe.thin_steps, bottle_name(one.thin, say))
    if one.single:
        text = tr("For {dampers}: {oil}, as it is.", dampers=_for(one), oil=thin)
    else:
        thick = _poured(asked, one, recipe.thick_steps, bottle_name(one.thick, say))
        text = tr(
            "For {dampers}: mix {thin} with {thick}.", dampers=_for(one), thin=thin, thick=thick
        )
    needed = one.filled * (1 + asked.waste)
    if doubt > _LOOSE * needed:
        low, high = max(0.0, needed - doubt), needed + doubt
        text += " " + tr(
            "They may take {low} to {high}.",
            low=say(low, "volume", 1),
            high=say(high, "volume", 1),
        )
    steps = [Step(text, gives)]
    if _is_bottled(asked, one):
        steps.append(
            Step(
                tr(
                    "Bottle the remaining {kept} and write “{name}” on it.",
                    kept=say(one.kept(asked.waste), "volume", 1),
                    name=_name(asked, one),
                ),
                f"{tr('That is the surplus that you want to keep, for topping up.')} "
                f"{in_the_list()}",
            )
        )
    return steps


def _taken(asked: Asked, one: Mixed, doubt: float) -> str:
    """What the dampers take and what is lost, m3, with the ± of both."""
    filled = [
        f"{PER_END} × {asked.say(row.held, 'volume', 1)}"
        for row in asked.end
        if row.key in one.ends
    ]
    return tr(
        "{filled} for the dampers and {waste} of waste, together ± {doubt}.",
        filled=" + ".join(filled),
        waste=asked.say(one.filled * asked.waste, "volume", 1),
        doubt=asked.say(doubt, "volume", 1),
    )


def _poured(asked: Asked, one: Mixed, steps: int, name: str) -> str:
    """So much of an oil, as the tool shows it."""
    volume = steps * one.size
    if asked.step == "drop":
        return tr("{count}\u00a0drops of {oil}", count=f"{round(volume / asked.drop)}", oil=name)
    places = step_places(asked.syringe, "volume")
    return tr("{amount} of {oil}", amount=asked.say(volume, "volume", places), oil=name)


def _name(asked: Asked, one: Mixed) -> str:
    """The name of the blend; with two of them the ends are told apart."""
    name = asked.name or tr("blend")
    if len(one.ends) == len(ENDS):
        return name
    return f"{name}, {inside(dampers_label(one.ends[0]))}"


def _bottled(
    asked: Asked, made: Sequence[Mixed], found: Propagated[EveningFigures]
) -> tuple[Filled, ...]:
    return tuple(
        Filled(
            _name(asked, one)[: text_at("bottles.1.name").longest],
            found.value.oils[one.number].viscosity,
            found.uncertain[f"{one.number}_viscosity"],
            one.kept(asked.waste),
        )
        for one in made
        if _is_bottled(asked, one)
    )


def _draw_down(asked: Asked, taken: Mapping[int, float]) -> Table:
    """What each bottle gives to all of it together, m3 by its place, and what is then in it."""
    rows = tuple(
        (
            tr("Bottle {number}", number=str(place)) + (f" {row.name}" if row.name else ""),
            asked.bare(row.viscosity, "viscosity"),
            asked.bare(taken.get(place, 0.0), "volume"),
            tr("not known")
            if row.left is None
            else asked.bare(max(0.0, row.left - taken.get(place, 0.0)), "volume"),
        )
        for place, row in zip(places(asked.bottles), asked.bottles, strict=True)
    )
    unit = asked.symbol("volume")
    heads = (
        tr("Bottle"),
        asked.symbol("viscosity"),
        tr("Taken {unit}", unit=unit),
        tr("Remains {unit}", unit=unit),
    )
    return Table(tr("Out of the bottles"), heads, rows)


def _labels(
    asked: Asked, made: Sequence[Mixed], found: Propagated[EveningFigures]
) -> tuple[Table, ...]:
    """A label for each blend that is kept, to print or to copy."""
    labels = []
    for one in made:
        if not _is_bottled(asked, one):
            continue
        oil = found.value.oils[one.number].viscosity
        rows = (
            (tr("Viscosity at 25 °C"), asked.say(oil, "viscosity")),
            (
                tr("Made of"),
                _poured(asked, one, one.recipe.thin_steps, bottle_name(one.thin, asked.say)),
            ),
            (
                tr("and of"),
                _poured(asked, one, one.recipe.thick_steps, bottle_name(one.thick, asked.say)),
            ),
            (tr("Date"), "____________"),
        )
        title = tr("Label: {name}", name=_name(asked, one))
        labels.append(Table(title, ("", ""), rows))
    return tuple(labels)


def _cautions(
    asked: Asked, made: Sequence[Mixed], found: Propagated[EveningFigures]
) -> Iterator[Caution]:
    for one in made:
        becomes, u = (of.oils[one.number].viscosity for of in (found.value, found.u))
        yield from missed(asked, _dampers(one), becomes, one.target, COVERAGE * u)
    if asked.step == "drop":
        most = max(max(one.recipe.thin_steps, one.recipe.thick_steps) * one.size for one in made)
        yield from miscounted(most / asked.drop)
    if any(not one.single and one.thick.viscosity > FAR_APART * one.thin.viscosity for one in made):
        yield far_apart()


def _writes(
    asked: Asked, made: Sequence[Mixed], found: Propagated[EveningFigures]
) -> tuple[Write, ...]:
    writes = []
    for one in made:
        at, u = found.value.oils[one.number], found.u.oils[one.number]
        oil = asked.say(at.viscosity, "viscosity")
        for end in one.ends:
            says = tr("{oil} mixed for the {end} dampers", end=end_word(end), oil=oil)
            writes.append(Write(f"{end}.oil", at.viscosity, says, u=u.viscosity))
    return tuple(writes)


def _working(asked: Asked, made: Sequence[Mixed]) -> tuple[Working, ...]:
    say = asked.say
    volumes = []
    for one in made:
        volume = f"{say(one.filled, 'volume')} × (1 + {say(asked.waste, 'share')})"
        if not one.single:  # what is kept of a straight oil stays in its bottle
            volume += f" + {say(asked.spare, 'volume')}"
        volumes.append(
            Working(
                tr("volume = fill of the dampers × (1 + waste) + surplus to keep, rounded up"),
                f"{volume} → {say(one.volume, 'volume')}",
                tr("sum of the amounts needed"),
            )
        )
    return (
        *volumes,
        Working(
            tr("ln of the blend = sum of (share × ln of each oil)"),
            tr(
                "all pairs of bottles in whole steps, shared bottles together; the smallest miss "
                "wins"
            ),
            tr("Arrhenius, in Perry's Chemical Engineers' Handbook"),
        ),
    )
