"""Damage backups and links by chance: whether any is read that is not whole, or fails otherwise.

    python -m tests.bench.hostile [NUMBER]

A damaged text has to be refused in one sentence or to hold the very data it held before; a forged
one, whose sum is right, has to hold data that are stored and read again to the same. Prints what
became of each kind; anything else ends it.
"""

import json
import random
import sys
import time
from collections import Counter
from collections.abc import Callable

from calc.asking.entry import Refused
from calc.kept import backup, link
from calc.model.car import Car
from tests.damaged import altered, is_one_sentence, places
from tests.owned import owned

LONG = 0.2  # s of processor
ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
VALUES = (
    None, True, -1, 10**400, 1e308, "", "x" * 10_000, "\u202e", "<script>alert(1)</script>",
    "__proto__", "constructor", [], {}, [[]], {"car": {}}, "2031-02-30", float("1e-320"),
)  # fmt: skip

CARS = (Car(), owned())
CONTENT = backup.plain(
    backup.Backup(
        1.7e9, tuple(backup.Kept(f"c{n}", 1.7e9, car) for n, car in enumerate(CARS)), (), ()
    )
)
WHOLE = backup.to_text(backup.from_text(json.dumps({**CONTENT, "sum": backup._sum(CONTENT)})))
LINKS = tuple(link.pack(car) for car in CARS)
PLACES = [path for path in places(CONTENT) if path]


def cut(chance: random.Random, text: str) -> str:
    start, end = sorted(chance.sample(range(len(text) + 1), 2))
    return text[:start] + text[end:]


def spoilt(chance: random.Random, text: str, letters: str) -> str:
    made = list(text)
    for _ in range(chance.choice((1, 1, 1, 2, 5, 50))):
        made[chance.randrange(len(made))] = chance.choice(letters)
    return "".join(made)


def damaged_backup(chance: random.Random) -> str:
    """The file cut or overwritten; what is left has the same data or none."""
    damage = chance.choice((cut, lambda c, text: spoilt(c, text, '0e"}\\\n {[,:-x\uffff')))
    text = damage(chance, WHOLE)
    try:
        read = backup.from_text(text)
    except Refused as refused:
        assert is_one_sentence(str(refused)), refused
        return "refused"
    assert backup.to_text(read) == WHOLE, "taken for whole"
    return "the same data"


def forged_backup(chance: random.Random) -> str:
    """Any value elsewhere, with the sum that belongs to it."""
    content = CONTENT
    for _ in range(chance.choice((1, 1, 2, 4))):
        try:
            content = altered(content, chance.choice(PLACES), chance.choice(VALUES))
        except (KeyError, IndexError, TypeError):
            return "nothing there any more"
    try:
        read = backup.from_text(json.dumps({**content, "sum": backup._sum(content)}))
    except Refused as refused:
        assert is_one_sentence(str(refused)), refused
        return "refused"
    assert backup.from_text(backup.to_text(read)) == read
    return "read"


def damaged_link(chance: random.Random) -> str:
    number = chance.randrange(len(LINKS))
    damage = chance.choice((cut, lambda c, text: spoilt(c, text, ALPHABET)))
    text = damage(chance, LINKS[number])
    try:
        read = link.unpack(text)
    except Refused as refused:
        assert is_one_sentence(str(refused)), refused
        return "refused"
    assert read == link.unpack(LINKS[number]), "taken for whole"
    return "the same data"


def address(chance: random.Random) -> str:
    """Letters by chance behind the mark of a link."""
    letters = chance.choice((ALPHABET, ALPHABET + "0189=%#&?/<>'\" é\u202e\x00"))
    text = "".join(chance.choices(letters, k=int(10 ** chance.uniform(0, 4.2))))
    try:
        link.unpack(link.FRAGMENT + chance.choice("123 ") + text)
    except Refused as refused:
        assert is_one_sentence(str(refused)), refused
        return "refused"
    return "read"


KINDS: tuple[tuple[float, Callable[[random.Random], str]], ...] = (
    (0.15, damaged_backup), (0.15, forged_backup), (0.35, damaged_link), (0.35, address),
)  # fmt: skip


def main(count: int) -> None:
    for share, kind in KINDS:
        fates: Counter[str] = Counter()
        slowest = 0.0
        for seed in range(round(count * share)):
            before = time.process_time()
            try:
                fates[kind(random.Random(seed))] += 1
            except BaseException:
                print(f"case {seed} of {kind.__name__}", flush=True)
                raise
            slowest = max(slowest, time.process_time() - before)
        told = ", ".join(f"{number} {fate}" for fate, number in fates.most_common())
        print(f"{kind.__name__}: {told}; slowest {slowest:.3f} s", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
