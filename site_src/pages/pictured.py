"""Pictures beside the page, each in a file of its own, which keeps the page small."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from calc.language import ENGLISH, spoken
from site_src.both.ink import Picture
from site_src.pages.drawing import draw

FOLDER = "drawings"
_IMAGE = Markup(
    '<img class="drawn" src="{src}" width="{width}" height="{height}" alt="{says}" loading="lazy">'
)


@dataclass(frozen=True)
class PictureFile:
    """A picture with the name and the address of its file."""

    name: str
    src: str
    picture: Picture

    def image(self, says: str) -> Markup:
        """The element that shows it, with `says` as its text alternative."""
        size = {"width": self.picture.width, "height": self.picture.height}
        return _IMAGE.format(src=self.src, says=says, **size)


def filed(name: str, picture: Picture) -> PictureFile:
    """A picture as a file in the language spoken."""
    own = "" if spoken().code == ENGLISH else f"{spoken().code}/"
    return PictureFile(name, f"{FOLDER}/{own}{name}.svg", picture)


def drawings(names: Iterable[str]) -> list[PictureFile]:
    """The drawings of these names, each once, in the order given."""
    return [filed(name, draw(name)) for name in dict.fromkeys(names) if name]


@dataclass
class Album:
    """Collects the pictures of an answer in a page that is not live yet, and shows an image in
    place of each."""

    name: str
    pictures: list[PictureFile] = field(default_factory=list)

    def show(self, picture: Picture) -> Markup:
        """The image to show in place of the picture."""
        one = filed(f"{self.name}-{len(self.pictures)}", picture)
        self.pictures.append(one)
        return one.image(f"{picture.title}. {picture.says}")


def files(pictures: Iterable[PictureFile]) -> Mapping[str, bytes]:
    """Path in the site -> content."""
    return {one.src: one.picture.svg.encode() for one in pictures}
