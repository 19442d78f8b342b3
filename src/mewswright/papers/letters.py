"""Which letters a face can print, and what stands in for those that it cannot.

A keeper may name a bird in any script. The package's faces hold Latin, Greek, Cyrillic
and more, but not all of them, and a face of the machine would make other bytes elsewhere.
"""

from collections.abc import Iterable
from struct import unpack_from
from typing import Any

STAND_IN = "▯"
_BLANK = frozenset((0x09, 0x0A, 0x0D, 0x20, 0xA0, 0xAD, 0x200B))  # printed by nobody


def letters_of(face: bytes) -> frozenset[int]:
    """Read from a font file which code points it maps to a glyph.

    Args:
        face: A TrueType or OpenType file with a Unicode map of format 4 or 12.

    Raises:
        ValueError: If it is no such file.

    Source:
        OpenType specification, `cmap`: character to glyph index mapping table.
    """
    (tables,) = unpack_from(">H", face, 4)
    for i in range(tables):
        tag, _, offset, _ = unpack_from(">4sIII", face, 12 + 16 * i)
        if tag == b"cmap":
            break
    else:
        raise ValueError("a font file without a cmap table")
    (maps,) = unpack_from(">H", face, offset + 2)
    found: set[int] = set()
    for i in range(maps):
        platform, _, at = unpack_from(">HHI", face, offset + 4 + 8 * i)
        (form,) = unpack_from(">H", face, offset + at)
        if platform in (0, 3) and form == 4:
            found |= _format_4(face, offset + at)
        elif platform in (0, 3) and form == 12:
            (groups,) = unpack_from(">I", face, offset + at + 12)
            for g in range(groups):
                first, last, _ = unpack_from(">III", face, offset + at + 16 + 12 * g)
                found.update(range(first, last + 1))
    if not found:
        raise ValueError("a font file without a Unicode map of format 4 or 12")
    return frozenset(found)


def _format_4(face: bytes, at: int) -> set[int]:
    (double,) = unpack_from(">H", face, at + 6)
    runs = double // 2
    ends = unpack_from(f">{runs}H", face, at + 14)
    starts = unpack_from(f">{runs}H", face, at + 16 + double)
    shifts = unpack_from(f">{runs}H", face, at + 16 + 2 * double)
    offsets_at = at + 16 + 3 * double
    offsets = unpack_from(f">{runs}H", face, offsets_at)
    found: set[int] = set()
    for i in range(runs):
        for code in range(starts[i], min(ends[i], 0xFFFE) + 1):
            if offsets[i] == 0:
                glyph = (code + shifts[i]) & 0xFFFF
            else:
                where = offsets_at + 2 * i + offsets[i] + 2 * (code - starts[i])
                (glyph,) = unpack_from(">H", face, where)
            if glyph:
                found.add(code)
    return found


def printable(value: Any, letters: Iterable[int]) -> tuple[Any, str]:
    """Put a stand-in for every letter that cannot be printed.

    Args:
        value: Strings in lists and dictionaries, as JSON has them.
        letters: Code points that can be printed.

    Returns:
        The same with stand-ins, and the letters replaced, sorted, each once.
    """
    known = frozenset(letters) | _BLANK
    missing: set[str] = set()

    def walk(part: Any) -> Any:
        if isinstance(part, str):
            lost = {c for c in set(part) if ord(c) not in known}
            if not lost:
                return part
            missing.update(lost)
            return "".join(STAND_IN if c in lost else c for c in part)
        if isinstance(part, dict):
            return {key: walk(item) for key, item in part.items()}
        if isinstance(part, list):
            return [walk(item) for item in part]
        return part

    return walk(value), "".join(sorted(missing))
