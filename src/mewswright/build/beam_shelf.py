"""Beams on rigid supports, each shape of load solved once by the frame library and kept.

Moments, shears and reactions do not change with the stiffness, sag falls with it, and all
grow with the load: one solution serves every section, and every load of the same shape.
"""

from collections.abc import Hashable, Mapping, Sequence

from mewswright.build.analysis import BeamCase, BeamLoads, LineLoad, PointLoad, beam

UNIT_KN_M2 = 1000.0  # stiffness at which beams are solved once for all sections
EXACT = 9  # decimals to which shapes of load are alike
Shape = tuple[tuple[tuple[float, float, float], ...], tuple[tuple[float, float], ...]]


class BeamShelf:
    """Solved beams by their lengths, supports and shapes of load."""

    def __init__(self) -> None:
        """Start empty."""
        self.kept: dict[Hashable, BeamCase] = {}

    def solve(
        self, length_m: float, supports_m: Sequence[float], stiffness_kn_m2: float,
        cases: Mapping[str, BeamLoads], read_m: Sequence[float] = (),
    ) -> dict[str, BeamCase]:  # fmt: skip
        """As `analysis.beam`, for loads that stand in proportion to each other."""
        asked: dict[str, tuple[float, Hashable]] = {}
        missing: dict[Hashable, BeamLoads] = {}
        points = {point.at_m for loads in cases.values() for point in loads.points}
        read = tuple(sorted(points.union(read_m)))
        beam_m = tuple(round(one, EXACT) for one in (length_m, *supports_m))
        for name, loads in cases.items():
            size, shape = _shape(loads)
            key = (beam_m, read, shape)
            asked[name] = (size, key)
            if key not in self.kept:
                missing[key] = BeamLoads(
                    tuple(LineLoad(*line) for line in shape[0]),
                    tuple(PointLoad(*point) for point in shape[1]),
                )
        if missing:
            keys = list(missing)
            solved = beam(
                length_m, supports_m, UNIT_KN_M2,
                {str(i): missing[key] for i, key in enumerate(keys)}, read,
            )  # fmt: skip
            self.kept.update((key, solved[str(i)]) for i, key in enumerate(keys))
        return {
            name: _scaled(self.kept[key], size, UNIT_KN_M2 / stiffness_kn_m2)
            for name, (size, key) in asked.items()
        }


def _shape(loads: BeamLoads) -> tuple[float, Shape]:
    """How large a load is, and its shape: the same load with a first part of 1."""
    parts = [*(line.kn_m for line in loads.lines), *(point.kn for point in loads.points)]
    size = next((one for one in parts if one), 0.0)

    def share(of: float) -> float:
        return round(of / size, EXACT) if size else 0.0

    return size, (
        tuple((share(one.kn_m), one.from_m, one.to_m) for one in loads.lines),
        tuple((share(one.kn), one.at_m) for one in loads.points),
    )


def _scaled(case: BeamCase, size: float, softer: float) -> BeamCase:
    return BeamCase(
        case.x_m, case.moment_kn_m * size, case.shear_kn * size, case.sag_m * size * softer,
        tuple(one * size for one in case.reactions_kn),
    )  # fmt: skip
