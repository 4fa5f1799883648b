"""The dampers of both ends of the car, for forms that are about the whole of it."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Self

from calc.forms.gas import Gas
from calc.forms.names import end_word
from calc.forms.oil_warm import AtWarmth
from calc.forms.piston import DamperInputs, PistonModel, piston_from
from calc.language import tr
from calc.model.corners import End
from calc.model.damper import Bench
from calc.physics.damper import Piston
from calc.replying.inputs import Problem


class EndDamper(DamperInputs):
    """The dampers of an end with how far off centre their pistons run."""

    off_centre: float = PistonModel.off_centre

    def made(self) -> Piston:
        """The piston of the end. Raises Problem."""
        return piston_from(self, self, self.off_centre)

    def having(self, *other: tuple[Any, float]) -> Self:
        """These dampers with other values: (field, value).

        Only the numbers of this piston are looked up: the others of the form cannot move it.
        """
        own = [self.prefix + entry.name for entry in self.fields]
        numbers = {self.at(field): value for field, value in other}
        for name in (*own, self.at(EndDamper.off_centre)):
            if name not in numbers:
                numbers[name] = self.of.numbers[name]
        return type(self)(replace(self.of, numbers=numbers), self.prefix)


class BothDampers(AtWarmth):
    """A car whose dampers work at one shaft speed and one temperature."""

    speed: float
    dampers: Mapping[End, EndDamper]
    piston_law: float = PistonModel.piston_law

    def gas(self, end: End) -> Gas:
        """What keeps the oil of an end under pressure."""
        raise NotImplementedError

    def bench(self, end: End) -> Bench:
        """The oil at its temperature and shaft speed, with the factors of both laws."""
        behind = self.gas(end).behind(self.dampers[end].shaft)
        return Bench(self.warm, self.speed, self.law_now, self.piston_law, behind)


def other_piston(damper: EndDamper, end: End, at: Any, *other: tuple[Any, float]) -> Piston:
    """The piston of an end with `other` values: (field, value). Raises Problem at the entry `at`
    that they come from."""
    try:
        return damper.having(*other).made()
    except Problem as problem:
        sentence = tr("The {end} damper: {problem}", end=end_word(end), problem=problem)
        raise Problem(at, sentence) from problem
