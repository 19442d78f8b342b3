"""What one anchor is good for, and what must be proven before it counts."""

from dataclasses import dataclass
from math import ceil

from mewswright.build.holding.ground import hole_pull_kn, hole_shear_kn, hole_volume_m3
from mewswright.handbook.holding import Anchor, anchor, holding_figure
from mewswright.model.quantity import m_from_mm


@dataclass(frozen=True)
class Means:
    """What one anchor is good for, design values [kN]; credited only as far as it is known."""

    anchor: Anchor
    pull_kn: float
    shear_kn: float
    credited: bool
    hole_m: tuple[float, float] | None = None  # across and deep, of a hole of concrete
    note: str = ""


def means(
    name: str, hole_mm: tuple[float, float] | None = None, tested_kn: float | None = None,
    above_m: float = 0.0,
) -> Means:  # fmt: skip
    """What one anchor of a kind is good for.

    Args:
        name: slab_anchor, concrete_hole or ground_anchor.
        hole_mm: Across and deep of a hole of concrete [mm]; None: the handbook's usual one.
        tested_kn: Pull that every ground anchor held in a test on the spot [kN].
        above_m: How far above the ground a hole of concrete is pushed [m].

    Returns:
        Its pull and shear. A ground anchor that was not tested is not credited; one that
        was counts for half of its test.

    Raises:
        Problem: For an anchor that is not in the handbook.
        ValueError: If a tested pull is 0 or less.

    Source:
        handbook/anchors.csv and holding.csv.
    """
    known = anchor(name)
    if tested_kn is not None and tested_kn <= 0:
        raise ValueError(f"a pull test must be more than 0 kN, got {tested_kn:g}")
    if name == "concrete_hole":
        usual = holding_figure("hole_diameter_mm").value, holding_figure("hole_depth_mm").value
        across, deep = (m_from_mm(size) for size in (hole_mm or usual))
        return Means(
            known, hole_pull_kn(across, deep), hole_shear_kn(across, deep, above_m), True,
            (across, deep),
            f"a hole {across * 1e3:.0f} mm across and {deep * 1e3:.0f} mm deep takes "
            f"{hole_volume_m3(across, deep) * 1e3:.0f} l of concrete; its weight alone counts",
        )  # fmt: skip
    assert known.pull_kn is not None
    assert known.shear_kn is not None
    if not known.needs_test:
        return Means(known, known.pull_kn, known.shear_kn, True, None, known.note)
    if tested_kn is None:
        return Means(
            known, known.pull_kn, known.shear_kn, False, None,
            f"counts for nothing until it is pulled on the spot; {known.note}",
        )  # fmt: skip
    pull = tested_kn / holding_figure("anchor_safety").value
    return Means(known, pull, known.shear_kn, True, None, f"tested to {tested_kn:g} kN")


def number_for_uplift(net_uplift_kn: float, per_anchor_kn: float) -> int:
    """How many anchors hold a net uplift, 0 where there is none.

    Raises:
        ValueError: If an anchor holds nothing.
    """
    if per_anchor_kn <= 0:
        raise ValueError(f"an anchor must hold more than 0 kN, got {per_anchor_kn:g}")
    return max(0, ceil(net_uplift_kn / per_anchor_kn - 1e-9))


def pull_test(one: Means, count: int, pull_kn: float) -> str:
    """What must be proven on the spot before anchors count, in a sentence.

    Args:
        one: The anchor.
        count: How many there are to be.
        pull_kn: What the hardest pulled one is asked to hold [kN].
    """
    if not one.anchor.needs_test:
        if one.anchor.id == "slab_anchor":
            return (
                "use an anchor with its maker's value for this concrete, this edge and this depth "
                f"of at least {max(pull_kn, 0):.2f} kN; pull one as the maker says"
            )
        return "no pull test is asked of concrete that counts by its weight: weigh what goes in"
    factor = holding_figure("anchor_safety").value
    move = holding_figure("pull_test_move_mm").value
    asked = max(pull_kn, one.pull_kn)
    return (
        f"pull each of the {count} anchors to {factor * asked:.2f} kN, {factor:g} times the "
        f"{asked:.2f} kN that it must hold, in wet ground, and write it down; it may move "
        f"{move:g} mm at most (our judgement: anchors of homes may move "
        f"{holding_figure('move_up_mm').value:g} mm up and "
        f"{holding_figure('move_across_mm').value:g} mm across, too much for a gap that holds a "
        "bird)"
    )
