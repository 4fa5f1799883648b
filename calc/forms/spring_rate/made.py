"""Spring rate from a label, and from the wire that it is wound of."""

from calc.answering.answer import Answer, Axis, Caution, Curve, Plot, Working
from calc.forms.spring_rate.common import Found, answer, in_unit, rate_plot
from calc.forms.spring_rate.inputs import Asked
from calc.language import later, tr
from calc.physics.spring import (
    MUSIC_WIRE_MODULUS,
    SHEAR_MODULUS,
    STAINLESS_MODULUS,
    solid_length,
    solid_length_limit,
    spring_rate,
)
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem

_DEAD = 2.0  # coils that do not give, one at each closed end
_MODULUS_DOUBT = 0.01  # relative, of a wire of one standard
_MODULUS_SOURCE = {
    "steel": "EN 10270-1",
    "stainless_1_4310": later("between EN 10270-3 and the handbooks"),
    "music": later("between the limits that handbooks print"),
}
_INDEX = (4.0, 20.0)  # mean diameter / wire for which the equation is meant
_SHOWN = 0.2  # share of the wire either way on the plot


class LabelFigures(Figures):
    rate: float = figure("Spring rate", kind="rate")


def solve_label(asked: Asked) -> Answer:
    rate = asked.label_rate
    found = asked.propagate(lambda at: LabelFigures(rate=at.label_rate))
    units = [in_unit(rate, symbol) for symbol in ("lbf/in", "N/mm", "gf/mm", "kgf/cm")]
    return answer(
        asked,
        Found(
            at=asked.at(Asked.label_rate),
            step=tr("The label means {rate}.", rate=asked.say(rate, "rate")),
            quantities=asked.quantities(found),
            working=(
                Working(
                    tr("1 lbf/in = 0.175 126 835 N/mm; 1 gf/mm = 0.009 806 65 N/mm"),
                    " = ".join(units),
                    tr("NIST SP 811, appendix B"),
                ),
            ),
            plot=_force_plot(asked, rate),
            cautions=(
                Caution(
                    tr(
                        "Springs with the same label can differ by several per cent: measure yours "
                        "with scale and ruler."
                    )
                ),
            ),
        ),
    )


def _force_plot(asked: Asked, rate: float) -> Plot:
    line = tuple((x, rate * x) for x in (0.0, 10e-3, 20e-3))
    return Plot(
        tr("Force of the spring against how far it is pressed"),
        Axis(tr("Pressed by"), "length"),
        Axis(tr("Force"), "force"),
        (Curve(tr("spring"), line),),
        says=tr(
            "{force} at {pressed}.",
            force=asked.say(line[1][1], "force"),
            pressed=asked.say(line[1][0], "length"),
        ),
    )


def _modulus(asked: Asked) -> tuple[float, float]:
    """Shear modulus of the wire and its standard uncertainty, Pa."""
    material = asked.material
    if material == "music":
        low, high = MUSIC_WIRE_MODULUS
        # Anywhere between the two ends alike: JCGM 100:2008, 4.3.7.
        return (low + high) / 2, (high - low) / 2 / 3**0.5
    if material == "stainless_1_4310":
        low, high = STAINLESS_MODULUS
        return (low + high) / 2, (high - low) / 2 / 3**0.5
    modulus = SHEAR_MODULUS[material]
    return modulus, _MODULUS_DOUBT * modulus


def _check_coil(asked: Asked) -> None:
    """Raise Problem where no such spring can be wound."""
    if asked.outside - asked.wire <= asked.wire:
        raise Problem(
            Asked.outside,
            tr("Outside diameter: the coil has no room inside; it has to be over twice the wire."),
        )


class WireFigures(Figures):
    rate: float = figure("Spring rate", kind="rate")
    solid: float = figure("Solid length", kind="length")
    solid_limit: float = figure("Longest solid length that the standard allows", kind="length")
    index: float = figure("Mean diameter over wire", kind="ratio")
    active: float = figure("Active coils", kind="ratio")


