"""The steps of a card on paper: the widths of their columns, and their height in a width and a
type."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product

from calc.sheet.grid import Line, Slot, Steps, Things
from site_src.both.paper import measure
from site_src.both.paper.measure import (
    PAD_X,
    PAD_Y,
    PIXEL,
    POINT,
    RULE,
    TIGHT,
    small,
    text_width,
)

BOX, BOX_GAP = 4.0, 1.0  # mm: to tick, and before what stands beside it
TICK_ROW, WRITE_ROW = 4.6, 5.9  # the least height of a line, without and with room to write
_MORE_HIGH = 2.0  # what a line to write in has more of where the page has room
_WRITE = 13.5  # room to write a number at least
_MORE = (10.0, 7.0, 4.0, 2.0, 0.0)  # beside that, where it costs no line
_NUMBER = 6.4
THING_GAP = 4.0  # between names in a row
_FACT = 20.0  # what is known of an end


@dataclass(frozen=True)
class LaidLine:
    """A line as it is printed, `height` mm high. The facts of the ends are one where they are
    `alike`."""

    line: Line
    says: tuple[str, ...]
    alike: bool
    dampers: tuple[Slot | None, ...]
    height: float = 0.0

    @property
    def writes(self) -> bool:
        return any(slot and slot.writes for slot in self.dampers)

    @property
    def pixels(self) -> str:
        """Its height in whole pixels of CSS."""
        return f"{self.height // PIXEL:.0f}"

    @property
    def said(self) -> str:
        """Its sentences in a row."""
        return " ".join(self.says)

    @property
    def facts(self) -> tuple[str, ...]:
        return self.line.facts[:1] if self.alike else self.line.facts


@dataclass(frozen=True)
class LaidSteps:
    """Steps as they are printed, their columns in mm."""

    content: Steps
    dampers: tuple[str, ...]
    lines: tuple[LaidLine, ...]
    widths: tuple[float, ...]
    height: float

    @property
    def shares(self) -> tuple[str, ...]:
        whole = sum(self.widths)
        return tuple(f"{100 * wide / whole:.3f}%" for wide in self.widths)

    def stretched(self, room: float) -> "LaidSteps":
        """With higher lines to write in, as far as the room below allows."""
        count = sum(line.writes for line in self.lines)
        more = min(room / count, _MORE_HIGH) if count else 0.0
        if more <= 0:
            return self
        lines = tuple(
            replace(line, height=line.height + more) if line.writes else line for line in self.lines
        )
        return replace(self, lines=lines, height=self.height + more * count)


def lay(steps: Steps, width: float, kind: float, told: int) -> LaidSteps | None:
    """The steps in a width; None where a number or a word would not fit. `told` are
    the sentences that stand: none (0), those of the kind of damper (1), all (2)."""
    found: LaidSteps | None = None
    least = max(_slot_need(steps, kind), BOX + BOX_GAP + _WRITE + 2 * PAD_X)
    facts = _facts_need(steps, kind)
    for fact, more in product(facts, _MORE):  # room to write is worth no line
        laid = _in_columns(steps, width, kind, fact, least + more, told)
        if laid is not None and (found is None or laid.height < found.height - 0.5):
            found = laid
    return found


def _in_columns(
    steps: Steps, width: float, kind: float, fact: float, each: float, told: int
) -> LaidSteps | None:
    """The steps with `fact` mm for what is known of an end, and `each` for a damper."""
    title = width - _NUMBER - fact * len(steps.ends) - each * len(steps.dampers)
    if title < _title_need(steps, kind):
        return None
    widths = (_NUMBER, title, *(fact for _ in steps.ends), *(each for _ in steps.dampers))
    lines = tuple(_laid(line, widths, len(steps.ends), kind, told) for line in steps.lines)
    heads = tuple(measure.clipped(one, each - 2 * PAD_X, kind, True, 1) for one in steps.dampers)
    height = measure.snapped(_line(1, kind) + 2 * PAD_Y + RULE)
    height += sum(one.height for one in lines)
    return LaidSteps(steps, heads, lines, widths, height)


def _laid(line: Line, widths: Sequence[float], ends: int, kind: float, told: int) -> LaidLine:
    says = ((), line.says, (*line.longer, *line.says))[told]
    alike = len(line.facts) > 1 and len(set(line.facts)) == 1 and bool(line.facts[0])
    slots = tuple(_short(slot, widths[-1], kind) for slot in line.slots)
    laid = LaidLine(line, says, alike, slots)
    return replace(laid, height=_height(laid, widths, ends, kind))


def _short(slot: Slot | None, each: float, kind: float) -> Slot | None:
    """A name shortened to its room; numbers have all they need."""
    if slot is None or not slot.value:
        return slot
    room = each - 2 * PAD_X - BOX - BOX_GAP
    shown = measure.clipped(slot.value, room, kind, True, 1)
    return Slot(slot.box, slot.done, slot.writes, shown)


def _slot_need(steps: Steps, kind: float) -> float:
    """Width of the longest number that was read."""
    values = (slot.value for line in steps.lines for slot in line.slots if slot)
    numbers = [one for one in values if one and not any(map(str.isalpha, one))]
    widest = max((text_width(one, kind, bold=True) for one in numbers), default=0.0)
    return widest + BOX + BOX_GAP + 2 * PAD_X + 0.3


def _facts_need(steps: Steps, kind: float) -> list[float]:
    """Widths for what is known of an end, from all of it on one line to broken between its words;
    each between has one fact more on one line."""
    facts = {fact for line in steps.lines for fact in line.facts}
    word = max((measure.longest_word(fact, kind) for fact in facts), default=0.0)
    whole = {text_width(fact, kind) for fact in facts}
    needs = {max(_FACT, wide + 2 * PAD_X + 0.2) for wide in {word, *whole} if wide >= word}
    return sorted(needs, reverse=True)


def _title_need(steps: Steps, kind: float) -> float:
    """Width of the longest word of a title or a reading that has facts beside it."""
    found = [0.0]
    for line in steps.lines:
        found.append(measure.longest_word(line.read, small(kind)))
        if line.facts:
            found.append(measure.longest_word(line.title, kind, bold=True))
    return max(found) + 2 * PAD_X + 0.2


def _line(count: float, kind: float) -> float:
    return count * kind * POINT * TIGHT


def _height(one: LaidLine, widths: Sequence[float], ends: int, kind: float) -> float:
    """Of a line: its title and facts, its sentences below them, or the room of its dampers."""
    title = widths[1] if one.facts else sum(widths[1 : 2 + ends])
    facts = widths[2] * (ends if one.alike else 1)
    high = max(
        _line(_title_lines(one.line, title - 2 * PAD_X, kind), kind),
        *(_line(measure.lines_in(text, facts - 2 * PAD_X, kind), kind) for text in one.facts),
        0.0,
    )
    high = measure.snapped(high + 2 * PAD_Y)
    if one.says:
        across = sum(widths[1 : 2 + ends]) - 2 * PAD_X
        lines = measure.lines_in(one.said, across, small(kind))
        high += measure.snapped(_line(lines, small(kind)) + 2 * PAD_Y)
    return max(high + RULE, WRITE_ROW if one.writes else TICK_ROW)


def _title_lines(line: Line, width: float, kind: float) -> int:
    """Lines of the title, and behind it in small type of the reading."""
    texts = ((line.title, kind, True), (line.read, small(kind), False))
    return measure.lines_of((one for one in texts if one[0]), width)


def things_height(things: Things, width: float, kind: float) -> float:
    """Of names in a row, each behind its box, on as many lines as they need."""
    lines, used = 1, 0.0
    for name in things.names:
        wide = min(BOX + BOX_GAP + text_width(name, kind), width)
        if used and used + THING_GAP + wide > width:
            lines, used = lines + 1, 0.0
        used += (THING_GAP if used else 0.0) + wide
    return lines * TICK_ROW
