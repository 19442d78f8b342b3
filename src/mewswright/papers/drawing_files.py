"""The drawings of one quarters as files: sheets as SVG and DXF, parts as GLB."""

from collections.abc import Sequence
from functools import partial
from typing import Literal

from mewswright.build.takeoff import take_off
from mewswright.drawing.dxf import to_dxf
from mewswright.drawing.gltf import to_glb
from mewswright.drawing.paper import Paper
from mewswright.drawing.plan import quarters_plan
from mewswright.drawing.scene import Scene
from mewswright.drawing.sheet import sheet
from mewswright.drawing.svg import to_svg
from mewswright.model.problem import Problem
from mewswright.model.quarters import Quarters
from mewswright.model.yard import Yard
from mewswright.papers.names import file_stems
from mewswright.papers.sheets import at_largest, free_circles, sheet_plans_of, sheets_of

Format = Literal["svg", "dxf", "glb", "all"]


def drawing_files(
    yard: Yard, quarters: Quarters, kind: Format = "all", paper: Paper = "A3"
) -> dict[str, bytes]:
    """Draw one quarters.

    Args:
        yard: The yard.
        quarters: What is drawn; a pitch has a plan alone.
        kind: Which files.
        paper: Paper of the sheets.

    Returns:
        Content by name, as the pack names the same files.

    Raises:
        Problem: For a GLB of a pitch, an unknown material, or missing faces.
    """
    stem = file_stems([q.name for q in yard.quarters])[quarters.name]
    files: dict[str, bytes] = {}
    scenes: Sequence[Scene]
    if quarters.kind == "pitch":
        if kind == "glb":
            raise Problem(
                f"{quarters.name!r} is a pitch and has no parts to model: ask for svg or dxf"
            )
        scenes = [_plan_alone(yard, quarters, paper)]
    else:
        taken = take_off(yard, quarters)
        if kind in ("glb", "all"):
            files[f"{stem}.glb"] = to_glb(taken)
        if kind == "glb":
            scenes = ()
        else:
            scenes = (
                *sheets_of(yard, quarters, taken, paper),
                *sheet_plans_of(yard, quarters, taken, paper),
            )
    for scene in scenes:
        if kind in ("svg", "all"):
            files[f"{stem}-{scene.name}.svg"] = to_svg(scene).encode()
        if kind in ("dxf", "all"):
            files[f"{stem}-{scene.name}.dxf"] = to_dxf(scene)
    return dict(sorted(files.items()))


def _plan_alone(yard: Yard, quarters: Quarters, paper: Paper) -> Scene:
    circles = free_circles(yard, quarters)
    scene = at_largest(
        f"the plan of {quarters.name!r}",
        partial(quarters_plan, yard, quarters, None, circles),
        quarters.width_mm,
        quarters.depth_mm,
        paper,
    )
    return sheet(scene, f"{yard.yard.name}, {quarters.name}", scene.title, paper=paper)
