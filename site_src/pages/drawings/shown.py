"""The drawing that shows where to measure each field, by its name."""

from collections.abc import Mapping

from calc.forms.catalogue import BY_SLUG

# Prefixes of the name of a field that asks for the same thing again.
_AGAIN = ("other_", "first_", "second_", "new_", "with_", "whole_", "front_", "rear_", "spring_")

_NAMES: Mapping[str, str] = {
    "spring-free": "free",
    "spring-solid": "solid",
    "spring-scale": "rate label_rate",
    "spring-droop": "droop_length",
    "spring-wire": "wire outside coils",
    "spring-clip": "active clipped bent",
    "first-touch": "past_touch",
    "thread-pitch": "pitch",
    "collar-mark": "turns collar turn_step",
    "stroke": "stroke wanted damper_length",
    "bore": "bore shaft hole holes thickness piston_thickness more_hole more_holes "
    "compression_hole compression_holes rebound_hole rebound_holes",
    "body-depth": "length",
    "piston-play": "clearance",
    "volume": "held parts",
    "closing": "closed_at came_back gas pressure",
    "rod-end-thread": "engaged",
    "shaft-thread": "thread",
    "drop-test": "mass distance time",
    "measure-oil": "drop syringe oil_scale",
    "ride-height": "ride_height wanted_height height friction",
    "reach": "reach",
    "plan": "wheelbase track gauge_width",
    "added-mass": "added along across",
    "corner-scales": "load load_left load_right cross_wanted",
    "motion-ratio": "motion_ratio wheel damper other",
    "mounts": "apart",
    "arm-points": "pivot_out pivot_up wheel_out wheel_up lower_out lower_up upper_out upper_up",
    "unsprung": "unsprung",
    "moving-mass": "moving",
    "tyre-rate": "tyre_rate",
}
_BY_NAME = {name: drawing for drawing, names in _NAMES.items() for name in names.split()}


def shown(form: str, field: str) -> str:
    """The drawing of a field, empty if there is nothing to measure; `form` may be a page that is
    none."""
    name = field.rpartition(".")[2]
    if form in BY_SLUG and name in BY_SLUG[form].drawings:
        return BY_SLUG[form].drawings[name]
    while name not in _BY_NAME:
        again = next((start for start in _AGAIN if name.startswith(start)), "")
        if not again:
            return ""
        name = name.removeprefix(again)
    return _BY_NAME[name]
