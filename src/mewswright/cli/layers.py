"""Layers of the ground written into a folder, one SVG each."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mewswright.drawing.scene import Scene
    from mewswright.ground.layer import Layer
    from mewswright.model.yard import Yard


def write_layers(yard: "Yard", layers: "Mapping[str, Layer]", out: Path) -> None:
    """Draw layers over the plan of a yard and write them.

    Args:
        yard: The yard.
        layers: Layers by the names of their files.
        out: The folder; made if need be.

    Raises:
        Problem: If the folder cannot be written, or the yard has nothing to draw.
    """
    write_scenes(drawn_layers(yard, layers), out)


def drawn_layers(yard: "Yard", layers: "Mapping[str, Layer]") -> "dict[str, Scene]":
    """Draw layers over the plan of a yard.

    Raises:
        Problem: If the yard has nothing to draw.
    """
    from mewswright.drawing.ground_layer import layer_plan
    from mewswright.model.problem import Problem

    try:
        return {name: layer_plan(yard, layer) for name, layer in layers.items()}
    except ValueError as error:
        raise Problem(f"--out: {error}") from error


def write_scenes(scenes: "Mapping[str, Scene]", out: Path) -> None:
    """Write scenes as SVG files for paper, named in plain letters."""
    from mewswright.cli.writing import refuse_no_folder, write_whole
    from mewswright.drawing.svg import to_svg
    from mewswright.papers.names import file_stems

    refuse_no_folder(out)
    stems = file_stems(tuple(scenes))
    write_whole(
        out, {f"{stems[name]}.svg": to_svg(scene).encode() for name, scene in scenes.items()}
    )
