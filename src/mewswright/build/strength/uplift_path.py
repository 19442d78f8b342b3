"""How a roof is tied to the ground: every joint that uplift must pass, with its fixings.

The path runs deck, rafter, plate, post, base, ground, and is as good as its weakest joint.
Skew nails are not credited; only what is drawn: screws, straps, angles. Capacities of
straps and angles are the handbook's marked values; a maker's declaration goes before them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf

from mewswright import handbook
from mewswright.build.strength.design import connection_kmod, design_value
from mewswright.build.strength.fasteners import Grip, pull_out, thin_plate_lateral
from mewswright.build.strength.spacing import number_needed
from mewswright.handbook.evidence import SourceRef
from mewswright.handbook.fasteners import Connector, connector, fastener

NODES = ("deck-rafter", "rafter-plate", "plate-post", "post-base", "base-ground")
STRAP_MM = 2.5  # plate of straps and angles, counted as thin
# Tried in this order: the first that carries its force is taken.
MEANS: Mapping[str, tuple[str, ...]] = {
    "deck-rafter": ("screw_4x40", "screw_4x60", "structural_screw_5x80"),
    "rafter-plate": ("strap_30", "angle_bracket_90"),
    "plate-post": ("angle_bracket_90", "strap_30"),
    "post-base": ("angle_bracket_90", "strap_30"),
}
LEAST, MOST = 2, 4  # of straps or angles at one joint: one each side, and each face of a post


@dataclass(frozen=True)
class Joint:
    """One joint of the path, for one rafter or one post.

    `capacity_kn` is the design capacity of all `count` means together; `source` says
    where the figure of the one means stands and how it is known.
    """

    name: str
    means: str
    count: int
    capacity_kn: float
    utilisation: float
    source: SourceRef
    note: str = ""


@dataclass(frozen=True)
class Anchor:
    """What holds the base to the ground: design capacity of one, number at this post."""

    means: str
    count: int
    capacity_each_kn: float
    source: SourceRef


@dataclass(frozen=True)
class PathTimber:
    """What the path runs through. The deck is OSB/3, or boards of the timber's class.

    `deck_screws_most` is how many screws one rafter's length of deck takes at the closest
    spacing that is wanted; `node_class` is the service class of each node, 3 at the front
    posts and below.
    """

    strength_class: str = "C24"
    deck_mm: float = 18.0
    deck_material: str = "osb3"
    duration: str = "instantaneous"
    deck_screws_most: int = 40
    means: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MEANS)
    node_class: Mapping[str, int] = field(
        default_factory=lambda: {
            "deck-rafter": 2, "rafter-plate": 2, "plate-post": 3, "post-base": 3,
        }
    )  # fmt: skip


COMMON = PathTimber()
NOTHING = SourceRef("no means named", "-", "judgement")


def uplift_path(
    force_kn: Mapping[str, float], timber: PathTimber = COMMON, anchor: Anchor | None = None
) -> list[Joint]:
    """The schedule of fixings along the path, each joint with the number it needs.

    Args:
        force_kn: Design uplift through each node of `NODES`, of one rafter or one post
            [kN]; zero or less is a joint that is pressed and still gets its fewest.
        timber: What the path runs through.
        anchor: What holds the base to the ground, from the checks of holding down; None
            says that nothing does, and then a pulled base fails.

    Returns:
        A joint for each node, from the deck down.

    Raises:
        ValueError: If a node's force is missing or an unknown node is named.

    Source:
        EN 1995-1-1:2004, 8.3.2, 8.7.2, 8.2.3; handbook fasteners and connectors.
    """
    if set(force_kn) != set(NODES):
        raise ValueError(
            f"an uplift path asks for the force at each of {', '.join(NODES)}; got "
            f"{', '.join(force_kn) or 'none'}"
        )
    pulled = {node: max(0.0, force) for node, force in force_kn.items()}
    joints = [_deck(pulled["deck-rafter"], timber)]
    joints += [_steel(node, pulled[node], timber) for node in NODES[1:-1]]
    return [*joints, _ground(pulled["base-ground"], anchor)]


def weakest(joints: list[Joint]) -> Joint:
    """The joint that is used the most."""
    return max(joints, key=lambda joint: joint.utilisation)


def _share(force_kn: float, capacity_kn: float) -> float:
    if capacity_kn > 0:
        return force_kn / capacity_kn
    return inf if force_kn > 0 else 0.0


def screw_design_n(name: str, timber: PathTimber) -> float:
    """Design pull of one screw through the deck into a rafter [N]; 0 if it is too short.

    Args:
        name: Id of the fastener.
        timber: Deck, class and duration.

    Source:
        EN 1995-1-1:2004, 8.3.2, 8.7.2, 2.3.2.1 with kmod of both sides.
    """
    rho = handbook.timber_class(timber.strength_class).rho_k
    sheet = timber.deck_material == "osb3"
    deck_rho = handbook.osb_class(timber.deck_mm).rho_k if sheet else rho
    head = Grip("osb3" if sheet else "timber", timber.deck_mm, deck_rho)
    service = timber.node_class["deck-rafter"]
    kmod = connection_kmod(
        handbook.timber_kmod("osb3" if sheet else "solid", service, timber.duration).value,
        handbook.timber_kmod("solid", service, timber.duration).value,
    )
    held = pull_out(fastener(name), head, Grip("timber", inf, rho))
    return design_value(held, kmod, handbook.gamma_m("connection").value)


def connector_design_kn(one: Connector, strength_class: str, kmod: float) -> tuple[float, str]:
    """Design capacity of one strap or angle [kN], and what governs it.

    The fasteners of one leg count, for the force passes from leg to leg. kmod is used on
    the piece's own value too: an angle is declared as fixed in timber, and for the steel
    of a strap it is safe.

    Args:
        one: Strap, angle or hanger.
        strength_class: Class of the timber.
        kmod: Of the joint [-].

    Source:
        EN 1995-1-1:2004, 8.2.3 (8.9) for the leg; handbook connectors for the piece.
    """
    gamma = handbook.gamma_m("connection").value
    rho = handbook.timber_class(strength_class).rho_k
    each = thin_plate_lateral(one.fastener, Grip("timber", inf, rho), STRAP_MM)
    leg_kn = one.each_leg * design_value(each, kmod, gamma) / 1e3
    own_kn = design_value(one.capacity.value, min(kmod, 1.0), gamma)
    if own_kn <= leg_kn:
        return own_kn, "its own value governs"
    return leg_kn, f"its {one.each_leg} fasteners in each leg govern"


def _deck(force_kn: float, timber: PathTimber) -> Joint:
    best: Joint | None = None
    for name in timber.means["deck-rafter"]:
        each_n = screw_design_n(name, timber)
        if each_n <= 0:
            continue
        count = min(number_needed(force_kn, each_n), timber.deck_screws_most)
        capacity = count * each_n / 1e3
        one = fastener(name)
        joint = Joint(
            "deck-rafter", name, count, capacity, _share(force_kn, capacity), one.source,
            "its head or its thread governs; the maker's figures go before these",
        )  # fmt: skip
        if best is None or joint.utilisation < best.utilisation:
            best = joint
        if joint.utilisation <= 1:
            return joint
    if best is None:
        note = f"no screw named reaches through {timber.deck_mm:g} mm far enough: longer ones"
        return Joint("deck-rafter", "none", 0, 0.0, _share(force_kn, 0.0), NOTHING, note)
    return best


def _steel(node: str, force_kn: float, timber: PathTimber) -> Joint:
    service = timber.node_class[node]
    kmod = handbook.timber_kmod("solid", service, timber.duration).value
    best: Joint | None = None
    for name in timber.means[node]:
        one = connector(name)
        each_kn, note = connector_design_kn(one, timber.strength_class, kmod)
        count = min(number_needed(force_kn, each_kn * 1e3, LEAST), MOST)
        capacity = count * each_kn
        joint = Joint(
            node, name, count, capacity, _share(force_kn, capacity), one.capacity.source, note
        )
        if joint.utilisation <= 1:
            return joint
        if best is None or joint.utilisation < best.utilisation:
            best = joint
    if best is None:
        return Joint(node, "none", 0, 0.0, _share(force_kn, 0.0), NOTHING, "no means named")
    return best


def _ground(force_kn: float, anchor: Anchor | None) -> Joint:
    if anchor is None:
        return Joint(
            "base-ground", "none", 0, 0.0, _share(force_kn, 0.0), NOTHING,
            "nothing holds the base down: friction and weight are not credited here",
        )  # fmt: skip
    capacity = anchor.count * anchor.capacity_each_kn
    return Joint(
        "base-ground", anchor.means, anchor.count, capacity, _share(force_kn, capacity),
        anchor.source,
    )  # fmt: skip
