"""Where wall panels meet: straps that tie their head plates, bolts that hold them together.

All of the level push at the head of the unit is taken along one wall, which is safe.
"""

from collections.abc import Sequence

from mewswright import handbook
from mewswright.build.bays import bolts_at
from mewswright.build.holding.standing import WindCase, lifts
from mewswright.build.panels import STRAPS_PER_JOINT
from mewswright.build.shell import breadth_depth_mm
from mewswright.build.strength.bolts import bolt_lateral
from mewswright.build.strength.design import design_value
from mewswright.build.strength.uplift_path import Joint, connector_design_kn
from mewswright.build.walls import WallFrame
from mewswright.handbook.bolts import bolt
from mewswright.handbook.fasteners import connector
from mewswright.model.quarters import Frame

STRAP = "strap_30"
OUTSIDE = 3  # service class


def panel_joints(frame: Frame, walls: Sequence[WallFrame], wind: Sequence[WindCase]) -> list[Joint]:
    """The joints between panels of a unit; none where no wall is parted.

    Args:
        frame: For its class, uprights and bolts.
        walls: Its walls.
        wind: Wind on the whole unit.

    Source:
        Statics: the head plate passes on all of a push H; two panels of a wall of height h and
        length l slide on each other with H h / l. EN 1995-1-1, 8.2.2, 8.2.3, 8.5.1.
    """
    parted = [(wall, at) for wall in walls for at in wall.joints_mm]
    if not parted or not wind:
        return []
    kmod = handbook.timber_kmod("solid", OUTSIDE, "instantaneous").value
    gamma = handbook.gamma_m("connection").value
    strap, one = connector(STRAP), bolt(f"{frame.bay_bolt.lower()}_coach_bolt")
    rho = handbook.timber_class(frame.strength_class).rho_k
    ties, holds = (0.0, 1.0), (0.0, 1.0)
    each_tie, note = connector_design_kn(strap, frame.strength_class, kmod)
    thick = breadth_depth_mm(frame.stud)[0]
    each = design_value(bolt_lateral(one, thick, 0, thick, 0, rho).capacity_n, kmod, gamma) / 1e3
    fewest = min(bolts_at(wall, at) for wall, at in parted)
    for wall, at in parted:
        run = "width" if wall.wall.is_level else "depth"
        heads = [one.push_kn if one.head_kn is None else one.head_kn for one in wind
                 if one.along == run]  # fmt: skip
        push = lifts() * max(heads, default=0.0)
        start, end = wall.wall.ends_mm
        slide = push * wall.wall.head_top_mm(at) / (end - start)
        ties = max(ties, (push, STRAPS_PER_JOINT * each_tie), key=lambda pair: pair[0] / pair[1])
        held = bolts_at(wall, at) * each
        holds = max(holds, (slide, held), key=lambda pair: pair[0] / pair[1])
    return [
        Joint("panel-panel, tie of head plates", STRAP, STRAPS_PER_JOINT, ties[1],
              ties[0] / ties[1], strap.capacity.source, note),
        Joint("panel-panel, bolts", one.id, fewest, holds[1], holds[0] / holds[1], one.source,
              "EN 1995-1-1, 8.5.1"),
    ]  # fmt: skip
