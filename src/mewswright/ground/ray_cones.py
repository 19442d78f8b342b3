"""What each solid stops of the sky over one point, as a cone, and its bounds by sectors of bearing.

Seen from a point, a box stops the rays between at most ten planes through that point: two by the
side, the edges of its top that bound it above, those of its bottom that bound it below. Of a ray
(east, north of the unit bearing, tangent t) each is a linear form a east + b north + c t >= 0. A
crown stops the rays whose angle to its middle is small, a square form. So one solid is asked of
many rays by a few sums, with no division.

The circle of bearings is cut into sectors. In each, a form is bounded by its values at the two
edges: between them every bearing is a sum of the two edge bearings with weights that add up to
1 / cos(half the turn) at most. Solids that are sure to stop, or sure to miss, every ray of a sector
are settled by these bounds; only the forms that the bounds leave open are asked.

A ray that comes closer to a plane than `MARGIN` is asked again of `ray_kernel.is_stopped`: no
answer depends on rounding that the slow way does not share.
"""

from typing import Any

import numpy as np
from numba import njit

from mewswright.ground.ray_kernel import HAIR, HIGH, spans

SECTORS = 240
WIDE = 2 * np.pi / SECTORS
STRETCH = 1 / np.cos(WIDE / 2)
MARGIN = 1e-9
FORMS = 10
_NEAR_M = 1e-7  # an eye so close to a plane of a box: asked by the slow way
ASK = -1  # a mask that says: by the slow way


@njit(cache=True)
def sector_rays() -> Any:
    """East and north of the first bearing of every sector (sectors, 2)."""
    rays = np.empty((SECTORS, 2))
    for k in range(SECTORS):
        rays[k, 0], rays[k, 1] = np.sin(k * WIDE), np.cos(k * WIDE)
    return rays


@njit(cache=True)
def _form(box: Any, along_u: float, along_v: float, sign: float, form: Any) -> None:
    """Turn a tangent p du + q dv into a form of unit size: the tangent less t, times a sign."""
    a = along_u * box[2] - along_v * box[3]
    b = along_u * box[3] + along_v * box[2]
    size = abs(a) + abs(b) + 1.0
    form[0], form[1], form[2], form[3] = sign * a / size, sign * b / size, -sign / size, size


@njit(cache=True)
def _box_cone(box: Any, at: Any, forms: Any) -> Any:
    """The cone of a box into `forms` (a, b, c, size).

    Returns how many forms bound it at the sides, above and below, and its first and last bearing
    [rad]; -1 sides where the eye is too close to a plane to be sure.
    """
    dx, dy = at[0] - box[0], at[1] - box[1]
    qu, qv = dx * box[2] + dy * box[3], dy * box[2] - dx * box[3]
    c0 = box[6] + box[7] * qu + box[8] * qv - at[2]
    c1 = box[9] + box[10] * qu + box[11] * qv - at[2]
    # Distances inwards to the planes u = half, u = -half, v = half, v = -half.
    left = (box[4] - qu, box[4] + qu, box[5] - qv, box[5] + qv)
    closest = min(min(abs(left[0]), abs(left[1])), min(abs(left[2]), abs(left[3])))
    if min(closest, min(abs(c0), abs(c1))) < _NEAR_M:
        return -1, 0, 0, 0.0, 2 * np.pi
    faces = 0
    for i in range(4):
        faces += left[i] < 0
    sides, count = 0, 0
    first, last = 0.0, 2 * np.pi
    if faces:
        # The outermost corners, left and right of the nearest edge or corner.
        u0 = box[4] if left[0] < 0 else -box[4]
        v0 = box[5] if left[2] < 0 else -box[5]
        if faces == 2:
            ua, va, ub, vb = u0, -v0, -u0, v0
        elif left[0] < 0 or left[1] < 0:
            ua, va, ub, vb = u0, box[5], u0, -box[5]
        else:
            ua, va, ub, vb = box[4], v0, -box[4], v0
        xa, ya = ua * box[2] - va * box[3] - dx, ua * box[3] + va * box[2] - dy
        xb, yb = ub * box[2] - vb * box[3] - dx, ub * box[3] + vb * box[2] - dy
        if xb * ya - yb * xa < 0:  # b must lie clockwise of a
            xa, ya, xb, yb = xb, yb, xa, ya
        size = abs(xa) + abs(ya)
        forms[0, 0], forms[0, 1], forms[0, 2], forms[0, 3] = ya / size, -xa / size, 0.0, size
        size = abs(xb) + abs(yb)
        forms[1, 0], forms[1, 1], forms[1, 2], forms[1, 3] = -yb / size, xb / size, 0.0, size
        first, last = np.arctan2(xa, ya), np.arctan2(xb, yb)
        if last < first:
            last += 2 * np.pi
        sides = count = 2
    # 1 / r to a plane is n.d / left; the top is c1 + s1 r over the eye, so its tangent s1 + c1 / r
    # is linear in the bearing. It ends at the near planes if it is above the eye, else at the far.
    for i in range(4):
        if (left[i] < 0) == (c1 > 0):
            away = (1.0 if i % 2 == 0 else -1.0) / left[i]
            pu = box[10] + (c1 * away if i < 2 else 0.0)
            pv = box[11] + (c1 * away if i >= 2 else 0.0)
            _form(box, pu, pv, 1.0, forms[count])
            count += 1
    tops = count - sides
    for i in range(4):
        if (left[i] < 0) == (c0 < 0):
            away = (1.0 if i % 2 == 0 else -1.0) / left[i]
            pu = box[7] + (c0 * away if i < 2 else 0.0)
            pv = box[8] + (c0 * away if i >= 2 else 0.0)
            _form(box, pu, pv, -1.0, forms[count])
            count += 1
    return sides, tops, count - sides - tops, first, last


