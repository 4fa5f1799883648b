"""Run in the browser's Python when the memory image is made: use everything once.

What is imported, compiled and rendered here is there at once when the image is restored.
"""

import gc
import json
from typing import Any

from calc import units
from calc.forms.catalogue import FORMS
from calc.kept.link import pack
from calc.model.car import Car, to_json
from site_src.live import questions as live


def use_everything() -> None:
    """Answer every question that the page can ask, for the demo car, in every system."""
    for system in units.SYSTEMS:
        for form in FORMS:
            for question in ("answer", "figures", "keep", "done"):
                _ask(ask=question, form=form.slug, system=system)
            _ask(ask="answer", form=form.slug, system=system, typed=_nonsense(form.slug))
        _ask(ask="sheet", system=system, made="")
        typed = {form.slug: _nonsense(form.slug) for form in FORMS}
        _use_garage(system)
        _ask(ask="convert", all=typed, before=units.METRIC, system=system)


def _use_garage(system: str) -> None:
    """A line of each kind in the log, a set-up, a backup brought back, a car by link."""
    at = {"id": "1", "car": "2", "time": 1.0, "zone": 0.0, "based": False}
    lines: list[Any] = []
    car = to_json(Car())
    for act in (
        {"kind": "turn", "corner": "rear_left", "turns": "0.25"},
        {"kind": "check", "corner": "rear_left", "way": "up", "turns": "1/8"},
        {"kind": "note", "note": "?"},
        {"kind": "base"},
    ):
        reply = _ask(ask="collar", car=car, at=at, act=act)
        car, lines = reply["car"], [*lines, *reply["log"]]
    _ask(ask="collar", car=car, at=at, act={"kind": "home", "base": lines[0]})
    _ask(ask="undo", car=car, entry=lines[1])
    _ask(ask="log", car=car, entries=lines, now=2.0, zone=0.0, system=system)
    _ask(ask="csv", entries=lines, names={"2": "?"})
    setup = _ask(ask="setup", typed={"name": "?", "date": "2031-05-24"}, car=car)["setup"]
    _ask(ask="setup", typed={}, system=system)
    head = {**setup, "id": "3", "changed": 1.0, "temperature": 295.15, "car": None}
    _ask(ask="setups", heads=[head], system=system)
    one, other = {"name": "?", "car": to_json(Car()), "now": True}, {"name": "?", "car": car}
    _ask(ask="compare", one=one, other={**other, "id": "3"}, system=system)
    _ask(ask="take", car=car, at=at, wanted=to_json(Car()), name="?")
    _ask(ask="cars", cars=[{"id": "2", "name": "?", "demo": True}], current="2")
    _ask(ask="another", copies=False, names=[])
    cars = [{"id": "2", "changed": 1.0, "car": car}]
    setups = [{"id": "3", "changed": 1.0, "owner": "2", "setup": setup}]
    lines = [{**line, "id": str(number)} for number, line in enumerate(lines)]
    text = _ask(ask="backup", now=1.0, cars=cars, setups=setups, log=lines)["text"]
    for way in ("merge", "replace"):
        empty: dict[str, object] = {"cars": {}, "setups": {}, "log": []}
        _ask(ask="restore", text=text, way=way, zone=0.0, **empty)
    _ask(ask="received", text=pack(Car()), names={})


def _nonsense(slug: str) -> dict[str, str]:
    """Something that cannot be understood in every field: the way to every refusal."""
    (form,) = (form for form in FORMS if form.slug == slug)
    return {name: "?" for _, name, _ in form.cells()}


def _ask(**question: object) -> Any:
    return json.loads(live.answer(json.dumps(question)))


use_everything()
gc.collect()
gc.freeze()  # all of this stays for good: no collection need ever look through it again
