"""Which birds come first on a bad day: one finding for the yard that names them in order."""

from collections.abc import Mapping, Sequence

from mewswright.checks.finding import Evidence, Finding
from mewswright.model.quantity import Quantity


def in_order(
    code: str,
    ranks: Mapping[str, tuple[int, float]],
    groups: Sequence[str],
    *,
    calm: str,
    why: str,
    sources: tuple[Evidence, ...],
) -> Finding:
    """Name birds in the order in which they are seen to.

    Args:
        code: Code of the check.
        ranks: By bird: the number of its group, and its place in it; the lowest is first.
        groups: What the birds of each group have in common.
        calm: What to say where no bird needs it.
        why: Why there is an order.
        sources: Whose order it is.
    """
    if not ranks:
        return Finding(code=code, status="sound", why=calm, sources=sources)
    told = [
        f"{group}: {', '.join(names)}"
        for number, group in enumerate(groups)
        if (names := sorted((n for n in ranks if ranks[n][0] == number),
                            key=lambda name: (ranks[name][1], name)))
    ]  # fmt: skip
    return Finding(
        code=code,
        status="mind",
        measured=Quantity(value=len(ranks), unit="birds"),
        why=why,
        remedy="first " + "; then ".join(told),
        sources=sources,
    )
