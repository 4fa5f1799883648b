"""Does the stated interval of every figure hold the share of cases that it promises?

    python -m tests.bench.intervals [DRAWS] [SLUG] [OTHERS]

Every form is asked about the demo car along each of its ways, OTHERS times (none) with usual
entries at random too, and near stops and bounds (`NEAR`). The inputs of each answer are then drawn
at random within their stated doubts, independently and from normal distributions, those drawn that
the form refuses left out; the figures are worked out from them in full, and counted is how many lie
within the interval that the answer states. Printed are, a form, the number of figures, the
smallest, middle and largest share, and every figure outside 93 to 98 %; to 99 % where more than
2.5 % of the draws lie on the very end of a figure (nothing is looser than loose): an interval that
ends there leaves out the other 2.3 % alone. An answer with a figure outside is drawn again with
AGAIN times as many draws, and those count: of thousands of shares some are off by chance.
"""

import math
import random
import statistics
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from unittest import mock

from calc.answering import uncertainty
from calc.answering.answer import Answer, Quantity
from calc.answering.uncertainty import COVERAGE, Figures, Uncertain
from calc.forms.catalogue import FORMS
from calc.model.car import Car
from calc.replying.form import Form
from calc.replying.reading import run
from tests.forms.ways import usual_entries, ways

LOW, HIGH, HIGH_AT_AN_END = 0.93, 0.98, 0.99
_PILED = 0.025
AGAIN = 10
NEAR = (
    "spring-preload droop_length=39.9",  # about to lie loose
    "spring-preload droop_length=33.2",  # about to rest on its droop stop
    "spring-preload spring_solid=16.4",  # about to bind at full bump
    "spring-swap new_free=38.6",
    "spring-swap droop_length=33.4 new_rate=0.65",
    "spring-swap droop_length=38.5 new_rate=1.2 new_free=39",
    "collar-turns scope=axle droop_length=33.4",
    "collar-turns scope=axle droop_length=39.9",
    "collar-turns scope=axle ask=height turns=0.25",
    "collar-turns scope=axle ask=height turns=-6 stroke=9.8",  # about to be fully in
    "collar-turns scope=corners end.front.droop_length=33.2",
    "collar-turns scope=both end.front.droop_length=33.2",
    "corner-loads end.front.droop_length=33.2",
    "corner-loads end.rear.droop_length=51",
    "ride-frequency end.front.oil=560",  # about to return without overshoot
    "ride-frequency end.front.oil=500 end.rear.oil=600",
    "ride-frequency end.front.oil=800",
    "whole-car change=spring front_rate=0.9 front_free=38",
    "whole-car change=spring front.droop_length=33.2",
    "whole-car change=load front.droop_length=33.2",
    "whole-car change=oil front_oil=1000",
    "piston-oil slow=50 fast=274",  # about to cavitate
    "piston-oil slow=50 fast=270 gas=0.5",
    "piston-oil clearance=0.02",
    "fill-bleed task=gas gas=0.12 stroke=22",  # about to lock
    "fill-bleed task=gas gas=0.1 closed_at=12",
    "fill-bleed task=gas gas=0.2 friction=0.3",
    "fill-bleed task=gas rebound_wanted=10",
    "fill-bleed task=bleed bubble=0.02",
    "drop-test task=one cap=shut gas=0.15",
    "drop-test task=friction",
    "spring-rate known=clipped",
    "length-travel",
    "stroke aim=wanted",
)
"""Where figures bend or stop within the doubts."""
PLACES = ("calc.replying.inputs", "calc.forms.growth")


@dataclass(frozen=True)
class Asked:
    """One propagation of an answer."""

    figures: Figures
    inputs: Mapping[str, float]
    u: Mapping[str, float]
    found: Mapping[str, Uncertain]


@dataclass(frozen=True)
class Held:
    """How often the interval of a figure holds; `asked` is how it came about."""

    slug: str
    asked: str
    name: str
    share: float
    stated: Quantity
    true: tuple[float, float]
    wild: float
    piled: bool

    @property
    def right(self) -> bool:
        return LOW <= self.share <= (HIGH_AT_AN_END if self.piled else HIGH)


def answered(form: Form, typed: Mapping[str, str]) -> tuple[Answer | None, list[Asked]]:
    """The answer, and all that was propagated on the way."""
    seen: list[Asked] = []

    def propagate(
        figures: Figures, inputs: Mapping[str, float], u: Mapping[str, float]
    ) -> dict[str, Uncertain]:
        found = uncertainty.propagate(figures, inputs, u)
        seen.append(Asked(figures, inputs, u, found))
        return found

    patches = [mock.patch(f"{place}.propagate", propagate) for place in PLACES]
    for patch in patches:
        patch.start()
    try:
        return run(form, typed, Car()).answer, seen
    finally:
        for patch in patches:
            patch.stop()


