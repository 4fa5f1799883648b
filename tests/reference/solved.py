"""How each form is worked out a second time: read out of the tests themselves.

    python -m tests.reference.solved > tests/reference/SOLVED.md

A test of `tests/forms` counts for the forms that it asks, itself or through functions and names of
its own module, where it uses in the same way a library of general methods or a helper of the tests
that does.
"""

from collections.abc import Iterable, Mapping

from calc.forms.catalogue import FORMS
from tests.reference.reading import ROOT, TAKEN, imported, libraries, parsed, reached, uses_of

FOLDER = ROOT / "tests" / "forms"
RECORDS = {"car"}
"""Forms that keep their entries and work nothing out."""


def _asked(names: Iterable[str], packages: Mapping[str, str]) -> set[str]:
    """Slugs of the forms among names of a module."""
    found = set()
    for name in names:
        if name.startswith(TAKEN):
            found.add(name.removeprefix(TAKEN))
        room = packages.get(name, "")
        if room.startswith("calc.forms.") and room.endswith(".form"):
            found.add(room.split(".")[2].replace("_", "-"))
    return found


def solved() -> dict[str, dict[str, set[str]]]:
    """Slug -> test -> libraries, of every form in the order of the catalogue."""
    found: dict[str, dict[str, set[str]]] = {form.slug: {} for form in FORMS}
    for path in sorted(FOLDER.glob("test_*.py")):
        tree = parsed(path)
        uses, behind, packages = uses_of(tree), libraries(path), imported(tree)
        for test in (name for name in uses if name.startswith("test_")):
            names = reached(test, uses)
            by = set().union(*(behind[name] for name in names if name in behind))
            for slug in _asked(names, packages) if by else ():
                found[slug][f"{path.stem}.{test}"] = by
    return found


def table() -> str:
    """The table as Markdown."""
    lines = [
        "# How each form is worked out a second time",
        "",
        "Printed by `python -m tests.reference.solved`, which reads it out of the tests.",
        "",
        "| form | tests | by |",
        "|---|---|---|",
    ]
    for slug, tests in solved().items():
        by = ", ".join(sorted(set().union(*tests.values())))
        what = "; ".join(test.partition(".test_")[2].replace("_", " ") for test in tests)
        lines.append(f"| {slug} | {what or 'keeps its entries'} | {by or '-'} |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    print(table(), end="")
