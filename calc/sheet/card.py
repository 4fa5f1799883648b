"""The build card: the build list on paper, filled as far as the car and the readings go."""

from collections.abc import Callable, Iterator, Mapping

from calc import units
from calc.answering.hand import wait_range
from calc.forms.names import end_label
from calc.kept.build import view
from calc.kept.build.build import NAME, Build
from calc.kept.build.cautions import caution
from calc.kept.build.facts import first_fill, preload_turns, rest_times
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import KINDS, Danger, Step, step_at
from calc.kept.build.verdict import verdict
from calc.language import later, tr
from calc.model.car import is_known
from calc.model.corners import Corner, End
from calc.physics.thread import least_engagement
from calc.sheet.base import corner_short
from calc.sheet.grid import BLANK, Line, Made, Points, Slot, Steps, Things, end_letter, up_or_down
from calc.sheet.value import mark, value
from calc.units import NBSP

MOST = 32
"""Lines of a block; a longer list goes on in another, for which there is a second side."""
_NONE = "–"  # of an end whose dampers have no such step
PRACTICE = "°"
"""Behind a step that rests on practice alone."""
_WANTED: Mapping[str, tuple[str, int | None]] = {
    "length": ("{end}.damper_length", 1),
    "stroke": ("{end}.stroke", 1),
    "oil": ("{end}.oil", None),
    "closed": ("{end}.inside.closed_at", 1),
    "rate": ("{end}.spring_rate", 2),
    "free": ("{end}.spring_free", 1),
}
"""Where the car says what a reading should come to, and how finely."""
_CALLED: Mapping[str, str] = {
    "piston": later("diameter"),
    "mass": later("mass"),
    "spacers": later("spacers under it"),
    "engaged": later("thread in it"),
    "length": "",
    "stroke": "",
    "drag": "",
    "oil": later("at 25 °C"),
    "filled": later("put in"),
    "closed": later("shaft in"),
    "rebound": "",
    "rebound_time": later("time for that"),
    "hang": later("time under it"),
    "rate": later("rate"),
    "free": later("free length"),
    "gap": later("cap to collar"),
    "droop": "",
}
"""A reading below the title of its step, in short; nothing where the title says it."""
_VERDICTS = {"alike": later("alike"), "apart": later("not alike")}
_LAST = later("The car's manual, the event's rules and the data sheets come first.")


def card(build: Build) -> tuple[Made, ...]:
    """What has to lie ready, the steps, and what can hurt at them."""
    lines = tuple(_lines(build))
    ends = tuple(map(end_label, build.ends))
    dampers = tuple(_damper(build, corner) for corner in build.corners)
    practice = any(step_at(key).practice for key in build.steps)
    about = [_kinds(build)]
    if practice:
        about.append(tr("{mark} common practice, no source", mark=PRACTICE))
    made = []
    if things := view.laid_out(build):
        made.append(Made("ready", tr("Lay out"), Things(things)))
    for start in range(0, len(lines), MOST):
        steps = Steps(ends, dampers, lines[start : start + MOST], "; ".join(about))
        title = tr("Build card, continued") if start else tr("Build card")
        made.append(Made(f"steps-{start // MOST + 1}", title, steps))
    return (*made, Made("cautions", tr("Cautions"), Points(tuple(_cautions(build)))))


def _damper(build: Build, corner: Corner) -> str:
    """ "FL A", with the letter on its cap where it has one."""
    return f"{corner_short(corner)} {build.name(corner)}".strip()


def _kinds(build: Build) -> str:
    """The kind of damper, once where it is the same at both ends."""
    labels = dict(KINDS)
    told = {end: tr(labels[build.kind(end)]) for end in build.ends}
    if len(set(told.values())) == 1:
        return next(iter(told.values()))
    return "; ".join(tr("{end}: {text}", end=end_label(end), text=one) for end, one in told.items())


def _lines(build: Build) -> Iterator[Line]:
    for number, key in enumerate(build.steps, 1):
        step = step_at(key)
        reads = build.reads(key) or ("",)
        title = build.title(key) + (PRACTICE if step.practice else "")
        for first, name in ((name == reads[0], name) for name in reads):
            yield Line(
                number=str(number) if first else "",
                title=title if first else "",
                read=_label(build, step, name),
                facts=_known(build, step, name, first),
                longer=tuple(map(tr, filter(None, (step.does,)))) if first else (),
                says=_says(build, step) if first else (),
                slots=tuple(_slot(build, step, name, corner, first) for corner in build.corners),
            )


def _says(build: Build, step: Step) -> tuple[str, ...]:
    """What the kinds of damper want; to which part they are filled, the volume says better."""
    emulsion = "emulsion" in map(build.kind, build.ends)
    if step.key == "fill" and not emulsion and all(_known(build, step, "", first=True)):
        return ()
    return tuple(view.of_kinds(build, step))


