"""Bleed: what is said of the bubbles, in an instruction, a table, a plot and the working."""

from collections.abc import Mapping

from calc.answering.answer import Axis, Curve, Mark, Plot, Step, Table, Working
from calc.answering.hand import wait_words
from calc.answering.places import onward
from calc.language import tr
from calc.model.oil import within
from calc.physics import bubbles, oil
from calc.replying.form import Given

SIZES = (0.05e-3, 0.1e-3, 0.15e-3, 0.2e-3, 0.3e-3, 0.5e-3, 1e-3)  # m, of the tables


def warm_oil(given: Given) -> tuple[float, float]:
    warm = within(given.warm)
    return oil.viscosity_at(given.oil, warm) * given.law_now, oil.density(given.oil, warm)


def faster(given: Given) -> float:
    """How many times faster bubbles rise under the pump; 1 without one."""
    pump = given.maybe("pump")
    return 1.0 if pump is None else bubbles.speed_factor(given.room, pump)


def step(given: Given, exact: Mapping[str, float]) -> Step:
    takes = _takes(given, exact)
    if "gone" in exact:
        gone = given.say(exact["gone"], "length", 3)
        wait = wait_words(given.patience)
        says = tr("After {wait} all bubbles larger than {size} have left.", wait=wait, size=gone)
        return Step(says, takes)
    if "pump_longest" in exact:
        wait = wait_words(exact["pump_longest"])
        stand = tr("Let it stand for {wait} under the pump.", wait=wait)
    else:
        stand = tr("Let it stand for {wait} with the cap off.", wait=wait_words(exact["longest"]))
    return Step(stand, tr("{takes} Larger ones leave sooner.", takes=takes))


def _takes(given: Given, exact: Mapping[str, float]) -> str:
    """How long the smallest bubbles take, at room pressure and under the pump."""
    parts = {
        "size": given.say(given.bubble, "length"),
        "height": given.say(given.height, "length", 1),
        **{name: wait_words(exact[name]) for name in ("shortest", "longest")},
    }
    if "pump_longest" not in exact:
        return tr(
            "Bubbles of {size} take {shortest} to {longest} at room pressure through {height} of "
            "oil.",
            **parts,
        )
    return tr(
        "Bubbles of {size} take {shortest} to {longest} at room pressure, {fast} to {slow} under "
        "the pump through {height} of oil.",
        **parts,
        fast=wait_words(exact["pump_shortest"]),
        slow=wait_words(exact["pump_longest"]),
    )


def table(given: Given) -> Table:
    sizes = sorted({*SIZES, given.bubble})
    rows = []
    for size in sizes:
        longest, shortest = bubbles.rise_times(given.height, size, *warm_oil(given))
        under = (wait_words(longest / faster(given)),) if given.maybe("pump") is not None else ()
        rows.append(
            (given.bare(size, "length", 3), wait_words(longest), wait_words(shortest), *under)
        )
    under_head = (tr("Pump, slow bound"),) if given.maybe("pump") is not None else ()
    bubble = tr("Bubble {unit}", unit=given.symbol("length"))
    heads = (bubble, tr("Slow bound"), tr("Clean bubble"), *under_head)
    height = given.say(given.height, "length", 1)
    title = tr("How long bubbles take through {height}", height=height)
    return Table(title, heads, tuple(rows), mark=sizes.index(given.bubble))


def plot(given: Given, exact: Mapping[str, float]) -> Plot:
    last = 2 * max(exact["longest"], given.maybe("patience") or 0.0)
    times = onward(last, "wait", given.system, fine=2)[2:]  # every bubble is there at first

    def left(time: float, factor: float) -> float:
        return bubbles.gone_diameter(given.height, time * factor, *warm_oil(given))

    bounds = [(tr("slow bound"), 1.0, "main"), (tr("clean bubble"), bubbles.CLEAN, "second")]
    if given.maybe("pump") is not None:
        bounds.append((tr("pump, slow bound"), faster(given), "limit"))
    curves = tuple(
        Curve(name, tuple((time, left(time, factor)) for time in times), style)
        for name, factor, style in bounds
    )
    return Plot(
        tr("Smallest bubble that has left against the time"),
        Axis(tr("Time"), "wait"),
        Axis(tr("Diameter of the bubble"), "length"),
        curves,
        (Mark(exact["longest"], given.bubble, tr("this bubble")),),
        tr(
            "At room pressure a bubble of {size} has left after {wait} at the latest; half the "
            "size takes four times as long.",
            size=given.say(given.bubble, "length"),
            wait=wait_words(exact["longest"]),
        ),
    )


def working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say = given.say
    viscosity, density = warm_oil(given)
    speed = bubbles.slow_speed(given.bubble, viscosity, density)
    lines = [
        Working(
            tr("speed = g d² (1 − density of air / density of oil) / (18 ν)"),
            tr(
                "d = {size}, ν = {viscosity}: {speed}; {height} takes {wait}",
                size=say(given.bubble, "length"),
                viscosity=say(viscosity, "viscosity"),
                speed=say(speed, "speed", 4),
                height=say(given.height, "length", 1),
                wait=wait_words(exact["longest"]),
            ),
            tr("Stokes 1851, the bubble as a solid ball"),
        ),
        Working(
            tr("a clean bubble rises 1.5 times as fast"),
            wait_words(exact["shortest"]),
            tr("Hadamard, Rybczynski 1911, gas without viscosity"),
        ),
    ]
    pump = given.maybe("pump")
    if pump is not None:
        lines.append(
            Working(
                tr("under the pump: diameter × (p1/p2)^(1/3), speed × its square"),
                f"({say(given.room, 'pressure')} / {say(pump, 'pressure')})^(2/3) = "
                f"{say(exact['faster'], 'ratio', 2)}",
                tr("Boyle's law; gas out of solution is not counted"),
            )
        )
    return tuple(lines)
