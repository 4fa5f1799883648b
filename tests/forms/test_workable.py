"""Of cars far from the demo car, and of slips beside what is on them, every instruction can be
carried out: no more than is in a bottle, no further than a thread goes, no count that nobody
counts, no mix that is not the one wanted, no collar that moves nothing; else it is refused or
stopped before it. What a hand and a thread can do is common practice, no source.

FORM_EXAMPLES=5000 looks harder.
"""

import os
import random
import re
from collections.abc import Iterator

from calc import units
from calc.answering.answer import Answer
from calc.asking.entry import Number
from calc.asking.typed import parse
from calc.kept import doing
from calc.kept.deeds import carried_out
from calc.model.car import Car
from calc.model.corners import ENDS
from calc.replying.form import Form
from calc.replying.inputs import Inputs
from calc.replying.reading import read, run
from tests.forms.classes import CARS
from tests.forms.every import check_reply, each_form
from tests.forms.ways import Choices, shown_cells, ways

EXAMPLES = int(os.environ.get("FORM_EXAMPLES", "40")) // 3  # of each form
TURNS = re.compile(r"((?:\d+[\d\u00a0/.]*))\u00a0turns?")
DROPS = re.compile(r"(\d+)\u00a0drops")
MOST_DROPS, OFF = 100, 0.05
AT_LEAST_NOTHING = {"viscosity", "frequency", "rate", "mass", "volume"}
BY_DIFFERENCE = {"inferred", "left_inferred", "right_inferred", "1_kept", "2_kept"}
"""Figures of what is measured as a difference, which can come out below nothing."""


def slipped(form: Form, way: Choices, car: Car, system: str, dice: random.Random) -> Choices:
    """The entries of a way with a few numbers off by up to a half, as slips and wishes are."""
    filled = run(form, way, car, system).filled
    cells = [
        (name, cell)
        for name, cell in shown_cells(form, way)
        if isinstance(cell, Number) and not cell.whole and filled.get(name)
    ]
    made = dict(way)
    for name, cell in dice.sample(cells, min(len(cells), dice.randint(0, 3))):
        value = parse(filled[name], cell.kind, system).value * dice.uniform(0.5, 1.5)
        made[name] = units.entry_text(value, cell.kind, system)
    return made


def largest(given: Inputs, word: str, otherwise: float) -> float:
    """Of the numbers in whose name a word is."""
    return max((n for name, n in given.numbers.items() if word in name), default=otherwise)


def out_of_reach(form: Form, car: Car, given: Inputs, answer: Answer) -> Iterator[str]:
    """What no hand can do though nothing stops it."""
    if any(caution.stop for caution in answer.cautions):
        return
    for place, volume in answer.poured.items():
        left = given.numbers.get(f"bottles.{place}.left", car.bottles[place - 1].left)
        if volume > left * (1 + 1e-9):
            yield f"{volume} out of bottle {place} with {left}"
    says = " ".join(step.text for step in answer.steps)
    turned = [parse(words, "turns").value for words in TURNS.findall(says)]
    half = largest(given, "free", max(car.axle(end).spring_free for end in ENDS)) / 2
    pitch = min((n for name, n in given.numbers.items() if "pitch" in name), default=0.0)
    if max(turned, default=0.0) * pitch > half + pitch:
        yield f"{turned} turns"
    if any(int(drops) > MOST_DROPS for drops in DROPS.findall(says)):
        yield says
    figures = {one.name: one.value for one in answer.quantities}
    if form.slug == "oil-blend":
        made = figures["viscosity"]
        wanted = given.numbers.get("target", made)
        if abs(made / wanted - 1) > OFF:
            yield f"{made} for {wanted}"
    if figures.get("damper", 1.0) <= 0:
        yield "shut before it is down"
    here, then = given.numbers.get("ride_height"), figures.get("height_after")
    if form.slug == "collar-turns" and any(turned) and then is not None and then == here:
        yield "a collar that moves nothing"


OF_COLLARS = (".collar", ".droop_length", ".ride_height", ".load")


def moves_nothing(
    form: Form, car: Car, typed: Choices, system: str, answer: Answer
) -> Iterator[str]:
    """Ends whose collars both go down, on the springs they have, and that rise by nothing: by the
    car as it is after the deed, whatever the form says."""
    ways_only = all(write.path.endswith(OF_COLLARS) for write in answer.writes)
    if any(caution.stop for caution in answer.cautions) or not ways_only:
        return
    before = carried_out(car, doing.saved(form, typed, car, 1.0, system))
    after = carried_out(before, doing.done(answer, before, 2.0, form.slug))
    for end in ENDS:
        down = [after.corner(one).collar - before.corner(one).collar for one in end.corners]
        if min(down) > 0 and after.axle(end).ride_height <= before.axle(end).ride_height:
            yield f"the {end} collars go down by {down} and lift nothing"


def below_nothing(answer: Answer) -> Iterator[str]:
    """Intervals with two ends of which one cannot be."""
    for one in answer.quantities:
        sure = one.kind in AT_LEAST_NOTHING and one.name not in BY_DIFFERENCE
        if sure and one.ends and 0 <= one.value < one.ends[0] * (1 - 1e-9):
            yield f"{one.name}: {one.value} - {one.ends[0]}"


@each_form
def test_what_is_told_can_be_done(form: Form) -> None:
    dice = random.Random(form.slug)
    for _ in range(EXAMPLES):
        name, system = dice.choice(list(CARS)), dice.choice(units.SYSTEMS)
        typed = slipped(form, dice.choice(ways(form)), CARS[name], system, dice)
        reply = run(form, typed, CARS[name], system)
        check_reply(form, reply)
        if reply.answer:
            given = read(form, typed, CARS[name], system)[0]
            found = out_of_reach(form, CARS[name], given, reply.answer)
            still = moves_nothing(form, CARS[name], typed, system, reply.answer)
            wrong = [*found, *still, *below_nothing(reply.answer)]
            assert not wrong, (name, typed, system, wrong)
