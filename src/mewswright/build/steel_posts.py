"""Posts of steel tube: what of them is not worked out, what is assumed, who must confirm."""

from collections.abc import Iterator

from mewswright.build.lines import Lines
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.tube import Tube, tube_of
from mewswright.handbook.steel import plate_figure
from mewswright.model.quarters import Quarters


def _tubes(lines: Lines) -> list[Tube]:
    found = (tube_of(line.section) for line in lines.uprights)
    return [one for one in found if one is not None]


def _wide_mm(quarters: Quarters) -> list[float]:
    """Widths of the timber plates that end plates lie on [mm]."""
    plates = (quarters.frame.sole, quarters.frame.head)
    return [breadth_depth_mm(section)[1] for section in plates if tube_of(section) is None]


def steel_refusals(quarters: Quarters, lines: Lines) -> tuple[str, ...]:
    """What of steel posts is not worked out here, so that an engineer must decide."""
    tubes = _tubes(lines)
    if not tubes:
        return ()
    frame = quarters.frame
    thinnest = plate_figure("thinnest_wall").value
    narrow = min(_wide_mm(quarters))
    why = []
    if frame.brace == "knee":
        why.append('how a knee brace is held to a tube: take brace = "none" and sheet walls')
    if quarters.ridge_mm is not None:
        why.append("how a ridge beam is held on a tube: take posts of timber")
    if frame.head_on_edge:
        why.append("an end plate under a head plate on edge: lay it flat (head_on_edge = false)")
    if min(tube.t_mm for tube in tubes) < thinnest:
        why.append(f"a weld on a wall under {thinnest:g} mm: take a thicker tube")
    if max(tube.h_mm for tube in tubes) > narrow:
        why.append(
            f"an end plate wider than the {narrow:g} mm of sole and head plate: take a tube as "
            "deep at most, or wider plates"
        )
    return tuple(
        f"posts of steel tube {frame.post}: not worked out is {one}; the frame is not called "
        "sound before an engineer has decided"
        for one in why
    )


def steel_assumptions(quarters: Quarters, lines: Lines) -> Iterator[str]:
    """What steel posts are taken for; nothing without them."""
    tubes = _tubes(lines)
    if not tubes:
        return
    thick, beyond, throat, hole = (
        plate_figure(key).value for key in ("thick", "beyond", "throat", "hole_from_end")
    )
    wide = min(_wide_mm(quarters))
    yield (
        f"steel posts {quarters.frame.post} of S235, pinned at head and foot, elastic "
        "(EN 1993-1-1); person, wind and weight bend them across their wall"
    )
    yield (
        f"each has an end plate at head and foot, S235, {max(t.b_mm for t in tubes) + 2 * beyond:g}"
        f" x {wide:g} x {thick:g} mm, its long side along the timber, four holes {hole:g} mm from "
        f"its ends, welded in a workshop with a fillet of {throat:g} mm throat all round "
        "(EN 1993-1-8, from memory)"
    )
    yield (
        "rails and brackets are held to the tubes by self-drilling screws, which are counted and "
        "not checked"
    )


def steel_cautions(lines: Lines) -> Iterator[str]:
    """What whoever makes the steel posts must confirm; nothing without them."""
    if _tubes(lines):
        yield (
            "The fabricator of the steel posts must confirm: grade of tubes and plates, size and "
            "holes of the plates, a welder qualified for hollow sections (ISO 9606-1), the throat "
            "of the weld, work to EN 1090-2 in execution class 1, and galvanizing after welding "
            "with vent holes. No plate is welded on the site."
        )
