"""From the damper to the wheel: motion ratio, wheel rate, arm geometry. SI floats.

Motion ratio is damper travel divided by wheel travel throughout (texts use the inverse too).
Bump, the wheel going up against the body, is positive.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import acos, asin, atan2, cos, hypot, pi, sin

from calc.physics.failure import Cause, PhysicsError
from calc.physics.linear import polynomial_fit
from calc.physics.require import finite, not_negative, positive

Point = tuple[float, float]  # (outward from the middle of the car, up) in m


# Nearer to upright than this, as a share of the arm, its angle drowns in rounding.
_UPRIGHT = 1e-6
_REACH = 1e-9  # m; a wheel nearer to its pivot has no arm


class Unreachable(ValueError):
    """A position that the arm cannot take; for the programmer, `travel_range` names the cause."""


@dataclass(frozen=True)
class Linkage:
    """One arm and its damper, as drawn at one height seen along the car; points (out, up) in m.

    The arm swings about its hinge pin, so it moves in the plane square to that: where the pin is
    kicked up by an angle in rad, what is seen along the car as high as 1 is 1/cos(kick_up) there,
    and a wheel that rises by 1 in the plane rises by cos(kick_up). The mounts are taken to lie in
    that plane.

    pivot of the arm on the chassis, lower damper mount and wheel on the arm, upper mount on the
    chassis. wheel is the point that the wheel's height follows (the outer end of the arm).
    Raises PhysicsError for a drawing in which bump does not shorten the damper.
    """

    pivot: Point
    lower: Point
    upper: Point
    wheel: Point
    kick_up: float = 0.0

    def __post_init__(self) -> None:
        if not abs(self.kick_up) < pi / 2:
            raise ValueError("the hinge pin lies along the car, not upright")
        for x, z in (self.pivot, self.lower, self.upper, self.wheel):
            finite(point=x + z)
        out, up = self._hub
        if out <= _UPRIGHT * hypot(out, up):
            raise PhysicsError(Cause.WHEEL_INSIDE_PIVOT)
        if self.lower == self.pivot:
            raise PhysicsError(Cause.LOWER_MOUNT_ON_PIVOT)
        if self.upper == self.pivot:
            raise PhysicsError(Cause.UPPER_MOUNT_ON_PIVOT)
        if self.lower == self.upper:
            raise PhysicsError(Cause.MOUNTS_COINCIDE)
        if self._swing <= 0.0:
            raise PhysicsError(Cause.LONGER_IN_BUMP)

    # From the pivot, as drawn; an answer asks for hundreds of positions of one drawing.

    @cached_property
    def _arm(self) -> Point:
        return self._in_plane(self.lower)

    @cached_property
    def _chassis(self) -> Point:
        return self._in_plane(self.upper)

    @cached_property
    def _hub(self) -> Point:
        return self._in_plane(self.wheel)

    @cached_property
    def _lean(self) -> float:
        return cos(self.kick_up)

    def _in_plane(self, point: Point) -> Point:
        out, up = _apart(point, self.pivot)
        return out, up / self._lean

    @cached_property
    def _swing(self) -> float:
        """Cross product arm x upper mount: positive where raising the arm shortens the damper."""
        (bx, bz), (ux, uz) = self._arm, self._chassis
        return bx * uz - bz * ux

    @cached_property
    def _opening(self) -> float:
        """Angle in rad at the pivot from the lower to the upper mount, 0 to pi."""
        (bx, bz), (ux, uz) = self._arm, self._chassis
        return atan2(self._swing, bx * ux + bz * uz)

    def _at_angle(self, angle: float) -> "Position":
        """The linkage with its arm turned up by an angle in rad from the drawing."""
        if not 0.0 < self._opening - angle < pi:
            raise Unreachable("the damper would pass its dead centre before that wheel height")
        cosine, sine = cos(angle), sin(angle)
        (bx, bz), (wx, wz) = _turned(self._arm, cosine, sine), _turned(self._hub, cosine, sine)
        ux, uz = self._chassis
        if wx <= _REACH:
            raise Unreachable("the arm would stand upright before that damper length")
        ex, ez = bx - ux, bz - uz
        length = hypot(ex, ez)
        # First and second derivative of the damper's length by the arm's angle.
        first = (ez * bx - ex * bz) / length
        second = (bx**2 + bz**2 - ex * bx - ez * bz - first**2) / length
        # The wheel's height z changes by wx per rad, and wx by -wz per rad.
        return Position(
            wheel_rise=(wz - self._hub[1]) * self._lean,
            arm_angle=angle,
            damper_length=length,
            motion_ratio=-first / (wx * self._lean),
            motion_ratio_slope=-(second + first * wz / wx) / (wx * self._lean) ** 2,
        )


@dataclass(frozen=True, slots=True)
class Position:
    """A linkage at one wheel height: wheel_rise and damper_length in m, arm_angle in rad from the
    drawing (up positive), motion_ratio, and motion_ratio_slope in 1/m of wheel rise."""

    wheel_rise: float
    arm_angle: float
    damper_length: float
    motion_ratio: float
    motion_ratio_slope: float


@dataclass(frozen=True, slots=True)
class RatioFit:
    """Motion ratio from readings: ratio at zero wheel travel, slope in 1/m (0 for a straight fit),
    their standard errors and the scatter in m; None where no reading is left over to judge by,
    and for the slope of a straight fit."""

    ratio: float
    slope: float
    ratio_error: float | None
    slope_error: float | None
    scatter: float | None

    def ratio_at(self, wheel_travel: float) -> float:
        """Motion ratio at a wheel travel in m from where the readings call zero."""
        return self.ratio + self.slope * wheel_travel


def wheel_rate(
    *, rate: float, motion_ratio: float, force: float, motion_ratio_slope: float
) -> float:
    """Rate at the wheel in N/m of a spring of rate N/m: k MR^2 + F dMR/dz.

    force: of the spring, N; motion_ratio_slope: change of the ratio per m of wheel rise.
    The derivative of the wheel force F MR (virtual work).
    """
    positive(rate=rate, motion_ratio=motion_ratio)
    not_negative(force=force)
    finite(motion_ratio_slope=motion_ratio_slope)
    return rate * motion_ratio**2 + force * motion_ratio_slope


def wheel_damping(*, damping: float, motion_ratio: float) -> float:
    """Damping coefficient at the wheel, N s/m, of a damper's, N s/m: c MR^2."""
    positive(motion_ratio=motion_ratio)
    not_negative(damping=damping)
    return damping * motion_ratio**2


