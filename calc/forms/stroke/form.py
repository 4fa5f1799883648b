"""Stroke: how far to turn the rod end of each damper, so that all four have the stroke wanted."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Caution, Step, Write
from calc.answering.hand import to_step
from calc.asking.entry import Choice, Rows, only
from calc.forms.names import CORNER_LABELS, END_LABELS, corner_word, end_word, rod_end_label
from calc.forms.stroke import pictures as stroke_show
from calc.forms.stroke.pictures import Turned, apart
from calc.language import later, tr
from calc.model.corners import CORNERS, Corner, End
from calc.physics.thread import engagement_left, least_engagement, length_after, rod_end_turns
from calc.replying.form import Form, Given, Row, from_car
from calc.units import turns_text

_LENGTH = later(
    "The length fully out, eye to eye, decides the droop: match it in each pair first, then "
    "compare the strokes. Turning a rod end changes that length; droop and preload at full droop "
    "move with it."
)
_HOLDS = later(
    "Where the piston meets the cap before the rod end meets the body, the rod end changes the "
    "length of the damper and not its stroke. A rod end that has to lie one way goes in half "
    "turns: set the smallest turn to 1/2."
)
_GRIP = later(
    "Hold the shaft where the seal never runs, in something soft: a scratched shaft leaks. "
    "Do not force a rod end on plastic threads. Keep thread-locking compound off the skin and away "
    "from plastic: follow its data sheet."
)

FIELDS = (
    Choice(
        "Aim",
        (("wanted", "the stroke wanted"), ("alike", "each pair alike")),
        "‘Each pair alike’ screws the one with more stroke in, so it gains thread.",
        name="aim",
    ),
    Rows(
        "Dampers",
        (
            from_car("corners.{row}.stroke"),
            from_car(
                "{end}.stroke", "wanted", label="Stroke wanted", tool="",
                when=only("aim", "wanted"),
            ),
            from_car("corners.{row}.engaged"),
        ),
        CORNER_LABELS, name="damper", every=True,
    ),
    from_car("rod_end.pitch"),
    from_car("rod_end.thread"),
    Choice(
        "Rod ends are of",
        (("plastic", "plastic"), ("aluminium", "aluminium"), ("steel", "steel")),
        name="material",
    ),
    from_car("tools.turn_step"),
)  # fmt: skip


def _wanted(given: Given) -> dict[str, float]:
    """The stroke to reach at each corner: the one entered, or the shorter one of its pair."""
    rows = {row.key: row for row in given.rows("damper")}
    if given.choice("aim") == "wanted":
        return {key: row.wanted for key, row in rows.items()}
    return {key: min(row.stroke, rows[Corner(key).other].stroke) for key, row in rows.items()}


def _exact_turns(given: Given) -> dict[str, float]:
    wanted = _wanted(given)
    return {
        row.key: rod_end_turns(row.stroke, wanted[row.key], given.pitch)
        for row in given.rows("damper")
    }


def turned(given: Given, turns: Mapping[str, float]) -> list[Turned]:
    """Every damper after these turns of its rod end."""
    wanted, exact = _wanted(given), _exact_turns(given)

    def one(row: Row) -> Turned:
        key = Corner(row.key)
        n = turns[row.key]
        after = length_after(row.stroke, n, given.pitch)
        thread = engagement_left(row.engaged, n, given.pitch)
        return Turned(key, row.stroke, wanted[key], exact[key], n, after, thread)

    return [one(row) for row in given.rows("damper")]


def solve(given: Given) -> Answer:
    turns = {key: to_step(n, given.turn_step) for key, n in _exact_turns(given).items()}

    def figures(shifted: Given) -> Mapping[str, float]:
        dampers = {one.key: one for one in turned(shifted, turns)}
        values = {}
        for key, one in dampers.items():
            values[f"{key}_turns"] = one.exact
            values[f"{key}_stroke"] = one.after
            values[f"{key}_thread"] = one.thread
        for end, _ in END_LABELS:
            values[f"{end}_apart_before"], values[f"{end}_apart"] = apart(dampers, end)
        return values

    doubted = given.carry(figures)
    dampers = turned(given, turns)
    return Answer(
        steps=tuple(_step(given, one) for one in dampers),
        quantities=tuple(
            given.quantity(name, *_label(name), figure) for name, figure in doubted.items()
        ),
        tables=(stroke_show.table(given, dampers), stroke_show.pairs(given, dampers)),
        plots=(stroke_show.plot(given, dampers),),
        cautions=(
            *_cautions(given, dampers),
            *(Caution(tr(text)) for text in (_LENGTH, _HOLDS, _GRIP)),
        ),
        working=stroke_show.working(given, dampers),
        writes=tuple(write for one in dampers for write in _writes(given, one)),
    )


_LABELS = {
    "turns": (later("turns of the rod end, exact (out is positive)"), "turns"),
    "stroke": (later("stroke after the rounded turns"), "length"),
    "thread": (later("thread left in the rod end"), "length"),
    "apart_before": (later("stroke, left minus right, before"), "length"),
    "apart": (later("stroke, left minus right, after"), "length"),
}


def _label(name: str) -> tuple[str, str]:
    what = next(key for key in sorted(_LABELS, key=len, reverse=True) if name.endswith(f"_{key}"))
    key = name.removesuffix(f"_{what}")
    place = corner_word(Corner(key)) if key in CORNERS else end_word(End(key))
    says, kind = _LABELS[what]
    return f"{place.capitalize()}: {tr(says)}", kind


def _step(given: Given, one: Turned) -> Step:
    stands, rod_end = given.say(one.after, "length"), rod_end_label(one.key)
    if one.turns == 0:
        return Step(
            tr("{rod_end}: leave it.", rod_end=rod_end),
            tr("Its stroke is {stroke}.", stroke=stands),
        )
    turns, thread = turns_text(abs(one.turns)), given.say(one.thread, "length", 1)
    if one.turns > 0:
        return Step(
            tr("{rod_end}: {turns} out (longer).", rod_end=rod_end, turns=turns),
            tr(
                "Anticlockwise, with the rod end pointing at you. Stroke is then {stroke}; "
                "{thread} of thread stays engaged.",
                stroke=stands,
                thread=thread,
            ),
        )
    return Step(
        tr("{rod_end}: {turns} in (shorter).", rod_end=rod_end, turns=turns),
        tr(
            "Clockwise, with the rod end pointing at you. Stroke is then {stroke}; "
            "{thread} of thread stays engaged.",
            stroke=stands,
            thread=thread,
        ),
    )


def _cautions(given: Given, dampers: list[Turned]) -> list[Caution]:
    least, safe = least_engagement(given.thread, given.choice("material"))
    rule = {
        "material": tr(given.choice("material")),
        "least": given.say(least, "length", 1),
        "better": given.say(safe, "length", 1),
    }
    found = []
    for one in dampers:
        says = {"damper": one.label, "holds": given.say(one.thread, "length", 1), **rule}
        if one.thread <= 0:
            text = tr(
                "{damper}: the rod end comes off before that; the shaft is too short.",
                damper=one.label,
            )
            found.append(Caution(text, stop=True))
        elif one.thread < least * (1 - 1e-9):
            text = tr(
                "{damper}: only {holds} of thread would hold; for {material} the usual least is "
                "{least}, better {better} (a rule of thumb).",
                **says,
            )
            found.append(Caution(text, stop=True))
        elif one.thread < safe * (1 - 1e-9):
            text = tr(
                "{damper}: {holds} of thread hold; for {material} the usual least is {least}, "
                "better {better} (a rule of thumb).",
                **says,
            )
            found.append(Caution(text))
    return found


def _writes(given: Given, one: Turned) -> list[Write]:
    if one.turns == 0:
        return []
    name, start = corner_word(one.key), f"corners.{one.key}"
    stroke, thread = given.say(one.after, "length"), given.say(one.thread, "length", 1)
    held = tr("{damper} rod end holds on {thread}", damper=name, thread=thread)
    return [
        Write(
            f"{start}.stroke", one.after,
            tr("{damper} stroke {stroke}", damper=name, stroke=stroke),
        ),
        Write(f"{start}.engaged", one.thread, held),
    ]  # fmt: skip


FORM = Form(
    "stroke",
    "Stroke",
    "bench",
    "How far does each rod end go in or out, so that the dampers are alike?",
    FIELDS,
    solve,
)
