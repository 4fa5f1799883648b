"""The charts read back at random places from their printed geometry, as a table: by an edge laid
exactly, and by a hand that is off by 0.3 mm at each point laid, marked or read.

    python3 -m tests.bench.rulers [COUNT]
"""

import sys

from site_src.pages.charts.book import MAKERS, POCKET_MAKERS
from site_src.pages.charts.draw import PAGE, POCKET
from site_src.pages.charts.scale import OFF
from tests.site.straight_edge import ABSOLUTE, QUESTIONS, errors

if __name__ == "__main__":
    count = int(sys.argv[1]) if sys.argv[1:] else 200
    print("chart | paper | exact, median | exact, most | by hand, median | by hand, 19 of 20")
    print("---|---|---|---|---|---")
    for paper, makers in ((PAGE, MAKERS), (POCKET, POCKET_MAKERS)):
        drawn = {make(paper).key for make in makers}
        for question, (key, _) in QUESTIONS.items():
            if key not in drawn:
                continue
            exact = errors(paper, question, count, 0.0)
            shaky = errors(paper, question, count, OFF)
            places = (exact[count // 2], exact[-1], shaky[count // 2], shaky[count * 19 // 20])
            unit, factor = ("mm", 1) if question in ABSOLUTE else ("%", 100)
            shown = " | ".join(f"{factor * place:.2f} {unit}" for place in places)
            print(question, paper.key, shown, sep=" | ")
