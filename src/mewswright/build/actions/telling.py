"""How the loads of a unit are told: each figure with its witness, each assumption a sentence."""

from mewswright.build.actions.combine import Factors
from mewswright.build.actions.dead import Dead
from mewswright.build.actions.people import Lean, Maintenance
from mewswright.build.actions.result import ActionFigure, HeaviestBird, SnowOn
from mewswright.build.actions.unit_faces import full_push
from mewswright.build.actions.wind import PeakPressure
from mewswright.build.actions.wind_on import WindOn
from mewswright.build.shell import Shell
from mewswright.handbook import load_factor
from mewswright.model.place import Loads

SNOW, WIND, DEAD = "EN 1991-1-3", "EN 1991-1-4", "EN 1991-1-1"


def figures(
    loads: Loads,
    peak: PeakPressure,
    snow: SnowOn,
    wind: WindOn,
    weight: Dead,
    people: Maintenance,
    leaning: Lean,
    bird: HeaviestBird | None,
) -> tuple[ActionFigure, ...]:
    """Every load as a figure with its clause, for the result and the page."""
    given = f"[loads], {loads.source}"
    told = [
        ActionFigure("ground snow", snow.ground_kn_m2, "kN/m2", given, "given"),
        ActionFigure(
            "snow on the roof", snow.uniform_kn_m2, "kN/m2", f"{SNOW}, (5.1)", "read",
            f"{snow.mu1:g} x Ce {snow.ce:g} x Ct {snow.ct:g} x ground snow",
        ),
        *_slope_figures(snow),
        *_drift_figures(snow),
        ActionFigure("basic wind", loads.basic_wind_m_s, "m/s", given, "given"),
        ActionFigure(
            "peak wind pressure", peak.qp_kn_m2, "kN/m2", f"{WIND}, 4.5", "read",
            f"terrain {loads.terrain} at {peak.z_m:.1f} m, ce {peak.ce:.2f}",
        ),
        *_wind_figures(wind),
        ActionFigure(
            "roof that presses down", weight.roof_down_kn_m2, "kN/m2", f"{DEAD}, 5", "derived",
            f"reckoned {weight.roof_high_kn_m2:.3f}, wet and heavy",
        ),
        ActionFigure(
            "roof that counts against lifting", weight.roof_up_kn_m2, "kN/m2", f"{DEAD}, 5",
            "derived", f"reckoned {weight.roof_low_kn_m2:.3f}, dry and light",
        ),
        ActionFigure(
            "walls that count against lifting", weight.walls_low_kn, "kN", f"{DEAD}, 5", "derived"
        ),
        ActionFigure(
            "maintenance of the roof", people.spread_kn_m2, "kN/m2", f"{DEAD}, 6.3.4",
            "from memory", "never with snow or wind",
        ),
        ActionFigure(
            "maintenance on one spot", people.point_kn, "kN", f"{DEAD}, 6.3.4", "from memory"
        ),
        ActionFigure(
            "person leaning", leaning.line_kn_m, "kN/m", f"{DEAD}, Table 6.12", "from memory",
            f"at {leaning.height_m:g} m up, or {leaning.point_kn:g} kN on one spot",
        ),
    ]  # fmt: skip
    if bird is not None:
        told.append(
            ActionFigure(
                "bird that bates into a face", bird.bate.force_kn, "kN", "m v2 / 2 = F s",
                "judgement",
                f"{bird.name}, {bird.mass_kg:.2f} kg at {bird.bate.speed_m_s:g} m/s, stopped in "
                f"{bird.bate.stop_m:g} m",
            )
        )  # fmt: skip
    return tuple(told)


def _slope_figures(snow: SnowOn) -> list[ActionFigure]:
    """Both slopes of a duopitch; the undrifted load governs every member, and is used."""
    return [
        ActionFigure(
            f"snow on the {slope} slope, {one.name}", value, "kN/m2", f"{SNOW}, 5.3.3",
            "from memory",
        )
        for one in snow.slopes
        for slope, value in (("front", one.front_kn_m2), ("back", one.back_kn_m2))
    ]  # fmt: skip


