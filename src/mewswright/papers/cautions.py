"""What a reader must know before acting on a pack."""

from mewswright.model.yard import Yard

FIRST = (
    "Not for building without your own judgement and that of people who answer for it: the check "
    "of each frame is a first sizing under stated loads, not an approval.",
    "Local codes and a licensed engineer decide about the structure, a vet about health, and the "
    "text of a standard about itself.",
)


def cautions(yard: Yard) -> tuple[str, ...]:
    """Give the cautions that hold for a yard, the gravest first."""
    said = [
        "Structure: members, joints and holding down are checked as a first sizing under the loads "
        "of the yard file, where it gives them; doors, mesh, bars and slopes are not. Local codes "
        "and a licensed engineer decide; ask them before you build.",
    ]
    if yard.loads is None:
        said.append(
            "Loads: the yard file names no snow and wind loads, and nobody can size a roof without "
            "them."
        )
    else:
        said.append(
            f"Loads: the yard file gives {yard.loads.ground_snow_kn_m2:g} kN/m² of snow on the "
            f"ground and a basic wind of {yard.loads.basic_wind_m_s:g} m/s "
            f"({yard.loads.source}). Have them confirmed: every share in this pack rests on them."
        )
    said += [
        "Permits: whether you may keep a bird, build a unit or tether at all is for your authority "
        "to say.",
        "Health: what is said of perches, heat, cold, mould and quarantine is a summary of "
        "published advice. A bird that is unwell belongs with a vet who knows birds of prey.",
        "Standards: the text of a standard decides over our summary of it. Each figure says "
        "whether it was read, recalled, derived or judged.",
        "Silence: a check sees only what the yard file says. What is not described was not judged, "
        "and a sound finding speaks of its one question.",
        "Birds that were not measured carry figures of their kind. Measure the bird before you cut "
        "bars, perches or a leash to its size.",
        "Prices: a price that is not the keeper's own is an assumption. Lines without a price are "
        "not in any total.",
        "Print: pages with drawings are A3. Print them at 100 %, then lay a rule on the scale bar.",
    ]
    return tuple(said)
