"""A small frame written by hand, so that drawings are tested apart from the frame generator."""

from math import atan2, cos, degrees, radians, sin

from mewswright.build.parts import BuiltFrame, Part, Stick
from mewswright.model.quarters import Quarters

WALL = 95.0


def upright(x, y, z0, z1):
    return Stick(
        start_mm=(x, y, z0), end_mm=(x, y, z1), breadth_mm=45, depth_mm=95, depth_axis=(0, 1, 0)
    )


def hand_frame(quarters: Quarters) -> BuiltFrame:
    """Posts at the corners, plates between them, rafters at 600, bars in the front."""
    w, d = quarters.width_mm, quarters.depth_mm
    zf, zb = quarters.front_height_mm, quarters.back_height_mm
    pitch = degrees(atan2(zf - zb, d))
    slope = (cos(radians(pitch)), -sin(radians(pitch)))
    mid = WALL / 2
    posts = tuple(
        Stick(
            start_mm=(x, -mid, 0),
            end_mm=(x, -mid, zf - 45),
            breadth_mm=95,
            depth_mm=95,
            depth_axis=(0, 1, 0),
        )
        for x in (-mid, w + mid)
    )
    studs = tuple(upright(x, d + mid, 0, zb - 45) for x in (-22.5, w / 2, w + 22.5))
    plate = {"breadth_mm": 95, "depth_mm": 45, "depth_axis": (0, 0, 1)}
    heads = tuple(
        Stick(start_mm=(-WALL, y, z - 22.5), end_mm=(w + WALL, y, z - 22.5), **plate)
        for y, z in ((-mid, zf), (d + mid, zb))
    )
    soles = tuple(
        Stick(start_mm=(-WALL, y, -22.5), end_mm=(w + WALL, y, -22.5), **plate)
        for y in (-mid, d + mid)
    )
    xs = [-72.5 + i * 600 for i in range(int((w + 145) // 600) + 1)] + [w + 72.5]
    up = (0.0, -slope[1], slope[0])
    rise = 72.5

    def on_roof(y):
        return zf + (zb - zf) * y / d

    edges = (-WALL - 200, d + WALL + 150)
    rafters = tuple(
        Stick(
            start_mm=(x, edges[0], on_roof(edges[0]) + rise),
            end_mm=(x, edges[1], on_roof(edges[1]) + rise),
            breadth_mm=45,
            depth_mm=145,
            depth_axis=up,
        )
        for x in xs
    )
    bars = tuple(
        Stick(
            start_mm=(x, -mid, 300),
            end_mm=(x, -mid, zf - 45),
            breadth_mm=12,
            depth_mm=12,
            depth_axis=(0, 1, 0),
        )
        for x in [100.0 * i for i in range(1, int(w // 100))]
    )
    length = (edges[1] - edges[0]) / cos(radians(pitch))

    def part(mark, kind, what, section, sticks, length_mm, **more):
        return Part(
            mark=mark,
            kind=kind,
            what=what,
            place="",
            material="C24",
            section=section,
            length_mm=length_mm,
            count=len(sticks),
            sticks=sticks,
            sawn=True,
            **more,
        )

    return BuiltFrame(
        quarters=quarters.name,
        parts=(
            part("P1", "post", "front post", "95x95", posts, zf - 45),
            part("U1", "stud", "back stud", "45x95", studs, zb - 45),
            part("H1", "head", "head plate", "45x95", heads, w + 190),
            part("S1", "sole", "sole plate", "45x95", soles, w + 190),
            part(
                "R1",
                "rafter",
                "rafter",
                "45x145",
                rafters,
                length,
                cut_start_deg=pitch,
                cut_end_deg=pitch,
            ),
            part("B1", "bar", "bar", "12x12", bars, zf - 345),
        ),
        outer_width_mm=w + 2 * WALL,
        outer_depth_mm=d + 2 * WALL,
        wall_mm=WALL,
        roof_pitch_deg=pitch,
        roof_front_edge_mm=(-WALL, edges[0], on_roof(edges[0])),
        roof_back_edge_mm=(-WALL, edges[1], on_roof(edges[1])),
        assumptions=(),
    )
