"""What can hurt at a step of the build list, in one sentence each."""

from calc.answering.answer import Caution
from calc.forms import cautions
from calc.kept.build.steps import Danger
from calc.language import tr


def caution(danger: Danger) -> Caution:
    match danger:
        case "clips":
            return Caution(tr("Wear eye protection: clips fly. Work inside a bag or under a rag."))
        case "lock":
            return Caution(
                tr(
                    "Keep thread-locking compound off the skin, off seals and away from plastic: "
                    "follow its data sheet."
                )
            )
        case "plastic":
            return cautions.plastic()
        case "knife":
            return Caution(
                tr("Cut away from your hand, on a board; wash burr and dust off before you build.")
            )
        case "spill":
            return cautions.spill()
        case "opened":
            return cautions.opened()
        case "springs":
            return cautions.eyes()
        case "car":
            return cautions.stand()
        case "cells":
            return Caution(
                tr(
                    "Take the lithium battery out of the car first, into its bag; never charge "
                    "it unattended, never use a swollen one."
                )
            )
