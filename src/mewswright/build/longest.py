"""The longest timber of a section that can be bought."""

from mewswright import handbook
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.tube import tube_of
from mewswright.model.yard import Yard

LONGEST_MM = 5400.0  # longest length in the handbook's timber rows, where nothing else is known


def longest_mm(yard: Yard, section: str) -> float:
    """Longest length of a section that can be bought [mm].

    The yard's own stock decides; without any, the handbook's usual lengths.
    """
    own = [bar.length_mm for bar in yard.stock if bar.section == section]
    if own:
        return max(own)
    return max(usual_lengths_mm(section), default=LONGEST_MM)


def usual_lengths_mm(section: str) -> tuple[float, ...]:
    """Lengths in which the handbook says a section is sold [mm]; none if it is unknown."""
    tube = tube_of(section)
    if tube is not None:
        rows = {(row.breadth_mm, row.depth_mm, row.thickness_mm): row.stock_lengths_mm
                for row in handbook.materials("tube")}  # fmt: skip
        return rows.get((tube.b_mm, tube.h_mm, tube.t_mm), ())
    size = breadth_depth_mm(section)
    for material in handbook.materials("timber"):
        if (material.breadth_mm, material.depth_mm) == size:
            return material.stock_lengths_mm
    return ()
