"""All drawings by name, of every module in `drawings`. They are rendered as pictures at build time,
for the guides, in the language spoken."""

from collections.abc import Callable, Mapping
from importlib import import_module
from pkgutil import iter_modules

from site_src.both.ink import Picture, picture
from site_src.pages import drawings
from site_src.pages.drawings.hand import WIDTH, Drawing


def _found() -> dict[str, Callable[[], Drawing]]:
    modules = (
        import_module(f"{drawings.__name__}.{one.name}") for one in iter_modules(drawings.__path__)
    )
    return {name: make for module in modules for name, make in _of(module).items()}


def _of(module: object) -> Mapping[str, Callable[[], Drawing]]:
    made: Mapping[str, Callable[[], Drawing]] = getattr(module, "DRAWINGS", {})
    return made


DRAWINGS: Mapping[str, Callable[[], Drawing]] = _found()


def draw(name: str) -> Picture:
    """The drawing of that name. Raises KeyError for an unknown name."""
    drawing = DRAWINGS[name]()
    body = "".join(drawing.parts)
    return picture(name, WIDTH, drawing.height, drawing.title, drawing.says, body, "drawing")
