"""The steps of the build list, in our order and our words.

What a step says is the practice of the trade; where a rule in it has no source, `practice` is set
and the page says so. Numbers of the car stand beside it (facts.py), never in it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from calc.language import later

Kind = Literal["bladder", "emulsion", "vented"]
KINDS: tuple[tuple[Kind, str], ...] = (
    ("bladder", later("with a bladder")),
    ("emulsion", later("emulsion, no bladder")),
    ("vented", later("vented cap or bleed screw")),
)
ALL_KINDS: tuple[Kind, ...] = tuple(kind for kind, _ in KINDS)
_NO_EMULSION: tuple[Kind, ...] = ("bladder", "vented")
COLLAR_LOG = "log"
"""The page that is no form."""
Danger = Literal["clips", "lock", "plastic", "knife", "spill", "opened", "springs", "car", "cells"]
"""What can hurt at a step: its sentence is in cautions.py."""


@dataclass(frozen=True)
class Trouble:
    """A damper that falls out: how it shows, the step that it goes back to, and what the hand does
    about it there. `again` are the steps that it then goes through once more; empty for all from
    there on. It is offered at the steps that name it, and at every step from `since` on, where it
    can be seen at any of them. `both` sends the pair back together; `only` names the kinds of
    damper that can have it."""

    key: str
    shows: str
    back: str
    does: str
    again: tuple[str, ...] = ()
    since: str = ""
    both: bool = False
    only: tuple[Kind, ...] = ALL_KINDS


@dataclass(frozen=True)
class Step:
    """`does` is for every kind of damper, `by_kind` more for some; `only` names the kinds that have
    the step at all. `reads` are names of readings, `facts` of numbers of the car, `lays` what has
    to lie ready, `links` pages that help."""

    key: str
    title: str
    does: str
    by_kind: Mapping[Kind, str] = field(default_factory=dict)
    only: tuple[Kind, ...] = ALL_KINDS
    reads: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    lays: tuple[str, ...] = ()
    dangers: tuple[Danger, ...] = ()
    troubles: tuple[str, ...] = ()
    links: tuple[str, ...] = ()
    practice: bool = False
    timed: bool = False


TROUBLES: Mapping[str, Trouble] = {
    one.key: one
    for one in (
        Trouble(
            "length", later("The length is off"), "rod_end",
            later(
                "Hold the shaft in soft jaws where the seal never runs, and turn the rod end of "
                "the longer damper in: a turn is a pitch of its thread (M3: 0.5 mm). If it is "
                "already fully on, turn that of the shorter damper out."
            ),
        ),
        Trouble(
            "stroke", later("The stroke is off, the length is right"), "piston",
            later(
                "Take both shafts out and lay spacers and bump stops side by side. Move or add "
                "some until both have the same under the piston and the same above it."
            ),
        ),
        Trouble(
            "wrong_oil", later("Its shaft runs faster or slower than the other one"), "oil",
            later(
                "Rule out a bubble first. Then empty both of the pair, wipe them dry and fill "
                "them from one beaker."
            ),
            both=True,
        ),
        Trouble(
            "rebound", later("The rebound is off"), "close",
            later(
                "Open the cap, set the shaft where the other one had it, close it again. If it "
                "comes out too far, have the shaft further in when you close; if not far enough, "
                "further out."
            ),
        ),
        Trouble(
            "gap", later("The collars differ at first touch"), "spring",
            later(
                "See that both cups are fully seated, and that both springs stand square. "
                "Then swap the two springs: a difference that moves with the spring is its "
                "free length, one that stays is the length of the damper."
            ),
        ),
        Trouble(
            "binds", later("The arm does not fall by itself"), "mount",
            later(
                "Take the lower end off again and move the arm and the damper each by itself. "
                "Ease the screw that pinches; turn the rod end until it lies square to its pin."
            ),
        ),
        Trouble(
            "droop", later("One wheel droops further"), "rod_end",
            later(
                "Take the damper off and compare the lengths of the pair, fully out; the oil stays "
                "in. Turn the rod end of the longer one in. If they are alike, look for an arm "
                "that binds or a mount in another hole."
            ),
            again=("rod_end", "length", "touch", "mark", "mount", "droop"),
        ),
        Trouble(
            "drags", later("The shaft drags or sticks"), "shaft",
            later(
                "Take the shaft out and roll it on glass: change it if it is bent. Cut off any "
                "burr on the piston, lay the seals in without a twist, and wet them."
            ),
            since="rod_end",
        ),
        Trouble(
            "scratch", later("The shaft is scratched"), "shaft",
            later(
                "Fit another shaft: a scratch that a fingernail feels cuts every new seal. Fit new "
                "seals with it, over a covered thread."
            ),
            since="shaft",
        ),
        Trouble(
            "bubble", later("A bubble: it hisses, or the start of the stroke is soft"), "work",
            later(
                "Open it slowly over a rag, shaft fully out. Work the shaft under the oil until "
                "nothing more rises, let it rest, top it up and close it where the other one was "
                "closed."
            ),
            again=("work", "rest", "top_up", "close", "rebound", "hang", "pair", "spring", "mount",
                   "droop"),
            since="close", only=_NO_EMULSION,
        ),
        Trouble(
            "foam", later("It is softer or harder than the other one: another share of air"),
            "fill",
            later(
                "Open it slowly over a rag, shaft fully out, and let the foam settle. Draw its oil "
                "out with a syringe and put in as much as the other one got. Close both at the "
                "same shaft position, and stroke both the same number of times."
            ),
            again=("fill", "work", "top_up", "close", "rebound", "hang", "pair", "spring", "mount",
                   "droop"),
            since="close", only=("emulsion",),
        ),
        Trouble(
            "leak_cap", later("It leaks at the cap"), "close",
            later(
                "Open it, wipe rim and cap dry. Change a seal, or a bladder, that is cut or "
                "pinched, see that the cap goes on straight, and close it hand tight."
            ),
            again=("close", "rebound", "hang", "pair", "mount", "droop"),
            since="close",
        ),
        Trouble(
            "leak_seal", later("It leaks at the shaft"), "seals",
            later(
                "Empty it and take the shaft out. Feel for a nick, and replace a shaft that has "
                "one. Then fit new seals, wetted, over a covered thread."
            ),
            since="fill",
        ),
        Trouble(
            "spare", later("It is beyond mending tonight: a spare takes its place"), "lay_out",
            later(
                "Put it aside with its letter on. Write the spare's letter in its place at “Lay "
                "out”: readings go with the letter, so measure the spare at each step, or take its "
                "numbers from its record below. Without letters the old readings stand until you "
                "overwrite them."
            ),
            since="pistons",
        ),
    )
}  # fmt: skip

STEPS: tuple[Step, ...] = (
    Step(
        "lay_out", later("Lay out"),
        later(
            "One tray per damper, so that its parts stay together. Write a letter on each cap: it "
            "is the damper's name from now on."
        ),
        lays=(
            later("bodies, caps, pistons, shafts, rod ends"), later("trays, rag, good light"),
        ),
        dangers=("cells", "opened"),
    ),
    Step(
        "pistons", later("Pistons"),
        later(
            "Cut off what is left of the sprue and take the burr off both faces. Gauge or weigh "
            "the pistons, and pair those that are most alike."
        ),
        reads=("piston", "mass"), facts=("piston",), lays=(later("calliper or scale for oil"),),
        dangers=("knife",), links=("pairing",),
    ),
    Step(
        "shaft", later("Shaft"),
        later(
            "Roll it on glass: it must not wobble. Draw a fingernail along it: a scratch that you "
            "feel cuts the seal."
        ),
        lays=(later("a pane of glass"),),
    ),
    Step(
        "seals", later("Seals"),
        later(
            "New seals where the old ones are hard or worn. Wet them with damper oil or a grease "
            "that suits their rubber. Cover the thread of the shaft when it goes through."
        ),
        lays=(later("seals, lubricant"),), dangers=("lock",),
    ),
    Step(
        "piston", later("Piston on the shaft"),
        later(
            "Piston, clips or screw, and the spacers that limit the travel. The piston turns "
            "freely and has no play along the shaft."
        ),
        reads=("spacers",), lays=(later("clips or screws, spacers"),), dangers=("clips", "lock"),
        links=("length-travel",),
    ),
    Step(
        "rod_end", later("Rod end"),
        later(
            "Screw it on by the same number of turns on both of a pair. Grip the shaft in soft "
            "jaws, and only where the seal never runs."
        ),
        reads=("engaged",), facts=("thread",), lays=(later("rod ends, soft jaws"),),
        dangers=("plastic",),
    ),
    Step(
        "length", later("Length, fully out"),
        later(
            "Measure all four without springs. The length fully out decides the droop: make it "
            "alike in each pair before anything else."
        ),
        reads=("length",), facts=("length",), lays=(later("calliper"),), troubles=("length",),
        links=("length-travel",),
    ),
    Step(
        "stroke", later("Stroke, dry"),
        later("Measure all four, dry, from fully out to fully in."),
        reads=("stroke",), facts=("stroke",), troubles=("stroke",), links=("stroke",),
    ),
    Step(
        "drag", later("Drag, dry"),
        later(
            "The shaft slides under its own weight or nearly so, whichever way you turn it round. "
            "Compare the pair."
        ),
        reads=("drag",), links=("drop-test",),
    ),
    Step(
        "oil", later("Oil"),
        later(
            "Fill a pair from one bottle or one beaker. Let oil that was shaken or mixed stand "
            "before you pour it."
        ),
        reads=("oil",), facts=("oil",), lays=(later("oil, syringe, beaker"),), dangers=("spill",),
        links=("evening-oil",),
    ),
    Step(
        "fill", later("Fill"),
        later("Damper upright, shaft fully out."),
        by_kind={
            "bladder": later("Fill it to three quarters."),
            "emulsion": later(
                "Put the same measured amount of oil into both of a pair and leave the same air: "
                "in this kind the two are mixed on purpose."
            ),
            "vented": later("Fill it to three quarters; vent or bleed screw stays open."),
        },
        reads=("filled",), facts=("fill", "amount"),
        lays=(later("a stand that holds dampers upright"),), dangers=("spill",), practice=True,
    ),
    Step(
        "work", later("Work the shaft"),
        later(
            "About twenty slow strokes, turning the shaft as you go. The piston stays below the "
            "surface."
        ),
        practice=True,
    ),
    Step(
        "rest", later("Let it rest"),
        later(
            "Half an hour to an hour, upright and dust-free. Move the shaft once in between: more "
            "bubbles come out from behind the piston."
        ),
        only=("bladder", "vented"), facts=("rest",), practice=True, timed=True,
        links=("fill-bleed",),
    ),
    Step(
        "top_up", later("Top up"),
        later("Cap still off: look at the level."),
        by_kind={
            "bladder": later(
                "Slowly, along the wall, up to the rim: so the bladder goes in without air under "
                "it."
            ),
            "emulsion": later("Add nothing: the level has to be the same in the pair."),
            "vented": later(
                "Slowly, along the wall, up to the rim: so the vent lets out oil and not air when "
                "the cap goes on."
            ),
        },
        dangers=("spill",),
    ),
    Step(
        "close", later("Close"),
        later("Set the shaft to its closing position first, the same in each of a pair."),
        by_kind={
            "bladder": later(
                "Lay the bladder in at a slant, let the surplus oil run off, then turn the cap "
                "hand tight."
            ),
            "emulsion": later(
                "Turn the cap hand tight, then stroke the shaft until oil and air are mixed."
            ),
            "vented": later(
                "Turn the cap hand tight with the screw open, let the surplus come out, then close "
                "the screw hand tight."
            ),
        },
        reads=("closed",), facts=("closed",), lays=(later("rag, small ruler"),),
        dangers=("opened", "plastic"), practice=True,
    ),
    Step(
        "rebound", later("Rebound"),
        later(
            "Push each shaft fully in and let it go; push both of a pair in together and watch "
            "which comes out first."
        ),
        reads=("rebound", "rebound_time"), facts=("rebound",), troubles=("rebound",),
        links=("fill-bleed",),
    ),
    Step(
        "hang", later("Hanging weight"),
        later(
            "Hang each damper by its cap, no spring, shaft pushed in. The same weight on each rod "
            "end: time it over the same travel."
        ),
        by_kind={
            "emulsion": later(
                "Stroke both of a pair the same number of times just before: at rest the air "
                "leaves the oil, and the times change with it."
            ),
        },
        reads=("hang",), lays=(later("a weight, foam under it, a stopwatch"),),
        troubles=("wrong_oil",), links=("drop-test",),
    ),
    Step(
        "pair", later("Are they alike?"),
        later("Before the springs go on: left against right, by everything you measured."),
    ),
    Step(
        "spring", later("Spring and cup"),
        later(
            "Pair the two springs that are most alike. Collar wound up, cup seated on the rod end."
        ),
        reads=("rate", "free"), facts=("spring",), lays=(later("springs, cups, collars"),),
        dangers=("springs",), links=("pairing", "spring-rate"),
    ),
    Step(
        "touch", later("Collar to first touch"),
        later(
            "Wind each collar down until the spring just has no play: that is zero. Then set it in "
            "quarter turns."
        ),
        reads=("gap",), facts=("preload",), troubles=("gap",),
        links=("spring-seats", "spring-preload"), practice=True,
    ),
    Step(
        "mark", later("Mark"),
        later(
            "A line of paint across collar and body, and set the base in the collar log: every "
            "turn counts from there."
        ),
        lays=(later("paint pen"),), links=(COLLAR_LOG,),
    ),
    Step(
        "mount", later("Mount"),
        later(
            "Each damper to its corner, by the letter on its cap. Before you fix its lower end, "
            "lift the arm by hand and let go: it has to fall by its own weight."
        ),
        lays=(later("screws of the mounts, driver"),), dangers=("car", "plastic"),
        troubles=("binds",),
    ),
    Step(
        "droop", later("Droop on the car"),
        later("Ready to run, on a level board: compare left and right."),
        reads=("droop",), lays=(later("height gauge"),), dangers=("car",),
        troubles=("droop",), links=("length-travel", "collar-turns"),
    ),
)  # fmt: skip
BY_KEY: Mapping[str, Step] = {step.key: step for step in STEPS}
ORDER: tuple[str, ...] = tuple(BY_KEY)


def step_at(key: str) -> Step:
    """A step of the list; one of the user's own has only its key."""
    return BY_KEY.get(key, Step(key, "", ""))