def _label(build: Build, step: Step, name: str) -> str:
    """What is read, and its unit."""
    if step.key == view.FIRST:
        return NAME.said
    if not name:
        return tr("ready at, time of day") if step.timed else ""
    unit = units.symbol_text(READINGS[name].entry.kind, build.system)
    return f"{tr(_CALLED[name])}, {unit}" if _CALLED[name] else unit


def _slot(build: Build, step: Step, name: str, corner: Corner, first: bool) -> Slot | None:
    if corner not in build.at(step.key):
        return None
    named = step.key == view.FIRST
    return Slot(
        box=first,
        done=build.is_done(step.key, corner),
        writes=name in build.reads(step.key, corner) or step.timed or named,
        value=build.name(corner) if named else _read(build, name, corner),
    )


def _read(build: Build, name: str, corner: Corner) -> str:
    """What was read and holds."""
    read = build.reading(name, corner) if name else None
    if read is None:
        return BLANK
    return units.number_text(read.value, READINGS[name].entry.kind, build.system)


def _known(build: Build, step: Step, name: str, first: bool) -> tuple[str, ...]:
    """What the car says of each end to a reading or a step, marked where nobody measured it; blank
    where it is not known. Empty where there is nothing to know."""
    car, system = build.car, build.system
    if name in _WANTED:
        path, decimals = _WANTED[name]
        return tuple(value(car, path.format(end=end), system, decimals) for end in build.ends)
    if not first or step.key not in _OF_STEP:
        return ()
    needs, says = _OF_STEP[step.key]
    found = []
    for end in build.ends:
        if not set(end.corners) & set(build.at(step.key)):
            found.append(_NONE)
            continue
        paths = [path.format(end=end) for path in needs]
        known = all(is_known(car, path) for path in paths)
        found.append(says(build, end) + mark(car, *paths) if known else BLANK)
    return tuple(found)


def _holes(build: Build, end: End) -> str:
    axle = build.car.axle(end)
    size = units.show_to(axle.hole, "length", build.system, 1)
    return f"{axle.holes:.0f}{NBSP}×{NBSP}{size}"


def _thread(build: Build, end: End) -> str:
    least, _ = least_engagement(build.car.rod_end.thread, "plastic")
    places = units.places(1, "length", build.system)
    return f"≥{NBSP}{units.number_text(least, 'length', build.system, places)}"


def _fill(build: Build, end: End) -> str:
    """What goes in first, of how much; in an emulsion all of it."""
    first, held = (
        units.number_text(one, "volume", build.system, 1)
        for one in (first_fill(build.car, end), build.car.axle(end).inside.held)
    )
    all_ = f"{held}{NBSP}{units.symbol_text('volume', build.system)}"
    if build.kind(end) == "emulsion":
        return all_
    return tr("{first} of {all}", first=first, all=all_)


def _rest(build: Build, end: End) -> str:
    longest, shortest = rest_times(build.car, end)
    first, last = wait_range(shortest, longest)
    return tr("{shortest} to {longest}", shortest=first, longest=last)


def _preload(build: Build, end: End) -> str:
    turns = preload_turns(build.car, end)
    if turns is None:
        return tr("thread too short")
    arrow = up_or_down(turns)
    one = 0 < abs(turns) <= 1
    return tr("then {arrow} turn", arrow=arrow) if one else tr("then {arrow} turns", arrow=arrow)


def _alike(build: Build, end: End) -> str:
    """For the pencil where nothing is proved either way."""
    said = verdict(build, end).says
    if said in _VERDICTS:
        return tr(_VERDICTS[said])
    return tr("{end}: {text}", end=end_letter(end), text=tr("yes / no"))


_OF_STEP: Mapping[str, tuple[tuple[str, ...], Callable[[Build, End], str]]] = {
    "pistons": (("{end}.holes", "{end}.hole"), _holes),
    "rod_end": (("rod_end.thread",), _thread),
    "fill": (("{end}.inside.held",), _fill),
    "rest": (("{end}.oil", "{end}.inside.length"), _rest),
    "pair": ((), _alike),
    "touch": (("{end}.spring_free", "{end}.droop_length", "{end}.pitch"), _preload),
}
"""What a step says of an end, and the values of the car that it rests on."""


def _cautions(build: Build) -> Iterator[str]:
    """What can hurt, with the numbers of the steps at which it does."""
    places: dict[Danger, list[str]] = {}
    steps = [(str(n), step_at(key)) for n, key in enumerate(build.steps, 1)]
    opens = any("opened" in step.dangers for _, step in steps)
    for number, step in steps:
        for danger in step.dangers:
            # What is said of a damper that is opened holds the oil that is spilt.
            told: Danger = "opened" if opens and danger == "spill" else danger
            places.setdefault(told, []).append(number)
    for danger, numbers in places.items():
        yield tr("{reading}: {text}", reading=", ".join(numbers), text=caution(danger).text)
    if "car" not in places:  # which says it too
        yield tr(_LAST)
