"""Reading what was printed: pages, fonts, texts and where they stand, colours; and the code."""

import io
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree

import numpy as np
import zxingcpp
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from tests.site.pictures import SVG

Matrix = tuple[float, ...]
_PLAIN: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
_FILES = ("/FontFile", "/FontFile2", "/FontFile3")
_COLOURS = ("g", "G", "rg", "RG", "sc", "SC", "scn", "SCN")


@dataclass(frozen=True)
class Print:
    """Where a text of a page begins and how large it is, in points."""

    x: float
    y: float
    size: float


def pages(pdf: bytes) -> list[PageObject]:
    return list(PdfReader(io.BytesIO(pdf)).pages)


def catalogue(pdf: bytes) -> Any:
    """The root of a file, in which it says what holds for all of it."""
    return PdfReader(io.BytesIO(pdf)).root_object


def title(pdf: bytes) -> str | None:
    meta = PdfReader(io.BytesIO(pdf)).metadata
    return meta.title if meta else None


def words(page: PageObject) -> list[str]:
    return page.extract_text().replace("\u00a0", " ").split()


def texts(page: PageObject) -> list[Print]:
    """Where each piece of text begins and how large its type is, all in points on the page."""
    return list(_texts(page.get_contents(), page["/Resources"], page, _PLAIN))


def _texts(content: Any, resources: Any, page: PageObject, start: Matrix) -> Iterator[Print]:
    """Follows the operators that place text (ISO 32000-1, tables 57, 105, 108 and 109)."""
    now, size, kept = start, 0.0, []
    line = place = _PLAIN
    for operands, code in ContentStream(content, page.pdf).operations:
        operator = code.decode()
        if operator == "q":
            kept.append((now, size))
        elif operator == "Q":
            now, size = kept.pop()
        elif operator == "cm":
            now = _times([float(v) for v in operands], now)
        elif operator == "Do":
            form = resources.get_object()["/XObject"][operands[0]].get_object()
            if form["/Subtype"] == "/Form":
                inner = _times([float(v) for v in form.get("/Matrix", _PLAIN)], now)
                yield from _texts(form, form.get("/Resources", resources), page, inner)
        elif operator == "BT":
            line = place = _PLAIN
        elif operator == "Tm":
            line = place = tuple(float(v) for v in operands)
        elif operator in ("Td", "TD"):
            line = place = _times((1, 0, 0, 1, *map(float, operands)), line)
        elif operator == "Tf":
            size = float(operands[1])
        elif operator in ("Tj", "TJ"):
            a, b, c, d, e, f = _times(place, now)
            yield Print(e, f, abs(size) * math.sqrt(abs(a * d - b * c)))


def _times(m: Sequence[float], n: Sequence[float]) -> Matrix:
    """Product of two transformations as PDF writes them (ISO 32000-1, 8.3.4)."""
    a, b, c, d, e, f = m
    p, q, r, s, t, u = n
    return (
        a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


def loose_fonts(page: PageObject) -> list[str]:
    """Fonts that the file only names (ISO 32000-1, 9.8 and 9.9)."""
    return [name for name, font in _fonts(page["/Resources"]) if not _embedded(font)]


def _fonts(resources: Any) -> Iterator[tuple[str, Any]]:
    resources = resources.get_object()
    for name, font in resources.get("/Font", {}).items():
        yield name, font.get_object()
    for form in resources.get("/XObject", {}).values():
        if "/Resources" in form.get_object():
            yield from _fonts(form.get_object()["/Resources"])


def _embedded(font: Any) -> bool:
    if font["/Subtype"] == "/Type3":  # its letters are drawn in the file itself
        return True
    if font["/Subtype"] == "/Type0":
        font = font["/DescendantFonts"][0].get_object()
    descriptor = font.get("/FontDescriptor", {})
    return any(name in descriptor.get_object() for name in _FILES) if descriptor else False


def colours(page: PageObject) -> set[tuple[float, ...]]:
    """Every colour that is set on the page."""
    content = ContentStream(page.get_contents(), page.pdf)
    return {
        tuple(round(float(v), 3) for v in operands if not isinstance(v, str))
        for operands, operator in content.operations
        if operator.decode() in _COLOURS
    }


def scanned(svg: str) -> str:
    """What a reader of QR codes makes of the picture."""
    root = ElementTree.fromstring(svg)
    size = int(root.attrib["viewBox"].split()[2])
    dots = np.full((size, size), 255, np.uint8)
    (path,) = root.iter(f"{SVG}path")
    for x, y, run in re.findall(r"M(\d+) (\d+)h(\d+)", path.attrib["d"]):
        dots[int(y), int(x) : int(x) + int(run)] = 0
    picture = np.kron(dots, np.ones((4, 4), np.uint8))
    # Of all kinds at once it finds, once in a hundred codes, a bar code of shops in the dots.
    (code,) = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
    return str(code.text)
