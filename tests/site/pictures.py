"""Reading SVG back for the tests: its elements, where its texts stand, what a browser shows."""

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from playwright.sync_api import Browser

from tests.site.hands import visiting

SVG = "{http://www.w3.org/2000/svg}"
ALLOWED = {"svg", "title", "desc", "g", "path", "circle", "ellipse", "rect", "text", "tspan"}
# Advance widths of Helvetica in thousandths of the size (Adobe's core font metrics, from memory).
_WIDTHS = {
    letter: width
    for letters, width in {
        "ijl": 222, " .,:;/Itf!|'": 278, "-r()": 333, "ckJsvxyz": 500, "ABEKPSVXY": 667,
        "CDHNRUw": 722, "FTZL": 611, "GOQ": 778, "mM": 833, "%": 889, "W": 944, "…": 1000,
    }.items()
    for letter in letters
}  # fmt: skip
_BOLD = 1.09  # times as wide
_OTHER = 556  # digits and the rest of the small letters
# Overlaps and overhangs of texts as the browser itself measures them, in px.
MEASURE = """() => [...document.querySelectorAll("svg")].flatMap((svg) => {
  const frame = svg.getBoundingClientRect();
  const texts = [...svg.querySelectorAll("text")].map((text) =>
    [text.textContent, text.getBoundingClientRect()]);
  const name = svg.querySelector("title").textContent;
  const found = [];
  for (const shape of svg.querySelectorAll("path, rect, circle")) {
    const box = shape.getBoundingClientRect();
    if (box.left < frame.left - 0.5 || box.right > frame.right + 0.5 ||
        box.top < frame.top - 0.5 || box.bottom > frame.bottom + 0.5)
      found.push(`${name}: ${shape.outerHTML} hangs over the edge`);
  }
  texts.forEach(([words, box], n) => {
    if (box.left < frame.left - 0.5 || box.right > frame.right + 0.5 ||
        box.top < frame.top - 0.5 || box.bottom > frame.bottom + 0.5)
      found.push(`${name}: "${words}" hangs over the edge`);
    for (const [others, other] of texts.slice(n + 1)) {
      const across = Math.min(box.right, other.right) - Math.max(box.left, other.left);
      const down = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
      // A line box is taller than its letters: 3 px of it are air.
      if (across > 0.5 && down > 3) found.push(`${name}: "${words}" over "${others}"`);
    }
  });
  return found;
})"""


@dataclass(frozen=True)
class Line:
    """A text and about where it stands."""

    words: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "Line", apart: float) -> bool:
        """Whether they stand on one line less than `apart` from one another."""
        across = max(self.left, other.left) - min(self.right, other.right)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across < apart and down > (1 if apart < 0 else 0)


def read(svg: str) -> ElementTree.Element:
    """The picture as XML, held to the promises that every picture of the site makes."""
    root = ElementTree.fromstring(svg)
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    for tag, reference in (("title", "aria-labelledby"), ("desc", "aria-describedby")):
        element = root.find(f"{SVG}{tag}")
        assert element is not None and (element.text or "").strip(), f"no {tag}"
        assert element.get("id") == root.get(reference)
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in ALLOWED, element.tag
        assert not [a for a in element.attrib if a == "style" or a.startswith("on") or "href" in a]
        for paint in ("fill", "stroke"):
            assert element.get(paint, "none") in ("none", "currentColor"), "a colour of its own"
    return root


def view(root: ElementTree.Element) -> tuple[float, float]:
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert left == top == 0
    return width, height


def lines(root: ElementTree.Element) -> list[Line]:
    """All texts of a picture with their estimated boxes."""
    found = []
    bold = {text for g in root.iter() if g.get("font-weight") == "700" for text in g.iter()}
    for element in root.iter(f"{SVG}text"):
        words = "".join(element.itertext())
        size = float(element.get("font-size", "12"))
        width = size * sum(_WIDTHS.get(letter, _OTHER) for letter in words) / 1000
        width *= _BOLD if element in bold else 1.0
        anchor = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
        left, base = float(element.attrib["x"]) - anchor * width, float(element.attrib["y"])
        found.append(Line(words, left, base - 0.72 * size, left + width, base + 0.05 * size))
    return found


def collisions(root: ElementTree.Element, apart: float = -1.0) -> list[str]:
    """Texts that stand nearer to one another than `apart`, in the unit of the picture; by default
    those of which one hides something of the other."""
    found = lines(root)
    return [
        f"{one.words!r} over {other.words!r}"
        for n, one in enumerate(found)
        for other in found[n + 1 :]
        if one.meets(other, apart)
    ]


def points(root: ElementTree.Element) -> list[tuple[float, float]]:
    """Every point of every path (absolute M, L, H, V only) and the rim of every ring."""
    found = []
    for path in root.iter(f"{SVG}path"):
        x = y = 0.0
        for command, rest in re.findall(r"([MLHV])([^A-Za-z]*)", path.attrib["d"]):
            values = [float(v) for v in re.findall(r"-?[\d.]+", rest)]
            x = values[0] if command in "MLH" else x
            y = values[-1] if command in "MLV" else y
            found.append((x, y))
    for ring in root.iter(f"{SVG}circle"):
        x, y, r = (float(ring.attrib[name]) for name in ("cx", "cy", "r"))
        found += [(x - r, y - r), (x + r, y + r)]
    return found


def measured_in(browser: Browser, pictures: list[str], width: int) -> list[str]:
    """What the browser finds wrong with pictures shown `width` px wide."""
    with visiting(browser) as context:
        page = context.new_page()
        page.set_content(f"<style>svg {{ width: {width}px; height: auto }}</style>")
        page.evaluate("html => document.body.innerHTML = html", "".join(pictures))
        found = page.evaluate(MEASURE)
    assert isinstance(found, list)
    return found
