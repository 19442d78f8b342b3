"""Numbers of timber design, as EN 338, EN 12369-1 and EN 1995-1-1 have them.

A first sizing stands on these; the local annex, the local code and a licensed engineer
decide.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from mewswright.handbook.evidence import Figure, SourceRef, figure, reference
from mewswright.handbook.nearest import unknown
from mewswright.handbook.tables import rows

DURATIONS = ("permanent", "long", "medium", "short", "instantaneous")


@dataclass(frozen=True)
class TimberClass:
    """Strength and stiffness [N/mm2] and density [kg/m3] of structural timber."""

    name: str
    fm_k: float
    ft0_k: float
    fc0_k: float
    fc90_k: float
    fv_k: float
    e_mean: float
    e05: float
    g_mean: float
    rho_k: float
    rho_mean: float
    source: SourceRef


@dataclass(frozen=True)
class OsbClass:
    """OSB/3 of one range of thickness: N/mm2, along and across the face, and kg/m3."""

    thickness_from_mm: float
    thickness_to_mm: float
    fm_along: float
    fm_across: float
    ft_along: float
    ft_across: float
    fc_along: float
    fc_across: float
    fv_panel: float
    fv_planar: float
    em_along: float
    em_across: float
    et_along: float
    et_across: float
    gv: float
    gr: float
    rho_k: float
    source: SourceRef


@cache
def timber_classes() -> Mapping[str, TimberClass]:
    """Strength classes by name."""
    return {
        row["name"]: TimberClass(
            row["name"],
            float(row["fm_k"]),
            float(row["ft0_k"]),
            float(row["fc0_k"]),
            float(row["fc90_k"]),
            float(row["fv_k"]),
            float(row["e_mean"]),
            float(row["e05"]),
            float(row["g_mean"]),
            float(row["rho_k"]),
            float(row["rho_mean"]),
            reference(row, f"timber_classes.csv, {row['name']}"),
        )
        for row in rows("timber_classes")
    }


def timber_class(name: str) -> TimberClass:
    """The strength class with this name, such as `C24`.

    Raises:
        Problem: If there is none; the sentence names those there are.
    """
    if name not in timber_classes():
        raise unknown("timber class", name, timber_classes())
    return timber_classes()[name]


def osb_class(thickness_mm: float) -> OsbClass:
    """Values of OSB/3 of this thickness.

    Raises:
        ValueError: If the thickness is below 6 mm or above 25 mm.
    """
    for row in rows("osb_classes"):
        low, high = float(row["thickness_from_mm"]), float(row["thickness_to_mm"])
        if low < thickness_mm <= high or thickness_mm == low == 6:
            place = f"osb_classes.csv, up to {high:g} mm"
            return OsbClass(
                low,
                high,
                float(row["fm_along"]),
                float(row["fm_across"]),
                float(row["ft_along"]),
                float(row["ft_across"]),
                float(row["fc_along"]),
                float(row["fc_across"]),
                float(row["fv_panel"]),
                float(row["fv_planar"]),
                float(row["em_along"]),
                float(row["em_across"]),
                float(row["et_along"]),
                float(row["et_across"]),
                float(row["gv"]),
                float(row["gr"]),
                float(row["rho_k"]),
                reference(row, place),
            )
    raise ValueError(f"OSB/3 is known from 6 to 25 mm, got {thickness_mm:g} mm")


def _timber_factor(factor: str, **which: str) -> Figure:
    for row in rows("timber_factors"):
        if row["factor"] == factor and all(row[key] == value for key, value in which.items()):
            place = f"timber_factors.csv, {' '.join((factor, *which.values()))}"
            return figure(row, place, unit="-")
    asked = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in which.items())
    tail = "; OSB/3 must not stand in service class 3" if which.get("material") == "osb3" else ""
    raise ValueError(f"no {factor} for {asked}{tail}")


@cache
def timber_kmod(material: str, service_class: int, duration: str) -> Figure:
    """Strength modification for load duration and moisture, kmod [-].

    Args:
        material: `solid` or `osb3`.
        service_class: 1, 2 or 3.
        duration: permanent, long, medium, short or instantaneous.

    Raises:
        ValueError: If the table has no such value; OSB/3 has none for class 3.
    """
    return _timber_factor(
        "kmod", material=material, service_class=str(service_class), duration=duration
    )


@cache
def timber_kdef(material: str, service_class: int) -> Figure:
    """Creep factor kdef [-].

    Raises:
        ValueError: If the table has no such value; OSB/3 has none for class 3.
    """
    return _timber_factor("kdef", material=material, service_class=str(service_class))


@cache
def gamma_m(material: str) -> Figure:
    """Partial factor of a material [-]: `solid`, `osb3` or `connection`.

    Raises:
        ValueError: If the table has no such value.
    """
    return _timber_factor("gamma_m", material=material)


@cache
def timber_factor(name: str) -> Figure:
    """Another factor of timber design [-]: `kcr`, `km` or `ksys`.

    Raises:
        ValueError: If the table has no such value.
    """
    return _timber_factor(name)