def _wire_figures(asked: Asked) -> WireFigures:
    mean, active = asked.outside - asked.wire, asked.coils - _DEAD
    coil = {"wire": asked.wire, "total_coils": asked.coils}
    return WireFigures(
        rate=spring_rate(
            wire=asked.wire,
            mean_diameter=mean,
            active_coils=active,
            shear_modulus=asked.modulus,
        ),
        solid=solid_length(**coil, ends=asked.ends),
        solid_limit=solid_length_limit(**coil, ends=asked.ends),
        index=mean / asked.wire,
        active=active,
    )


def solve_wire(asked: Asked) -> Answer:
    _check_coil(asked)
    modulus, u = _modulus(asked)
    asked = asked.assuming((Asked.modulus, modulus, u))
    found = asked.propagate(_wire_figures)
    exact, rate = found.value, found.value.rate
    return answer(
        asked,
        Found(
            at=asked.at(Asked.wire),
            step=tr(
                "Mark the spring {rate}, until a scale says otherwise.",
                rate=asked.say(rate, "rate"),
            ),
            quantities=asked.quantities(found),
            working=_wire_working(asked, exact),
            plot=rate_plot(
                asked, tr("Rate against wire thickness"), Axis(tr("Wire thickness"), "length"),
                _by_wire(asked), (asked.wire, rate),
            ),
            cautions=_wire_cautions(asked, exact.index),
            solid=exact.solid,
        ),
    )  # fmt: skip


def _by_wire(asked: Asked) -> list[tuple[float, float]]:
    """Rates of the same coil wound of thinner and of thicker wire."""
    mean = asked.outside - asked.wire
    wires = [asked.wire * (1 + _SHOWN * n / 10) for n in range(-10, 11)]
    coil = {"active_coils": asked.coils - _DEAD, "shear_modulus": asked.modulus}
    return [
        (wire, spring_rate(wire=wire, mean_diameter=mean, **coil)) for wire in wires if wire < mean
    ]


def _wire_working(asked: Asked, exact: WireFigures) -> tuple[Working, ...]:
    say, active = asked.say, asked.say(exact.active, "ratio", 2)
    source = _MODULUS_SOURCE[asked.material]
    mean = say(asked.outside - asked.wire, "length")
    wire = say(asked.wire, "length")
    return (
        Working(tr("mean diameter = outside − wire; active coils = coils − 2"),
                tr("{outside} − {wire} = {mean}; {active} active coils",
                   outside=say(asked.outside, "length"), wire=wire, mean=mean, active=active),
                tr("Shigley's Mechanical Engineering Design, table 10-1")),
        Working(tr("rate = G × wire⁴ / (8 × mean diameter³ × active coils)"),
                f"{say(asked.modulus, 'modulus')} × ({wire})⁴ / (8 × ({mean})³ × {active}) = "
                f"{say(exact.rate, 'rate')}",
                tr("EN 13906-1:2013, the rate equation; G: {source}", source=tr(source))),
        Working(tr("solid length = (coils + 1) × wire, or coils × wire where ground"),
                say(exact.solid, "length"),
                tr("Shigley's Mechanical Engineering Design, table 10-1")),
    )  # fmt: skip


def _wire_cautions(asked: Asked, index: float) -> tuple[Caution, ...]:
    found = [
        Caution(
            tr(
                "From the wire alone a rate is a guess to check: a hundredth of a millimetre of "
                "wire is 3 to 4% of rate. Scale and ruler decide."
            )
        )
    ]
    low, high = _INDEX
    if not low <= index <= high:
        found.append(
            Caution(
                tr(
                    "Mean diameter over wire is {index}: the equation is meant for {low} to "
                    "{high}.",
                    index=asked.say(index, "ratio", 1),
                    low=asked.say(low, "ratio", 0),
                    high=asked.say(high, "ratio", 0),
                )
            )
        )
    return tuple(found)
