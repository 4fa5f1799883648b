"""Whether a change of the code has changed a letter of what is said.

    python tests/bench/same_letters.py record FILE [--count 2400] [--seed 1]   before the change
    python tests/bench/same_letters.py compare FILE                            after it

Records questions with their answers: every form in every choice, language and unit system with
entries at random (from the usual and from the whole possible range, with uncertainties, and wrong
ones), all that is done at the log, set-ups and cars when the memory image is made, and the sheet.
The comparison asks the recorded questions again and prints what differs, the first places whole.
"""

from __future__ import annotations

import argparse
import difflib
import importlib
import json
import random
import re
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, nullcontext
from pathlib import Path
from types import ModuleType
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

SHOWN = 12


def found(*names: str) -> ModuleType:
    """The first of these modules that there is: places change, which is what this is for."""
    for name in names:
        try:
            return importlib.import_module(name)
        except ModuleNotFoundError as missing:
            if not name.startswith(missing.name or "-"):
                raise
    raise SystemExit(f"none of these is here: {', '.join(names)}")


live = found("site_src.live.worker", "site_src.live.questions", "site_src.live")
use = found("site_src.build.image.use")
language = found("calc.language")
units = found("calc.units")
Asked = list[tuple[dict[str, Any], str, str]]


def answer(question: Mapping[str, Any], code: str) -> str:
    """The reply as the page would get it."""
    speaking = nullcontext() if code == language.ENGLISH else language.speaking(code)
    with speaking:
        reply: str = live.answer(json.dumps(question))
    return reply


def entries(form: Any, chance: random.Random) -> dict[str, str]:
    """Something in some fields of a form; a form says itself which choices there are."""
    texts: dict[str, str] = {}
    share = chance.choice((0.02, 0.1, 0.4, 0.9))
    wild = chance.choice((0.0, 0.0, 0.1, 0.5))
    for _, name, cell in form.cells():
        kind = type(cell).__name__
        if kind == "Choice":
            if chance.random() < 0.8:
                texts[name] = chance.choice(cell.options)[0]
        elif kind == "Number" and chance.random() < share:
            low, high = cell.possible if chance.random() < wild else cell.usual
            value = chance.uniform(low, high)
            text = units.entry_text(round(value) if cell.whole else value, cell.kind)
            uncertainty = f" ± {chance.uniform(0, 20):.2f} %" if chance.random() < 0.05 else ""
            texts[name] = (
                chance.choice(("", "-3", "two", "1,000"))
                if chance.random() < 0.01
                else (text + uncertainty)
            )
    return texts


def questions(count: int, seed: int) -> Iterator[tuple[dict[str, Any], str]]:
    """Questions to ask, each with its language."""
    forms = found("calc.forms.catalogue").FORMS
    chance = random.Random(seed)
    for number in range(count):
        form = forms[number % len(forms)]
        code = list(language.NAMES)[number // len(forms) % len(language.NAMES)]
        system = chance.choice(units.SYSTEMS)
        typed = {} if number < len(forms) * 3 else entries(form, chance)
        asked = {"form": form.slug, "typed": typed, "car": None, "system": system}
        for what in ("answer", "doubts", "figures"):
            yield {"ask": what, **asked}, code
        if number % 5 == 0:
            for what in ("keep", "done"):
                yield {"ask": what, **asked, "at": None}, code
    blank = {"car": None, "made": "", "blocks": None, "address": "", "today": ""}
    for code in language.NAMES:
        for system in units.SYSTEMS:
            for size in ("one", "two", "pocket", "pocket-letter"):
                yield {"ask": "sheet", **blank, "system": system, "size": size}, code
        yield from ((question, code) for question in warm_up())


def warm_up() -> list[dict[str, Any]]:
    """Every question that is asked when the memory image is made."""
    asked: list[dict[str, Any]] = []

    @contextmanager
    def listening() -> Iterator[None]:
        own = live.answer

        def listen(request: str) -> str:
            asked.append(json.loads(request))
            reply: str = own(request)
            return reply

        live.answer = listen
        try:
            yield
        finally:
            live.answer = own

    with listening():
        use.use_everything()
    return asked


def record(file: Path, count: int, seed: int) -> None:
    recorded = 0
    with file.open("w", encoding="utf-8") as out:
        for question, code in questions(count, seed):
            line = {"question": question, "language": code, "reply": answer(question, code)}
            out.write(json.dumps(line) + "\n")
            recorded += 1
    print(f"{recorded} questions recorded")


def compare(file: Path) -> int:
    differ = count = 0
    kinds: dict[str, int] = {}
    for line in file.read_text("utf-8").splitlines():
        told = json.loads(line)
        count += 1
        now = answer(told["question"], told["language"])
        if now == told["reply"]:
            continue
        differ += 1
        name = f"{told['question']['ask']} {told['question'].get('form', '')}"
        kinds[name] = kinds.get(name, 0) + 1
        if differ <= SHOWN:
            print(f"\n{told['language']} {json.dumps(told['question'])[:400]}")
            before, after = (re.sub(r"(</?\w|\\n|, \")", r"\n\1", t) for t in (told["reply"], now))
            changed = difflib.unified_diff(
                before.splitlines(), after.splitlines(), n=0, lineterm=""
            )
            print("\n".join(row[:300] for row in list(changed)[2:14]))
    print(f"\n{count} questions asked again: {differ} replies differ")
    for name, times in sorted(kinds.items(), key=lambda one: -one[1]):
        print(f"  {times:5} {name}")
    return bool(differ)


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("task", choices=("record", "compare"))
    parser.add_argument("file", type=Path)
    parser.add_argument("--count", type=int, default=2400)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    if options.task == "compare":
        return compare(options.file)
    record(options.file, options.count, options.seed)
    return 0


if __name__ == "__main__":
    sys.exit(main())
