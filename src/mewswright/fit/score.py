"""How well a layout serves beyond what the checks ask: soft wishes, each from 0 to 1.

Weights and measures are judgements of ours; they add up to 100 and are shown one by one.
"""

from collections.abc import Mapping, Sequence
from math import hypot

from mewswright.build import room
from mewswright.checks.loft_flight import FLIGHT_SPANS_LEAST
from mewswright.checks.loft_places import BANDS, band, breast_mm, face_distance_mm
from mewswright.fit.screen import Layout, Screen
from mewswright.model.fitting import Bath, Hatch, Perch
from mewswright.model.quarters import SIDES, Quarters

WEIGHTS: Mapping[str, float] = {
    "flight": 30, "heights": 15, "outlook": 15, "cover": 10, "sun_and_shade": 10,
    "short_walk": 10, "few_perches": 10,
}  # fmt: skip
WHAT: Mapping[str, str] = {
    "flight": "longest clear flight, from one wing span, which is asked, to the room's longest",
    "heights": "perches low, in the middle and high",
    "outlook": "a perch near a face that can be looked through, above its solid foot",
    "cover": "a perch dry under the roof and far from the open faces",
    "sun_and_shade": "how far apart, from the open faces inward, the birds can choose to stand",
    "short_walk": "bath and hatch near the door, and what must be cleaned near it too",
    "few_perches": "no more perches than are asked for",
}
NEAR_FACE_SPANS = 1.0


class Scorer:
    """The soft wishes of one unit, ready to be asked often."""

    def __init__(self, screen: Screen, asked: int) -> None:
        q = screen.kept
        self._screen, self._asked = screen, max(1, asked)
        self._span_mm = 2 * screen.half_mm or max(
            (c.radius_mm for c in screen.circles.values()), default=1000.0
        )
        self._open = [] if q.faces is None else [s for s in SIDES if not q.faces.side(s).is_solid]
        self._feet = {s: q.faces.side(s).upstand_mm for s in self._open} if q.faces else {}
        self._top_mm = q.highest_mm - screen.half_mm
        # The longest flight: corner to corner, less what a tail needs on two walls.
        self._longest_mm = max(1.0, hypot(q.width_mm, q.depth_mm, 0.0) - self._span_mm / 2)
        self._door = _door_spot(screen)

    def parts(self, layout: Layout, longest_mm: float) -> dict[str, float]:
        """Each wish from 0, not at all, to 1, wholly.

        Args:
            layout: The layout.
            longest_mm: Its longest clear flight, as the screen has seen it [mm].
        """
        kept = self._screen.kept
        perches = (*kept.perches, *layout.perches)
        baths = (*kept.baths, *layout.baths)
        hatches = (*kept.hatches, *((layout.hatch,) if layout.hatch else ()))
        loose = bool(self._screen.spans)
        away = [self._from_open(perch) for perch in perches]
        deep = max(1.0, max(kept.depth_mm, 1.0) if self._open else 1.0)
        return {
            "flight": self._flight(longest_mm) if loose else 1.0,
            "heights": len({band(p.height_mm, self._top_mm) for p in perches}) / len(BANDS)
            if loose
            else 1.0,
            "outlook": self._outlook(perches),
            "cover": self._cover(perches),
            "sun_and_shade": min(1.0, (max(away) - min(away)) / (0.7 * deep)) if away else 0.0,
            "short_walk": self._walk(kept, perches, baths, hatches),
            "few_perches": min(1.0, self._asked / max(1, len(perches))) if loose else 1.0,
        }

    def _flight(self, longest_mm: float) -> float:
        """0 at the flight that L101 asks for, 1 at the longest that the room has."""
        least_mm = FLIGHT_SPANS_LEAST * self._span_mm
        if self._longest_mm <= least_mm:
            return 1.0
        share = (longest_mm - least_mm) / (self._longest_mm - least_mm)
        return min(1.0, max(0.0, share))

    def _from_open(self, perch: Perch) -> float:
        return min((face_distance_mm(self._screen.kept, perch, s) for s in self._open), default=0.0)

    def _outlook(self, perches: Sequence[Perch]) -> float:
        near_mm = NEAR_FACE_SPANS * self._span_mm
        best = 0.0
        for side in self._open:
            for perch in perches:
                if breast_mm(self._screen.case, perch) <= self._feet[side]:
                    continue
                away = face_distance_mm(self._screen.kept, perch, side)
                best = max(best, min(1.0, 1.5 - away / near_mm))
        return max(0.0, best)

    def _cover(self, perches: Sequence[Perch]) -> float:
        q = self._screen.kept
        dry = [p for p in perches if room.is_covered(q, p.at_mm[1])]
        far = max((self._from_open(p) for p in dry), default=0.0)
        whole = 0.6 * max(1.0, q.depth_mm)
        return min(1.0, far / whole) if self._open else float(bool(dry))

    def _walk(
        self, q: Quarters, perches: Sequence[Perch], baths: Sequence[Bath],
        hatches: Sequence[Hatch],
    ) -> float:  # fmt: skip
        spots = [bath.at_mm for bath in baths] * 2 + [perch.at_mm for perch in perches]
        spots += [_hatch_spot(q, hatch) for hatch in hatches]
        far = max(1.0, hypot(q.width_mm, q.depth_mm))
        if not spots:
            return 1.0
        mean = sum(hypot(x - self._door[0], y - self._door[1]) for x, y in spots) / len(spots)
        return max(0.0, 1 - mean / far)


def total(parts: Mapping[str, float]) -> float:
    """The weighted sum of the wishes, 0 to 100."""
    return sum(WEIGHTS[name] * share for name, share in parts.items())


def _hatch_spot(q: Quarters, hatch: Hatch) -> tuple[float, float]:
    return {
        "front": (hatch.at_mm, 0.0), "back": (hatch.at_mm, q.depth_mm),
        "left": (0.0, hatch.at_mm), "right": (q.width_mm, hatch.at_mm),
    }[hatch.face]  # fmt: skip


def _door_spot(screen: Screen) -> tuple[float, float]:
    """Where whoever cleans comes in; the middle of the back where the file does not say."""
    q = screen.kept
    for door in screen.case.yard.door:
        if q.name in door.between and door.face is not None:
            wide = q.width_mm if door.face in ("front", "back") else q.depth_mm
            along = wide / 2 if door.at_mm is None else door.at_mm
            return {
                "front": (along, 0.0), "back": (along, q.depth_mm),
                "left": (0.0, along), "right": (q.width_mm, along),
            }[door.face]  # fmt: skip
    return q.width_mm / 2, q.depth_mm
