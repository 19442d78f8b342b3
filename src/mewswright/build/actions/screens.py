"""Wind on what air passes: free-standing walls, bars, mesh and nets.

Coefficients are shares of the peak pressure on the whole face, holes and all.
"""

from collections.abc import Mapping

from mewswright.handbook import free_standing_pressures, load_factor

SOLID_FROM = 0.8  # EN 1991-1-4, 7.4.1: walls at least this solid; below it a lattice


def free_standing(
    length_m: float, height_m: float, solidity: float = 1, returns: bool = False
) -> Mapping[str, float]:
    """Net coefficients of a free-standing wall by zone, A at its end to D.

    Args:
        length_m: Length of the wall [m].
        height_m: Its height [m].
        solidity: Solid share (*phi*), 0.8 to 1.
        returns: True where it turns a corner at least as long as it is high.

    Returns:
        Coefficients of zones A, B, C and D. Walls shorter than 3 heights take the row of 3.

    Raises:
        ValueError: If a size is not above 0, or the solidity is not from 0.8 to 1.

    Source:
        EN 1991-1-4:2005, 7.4.1, Table 7.9, straight between lengths and solidities.
    """
    if min(length_m, height_m) <= 0:
        raise ValueError(f"a wall has a size, got {length_m:g} m long, {height_m:g} m high")
    if not SOLID_FROM <= solidity <= 1:
        raise ValueError(
            f"a free-standing wall is solid by {SOLID_FROM:g} to 1, got {solidity:g}: "
            "below that it is a lattice"
        )
    slender = length_m / height_m
    porous = load_factor("free_standing_porous").value
    share = (solidity - SOLID_FROM) / (1 - SOLID_FROM)
    corner = "return" if returns else "none"
    found = {}
    for zone in "ABCD":
        row = {
            one.length_over_height: one.cp_net
            for one in free_standing_pressures()
            if (one.corner, one.zone) == (corner, zone)
        }
        known = sorted(row)
        at = min(max(slender, known[0]), known[-1])
        low = max(k for k in known if k <= at)
        high = min(k for k in known if k >= at)
        way = (at - low) / (high - low) if high > low else 0.0
        solid = row[low] + way * (row[high] - row[low])
        found[zone] = porous + share * (solid - porous)
    return found


def lattice(solidity: float, wire: bool = False) -> float:
    """Force on a metre of a face of bars, mesh or net, over the peak pressure [-].

    Args:
        solidity: Solid share of the face (*phi*), 0 to 1.
        wire: True for round wire, which wind passes more easily.

    Raises:
        ValueError: If the solidity is not from 0 to 1.

    Source:
        EN 1991-1-4:2005, 7.11: force = q_p phi c_f; c_f from memory, the higher end.
    """
    if not 0 <= solidity <= 1:
        raise ValueError(f"solidity is a share from 0 to 1, got {solidity:g}")
    name = "lattice_cf_wire" if wire else "lattice_cf_flat"
    return solidity * load_factor(name).value


def porous_face(solidity: float) -> float:
    """Coefficient of a face of bars, mesh or net as it must be expected [-].

    Ice, leaves, a winter sheet or a shade net close it in part: it is taken as solid by
    half at least, and then of flat members.

    Args:
        solidity: Solid share as built, 0 to 1.

    Source:
        `lattice` of flat members; from a solidity of 0.8 on it stays level, for that is
        more than any closed wall takes. The least solidity is a judgement, the row
        mesh_solidity_min of handbook/load_factors.csv.
    """
    taken = max(solidity, load_factor("mesh_solidity_min").value)
    return lattice(min(taken, SOLID_FROM))
