"""The help page of a check, as it is written in docs/checks, cut into its headings."""

from functools import cache
from importlib.resources import files
from pathlib import Path


@cache
def check_text(code: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Give the headings of a check's page with their paragraphs.

    Args:
        code: Code of the check, one of the catalogue.

    Returns:
        (heading, paragraphs) in the page's order; empty where the package was built
        without its pages.
    """
    packed = files("mewswright") / "check_pages" / f"{code}.md"
    beside = Path(__file__).parents[3] / "docs" / "checks" / f"{code}.md"  # a work tree
    page = packed if packed.is_file() else beside
    if not page.is_file():
        return ()
    parts: list[tuple[str, tuple[str, ...]]] = []
    for block in page.read_text(encoding="utf-8").split("\n## ")[1:]:
        heading, _, body = block.partition("\n")
        parts.append((heading.strip(), tuple(p.strip() for p in body.split("\n\n") if p.strip())))
    return tuple(parts)
