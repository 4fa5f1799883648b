"""Spring rate from a label, from the wire that it is wound of, and after clipping a coil."""

from calc.answer import Answer, Axis, Caution, Curve, Plot, Quantity, Working
from calc.form import Given, Problem
from calc.forms.shared import with_inputs
from calc.forms.spring_rate_common import Found, answer, in_unit, rate_plot
from calc.physics.spring import (
    MUSIC_WIRE_MODULUS,
    SHEAR_MODULUS,
    Ends,
    clipped_rate,
    solid_length,
    solid_length_limit,
    spring_rate,
)

_DEAD = 2.0  # coils that do not give, one at each closed end
_MODULUS_DOUBT = 0.01  # relative, of a wire of one standard
_MODULUS_SOURCE = {
    "steel": "EN 10270-1",
    "stainless_1_4310": "EN 10270-3",
    "music": "between the ends of what handbooks print",
}
_INDEX = (4.0, 20.0)  # mean diameter / wire for which the equation is meant
_SHOWN = 0.2  # share of the wire either way on the plot


def solve_label(given: Given) -> Answer:
    rate = given.label_rate
    doubted = given.carry(lambda at: {"rate": at.label_rate})["rate"]
    line = tuple((x, rate * x) for x in (0.0, 10e-3, 20e-3))
    plot = Plot(
        "Force of the spring against how far it is pressed",
        Axis("Pressed by", "length"),
        Axis("Force", "force"),
        (Curve("spring", line),),
        says=f"{given.say(line[1][1], 'force')} at {given.say(line[1][0], 'length')}.",
    )
    return answer(
        given,
        Found(
            at="label_rate",
            step=f"Read the label as {given.say(rate, 'rate')}.",
            quantities=(given.quantity("rate", "Spring rate", "rate", doubted),),
            working=(
                Working(
                    "1 lbf/in = 0.175 126 835 N/mm; 1 gf/mm = 0.009 806 65 N/mm",
                    f"{in_unit(rate, 'lbf/in')} = {in_unit(rate, 'N/mm')} = "
                    f"{in_unit(rate, 'gf/mm')} = {in_unit(rate, 'kgf/cm')}",
                    "NIST SP 811, appendix B",
                ),
            ),
            plot=plot,
            cautions=(
                Caution(
                    "Springs of one label differ by several per cent: scale and ruler tell more."
                ),
            ),
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


def _coil(given: Given) -> tuple[float, float]:
    """Mean diameter in m and active coils. Raises Problem where no such spring can be wound."""
    mean, active = given.outside - given.wire, given.coils - _DEAD
    if mean <= given.wire:
        raise Problem(
            "outside",
            "Outside diameter: the coil has no room inside; it has to be over twice the wire.",
        )
    return mean, active


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


def solve_wire(given: Given) -> Answer:
    mean, active = _coil(given)
    modulus, u = _modulus(given)
    given = with_inputs(given, {"modulus": (modulus, u, "shear modulus of the wire")})
    doubted = given.carry(_wire_figures)
    exact = {name: figure.value for name, figure in doubted.items()}

    def at(wire: float) -> float:
        return spring_rate(
            wire=wire, mean_diameter=mean, active_coils=active, shear_modulus=modulus
        )

    wires = [given.wire * (1 + _SHOWN * n / 10) for n in range(-10, 11)]
    line = [(wire, at(wire)) for wire in wires if wire < mean]
    say = given.say
    return answer(
        given,
        Found(
            at="wire",
            step=f"Mark the spring {say(exact['rate'], 'rate')}, until a scale says better.",
            quantities=tuple(
                given.quantity(name, label, kind, doubted[name])
                for name, label, kind in (
                    ("rate", "Spring rate", "rate"),
                    ("solid", "Solid length", "length"),
                    ("solid_limit", "Longest solid length that the standard allows", "length"),
                    ("index", "Mean diameter over wire", "ratio"),
                    ("active", "Active coils", "ratio"),
                )
            ),
            working=(
                Working("mean diameter = outside − wire; active coils = coils − 2",
                        f"{say(given.outside, 'length')} − {say(given.wire, 'length')} = "
                        f"{say(mean, 'length')}; {active:.2f} active coils"),
                Working("rate = G × wire⁴ / (8 × mean diameter³ × active coils)",
                        f"{say(modulus, 'modulus')} × ({say(given.wire, 'length')})⁴ / "
                        f"(8 × ({say(mean, 'length')})³ × {active:.2f}) = "
                        f"{say(exact['rate'], 'rate')}",
                        "EN 13906-1:2013, the rate equation; G: "
                        + _MODULUS_SOURCE[given.choice("material")]),
                Working("solid length = (coils + 1) × wire, or coils × wire where ground",
                        say(exact["solid"], "length"),
                        "Shigley's Mechanical Engineering Design, table 10-1"),
            ),
            plot=rate_plot(
                given, "Rate against wire thickness", Axis("Wire thickness", "length"), line,
                (given.wire, exact["rate"]),
            ),
            cautions=_wire_cautions(given, exact["index"]),
            solid=exact["solid"],
        ),
    )  # fmt: skip


def _wire_cautions(given: Given, index: float) -> tuple[Caution, ...]:
    found = [
        Caution(
            "From the wire alone a rate is a guess to check: a hundredth of a millimetre of wire "
            "is 3 to 4 % of rate. Scale and ruler decide."
        )
    ]
    low, high = _INDEX
    if not low <= index <= high:
        found.append(
            Caution(
                f"Mean diameter over wire is {index:.1f}: the equation is meant for "
                f"{low:.0f} to {high:.0f}."
            )
        )
    return tuple(found)


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


def solve_clipped(given: Given) -> Answer:
    if given.clipped + given.bent >= given.active:
        raise Problem(
            "clipped",
            f"Active coils clipped off: only {given.active:.2f} are active; with the bent end no "
            "coil would be left to work.",
        )
    if given.whole_free <= (given.active + _DEAD) * given.whole_wire:
        raise Problem(
            "whole_free",
            "Free length now: so many coils of this wire do not fit into it; measure again.",
        )
    doubted = given.carry(_clip_figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    rate, active = given.whole_rate, given.active
    shares = [0.9 * n / 20 for n in range(21)]
    line = [(share * active, rate / (1 - share)) for share in shares]
    say = given.say
    quantities = tuple(
        given.quantity(name, label, kind, doubted[name])
        for name, label, kind in (
            ("rate", "Spring rate after clipping", "rate"),
            ("more", "That is stiffer by", "share"),
            ("active", "Active coils left", "ratio"),
            ("free", "Free length then, about", "length"),
            ("solid", "Solid length then", "length"),
        )
    )
    whole = Quantity("rate_before", "Spring rate before", rate, "rate")
    return answer(
        given,
        Found(
            at="clipped",
            step=f"Cut off the flat end and {given.clipped:.2f} coils more, bend {given.bent:.2f} "
            f"flat: {say(exact['rate'], 'rate')}.",
            quantities=(*quantities, whole),
            working=(
                Working("rate = rate before × active coils / active coils left",
                        f"{say(rate, 'rate')} × {active:.2f} / ({active:.2f} − "
                        f"{given.clipped:.2f} − {given.bent:.2f}) = {say(exact['rate'], 'rate')}",
                        "EN 13906-1:2013, the rate equation"),
                Working("free length = (free length before − 2 wires) × active coils left / "
                        "active coils + 2 wires",
                        say(exact["free"], "length"), "closed ends"),
            ),
            plot=rate_plot(
                given, "Rate against active coils lost", Axis("Active coils lost", "ratio"), line,
                (given.clipped + given.bent, exact["rate"]),
            ),
            cautions=(
                Caution(
                    "A cut end is sharp and flies: cut it held in a vice with eye protection, and "
                    "file it. Do not heat it more than it takes to bend: heated wire goes soft."
                ),
                Caution("It cannot be undone, and both springs of an end need the same cut."),
            ),
            free=exact["free"],
            solid=exact["solid"],
        ),
    )  # fmt: skip
