"""Ask every form about extreme cars: which replies take longest, and whether any is none.

    python -m tests.bench.extreme [NUMBER]

Prints the slowest replies in seconds of processor time with the number of their case, which
`case` in tests/forms/extreme.py makes again; an exception ends it.
"""

import sys
import time

from calc.forms.catalogue import FORMS
from calc.replying.reading import run
from tests.forms.extreme import case

LONG = 0.2  # s of processor
SHOWN = 10


def main(count: int) -> None:
    times: list[tuple[float, str, int]] = []
    answers = 0
    for seed in range(count):
        form, car, typed, system = case(seed)
        before = time.process_time()
        try:
            answers += run(form, typed, car, system).answer is not None
        except Exception:
            print(f"case {seed} of {form.slug} is no answer and no sentence", flush=True)
            raise
        times.append((time.process_time() - before, form.slug, seed))
    times.sort(reverse=True)
    long = sum(taken > LONG for taken, *_ in times)
    print(f"{count} questions to {len(FORMS)} forms, {answers} answers; {long} above {LONG} s")
    for taken, slug, seed in times[:SHOWN]:
        print(f"{taken:.3f} s  {slug}  case {seed}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000)
