"""Spring rate from a label, and from the wire that it is wound of."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Axis, Caution, Curve, Plot, Working
from calc.forms.inputs import with_inputs
from calc.forms.spring_rate.common import Found, answer, in_unit, named_quantities, rate_plot
from calc.language import later, tr
from calc.physics.spring import (
    MUSIC_WIRE_MODULUS,
    SHEAR_MODULUS,
    Ends,
    solid_length,
    solid_length_limit,
    spring_rate,
)
from calc.replying.form import Given, Problem

_DEAD = 2.0  # coils that do not give, one at each closed end
_MODULUS_DOUBT = 0.01  # relative, of a wire of one standard
_MODULUS_SOURCE = {
    "steel": "EN 10270-1",
    "stainless_1_4310": "EN 10270-3",
    "music": later("between the ends of what handbooks print"),
}
_INDEX = (4.0, 20.0)  # mean diameter / wire for which the equation is meant
_SHOWN = 0.2  # share of the wire either way on the plot


def solve_label(given: Given) -> Answer:
    rate = given.label_rate
    doubted = given.carry(lambda at: {"rate": at.label_rate})["rate"]
    units = [in_unit(rate, symbol) for symbol in ("lbf/in", "N/mm", "gf/mm", "kgf/cm")]
    return answer(
        given,
        Found(
            at="label_rate",
            step=tr("Read the label as {rate}.", rate=given.say(rate, "rate")),
            quantities=(given.quantity("rate", tr("Spring rate"), "rate", doubted),),
            working=(
                Working(
                    tr("1 lbf/in = 0.175 126 835 N/mm; 1 gf/mm = 0.009 806 65 N/mm"),
                    " = ".join(units),
                    tr("NIST SP 811, appendix B"),
                ),
            ),
            plot=_force_plot(given, rate),
            cautions=(
                Caution(
                    tr(
                        "Springs of one label differ by several per cent: scale and ruler tell "
                        "more."
                    )
                ),
            ),
        ),
    )


def _force_plot(given: Given, rate: float) -> Plot:
    line = tuple((x, rate * x) for x in (0.0, 10e-3, 20e-3))
    return Plot(
        tr("Force of the spring against how far it is pressed"),
        Axis(tr("Pressed by"), "length"),
        Axis(tr("Force"), "force"),
        (Curve(tr("spring"), line),),
        says=tr(
            "{force} at {pressed}.",
            force=given.say(line[1][1], "force"),
            pressed=given.say(line[1][0], "length"),
        ),
    )


def _modulus(given: Given) -> tuple[float, float]:
    """Shear modulus of the wire and its standard uncertainty, Pa."""
    material = given.choice("material")
    if material == "music":
        low, high = MUSIC_WIRE_MODULUS
        # Anywhere between the two ends alike: JCGM 100:2008, 4.3.7.
        return (low + high) / 2, (high - low) / 2 / 3**0.5
    modulus = SHEAR_MODULUS[material]
    return modulus, _MODULUS_DOUBT * modulus


def _check_coil(given: Given) -> None:
    """Raise Problem where no such spring can be wound."""
    if given.outside - given.wire <= given.wire:
        raise Problem(
            "outside",
            tr("Outside diameter: the coil has no room inside; it has to be over twice the wire."),
        )


def _wire_figures(given: Given) -> dict[str, float]:
    mean, active = given.outside - given.wire, given.coils - _DEAD
    ends: Ends = "ground" if given.choice("ends") == "ground" else "closed"
    return {
        "rate": spring_rate(
            wire=given.wire,
            mean_diameter=mean,
            active_coils=active,
            shear_modulus=given.modulus,
        ),
        "solid": solid_length(wire=given.wire, total_coils=given.coils, ends=ends),
        "solid_limit": solid_length_limit(wire=given.wire, total_coils=given.coils, ends=ends),
        "index": mean / given.wire,
        "active": active,
    }


_WIRE_LABELS = (
    ("rate", later("Spring rate"), "rate"),
    ("solid", later("Solid length"), "length"),
    ("solid_limit", later("Longest solid length that the standard allows"), "length"),
    ("index", later("Mean diameter over wire"), "ratio"),
    ("active", later("Active coils"), "ratio"),
)


def solve_wire(given: Given) -> Answer:
    _check_coil(given)
    modulus, u = _modulus(given)
    given = with_inputs(given, {"modulus": (modulus, u, later("shear modulus of the wire"))})
    doubted = given.carry(_wire_figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    rate = exact["rate"]
    return answer(
        given,
        Found(
            at="wire",
            step=tr(
                "Mark the spring {rate}, until a scale says better.", rate=given.say(rate, "rate")
            ),
            quantities=named_quantities(given, doubted, _WIRE_LABELS),
            working=_wire_working(given, exact),
            plot=rate_plot(
                given, tr("Rate against wire thickness"), Axis(tr("Wire thickness"), "length"),
                _by_wire(given), (given.wire, rate),
            ),
            cautions=_wire_cautions(given, exact["index"]),
            solid=exact["solid"],
        ),
    )  # fmt: skip


def _by_wire(given: Given) -> list[tuple[float, float]]:
    """Rates of the same coil wound of thinner and of thicker wire."""
    mean = given.outside - given.wire
    wires = [given.wire * (1 + _SHOWN * n / 10) for n in range(-10, 11)]
    coil = {"active_coils": given.coils - _DEAD, "shear_modulus": given.modulus}
    return [
        (wire, spring_rate(wire=wire, mean_diameter=mean, **coil)) for wire in wires if wire < mean
    ]


def _wire_working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say, active = given.say, given.say(exact["active"], "ratio", 2)
    source = _MODULUS_SOURCE[given.choice("material")]
    mean = say(given.outside - given.wire, "length")
    wire = say(given.wire, "length")
    return (
        Working(tr("mean diameter = outside − wire; active coils = coils − 2"),
                tr("{outside} − {wire} = {mean}; {active} active coils",
                   outside=say(given.outside, "length"), wire=wire, mean=mean, active=active),
                tr("Shigley's Mechanical Engineering Design, table 10-1")),
        Working(tr("rate = G × wire⁴ / (8 × mean diameter³ × active coils)"),
                f"{say(given.modulus, 'modulus')} × ({wire})⁴ / (8 × ({mean})³ × {active}) = "
                f"{say(exact['rate'], 'rate')}",
                tr("EN 13906-1:2013, the rate equation; G: {source}", source=tr(source))),
        Working(tr("solid length = (coils + 1) × wire, or coils × wire where ground"),
                say(exact["solid"], "length"),
                tr("Shigley's Mechanical Engineering Design, table 10-1")),
    )  # fmt: skip


def _wire_cautions(given: Given, index: float) -> tuple[Caution, ...]:
    found = [
        Caution(
            tr(
                "From the wire alone a rate is a guess to check: a hundredth of a millimetre of "
                "wire is 3 to 4 % of rate. Scale and ruler decide."
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
                    index=given.say(index, "ratio", 1),
                    low=given.say(low, "ratio", 0),
                    high=given.say(high, "ratio", 0),
                )
            )
        )
    return tuple(found)
