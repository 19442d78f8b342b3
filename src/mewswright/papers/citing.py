"""How a printed line names its sources: by their number in the list at the pack's end."""

from collections.abc import Iterable, Sequence

from mewswright.checks.finding import Evidence


class Citer:
    """Knows the number of each source."""

    def __init__(self, names: Sequence[str]) -> None:
        """Number sources from 1 in the order given."""
        self._numbers = {name: i for i, name in enumerate(names, start=1)}

    def number(self, name: str) -> str:
        """Give the number of a source in brackets."""
        return f"[{self._numbers[name]}]"

    def short(self, sources: Iterable[Evidence]) -> str:
        """Name sources by number, place and how the figure is known, each once."""
        places: dict[tuple[str, str], dict[str, None]] = {}
        for source in sources:
            key = (self.number(source.name), source.how_known)
            places.setdefault(key, {})[source.locator] = None
        return "; ".join(
            f"{number} {' and '.join(filter(None, at))} ({how})".replace("  ", " ")
            for (number, how), at in places.items()
        )

    def named(self, sources: Iterable[Evidence]) -> str:
        """Name the first source in full, for it carries the limit, and the rest by number."""
        each = list(dict.fromkeys(sources))
        if not each:
            return ""
        rest = self.short(each[1:])
        return f"{each[0].name} {self.short(each[:1])}" + (f"; {rest}" if rest else "")