def _drift_figures(snow: SnowOn) -> list[ActionFigure]:
    told = [
        ActionFigure(
            f"snow drifted against {d.neighbour.name}",
            d.near_mu * snow.drift_ce * snow.ct * snow.ground_kn_m2,
            "kN/m2", f"{SNOW}, 5.3.6", "read",
            f"{d.neighbour.side}, {d.neighbour.distance_m:.2f} m away and {d.taller_by_m:.2f} m "
            f"taller: mu {d.drift.mu_wind:.2f} by wind and {d.drift.mu_slide:.2f} by sliding at "
            f"it, {d.near_mu:.2f} at the near edge, {d.far_mu:.2f} at the far one, over "
            f"{d.drift.length_m:.1f} m",
        )
        for d in snow.drifts
    ]  # fmt: skip
    if snow.eave_kn_m is not None:
        told.append(
            ActionFigure("snow over an eave", snow.eave_kn_m, "kN/m", f"{SNOW}, 6.3", "from memory")
        )
    if snow.exceptional_kn_m2:
        told.append(
            ActionFigure(
                "exceptional drift of snow", snow.exceptional_kn_m2, "kN/m2", f"{SNOW}, Annex B",
                "read", "accidental: it comes with weight alone, all factors 1",
            )
        )  # fmt: skip
    return told


def _wind_figures(wind: WindOn) -> list[ActionFigure]:
    roof = (
        ("wind that lifts the roof, mean", wind.roof_up),
        ("wind that lifts the roof, fiercest zone", wind.roof_up_edge),
        ("wind that lifts the roof, a square metre of sheet", wind.roof_up_sheet),
        ("wind that presses the roof, mean", wind.roof_down),
        ("wind that presses the roof, fiercest zone", wind.roof_down_edge),
    )
    told = [
        ActionFigure(
            name, worst.kn_m2, "kN/m2",
            f"{WIND}, " + ("7.3" if worst.case.startswith("canopy") else "7.2.4, 7.2.9"),
            "from memory",  # 7.2.9(5) and the zones of the blocked canopy are recalled
            worst.case,
        )
        for name, worst in roof
    ]  # fmt: skip
    told.append(
        ActionFigure(
            "wind that lifts an eave", wind.overhang_up_kn_m2, "kN/m2", f"{WIND}, 7.2.1(3)",
            "read", f"the wall below pushes with {full_push():g}",
        )
    )  # fmt: skip
    for face in wind.faces:
        kind = "bars or mesh, open or sheeted" if face.porous else "boarded"
        clause = f"{WIND}, 7.2.2, 7.2.9" + (", 7.11" if face.porous else "")
        for way, value in (("into", face.into_kn_m2), ("out of", face.out_kn_m2)):
            told.append(
                ActionFigure(
                    f"wind {way} the {face.side}", value, "kN/m2", clause, "from memory", kind
                )
            )
    return told


