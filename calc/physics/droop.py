"""One corner and its droop stop: whether the collar lifts it, and how far it may drop. SI floats.

Loads are those of the spring at the wheel; preload is the spring's compression at full droop.
"""

from calc.physics.require import finite, not_negative, positive


def sprung_load(*, corner_load: float, unsprung: float = 0.0) -> float:
    """Load in N on the spring: the scale reading less the weight of wheel and arm."""
    not_negative(corner_load=corner_load, unsprung=unsprung)
    if unsprung > corner_load:
        raise ValueError("the wheel and arm must not weigh more than the whole corner")
    return corner_load - unsprung


def turns_to_droop_stop(
    *, corner_load: float, motion_ratio: float, rate: float, preload: float, pitch: float
) -> float:
    """Turns left before the corner sits on its droop stop; below 0: turns back before it leaves it.

    corner_load in N, rate in N/m, preload in m at full droop, pitch in m.
    (W/MR/k - preload)/p: where the spring at full droop just holds the load.
    """
    positive(pitch=pitch)
    return _spare(corner_load, motion_ratio, rate, preload) / pitch


def droop_left(*, corner_load: float, motion_ratio: float, rate: float, preload: float) -> float:
    """Wheel droop travel in m from where the car stands; 0 on the droop stop."""
    return max(0.0, _spare(corner_load, motion_ratio, rate, preload)) / motion_ratio


def collar_rise(
    *,
    turns: float,
    corner_load: float,
    motion_ratio: float,
    rate: float,
    preload: float,
    pitch: float,
) -> float:
    """Rise in m at one corner under an unchanged load, droop stop included.

    Equal to turns p/MR while the corner is clear of its stop before and after.
    """
    positive(pitch=pitch)
    before = droop_left(
        corner_load=corner_load, motion_ratio=motion_ratio, rate=rate, preload=preload
    )
    after = droop_left(
        corner_load=corner_load,
        motion_ratio=motion_ratio,
        rate=rate,
        preload=preload + turns * pitch,
    )
    return before - after


def _spare(corner_load: float, motion_ratio: float, rate: float, preload: float) -> float:
    """Spring compression under the load less the preload, m: shaft travel from full droop."""
    positive(motion_ratio=motion_ratio, rate=rate)
    not_negative(corner_load=corner_load)
    finite(preload=preload)
    return corner_load / motion_ratio / rate - preload
