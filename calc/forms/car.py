"""The car: every entry of the record in one place, and whether its parts fit together."""

from collections.abc import Iterator
from typing import Literal

from calc.answering.answer import Answer, Caution, Quantity, Step, Table
from calc.asking.record import MOST
from calc.forms.cautions import springs_off
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.language import tr
from calc.model.arm import Arm
from calc.model.car import Axle, Body, Bottle, CornerRecord, Spring, Tools
from calc.model.corners import Corner, End
from calc.model.inside import Inside, RodEnd
from calc.physics.chassis import shares
from calc.replying.form import Form
from calc.replying.inputs import Inputs, RecordGroup, RecordRow, from_car, group, rows, up_to


class Asked(Inputs):
    name: str = from_car("name")
    thread_hand: Literal["right", "left"] = from_car("thread_hand")
    temperature: float = from_car("temperature")
    end: tuple[RecordRow[End, Axle], ...] = rows(
        label="Ends of the car", each=END_LABELS, every=True, path="{row}."
    )
    inside: tuple[RecordRow[End, Inside], ...] = rows(
        label="Inside the dampers", each=END_LABELS, every=True, path="{row}.inside."
    )
    arm: tuple[RecordRow[End, Arm], ...] = rows(
        label="Arms and holes", each=END_LABELS, every=True, path="{row}.arm."
    )
    body: RecordGroup[Body] = group(prefix="body.", path="body.")
    rod_end: RecordGroup[RodEnd] = group(prefix="rod_end.", path="rod_end.")
    corner: tuple[RecordRow[Corner, CornerRecord], ...] = rows(
        label="Corners", each=CORNER_LABELS, every=True, path="corners.{row}."
    )
    bottles: tuple[RecordRow[str, Bottle], ...] = rows(
        label="Bottles owned", each=up_to(MOST, "Bottle"), path="bottles.{row}."
    )
    springs: tuple[RecordRow[str, Spring], ...] = rows(
        label="Springs owned", each=up_to(MOST, "Spring"), path="springs.{row}."
    )
    tools: RecordGroup[Tools] = group(prefix="tools.", path="tools.")


def solve(asked: Asked) -> Answer:
    loads = [row.entered.load for row in asked.corner]
    share = shares(loads)
    weight = sum(loads)
    name = asked.name
    gives = tr(
        "{mass} ready to run, {share} on the front.",
        mass=asked.say(weight, "mass", 0),
        share=asked.say(share.front, "share"),
    )
    misfits = _misfits(asked)
    fits = tr("{car}: the numbers agree.", car=name)
    return Answer(
        steps=(
            Step(
                tr("{car}: some numbers contradict each other.", car=name) if misfits else fits,
                gives,
            ),
        ),
        quantities=(
            Quantity("mass", tr("Weight of the car, ready to run"), weight, "mass"),
            Quantity("front_share", tr("Front share"), share.front, "share"),
            Quantity("left_share", tr("Left share"), share.left, "share"),
            Quantity("cross_weight", tr("Cross weight"), share.cross, "share"),
        ),
        tables=(_collars(asked),),
        cautions=(*(Caution(text, stop=True) for text in misfits), springs_off()),
    )


def _misfits(asked: Asked) -> list[str]:
    """What is possible alone but not together, one sentence each."""
    found: list[str] = []
    ends = {row.key: row.entered for row in asked.end}
    for inside in asked.inside:
        found += _damper_misfits(inside.label, ends[inside.key], inside.entered)
    for corner in asked.corner:
        if ends[corner.key.end].unsprung >= corner.entered.load:
            found.append(
                tr(
                    "{corner}: wheel and arm cannot weigh as much as the whole corner.",
                    corner=corner.label,
                )
            )
    return found


def _damper_misfits(at: str, end: Axle, inside: Inside) -> Iterator[str]:
    """Of the dampers of an end and their springs."""
    if end.spring_solid >= end.spring_free:
        yield tr("{end}: the spring is no shorter solid than free; measure both again.", end=at)
    if end.shaft >= end.bore:
        yield tr("{end}: the shaft does not fit into the bore; measure both again.", end=at)
    if end.holes and 2 * end.hole >= end.bore - end.shaft:
        yield tr("{end}: so wide a hole does not fit between shaft and rim of the piston.", end=at)
    if end.shaft < end.bore <= end.shaft + inside.clearance:
        yield tr("{end}: with so much play the piston is no wider than its shaft.", end=at)
    if inside.closed_at > end.stroke:
        yield tr("{end}: the shaft cannot stand further in than its whole stroke.", end=at)


def _collars(asked: Asked) -> Table:
    lines = tuple(
        (label, asked.bare(corner.load, "mass"), asked.bare(corner.collar, "turns", 2))
        for label, corner in ((row.label, row.entered) for row in asked.corner)
    )
    load = tr("Load {unit}", unit=asked.symbol("mass"))
    return Table(tr("Corners"), (tr("Corner"), load, tr("Collar, turns down")), lines)


FORM = Form(
    slug="car",
    title="The car",
    moment="cars",
    asks="All other pages take their values from here.",
    inputs=Asked,
    solve=solve,
)
