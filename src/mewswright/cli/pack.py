"""`mewswright pack`: the papers and files of a yard, written into a folder."""

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Literal

import typer

from mewswright.cli.days import On, day_of
from mewswright.cli.problems import refusing


def command(
    yard_file: Annotated[Path, typer.Argument(metavar="YARD", help="The yard file.")],
    out: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Folder to write to; made if need be.")
    ],
    quarters: Annotated[
        list[str] | None,
        typer.Option(help="Draw and take off these quarters or rows alone; may be repeated."),
    ] = None,
    paper: Annotated[
        Literal["A3", "A4", "Letter"], typer.Option("--paper", help="Paper of the drawings.")
    ] = "A3",
    on: On = None,
) -> None:
    """Write the build pack: PDF, drawings, tables and JSON. Exit 0: written. 2: bad input."""
    with refusing():
        from mewswright.checks.open import open_yard
        from mewswright.papers.pack import build_pack

        refuse_no_folder(out)
        pack = build_pack(open_yard(yard_file), quarters, on=day_of(on), paper=paper)
        stale = write_whole(out, pack.files)
    typer.echo(f"{len(pack.files)} files in {out}; start with {out / 'pack.pdf'}")
    for name in stale:
        typer.echo(f"left from an earlier pack, and not of this one: {out / name}")


def refuse_no_folder(out: Path) -> None:
    """Refuse a place where no folder can be.

    Raises:
        Problem: If there is a file in the way.
    """
    from mewswright.model.problem import Problem

    for place in (out, *out.parents):
        if place.exists():
            if not place.is_dir():
                raise Problem(f"--out {out}: {place} is a file, not a folder: name another folder")
            return


def write_whole(out: Path, files: Mapping[str, bytes]) -> list[str]:
    """Write all files of a pack, or none.

    Everything is first written under temporary names. Only when all of it lies on the
    disk does it take its place, file by file, `pack.json` last.

    Args:
        out: The folder.
        files: Content by name.

    Returns:
        Files that an earlier pack listed and this one does not have; they are left alone.

    Raises:
        Problem: If the folder or a file cannot be written.
    """
    import os

    from mewswright.model.problem import Problem

    written: dict[str, Path] = {}
    try:
        out.mkdir(parents=True, exist_ok=True)
        earlier = _earlier(out)
        for name, content in files.items():
            target = out / name
            if target.is_dir():
                raise Problem(f"--out {out}: {target} is a folder: move it away")
            written[name] = out / f".{name}.{os.getpid()}.part"
            with written[name].open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
        for name in sorted(files, key=lambda n: (n == "pack.json", n)):
            written[name].replace(out / name)
    except OSError as error:
        raise Problem(
            f"--out {out}: cannot be written ({error.strerror or error}): name another folder, or "
            "make room"
        ) from error
    finally:
        for part in written.values():
            part.unlink(missing_ok=True)
    return [name for name in earlier if name not in files and (out / name).is_file()]


def _earlier(out: Path) -> list[str]:
    """Names that the pack lying there lists as its own; none where there is no such list."""
    import json

    try:
        listed = json.loads((out / "pack.json").read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return []
    return sorted(n for n in listed if isinstance(n, str) and n == Path(n).name)