def lift_per_turn(*, pitch: float, motion_ratio: float) -> float:
    """Wheel travel against the body, in m, of one turn of the collar at unchanged force: p / MR."""
    positive(pitch=pitch, motion_ratio=motion_ratio)
    return pitch / motion_ratio


def position(linkage: Linkage, wheel_rise: float) -> Position:
    """The linkage with the wheel raised by wheel_rise in m from the drawing (bump positive).

    Raises Unreachable where the arm cannot reach, or the damper would pass its dead centre.
    """
    finite(wheel_rise=wheel_rise)
    out, up = linkage._hub
    radius = hypot(out, up)
    raised = up + wheel_rise / linkage._lean
    if abs(raised) >= radius:
        raise Unreachable("the arm cannot reach that wheel height")
    return linkage._at_angle(asin(raised / radius) - atan2(up, out))


def position_for_length(linkage: Linkage, damper_length: float) -> Position:
    """The linkage with the damper at a length in m between its mounts (law of cosines).

    Raises Unreachable for a length that no arm angle gives.
    """
    arm, chassis = hypot(*linkage._arm), hypot(*linkage._chassis)
    cosine = (arm**2 + chassis**2 - damper_length**2) / (2.0 * arm * chassis)
    if not damper_length > 0.0 or not -1.0 < cosine < 1.0:
        raise Unreachable(
            f"no arm angle gives that damper length: only from {abs(arm - chassis):.4g}"
            f" to {arm + chassis:.4g} m"
        )
    return linkage._at_angle(linkage._opening - acos(cosine))


def travel_range(linkage: Linkage, *, shortest: float, longest: float) -> tuple[Position, Position]:
    """The linkage at full droop (damper at its longest) and at full bump (at its shortest), m.

    Raises PhysicsError where the arm does not reach one of the two.
    """
    if not shortest < longest:
        raise ValueError("the damper must be longer at full droop than at full bump")
    return (
        _at_stop(linkage, longest, Cause.DROOP_OUT_OF_REACH),
        _at_stop(linkage, shortest, Cause.BUMP_OUT_OF_REACH),
    )


def _at_stop(linkage: Linkage, damper_length: float, cause: Cause) -> Position:
    try:
        return position_for_length(linkage, damper_length)
    except Unreachable as error:
        raise PhysicsError(cause) from error


def fit_motion_ratio(
    wheel_travel: Sequence[float], damper_travel: Sequence[float], *, curved: bool = True
) -> RatioFit:
    """Motion ratio from pairs of wheel and damper travel in m, bump positive in both.

    Least squares of damper travel on wheel travel with a free zero: a parabola, whose slope is
    the ratio, or a straight line (curved=False). Raises PhysicsError for too few different readings
    (3, or 2 for a line) or where the damper does not shorten as the wheel goes up.
    """
    for wheel, damper in zip(wheel_travel, damper_travel, strict=True):
        finite(wheel_travel=wheel, damper_travel=damper)
    fit = polynomial_fit(wheel_travel, damper_travel, 2 if curved else 1)
    ratio = fit.coefficients[1]
    slope = 2.0 * fit.coefficients[2] if curved else 0.0
    if min(ratio + slope * z for z in wheel_travel) <= 0.0:
        raise PhysicsError(Cause.RATIO_NOT_POSITIVE)
    return RatioFit(
        ratio=ratio,
        slope=slope,
        ratio_error=None if fit.errors is None else fit.errors[1],
        slope_error=2.0 * fit.errors[2] if fit.errors and curved else None,
        scatter=fit.scatter,
    )


def _apart(point: Point, origin: Point) -> Point:
    return point[0] - origin[0], point[1] - origin[1]


def _turned(arm: Point, cosine: float, sine: float) -> Point:
    out, up = arm
    return out * cosine - up * sine, out * sine + up * cosine
