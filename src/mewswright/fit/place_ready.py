"""Compiling before the clock starts: a first run would otherwise spend its seconds on it."""

from mewswright.fit.place import Asked, place
from mewswright.model.yard import Yard

_BARE = {
    "format": 1,
    "yard": {
        "name": "bare ground", "latitude_deg": 47.0, "longitude_deg": 7.0, "altitude_m": 500,
        "time_zone": "UTC", "boundary_m": [[0, 0], [9, 0], [9, 6], [0, 6]],
    },
}  # fmt: skip


def compile_place() -> None:
    """Place two pitches on bare ground, which compiles all that `place` needs; kept on disk."""
    place(Yard.model_validate(_BARE), ("pitch:2",), asked=Asked(seconds=0.1))
