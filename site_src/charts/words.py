"""How to read the charts of upright scales, with the worked line in numbers (SI)."""

from calc.physics import oil
from calc.units import show, turns_text


def of_collar(pitch: float, motion_ratio: float, turns: float, lift: float) -> tuple[str, ...]:
    return (
        "Straight edge over the pitch of the body's thread and the motion ratio (damper travel "
        "divided by wheel travel): the second scale shows what one turn of both collars lifts.",
        "Turn the edge about that point to the number of turns: the scale of heights shows how far "
        "this end of the car moves at its axle. Backwards, a height gives the turns.",
        f"Dashed: {show(pitch, 'length')}, motion ratio {motion_ratio}: one turn "
        f"{show(lift, 'length')}, {turns_text(turns)} {show(turns * lift, 'length')}.",
        "Only while the car does not sit on its droop stops, at unchanged load.",
    )


def of_spring(rate: float, preload: float, force: float) -> tuple[str, ...]:
    return (
        "Straight edge over the spring's rate and its preload (free length less length in the car):"
        " the middle scale shows the force that the spring holds.",
        "With preload and shaft travel added up it shows the force at that travel; backwards, the "
        "preload for a force.",
        f"Dashed: {show(rate, 'rate')}, {show(preload, 'length')}: {show(force, 'force')}.",
        "A spring under load can jump: eye protection.",
    )


def of_temperature(
    grade: float, there: float, warm: float, same: float, cold: float
) -> tuple[str, ...]:
    """Viscosities: the oil, what it has where it is warm, the oil that has it where it is cold."""
    return (
        "Straight edge over the oil (cSt at 25 °C) and the temperature: the middle scale shows the "
        "viscosity there.",
        "Turn the edge about that point to another temperature: the first scale shows the oil that "
        "feels the same there.",
        f"Dashed: {show(grade, 'viscosity')} at {warm:g} °C has {show(there, 'viscosity')}; "
        f"at {cold:g} °C {show(same, 'viscosity')} feels the same.",
        f"Doubt: {oil.temperature_doubt(oil.ROOM + 30):.0%} for 30 °C from where the oil is known. "
        "Oil thinner than 50 cSt changes less.",
    )
