"""A form asked on behalf of the sheet, and what its reply leaves to say on paper."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.answering.answer import Answer
from calc.forms.catalogue import BY_SLUG
from calc.forms.names import end_label
from calc.language import abridged, tr
from calc.model.car import Car
from calc.model.corners import End
from calc.replying.form import Form, Reply
from calc.replying.inputs import Inputs, Problem
from calc.replying.reading import read, run
from calc.replying.resting import not_known, resting

_NAMED = 3  # values that are named before the rest is counted


@dataclass(frozen=True)
class Said:
    """Inputs as they were read, and the reply."""

    form: Form
    asked: Any
    reply: Reply
    system: str

    @property
    def answer(self) -> Answer:
        """The answer. Raises Problem with the reason where there is none."""
        if self.reply.answer is not None:
            return self.reply.answer
        if self.reply.problems:
            raise Problem(*next(iter(self.reply.problems.items())))
        raise lacking([one.label for one in not_known(self.form, self.reply, self.system)])

    def u(self, name: str) -> float:
        """Standard uncertainty of a quantity of the answer, SI; 0 where it has none."""
        found = [one.u for one in self.answer.quantities if one.name == name]
        return found[0] if found else 0.0

    @property
    def notes(self) -> Iterator[str]:
        """What would make the answer useless, and that it rests on values nobody measured."""
        for caution in self.answer.cautions:
            if caution.stop:
                yield caution.text
        yield from self.rests

    @property
    def rests(self) -> Iterator[str]:
        """That the answer rests on values nobody measured."""
        rests = resting(self.form, self.reply)
        if rests.others and not rests.demo:
            yield rests.short


def lacking(labels: Sequence[str]) -> Problem:
    """The reason where these values are not known."""
    return Problem("car", tr("Not known yet: {entries}.", entries=abridged(labels, _NAMED)))


def of_ends(reasons: Mapping[End, str]) -> tuple[str, ...]:
    """Why an end has no answer; said once where it is the same for both."""
    if len(set(reasons.values())) < len(reasons):
        return (next(iter(reasons.values())),)
    return tuple(tr("{end}: {why}", end=end_label(end), why=why) for end, why in reasons.items())


def ask(slug: str, typed: Mapping[str, str], car: Car, system: str) -> Said:
    """The reply of a form to these entries and the car."""
    form: Form = BY_SLUG[slug]
    inputs: Inputs = read(form, typed, car, system)[0]
    return Said(form, inputs, run(form, typed, car, system), system)
