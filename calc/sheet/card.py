"""The build card: the build list on paper, filled as far as the car and the readings go."""

from collections.abc import Callable, Iterator, Mapping

from calc import units
from calc.answering.hand import wait_range
from calc.forms.names import end_label
from calc.kept.build import view
from calc.kept.build.cautions import caution
from calc.kept.build.evening import NAME, Evening
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


def card(evening: Evening) -> tuple[Made, ...]:
    """What has to lie ready, the steps, and what can hurt at them."""
    lines = tuple(_lines(evening))
    ends = tuple(map(end_label, evening.ends))
    dampers = tuple(_damper(evening, corner) for corner in evening.corners)
    practice = any(step_at(key).practice for key in evening.steps)
    about = [_kinds(evening)]
    if practice:
        about.append(tr("{mark} common practice, no source", mark=PRACTICE))
    made = []
    if things := view.laid_out(evening):
        made.append(Made("ready", tr("Lay out"), Things(things)))
    for start in range(0, len(lines), MOST):
        steps = Steps(ends, dampers, lines[start : start + MOST], "; ".join(about))
        title = tr("Build card, continued") if start else tr("Build card")
        made.append(Made(f"steps-{start // MOST + 1}", title, steps))
    return (*made, Made("cautions", tr("Cautions"), Points(tuple(_cautions(evening)))))


def _damper(evening: Evening, corner: Corner) -> str:
    """ "FL A", with the letter on its cap where it has one."""
    return f"{corner_short(corner)} {evening.name(corner)}".strip()


def _kinds(evening: Evening) -> str:
    """The kind of damper, once where it is the same at both ends."""
    labels = dict(KINDS)
    told = {end: tr(labels[evening.kind(end)]) for end in evening.ends}
    if len(set(told.values())) == 1:
        return next(iter(told.values()))
    return "; ".join(tr("{end}: {text}", end=end_label(end), text=one) for end, one in told.items())


def _lines(evening: Evening) -> Iterator[Line]:
    for number, key in enumerate(evening.steps, 1):
        step = step_at(key)
        reads = evening.reads(key) or ("",)
        title = evening.title(key) + (PRACTICE if step.practice else "")
        for first, name in ((name == reads[0], name) for name in reads):
            yield Line(
                number=str(number) if first else "",
                title=title if first else "",
                read=_label(evening, step, name),
                facts=_known(evening, step, name, first),
                longer=tuple(map(tr, filter(None, (step.does,)))) if first else (),
                says=_says(evening, step) if first else (),
                slots=tuple(
                    _slot(evening, step, name, corner, first) for corner in evening.corners
                ),
            )


def _says(evening: Evening, step: Step) -> tuple[str, ...]:
    """What the kinds of damper want; to which part they are filled, the volume says better."""
    emulsion = "emulsion" in map(evening.kind, evening.ends)
    if step.key == "fill" and not emulsion and all(_known(evening, step, "", first=True)):
        return ()
    return tuple(view.of_kinds(evening, step))


def _label(evening: Evening, step: Step, name: str) -> str:
    """What is read, and its unit."""
    if step.key == view.FIRST:
        return NAME.said
    if not name:
        return tr("ready at, time of day") if step.timed else ""
    unit = units.symbol_text(READINGS[name].entry.kind, evening.system)
    return f"{tr(_CALLED[name])}, {unit}" if _CALLED[name] else unit


def _slot(evening: Evening, step: Step, name: str, corner: Corner, first: bool) -> Slot | None:
    if corner not in evening.at(step.key):
        return None
    named = step.key == view.FIRST
    return Slot(
        box=first,
        done=evening.is_done(step.key, corner),
        writes=name in evening.reads(step.key, corner) or step.timed or named,
        value=evening.name(corner) if named else _read(evening, name, corner),
    )


def _read(evening: Evening, name: str, corner: Corner) -> str:
    """What was read and holds."""
    read = evening.reading(name, corner) if name else None
    if read is None:
        return BLANK
    return units.number_text(read.value, READINGS[name].entry.kind, evening.system)


def _known(evening: Evening, step: Step, name: str, first: bool) -> tuple[str, ...]:
    """What the car says of each end to a reading or a step, marked where nobody measured it; blank
    where it is not known. Empty where there is nothing to know."""
    car, system = evening.car, evening.system
    if name in _WANTED:
        path, decimals = _WANTED[name]
        return tuple(value(car, path.format(end=end), system, decimals) for end in evening.ends)
    if not first or step.key not in _OF_STEP:
        return ()
    needs, says = _OF_STEP[step.key]
    found = []
    for end in evening.ends:
        if not set(end.corners) & set(evening.at(step.key)):
            found.append(_NONE)
            continue
        paths = [path.format(end=end) for path in needs]
        known = all(is_known(car, path) for path in paths)
        found.append(says(evening, end) + mark(car, *paths) if known else BLANK)
    return tuple(found)


def _holes(evening: Evening, end: End) -> str:
    axle = evening.car.axle(end)
    size = units.show_to(axle.hole, "length", evening.system, 1)
    return f"{axle.holes:.0f}{NBSP}×{NBSP}{size}"


def _thread(evening: Evening, end: End) -> str:
    least, _ = least_engagement(evening.car.rod_end.thread, "plastic")
    places = units.places(1, "length", evening.system)
    return f"≥{NBSP}{units.number_text(least, 'length', evening.system, places)}"


def _fill(evening: Evening, end: End) -> str:
    """What goes in first, of how much; in an emulsion all of it."""
    first, held = (
        units.number_text(one, "volume", evening.system, 1)
        for one in (first_fill(evening.car, end), evening.car.axle(end).inside.held)
    )
    all_ = f"{held}{NBSP}{units.symbol_text('volume', evening.system)}"
    if evening.kind(end) == "emulsion":
        return all_
    return tr("{first} of {all}", first=first, all=all_)


def _rest(evening: Evening, end: End) -> str:
    longest, shortest = rest_times(evening.car, end)
    first, last = wait_range(shortest, longest)
    return tr("{shortest} to {longest}", shortest=first, longest=last)


def _preload(evening: Evening, end: End) -> str:
    turns = preload_turns(evening.car, end)
    arrow = up_or_down(turns)
    one = 0 < abs(turns) <= 1
    return tr("then {arrow} turn", arrow=arrow) if one else tr("then {arrow} turns", arrow=arrow)


def _alike(evening: Evening, end: End) -> str:
    """For the pencil where nothing is proved either way."""
    said = verdict(evening, end).says
    if said in _VERDICTS:
        return tr(_VERDICTS[said])
    return tr("{end}: {text}", end=end_letter(end), text=tr("yes / no"))


_OF_STEP: Mapping[str, tuple[tuple[str, ...], Callable[[Evening, End], str]]] = {
    "pistons": (("{end}.holes", "{end}.hole"), _holes),
    "rod_end": (("rod_end.thread",), _thread),
    "fill": (("{end}.inside.held",), _fill),
    "rest": (("{end}.oil", "{end}.inside.length"), _rest),
    "pair": ((), _alike),
    "touch": (("{end}.spring_free", "{end}.droop_length", "{end}.pitch"), _preload),
}
"""What a step says of an end, and the values of the car that it rests on."""


def _cautions(evening: Evening) -> Iterator[str]:
    """What can hurt, with the numbers of the steps at which it does."""
    places: dict[Danger, list[str]] = {}
    steps = [(str(n), step_at(key)) for n, key in enumerate(evening.steps, 1)]
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
