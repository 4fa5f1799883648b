"""Run in the browser's Python when the memory image is made: use everything once.

What is imported, compiled and rendered here is there at once when the image is restored.
"""

import gc
import json
from dataclasses import replace
from typing import get_args

from calc.forms.catalogue import FORMS
from calc.kept import log
from calc.kept.link import pack
from calc.kept.log import Entry
from calc.kept.setups import setup_json
from calc.model.car import Car, to_json
from calc.replying.form import Form
from site_src.both.garage import CarLine, SetupLine
from site_src.live import questions as q
from site_src.live import worker as live
from site_src.live.questions import QUESTIONS, A, Question, R
from site_src.live.wire import reader, written

_asked: set[str] = set()


_AT = q.Moment("1", "2", 1.0, 0.0, based=False, newest=None)


def use_everything() -> None:
    """Answer every question that the page can ask, for the demo car, in every system."""
    for system in get_args(q.System):
        for form in FORMS:
            _use_form(form, system)
        _use_sheet(system)
        _use_garage(system)
        typed = {form.slug: _nonsense(form) for form in FORMS}
        _ask(q.CONVERT, q.ConvertAsked(all=typed, before="metric", system=system))
    if left := QUESTIONS.keys() - _asked:
        raise LookupError(f"never asked when the image is made: {', '.join(sorted(left))}")


def _use_form(form: Form, system: q.System) -> None:
    asked = q.OfForm(form=form.slug, typed={}, car=None, system=system)
    to_write = q.Written(form=form.slug, typed={}, car=None, system=system, at=_AT)
    _ask(q.ANSWER, asked)
    _ask(q.DOUBTS, asked)
    _ask(q.FIGURES, asked)
    _ask(q.KEEP, to_write)
    _ask(q.DONE, to_write)
    _ask(q.ASSUME, to_write)
    _ask(q.ANSWER, replace(asked, typed=_nonsense(form)))
    name = next(name for _, name, _ in form.cells())
    field = q.UnitAsked(form=form.slug, name=name, text="1", first="1", car=None, system=system)
    _ask(q.UNIT, field)


def _nonsense(form: Form) -> dict[str, str]:
    """Something that cannot be understood in every field: the way to every refusal."""
    return {name: "?" for _, name, _ in form.cells()}


def _use_sheet(system: q.System) -> None:
    for size in ("one", "build"):
        blank = q.SheetAsked(
            car=None, system=system, made="", size=size, blocks=None, build={}, address="", today=""
        )
        _ask(q.SHEET, blank)


def _use_garage(system: q.System) -> None:
    """A line of each kind in the log, a set-up, a backup brought back, a car by link."""
    at, car, lines = _AT, Car(), list[Entry]()
    for act in (
        q.Act(kind="turn", corner="rear_left", turns="0.25"),
        q.Act(kind="check", corner="rear_left", way="up", turns="1/8"),
        q.Act(kind="note", note="?"),
        q.Act(kind="base"),
    ):
        made = _ask(q.COLLAR, q.CollarAsked(car=car, at=at, act=act))
        car, lines = made.car, [*lines, *(made.log or ())]
    entries = tuple(lines)
    home = q.Act(kind="home", base=entries[0])
    _ask(q.COLLAR, q.CollarAsked(car=car, at=at, act=home))
    _ask(q.UNDO, q.UndoAsked(car=car, entry=entries[1], system=system))
    typed = q.TypedIn(form="collar-turns", typed={"pitch": "0.9"}, typed_at=(("pitch", 0.5, ()),))
    _ask(q.UNSAVED, q.UnsavedAsked(car=car, forms=(typed,), system=system, lines=()))
    _ask(q.LOG, q.LogAsked(car=car, entries=entries, now=2.0, zone=0.0, system=system))
    _use_build(car, at, system)
    _ask(q.CSV, q.CsvAsked(entries=entries, names={"2": "?"}))
    _use_setups(car, at, system)
    _ask(q.CARS, q.CarsAsked(cars=(CarLine(id="2", name="?", demo=True),), current="2"))
    _ask(q.SHARE, q.ShareAsked(car=car, address="https://example.org/"))
    _ask(q.ANOTHER, q.AnotherAsked(car=None, copies=False, names=()))
    _use_backup(car, entries)
    _ask(q.RECEIVED, q.ReceivedAsked(text=pack(Car()), names={}))


