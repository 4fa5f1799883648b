"""Spring rate after clipping a coil off and bending the new end flat."""

from collections.abc import Iterator

from calc.answering.answer import Answer, Axis, Caution, Working
from calc.forms.spring_rate.common import Found, answer, rate_plot
from calc.forms.spring_rate.inputs import Asked
from calc.language import later, tr
from calc.physics.spring import clipped_rate
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem

_DEAD = 2.0  # coils that do not give, one at each closed end
_ENDS = 3.0
"""Wires in the free length beside pitch x active coils, ends closed and not ground (Shigley's
Mechanical Engineering Design, table 10-1, squared or closed: L0 = p Na + 3 d; from memory)."""


class ClipFigures(Figures):
    rate: float = figure("Spring rate after clipping", kind="rate")
    more: float = figure("Stiffer by", kind="share")
    active: float = figure("Active coils remaining", kind="ratio")
    free: float = figure("Free length then, about", kind="length")
    solid: float = figure("Solid length then", kind="length")
    rate_before: float = figure("Spring rate before", kind="rate")


def _figures(asked: Asked) -> ClipFigures:
    lost = asked.clipped + asked.bent
    left = asked.active - lost
    wire = asked.whole_wire
    # Closed ends, not ground: free length = coil pitch x active coils + three wires.
    coil_pitch = (asked.whole_free - _ENDS * wire) / asked.active
    return ClipFigures(
        rate=clipped_rate(rate=asked.whole_rate, active_coils=asked.active, clipped=lost),
        more=asked.active / left - 1,
        active=left,
        free=coil_pitch * left + _ENDS * wire,
        solid=(left + _DEAD + 1) * wire,
        rate_before=asked.whole_rate,
    )


_LEAST = 3.0
"""Active coils of a spring whose rate is to be relied on: 3 to 15 (Shigley's Mechanical
Engineering Design, section 10-4, recommended design conditions; from memory)."""

_CLIP_CAUTIONS = (
    later(
        "Wear eye protection, cut the spring in a vice and use pliers, not your fingers, to hold "
        "the piece that is cut off: it flies, and is sharp until it is filed. Follow the tool's "
        "manual, and heat the wire no more than it needs to bend: heated wire goes soft."
    ),
    later("It cannot be undone, and both springs of an end need the same cut."),
)


def _check_clip(asked: Asked) -> None:
    """Raise Problem where nothing would be left, or where the spring cannot be as entered."""
    if asked.clipped + asked.bent >= asked.active:
        raise Problem(
            Asked.clipped,
            tr(
                "Active coils clipped off: only {active} are active; with the bent end no coil "
                "would be left to work.",
                active=asked.say(asked.active, "ratio", 2),
            ),
        )
    if asked.whole_free <= (asked.active + _ENDS) * asked.whole_wire:
        raise Problem(
            Asked.whole_free,
            tr("Free length now: that many coils of this wire do not fit into it; measure again."),
        )


def _too_few(active: float) -> Iterator[Caution]:
    if active < _LEAST:
        text = tr(
            "Fewer than three active coils would remain: a little more or less cut off then "
            "changes the rate a lot, and the wire is strained more. Fit a stiffer spring instead."
        )
        yield Caution(text, stop=True)


def solve(asked: Asked) -> Answer:
    _check_clip(asked)
    found = asked.propagate(_figures)
    exact = found.value
    rate, active = asked.whole_rate, asked.active
    shares = [0.9 * n / 20 for n in range(21)]
    step = tr(
        "Cut off the flat end and {clipped} coils more, then bend {bent} of a coil "
        "flat. Rate then about {rate}.",
        clipped=asked.say(asked.clipped, "ratio", 2),
        bent=asked.say(asked.bent, "ratio", 2),
        rate=asked.say(exact.rate, "rate"),
    )
    return answer(
        asked,
        Found(
            at=asked.at(Asked.clipped),
            step=step,
            quantities=asked.quantities(found),
            working=_clip_working(asked, exact),
            plot=rate_plot(
                asked, tr("Rate against active coils lost"), Axis(tr("Active coils lost"), "ratio"),
                [(share * active, rate / (1 - share)) for share in shares],
                (asked.clipped + asked.bent, exact.rate),
            ),
            cautions=(*_too_few(exact.active), *(Caution(tr(text)) for text in _CLIP_CAUTIONS)),
            pressed=False,
            free=exact.free,
            solid=exact.solid,
        ),
    )  # fmt: skip


def _clip_working(asked: Asked, exact: ClipFigures) -> tuple[Working, ...]:
    say = asked.say
    active, clipped, bent = (
        say(coils, "ratio", 2) for coils in (asked.active, asked.clipped, asked.bent)
    )
    return (
        Working(tr("rate = rate before × active coils / active coils remaining"),
                f"{say(asked.whole_rate, 'rate')} × {active} / ({active} − {clipped} − {bent}) = "
                f"{say(exact.rate, 'rate')}",
                tr("EN 13906-1:2013, the rate equation")),
        Working(tr("free length = (free length before − 3 wires) × active coils remaining / "
                   "active coils + 3 wires"),
                say(exact.free, "length"), tr("closed ends, not ground")),
    )  # fmt: skip