def drawn(asked: Asked, draws: int, dice: random.Random) -> tuple[list[Mapping[str, float]], int]:
    """Figures of inputs drawn within their doubts, and how many draws were refused."""
    watched = uncertainty.Watched(asked.inputs)
    asked.figures(watched)
    moving = [name for name, u in asked.u.items() if u > 0 and name in watched.asked]
    made: list[Mapping[str, float]] = []
    refused = 0
    while len(made) < draws and refused < 10 * draws:
        shifted = dict(asked.inputs)
        for name in moving:
            shifted[name] += dice.gauss(0.0, asked.u[name])
        try:
            figures = asked.figures(shifted)
        except (ValueError, ArithmeticError):
            refused += 1
            continue
        if all(map(math.isfinite, figures.values())):
            made.append(figures)
        else:
            refused += 1
    return made, refused


def held(form: Form, typed: Mapping[str, str], draws: int, dice: random.Random) -> Iterator[Held]:
    answer, seen = answered(form, typed)
    if answer is None:
        print(f"no answer: {form.slug} {said(typed)}")
        return
    # Where a figure was worked out twice, the second time was for the doubt of the first.
    of = {name: asked for asked in reversed(seen) for name in asked.found}
    samples: dict[int, tuple[list[Mapping[str, float]], int]] = {}
    for one in answer.quantities:
        asked = of.get(one.name)
        if asked is None:
            continue
        if id(asked) not in samples:
            samples[id(asked)] = drawn(asked, draws, dice)
        made, refused = samples[id(asked)]
        centre = asked.found[one.name].value
        # Where the answer shows the figure in another unit or moved, both move alike.
        values = sorted(each[one.name] for each in made if one.name in each)
        if len(values) < draws / 2:
            continue
        spread = values[int(0.975 * len(values))] - values[int(0.025 * len(values))]
        if max(one.u, spread) < 1e-9 * (1 + abs(centre)):
            continue
        factor = one.value / centre if one.name == "mass" and centre else 1.0
        low, high = interval(one)
        # Where physics ends at nothing, a drawn figure below it stands for nothing.
        least = low if low == 0.0 else -math.inf
        inside = sum(low <= max(value * factor, least) <= high for value in values) / len(values)
        ends = values[int(0.025 * len(values))], values[int(0.975 * len(values))]
        piled = any(_on(end, values) > _PILED for end in (values[0], values[-1]))
        yield Held(form.slug, said(typed), one.name, inside, one, ends, refused / draws, piled)


def _on(end: float, values: Sequence[float]) -> float:
    """The share of values that lie on an end of them."""
    there = (math.isclose(value, end, rel_tol=1e-9, abs_tol=1e-12) for value in values)
    return sum(there) / len(values)


def interval(one: Quantity) -> tuple[float, float]:
    """The stated interval of a figure."""
    below, above = one.ends or (COVERAGE * one.u, COVERAGE * one.u)
    return one.value - below, one.value + above


def said(typed: Mapping[str, str]) -> str:
    return " ".join(f"{name}={text}" for name, text in typed.items())


def cases(slug: str, others: int, dice: random.Random) -> Iterator[tuple[Form, Mapping[str, str]]]:
    for form in FORMS:
        if slug in ("", form.slug):
            for way in ways(form):
                yield form, way
            for near in NEAR:
                of, *typed = near.split()
                if of == form.slug:
                    yield form, dict(text.split("=") for text in typed)
            for way in ways(form):
                for _ in range(others):
                    yield form, usual_entries(form, way, dice)


def main(draws: int, slug: str, others: int) -> None:
    dice = random.Random(1)
    all_held: list[Held] = []
    for form, typed in cases(slug, others, dice):
        found = list(held(form, typed, draws, dice))
        if not all(one.right for one in found):
            found = list(held(form, typed, AGAIN * draws, dice))
        all_held += found
    for form in FORMS:
        mine = [one for one in all_held if one.slug == form.slug]
        shares = [100 * one.share for one in mine]
        if not shares:
            continue
        out = [one for one in mine if not one.right]
        print(
            f"| {form.slug} | {len(mine)} | {min(shares):.1f} | {statistics.median(shares):.1f} "
            f"| {max(shares):.1f} | {len(out)} |"
        )
    for one in all_held:
        if not one.right:
            low, high = interval(one.stated)
            print(
                f"{one.slug} [{one.asked}] {one.name}: {100 * one.share:.1f} %, stated "
                f"{one.stated.value:.4g} [{low:.4g}, {high:.4g}], true [{one.true[0]:.4g}, "
                f"{one.true[1]:.4g}], {100 * one.wild:.0f} % refused"
            )


if __name__ == "__main__":
    main(
        int(sys.argv[1]) if len(sys.argv) > 1 else 4_000,
        sys.argv[2] if len(sys.argv) > 2 else "",
        int(sys.argv[3]) if len(sys.argv) > 3 else 0,
    )
