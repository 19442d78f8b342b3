"""What hangs: rafters in hangers on a ridge beam or a ledger, and the ledger on its bolts.

Forces follow the reactions of the beams that were analysed, in kN, and each is held against
what the joint carries for as long as the load stays.
"""

from collections.abc import Iterator, Mapping, Sequence

from mewswright import handbook
from mewswright.build.actions.combine import Factors
from mewswright.build.frame_uprights import Down, Part, together
from mewswright.build.member_forces import DEAD, LEAST_DEAD
from mewswright.build.strength.bolts import bolt_lateral, bolt_spacing, splitting_n
from mewswright.build.strength.design import design_value
from mewswright.build.strength.uplift_path import NOTHING, Joint, connector_design_kn
from mewswright.handbook.bolts import Bolt, bolt, bolts
from mewswright.handbook.fasteners import connector
from mewswright.handbook.timber import DURATIONS

HANGER = "joist_hanger_47"
LIFTED_SHARE = 0.5  # judgement: of a hanger's own value, where it is lifted out of its seat
UNDER_COVER = 2  # service class of a joint under the roof
BOLTS_PER_UPRIGHT = 2  # judgement: through the ledger into each stud or post of the back wall
BETWEEN_UPRIGHTS = "ledger-upright"


def along_kn(down: Mapping[str, Down], using: Factors) -> Iterator[tuple[float, str]]:
    """Design force down on one support under every combination [kN], and how long it stays.

    Lift is below zero; it meets the weight that is sure.

    Args:
        down: What comes down on it, characteristic.
        using: Factors of combination.
    """
    parts = [Part(name, one.kind, down_kn=one.kn) for name, one in down.items()
             if one.kind != "dead"]  # fmt: skip
    for dead, factor in ((DEAD, using.gamma_g), (LEAST_DEAD, using.gamma_g_favourable)):
        weight = down[dead].kn if dead in down else 0.0
        for met in together(parts, (), using):
            kinds = ["dead", *(one.kind for one, _ in met)]
            by = 1.0 if "accident" in kinds else factor
            kn = by * weight + sum(share * one.down_kn for one, share in met)
            yield kn, max((using.duration[kind] for kind in kinds), key=DURATIONS.index)


def hangers(
    name: str, ends: Sequence[Mapping[str, Down]], using: Factors, strength_class: str
) -> list[Joint]:
    """One hanger under each rafter: pressed into its seat, and lifted out of it.

    Args:
        name: Of the joint, such as "rafter-ridge".
        ends: What each rafter brings down there, characteristic.
        using: Factors of combination.
        strength_class: Of the timber.

    Source:
        EN 1995-1-1:2004, 8.2.3 for its nails; handbook connectors for the piece.
    """
    hanger = connector(HANGER)
    pressed, lifted = (0.0, 1.0), (0.0, 1.0)
    for end in ends:
        for kn, lasts in along_kn(end, using):
            kmod = handbook.timber_kmod("solid", UNDER_COVER, lasts).value
            each, _ = connector_design_kn(hanger, strength_class, kmod)
            if kn < 0:
                own = LIFTED_SHARE * design_value(
                    hanger.capacity.value, min(kmod, 1.0), handbook.gamma_m("connection").value
                )
                lifted = max(lifted, (-kn, min(own, each)), key=lambda one: one[0] / one[1])
            else:
                pressed = max(pressed, (kn, each), key=lambda one: one[0] / one[1])
    told = (
        (name, pressed, "its lower value on record, or its nails; the maker's goes before it"),
        (f"{name}, lifted", lifted, "half of its value, by our judgement, or its nails"),
    )
    return [
        Joint(what, HANGER, 1, capacity, force / capacity, hanger.capacity.source, note)
        for what, (force, capacity), note in told
    ]


def bolt_for(breadth_mm: float) -> str | None:
    """The thickest bolt that a stud or post takes in its middle, by edge distance; None: none.

    Args:
        breadth_mm: Breadth of the upright along its wall [mm].

    Source:
        EN 1995-1-1:2004, Table 8.4: the unloaded edge.
    """
    fit = [one for one in bolts().values()
           if 2 * bolt_spacing(one.diameter_mm).edge_free_mm <= breadth_mm]  # fmt: skip
    return max(fit, key=lambda one: one.diameter_mm).id if fit else None


def ledger_bolts(
    down: Mapping[float, Mapping[str, Down]], using: Factors, strength_class: str,
    ledger_mm: tuple[float, float], upright_mm: tuple[float, float],
) -> list[Joint]:  # fmt: skip
    """The bolts of a ledger in the upright that carries most of it, and whether it splits.

    Two stand above each other; the upper or the lower one is as near the edge that the force
    points at as it may, and the ledger splits from the other.

    Args:
        down: What the ledger brings to each upright, by its place, characteristic.
        using: Factors of combination.
        strength_class: Of the timber.
        ledger_mm: Breadth and depth of the ledger.
        upright_mm: Breadth along the wall and depth of the slightest upright.

    Source:
        EN 1995-1-1:2004, 8.2.2, 8.5.1, 8.1.4, Table 8.4.
    """
    name = bolt_for(upright_mm[0])
    ends = list(down.values())
    if name is None:
        most = max((abs(kn) for end in ends for kn, _ in along_kn(end, using)), default=0.0)
        note = f"an upright of {upright_mm[0]:g} mm is too narrow for any bolt on record"
        return [Joint(BETWEEN_UPRIGHTS, "none", 0, 0.0, float("inf") if most else 0.0, NOTHING,
                      note)]  # fmt: skip
    one = bolt(name)
    gap = _room_between_mm(one, ledger_mm[1])
    rho = handbook.timber_class(strength_class).rho_k
    each = bolt_lateral(one, ledger_mm[0], 90.0, upright_mm[1], 0.0, rho).capacity_n
    split = splitting_n(*ledger_mm, ledger_mm[1] - bolt_spacing(one.diameter_mm, 90).edge_free_mm)
    gamma = handbook.gamma_m("connection").value
    least = bolt_spacing(one.diameter_mm).along_mm
    count = BOLTS_PER_UPRIGHT if gap >= least else 1
    pulled, torn = (0.0, 1.0), (0.0, 1.0)
    for end in ends:
        for kn, lasts in along_kn(end, using):
            kmod = handbook.timber_kmod("solid", UNDER_COVER, lasts).value
            held = (abs(kn), count * design_value(each, kmod, gamma) / 1e3)
            # Half of it passes to each side of an upright, where the ledger goes on.
            whole = (abs(kn) / 2, design_value(split, kmod, gamma) / 1e3)
            pulled = max(pulled, held, key=lambda pair: pair[0] / pair[1])
            torn = max(torn, whole, key=lambda pair: pair[0] / pair[1])
    note = (
        f"{count} above each other, {least:g} mm apart; boards between ledger and upright are "
        "pressed tight and carry nothing"
    )
    if count < BOLTS_PER_UPRIGHT:
        note = f"a ledger {ledger_mm[1]:g} mm deep takes one bolt only at each upright"
    return [
        Joint(BETWEEN_UPRIGHTS, name, count, pulled[1], pulled[0] / pulled[1], one.source, note),
        Joint("ledger, splitting at its bolts", name, count, torn[1], torn[0] / torn[1],
              one.source, "EN 1995-1-1, 8.1.4"),
    ]  # fmt: skip


def _room_between_mm(one: Bolt, depth_mm: float) -> float:
    """How far apart two bolts may stand above each other in a ledger [mm]."""
    least = bolt_spacing(one.diameter_mm, 90)
    return depth_mm - least.edge_loaded_mm - least.edge_free_mm
