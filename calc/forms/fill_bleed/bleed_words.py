"""Bleed: what is said of the bubbles, in an instruction, a table, a plot and the working."""

from calc.answering.answer import Axis, Curve, Mark, Plot, Step, Table, Working
from calc.answering.hand import wait_words
from calc.answering.places import onward
from calc.forms.fill_bleed.bleed_figures import BleedFigures, faster
from calc.forms.fill_bleed.inputs import Asked
from calc.forms.piston import oil_at
from calc.language import tr
from calc.physics import bubbles

SIZES = (0.05e-3, 0.1e-3, 0.15e-3, 0.2e-3, 0.3e-3, 0.5e-3, 1e-3)  # m, of the tables


def step(asked: Asked, exact: BleedFigures) -> Step:
    takes = _takes(asked, exact)
    if exact.gone is not None and asked.patience is not None:
        gone = asked.say(exact.gone, "length", 3)
        wait = wait_words(asked.patience)
        says = tr("After {wait} all bubbles larger than {size} have left.", wait=wait, size=gone)
        return Step(says, takes)
    if exact.pump_longest is not None:
        wait = wait_words(exact.pump_longest)
        stand = tr("Let it stand for {wait} under vacuum.", wait=wait)
    else:
        stand = tr("Let it stand for {wait} with the cap off.", wait=wait_words(exact.longest))
    return Step(stand, tr("{takes} Larger ones leave sooner.", takes=takes))


def _takes(asked: Asked, exact: BleedFigures) -> str:
    """How long the smallest bubbles take, at room pressure and under the pump."""
    parts = {
        "size": asked.say(asked.bubble, "length"),
        "height": asked.say(asked.height, "length", 1),
        "shortest": wait_words(exact.shortest),
        "longest": wait_words(exact.longest),
    }
    if exact.pump_shortest is None or exact.pump_longest is None:
        return tr(
            "Bubbles of {size} need {shortest} to {longest} at room pressure through "
            "{height} of oil.",
            **parts,
        )
    return tr(
        "Bubbles of {size} need {shortest} to {longest} at room pressure, {fast} to "
        "{slow} under vacuum through {height} of oil.",
        **parts,
        fast=wait_words(exact.pump_shortest),
        slow=wait_words(exact.pump_longest),
    )


def table(asked: Asked) -> Table:
    sizes = sorted({*SIZES, asked.bubble})
    rows = []
    for size in sizes:
        longest, shortest = bubbles.rise_times(asked.height, size, *oil_at(asked, asked.oil))
        under = (wait_words(longest / faster(asked)),) if asked.pump is not None else ()
        rows.append(
            (asked.bare(size, "length", 3), wait_words(longest), wait_words(shortest), *under)
        )
    under_head = (tr("Vacuum, used oil"),) if asked.pump is not None else ()
    bubble = tr("Bubble {unit}", unit=asked.symbol("length"))
    heads = (bubble, tr("Used oil"), tr("Clean oil"), *under_head)
    height = asked.say(asked.height, "length", 1)
    title = tr("How long bubbles take through {height}", height=height)
    return Table(title, heads, tuple(rows), mark=sizes.index(asked.bubble))


def plot(asked: Asked, exact: BleedFigures) -> Plot:
    last = 2 * max(exact.longest, asked.patience or 0.0)
    times = onward(last, "wait", asked.system, fine=2)[2:]  # every bubble is there at first

    def left(time: float, factor: float) -> float:
        return bubbles.cleared_diameter(asked.height, time * factor, *oil_at(asked, asked.oil))

    bounds = [(tr("used oil"), 1.0, "main"), (tr("clean oil"), bubbles.CLEAN, "second")]
    if asked.pump is not None:
        bounds.append((tr("vacuum, used oil"), faster(asked), "limit"))
    curves = tuple(
        Curve(name, tuple((time, left(time, factor)) for time in times), style)
        for name, factor, style in bounds
    )
    return Plot(
        tr("Smallest bubble that has left against the time"),
        Axis(tr("Time"), "wait"),
        Axis(tr("Diameter of the bubble"), "length"),
        curves,
        (Mark(exact.longest, asked.bubble, tr("this bubble")),),
        tr(
            "At room pressure a bubble of {size} is gone after {wait} at the latest; half "
            "the size needs four times as long.",
            size=asked.say(asked.bubble, "length"),
            wait=wait_words(exact.longest),
        ),
    )


def working(asked: Asked, exact: BleedFigures) -> tuple[Working, ...]:
    say = asked.say
    viscosity, density = oil_at(asked, asked.oil)
    speed = bubbles.slow_speed(asked.bubble, viscosity, density)
    lines = [
        Working(
            tr("speed = g d² (1 − density of air / density of oil) / (18 ν)"),
            tr(
                "d = {size}, ν = {viscosity}: {speed}; {wait} through {height}",
                size=say(asked.bubble, "length"),
                viscosity=say(viscosity, "viscosity"),
                speed=say(speed, "speed", 4),
                height=say(asked.height, "length", 1),
                wait=wait_words(exact.longest),
            ),
            tr("Stokes 1851, the bubble as a solid ball"),
        ),
        Working(
            tr("a clean bubble rises 1.5 times as fast"),
            wait_words(exact.shortest),
            tr("Hadamard, Rybczynski 1911, gas without viscosity"),
        ),
    ]
    if asked.pump is not None and exact.faster is not None:
        lines.append(
            Working(
                tr("under vacuum: diameter × (p1/p2)^(1/3), speed × its square"),
                f"({say(asked.room, 'pressure')} / {say(asked.pump, 'pressure')})^(2/3) = "
                f"{say(exact.faster, 'ratio', 2)}",
                tr("Boyle's law; gas out of solution is not counted"),
            )
        )
    return tuple(lines)
