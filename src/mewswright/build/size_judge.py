"""Judges one part of a frame at a time on its lines of force, and remembers each verdict.

The same functions as the whole report, in pieces: a rafter's verdict does not change with
the studs, so it is worked out once for all studs. Whatever passes here is confirmed by the
whole report before it counts.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from mewswright.build.actions.of_unit import actions_on
from mewswright.build.actions.result import Actions
from mewswright.build.beam_shelf import BeamShelf
from mewswright.build.footing_checks import footing_refusals, footing_results, pressure_of
from mewswright.build.frame import built_frame, framed_walls
from mewswright.build.frame_members import plates_of, rafter_result, ridges_down, ridges_of
from mewswright.build.frame_path import joints_of
from mewswright.build.frame_report import (
    deck_lines,
    member_loads,
    stability_of,
    wind_cases,
)
from mewswright.build.frame_uprights import Carried, Down, upright_worst
from mewswright.build.holding.bracing import Racking
from mewswright.build.holding.stability import Stability
from mewswright.build.lines import Lines, RafterLine, Stand, lines_of
from mewswright.build.longest import longest_mm
from mewswright.build.member_loads import Cases, MemberLoads, MemberResult
from mewswright.build.parts import BuiltFrame
from mewswright.build.pieces import parts_of
from mewswright.build.rafters import rafter_ends_mm, rafters
from mewswright.build.ridge import GABLE_POST, INNER_POST
from mewswright.build.ridge_parts import ridge_pieces
from mewswright.build.row import shell_in
from mewswright.build.shell import breadth_depth_mm, head_mm
from mewswright.build.size_choices import wall_of_mm
from mewswright.build.soles import SOLE_BASES, sole_results
from mewswright.model.fitting import Side
from mewswright.model.problem import Problem
from mewswright.model.quarters import Frame, Quarters
from mewswright.model.yard import Yard

LEVEL: tuple[Side, Side] = ("front", "back")
Slopes = Sequence[tuple[RafterLine, Cases]]
OnPosts = dict[float, dict[str, Down]]


@dataclass(frozen=True)
class Verdict:
    """The largest share used of one part of a frame, and the sentence that says of what."""

    share: float
    words: str

    @property
    def sound(self) -> bool:
        """No more than wholly used."""
        return self.share <= 1


SOUND = Verdict(0.0, "")


def worst(verdicts: Sequence[Verdict]) -> Verdict:
    """The verdict with the largest share."""
    return max(verdicts, key=lambda one: one.share, default=SOUND)


@dataclass(frozen=True)
class Site:
    """A whole unit set out, and its loads."""

    quarters: Quarters
    built: BuiltFrame
    actions: Actions
    loads: MemberLoads


def timber_only(yard: Yard, quarters: Quarters) -> BuiltFrame:
    """The timber that carries, without infill, boards, roofing, base and floor.

    Its lines of force are those of the whole frame, at a tenth of the work.
    """
    shell = shell_in(yard, quarters)
    pieces = [
        piece
        for wall in framed_walls(yard, shell)
        for piece in wall.pieces
        if piece.kind in ("post", "stud", "head")
    ]
    if quarters.has_roof:
        pieces += ridge_pieces(shell, longest_mm(yard, quarters.frame.ridge))
        pieces += rafters(shell)
    front, back = rafter_ends_mm(shell)
    return BuiltFrame(
        quarters=quarters.name,
        parts=parts_of(pieces),
        outer_width_mm=shell.outer_width_mm,
        outer_depth_mm=shell.outer_depth_mm,
        wall_mm=shell.wall_mm,
        roof_pitch_deg=shell.slopes[0].pitch_deg,
        roof_front_edge_mm=(0.0, front, shell.ceiling_mm(front)),
        roof_back_edge_mm=(0.0, back, shell.ceiling_mm(back)),
        roof_ridge_mm=None if shell.ridge_mm is None else (0.0, *shell.ridge_mm),
        assumptions=(),
        shared=tuple(join.side for join in shell.joins),
    )


class Judge:
    """Verdicts on the parts of frames of one unit, each worked out once."""

    def __init__(self, yard: Yard, quarters: Quarters) -> None:
        """Remember nothing yet.

        Args:
            yard: The yard.
            quarters: The unit; its own frame does not matter.
        """
        self.yard, self.quarters = yard, quarters
        faces = quarters.faces
        assert faces is not None  # a pitch has no frame, and is refused before
        self.solid = {
            side: faces.side(side).is_solid for side in ("front", "back", "left", "right")
        }
        self.shelf = BeamShelf()
        self._sites: dict[Hashable, Site] = {}
        self._lines: dict[Hashable, Lines] = {}
        self._rafters: dict[Hashable, tuple[Verdict, Slopes]] = {}
        self._plates: dict[Hashable, tuple[Verdict, OnPosts]] = {}
        self._seen: dict[Hashable, Verdict] = {}
        self._ridges: dict[Hashable, list[tuple[MemberResult, Cases]]] = {}
        self._racking: dict[Hashable, list[Verdict]] = {}
        self._failed: dict[Hashable, list[tuple[float, float]]] = {}

    def site(self, frame: Frame) -> Site:
        """Set a whole unit out; bracing and anchors do not matter."""
        return self._site(frame, self._timber_key(frame))

    def roof(self, frame: Frame) -> Site:
        """Set it out for the loads on its members, which the walls' timber does not change."""
        return self._site(frame, self._rafter_key(frame))

    def _site(self, frame: Frame, key: Hashable) -> Site:
        if key not in self._sites:
            quarters = self.quarters.model_copy(update={"frame": frame})
            built = built_frame(self.yard, quarters, corridor=False)
            actions = actions_on(self.yard, quarters, built)
            self._sites[key] = Site(quarters, built, actions, member_loads(quarters, actions))
        return self._sites[key]

    def lines(self, frame: Frame) -> Lines:
        """The lines of force of a frame."""
        key = self._timber_key(frame)
        if key not in self._lines:
            quarters = self.quarters.model_copy(update={"frame": frame})
            self._lines[key] = lines_of(timber_only(self.yard, quarters), quarters.depth_mm)
        return self._lines[key]

    def _timber_key(self, f: Frame) -> Hashable:
        return (
            f.rafter, f.rafter_spacing_mm, f.head, f.head_on_edge, f.post, f.post_count,
            f.stud, f.stud_spacing_mm,
        )  # fmt: skip

    def _rafter_key(self, f: Frame) -> tuple[Hashable, ...]:
        return (f.rafter, f.rafter_spacing_mm, head_mm(f)[1], wall_of_mm(f))

    def ridge(self, frame: Frame) -> Verdict:
        """The ridge beam, and the posts in the gables and inside under it."""
        if self.quarters.ridge_mm is None:
            return SOUND
        key = (
            *self._ridge_key(frame), frame.stud, frame.stud_spacing_mm, frame.post_count,
            head_mm(frame),
        )  # fmt: skip
        if key not in self._seen:
            site, lines = self.roof(frame), self.lines(frame)
            carried = Carried((), self._under_ridge(frame))
            found = [verdict_of(one) for one, _ in self._ridge_beams(frame)]
            for line in lines.uprights:
                if line.what in (GABLE_POST, INNER_POST):
                    one = upright_worst(line, site.loads, carried.on(line))
                    words = f"{line.what}, {line.side}, {line.section}: {one.check.name}"
                    found.append(Verdict(one.utilisation, words))
            self._seen[key] = worst(found)
        return self._seen[key]

    def _ridge_key(self, frame: Frame) -> tuple[Hashable, ...]:
        return (*self._rafter_key(frame), frame.ridge, frame.ridge_posts, frame.post)

    def _ridge_beams(self, frame: Frame) -> list[tuple[MemberResult, Cases]]:
        key = self._ridge_key(frame)
        if key not in self._ridges:
            slopes = self._rafter_cases(frame)[1]
            self._ridges[key] = ridges_of(
                self.lines(frame), self.roof(frame).loads, slopes, self.shelf.solve
            )
        return self._ridges[key]

    def _under_ridge(self, frame: Frame) -> dict[Stand, OnPosts]:
        """What the ridge beam brings down on its posts; nothing without one."""
        down: dict[Stand, OnPosts] = {}
        if self.quarters.ridge_mm is not None:
            ridges_down(down, self.lines(frame), self._ridge_beams(frame))
        return down

    def rafters(self, frame: Frame) -> Verdict:
        """Rafters and the deck on them."""
        return self._rafter_cases(frame)[0]

    def _rafter_cases(self, frame: Frame) -> tuple[Verdict, Slopes]:
        key = self._rafter_key(frame)
        if key not in self._rafters:
            site, lines = self.roof(frame), self.lines(frame)
            decked = site.quarters.roof is not None and site.quarters.roof.deck is not None
            found: list[Verdict] = []
            slopes: list[tuple[RafterLine, Cases]] = []
            for line in lines.rafters:
                result, cases = rafter_result(
                    line, site.loads, head_mm(frame)[1], decked, self.shelf.solve
                )
                slopes.append((line, cases))
                found.append(verdict_of(result, f" at {frame.rafter_spacing_mm:g} mm"))
            found += [
                Verdict(check.utilisation, f"the deck on rafters at {frame.rafter_spacing_mm:g} "
                        f"mm: {check.name}")
                for check in deck_lines(site.quarters, site.actions, lines)
            ]  # fmt: skip
            self._rafters[key] = worst(found), slopes
        return self._rafters[key]

    def _side_geometry(self, frame: Frame, side: Side) -> tuple[Hashable, ...]:
        """What of the uprights of a side decides where its plate is held."""
        stud = breadth_depth_mm(frame.stud)[0]  # of jambs, in an open face too
        if self.solid[side]:
            return (stud, frame.stud_spacing_mm)
        count = frame.post_count if side == "front" else None
        return (stud, breadth_depth_mm(frame.post)[0], count)

    def _plate_geometry(self, frame: Frame, side: Side) -> tuple[Hashable, ...]:
        return (side, *self._rafter_key(frame), *self._side_geometry(frame, side))

    def plate(self, frame: Frame, side: Side) -> Verdict:
        """Head plate of the front or the back.

        A plate that is smaller both ways than one that failed in the same place fails too;
        its verdict then is that one's.
        """
        place = self._plate_geometry(frame, side)
        size = head_mm(frame)
        key = (*place, frame.head, frame.head_on_edge)
        if key not in self._plates:
            for up, across in self._failed.get(place, []):
                if size[0] <= up and size[1] <= across:
                    return Verdict(2.0, "")
            self._plates[key] = self._plate(frame, side)
            if not self._plates[key][0].sound:
                self._failed.setdefault(place, []).append(size)
        return self._plates[key][0]

    def _plate(self, frame: Frame, side: Side) -> tuple[Verdict, OnPosts]:
        site, lines = self.roof(frame), self.lines(frame)
        lies = "on edge" if frame.head_on_edge else "flat"
        held = (
            f" {lies} on studs at {frame.stud_spacing_mm:g} mm"
            if self.solid[side]
            else f" {lies} over {frame.post_count or 'the usual'} posts"
        )
        slopes = self._rafter_cases(frame)[1]
        results, down = plates_of(
            lines, side, site.loads, slopes, head_mm(frame)[1], self.shelf.solve
        )
        return worst([verdict_of(result, held) for result in results]), down

    def uprights(self, frame: Frame, side: Side) -> Verdict:
        """Posts, studs and jambs of one side under what comes down and what pushes."""
        level = side in LEVEL
        key: tuple[Hashable, ...] = (side, frame.stud, head_mm(frame), wall_of_mm(frame))
        key += (frame.stud_spacing_mm,) if self.solid[side] else (frame.post, frame.post_count)
        if level:
            self.plate(frame, side)
            key += (*self._plate_geometry(frame, side), frame.head, frame.head_on_edge)
        if key not in self._seen:
            site, lines = self.roof(frame), self.lines(frame)
            carried = self._carried(frame)
            found = []
            for line in lines.uprights:
                if line.side != side:
                    continue
                one = upright_worst(line, site.loads, carried.on(line) if level else {})
                words = f"{line.what}, {side}, {line.section}: {one.check.name}"
                found.append(Verdict(one.utilisation, words))
            self._seen[key] = worst(found)
        return self._seen[key]

    def _carried(self, frame: Frame) -> Carried:
        """What the beams bring down, as far as the plates were judged."""
        down = self._under_ridge(frame)
        for side in LEVEL:
            self.plate(frame, side)
            key = (*self._plate_geometry(frame, side), frame.head, frame.head_on_edge)
            if key in self._plates:
                down[side] = self._plates[key][1]
        return Carried(self._rafter_cases(frame)[1], down)

    def ground(self, frame: Frame) -> Verdict:
        """The ground under the post that carries most, and the short post in it."""
        site = self.roof(frame)
        quarters = self.quarters.model_copy(update={"frame": frame})
        carried = self._carried(frame)
        check = pressure_of(self.yard, quarters, site.actions, self.lines(frame), carried)
        share = float("inf") if check.utilisation is None else check.utilisation
        found = [Verdict(share, f"the ground under a {check.direction} of {frame.post} on "
                         f"{frame.base}")]  # fmt: skip
        wind, lines = wind_cases(site.built, site.actions), self.lines(frame)
        stubs = footing_results(
            self.yard, quarters, site.actions, wind, lines, carried, site.built.parts
        )
        found += [verdict_of(one) for one in stubs]
        if frame.base in SOLE_BASES:
            built = self.site(frame).built
            soles = sole_results(self.yard, quarters, lines, site.loads, carried, built.parts)
            found += [verdict_of(one) for one in soles]
        if footing_refusals(self.yard, quarters):
            found.append(Verdict(float("inf"), "footings that an engineer must decide"))
        return worst(found)

    def stands(self, frame: Frame) -> Stability | None:
        """Lift, slide, tip, rack and sway; None for a brace that does not fit its bay."""
        return self._stands(frame, self.site(frame))

    def _stands(self, frame: Frame, site: Site) -> Stability | None:
        quarters = self.quarters.model_copy(update={"frame": frame})
        try:
            return stability_of(self.yard, quarters, site.built, site.actions, offer=False)
        except Problem:  # the legs of two braces are longer than the bay, or than the post
            return None

    def racks(self, frame: Frame) -> Verdict:
        """Whether the walls stay upright; anchors do not matter."""
        return worst(self._racked(frame))

    def racks_along_sides(self, frame: Frame) -> Verdict:
        """Whether the side walls stay upright; what stiffens the front does not matter."""
        bare = frame.model_copy(update={"brace": "none"})
        site = self.roof(frame)
        cases = wind_cases(site.built, site.actions)
        along = zip(cases, self._racked(bare), strict=True)
        return worst([one for case, one in along if case.along == "depth"])

    def _racked(self, frame: Frame) -> list[Verdict]:
        key: tuple[Hashable, ...] = (
            wall_of_mm(frame), frame.rafter, frame.stud, frame.stud_spacing_mm, frame.lining,
            frame.lining_nail_mm, head_mm(frame)[0], frame.brace,
        )  # fmt: skip
        if frame.brace != "none":
            key += (frame.brace_leg_mm, frame.post, frame.post_count, head_mm(frame)[1])
        if key not in self._racking:
            kept = frame.hole_mm if frame.base == "posts_in_concrete" else None
            bare = {"anchor": "none", "anchor_count": 0, "hole_mm": kept}
            found = self._stands(frame.model_copy(update=bare), self.roof(frame))
            self._racking[key] = (
                [Verdict(float("inf"), "knee braces too long for their bay")]
                if found is None
                else [Verdict(_inf(one.utilisation), _racking_words(one)) for one in found.racking]
            )
        return self._racking[key]

    def joints(self, frame: Frame, stands: Stability) -> Verdict:
        """The fasteners from the deck to the ground."""
        site = self.roof(frame)
        quarters = self.quarters.model_copy(update={"frame": frame})
        return worst(
            [
                Verdict(joint.utilisation, f"{joint.name} by {joint.means}")
                for joint in joints_of(
                    quarters, site.actions, self.lines(frame), self._carried(frame), stands
                )
            ]
        )


def verdict_of(result: MemberResult, more: str = "") -> Verdict:
    """The verdict on one mark of the frame."""
    return Verdict(
        result.worst.utilisation,
        f"{result.what}, {result.section}{more}: {result.worst.check.name}",
    )


def _racking_words(one: Racking) -> str:
    most = max(one.checks, key=lambda check: _inf(check.utilisation), default=None)
    told = f"{most.name} of the {most.direction}, {one.case}" if most else one.case
    return f"{told}: {one.note}" if one.note else told


def _inf(share: float | None) -> float:
    return float("inf") if share is None else share
