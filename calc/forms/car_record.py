"""The car: every entry of the record in one place, and whether its parts fit together."""

from dataclasses import fields

from calc.answer import Answer, Caution, Quantity, Step, Table
from calc.arm import Arm
from calc.car import Axle, Body, Bottle, Car, Corner, Spring, Tools, WeightScale
from calc.entry import Column, Entry, Rows
from calc.form import Form, Given, from_car
from calc.forms.shared import CORNER_LABELS, END_LABELS
from calc.inside import Inside, RodEnd
from calc.physics.chassis import shares
from calc.record import MOST, declared
from calc.units import STANDARD_GRAVITY


def _columns(kind: type, prefix: str) -> tuple[Column, ...]:
    return tuple(from_car(f"{prefix}{item.name}") for item in fields(kind) if declared(item))


def _singles(kind: type, prefix: str) -> tuple[Entry, ...]:
    return tuple(
        from_car(f"{prefix}{item.name}", f"{prefix}{item.name}")
        for item in fields(kind)
        if declared(item)
    )


def _owned(label: str, one: str, kind: type, name: str) -> Rows:
    rows = tuple((str(n), f"{one} {n}") for n in range(1, MOST + 1))
    return Rows(label, _columns(kind, f"{name}.{{row}}."), rows, name=name)


FIELDS = (
    *_singles(Car, ""),
    Rows("Ends of the car", _columns(Axle, "{row}."), END_LABELS, name="end", every=True),
    Rows(
        "Inside the dampers", _columns(Inside, "{row}.inside."), END_LABELS,
        name="inside", every=True,
    ),
    Rows("Arms and holes", _columns(Arm, "{row}.arm."), END_LABELS, name="arm", every=True),
    *_singles(Body, "body."),
    *_singles(RodEnd, "rod_end."),
    Rows("Corners", _columns(Corner, "corners.{row}."), CORNER_LABELS, name="corner", every=True),
    _owned("Bottles owned", "Bottle", Bottle, "bottles"),
    _owned("Springs owned", "Spring", Spring, "springs"),
    *_singles(Tools, "tools."),
    *_singles(WeightScale, "weight_scale."),
)  # fmt: skip


def solve(given: Given) -> Answer:
    loads = [row.load for row in given.rows("corner")]
    share = shares(loads)
    weight = sum(loads)
    name = given.texts["name"]
    front = given.say(share.front, "share")
    gives = f"{given.say(weight, 'mass', 0)} ready to run, {front} in front."
    misfits = _misfits(given)
    return Answer(
        steps=(Step(f"{name} has a misfit." if misfits else f"{name} fits together.", gives),),
        quantities=(
            Quantity("mass", "Mass of the car, ready to run", weight, "mass"),
            Quantity("weight", "Weight of the car", weight * STANDARD_GRAVITY, "force"),
            Quantity("front_share", "Front share", share.front, "share"),
            Quantity("left_share", "Left share", share.left, "share"),
            Quantity("cross_weight", "Cross weight", share.cross, "share"),
        ),
        tables=(_collars(given),),
        cautions=tuple(Caution(text, stop=True) for text in misfits),
    )


def _misfits(given: Given) -> list[str]:
    """What is possible alone but not together, one sentence each."""
    found = []
    for end in given.rows("end"):
        if end.spring_solid >= end.spring_free:
            found.append(f"{end.label}: the spring is as long solid as free; measure both again.")
        if end.shaft >= end.bore:
            found.append(f"{end.label}: the shaft does not fit into the bore; measure both again.")
        if end.hole >= end.bore:
            found.append(f"{end.label}: a hole as wide as the bore cannot be in the piston.")
    for end, inside in zip(given.rows("end"), given.rows("inside"), strict=True):
        if end.shaft < end.bore <= end.shaft + inside.clearance:
            found.append(f"{end.label}: with so much play the piston is no wider than its shaft.")
        if inside.closed_at > end.stroke:
            found.append(f"{end.label}: the shaft cannot stand further in than its whole stroke.")
    ends = {row.key: row.unsprung for row in given.rows("end")}
    for corner in given.rows("corner"):
        if ends[corner.key.partition("_")[0]] >= corner.load:
            found.append(f"{corner.label}: wheel and arm cannot weigh as much as the whole corner.")
    return found


def _collars(given: Given) -> Table:
    rows = tuple(
        (row.label, given.bare(row.load, "mass"), given.bare(row.collar, "turns", 2))
        for row in given.rows("corner")
    )
    return Table("Corners", ("Corner", f"Load {given.symbol('mass')}", "Collar, turns down"), rows)


FORM = Form(
    "car",
    "The car",
    "car",
    "What every other page fills itself from.",
    FIELDS,
    solve,
)
