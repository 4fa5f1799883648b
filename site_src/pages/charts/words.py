"""How to read the charts of upright scales, with the worked line in numbers (SI)."""

from math import sqrt

from calc.language import tr
from calc.physics import oil
from calc.physics.linkage import wheel_rate
from calc.physics.ride import GRAVITY
from calc.units import show, spelt, turns_text


def accurate(share: float) -> str:
    return tr(
        "Read by hand it is true within {share} (19 of 20 readings, edge and eye 0.3 mm off).",
        share=show(share, "share", decimals=1),
    )


def accurate_blend(share: float, off: float) -> str:
    return tr(
        "Read by hand the viscosity is true within {share}, the share of bottles 2 : 1 apart "
        "within {off} of the blend (19 of 20 readings, edge and eye 0.3 mm off).",
        share=show(share, "share", decimals=1),
        off=show(off, "share", decimals=1),
    )


def accurate_squeeze(share: float) -> str:
    return tr(
        "Read by hand, scale 5 is true within {share} (19 of 20 readings, edge and eye 0.3 mm "
        "off), which is {off} in 20 mm; so is the sag.",
        share=show(share, "share", decimals=1),
        off=show(20e-3 * share, "length", decimals=1),
    )


def accurate_shift(off: float, force: float) -> str:
    """`off` in m at a force in N."""
    return tr(
        "Read by hand it is true within {off} at {force}, less closely at a higher force "
        "(19 of 20 readings, edge and eye 0.3 mm off).",
        off=show(off, "length", decimals=1),
        force=show(force, "force", decimals=0),
    )


