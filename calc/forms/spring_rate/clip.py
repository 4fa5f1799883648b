"""Spring rate after clipping a coil off and bending the new end flat."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Axis, Caution, Quantity, Working
from calc.forms.spring_rate.common import Found, answer, named_quantities, rate_plot
from calc.language import later, tr
from calc.physics.spring import clipped_rate
from calc.replying.form import Given, Problem

_DEAD = 2.0  # coils that do not give, one at each closed end


def _clip_figures(given: Given) -> dict[str, float]:
    lost = given.clipped + given.bent
    left = given.active - lost
    wire = given.whole_wire
    # Closed ends: free length = coil pitch x active coils + one wire at each end.
    coil_pitch = (given.whole_free - _DEAD * wire) / given.active
    return {
        "rate": clipped_rate(rate=given.whole_rate, active_coils=given.active, clipped=lost),
        "active": left,
        "free": coil_pitch * left + _DEAD * wire,
        "solid": (left + _DEAD + 1) * wire,
        "more": given.active / left - 1,
    }


_CLIP_LABELS = (
    ("rate", later("Spring rate after clipping"), "rate"),
    ("more", later("That is stiffer by"), "share"),
    ("active", later("Active coils left"), "ratio"),
    ("free", later("Free length then, about"), "length"),
    ("solid", later("Solid length then"), "length"),
)
_CLIP_CAUTIONS = (
    later(
        "Wear eye protection, cut the spring in a vice and hold the piece that is cut off: it "
        "flies, and is sharp until it is filed. Follow the tool's manual, and heat the wire no "
        "more than it takes to bend: heated wire goes soft."
    ),
    later("It cannot be undone, and both springs of an end need the same cut."),
)


def _check_clip(given: Given) -> None:
    """Raise Problem where nothing would be left, or where the spring cannot be as entered."""
    if given.clipped + given.bent >= given.active:
        raise Problem(
            "clipped",
            tr(
                "Active coils clipped off: only {active} are active; with the bent end no coil "
                "would be left to work.",
                active=given.say(given.active, "ratio", 2),
            ),
        )
    if given.whole_free <= (given.active + _DEAD) * given.whole_wire:
        raise Problem(
            "whole_free",
            tr("Free length now: so many coils of this wire do not fit into it; measure again."),
        )


def solve(given: Given) -> Answer:
    _check_clip(given)
    doubted = given.carry(_clip_figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    rate, active = given.whole_rate, given.active
    shares = [0.9 * n / 20 for n in range(21)]
    whole = Quantity("rate_before", tr("Spring rate before"), rate, "rate")
    step = tr(
        "Cut off the flat end and {clipped} coils more, bend {bent} flat: {rate}.",
        clipped=given.say(given.clipped, "ratio", 2),
        bent=given.say(given.bent, "ratio", 2),
        rate=given.say(exact["rate"], "rate"),
    )
    return answer(
        given,
        Found(
            at="clipped",
            step=step,
            quantities=(*named_quantities(given, doubted, _CLIP_LABELS), whole),
            working=_clip_working(given, exact),
            plot=rate_plot(
                given, tr("Rate against active coils lost"), Axis(tr("Active coils lost"), "ratio"),
                [(share * active, rate / (1 - share)) for share in shares],
                (given.clipped + given.bent, exact["rate"]),
            ),
            cautions=tuple(Caution(tr(text)) for text in _CLIP_CAUTIONS),
            pressed=False,
            free=exact["free"],
            solid=exact["solid"],
        ),
    )  # fmt: skip


def _clip_working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say = given.say
    active, clipped, bent = (
        say(coils, "ratio", 2) for coils in (given.active, given.clipped, given.bent)
    )
    return (
        Working(tr("rate = rate before × active coils / active coils left"),
                f"{say(given.whole_rate, 'rate')} × {active} / ({active} − {clipped} − {bent}) = "
                f"{say(exact['rate'], 'rate')}",
                tr("EN 13906-1:2013, the rate equation")),
        Working(tr("free length = (free length before − 2 wires) × active coils left / active "
                   "coils + 2 wires"),
                say(exact["free"], "length"), tr("closed ends")),
    )  # fmt: skip
