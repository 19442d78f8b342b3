"""Least prices of what may be chosen, quick and never too high: where the search begins."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from mewswright.build.parts import Part
from mewswright.build.shell import breadth_depth_mm, head_mm
from mewswright.build.size_choices import Brace, Choices, framed_as
from mewswright.build.size_price import Pricer
from mewswright.model.quarters import Frame

# Bought for each rafter and post, and so counted with their choices.
BY_CHOICE = ("strap_30", "angle_bracket_90")


@dataclass(frozen=True)
class Bounds:
    """Least that each choice can cost; their sum with `rest` bounds a whole unit from below."""

    rafters: tuple[Decimal, ...]
    heads: tuple[Decimal, ...]
    posts: tuple[Decimal, ...]
    studs: tuple[Decimal, ...]
    braces: tuple[Decimal, ...]
    rest: Decimal
    far: tuple[tuple[Part, ...], ...]  # parts of the leanest frame, and of those farthest from it


def bounds_of(pricer: Pricer, choices: Choices, base: Frame) -> Bounds:
    """Bound the price of every choice from below, each by itself.

    Timber of a choice is set out beside the choices that leave least of it: the widest
    spacings, the fewest posts, the highest plates. What is not sawn is priced on that leanest
    frame with each choice of posts, for more of them leave less to fill in, less what the
    frames that go farthest from it one way each need less of an item.

    Args:
        pricer: Prices.
        choices: What may be chosen.
        base: The frame whose other keys stay.
    """
    lean = _leanest(choices)
    bare = without_bracing(base)

    def parts(**chosen: object) -> tuple[Part, ...]:
        return pricer.bare(framed_as(bare, **{**lean, **chosen}))  # type: ignore[arg-type]

    each = {item: pricer.each(item) for item in BY_CHOICE}

    def rafter(choice: tuple[str, float]) -> Decimal:
        kept = [p for p in parts(rafter=choice) if p.kind == "rafter" or p.place.startswith("roof")]
        hung = any(p.kind == "ridge" for p in parts(rafter=choice))
        straps = sum(p.count for p in kept if p.kind == "rafter") * (1 if hung else 2)
        return pricer.timber_bound(kept) + straps * each["strap_30"]

    def post(choice: tuple[str, int | None]) -> Decimal:
        kept = [p for p in parts(post=choice) if p.kind == "post"]
        return pricer.timber_bound(kept) + 2 * sum(p.count for p in kept) * each["angle_bracket_90"]

    most = max(choices.posts, key=lambda p: p[1] or 0)

    def other(choice: tuple[str, float]) -> Decimal:
        return pricer.timber_bound(
            p
            for p in parts(stud=choice, post=most)
            if p.kind not in ("rafter", "head", "post") and not p.place.startswith("roof")
        )

    leanest = framed_as(bare, **lean)  # type: ignore[arg-type]
    far = tuple(parts(**one) for one in _farthest(choices))

    def brace(choice: Brace) -> Decimal:
        pieces = pricer.bracing(leanest.model_copy(update=choice.keys))
        return min(pricer.added(one, pieces) for one in far)

    spared = _spared(pricer, far)
    rests = {
        choice: _rest(pricer, parts(post=choice), spared) for choice in dict.fromkeys(choices.posts)
    }
    rest = min(rests.values())
    return Bounds(
        tuple(rafter(choice) for choice in choices.rafters),
        tuple(
            pricer.timber_bound(p for p in parts(head=choice) if p.kind == "head")
            for choice in choices.heads
        ),
        tuple(post(choice) + rests[choice] - rest for choice in choices.posts),
        tuple(other(choice) for choice in choices.studs),
        tuple(brace(choice) for choice in choices.braces),
        rest,
        far,
    )


def without_bracing(base: Frame) -> Frame:
    """The frame without bracing and anchors; holes of short posts stay, for they are its base."""
    return base.model_copy(
        update={
            **Brace().keys, "anchor": "none", "anchor_count": 0,
            "hole_mm": base.hole_mm if base.base == "posts_in_concrete" else None,
        }
    )  # fmt: skip


def _packs(pricer: Pricer, parts: tuple[Part, ...]) -> dict[str, Decimal]:
    """Price of what is not sawn, by item; what is bought for each rafter and post left out."""
    of_item: dict[str, Decimal] = {}
    for line in pricer.not_sawn(parts).lines:
        if line.total is not None and not (line.item in BY_CHOICE and pricer.each(line.item)):
            of_item[line.item] = of_item.get(line.item, Decimal(0)) + line.total
    return of_item


def _spared(pricer: Pricer, far: tuple[tuple[Part, ...], ...]) -> dict[str, Decimal]:
    """How much less of an item the frames farthest from the leanest need, all of them together."""
    lean, *others = [_packs(pricer, parts) for parts in far]
    return {
        item: sum(
            (max(Decimal(0), price - one.get(item, Decimal(0))) for one in others), Decimal(0)
        )
        for item, price in lean.items()
    }


def _rest(pricer: Pricer, parts: tuple[Part, ...], spared: dict[str, Decimal]) -> Decimal:
    """Least price of what is not sawn of a frame with such posts, whatever else is chosen."""
    return sum(
        (
            max(Decimal(0), price - spared.get(item, Decimal(0)))
            for item, price in _packs(pricer, parts).items()
        ),
        Decimal(0),
    )


def _farthest(choices: Choices) -> Iterator[dict[str, object]]:
    """The leanest frame, and those that differ most from it one way each; its posts are kept."""
    yield {}
    yield {"stud": min(choices.studs, key=lambda s: (s[1], -breadth_depth_mm(s[0])[0]))}
    yield {"stud": max(choices.studs, key=lambda s: breadth_depth_mm(s[0])[1])}
    yield {"head": min(choices.heads, key=_up)}
    yield {"rafter": min(choices.rafters, key=lambda r: r[1])}
    yield {"rafter": max(choices.rafters, key=lambda r: breadth_depth_mm(r[0])[1])}


def _up(head: tuple[str, bool]) -> float:
    return breadth_depth_mm(head[0])[1 if head[1] else 0]


def _leanest(choices: Choices) -> dict[str, object]:
    def deep(choice: tuple[str, object]) -> float:
        return breadth_depth_mm(choice[0])[1]

    return {
        "rafter": max(choices.rafters, key=lambda r: (r[1], -deep(r))),
        "head": max(choices.heads, key=_up),
        "post": min(choices.posts, key=lambda p: (p[1] or 0, deep(p))),
        "stud": min(choices.studs, key=lambda s: (-s[1], deep(s))),
    }


def highest_head(choices: Choices, frame: Frame) -> dict[str, object]:
    """The highest plate as wide across the wall as that of a frame, as keys of a frame."""
    across = head_mm(frame)[1]
    sizes = []
    for section, on_edge in choices.heads:
        keys: dict[str, object] = {"head": section, "head_on_edge": on_edge}
        up, wide = head_mm(frame.model_copy(update=keys))
        if wide == across:
            sizes.append((up, section, on_edge))
    _, section, on_edge = max(sizes)
    return {"head": section, "head_on_edge": on_edge}
