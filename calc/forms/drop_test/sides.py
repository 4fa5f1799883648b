"""Drop test of two dampers with one mass: do left and right differ by more than the scatter?"""

import math
from collections.abc import Sequence
from statistics import fmean

from calc.answering.answer import Answer, OfDamper, Quantity, Step, Working
from calc.forms.drop_test import figures as common
from calc.forms.drop_test.inputs import Asked, Run
from calc.forms.failures import problem
from calc.forms.names import side_label, side_word
from calc.forms.oil_warm import with_law
from calc.language import tr
from calc.model.corners import Corner, Side
from calc.physics import sample
from calc.physics.failure import PhysicsError
from calc.replying.figures import Figures, figure
from calc.units import number_text

_SURE = 0.05  # a chance below this is taken for a difference, as is usual


class SideFigures(Figures):
    left_damping: float = figure("Left: damping coefficient", kind="damping")
    right_damping: float = figure("Right: damping coefficient", kind="damping")
    difference: float = figure("Left is harder (softer: −) than right", kind="share")
    left_inferred: float | None = figure(
        "Left: oil by the piston model, at 25 °C", kind="viscosity", least=0.0
    )
    right_inferred: float | None = figure(
        "Right: oil by the piston model, at 25 °C", kind="viscosity", least=0.0
    )


def _figures(asked: Asked, known: bool) -> SideFigures:
    left = common.damping_of(asked, asked.left, asked.left_scatter)
    right = common.damping_of(asked, asked.right, asked.right_scatter)
    pull = common.pull_of(asked)
    times = [fmean(common.times(rows)) for rows in (asked.left, asked.right)]
    return SideFigures(
        left_damping=left,
        right_damping=right,
        difference=times[0] / times[1] - 1 + asked.difference_scatter,
        left_inferred=common.inferred(asked, pull, pull / left) if known else None,
        right_inferred=common.inferred(asked, pull, pull / right) if known else None,
    )


def _test(asked: Asked) -> sample.Welch:
    try:
        return sample.welch(common.times(asked.left), common.times(asked.right))
    except PhysicsError as failure:
        first = asked.left[0]
        raise problem(first.at(Run.time), first.label_of(Run.time), failure) from failure


def solve(asked: Asked) -> Answer:
    left, right = asked.left, asked.right
    means = [common.mean_damping(asked, rows) for rows in (left, right)]
    both = zip((left, right), means, strict=True)
    spreads = [common.spread(asked, rows, mean) for rows, mean in both]
    test, pull = _test(asked), common.pull_of(asked)
    # What pulls, over which way and whose hand is alike for both: their scatter alone makes them
    # differ.
    apart = math.hypot(*(mean.error for mean in means)) / means[1].value
    asked = with_law(asked).assuming(
        (Asked.left_scatter, 0.0, spreads[0]),
        (Asked.right_scatter, 0.0, spreads[1]),
        (Asked.difference_scatter, 0.0, common.widened(apart, test.degrees)),
    )
    speeds = [pull / mean.value for mean in means]
    known = all(common.explained(asked, pull, speed) for speed in speeds)
    found = asked.propagate(lambda at: _figures(at, known))
    timed = ((Side.LEFT, left), (Side.RIGHT, right))
    sides = [(side_label(side), rows, [pull] * len(rows)) for side, rows in timed]
    return Answer(
        steps=(_verdict(asked, found.value.difference, test),),
        quantities=(*asked.quantities(found), _chance(test)),
        tables=(common.table(asked, sides),),
        plots=(common.runs_plot(asked, [(side_word(s), common.times(rows)) for s, rows in timed]),),
        cautions=(
            *(
                caution
                for side, rows in timed
                for caution in common.odd_cautions(asked, rows, f"{side_label(side)}, ")
            ),
            *common.cautions(asked, pull, max(speeds), common.hanging(asked, asked.mass)),
        ),
        working=(
            *common.working(asked, left, means[0]),
            *common.working(asked, right, means[1]),
            _welch_line(asked, test),
        ),
        measured=tuple(
            _of_damper(asked, corner, rows)
            for corner, rows in zip(asked.axle.corners, (left, right), strict=True)
        ),
    )


def _of_damper(asked: Asked, corner: Corner, rows: Sequence[Run]) -> OfDamper:
    """The mean time of a side, for the record of the damper that is there."""
    return OfDamper(corner, "", "hang", *common.mean_time(asked, rows), common.hung(asked))


def _chance(test: sample.Welch) -> Quantity:
    label = tr("Chance of such a difference between two alike")
    return Quantity("chance", label, test.p, "share", decimals=2)


def _verdict(asked: Asked, difference: float, test: sample.Welch) -> Step:
    apart = asked.say(abs(difference), "share", 1)
    by_chance = _of_such_tests(test.p)
    if test.p < _SURE:
        harder = side_word(Side.LEFT if difference > 0 else Side.RIGHT)
        return Step(
            tr("They differ by {apart}: the {side} one is harder.", apart=apart, side=harder),
            tr(
                "By scatter alone two alike would be this far apart in {chance}. Look at oil, "
                "holes and air of both.",
                chance=by_chance,
            ),
        )
    return Step(
        tr("The runs show no difference between left and right."),
        tr(
            "They are {apart} apart, and the scatter alone would do as much in {chance}. More runs "
            "would show smaller differences.",
            apart=apart,
            chance=by_chance,
        ),
    )


def _of_such_tests(chance: float) -> str:
    """A chance as a hand counts it: "30 of 100 such tests", "about 1 of 200 such tests"."""
    if chance >= 0.095:
        return tr("{count} of 100 such tests", count=f"{100 * chance:.0f}")
    if chance < 1e-6:
        return tr("less than 1 of a million such tests")
    one_in = round(1 / chance, -math.floor(math.log10(1 / chance)))
    return tr("about 1 of {count} such tests", count=f"{one_in:.0f}")


def _welch_line(asked: Asked, test: sample.Welch) -> Working:
    return Working(
        tr("t = (mean left − mean right) / √(error² left + error² right)"),
        tr(
            "t = {t} with {degrees} degrees of freedom: a chance of {chance}",
            t=number_text(test.t, "ratio", decimals=2),
            degrees=number_text(test.degrees, "ratio", decimals=1),
            chance=asked.say(test.p, "share", 2),
        ),
        "B. L. Welch, Biometrika 34 (1947)",
    )
