"""Cars far from the demo car that somebody races all the same, invented like it: a very small one,
a very large one, one that crawls on soft springs, one on stiff springs and thick oil; the demo car
in frost and in heat."""

from collections.abc import Mapping

from calc.asking.declare import si
from calc.model.car import Bottle, Car, number_at, put
from calc.model.corners import CORNERS, ENDS


def _car(
    values: Mapping[str, str], loads: tuple[str, ...], bottles: Mapping[str, str] | None = None
) -> Car:
    """The demo car with these quantities, "*" for both ends; loads of the four scales; what is in
    the bottles, by viscosity."""
    car = Car()
    for path, text in values.items():
        for end in ENDS if "*" in path else ("",):
            at = path.replace("*", end)
            car = put(car, at, si(text, number_at(at).kind))
    for corner, load in zip(CORNERS, loads, strict=True):
        car = put(car, f"corners.{corner}.load", si(load, "mass"))
        for name in ("stroke", "damper_length"):
            car = put(car, f"corners.{corner}.{name}", getattr(car.axle(corner.end), name))
    if bottles is None:
        return car
    own = (
        Bottle(viscosity=si(oil, "viscosity"), left=si(left, "volume"))
        for oil, left in bottles.items()
    )
    return put(car, "bottles", tuple(own))


def _at(temperature: float) -> Car:
    """The demo car at a temperature (K) for which its oils are right."""
    car = put(Car(), "temperature", temperature)
    for end in ENDS:
        car = put(car, f"{end}.oil_at", temperature)
    return car


def _arm(**places: str) -> dict[str, str]:
    return {f"*.arm.{name}": place for name, place in places.items()}


SMALL = _car(
    {
        "*.pitch": "0.5 mm", "*.motion_ratio": "0.8", "*.spring_free": "12 mm",
        "*.spring_rate": "0.15 N/mm", "*.spring_solid": "5 mm", "*.droop_length": "11.5 mm",
        "*.stroke": "5 mm", "*.damper_length": "30 mm", "*.bore": "5 mm", "*.shaft": "1.5 mm",
        "*.holes": "2", "*.hole": "0.6 mm", "*.piston_thickness": "1.2 mm", "*.oil": "100 cSt",
        "*.unsprung": "8 g", "*.ride_height": "5 mm", "*.wanted_height": "4.5 mm",
        "*.friction": "0.2 mm", "*.tyre_rate": "3 N/mm", "*.gauge_width": "30 mm",
        "*.track": "70 mm", "*.inside.clearance": "0.05 mm", "*.inside.length": "9 mm",
        "*.inside.parts": "0.01 mL", "*.inside.held": "0.16 mL", "*.inside.closed_at": "2 mm",
        "*.inside.gas": "0.03 mL", "*.inside.moving": "0.4 g", "body.wheelbase": "98 mm",
        "rod_end.thread": "1.6 mm", "rod_end.pitch": "0.35 mm", "tools.scale": "0.1 g",
        "tools.syringe": "0.01 mL", "tools.drop": "0.02 mL",
        **_arm(
            pivot_out="10 mm", pivot_up="7 mm", wheel_out="32 mm", wheel_up="7 mm",
            lower_out="29 mm", lower_up="7 mm", upper_out="21 mm", upper_up="33 mm",
            other_lower_out="29 mm", other_lower_up="7 mm", other_upper_out="19 mm",
            other_upper_up="32 mm",
        ),
    },
    ("38 g", "39 g", "42 g", "41 g"),
    {"100 cSt": "8 mL", "200 cSt": "8 mL", "500 cSt": "1 mL"},
)  # fmt: skip
"""1:28, 160 g."""

