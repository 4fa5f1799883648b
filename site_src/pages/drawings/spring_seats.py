"""Where a spring sits: the collar by the calliper, spacers without a thread, the cup."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Damper,
    Drawing,
    block,
    dot,
    line,
    pointer,
    ring,
    solid,
    spring,
    upright,
    words,
)


def _gap() -> Drawing:
    return Drawing(
        tr("The gap above or below the collar"),
        tr(
            "A damper with its spring. The gap from the cap to the upper face of the collar grows "
            "as the collar goes down; the gap from the collar to the lower end of the body shrinks."
        ),
        252,
        (
            Damper(160, 26, 84, 196, 232).draw(coils=6),
            upright(47, 84, 112, tr("gap from\nthe cap"), (146, 138), left=True),
            upright(84, 140, 216, tr("gap from\nthe lower end\nof the body"), (182, 170)),
            words(102, 150, tr("the same face\nof the collar\neach time"), "end"),
            pointer(104, 132, 141, 86),
        ),
    )


def _clip_on() -> Drawing:
    return Drawing(
        tr("Clip-on spacers where there is no thread"),
        tr(
            "A damper without a thread. Spacers that clip around the body lie between its "
            "shoulder and the spring; their thickness together is the stack."
        ),
        232,
        (
            ring(130, 24, 7),
            dot(130, 24, 2),
            block(117, 32, 26, 13, PLAIN, 2),
            block(120, 45, 20, 95, 1.0),
            solid(106, 60, 48, 7),
            block(108, 68, 44, 8, THICK),
            block(108, 77, 44, 12, THICK),
            spring(130, 90, 186, 17, 5),
            solid(108, 187, 44, 6),
            line(130, 140, 130, 210, THIN),
            upright(68, 89, 176, tr("the stack"), (154, 154)),
            words(92, 66, tr("shoulder of\nthe body"), "end"),
            pointer(94, 62, 107, 63),
            words(92, 196, tr("cup"), "end"),
        ),
    )


def _cup() -> Drawing:
    return Drawing(
        tr("The height of a cup"),
        tr(
            "Two cups on rod ends, cut open. The height of a cup is from the face that sits on the "
            "rod end up to the face under the spring. A higher cup presses the spring more."
        ),
        190,
        (
            *(
                part
                for x, high in ((72, 10), (192, 34))
                for part in (
                    line(x - 40, 120 - high, x - 12, 120 - high, THICK),
                    line(x + 12, 120 - high, x + 40, 120 - high, THICK),
                    line(x - 12, 120 - high, x - 12, 120, THICK),
                    line(x + 12, 120 - high, x + 12, 120, THICK),
                    line(x - 12, 120, x - 4, 120, THICK),
                    line(x + 4, 120, x + 12, 120, THICK),
                    line(x - 3, 30, x - 3, 122, 1.0),
                    line(x + 3, 30, x + 3, 122, 1.0),
                    block(x - 9, 122, 18, 20, PLAIN, 2),
                    ring(x, 150, 9),
                )
            ),
            words(72, 22, tr("low cup"), "middle"),
            words(192, 22, tr("high cup"), "middle"),
            upright(86, 120, 246, tr("height"), (232, 204)),
            words(160, 184, tr("sits on the rod end"), "middle"),
            pointer(130, 172, 80, 122),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "collar-gap": _gap,
    "clip-on": _clip_on,
    "cup-height": _cup,
}