def of_collar(pitch: float, motion_ratio: float, turns: float, lift: float) -> tuple[str, ...]:
    return (
        tr(
            "Straight edge over the pitch of the body's thread and the motion ratio (damper travel "
            "divided by wheel travel): scale 3 shows what one turn of both collars lifts."
        ),
        tr(
            "Turn the edge about that point to the number of turns: scale 5 shows how far this end "
            "of the car moves at its axle. Backwards, a height gives the turns."
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
        tr(
            "Drawn for a motion ratio that stays the same. Where it grows in bump a turn lifts "
            "less: by {share} with a spring pressed together by {pressed} and a ratio of {ratio} "
            "that grows by {growth} in {way}. “Collar turns and ride height” counts it.",
            share=show(_lost(motion_ratio), "share", decimals=0),
            pressed=show(_PRESSED, "length", decimals=0),
            ratio=spelt(f"{motion_ratio}"),
            growth=spelt(f"{_GROWTH * _WAY:g}"),
            way=show(_WAY, "length", decimals=0),
        ),
    )


_PRESSED, _GROWTH, _WAY = 8e-3, 2.0, 10e-3  # m, 1/m of wheel rise, m


def _lost(motion_ratio: float) -> float:
    """Share of the lift of a turn that a ratio which grows so takes away."""
    flat, grown = (
        wheel_rate(rate=1.0, motion_ratio=motion_ratio, force=_PRESSED, motion_ratio_slope=slope)
        for slope in (0.0, _GROWTH)
    )
    return 1 - flat / grown


def of_spring(rate: float, preload: float, force: float) -> tuple[str, ...]:
    return (
        tr(
            "Straight edge over the spring's rate and its preload (free length less its length at "
            "full droop): scale 3 shows the force that the spring holds."
        ),
        tr(
            "Over preload plus shaft travel it shows the force at that travel; backwards, the "
            "preload for a force."
        ),
        tr(
            "Dashed: {rate}, {preload}: {force}.",
            rate=show(rate, "rate"),
            preload=show(preload, "length"),
            force=show(force, "force"),
        ),
        tr("A spring under load can jump: eye protection."),
    )


def of_sag(load: float, motion_ratio: float, rate: float, preload: float) -> tuple[str, ...]:
    force = load * GRAVITY / motion_ratio
    shorter = force / rate
    return (
        tr(
            "Straight edge over the load at this wheel that its spring carries (scale reading "
            "less what moves with the wheel) and the motion ratio: scale 3 shows the force in the "
            "spring. Turn the edge about that point to the rate: scale 5 shows by how much the "
            "spring is shorter than free."
        ),
        tr(
            "Subtract the preload: that is the sag at the shaft. Set it on scale 6: an edge from "
            "there to the motion ratio gives the sag at the wheel. Backwards: a wanted sag gives "
            "the preload."
        ),
        tr(
            "Dashed: {load}, motion ratio {ratio}: {force}; {rate}: {shorter} shorter; less "
            "{preload} of preload {shaft} at the shaft, {wheel} at the wheel.",
            load=show(load, "mass", decimals=0),
            ratio=spelt(f"{motion_ratio}"),
            force=show(force, "force", decimals=1),
            rate=show(rate, "rate"),
            shorter=show(shorter, "length", decimals=1),
            preload=show(preload, "length", decimals=1),
            shaft=show(shorter - preload, "length", decimals=1),
            wheel=show((shorter - preload) / motion_ratio, "length", decimals=1),
        ),
        tr("Without friction; scale 5 below the preload: the car sits on its droop stops."),
        tr(
            "Drawn for a motion ratio that stays the same, that at ride height. One that grows by "
            "{growth} in {way} lets the wheel of the dashed example sag {share} more.",
            growth=spelt(f"{_GROWTH * _WAY:g}"),
            way=show(_WAY, "length", decimals=0),
            share=show(_deeper(motion_ratio, shorter - preload), "share", decimals=0),
        ),
    )


def _deeper(motion_ratio: float, shaft: float) -> float:
    """Share by which the wheel sags more where the ratio has grown so on the way to `motion_ratio`:
    shaft = motion ratio × wheel − growth × wheel² / 2."""
    wheel = (motion_ratio - sqrt(motion_ratio**2 - 2 * _GROWTH * shaft)) / _GROWTH
    return wheel * motion_ratio / shaft - 1


def of_swap(now: float, new: float, force: float, down: float) -> tuple[str, ...]:
    return (
        tr(
            "Straight edge over the rate of the spring now and of the new one, on to scale 3. From "
            "there through the force in the spring at rest (scale 3 of the chart of sag): scale 5 "
            "shows how far down both collars of the end go so that the height stays; minus is up."
        ),
        tr(
            "Divided by the pitch of the thread these are the turns. A new spring that is longer "
            "when free takes its collar up by as much."
        ),
        tr(
            "Dashed: {now} to {new} at {force}: {far} up.",
            now=show(now, "rate"),
            new=show(new, "rate"),
            force=show(force, "force", decimals=0),
            far=show(-down, "length"),
        ),
        tr("Both rates and the force may be read ten times as large; the travel stays the same."),
        tr("A spring under load can jump: eye protection."),
    )


def of_piston(
    now: tuple[int, float], grade: float, then: tuple[int, float], same: float, plate: float
) -> tuple[str, ...]:
    """Pistons as (holes, diameter in m); `grade` and `same` are the oils."""
    return (
        tr(
            "Straight edge over the number of holes and their diameter: scale 3 shows the opening. "
            "From there to the oil: scale 5 shows the damping in slow motion. Neither has a unit; "
            "equal numbers damp alike."
        ),
        tr(
            "The other piston gives another opening; from there through the same damping to scale "
            "4: the oil that damps alike."
        ),
        tr(
            "Dashed: {holes} holes of {hole} with {oil}; {others} holes of {other}: {same}.",
            holes=now[0],
            hole=show(now[1], "length"),
            oil=show(grade, "viscosity"),
            others=then[0],
            other=show(then[1], "length"),
            same=show(same, "viscosity"),
        ),
        tr(
            "Drawn for pistons {plate} thick; true within 5% from 1.5 to 4 mm, if both are alike, "
            "with up to 0.1 mm of play in the bore. In fast motion (pack) pistons differ more.",
            plate=show(plate, "length", decimals=1),
        ),
    )


def of_temperature(
    grade: float, there: float, hot: float, same: float, cold: float
) -> tuple[str, ...]:
    """The oil, its dynamic viscosity at the warm place (Pa s), and the oil that has this at the
    cold one."""
    return (
        tr(
            "Straight edge over the oil (cSt at 25 °C) and the temperature: scale 3 shows its drag "
            "there, the dynamic viscosity."
        ),
        tr(
            "Turn the edge about that point to another temperature: scale 1 shows the oil that "
            "feels the same there."
        ),
        tr(
            "Dashed: {oil} at {warm} °C is {drag} mPa·s; at {cold} °C {same} feels the same.",
            oil=show(grade, "viscosity"),
            warm=f"{hot:g}",
            drag=f"{there * 1e3:.0f}",
            cold=f"{cold:g}",
            same=show(same, "viscosity"),
        ),
        tr(
            "True within {doubt} up to 30 °C above or below the temperature at which the oil is "
            "known. Oil thinner than 50 cSt changes less.",
            doubt=show(oil.temperature_uncertainty(oil.ROOM + 30), "share", decimals=0),
        ),
    )
