"""The guides: Markdown in guides/, turned to HTML at build time."""

from pathlib import Path

from markdown import markdown

GUIDES = Path(__file__).parent / "guides"


def slugs() -> tuple[str, ...]:
    """The guides in order of name."""
    return tuple(sorted(path.stem for path in GUIDES.glob("*.md")))


def title(slug: str) -> str:
    """The first heading of a guide."""
    return _text(slug).splitlines()[0].removeprefix("# ").strip()


def html(slug: str) -> str:
    """A guide as HTML."""
    return markdown(_text(slug))


def _text(slug: str) -> str:
    return (GUIDES / f"{slug}.md").read_text("utf-8")
