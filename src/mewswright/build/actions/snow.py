"""Snow: on the ground, on a roof, and drifted against what stands taller beside it.

kN/m2 on the plan, metres, and shares of the ground snow (the standard's *mu*). National
annexes change these rules; the yard's own values come from the local code.
"""

from dataclasses import dataclass

from mewswright.handbook import load_factor, snow_shapes
from mewswright.model.problem import Problem

SLIDES_ABOVE_DEG = 15.0  # EN 1991-1-3, 5.3.6(1): an upper roof steeper than this sheds snow
UK_LOWEST_M = 100.0  # the map's values hold up to here


def snow_shape(pitch_deg: float, can_slide: bool = False) -> float:
    """Share of the ground snow that a roof of one pitch carries (*mu_1*).

    Args:
        pitch_deg: Pitch from level [deg], 0 to 90.
        can_slide: False keeps 0.8 at every pitch, as behind a gutter board or snow guard.

    Returns:
        The share [-], 0 to 0.8.

    Raises:
        ValueError: If the pitch is not from 0 to 90.

    Source:
        EN 1991-1-3:2003, 5.3.2, Table 5.2; rows of handbook/snow_shapes.csv.
    """
    if not 0 <= pitch_deg <= 90:
        raise ValueError(f"roof pitch must be 0 to 90 deg, got {pitch_deg:g}")
    bands = snow_shapes()
    if not can_slide:
        return max(band.mu1_from for band in bands)
    band = next(b for b in bands if pitch_deg <= b.pitch_to_deg)
    way = (pitch_deg - band.pitch_from_deg) / (band.pitch_to_deg - band.pitch_from_deg)
    return band.mu1_from + way * (band.mu1_to - band.mu1_from)


def roof_snow_kn_m2(ground_kn_m2: float, mu: float, ce: float = 1, ct: float = 1) -> float:
    """Snow on a roof [kN/m2 of plan].

    Args:
        ground_kn_m2: Characteristic snow on the ground (*s_k*) [kN/m2].
        mu: Share that the roof carries [-].
        ce: Exposure coefficient [-].
        ct: Thermal coefficient [-]; 1 for all that is not heated.

    Raises:
        ValueError: If any of them is negative.

    Source:
        EN 1991-1-3:2003, (5.1).
    """
    if min(ground_kn_m2, mu, ce, ct) < 0:
        raise ValueError(
            f"snow cannot be negative: got {ground_kn_m2:g} kN/m2, mu {mu:g}, ce {ce:g}, ct {ct:g}"
        )
    return mu * ce * ct * ground_kn_m2


@dataclass(frozen=True)
class Drift:
    """Snow drifted against something taller; shares of the ground snow, lengths in metres.

    `mu_at_wall` is the share at the foot of the wall. It falls in a straight line to
    `mu_roof` at `length_m` from the wall. `mu_raw` is what the widths feed the drift, and
    `mu_cap` what fits below the wall's top, before the annex's limits.
    """

    mu_wind: float
    mu_slide: float
    mu_roof: float
    length_m: float
    mu_raw: float
    mu_cap: float

    @property
    def mu_at_wall(self) -> float:
        """Share at the wall (*mu_2*), never below that of the roof alone."""
        return max(self.mu_wind + self.mu_slide, self.mu_roof)

    def mu_at(self, distance_m: float) -> float:
        """Share at a distance from the wall [-].

        Raises:
            ValueError: If the distance is negative.
        """
        if distance_m < 0:
            raise ValueError(f"a distance from a wall is 0 or more, got {distance_m:g} m")
        left = max(0.0, 1 - distance_m / self.length_m)
        return self.mu_roof + left * (self.mu_at_wall - self.mu_roof)

    def mean_mu(self, from_m: float, to_m: float) -> float:
        """Mean share over a strip between two distances from the wall [-].

        Raises:
            ValueError: Unless 0 <= from < to.
        """
        if not 0 <= from_m < to_m:
            raise ValueError(f"a strip runs outwards from the wall, got {from_m:g} to {to_m:g} m")
        end = min(to_m, self.length_m)
        if end <= from_m:
            return self.mu_roof
        drifted = (self.mu_at(from_m) + self.mu_at(end)) / 2 * (end - from_m)
        return (drifted + self.mu_roof * (to_m - end)) / (to_m - from_m)


