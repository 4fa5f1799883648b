"""The common style of all drawings: line weights, dimensions, words, recurring parts.

Thick lines are the object of the measurement, thin lines its surroundings, filled parts the collar
and the cup. Everything is drawn in px on a sheet WIDTH wide.
"""

from dataclasses import dataclass

from site_src.both.ink import label, number

WIDTH = 320
THICK, PLAIN, THIN = 2.4, 1.5, 0.8
LEADING = 14.0  # px from line to line of words


@dataclass(frozen=True)
class Drawing:
    """A drawing: title, text alternative, height in px and elements."""

    title: str
    says: str
    height: int
    parts: tuple[str, ...]


def path(d: str, weight: float = PLAIN, dashes: str = "") -> str:
    dash = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path d="{d}" stroke="currentColor" stroke-width="{weight}"{dash}'
        ' stroke-linecap="round" stroke-linejoin="round"/>'
    )


def line(x1: float, y1: float, x2: float, y2: float, weight: float = PLAIN) -> str:
    return path(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}", weight)


def centre_line(x1: float, y1: float, x2: float, y2: float) -> str:
    return path(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}", 0.7, "9 3 2 3")


def block(
    x: float, y: float, width: float, height: float, weight: float = PLAIN, round_: float = 0
) -> str:
    corner = f' rx="{number(round_)}"' if round_ else ""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"'
        f'{corner} stroke="currentColor" stroke-width="{weight}"/>'
    )


def solid(x: float, y: float, width: float, height: float) -> str:
    """A filled part: the collar or the cup."""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"'
        ' rx="1.5" fill="currentColor"/>'
    )


def ring(x: float, y: float, r: float, weight: float = PLAIN) -> str:
    return (
        f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(r)}" stroke="currentColor"'
        f' stroke-width="{weight}"/>'
    )


def dot(x: float, y: float, r: float = 3.5) -> str:
    return f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(r)}" fill="currentColor"/>'


def words(x: float, y: float, text: str, anchor: str = "start", apart: float = LEADING) -> str:
    """Words on one or more lines, `apart` from each other, the first baseline at y."""
    lines = (label(x, y + n * apart, each, anchor) for n, each in enumerate(text.split("\n")))
    return f'<g fill="currentColor">{"".join(lines)}</g>'


def _tick(x: float, y: float) -> str:
    return line(x - 3.5, y + 3.5, x + 3.5, y - 3.5, PLAIN)


def across(
    x1: float, x2: float, y: float, text: str, reach: tuple[float, ...] = (), *, under: bool = False
) -> str:
    """A dimension from x1 to x2 at y; its extension lines begin at the two y of `reach`."""
    lines = [line(x1 - 5, y, x2 + 5, y, THIN), _tick(x1, y), _tick(x2, y)]
    for x, start in zip((x1, x2), reach, strict=False):
        lines.append(line(x, start, x, y + (5 if start < y else -5), THIN))
    base = y + 15 if under else y - 6 - LEADING * text.count("\n")
    return "".join(lines) + words((x1 + x2) / 2, base, text, "middle")


def upright(
    y1: float, y2: float, x: float, text: str, reach: tuple[float, ...] = (), *, left: bool = False
) -> str:
    """A dimension from y1 to y2 at x, with its words to the right (or left)."""
    lines = [line(x, y1 - 5, x, y2 + 5, THIN), _tick(x, y1), _tick(x, y2)]
    for y, start in zip((y1, y2), reach, strict=False):
        lines.append(line(start, y, x + (5 if start < x else -5), y, THIN))
    base = (y1 + y2) / 2 + 4 - LEADING * text.count("\n") / 2
    side = words(x - 8, base, text, "end") if left else words(x + 8, base, text)
    return "".join(lines) + side


def pointer(x: float, y: float, to_x: float, to_y: float) -> str:
    """A thin line from words to a part, with a dot on the part."""
    return line(x, y, to_x, to_y, THIN) + dot(to_x, to_y, 1.8)


def arrow(x1: float, y1: float, x2: float, y2: float, weight: float = PLAIN) -> str:
    """A straight arrow to (x2, y2)."""
    return line(x1, y1, x2, y2, weight) + head(x2, y2, x2 - x1, y2 - y1)


def head(x: float, y: float, along_x: float, along_y: float) -> str:
    """The filled head of an arrow that points along a direction."""
    length = (along_x**2 + along_y**2) ** 0.5
    u, v = along_x / length, along_y / length
    back_x, back_y = x - 9 * u, y - 9 * v
    corners = ((x, y), (back_x - 4 * v, back_y + 4 * u), (back_x + 4 * v, back_y - 4 * u))
    points = "L".join(f"{number(a)} {number(b)}" for a, b in corners)
    return f'<path d="M{points}Z" fill="currentColor"/>'


