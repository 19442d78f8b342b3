"""Anchors: how many hold a unit down, how far apart, and what is asked of each."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from mewswright.build.holding.anchor_places import anchor_places, lever_m, spread_m, widest_gap_m
from mewswright.build.holding.means import Means, means, pull_test
from mewswright.build.holding.overturning import (
    overturning_check,
    righting_knm,
    tipping_knm,
)
from mewswright.build.holding.sliding import friction_kn, sliding_check
from mewswright.build.holding.standing import Standing, WindCase, holds_down, lifts
from mewswright.build.holding.uplift import net_uplift_kn, uplift_check
from mewswright.handbook.holding import holding_figure

MOST = 100  # as many as a yard file may state


@dataclass(frozen=True)
class Offer:
    """How many anchors of a kind would hold a unit that has none; None: no number of them."""

    anchor: str
    needed: int | None
    per_anchor_kn: float
    note: str

    def as_dict(self) -> dict[str, object]:
        """JSON-ready."""
        return {
            "anchor": self.anchor,
            "needed": self.needed,
            "per_anchor_kn": round(self.per_anchor_kn, 3),
            "note": self.note,
        }

    def words(self) -> str:
        """In a few words."""
        kind = self.anchor.replace("_", " ")
        return f"{self.needed} x {kind}" if self.needed else f"no number of kind {kind} is enough"


@dataclass(frozen=True)
class Holding:
    """What holds the unit down, how much is asked of each anchor, and what must be proven.

    `count` and `needed` are those round the walls; `as_dict` adds those under posts inside.
    """

    anchor: str
    count: int
    needed: int | None  # None: no number of these anchors is enough
    per_anchor_kn: float
    pull_each_kn: float
    shear_each_kn: float
    spacing_m: float | None
    credited: bool
    checks: tuple[Standing, ...]
    pull_test: str
    notes: tuple[str, ...]
    sources: tuple[str, ...]
    under_ridge: int = 0  # more of them, under posts inside: they hold those alone
    offers: tuple[Offer, ...] = ()  # what would hold a unit that nothing holds

    @property
    def sound(self) -> bool:
        """Everything holds with the anchors that are there and credited."""
        return all(check.sound for check in self.checks)

    def as_dict(self) -> dict[str, object]:
        """JSON-ready."""
        return {
            "anchor": self.anchor,
            "count": self.count + self.under_ridge,
            "under_ridge_posts": self.under_ridge,
            "needed": None if self.needed is None else self.needed + self.under_ridge,
            "per_anchor_kn": round(self.per_anchor_kn, 3),
            "pull_each_kn": round(self.pull_each_kn, 3),
            "shear_each_kn": round(self.shear_each_kn, 3),
            "spacing_m": None if self.spacing_m is None else round(self.spacing_m, 2),
            "credited": self.credited,
            "sound": self.sound,
            "checks": [check.as_dict() for check in self.checks],
            "pull_test": self.pull_test,
            "offers": [offer.as_dict() for offer in self.offers],
            "notes": list(self.notes),
            "sources": list(self.sources),
        }


def hold_down(
    cases: Sequence[WindCase],
    dead_kn: float,
    width_m: float,
    depth_m: float,
    anchor_name: str = "none",
    count: int = 0,
    *,
    slab_kn: float = 0.0,
    hole_mm: tuple[float, float] | None = None,
    tested_kn: float | None = None,
    above_m: float = 0.0,
    offer: bool = True,
) -> Holding:
    """Size and judge what holds a unit down, against lifting, sliding and tipping.

    Args:
        cases: Wind from each direction.
        dead_kn: Dead weight that is sure to be there, without a slab [kN].
        width_m: Width over the frame [m].
        depth_m: Depth over the frame [m].
        anchor_name: none, slab_anchor, concrete_hole or ground_anchor.
        count: How many the yard file has.
        slab_kn: Weight of the slab that slab anchors stand in [kN].
        hole_mm: Across and deep of holes of concrete [mm].
        tested_kn: Pull that every ground anchor held in a test on the spot [kN].
        above_m: How far above the ground holes of concrete are pushed [m].
        offer: Whether a unit that nothing holds is told what would; that takes a while.

    Returns:
        The verdict with `count` anchors, and how many would be needed.

    Raises:
        Problem: For an anchor that is not in the handbook.
        ValueError: For no wind, sizes of 0 or less, or slab anchors without a slab.
    """
    if not cases:
        raise ValueError("nothing to hold against: give wind from each direction")
    if width_m <= 0 or depth_m <= 0:
        raise ValueError(f"a unit needs width and depth, got {width_m:g} x {depth_m:g} m")
    if anchor_name == "slab_anchor" and slab_kn <= 0:
        raise ValueError(
            "slab anchors need a slab: set base to slab, or hold it by holes of concrete"
        )
    frame = _Unit(tuple(cases), dead_kn, width_m, depth_m, slab_kn)
    if anchor_name == "none":
        checks = frame.checks(None, 0)
        bare = all(check.sound for check in checks)
        offers = tuple(_offers(frame, hole_mm, tested_kn, above_m)) if offer and not bare else ()
        told = ": " + "; or ".join(one.words() for one in offers) if offers else ""
        word = () if bare else (f"nothing holds the unit down: choose an anchor{told}",)
        return Holding(
            "none", 0, 0 if bare else None, 0.0, *frame.asked(0), None, True, checks, "", word, (),
            offers=offers,
        )  # fmt: skip
    one = means(anchor_name, hole_mm, tested_kn, above_m)
    needed = frame.needed(one)
    places = anchor_places(width_m, depth_m, count)
    notes = [one.note]
    if needed is None:
        slides = any(not c.sound for c in frame.checks(one, MOST, counted=True)
                     if c.name == "sliding")  # fmt: skip
        notes.append(
            "no number of these anchors is enough, for they hold no push sideways and the unit "
            "slides: take holes of concrete, or a slab"
            if slides and one.shear_kn <= 0
            else f"no {MOST} of these anchors are enough: take a stronger kind, or more weight"
        )
    elif count < needed:
        notes.append(f"{count} are there and {needed} are needed")
    slab_checks = frame.with_slab() if anchor_name == "slab_anchor" else ()
    notes += [
        f"{check.name}, {check.direction}: thicken the slab, or give it a toe into the ground"
        for check in slab_checks
        if not check.sound
    ]
    spacing = widest_gap_m(places, width_m, depth_m) if count else None
    most = holding_figure("anchor_spacing_max_m").value
    if spacing is not None and spacing > most + 1e-9:
        notes.append(
            f"anchors stand up to {spacing:.2f} m apart: over {most:g} m the sole plate between "
            "them must be checked in bending (our judgement)"
        )
    return Holding(
        anchor_name,
        count,
        needed,
        one.pull_kn,
        *frame.asked(count),
        spacing,
        one.credited,
        frame.checks(one, count) + slab_checks,
        pull_test(one, needed or count, max(frame.asked(needed or count)[0], 0.0)),
        tuple(notes),
        (f"{one.anchor.source.name} ({one.anchor.source.how_known})",),
    )


def _offers(
    frame: "_Unit", hole_mm: tuple[float, float] | None, tested_kn: float | None, above_m: float
) -> Iterator[Offer]:
    """What would hold a unit down, kind by kind; slab anchors only where there is a slab."""
    kinds = ("slab_anchor",) if frame.slab_kn > 0 else ()
    for kind in (*kinds, "concrete_hole", "ground_anchor"):
        one = means(kind, hole_mm, tested_kn, above_m)
        yield Offer(kind, frame.needed(one), one.pull_kn, one.note)


@dataclass(frozen=True)
class _Unit:
    cases: tuple[WindCase, ...]
    dead_kn: float
    width_m: float
    depth_m: float
    slab_kn: float

    def _base_m(self, case: WindCase) -> float:
        return self.depth_m if case.along == "depth" else self.width_m

    def needed(self, one: Means) -> int | None:
        """The fewest anchors that hold it, counted as if proven; None: no number of them."""
        return next(
            (n for n in range(MOST + 1) if all(c.sound for c in self.checks(one, n, counted=True))),
            None,
        )

    def asked(self, count: int) -> tuple[float, float]:
        """Greatest pull and shear that one anchor is asked to take, by all directions [kN].

        The greater of two pictures: the base turns about its edge, or it is lifted whole
        and tilts. Without anchors, what one alone would be asked in the middle.
        """
        pull = shear = 0.0
        places = anchor_places(self.width_m, self.depth_m, count)
        for case in self.cases:
            base = self._base_m(case)
            all_up = max(0.0, net_uplift_kn(case.uplift_kn, self.dead_kn, holds_down(), lifts()))
            tipping = max(0.0, tipping_knm(case) - righting_knm(self.dead_kn, base))
            lever = lever_m(case, places, self.width_m, self.depth_m) or base / 2
            tilt = max(0.0, tipping - all_up * base / 2)
            spread = spread_m(case, places, self.width_m, self.depth_m)
            lifted = all_up / max(1, count) + (tilt / spread if spread else 0.0)
            pull = max(pull, tipping / lever, lifted if all_up else 0.0)
            if friction_kn(case.uplift_kn, self.dead_kn) < lifts() * case.push_kn:
                shear = max(shear, lifts() * case.push_kn / max(1, count))
        return pull, shear

    def checks(
        self, one: Means | None, count: int, *, counted: bool = False
    ) -> tuple[Standing, ...]:
        """All checks with so many anchors; `counted` counts them as if they were proven."""
        good = one is not None and (one.credited or counted)
        pull, shear = (one.pull_kn, one.shear_kn) if one is not None and good else (0.0, 0.0)
        places = anchor_places(self.width_m, self.depth_m, count)
        found: list[Standing] = []
        for case in self.cases:
            base = self._base_m(case)
            lever = lever_m(case, places, self.width_m, self.depth_m)
            found += (
                uplift_check(case, self.dead_kn, count * pull),
                sliding_check(case, self.dead_kn, count * shear),
                overturning_check(case, self.dead_kn, base, lever * pull),
            )
        if one is not None and count and one.anchor.id == "slab_anchor":
            asked_pull, asked_shear = self.asked(count)
            found.append(
                Standing(
                    "pull with shear",
                    "the hardest pulled anchor",
                    asked_pull / pull + asked_shear / shear,
                    1.0,
                    "-",
                    "added up straight, which is safe",
                )
            )
        return tuple(found)

    def with_slab(self) -> tuple[Standing, ...]:
        """The unit and its slab as one body on the ground."""
        if not self.slab_kn:
            return ()
        whole = self.dead_kn + self.slab_kn
        found: list[Standing] = []
        for case in self.cases:
            base = self._base_m(case)
            found += (
                Standing("uplift with the slab", case.name,
                         lifts() * max(0.0, case.uplift_kn), holds_down() * whole, "kN"),
                Standing("sliding of the slab", case.name,
                         lifts() * case.push_kn, friction_kn(case.uplift_kn, whole), "kN"),
                Standing("overturning with the slab", case.name,
                         tipping_knm(case), righting_knm(whole, base), "kNm"),
            )  # fmt: skip
        return tuple(found)
