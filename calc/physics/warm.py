"""Oil at the temperature of the day: in slow flow the force goes with the dynamic viscosity.

Kinematic viscosities in m2/s, dynamic in Pa s, temperatures in K. A grade is named by its kinematic
viscosity at 25 C, here `viscosity_25`.
"""

from calc.physics.oil import (
    density,
    dynamic_viscosity,
    kinematic_viscosity,
    viscosity_25_from,
    viscosity_at,
)


def dynamic_at(viscosity_25: float, temperature: float) -> float:
    """Dynamic viscosity of a grade at a temperature, Pa s. Range and errors: `oil.viscosity_at`."""
    return dynamic_viscosity(
        viscosity_at(viscosity_25, temperature), density(viscosity_25, temperature)
    )


def same_feel(viscosity_25: float, before: float, now: float) -> float:
    """The grade, m2/s at 25 C, with the dynamic viscosity at `now` that this one had at `before`.

    Alike in slow flow, where the force goes with the dynamic viscosity; a jet at high speed cares
    for density alone, which temperature hardly changes.
    """
    wanted = dynamic_at(viscosity_25, before)
    grade = viscosity_25
    for _ in range(4):  # the density of a grade hardly depends on it: each round gains two digits
        grade = viscosity_25_from(kinematic_viscosity(wanted, density(grade, now)), now)
    return grade