def hatch(x1: float, x2: float, y: float) -> str:
    """The ground or a bench: a line with short strokes below it."""
    count = int((x2 - x1) / 10)
    strokes = "".join(f"M{number(x1 + 10 * n + 8)} {number(y)}l-6 6" for n in range(count))
    return line(x1, y, x2, y, PLAIN) + path(strokes, 0.7)


def ruler(x: float, y: float, length: float, *, standing: bool = False, step: float = 6) -> str:
    """A ruler along x (or down y), 18 px wide, with a longer mark every fifth."""
    marks = []
    for n in range(1, int(length / step)):
        deep = 9 if n % 5 == 0 else 5
        marks.append(
            f"M{number(x)} {number(y + n * step)}h{deep}"
            if standing
            else f"M{number(x + n * step)} {number(y)}v{deep}"
        )
    size = (18.0, length) if standing else (length, 18.0)
    return block(x, y, *size, 1.0) + path("".join(marks), 0.7)


def spring(x: float, top: float, foot: float, radius: float, coils: int) -> str:
    """A coil spring from the side, the front of the coils thick and the back thin."""
    first, last = top + 2, foot - 2
    step = (last - first) / coils
    front = "".join(
        f"M{number(x - radius)} {number(first + n * step)}"
        f"L{number(x + radius)} {number(first + (n + 0.5) * step)}"
        for n in range(coils)
    )
    behind = "".join(
        f"M{number(x + radius)} {number(first + (n + 0.5) * step)}"
        f"L{number(x - radius)} {number(first + (n + 1) * step)}"
        for n in range(coils)
    )
    ends = (
        f"M{number(x - radius)} {number(first)}H{number(x + radius)}"
        f"M{number(x - radius)} {number(last)}H{number(x + radius)}"
    )
    return path(behind, 1.0) + path(front + ends, 3)


def thread(x: float, top: float, foot: float, half: float, step: float = 4) -> str:
    """The two threaded flanks of a body, as small waves."""
    count = max(1, int((foot - top) / step))
    wave = f"l1.6 {number(step / 2)}l-1.6 {number(step / 2)}" * count
    back = f"l-1.6 {number(step / 2)}l1.6 {number(step / 2)}" * count
    return path(
        f"M{number(x + half)} {number(top)}{wave}M{number(x - half)} {number(top)}{back}", 1.0
    )


@dataclass(frozen=True)
class Damper:
    """Positions of the parts of an upright damper in px: middle, eye, collar, cup, rod end."""

    x: float
    eye: float
    collar: float
    cup: float
    end: float
    body: float = 92.0

    def draw(self, *, coils: int = 6, gap: float = 0.0) -> str:
        """The damper with its spring, `gap` px of air between collar and spring."""
        x, cap = self.x, self.eye + 8
        foot = cap + 14 + self.body
        return "".join(
            (
                ring(x, self.eye, 7),
                dot(x, self.eye, 2),
                block(x - 13, cap, 26, 13, PLAIN, 2),
                thread(x, cap + 14, foot, 9),
                line(x - 9, foot, x + 9, foot, 1.0),
                line(x - 2, foot, x - 2, self.end - 7, 1.0),
                line(x + 2, foot, x + 2, self.end - 7, 1.0),
                spring(x, self.collar + 8 + gap, self.cup, 16, coils),
                solid(x - 21, self.collar, 42, 8),
                solid(x - 21, self.cup, 42, 6),
                ring(x, self.end, 7),
                dot(x, self.end, 2),
            )
        )


def strut(x1: float, y1: float, x2: float, y2: float, weight: float = PLAIN) -> str:
    """An inclined damper between two mounts, its body at the first."""
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    u, v = (x2 - x1) / length, (y2 - y1) / length

    def at(along: float, aside: float) -> str:
        x, y = x1 + u * along - v * aside, y1 + v * along + u * aside
        return f"{number(x)} {number(y)}"

    foot = 0.62 * length
    corners = "L".join((at(10, 8), at(foot, 8), at(foot, -8), at(10, -8)))
    shaft = f"M{at(foot, 1.5)}L{at(length - 3, 1.5)}M{at(foot, -1.5)}L{at(length - 3, -1.5)}"
    return path(f"M{corners}ZM{at(0, 0)}L{at(10, 0)}{shaft}", weight)