_LENGTHS = {
    "front_left": "70 mm", "front_right": "71 mm", "rear_left": "90 mm", "rear_right": "90 mm",
}  # fmt: skip


def _use_build(car: Car, at: q.Moment, system: q.System) -> None:
    """A pair that is alike and one that is not, a damper that went back, a step of one's own."""
    texts = {
        "kind.rear": "emulsion", "own.own-1": "?", "tick.rest.front_left": "again",
        "tick.fill.rear_left": "1", "name.front_left": "?", "read.hang.front_left": "?",
        **{f"read.length.{corner}": text for corner, text in _LENGTHS.items()},
        **{f"read.closed.{corner}": "10 mm" for corner in _LENGTHS},
    }  # fmt: skip
    _ask(q.BUILD, q.BuildAsked(car=car, texts=texts, system=system, lines=()))
    del texts["read.hang.front_left"]
    done = q.BuildWritten(car=car, typed=texts, system=system, at=at, given_up=False)
    lines = _ask(q.BUILT, done).log or ()
    _ask(q.BUILT, replace(done, given_up=True))
    ran = q.DamperAsked(car=car, at=at, did="ran", name="", corner="", lines=lines)
    _ask(q.DAMPER, ran)
    _ask(q.DAMPER, replace(ran, did="fitted", name="?", corner="rear_left"))
    _ask(q.BUILD, q.BuildAsked(car=car, texts={}, system=system, lines=lines))


def _use_setups(car: Car, at: q.Moment, system: q.System) -> None:
    _ask(q.SETUP, q.SetupAsked(typed={}, car=None, system=system))
    head = SetupLine(id="3", name="?", date="2031-05-24", surface="", temperature=295.15, note="")
    _ask(q.SETUPS, q.SetupsAsked(heads=(head,), system=system))
    one, other = (
        q.Compared(name="?", car=Car(), now=True),
        q.Compared(name="?", car=car, id="3"),
    )
    _ask(q.COMPARE, q.CompareAsked(one=one, other=other, system=system))
    _ask(q.TAKE, q.TakeAsked(car=car, at=at, wanted=Car(), name="?"))


def _use_backup(car: Car, entries: tuple[Entry, ...]) -> None:
    saved = q.SetupAsked(typed={"name": "?", "date": "2031-05-24"}, car=car, system="metric")
    setup = _ask(q.SETUP, saved).setup
    assert setup is not None
    numbered = (replace(entry, id=str(number)) for number, entry in enumerate(entries))
    kept = q.BackupAsked(
        now=1.0,
        cars=[{"id": "2", "changed": 1.0, "car": to_json(car)}],
        setups=[{"id": "3", "changed": 1.0, "owner": "2", "setup": setup_json(setup)}],
        log=[log.to_json(entry) for entry in numbered],
        builds=[{"car": "2", "texts": {"due": {"text": "5", "system": "metric", "time": 1.0}}}],
    )
    text = _ask(q.BACKUP, kept).text
    for way in get_args(q.Way):
        empty = q.RestoreAsked(text=text, way=way, zone=0.0, cars={}, setups={}, log=(), builds=[])
        _ask(q.RESTORE, empty)


def _ask(question: Question[A, R], asked: A) -> R:
    """The reply, by way of its JSON as the page would get it."""
    _asked.add(question.name)
    told = {"ask": question.name, **written(asked)}
    reply: R = reader(question.reply)(json.loads(live.answer(json.dumps(told))))
    return reply


if __name__ == "__main__":
    use_everything()
    gc.collect()
    gc.freeze()  # all of this stays for good: no collection need ever look through it again