@njit(cache=True)
def _crown_cone(crown: Any, at: Any, forms: Any) -> int:
    """Middle of a crown as a unit vector, and the square of its rim's cosine.

    An eye within the crown sees it all round; `ASK` for one on its skin, else 0.
    """
    dx, dy, dz = crown[0] - at[0], crown[1] - at[1], (crown[2] - at[2]) / crown[4]
    away = np.sqrt(dx * dx + dy * dy + dz * dz)
    forms[1, 0] = 1 / (crown[4] * crown[4])
    if away < crown[3] * (1 - _NEAR_M):
        forms[0, 0] = forms[0, 1] = forms[0, 2] = 0.0
        forms[0, 3] = -1.0
        return 0
    if away < crown[3] * (1 + _NEAR_M):
        return ASK
    forms[0, 0], forms[0, 1], forms[0, 2] = dx / away, dy / away, dz / away / crown[4]
    forms[0, 3] = (away - crown[3]) * (away + crown[3]) / (away * away)
    return 0


@njit(cache=True)
def crown_margin(forms: Any, east: float, north: float, t: float) -> float:
    """How far a ray is within a crown's cone: more than 0 if it is stopped."""
    dot = forms[0, 0] * east + forms[0, 1] * north + forms[0, 2] * t
    margin: float = dot * abs(dot) / (1.0 + t * t * forms[1, 0]) - forms[0, 3]
    return margin


@njit(cache=True)
def make_room(rows: int) -> Any:
    """Tables that `look_round` fills for one point after the other.

    Of a sector: the tangents below which and from which it is dark, above which no solid and no
    thin one stands; first entry of its solids (the highest first) and of its thin ones (in order
    of rows). Of an entry: the next one, its solid, the forms that must be asked (bits); the tangent
    over which it stops nothing.
    """
    most = rows * (SECTORS + 2)
    return (
        np.empty((SECTORS, 4)),
        np.empty((SECTORS, 2), np.int32),
        np.empty((most, 3), np.int32),
        np.empty(most),
        np.empty((rows, FORMS, 4)),
    )


@njit(cache=True)
def _box_bounds(forms: Any, counts: Any, e0: Any, e1: Any, least: float, most: float) -> Any:
    """Of one box in one sector whose rays lie between two tangents.

    Returns the tangent over which it stops nothing; those between which it stops all (1, 0 if it
    may stop none); the forms that are open (bits).
    """
    mask, covers = 0, True
    upper, sure_low, sure_high = HIGH, 0.0, HIGH
    sides, tops, bottoms = counts
    for i in range(sides):
        a = forms[i, 0] * e0[0] + forms[i, 1] * e0[1]
        b = forms[i, 0] * e1[0] + forms[i, 1] * e1[1]
        if min(a, b) <= MARGIN:
            mask |= 1 << i
            covers = False
    for i in range(sides, sides + tops):
        a = (forms[i, 0] * e0[0] + forms[i, 1] * e0[1]) * forms[i, 3]
        b = (forms[i, 0] * e1[0] + forms[i, 1] * e1[1]) * forms[i, 3]
        high = max(a, b)
        upper = min(upper, high * STRETCH * (1 + HAIR) + HAIR * forms[i, 3] if high > 0 else -1.0)
        low = min(a, b) * (1 - HAIR) - HAIR * forms[i, 3]
        sure_high = min(sure_high, low)
        if low <= most:
            mask |= 1 << i
    for i in range(sides + tops, sides + tops + bottoms):
        a = -(forms[i, 0] * e0[0] + forms[i, 1] * e0[1]) * forms[i, 3]
        b = -(forms[i, 0] * e1[0] + forms[i, 1] * e1[1]) * forms[i, 3]
        high = max(a, b)
        high = high * STRETCH * (1 + HAIR) + HAIR * forms[i, 3] if high > 0 else 0.0
        if min(a, b) * (1 - HAIR) - HAIR * forms[i, 3] > most:
            return -1.0, 1.0, 0.0, 0
        sure_low = max(sure_low, high)
        if high >= least:
            mask |= 1 << i
    if not covers:
        sure_low, sure_high = 1.0, 0.0
    return upper, sure_low, sure_high, mask


