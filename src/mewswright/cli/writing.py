"""Files written into a folder: all of them or none, and nothing of the keeper's lost."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path

LAST = "pack.json"  # whoever sees the new one sees the new pack


@dataclass(frozen=True)
class Written:
    """What lay in the folder before.

    Attributes:
        stale: Files that an earlier pack listed and this one does not have; left alone.
        kept: Files that no pack had made and that had a name of this one: by the new name.
        cleared: Half-written files of a process that was killed, which are gone now.
    """

    stale: tuple[str, ...] = ()
    kept: tuple[tuple[str, str], ...] = ()
    cleared: tuple[str, ...] = ()


def refuse_no_folder(out: Path) -> None:
    """Refuse a place where no folder can be, before the long work.

    Raises:
        Problem: If there is a file in the way, or the folder may not be written to.
    """
    import os

    from mewswright.model.problem import Problem

    for place in (out, *out.parents):
        if place.exists():
            if not place.is_dir():
                raise Problem(f"--out {out}: {place} is a file, not a folder: name another folder")
            if not os.access(place, os.W_OK | os.X_OK):
                raise Problem(
                    f"--out {out}: {place} may not be written to: name another folder, or give "
                    "yourself leave to write there"
                )
            return


def write_whole(out: Path, files: Mapping[str, bytes], *, keep: bool = False) -> Written:
    """Write all files, or none.

    Everything is first written under temporary names. Only when all of it lies on the
    disk does it take its place, file by file, `pack.json` last.

    Args:
        out: The folder.
        files: Content by name.
        keep: Rename what lies there under the name of a file and was not made by a pack.

    Raises:
        Problem: If the folder or a file cannot be written.
    """
    import os

    from mewswright.model.problem import Problem

    written: dict[str, Path] = {}
    try:
        out.mkdir(parents=True, exist_ok=True)
        earlier, cleared = _earlier(out), _clear(out)
        for name, content in files.items():
            target = out / name
            if target.is_dir():
                raise Problem(f"--out {out}: {target} is a folder: move it away")
            written[name] = out / f".{name}.{os.getpid()}.part"
            with written[name].open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
        kept = _set_aside(out, files, earlier) if keep else ()
        for name in sorted(files, key=lambda n: (n == LAST, n)):
            written[name].replace(out / name)
    except OSError as error:
        raise Problem(
            f"--out {out}: cannot be written ({error.strerror or error}): name another folder, or "
            "make room"
        ) from error
    finally:
        for part in written.values():
            part.unlink(missing_ok=True)
    stale = tuple(name for name in earlier if name not in files and (out / name).is_file())
    return Written(stale=stale, kept=kept, cleared=cleared)


def _earlier(out: Path) -> list[str]:
    """Names that the pack lying there lists as its own; none where there is no such list."""
    import json

    try:
        listed = json.loads((out / LAST).read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return []
    return sorted(n for n in listed if isinstance(n, str) and n == Path(n).name)


def _clear(out: Path) -> tuple[str, ...]:
    """Take away what a process that runs no more has left half-written."""
    import re

    found = []
    for place in sorted(out.glob(".*.part")):
        named = re.fullmatch(r"\.(.+)\.(\d+)\.part", place.name)
        if named and place.is_file() and not _runs(int(named[2])):
            place.unlink(missing_ok=True)
            found.append(named[1])
    return tuple(found)


def _runs(process: int) -> bool:
    import os

    if not 0 < process < 2**31:
        return False
    try:
        os.kill(process, 0)  # asks, and ends nothing
    except ProcessLookupError:
        return False
    except OSError:
        return True  # another user's
    return True


def _set_aside(
    out: Path, files: Mapping[str, bytes], earlier: Collection[str]
) -> tuple[tuple[str, str], ...]:
    """Rename files that are in the way of new ones and that no pack lists as its own."""
    moved = []
    for name, content in files.items():
        place = out / name
        ours = name in earlier or (name == LAST and earlier)
        if ours or not place.is_file() or place.read_bytes() == content:
            continue
        number = 1
        while (kept := out / f"{name}.before{f'-{number}' if number > 1 else ''}").exists():
            number += 1
        place.rename(kept)
        moved.append((name, kept.name))
    return tuple(moved)