LARGE = _car(
    {
        "*.pitch": "1.5 mm", "*.motion_ratio": "0.6", "*.spring_free": "95 mm",
        "*.spring_rate": "3 N/mm", "*.spring_solid": "38 mm", "*.droop_length": "92 mm",
        "*.stroke": "48 mm", "*.damper_length": "165 mm", "*.bore": "24 mm", "*.shaft": "6 mm",
        "*.holes": "4", "*.hole": "2.4 mm", "*.piston_thickness": "5 mm", "*.oil": "1000 cSt",
        "*.unsprung": "450 g", "*.ride_height": "55 mm", "*.wanted_height": "50 mm",
        "*.friction": "1.5 mm", "*.tyre_rate": "8 N/mm", "*.gauge_width": "180 mm",
        "*.track": "400 mm", "*.inside.clearance": "0.1 mm", "*.inside.length": "70 mm",
        "*.inside.parts": "2 mL", "*.inside.held": "29 mL", "*.inside.closed_at": "20 mm",
        "*.inside.gas": "4 mL", "*.inside.moving": "30 g", "body.wheelbase": "520 mm",
        "rod_end.thread": "5 mm", "rod_end.pitch": "0.8 mm", "tools.scale": "5 g",
        "tools.turn_step": "0.5 turns",
        **_arm(
            pivot_out="60 mm", pivot_up="60 mm", wheel_out="200 mm", wheel_up="60 mm",
            lower_out="150 mm", lower_up="65 mm", upper_out="100 mm", upper_up="222 mm",
            other_lower_out="150 mm", other_lower_up="65 mm", other_upper_out="90 mm",
            other_upper_up="218 mm",
        ),
    },
    ("2900 g", "2950 g", "3100 g", "3050 g"),
    {"500 cSt": "120 mL", "1000 cSt": "250 mL", "3000 cSt": "60 mL"},
)  # fmt: skip
"""1:5, 12 kg."""

CRAWLER = _car(
    {
        "*.motion_ratio": "0.9", "*.spring_free": "90 mm", "*.spring_rate": "0.1 N/mm",
        "*.spring_solid": "18 mm", "*.droop_length": "72 mm", "*.stroke": "45 mm",
        "*.damper_length": "110 mm", "*.bore": "10 mm", "*.holes": "2", "*.hole": "1.5 mm",
        "*.oil": "50 cSt", "*.unsprung": "260 g", "*.ride_height": "75 mm",
        "*.wanted_height": "70 mm", "*.friction": "3 mm", "*.tyre_rate": "1 N/mm",
        "*.gauge_width": "60 mm", "*.track": "200 mm", "*.inside.length": "60 mm",
        "*.inside.held": "4.3 mL", "*.inside.closed_at": "20 mm", "*.inside.gas": "0.6 mL",
        "body.wheelbase": "313 mm",
        **_arm(
            pivot_out="10 mm", pivot_up="50 mm", wheel_out="100 mm", wheel_up="50 mm",
            lower_out="95 mm", lower_up="55 mm", upper_out="60 mm", upper_up="143 mm",
            other_lower_out="95 mm", other_lower_up="55 mm", other_upper_out="50 mm",
            other_upper_up="138 mm",
        ),
    },
    ("760 g", "750 g", "640 g", "650 g"),
    {"50 cSt": "60 mL", "100 cSt": "40 mL", "350 cSt": "20 mL"},
)  # fmt: skip
"""2.8 kg, half of it wheels, on springs that give 50 mm."""

STIFF = _car(
    {
        "*.pitch": "0.5 mm", "*.motion_ratio": "0.72", "*.spring_free": "22 mm",
        "*.spring_rate": "2.6 N/mm", "*.spring_solid": "11 mm", "*.droop_length": "21.6 mm",
        "*.stroke": "9 mm", "*.damper_length": "56 mm", "*.bore": "11 mm", "*.holes": "3",
        "*.hole": "1.1 mm", "*.oil": "500 cSt", "*.unsprung": "55 g", "*.ride_height": "5.2 mm",
        "*.wanted_height": "5.4 mm", "*.friction": "0.1 mm", "*.tyre_rate": "20 N/mm",
        "*.gauge_width": "90 mm", "*.track": "168 mm", "*.inside.length": "16 mm",
        "*.inside.parts": "0.15 mL", "*.inside.held": "1.35 mL", "*.inside.closed_at": "4 mm",
        "*.inside.gas": "0.15 mL", "body.wheelbase": "257 mm", "tools.height_gauge": "0.1 mm",
        **_arm(
            pivot_out="25 mm", pivot_up="14 mm", wheel_out="80 mm", wheel_up="14 mm",
            lower_out="66 mm", lower_up="16 mm", upper_out="48 mm", upper_up="69 mm",
            other_lower_out="66 mm", other_lower_up="16 mm", other_upper_out="44 mm",
            other_upper_up="68 mm",
        ),
    },
    ("335 g", "330 g", "341 g", "344 g"),
    {"350 cSt": "30 mL", "450 cSt": "5 mL", "600 cSt": "30 mL", "800 cSt": "1.5 mL"},
)  # fmt: skip
"""1.35 kg with 2 mm of droop."""

CARS = {
    "small": SMALL,
    "large": LARGE,
    "crawler": CRAWLER,
    "stiff": STIFF,
    "frost": _at(263.15),
    "heat": _at(318.15),
}
