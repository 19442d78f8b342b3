"""Which walls keep a unit upright while wind pushes along them, and whether they can.

A sheathed wall resists by its nails, an open front by its posts and braces, and then its
sway decides. Where one wall of a pair has neither, a nailed roof deck may carry its
share to the other three walls.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from mewswright.build.holding.racking import SheathedWall
from mewswright.build.holding.standing import Run, Standing, WindCase, lifts
from mewswright.build.holding.sway import OpenFrame
from mewswright.model.fitting import Side

PAIRS: dict[Run, tuple[Side, Side]] = {"width": ("front", "back"), "depth": ("left", "right")}
Bracing = SheathedWall | OpenFrame


@dataclass(frozen=True)
class Racking:
    """How the walls along one direction stand: the path of the force and what governs it.

    `sway_mm` is that of the open frame that sways most; None where no frame is on the path
    (sheathed walls sway little, and that is not reckoned).
    """

    case: str
    path: str
    checks: tuple[Standing, ...]
    sway_mm: float | None
    sway_limit_mm: float | None
    end_tie_kn: float
    note: str = ""

    @property
    def sound(self) -> bool:
        """Every wall on the path resists its share."""
        return bool(self.checks) and all(check.sound for check in self.checks)

    @property
    def utilisation(self) -> float | None:
        """The greatest share used; None where a wall resists nothing."""
        used = [check.utilisation for check in self.checks]
        return None if not used or None in used else max(u for u in used if u is not None)

    def as_dict(self) -> dict[str, object]:
        """JSON-ready."""
        used = self.utilisation
        return {
            "direction": self.case,
            "path": self.path,
            "utilisation": None if used is None else round(used, 4),
            "sound": self.sound,
            "sway_mm": None if self.sway_mm is None else round(self.sway_mm, 2),
            "sway_limit_mm": self.sway_limit_mm,
            "end_tie_kn": round(self.end_tie_kn, 3),
            "checks": [check.as_dict() for check in self.checks],
            "note": self.note,
        }


def racking(
    case: WindCase, walls: Iterable[Bracing], width_m: float, depth_m: float, *, deck_nailed: bool
) -> Racking:
    """Judge the walls that run along the wind.

    Each wall of the pair takes half. Only where that fails may the roof deck carry the
    force: the other wall then takes all of it, and the cross walls take the twist.

    Args:
        case: The wind.
        walls: The walls that have sheets or frames; a side that is left out has nothing.
        width_m: Width over the frame [m].
        depth_m: Depth over the frame [m].
        deck_nailed: True for a whole roof of sheets nailed on all edges.

    Source:
        Statics and EN 1995-1-1, 9.2.4.2. The deck needs a unit no longer across the open
        side than along it (our rule, as d <= b for an open front).
    """
    by_side = {wall.side: wall for wall in walls}
    force = case.push_kn if case.head_kn is None else case.head_kn
    sides = PAIRS[case.along]
    each = _path(
        case,
        "each wall takes half",
        by_side,
        [(side, force / 2) for side in sides],
        _bare(sides, by_side),
    )
    along, across = (width_m, depth_m) if case.along == "width" else (depth_m, width_m)
    if each.sound or not deck_nailed or across > along + 1e-9:
        return each
    twist = twist_kn(force, across, along)
    cross = PAIRS["depth" if case.along == "width" else "width"]
    for carrying in sides:
        if isinstance(by_side.get(carrying), SheathedWall):
            way = _path(
                case,
                f"the roof deck carries all to the {carrying} wall",
                by_side,
                [(carrying, force), *((side, twist) for side in cross)],
                "the deck must be nailed on all edges of every sheet; the "
                f"{cross[0]} and {cross[1]} walls take the twist",
            )
            if way.sound:
                return way
    return each


def _bare(sides: Iterable[Side], by_side: dict[Side, Bracing]) -> str:
    bare = [side for side in sides if side not in by_side]
    return f"nothing keeps the {' and the '.join(bare)} upright: brace or sheet it" if bare else ""


def _path(
    case: WindCase,
    path: str,
    by_side: dict[Side, Bracing],
    shares: Iterable[tuple[Side, float]],
    note: str,
) -> Racking:
    """Judge the walls that share a force, each under its characteristic share [kN]."""
    checks: list[Standing] = []
    sways: list[tuple[float, float]] = []
    tie = 0.0
    for side, force in shares:
        wall = by_side.get(side)
        if isinstance(wall, OpenFrame):
            sway, limit = wall.sway_mm(force), wall.limit_mm
            sways.append((sway, limit))
            checks.append(Standing("sway", side, sway, limit, "mm", f"{wall.kind} frame"))
            checks += wall.strength(lifts() * force)
            continue
        capacity = wall.capacity_kn if wall else 0.0
        said = "Method A" if wall else "no sheets, braces or fixed feet"
        checks.append(Standing("racking", side, lifts() * force, capacity, "kN", said))
        tie = max(tie, lifts() * force * wall.end_tie_per_kn if wall else 0.0)
    worst = max(sways, key=lambda each: each[0] / each[1], default=None)
    sway_mm, limit_mm = worst or (None, None)
    return Racking(case.name, path, tuple(checks), sway_mm, limit_mm, tie, note)


def twist_kn(force_kn: float, across_m: float, along_m: float) -> float:
    """Force on each cross wall where one wall takes all of the push [kN].

    Args:
        force_kn: Level push through the middle of the unit [kN].
        across_m: Size across the push: from the wall that takes it to the open side [m].
        along_m: Size along the push: between the two cross walls [m].

    Source:
        Statics: W (d / 2) / b.
    """
    return force_kn * across_m / 2 / along_m
