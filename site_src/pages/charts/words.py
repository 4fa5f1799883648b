"""How to read the charts of upright scales, with the worked line in numbers (SI)."""

from calc.language import tr
from calc.physics import oil
from calc.units import show, spelt, turns_text


def of_collar(pitch: float, motion_ratio: float, turns: float, lift: float) -> tuple[str, ...]:
    return (
        tr(
            "Straight edge over the pitch of the body's thread and the motion ratio (damper travel "
            "divided by wheel travel): the second scale shows what one turn of both collars lifts."
        ),
        tr(
            "Turn the edge about that point to the number of turns: the scale of heights shows how "
            "far this end of the car moves at its axle. Backwards, a height gives the turns."
        ),
        tr(
            "Dashed: {pitch}, motion ratio {ratio}: one turn {lift}, {turns} {height}.",
            pitch=show(pitch, "length"),
            ratio=spelt(f"{motion_ratio}"),
            lift=show(lift, "length"),
            turns=turns_text(turns),
            height=show(turns * lift, "length"),
        ),
        tr("Only while the car does not sit on its droop stops, at unchanged load."),
    )


def of_spring(rate: float, preload: float, force: float) -> tuple[str, ...]:
    return (
        tr(
            "Straight edge over the spring's rate and its preload (free length less length in the "
            "car): the middle scale shows the force that the spring holds."
        ),
        tr(
            "With preload and shaft travel added up it shows the force at that travel; backwards, "
            "the preload for a force."
        ),
        tr(
            "Dashed: {rate}, {preload}: {force}.",
            rate=show(rate, "rate"),
            preload=show(preload, "length"),
            force=show(force, "force"),
        ),
        tr("A spring under load can jump: eye protection."),
    )


def of_temperature(
    grade: float, there: float, warm: float, same: float, cold: float
) -> tuple[str, ...]:
    """Arguments are viscosities: the oil, its viscosity at the warm place, and the oil that has
    this viscosity at the cold one."""
    return (
        tr(
            "Straight edge over the oil (cSt at 25 °C) and the temperature: the middle scale shows "
            "the viscosity there."
        ),
        tr(
            "Turn the edge about that point to another temperature: the first scale shows the oil "
            "that feels the same there."
        ),
        tr(
            "Dashed: {oil} at {warm} °C has {viscosity}; at {cold} °C {same} feels the same.",
            oil=show(grade, "viscosity"),
            warm=f"{warm:g}",
            viscosity=show(there, "viscosity"),
            cold=f"{cold:g}",
            same=show(same, "viscosity"),
        ),
        tr(
            "±: {doubt} for 30 °C from where the oil is known. Oil thinner than 50 cSt "
            "changes less.",
            doubt=show(oil.temperature_uncertainty(oil.ROOM + 30), "share", decimals=0),
        ),
    )
