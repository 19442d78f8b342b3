"""Rafters, head plates and ridge beams of steel tube: what is not worked out, and what is told."""

from collections.abc import Iterator

from mewswright.build.lining import braces
from mewswright.build.tube import tube_of
from mewswright.handbook.steel import plate_figure
from mewswright.model.quarters import Frame, Quarters

BEAMS = ("rafter", "head", "ridge")  # keys of the frame that may be of tube, beside the post
THINNEST_MM = 2.0  # judgement: thinner walls take no self-drilling screw that holds


def tubes_in(frame: Frame, *, ridged: bool) -> dict[str, str]:
    """Which beams of a frame are of tube: key and section; a ridge beam only where there is one."""
    keys = (key for key in BEAMS if key != "ridge" or ridged)
    return {key: s for key in keys if tube_of(s := getattr(frame, key)) is not None}


def beam_refusals(quarters: Quarters) -> tuple[str, ...]:
    """What of steel beams is not worked out here, so that an engineer must decide."""
    frame = quarters.frame
    found = tubes_in(frame, ridged=quarters.ridge_mm is not None)
    why: list[tuple[str, str]] = []
    for key, section in found.items():
        tube = tube_of(section)
        if tube is not None and tube.t_mm < THINNEST_MM:
            why.append((key, f"screws in a wall under {THINNEST_MM:g} mm: take a thicker tube"))
    if "head" in found:
        if braces(frame.lining):
            why.append(("head", "nails of a lining in a head plate of steel: take timber"))
        if frame.brace == "knee":
            why.append(("head", 'how a knee brace is held to it: take brace = "none", or timber'))
        if tube_of(frame.post) is not None:
            why.append(("head", "how posts of tube are held to it: weld the two as a frame that an "
                        "engineer designs, or take one of them of timber"))  # fmt: skip
        if frame.bay_max_mm is not None:
            why.append(("head", "how it is tied over the joints of panels: leave out bay_max_mm"))
    roof = quarters.roof
    if "rafter" in found and roof is not None and roof.deck is None:
        why.append(
            ("rafter", "how battens or boards are held to it: give the roof a deck, or take timber")
        )
    return tuple(
        f"frame.{key} of steel tube {found[key]}: not worked out is {one}; the frame is not called "
        "sound before an engineer has decided"
        for key, one in why
    )


def beam_assumptions(quarters: Quarters) -> Iterator[str]:
    """What steel beams are taken for, and how they are joined; nothing without them."""
    found = tubes_in(quarters.frame, ridged=quarters.ridge_mm is not None)
    if not found:
        return
    told = ", ".join(f"{key} {section}" for key, section in found.items())
    yield (
        f"tubes of S235 ({told}), elastic, simply supported as the timber they stand for "
        "(EN 1993-1-1); their deflection is held to the limits of timber; steel does not creep"
    )
    yield (
        "what is held to a tube is held by straps, angles and hangers whose legs at the tube have "
        "self-drilling screws of 5.5 mm in place of nails, as many; a screw in a wall of "
        f"{THINNEST_MM:g} mm or more carries more than a nail in timber (EN 1993-1-3, 8.3, from "
        "memory), so that the legs in timber govern and are what is checked"
    )
    if "rafter" in found:
        yield (
            "the deck is held to tubes by self-drilling screws with wings, counted as wood screws "
            "are: the head in the deck governs; blocking between the tubes is of timber of their "
            "size, held by an angle at each end"
        )
    if "head" in found:
        yield (
            "mesh, boards and raked cuts at a head plate of tube need a timber strip screwed to it "
            "every 300 mm, which is not counted"
        )


def beam_cautions(quarters: Quarters) -> Iterator[str]:
    """What whoever makes steel beams must mind; nothing without them."""
    if tubes_in(quarters.frame, ridged=quarters.ridge_mm is not None):
        yield (
            "Steel tubes in a roof or a plate rust from cuts, holes and inside: have them "
            "galvanized after all cutting, welding and drilling, with vent holes and capped ends, "
            "and paint what is drilled later with zinc. Timber treated with copper eats zinc: lay "
            "a strip of plastic or bitumen between. Water drips from cold steel: keep it off "
            f"perches. The fabricator confirms grade and execution ({plate_figure('fu').value:g} "
            "N/mm2 of ultimate strength, EN 1090-2, execution class 1)."
        )
