"""The command line: the same answers as the page, as text or as JSON.

python -m calc --list
python -m calc SLUG --fields
python -m calc SLUG name=value ... [--json] [--system imperial] [--language de]
    [--car FILE.json | --own] [--assume]
"""

import argparse
import json
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path

from calc import units
from calc.asking.entry import Choice, Entry, Number, Refused, Text, shown
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.kept.deeds import carried_out
from calc.kept.doing import assumed
from calc.language import ENGLISH, NAMES, speaking, tr
from calc.model.car import Car, demo, empty, from_json
from calc.replying.form import Form, Reply
from calc.replying.plain import answer_text, reply_data
from calc.replying.reading import run
from calc.replying.resting import not_known, resting

_WRONG = 2  # exit code for wrong input, as for wrong options


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; the exit code is 0, or 2 for wrong input."""
    with speaking(_language(arguments)):
        return _main(arguments)


def _language(arguments: Sequence[str] | None) -> str:
    """The language asked for; it is read first, so that all else is said in it."""
    first = argparse.ArgumentParser(add_help=False, allow_abbrev=False, exit_on_error=False)
    first.add_argument("--language", choices=NAMES, default=ENGLISH)
    try:
        asked: str = first.parse_known_args(arguments)[0].language
    except argparse.ArgumentError:
        return ENGLISH  # refused with all that can be asked for, in a moment
    return asked


def _main(arguments: Sequence[str] | None) -> int:
    options = _options().parse_intermixed_args(arguments)
    if options.list or options.slug is None:
        print("\n".join(form.slug for form in FORMS))
        return 0
    form = BY_SLUG.get(options.slug)
    if form is None:
        return _refuse(
            [
                tr("{slug}: no such form; the nearest is {nearest}.",
                   slug=options.slug, nearest=_nearest(options.slug, BY_SLUG))
            ]
        )  # fmt: skip
    if options.fields:
        print("\n".join(_field_lines(form, options.system)))
        return 0
    try:
        typed = _typed(form, options.entries)
        car = _car_of(options)
        if options.assume:
            car = carried_out(car, assumed(form, typed, car, when=0.0))
    except Refused as refused:
        return _refuse([str(refused)])
    return _answer(form, typed, car, options)


def _options() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m calc",
        description=tr("The answers of the bench on the command line."),
        epilog=tr(
            "Values not given come from the car: that of a file, or the demo car. With "
            "--own it is a car of which nothing is known yet; with --assume usual values "
            "stand in for the rest."
        ),
        allow_abbrev=False,
    )
    parser.add_argument("slug", nargs="?", help=tr("which form; --list names them"))
    parser.add_argument("entries", nargs="*", metavar="name=value", help=tr("--fields names them"))
    parser.add_argument("--list", action="store_true", help=tr("the forms"))
    parser.add_argument("--fields", action="store_true", help=tr("the fields of the form"))
    parser.add_argument("--json", action="store_true", help=tr("the answer as JSON"))
    parser.add_argument("--system", choices=units.SYSTEMS, default=units.METRIC)
    parser.add_argument("--car", metavar="FILE.json", type=Path, help=tr("a car record"))
    parser.add_argument("--own", action="store_true", help=tr("a car of which nothing is known"))
    parser.add_argument("--assume", action="store_true", help=tr("use what is usual for the rest"))
    parser.add_argument("--language", choices=NAMES, default=ENGLISH)
    return parser


def _refuse(sentences: Sequence[str]) -> int:
    print("\n".join(sentences), file=sys.stderr)
    return _WRONG


def _nearest(name: str, known: Mapping[str, object] | Sequence[str]) -> str:
    return get_close_matches(name, list(known), n=1, cutoff=0.0)[0]


def _car_of(options: argparse.Namespace) -> Car:
    if options.car is not None:
        return _car(options.car)
    return empty(tr("Your car")) if options.own else demo()


def _car(path: Path) -> Car:
    try:
        return from_json(json.loads(path.read_text(encoding="utf-8")))
    except OSError as error:
        why = error.strerror
        raise Refused(tr("{file}: cannot be read ({why}).", file=path, why=why)) from None
    except (ValueError, RecursionError) as error:
        if isinstance(error, Refused):
            raise
        raise Refused(tr("{file}: this is not JSON.", file=path)) from None


def _typed(form: Form, entries: Sequence[str]) -> dict[str, str]:
    """What was given by name. Raises Refused for a name that the form does not know."""
    names = [name for _, name, _ in form.cells()]
    typed = {}
    for entry in entries:
        name, equals, value = entry.partition("=")
        if name not in names:
            raise Refused(
                tr("{name}: {slug} has no such field; the nearest is {nearest}.",
                   name=name, slug=form.slug, nearest=_nearest(name, names))
            )  # fmt: skip
        if not equals:
            raise Refused(tr("{name}: a value is missing; write {name}=VALUE.", name=name))
        typed[name] = value
    return typed


def _answer(form: Form, typed: Mapping[str, str], car: Car, options: argparse.Namespace) -> int:
    reply = run(form, typed, car, options.system)
    reply = _without_idle(form, typed, reply)
    if options.json:
        data = reply_data(form.slug, reply, options.system)
        print(json.dumps(data, ensure_ascii=False, allow_nan=False, indent=2))
    if reply.answer is None:
        missing = not_known(form, reply, options.system) if not reply.problems else ()
        open_lines = [
            tr(
                "{field}: {label} is not known yet; usual is {range}.",
                field=one.name,
                label=one.label,
                range=one.usual,
            )
            for one in missing
        ]
        if reply.early and not options.json:
            print(answer_text(reply.early, options.system))
        return _refuse([*(f"{n}: {why}" for n, why in reply.problems.items()), *open_lines])
    if not options.json:
        print(answer_text(reply.answer, options.system))
        if reply.unusual:
            print("", *reply.unusual.values(), sep="\n")
        rests = resting(form, reply).said
        if rests:
            print(f"\n{rests}")
    return 0


def _without_idle(form: Form, typed: Mapping[str, str], reply: Reply) -> Reply:
    """The reply, refused where a value was given that the choices made leave unread."""
    idle, read = {}, set[str]()
    for entry, name, cell in form.cells():
        when = _when(entry, cell)
        decided = not any(choice in reply.problems for choice in when)
        if not decided or shown(tuple(when.items()), reply.filled):
            read.add(name)  # another field of that name may not be
        elif name in typed:
            idle[name] = tr(
                "{label}: it is asked for only with {when}.", label=cell.said, when=_when_text(when)
            )
    idle = {name: why for name, why in idle.items() if name not in read}
    if not idle:
        return reply
    return Reply(None, {**reply.problems, **idle}, reply.filled)


def _when(entry: Entry, cell: Entry) -> dict[str, frozenset[str]]:
    """Under which choices a field is asked for, those of its rows included."""
    found: dict[str, frozenset[str]] = {}
    for choice, values in entry.when + cell.when:
        found[choice] = found.get(choice, values) & values
    return found


def _when_text(when: Mapping[str, frozenset[str]]) -> str:
    both, either = f" {tr('and')} ", f" {tr('or')} "
    return both.join(f"{name}={either.join(sorted(values))}" for name, values in when.items())


def _field_lines(form: Form, system: str) -> Iterator[str]:
    """Name, unit, label, usual and possible range of every field; rows flat."""
    for entry, name, cell in form.cells():
        unit, told = _told(cell, system)
        when = _when(entry, cell)
        only = "\t" + tr("only with {when}", when=_when_text(when)) if when else ""
        yield f"{name}\t{unit}\t{cell.said}\t{told}{only}"


def _told(cell: Choice | Number | Text, system: str) -> tuple[str, str]:
    if isinstance(cell, Choice):
        return tr("choice"), "; ".join(f"{value}: {words}" for value, words in cell.said_options)
    if isinstance(cell, Text):
        return tr("text"), tr("up to {most} characters", most=cell.longest)
    usual, possible = (cell.range_text(system, which) for which in ("usual", "possible"))
    told = tr("usual {usual}; possible {possible}", usual=usual, possible=possible)
    empty = "; " + tr("may be empty") if cell.optional else ""
    return units.symbol_text(cell.kind, system), told + empty


if __name__ == "__main__":
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(encoding="utf-8")  # type: ignore[union-attr]
    try:
        sys.exit(main())
    except BrokenPipeError:  # the reader, such as `head`, has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
