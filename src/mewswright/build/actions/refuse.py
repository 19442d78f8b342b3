"""For which units an engineer must decide, whatever the sums say."""

from collections.abc import Iterable, Sequence

from mewswright.build.actions.neighbours import Neighbour, edge_heights_m
from mewswright.build.actions.open_sides import canopy_up_to_deg
from mewswright.build.ridge import ridge_span_mm
from mewswright.build.shell import Shell
from mewswright.handbook import load_factor
from mewswright.model.place import Loads
from mewswright.model.quantity import m_from_mm

HAIR = 1e-9


def refusals(
    loads: Loads,
    altitude_m: float,
    shell: Shell,
    beside: Iterable[Neighbour],
    unknown_heights: Sequence[str],
) -> tuple[str, ...]:
    """Reasons for which an engineer must decide; none where the rules here reach.

    Args:
        loads: The yard's snow and wind.
        altitude_m: Height of the yard above the sea [m].
        shell: The unit.
        beside: What stands near it.
        unknown_heights: Near things whose height the yard does not give.

    Returns:
        A sentence for each reason, with what was found and what is allowed.

    Source:
        Judgement: the rows engineer_* of handbook/load_factors.csv.
    """
    said = []
    most_m = load_factor("engineer_altitude_m").value
    if altitude_m > most_m:
        said.append(
            f"the yard lies {altitude_m:g} m up, above {most_m:g} m: snow loads and factors differ"
        )
    speed, most_speed = loads.basic_wind_m_s, load_factor("engineer_basic_wind_m_s").value
    if speed * loads.altitude_factor > most_speed:
        said.append(
            f"the basic wind of {speed * loads.altitude_factor:g} m/s is above {most_speed:g} m/s"
        )
    if loads.terrain == "0":
        said.append("terrain 0, the sea coast, needs the local rule for wind")
    quarters = shell.quarters
    if quarters.has_roof:
        most_span = load_factor("engineer_span_m").value
        span = m_from_mm(_longest_run_mm(shell))
        if span > most_span + HAIR:
            said.append(f"the rafters span {span:.2f} m, more than {most_span:g} m")
        beam = m_from_mm(ridge_span_mm(shell))
        if beam > most_span + HAIR:
            said.append(
                f"the ridge beam spans {beam:.2f} m, more than {most_span:g} m: posts inside "
                "(frame.ridge_posts) part it"
            )
        pitch = abs(shell.steepest.pitch_deg)
        most_pitch = canopy_up_to_deg("monopitch" if shell.ridge_mm is None else "duopitch")
        if pitch > most_pitch and _is_open(shell):
            said.append(
                f"a roof of {pitch:.1f} deg over an open side: the canopy case is "
                f"known up to {most_pitch:g} deg and was left out"
            )
    height, most_height = max(edge_heights_m(shell)), load_factor("engineer_height_m").value
    if m_from_mm(quarters.highest_mm) > most_height + HAIR:
        said.append(
            f"the unit is {height:.2f} m high at its roof and over {most_height:g} m clear inside"
        )
    for one in beside:
        if one.touches and one.kind != "quarters":
            said.append(
                f"it touches {one.name!r}: what a unit that is attached gives to the other, and "
                "takes from it, is not reckoned"
            )
    said += [
        f"no height is known of {what}: give height_m, for snow may drift against it"
        for what in unknown_heights
    ]
    return tuple(said)


def _longest_run_mm(shell: Shell) -> float:
    """Longest level span of a rafter, inside the walls [mm]."""
    return max(min(slope.to_mm, shell.depth_mm) - max(slope.from_mm, 0.0) for slope in shell.slopes)


def _is_open(shell: Shell) -> bool:
    faces = shell.quarters.faces
    assert faces is not None
    return any(
        face.infill != "boarded" for face in (faces.front, faces.back, faces.left, faces.right)
    )
