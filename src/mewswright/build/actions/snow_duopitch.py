"""Snow on the two slopes of a duopitch roof: even, and drifted to either side."""

from dataclasses import dataclass

from mewswright.build.actions.snow import roof_snow_kn_m2, snow_shape


@dataclass(frozen=True)
class SlopeSnow:
    """One arrangement of snow on a duopitch roof [kN/m2 of plan]."""

    name: str
    front_kn_m2: float
    back_kn_m2: float


def duopitch_snow(
    front_deg: float, back_deg: float, ground_kn_m2: float, ce: float = 1, ct: float = 1
) -> tuple[SlopeSnow, ...]:
    """The three arrangements of snow on a duopitch roof.

    Snow is held back, as behind a gutter board: each slope carries 0.8 at every pitch.

    Args:
        front_deg: Pitch of the front slope from level [deg].
        back_deg: Pitch of the back slope [deg].
        ground_kn_m2: Snow on the ground (*s_k*) [kN/m2].
        ce: Exposure coefficient [-].
        ct: Thermal coefficient [-].

    Returns:
        Undrifted; then half on the front slope with all on the back one; then the reverse.

    Raises:
        ValueError: For a pitch that is not from 0 to 90 deg, or a negative load.

    Source:
        EN 1991-1-3:2003, 5.3.3, Figure 5.3: mu_1(a_1), mu_1(a_2) undrifted; with drifting
        one of both is halved. From memory.
    """
    front, back = (
        roof_snow_kn_m2(ground_kn_m2, snow_shape(pitch, can_slide=False), ce, ct)
        for pitch in (front_deg, back_deg)
    )
    return (
        SlopeSnow("undrifted", front, back),
        SlopeSnow("drifted off the front slope", front / 2, back),
        SlopeSnow("drifted off the back slope", front, back / 2),
    )
