"""Findings of the leash, the foot and the feather do not hang on order or on the mirror."""

from hypothesis import given, settings
from hypothesis.strategies import booleans, floats, sampled_from

from mewswright.checks.registry import run_checks
from support.yards import bird, perch, quarters, stay, yard

WIDTH, DEPTH = 4000, 3600
CODES = ("T112", "T113", "T114", "T115", "T116", "T117", "T119", "F118", "B105")
OTHER = {"left": "right", "right": "left"}


def place(x, y, bath_x, open_front, left, mirrored=False, backwards=False):
    def across(at):
        return WIDTH - at if mirrored else at

    def kind(name):
        more = {"gap_mm": 25, "mesh_kind": "welded"} if name == "meshed" else {}
        return {"infill": name} | more

    fittings = [
        perch(x=across(x), y=y, turn_deg=0, cover_age_months=3),
        {"kind": "bath", "name": "tub", "at_mm": [across(bath_x), 1000], "diameter_mm": 600,
         "depth_mm": 90, "rim_height_mm": 120, "platform_mm": 60},
    ]  # fmt: skip
    side = "right" if mirrored else "left"
    faces = {"front": kind("open" if open_front else "meshed"), side: kind(left)}
    made = quarters(
        "Yard", "shelter", width_mm=WIDTH, depth_mm=DEPTH, front_height_mm=1200,
        back_height_mm=900, faces=faces, fitting=fittings[::-1] if backwards else fittings,
        floor={"edge_step_mm": 120},
    )  # fmt: skip
    flint = bird("Flint", "peregrine_falcon", wing_span_mm=1000, tail_mm=150)
    return yard(bird=[flint], quarters=[made], stay=[stay("Flint", "Yard", "tethered")])


def told(of):
    def figure(quantity):
        value = quantity.value if quantity else None
        return round(value, 3) if isinstance(value, float) else value

    return sorted(
        (f.code, f.status, f.fitting.replace("right", "left") if f.fitting else "",
         str(figure(f.measured)), str(figure(f.limit)))
        for f in run_checks(of)
        if f.code in CODES
    )  # fmt: skip


@settings(max_examples=40)
@given(
    x=floats(100, WIDTH - 100),
    y=floats(100, DEPTH - 100),
    bath_x=floats(400, WIDTH - 400),
    open_front=booleans(),
    left=sampled_from(["boarded", "meshed", "open"]),
)
def test_the_mirror_and_the_order_of_the_file_change_nothing(x, y, bath_x, open_front, left):
    """The front looks south, so that noon is its own mirror too."""
    plain = told(place(x, y, bath_x, open_front, left))
    assert plain == told(place(x, y, bath_x, open_front, left, mirrored=True))
    assert plain == told(place(x, y, bath_x, open_front, left, backwards=True))
