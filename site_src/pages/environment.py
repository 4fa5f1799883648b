"""The Jinja environment of whole pages: the templates of the browser, and more beside them."""

from pathlib import Path

from jinja2 import ChoiceLoader, FileSystemLoader

from site_src.both.fragment import ENVIRONMENT as FRAGMENTS

_WHOLE = FileSystemLoader(Path(__file__).parent / "templates")
assert FRAGMENTS.loader is not None
ENVIRONMENT = FRAGMENTS.overlay(loader=ChoiceLoader([_WHOLE, FRAGMENTS.loader]))
