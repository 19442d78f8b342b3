"""The line of every key in a TOML text, from a syntax tree.

The reader that gives values gives no lines, so this runs only once something is wrong.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tree_sitter import Node

Path = tuple[str | int, ...]


def line_of_each_key(text: str) -> dict[Path, int]:
    """Map the path of every table, key and array element to its line, 1 = first.

    Args:
        text: A text that a TOML reader takes.

    Returns:
        {("bird", 0, "sex"): 41, ...}; a table stands for its header.
    """
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    tree = Parser(Language(tree_sitter_toml.language())).parse(text.encode("utf-8"))
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}  # how many [[...]] of each array so far
    for node in tree.root_node.children:
        if node.type == "pair":
            _pair(node, (), lines)
        elif node.type in ("table", "table_array_element"):
            header = next(child for child in node.named_children if _is_key(child))
            path = _header_path(tuple(_names(header)), counts, node.type == "table_array_element")
            lines.setdefault(path, node.start_point.row + 1)
            if isinstance(path[-1], int):  # the whole array begins with its first header
                lines.setdefault(path[:-1], node.start_point.row + 1)
            for child in node.named_children:
                if child.type == "pair":
                    _pair(child, path, lines)
    return lines


def _header_path(names: tuple[str, ...], counts: dict[Path, int], is_array: bool) -> Path:
    """Put into a header's names the place in each array that it speaks of."""
    path: Path = ()
    for name in names[:-1]:
        path = (*path, name)
        if path in counts:
            path = (*path, counts[path] - 1)
    path = (*path, names[-1])
    if is_array:
        counts[path] = counts.get(path, 0) + 1
        return (*path, counts[path] - 1)
    return path


def _pair(node: "Node", path: Path, lines: dict[Path, int]) -> None:
    key, value = node.named_children[0], node.named_children[-1]
    for name in _names(key):
        path = (*path, name)
        lines.setdefault(path, node.start_point.row + 1)
    _value(value, path, lines)


def _value(node: "Node", path: Path, lines: dict[Path, int]) -> None:
    if node.type == "inline_table":
        for child in node.named_children:
            if child.type == "pair":
                _pair(child, path, lines)
    elif node.type == "array":
        elements = [child for child in node.named_children if child.type != "comment"]
        for i, element in enumerate(elements):
            lines.setdefault((*path, i), element.start_point.row + 1)
            _value(element, (*path, i), lines)


def _is_key(node: "Node") -> bool:
    return node.type in ("bare_key", "quoted_key", "dotted_key")


def _names(node: "Node") -> Iterator[str]:
    if node.type == "dotted_key":
        for child in node.named_children:
            yield from _names(child)
        return
    name = (node.text or b"").decode("utf-8")
    yield name[1:-1] if node.type == "quoted_key" else name
