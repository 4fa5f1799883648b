"""Two springs in series by cases, to compare `calc.physics.stack` with."""

from calc.physics.spring import Spring, series_rate


def pair_compression(first: Spring, second: Spring, *, force: float) -> float:
    """Compression in m under a force in N: each gives way until its coils touch."""
    return sum(min(force / spring.rate, spring.travel) for spring in (first, second))


def pair_force(first: Spring, second: Spring, *, compression: float) -> float:
    """Force in N at a compression in m: stiffer once the one that binds first has bound."""
    assert compression <= first.travel + second.travel, "a solid pair bears any force"
    if compression <= 0.0:
        return 0.0
    early, late = sorted((first, second), key=lambda spring: spring.rate * spring.travel)
    together = series_rate(first.rate, second.rate) * compression
    if together <= early.rate * early.travel:
        return together
    return late.rate * (compression - early.travel)