def drift(
    taller_by_m: float,
    upper_m: float,
    lower_m: float,
    ground_kn_m2: float,
    upper_pitch_deg: float = 0,
    upper_slope_m: float = 0,
    mu_roof: float = 0.8,
) -> Drift:
    """Drift on a lower roof beside something taller.

    Holds for a lower roof that touches the taller thing or stands close to it: at a gap,
    read the drift from where the roof begins.

    Args:
        taller_by_m: How much it stands above the lower roof there (*h*) [m].
        upper_m: Its width across the joint (*b_1*) [m]; 0 for a thin wall.
        lower_m: Width of the lower roof across the joint (*b_2*) [m].
        ground_kn_m2: Snow on the ground (*s_k*) [kN/m2].
        upper_pitch_deg: Pitch of the upper roof towards the lower one [deg].
        upper_slope_m: Plan length of the upper slope that faces the lower roof [m].
        mu_roof: Share on the lower roof without a drift [-].

    Returns:
        The drift. Snow that slides counts as half of what lies on the upper slope, laid
        down as a triangle over the drift's length.

    Raises:
        ValueError: If a length or load is not above 0 (`upper_m`, slope and pitch: 0 or more).

    Source:
        EN 1991-1-3:2003, 5.3.6, (5.7) to (5.9), recommended limits.
    """
    if min(taller_by_m, lower_m, ground_kn_m2) <= 0 or min(upper_m, upper_slope_m) < 0:
        raise ValueError(
            f"a drift needs lengths and snow above 0: got h {taller_by_m:g} m, b1 {upper_m:g} m, "
            f"b2 {lower_m:g} m, {ground_kn_m2:g} kN/m2"
        )
    length = min(
        max(2 * taller_by_m, load_factor("drift_length_min_m").value),
        load_factor("drift_length_max_m").value,
    )
    raw = (upper_m + lower_m) / (2 * taller_by_m)
    most = load_factor("drift_gamma_kn_m3").value * taller_by_m / ground_kn_m2
    wind = min(
        max(min(raw, most), load_factor("drift_mu_w_min").value),
        load_factor("drift_mu_w_max").value,
    )
    slide = 0.0
    if upper_pitch_deg > SLIDES_ABOVE_DEG:
        # half the load of the slope, as a triangle: 1/2 mu s L = 1/2 mu_s s ls
        slide = snow_shape(upper_pitch_deg, can_slide=False) * upper_slope_m / length
    return Drift(wind, slide, mu_roof, length, mu_raw=raw, mu_cap=most)


def exceptional_drift_at_wall(
    taller_by_m: float, one_m: float, other_m: float, ground_kn_m2: float
) -> Drift:
    """Exceptional drift behind a parapet or against a taller wall, where the annex asks for it.

    An accidental load: no partial factor. It is all the snow that drifts, so nothing lies
    beyond its length.

    Args:
        taller_by_m: Height of the wall above the roof (*h*) [m].
        one_m: Length of the roof that the snow comes from (*b_1*) [m].
        other_m: The other length (*b_2*) [m]; the larger of both feeds the drift.
        ground_kn_m2: Snow on the ground [kN/m2].

    Raises:
        ValueError: If any of them is not above 0.

    Source:
        EN 1991-1-3:2003, Annex B: least of 2h/s_k, 2b/l_s and 8, l_s least of 5h, b_1 and
        15 m. That *b* is the larger of both is what makes the published example come out.
    """
    if min(taller_by_m, one_m, other_m, ground_kn_m2) <= 0:
        raise ValueError(
            f"a drift needs lengths and snow above 0: got h {taller_by_m:g} m, b1 {one_m:g} m, "
            f"b2 {other_m:g} m, {ground_kn_m2:g} kN/m2"
        )
    length = min(5 * taller_by_m, one_m, load_factor("exceptional_length_max_m").value)
    raw, cap = 2 * max(one_m, other_m) / length, 2 * taller_by_m / ground_kn_m2
    mu = min(raw, cap, load_factor("exceptional_parapet_mu_max").value)
    return Drift(mu, 0, 0, length, mu_raw=raw, mu_cap=cap)


def exceptional_drift_at_obstruction(height_m: float, ground_kn_m2: float) -> Drift:
    """Exceptional drift at a low obstruction on a roof, where the annex asks for it.

    Args:
        height_m: Height of the obstruction (*h*) [m].
        ground_kn_m2: Snow on the ground [kN/m2].

    Raises:
        ValueError: If either is not above 0.

    Source:
        EN 1991-1-3:2003, Annex B: least of 2h/s_k and 5, over the least of 5h and 15 m.
    """
    if min(height_m, ground_kn_m2) <= 0:
        raise ValueError(
            f"a drift needs height and snow above 0: got {height_m:g} m, {ground_kn_m2:g} kN/m2"
        )
    most, cap = load_factor("exceptional_obstruction_mu_max").value, 2 * height_m / ground_kn_m2
    length = min(5 * height_m, load_factor("exceptional_length_max_m").value)
    return Drift(min(cap, most), 0, 0, length, mu_raw=most, mu_cap=cap)


def eave_overhang_kn_m(roof_kn_m2: float) -> float:
    """Snow that hangs over an eave, on a metre of it [kN/m].

    Args:
        roof_kn_m2: The heaviest snow on that roof (*s*) [kN/m2].

    Raises:
        ValueError: If it is negative.

    Source:
        EN 1991-1-3:2003, 6.3: s_e = k s^2 / gamma with k = 3/d, at most d gamma, where d
        is the depth of the snow; from memory.
    """
    if roof_kn_m2 < 0:
        raise ValueError(f"snow cannot be negative: got {roof_kn_m2:g} kN/m2")
    if roof_kn_m2 == 0:
        return 0.0
    gamma = load_factor("snow_overhang_gamma_kn_m3").value
    depth = roof_kn_m2 / gamma
    return min(3 / depth, depth * gamma) * roof_kn_m2**2 / gamma


def ground_snow_uk_kn_m2(zone: float, altitude_m: float) -> float:
    """Snow on the ground by the map of the United Kingdom [kN/m2].

    Args:
        zone: Number of the zone on the annex's map, 1 to 6.5.
        altitude_m: Height above the sea [m]; below 100 m counts as 100 m.

    Raises:
        Problem: If the zone is none of the map's.

    Source:
        UK annex to EN 1991-1-3, NA.1, with the corrigendum (A - 100); from memory.
    """
    if not 1 <= zone <= 6.5:
        raise Problem(f"the map of the United Kingdom has snow zones 1 to 6.5, got {zone:g}")
    above = max(0.0, altitude_m - UK_LOWEST_M)
    return 0.15 + 0.1 * zone + 0.05 + above / 525
