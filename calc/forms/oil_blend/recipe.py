"""A recipe of two oils, rounded to what a hand can measure, with the uncertainty of the result."""

from dataclasses import dataclass
from math import floor, inf

from calc.answering.hand import step_places, to_step
from calc.answering.uncertainty import resolution
from calc.forms.oil_blend.inputs import Asked
from calc.language import tr
from calc.model.oil import LAW_UNCERTAINTY, by_law, share_by_law
from calc.physics import oil
from calc.replying.inputs import Problem


@dataclass(frozen=True)
class Pair:
    """Two oils by name and viscosity, the exact share of the thick one, and the Grunberg-Nissan
    term where one measured blend of them fixes the law."""

    thin: float
    thick: float
    thin_name: str
    thick_name: str
    share: float
    term: float | None = None

    @property
    def measured(self) -> bool:
        return self.term is not None

    def blend(self, share: float) -> float:
        """Viscosity at a share of the thick oil, by the measured blend or the log law."""
        return oil.blend_measured(share, self.thin, self.thick, self.term or 0.0)

    def band(self, share: float) -> tuple[float, float]:
        """Lowest and highest of it by the laws in use; one value where it was measured."""
        if self.measured:
            return self.blend(share), self.blend(share)
        return oil.band([(1 - share, self.thin), (share, self.thick)])


@dataclass(frozen=True)
class Recipe:
    """Volumes in m3 of two oils as measured out, beside the exact share of the thick one; `step`
    is one more of the thick; `parts` where it is measured in whole parts."""

    exact_share: float
    thin_volume: float
    thick_volume: float
    step: float
    parts: tuple[int, int] | None = None

    @property
    def volume(self) -> float:
        return self.thin_volume + self.thick_volume

    @property
    def share(self) -> float:
        return self.thick_volume / self.volume


def interaction(asked: Asked) -> float | None:
    """The Grunberg-Nissan term of the one measured blend, None where there is none."""
    if asked.measured_share is None or asked.measured is None:
        return None
    return oil.interaction(asked.measured_share, asked.thin, asked.thick, asked.measured)


def round_recipe(
    asked: Asked, pair: Pair, amount: float, left: tuple[float, float] = (inf, inf)
) -> Recipe:
    """The pair in `amount` m3, rounded to the step the user measures with; never more of the thin
    and the thick oil than is `left` of them, m3. Raises Problem where a step is too coarse."""
    way, share = asked.step, pair.share
    if way == "parts":
        return _in_parts(pair, amount, left)
    if way == "scale":
        # Each oil has its own density, so the step in volume differs between the two.
        steps = [asked.oil_scale / oil.density(viscosity) for viscosity in (pair.thin, pair.thick)]
    else:
        steps = [asked.syringe if way == "syringe" else asked.drop] * 2
    exact = ((1 - share) * amount, share * amount)
    volumes = [_measured_out(*each) for each in zip(exact, steps, left, strict=True)]
    if sum(volumes) <= 0:
        tool = {"scale": Asked.oil_scale, "syringe": Asked.syringe, "drop": Asked.drop}[way]
        label = asked.label_of(tool)
        raise Problem(tool, tr("{entry}: one step is more than all the oil there is.", entry=label))
    return Recipe(share, volumes[0], volumes[1], steps[1])


def _in_parts(pair: Pair, amount: float, left: tuple[float, float]) -> Recipe:
    parts = oil.whole_parts(pair.share)[0]
    most = [held / count for held, count in zip(left, parts, strict=True) if count]
    part = min(amount / sum(parts), *most)
    return Recipe(pair.share, parts[0] * part, parts[1] * part, part, parts)


def _measured_out(volume: float, step: float, left: float) -> float:
    rounded = to_step(volume, step)
    return rounded if rounded <= left or volume > left else floor(left / step) * step


def with_measuring(asked: Asked, pair: Pair, recipe: Recipe) -> Asked:
    """The entries, joined by the volumes poured and by the law, each with its uncertainty."""
    reading = 0.0 if recipe.parts else resolution(recipe.step)
    thin, thick = recipe.thin_volume, recipe.thick_volume
    poured = asked.assuming(
        (Asked.poured_thin, thin, min(reading, thin)),
        (Asked.poured_thick, thick, min(reading, thick)),
    )
    # One measured blend decides what the laws leave open.
    return poured if pair.measured else poured.assuming((Asked.law, 0.0, LAW_UNCERTAINTY))


def poured_viscosity(asked: Asked, pair: Pair, thin: float, thick: float) -> float:
    """Viscosity of the volumes poured: by the one measured blend, or as `law` says."""
    share = asked.poured_thick / (asked.poured_thin + asked.poured_thick)
    if pair.measured:
        return oil.blend_measured(share, thin, thick, interaction(asked) or 0.0)
    return by_law([(1 - share, thin), (share, thick)], asked.law)


def exact_share(asked: Asked, pair: Pair, target: float, thin: float, thick: float) -> float:
    """Share of the thick oil that gives the target: by the one measured blend, or as `law` says;
    none or all of it where the oils, within their doubt, do not have the target between them."""
    if pair.thin == pair.thick:
        return pair.share
    target = min(max(target, thin), thick)
    if pair.measured:
        return oil.share_of_thick_measured(target, thin, thick, interaction(asked) or 0.0)
    return share_by_law(target, thin, thick, asked.law)


def measure_words(asked: Asked, volume: float, viscosity_25: float) -> str:
    """How much of an oil to measure out, in the way the user measures."""
    mass = volume * oil.density(viscosity_25)
    way = asked.step
    if way == "scale":
        return tr(
            "{mass} ({volume})",
            mass=asked.say(mass, "mass", step_places(asked.oil_scale, "mass")),
            volume=asked.say(volume, "volume", 1),
        )
    if way == "drop":
        return tr("{count}\u00a0drops", count=round(volume / asked.drop))
    if way == "syringe":
        return asked.say(volume, "volume", step_places(asked.syringe, "volume"))
    return asked.rough(volume, "volume", volume * _TOLD)


_TOLD = 0.05  # share of a volume that is drawn in parts: three digits, so that the mix is as told
