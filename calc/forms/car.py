"""The car: every entry of the record in one place, and whether its parts fit together."""

from collections.abc import Iterator
from dataclasses import fields

from calc.answering.answer import Answer, Caution, Quantity, Step, Table
from calc.asking.entry import Column, Entry, Rows
from calc.asking.record import MOST, declared
from calc.forms.cautions import springs_off
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.language import tr
from calc.model.arm import Arm
from calc.model.car import Axle, Body, Bottle, Car, Corner, Spring, Tools, WeightScale
from calc.model.corners import Corner as CornerKey
from calc.model.inside import Inside, RodEnd
from calc.physics.chassis import shares
from calc.replying.form import Form, Given, Row, from_car
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
    gives = tr(
        "{mass} ready to run, {share} in front.",
        mass=given.say(weight, "mass", 0),
        share=given.say(share.front, "share"),
    )
    misfits = _misfits(given)
    fits = tr("{car} fits together.", car=name)
    return Answer(
        steps=(Step(tr("{car} has a misfit.", car=name) if misfits else fits, gives),),
        quantities=(
            Quantity("mass", tr("Mass of the car, ready to run"), weight, "mass"),
            Quantity("weight", tr("Weight of the car"), weight * STANDARD_GRAVITY, "force"),
            Quantity("front_share", tr("Front share"), share.front, "share"),
            Quantity("left_share", tr("Left share"), share.left, "share"),
            Quantity("cross_weight", tr("Cross weight"), share.cross, "share"),
        ),
        tables=(_collars(given),),
        cautions=(*(Caution(text, stop=True) for text in misfits), springs_off()),
    )


def _misfits(given: Given) -> list[str]:
    """What is possible alone but not together, one sentence each."""
    found: list[str] = []
    for end, inside in zip(given.rows("end"), given.rows("inside"), strict=True):
        found += _damper_misfits(end, inside)
    ends = {row.key: row.unsprung for row in given.rows("end")}
    for corner in given.rows("corner"):
        if ends[CornerKey(corner.key).end] >= corner.load:
            found.append(
                tr(
                    "{corner}: wheel and arm cannot weigh as much as the whole corner.",
                    corner=corner.label,
                )
            )
    return found


def _damper_misfits(end: Row, inside: Row) -> Iterator[str]:
    """Of the dampers of an end and their springs."""
    at = end.label
    if end.spring_solid >= end.spring_free:
        yield tr("{end}: the spring is as long solid as free; measure both again.", end=at)
    if end.shaft >= end.bore:
        yield tr("{end}: the shaft does not fit into the bore; measure both again.", end=at)
    if end.hole >= end.bore:
        yield tr("{end}: a hole as wide as the bore cannot be in the piston.", end=at)
    if end.shaft < end.bore <= end.shaft + inside.clearance:
        yield tr("{end}: with so much play the piston is no wider than its shaft.", end=at)
    if inside.closed_at > end.stroke:
        yield tr("{end}: the shaft cannot stand further in than its whole stroke.", end=at)


def _collars(given: Given) -> Table:
    rows = tuple(
        (row.label, given.bare(row.load, "mass"), given.bare(row.collar, "turns", 2))
        for row in given.rows("corner")
    )
    load = tr("Load {unit}", unit=given.symbol("mass"))
    return Table(tr("Corners"), (tr("Corner"), load, tr("Collar, turns down")), rows)


FORM = Form(
    "car",
    "The car",
    "car",
    "What every other page fills itself from.",
    FIELDS,
    solve,
)
