"""Pages from a template and data, with the package's own faces.

The same data gives the same bytes: the document carries no time, and no face comes from
the machine.
"""

import json
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

from mewswright.model.problem import Problem
from mewswright.papers.letters import STAND_IN, letters_of, printable

LABEL_TEMPLATES = ("style", "labels")
TEMPLATES = ("style", "first", "briefs", "findings", "sheets", "units", "last", "pack")
FACES = (
    "SourceSans3-Regular.ttf",
    "SourceSans3-It.ttf",
    "SourceSans3-Semibold.ttf",
    "SourceSans3-Bold.ttf",
    "DejaVuSans.ttf",
)


def typeset(
    data: dict[str, Any], fonts: Path | None = None, templates: Sequence[str] = TEMPLATES
) -> bytes:
    """Typeset the pack, or other pages in its dress.

    Args:
        data: What the templates print; papers/pages.py makes it. It is not changed.
        fonts: Folder of the faces; the package's own, if None.
        templates: Names of the templates, the first of which sets the dress.

    Returns:
        A PDF with the tags of PDF/UA-1.

    Raises:
        Problem: If a face is missing.
        RuntimeError: If typst refuses the pages or warns of them; that is our fault.
    """
    import typst

    folder = fonts or Path(str(files("mewswright") / "static" / "vendor" / "fonts"))
    missing = [face for face in FACES if not (folder / face).is_file()]
    if missing:
        raise Problem(
            f"the pack cannot be typeset: its faces are missing ({', '.join(missing)} not in the "
            "package's static/vendor/fonts); './mewswright test' or 'pip install .' in the "
            "project's folder fetches them"
        )
    data, lost = printable(data, _letters(folder))
    if lost:
        data["cautions"].append(
            "Letters: the faces of this pack do not hold all that the yard file uses, and print "
            f"{STAND_IN} in their place. pack.json and the tables have them whole."
        )
    source = "\n".join(
        (files("mewswright.papers") / "typ" / f"{name}.typ").read_text(encoding="utf-8")
        for name in templates
    )
    faces = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder]
    )
    compiler = typst.Compiler(font_paths=faces)
    # No date: the same yard must give the same bytes on any day.
    given = {"d": json.dumps(data, ensure_ascii=False, allow_nan=False)}
    try:
        pdf, warnings = compiler.compile_with_warnings(
            source.encode(), format="pdf", timestamp=0, pdf_standards="ua-1", sys_inputs=given
        )
    except typst.TypstError as error:
        raise RuntimeError(f"the pages cannot be set: {error.diagnostic}") from error
    if warnings:
        raise RuntimeError(f"the pages were set with a warning: {warnings[0].diagnostic}")
    if not isinstance(pdf, bytes):
        raise RuntimeError("typst gave no document")
    return pdf


def _letters(folder: Path) -> frozenset[int]:
    """Letters that the pages can print: those of every weight of the face, or of the second one."""
    each = [letters_of((folder / face).read_bytes()) for face in FACES]
    return frozenset.intersection(*each[:-1]) | each[-1]
