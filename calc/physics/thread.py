"""Threads: pitch, travel, and how much of a rod end still holds the shaft. Lengths in m.

Turns are positive where the rod end comes off the shaft: the damper gets longer.
"""

from calc.physics.require import finite, positive

ENGAGEMENT = {"steel": (1.0, 1.0), "aluminium": (1.5, 2.0), "plastic": (2.0, 2.5)}
"""Usual least engagement in thread diameters, by the material of the weaker part: (least, safe).
A rule of thumb of machine shops, from memory; no standard."""


def rod_end_turns(measured: float, wanted: float, pitch: float) -> float:
    """Turns of the rod end that bring a damper from its measured length or stroke, m, to the one
    wanted."""
    finite(measured=measured, wanted=wanted)
    positive(pitch=pitch)
    return (wanted - measured) / pitch


def length_after(measured: float, turns: float, pitch: float) -> float:
    """Length or stroke after so many turns of the rod end, m."""
    finite(measured=measured, turns=turns)
    positive(pitch=pitch)
    return measured + turns * pitch


def engagement_left(engaged: float, turns: float, pitch: float) -> float:
    """Length of thread that still holds after the turns, m; 0 where the rod end has come off."""
    positive(pitch=pitch)
    finite(engaged=engaged, turns=turns)
    return max(engaged - turns * pitch, 0.0)


def least_engagement(diameter: float, material: str) -> tuple[float, float]:
    """Usual least engagement and its safe side, m, for one of the materials in ENGAGEMENT."""
    positive(diameter=diameter)
    if material not in ENGAGEMENT:
        raise ValueError(f"No rule for {material}: there is one for {', '.join(ENGAGEMENT)}")
    least, safe = ENGAGEMENT[material]
    return least * diameter, safe * diameter