@njit(cache=True)
def _crown_reach(crown: Any, at: Any) -> Any:
    """First and last bearing of a crown [rad], those of its middle and the tangent over it."""
    dx, dy = crown[0] - at[0], crown[1] - at[1]
    away = np.sqrt(dx * dx + dy * dy)
    if away <= crown[3] * (1 + HAIR):
        return 0.0, 2 * np.pi, 0.0, -HIGH
    middle, half = np.arctan2(dx, dy), np.arcsin(crown[3] / away)
    _, high = spans(crown.reshape(1, 6)[:0], crown.reshape(1, 6), 0, at, dx / away, dy / away)
    return middle - half, middle + half, middle, high


@njit(cache=True)
def _between(low0: float, high0: float, low1: float, high1: float, peak: float) -> Any:
    """Bounds of a crown in a sector, from its tangents at both edges and at its middle."""
    upper = peak
    if low0 <= high0:
        upper = max(upper, high0)
    if low1 <= high1:
        upper = max(upper, high1)
    sure_low, sure_high = 1.0, 0.0
    if low0 <= high0 and low1 <= high1:
        sure_low = max(low0, low1)
        sure_low = sure_low * STRETCH * (1 + HAIR) + HAIR if sure_low > 0 else 0.0
        sure_high = min(high0, high1) * (1 - HAIR) - HAIR
    return upper * STRETCH * (1 + HAIR) + HAIR, sure_low, sure_high


@njit(cache=True)
def look_round(boxes: Any, crowns: Any, at: Any, rays: Any, span: Any, room: Any) -> None:
    """Fill the tables of `make_room` for one point.

    `span` (sectors, 2): least and most tangent of the rays of each sector; a sector without rays
    has a least one of HIGH.
    """
    table, heads, entries, uppers, cones = room
    for k in range(SECTORS):
        table[k, 0], table[k, 1] = -1.0, HIGH
        table[k, 2] = table[k, 3] = -1.0
        heads[k, 0] = heads[k, 1] = -1
    count = 0
    for row in range(len(boxes) + len(crowns) - 1, -1, -1):
        is_box = row < len(boxes)
        counts, peak, middle, on_skin = (0, 0, 0), -HIGH, 0.0, 0
        low0, high0, low1, high1 = 0.0, 0.0, 0.0, 0.0
        if is_box:
            thin = 1 if boxes[row, 12] >= 0 else 0
            n, tops, bottoms, first, last = _box_cone(boxes[row], at, cones[row])
            counts = (n, tops, bottoms)
        else:
            crown = crowns[row - len(boxes)]
            thin = 1 if crown[5] >= 0 else 0
            on_skin = _crown_cone(crown, at, cones[row])
            first, last, middle, peak = _crown_reach(crown, at)
        k0, k1 = int(np.floor(first / WIDE - HAIR)), int(np.floor(last / WIDE + HAIR))
        if last - first >= 2 * np.pi:
            k0, k1 = 0, SECTORS - 1
        if not is_box:
            j = k0 % SECTORS
            low0, high0 = spans(boxes, crowns, row, at, rays[j, 0], rays[j, 1])
        for k in range(k0, k1 + 1):
            s, j = k % SECTORS, (k + 1) % SECTORS
            least, most, mask = span[s, 0], span[s, 1], on_skin
            if is_box:
                if least > most or table[s, 0] >= most:
                    continue
                upper, sure_low, sure_high = HIGH, 1.0, 0.0
                if counts[0] < 0:
                    mask = ASK
                else:
                    upper, sure_low, sure_high, mask = _box_bounds(
                        cones[row], counts, rays[s], rays[j], least, most
                    )
            else:
                low1, high1 = spans(boxes, crowns, row, at, rays[j, 0], rays[j, 1])
                held = (k * WIDE - HAIR <= middle) and (middle <= (k + 1) * WIDE + HAIR)
                upper, sure_low, sure_high = _between(
                    low0, high0, low1, high1, peak if held else -HIGH
                )
                low0, high0 = low1, high1
                if least > most:
                    continue
            if upper < least or upper <= table[s, 0]:
                continue
            if not thin and sure_low <= sure_high:
                if sure_low <= max(least, table[s, 0]):
                    table[s, 0] = max(table[s, 0], sure_high)
                if sure_high >= most:
                    table[s, 1] = min(table[s, 1], sure_low)
            table[s, 2 + thin] = max(table[s, 2 + thin], upper)
            entries[count, 1], entries[count, 2] = row, mask
            uppers[count] = upper
            after, before = heads[s, thin], -1
            if not thin:
                while after >= 0 and uppers[after] > upper:
                    before, after = after, entries[after, 0]
            entries[count, 0] = after
            if before < 0:
                heads[s, thin] = count
            else:
                entries[before, 0] = count
            count += 1
