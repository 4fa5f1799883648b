"""An answer as plain text, and as plain values for JSON. The page shows its numbers by the same
`quantity_text`."""

from collections.abc import Iterable
from typing import Any

from calc import units
from calc.answering.answer import Answer, Quantity, Step, Table
from calc.answering.hand import give_or_take
from calc.answering.uncertainty import COVERAGE
from calc.language import tr
from calc.replying.form import Reply

_INDENT = "  "


def quantity_text(quantity: Quantity, system: str = units.METRIC) -> str:
    """The value as it is shown: "12.50 ± 0.13 mm", where ± is the expanded uncertainty (k = 2), or
    "0.15 (0.10 to 0.28) N" where the interval reaches further on one side.

    The uncertainty says how many decimals there are; one too small to be seen is left out.
    """
    kind, unit = quantity.kind, units.unit_of(quantity.kind, system)
    width = _width(quantity, system)
    if not width:
        return units.show(quantity.value, kind, system, quantity.decimals)
    places = _places(quantity, system)
    number = units.number_text(quantity.value, kind, system, places)
    symbol = units.symbol_text(kind, system)
    if quantity.ends is None:
        within = f"±{units.NBSP}{units.spelt(width)}"
    else:
        below, above = quantity.ends
        low, high = (
            units.number_text(end, kind, system, places)
            for end in (quantity.value - below, quantity.value + above)
        )
        within = f"({tr('{low} to {high}', low=low, high=high)})"
    return f"{number}{units.NBSP}{within}{units.gap(unit)}{symbol}"


def _places(quantity: Quantity, system: str) -> int:
    """Decimals that show the uncertainty, or the nearer of two ends, with two digits."""
    u = quantity.u
    if quantity.ends is not None:
        u = min((end for end in quantity.ends if end > u / 4), default=u) / COVERAGE
    return units.decimals_for(u, quantity.kind, system)


def _width(quantity: Quantity, system: str) -> str:
    """The expanded uncertainty in digits, empty where none of them would be more than 0."""
    places = _places(quantity, system)
    width = abs(COVERAGE * quantity.u / units.unit_of(quantity.kind, system).factor)
    shown = f"{width:.{places}f}"
    return shown if shown.strip("0.") else ""


def is_doubted(quantity: Quantity, system: str = units.METRIC) -> bool:
    """Whether the value is shown with a ±. What makes the last bits of a figure that cannot move
    is no news, and differs between machines."""
    return bool(_width(quantity, system))


def main_text(quantity: Quantity, system: str = units.METRIC) -> str:
    """Which input makes most of the ± ("63% of the ± comes from: Spring rate"), or nothing."""
    if not quantity.main_label or not is_doubted(quantity, system):
        return ""
    share = f"{100 * quantity.main_share:.0f}"
    return tr("{share}% of the ± comes from: {entry}", share=share, entry=quantity.main_label)


def answer_text(answer: Answer, system: str = units.METRIC) -> str:
    """The whole answer, instructions first and above them only what stops them; pictures are left
    to the page."""
    blocks = [
        "\n".join((*_stops(answer), *_steps(answer.workable))),
        _quantities(answer.quantities, system),
        "\n".join(tr("Caution: {text}", text=c.text) for c in answer.all_cautions if not c.stop),
        *(table_text(table) for table in answer.tables),
        _working(answer),
    ]
    return "\n\n".join(block for block in blocks if block)


def _steps(answer: Answer) -> list[str]:
    lines = []
    for number, step in enumerate(answer.steps, 1):
        lines.append(f"{number}. {step.text}")
        if doubt := give_or_take(step, answer.quantities):
            lines.append(f"   {doubt.says}")
        if step.gives:
            lines.append(f"   {step.gives}")
    return lines


def _stops(answer: Answer) -> list[str]:
    return [tr("STOP: {text}", text=caution.text) for caution in answer.cautions if caution.stop]


def _quantities(quantities: Iterable[Quantity], system: str) -> str:
    rows = [(q.label, quantity_text(q, system), main_text(q, system), q.note) for q in quantities]
    if not rows:
        return ""
    return "\n".join(
        [tr("Figures (the ± or the range covers about 95 cases in 100)"), *_columns(rows)]
    )


def table_text(table: Table) -> str:
    """The table in columns; ">" stands before the row to find first."""
    lines = _columns([table.heads, *table.rows])
    marked = [f"{'>' if n and n == table.mark + 1 else ' '} {line}" for n, line in enumerate(lines)]
    return "\n".join([table.title, *marked])


def _columns(rows: Iterable[tuple[str, ...]]) -> list[str]:
    rows = list(rows)
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        (
            _INDENT + _INDENT.join(f"{cell:{w}}" for cell, w in zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _working(answer: Answer) -> str:
    lines = []
    for working in answer.working:
        lines += [f"{_INDENT}{working.relation}", f"{_INDENT * 2}{working.filled}"]
        if working.source:
            lines.append(f"{_INDENT * 2}[{working.source}]")
    return "\n".join([tr("Working"), *lines]) if lines else ""


def reply_data(slug: str, reply: Reply, system: str = units.METRIC) -> dict[str, Any]:
    """The reply as JSON values. A quantity's `value` is in its `unit`; `si`, its standard
    uncertainty `u` and the ends of its interval, `low` and `high`, are SI; `text` is what a page
    shows. Cautions stand before the steps, because a stop is to be read first."""
    answer = reply.answer or reply.early or Answer(())
    return {
        "slug": slug,
        "cautions": [{"text": c.text, "stop": c.stop} for c in answer.all_cautions],
        "steps": [_step_data(step, answer) for step in answer.workable.steps],
        "quantities": {q.name: _quantity_data(q, system) for q in answer.quantities},
        "tables": [
            {"title": t.title, "heads": t.heads, "rows": t.rows, "mark": t.mark}
            for t in answer.tables
        ],
        "problems": dict(reply.problems),
        "unusual": dict(reply.unusual),
        "open": list(reply.open),
        "origins": {name: source.how for name, source in reply.sources.items()},
    }


def _step_data(step: Step, answer: Answer) -> dict[str, str]:
    doubt = give_or_take(step, answer.quantities)
    return {"text": step.text, "doubt": doubt.says if doubt else "", "gives": step.gives}


def _quantity_data(quantity: Quantity, system: str) -> dict[str, Any]:
    unit = units.unit_of(quantity.kind, system)
    below, above = quantity.reach
    return {
        "value": unit.from_si(quantity.value),
        "unit": unit.symbol,
        "si": quantity.value,
        "u": quantity.u,
        "low": quantity.value - below,
        "high": quantity.value + above,
        "text": quantity_text(quantity, system),
        "label": quantity.label,
    }
