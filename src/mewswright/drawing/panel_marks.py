"""Panels of the walls on drawings: their joints, marks, sizes and masses."""

from collections.abc import Iterator, Sequence

from mewswright.build.panels import WallPanel, panels_of
from mewswright.build.parts import BuiltFrame
from mewswright.drawing.openings import along
from mewswright.drawing.outside import Outside
from mewswright.drawing.placing import Lettering
from mewswright.drawing.scene import Line, Mark, whole
from mewswright.model.quarters import SIDES, Quarters
from mewswright.model.yard import Yard

_PAST_MM = 60.0  # a joint is drawn so far past its wall


def _shown(yard: Yard, quarters: Quarters, frame: BuiltFrame) -> list[WallPanel]:
    """Give the panels that a sheet shows: of a row the outer walls, the rest on its units'."""
    panels = panels_of(yard, quarters, frame.parts)
    return [panel for panel in panels if not (frame.of_row and panel.shared)]


def side_panels(yard: Yard, view: Outside, frame: BuiltFrame) -> list[WallPanel]:
    """Give the panels of one wall, from the left of the drawing."""
    panels = _shown(yard, view.quarters, frame)
    own = [panel for panel in panels if panel.side == view.side]
    return sorted(own, key=lambda panel: view.along_mm((panel.from_mm + panel.to_mm) / 2))


def panel_title(panel: WallPanel) -> str:
    """Say a panel in one line."""
    weight = f"{panel.mass_kg:.0f} kg" + (" and what has no mass on record" if panel.unweighed
                                         else "")  # fmt: skip
    return (
        f"{panel.mark}: {whole(panel.width_mm)} × {whole(panel.height_mm)} × "
        f"{whole(panel.thick_mm)}, {weight}"
    )


def joints_u_mm(panels: Sequence[WallPanel], view: Outside) -> list[float]:
    """Give where panels of a wall meet, along the drawing [mm]."""
    return sorted({round(view.along_mm(p.from_mm), 1) for p in panels}
                  & {round(view.along_mm(p.to_mm), 1) for p in panels})  # fmt: skip


def joint_marks(panels: Sequence[WallPanel], view: Outside) -> Iterator[Mark]:
    """Draw each joint of a wall from under its sole plate to over its head plate."""
    top = max((p.height_mm for p in panels), default=0.0)
    for u in joints_u_mm(panels, view):
        yield Line(
            layer="panels", pen="medium", dash="centre", a=(u, -_PAST_MM), b=(u, top + _PAST_MM),
            item="panel:joint", title="Two panels are bolted here",
        )  # fmt: skip


def panel_names(panels: Sequence[WallPanel], view: Outside, letters: Lettering) -> list[Mark]:
    """Write each panel's mark and mass in it, where a wall has several."""
    marks: list[Mark] = []
    for panel in panels if len(panels) > 1 else ():
        u = view.along_mm((panel.from_mm + panel.to_mm) / 2)
        marks += letters.label(
            (u, panel.height_mm * 0.62), f"{panel.mark}, {panel.mass_kg:.0f} kg", bold=True,
            item=f"panel:{panel.mark}", title=panel_title(panel), centred=True, height_mm=3.0,
        )  # fmt: skip
    return marks


def panel_notes(panels: Sequence[WallPanel], frame_bolt: str, bolt_mm: float) -> list[str]:
    """Say the panels of a wall, how they are bolted, and which are too large."""
    told = "; ".join(panel_title(panel) for panel in panels)
    lines = [f"Panels as they are carried: {told}."]
    if len(panels) > 1:
        lines.append(
            f"Bolt panels through their paired uprights with {frame_bolt} every {whole(bolt_mm)} "
            "at most, washers under the nuts; strap the head plates over each joint."
        )
    lines += [f"{p.too_large[0].upper()}{p.too_large[1:]}." for p in panels if p.too_large]
    return lines


def plan_joints(
    yard: Yard, quarters: Quarters, frame: BuiltFrame | None, letters: Lettering
) -> tuple[list[Mark], list[Mark]]:
    """Draw the joints of all walls on a plan, and write the marks of panels beside the walls."""
    lines: list[Mark] = []
    names: list[Mark] = []
    if frame is None:
        return lines, names
    panels = _shown(yard, quarters, frame)
    for side in SIDES:
        own = [panel for panel in panels if panel.side == side]
        for panel in own if len(own) > 1 else ():
            middle = (panel.from_mm + panel.to_mm) / 2
            names += letters.label(
                along(side, quarters, middle, frame.wall_mm / 2),
                f"{panel.mark}, {panel.mass_kg:.0f} kg", item=f"panel:{panel.mark}",
                title=panel_title(panel), bold=True,
                gap_mm=3.0 if side in ("front", "back") else 6.0,
                prefer=(90, 270) if side in ("front", "back") else (0, 180),
            )  # fmt: skip
            if panel is not own[0]:
                ends = [along(side, quarters, panel.from_mm, out)
                        for out in (-_PAST_MM, frame.wall_mm + _PAST_MM)]  # fmt: skip
                lines.append(
                    Line(
                        layer="panels", pen="medium", dash="centre", a=ends[0], b=ends[1],
                        item="panel:joint", title="Two panels are bolted here",
                    )
                )  # fmt: skip
    return lines, names