def assumptions(
    loads: Loads,
    altitude_m: float,
    shell: Shell,
    snow: SnowOn,
    wind: WindOn,
    weight: Dead,
    bird: HeaviestBird | None,
    using: Factors,
) -> tuple[str, ...]:
    """What was taken for granted, a sentence each."""
    quarters = shell.quarters
    said = [
        f"loads by {loads.edition}, snow and wind from {loads.source}",
        f"partial factors {using.gamma_g:g} on weight that works against, {using.gamma_q:g} on "
        f"snow, wind and people, {using.equ_gamma_g_favourable:g} on weight that holds down; "
        f"psi0 {using.psi0['snow']:g} for snow and {using.psi0['wind']:g} for wind; national "
        "values differ, so give your own",
        f"load durations: snow {using.duration['snow']}, wind {using.duration['wind']}, "
        f"maintenance {using.duration['maintenance']}",
        f"exposure {loads.snow_exposure}, Ce {snow.ce:g}; Ct 1, for nothing here is heated",
        f"snow cannot slide off: the share stays {snow.mu1:g} at every pitch",
        f"the wind comes from its worst side, 50 years, altitude factor {loads.altitude_factor:g}, "
        "without shelter by trees or neighbours",
        "the ground slopes up to the yard by less than 3 deg; hills and edges need an engineer",
        _exceptional_word(loads),
        "no earthquake, no earth held back, nobody on the roof but to mend it, nothing hung on it",
    ]
    if snow.drifts:
        said.append(
            "a building's roof is taken as steep, with its ridge in the middle, so that half of "
            "the snow of one slope comes down; across a gap the drift is read where the roof "
            "begins (our judgement)"
        )
    said.append("trees are not counted as walls for drifts, nor the snow that falls from them")
    if quarters.has_roof and quarters.roof and quarters.roof.covered_share < 1:
        said.append("snow lies on a meshed or netted top as on a roof, for wet snow bridges it")
    if snow.slopes:
        said.append(
            "each slope hangs by itself between its eave and the ridge beam, so that snow on both "
            "governs every member and half of it on one slope none; wind coefficients of duopitch "
            "roofs and canopies are recalled (EN 1991-1-4, Tables 7.4 and 7.7): confirm them"
        )
    said += _wind_assumptions(wind, shell)
    if weight.missing:
        said.append(f"no mass is on record of {', '.join(weight.missing)}: left out of the weight")
    if weight.roof_plan_m2:
        said.append(
            f"a roof weighs {weight.roof_down_kn_m2:.2f} kN/m2 where that presses and "
            f"{weight.roof_up_kn_m2:.2f} where it holds down, never less than "
            f"{load_factor('dead_roof_down_kn_m2').value:g} and never more than "
            f"{load_factor('dead_roof_up_kn_m2').value:g}"
        )
    said.append("floor, base, stored goods and birds hold nothing down")
    if bird is None:
        said.append("no bird stays here, so none bates into its faces")
    else:
        told = "as weighed" if bird.weighed else "as its kind weighs on the mean"
        said.append(
            f"{bird.name}, {bird.mass_kg:.2f} kg {told}, strikes a face at "
            f"{bird.bate.speed_m_s:g} m/s and stops in {bird.bate.stop_m:g} m, at its peak with "
            f"{bird.bate.peak:g} times the mean force (our judgement)"
        )
    if altitude_m > load_factor("snow_overhang_altitude_m").value:
        said.append("snow hangs over the eaves, as recommended at this altitude")
    return tuple(said)


def _exceptional_word(loads: Loads) -> str:
    if not loads.exceptional_drift:
        return (
            "exceptional snow and drifts, which some annexes ask for, are left out: set "
            "[loads] exceptional_drift where yours does"
        )
    return (
        "exceptional drifts (EN 1991-1-3, Annex B) count as an accident of short duration, with "
        "the timber's partial factor left as it is, which is safe; exceptional snow on the ground "
        "is left out"
    )


def _wind_assumptions(wind: WindOn, shell: Shell) -> list[str]:
    porous = [face.side for face in wind.faces if face.porous]
    if not porous:
        return ["doors and hatches are shut in a storm; the closed room has +0.2 or -0.3 inside"]
    sides = " and ".join(porous)
    least = load_factor("mesh_solidity_min").value
    said = [
        f"the open {'side' if len(porous) == 1 else 'sides'} ({sides}) may stand open or be "
        f"sheeted, and the worse counts; by the standard's own sorting: {wind.inside.case}",
        f"bars, slats, mesh and net are closed by {least:g} at least, for ice, leaves and winter "
        "sheets (our judgement)",
        "doors and hatches are shut in a storm",
    ]
    if wind.roof_up.kn_m2:
        said.append(f"the roof is lifted most by: {wind.roof_up.case}")
        said.append(f"the roof is pressed most by: {wind.roof_down.case}")
    elif shell.quarters.has_roof:
        said.append("no sheet is ever laid over the open top")
    return said
