"""What a take-off says of its gutters: what was assumed, and what to mind."""

from collections.abc import Iterator, Sequence

from mewswright.build.gutter_parts import BUTT, GUTTER, STONE
from mewswright.build.gutter_places import hung_gutters, without_gutter
from mewswright.build.parts import Part
from mewswright.build.row import row_with
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard

LID = (
    "A butt is standing water: keep its lid locked, so that no bird, bat or child drowns in it "
    "and no mosquito breeds there, and give none of it to birds."
)
FROST = (
    "Empty the butt before frost and turn the diverter off: ice splits it, and its water would "
    "stand on the ground at the wall."
)
LEAVES = (
    "Clear gutter, leaf guard and leaf trap after leaf fall and again in spring: a blocked gutter "
    "wets the wall."
)
SNOW = (
    "Snow and ice load a gutter and slide over it: its brackets and the rafters' ends are not "
    "checked for that, and its mass is in no load of the frame."
)
NO_BUTT = (
    "No butt is taken off: the eave hangs too low for one on a stand. Lead the downpipe to a tank "
    "in the ground or to a soakaway."
)
NO_PIT = (
    "No soakaway is taken off for this roof: see what `drain` says of it, and dig a trial pit "
    "first."
)


def gutter_assumptions(parts: Sequence[Part]) -> Iterator[str]:
    """What was assumed of the gutters among the parts of a take-off."""
    hung = [part for part in parts if part.what == GUTTER]
    if not hung:
        return
    yield (
        "gutters, outlets and soakaway are sized as `drain` sizes them; gutters fall as wished "
        "there, 1 in 200, towards their outlets"
    )
    yield (
        "gutter brackets are screwed to the ends of the rafters, for there is no fascia board; "
        "bends, clips, shoes and the height of a butt's stand are our judgement"
    )


def gutter_cautions(yard: Yard, quarters: Quarters, parts: Sequence[Part]) -> Iterator[str]:
    """What to mind of the gutters of a unit, and why an eave has none."""
    if quarters.roof is None or quarters.roof.gutter == "none":
        return
    yield from (f"{line[0].upper()}{line[1:]}." for line in without_gutter(yard, quarters))
    whats = {part.what for part in parts}
    if GUTTER not in whats:
        return
    yield LEAVES
    yield SNOW
    if quarters.roof.gutter == "butt" and BUTT not in whats:
        yield NO_BUTT
    if BUTT in whats:
        yield LID
        yield FROST
    if quarters.roof.gutter == "butt" and len(hung_gutters(yard, quarters)) > 1:
        yield (
            "The butt takes the front slope alone: lead the back slope's pipe away from the wall "
            "too."
        )
    if quarters.roof.gutter == "soakaway" and STONE not in whats:
        yield NO_PIT
    row = row_with(yard, quarters.name)
    if row is not None:
        yield (
            f"The gutter of row {row.name!r} is hung in one piece: take the row off as a whole, "
            "for its own gutter is longer and may be wider."
        )
