"""Readings that look like a wrong digit: unusual alone, or impossible beside one another."""

import math
from collections.abc import Iterator

from calc import units
from calc.kept.build.build import Build
from calc.kept.build.readings import READINGS
from calc.language import tr
from calc.model.car import is_known, number_at
from calc.model.corners import Corner

LIGHTEST, HEAVIEST = 800.0, 9000.0
"""Density of what pistons are made of, kg/m³, from the lightest plastic to brass, with something to
spare (handbook values, from memory: PP 900, POM 1400, aluminium 2700, brass 8500)."""


def odd(build: Build, name: str, corner: Corner) -> Iterator[str]:
    """What is odd about a reading of a damper, in sentences."""
    read = build.reading(name, corner)
    if read is None:
        return
    entry = READINGS[name].entry
    damper = build.label(corner)
    if entry.is_unusual(read.value):
        label = tr("{row}, {column}", row=damper, column=entry.said)
        yield entry.unusual(label, read.value, build.system)
    if name == "piston":
        yield from _in_the_bore(build, corner, read.value)
    if name == "mass":
        yield from _of_its_size(build, corner, read.value)
    if name in ("closed", "rebound"):
        yield from _within_the_stroke(build, name, corner, read.value)


def _in_the_bore(build: Build, corner: Corner, diameter: float) -> Iterator[str]:
    """A piston goes into its body with little play."""
    path = f"{corner.end}.bore"
    if not is_known(build.car, path):
        return
    bore = build.car.axle(corner.end).bore
    play, usual = bore - diameter, number_at(f"{corner.end}.inside.clearance")
    if diameter > bore:
        yield tr(
            "{damper}: so wide a piston does not go into a bore of {bore}; measure both again.",
            damper=build.label(corner),
            bore=units.show(bore, "length", build.system),
        )
    elif play > usual.usual[1]:
        yield tr(
            "{damper}: that leaves {play} of play in the bore; usual is {usual}. Look at the "
            "digits.",
            damper=build.label(corner),
            play=units.show(play, "length", build.system),
            usual=usual.range_text(build.system, "usual"),
        )


def _of_its_size(build: Build, corner: Corner, mass: float) -> Iterator[str]:
    """A piston weighs as much as something that pistons are made of. Its holes are left out where
    nobody knows them, and they only make it lighter."""
    car, end = build.car, corner.end
    read = build.reading("piston", corner)
    if read is None or not is_known(car, f"{end}.piston_thickness"):
        return
    axle = car.axle(end)
    open_ = axle.holes * axle.hole**2 if is_known(car, f"{end}.holes") else 0.0
    volume = math.pi / 4 * (read.value**2 - min(open_, read.value**2 / 2)) * axle.piston_thickness
    damper = build.label(corner)
    if mass < LIGHTEST * volume:
        yield tr(
            "{damper}: too light for a piston of that size, even in plastic. Look at the digits.",
            damper=damper,
        )
    elif mass > HEAVIEST * volume:
        yield tr(
            "{damper}: too heavy for a piston of that size, even in brass. Look at the digits.",
            damper=damper,
        )


def _within_the_stroke(build: Build, name: str, corner: Corner, length: float) -> Iterator[str]:
    stroke = build.reading("stroke", corner)
    if stroke is None or length <= stroke.value:
        return
    damper = build.label(corner)
    if name == "closed":
        yield tr("{end}: the shaft cannot stand further in than its whole stroke.", end=damper)
    else:
        yield tr("{end}: the shaft cannot come out further than its whole stroke.", end=damper)
