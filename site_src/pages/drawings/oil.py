"""Oil: ways to measure it, mixing two bottles, changing the mix inside a damper."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Drawing,
    arrow,
    block,
    hatch,
    line,
    path,
    pointer,
    ring,
    words,
)


def _bottle(x: float, y: float, fill: str) -> str:
    """A bottle with a nozzle, its base at y, with its label."""
    body = f"M{x} {y}V{y - 56}Q{x} {y - 66} {x + 12} {y - 68}H{x + 32}Q{x + 44} {y - 66} {x + 44}"
    return (
        path(f"{body} {y - 56}V{y}Z")
        + path(f"M{x + 14} {y - 68}V{y - 76}H{x + 30}V{y - 68}M{x + 18} {y - 76}L{x + 22} {y - 96}")
        + path(f"M{x + 26} {y - 76}L{x + 22} {y - 96}")
        + block(x + 4, y - 48, 36, 30, 1.0)
        + words(x + 22, y - 28, fill, "middle")
    )


def _syringe(x: float, y: float, full: float) -> str:
    """A syringe pointing down, the tip of its nozzle at y, with `full` px of oil."""
    marks = "".join(f"M{x - 11} {y - 26 - 10 * n}h{9 if n % 5 == 0 else 6}" for n in range(8))
    plunger = y - 24 - full
    return (
        block(x - 11, y - 112, 22, 88, PLAIN, 2)
        + path(marks, 1.0)
        + line(x, y - 24, x, y, THICK)
        + line(x - 11, plunger, x + 11, plunger, THICK)
        + line(x, plunger, x, y - 128, 1.0)
        + line(x - 10, y - 128, x + 10, y - 128)
    )


def _cup(x: float, y: float, half: float = 26, deep: float = 34) -> str:
    return path(f"M{x - half} {y - deep}L{x - half + 5} {y}H{x + half - 5}L{x + half} {y - deep}")


def _measure() -> Drawing:
    return Drawing(
        tr("Three ways to measure oil out"),
        tr(
            "A syringe with its marks, drops that are counted into a millilitre, and a "
            "beaker on a scale."
        ),
        224,
        (
            words(52, 18, tr("syringe"), "middle"),
            _syringe(52, 176, 50),
            words(52, 200, tr("read at the\nplunger's edge"), "middle"),
            words(160, 18, tr("drops"), "middle"),
            path("M152 34V62L160 78L168 62V34", PLAIN),
            *(path(f"M160 {y}q-6 9 0 12q6 -3 0 -12", PLAIN) for y in (84, 102)),
            path("M146 120V176H174V120", PLAIN),
            line(146, 138, 174, 138, THICK),
            pointer(186, 124, 170, 138),
            words(184, 118, tr("1 mL"), "start"),
            words(160, 200, tr("count drops\nin 1 mL"), "middle"),
            words(268, 18, tr("scale"), "middle"),
            _cup(268, 150, 24, 40),
            line(247, 130, 289, 130, PLAIN),
            path("M238 152H298L302 176H234Z", PLAIN),
            words(268, 169, tr("0.0 g"), "middle"),
            words(268, 200, tr("zero it with\nthe beaker on"), "middle"),
        ),
    )


def _blend() -> Drawing:
    return Drawing(
        tr("A blend of two bottles"),
        tr(
            "A thin oil and a thick oil go into one beaker, are stirred slowly, and stand "
            "until the bubbles are gone."
        ),
        214,
        (
            hatch(10, 310, 150),
            _bottle(24, 150, tr("thin")),
            _bottle(92, 150, tr("thick")),
            arrow(146, 112, 196, 112, THICK),
            _cup(246, 150, 36, 56),
            line(213, 116, 279, 116, PLAIN),
            path("M262 70L240 142", THICK),
            ring(232, 124, 2, 1.0),
            ring(256, 132, 2.5, 1.0),
            ring(264, 122, 1.5, 1.0),
            words(254, 46, tr("stir slowly"), "middle"),
            words(160, 178, tr("Let it stand until the bubbles are gone."), "middle"),
            words(160, 198, tr("Write cSt and date on the bottle."), "middle"),
        ),
    )


def _shift() -> Drawing:
    return Drawing(
        tr("Shifting the oil in a damper"),
        tr(
            "A damper with its cap off. A syringe draws some of the old oil out, a second one puts"
            " as much of the new oil in, and the shaft is worked slowly to mix them."
        ),
        230,
        (
            _syringe(70, 168, 40),
            arrow(104, 150, 104, 100),
            words(60, 200, tr("1. draw some\nold oil out"), "middle"),
            line(142, 60, 142, 160, THICK),
            line(178, 60, 178, 160, THICK),
            path("M142 160H156M164 160H178", THICK),
            block(144, 132, 32, 8),
            line(156, 160, 156, 190),
            line(164, 160, 164, 190),
            line(144, 70, 176, 70, 1.0),
            path("M148 82h8M162 92h8M150 104h8M164 116h8", THIN),
            words(160, 46, tr("cap off"), "middle"),
            arrow(216, 100, 216, 150),
            _syringe(250, 168, 40),
            words(258, 200, tr("2. put as much\nnew oil in"), "middle"),
            words(160, 212, tr("3. work\nthe shaft"), "middle"),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "measure-oil": _measure,
    "oil-blend": _blend,
    "oil-shift": _shift,
}
