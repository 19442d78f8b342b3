"""The shape of `pack.json`: everything that the printed pages say, for programs.

The keys are stable: a key is added under the same `format`, and a changed or dropped
one gives a new `format`. docs/pack.md explains them, docs/pack.schema.json is made from
these models.
"""

from datetime import date
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from mewswright.build.cost import Costing
from mewswright.build.order import BuildOrder
from mewswright.build.parts import PartKind
from mewswright.build.takeoff import SettingOut
from mewswright.checks.brief import BirdBrief
from mewswright.checks.finding import Finding, Status


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class YardLine(_Frozen):
    """Whose pack it is."""

    name: str
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    currency: str = Field(description="ISO 4217 code of every price.")


class StandardLine(_Frozen):
    """A standard that binds the yard, and what of it was not read."""

    key: str
    name: str
    jurisdiction: str
    strength: str = Field(description="law, guide, practice or house.")
    summary: str
    gaps: tuple[str, ...]
    own: bool = Field(False, description="From a file of the keeper's own.")


class SourceLine(_Frozen):
    """A source that something in the pack leans on."""

    name: str
    how_known: tuple[str, ...] = Field(
        description="How its figures in this pack are known: read, from memory, derived, judgement."
    )
    trust: str = ""
    address: str = ""


class DrawingLine(_Frozen):
    """One drawing: its file, and the scale at which the printed page shows it."""

    name: str = Field(
        description="yard, plan, front, back, left, right, section, cross, roof, foundation "
        "or framing-SIDE."
    )
    title: str
    description: str
    file: str = Field(description="The drawing as SVG.")
    dxf: str = Field(description="The same drawing as DXF.")
    scale: int = Field(description="N of 1:N on the printed page.")
    width_mm: float = Field(description="Width on paper at that scale.")
    height_mm: float = Field(description="Height on paper at that scale.")


class PartLine(_Frozen):
    """One line of a take-off, without the place of each single piece."""

    mark: str
    kind: PartKind
    what: str
    place: str
    material: str
    section: str
    length_mm: float
    width_mm: float
    cut_start_deg: float
    cut_end_deg: float
    count: int
    amount: float
    unit: str
    packs: int
    sawn: bool
    note: str


class UnitLine(_Frozen):
    """One quarters to build."""

    quarters: str
    kind: str
    outer_width_mm: float
    outer_depth_mm: float
    roof_pitch_deg: float
    drawings: tuple[DrawingLine, ...]
    glb: str = Field(description="File of all its parts in three dimensions, glTF 2.0 binary.")
    setting_out: SettingOut
    frame: dict[str, Any] | None = Field(
        description="As `mewswright frame --json` prints it; None where it cannot be checked."
    )
    frame_why: str = Field(description="Why the frame was not checked; blank where it was.")
    take_off: tuple[PartLine, ...]
    cut_plan: dict[str, Any] | None = Field(
        description="As `mewswright cut --json` prints it; None where the yard has no stock."
    )
    unpriced_cut_plan: dict[str, Any] | None = Field(
        description="Sections that the yard has no stock of, from usual lengths; cost is metres."
    )
    unsawn: tuple[str, ...] = Field(description="Why parts are missing from both cut plans.")
    costing: Costing = Field(description="The shopping list; decimals as strings.")
    order: BuildOrder = Field(description="Steps with parts, tools, people, hours, hold points.")
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


class LeftOut(_Frozen):
    """Quarters without drawings and take-off, and why."""

    quarters: str
    why: str


class PackRecord(_Frozen):
    """The whole pack."""

    format: Literal["mewswright-pack-1"] = "mewswright-pack-1"
    version: str = Field(description="Version of mewswright, and so of its handbook.")
    yard: YardLine
    standards: tuple[StandardLine, ...]
    judged_on: date | None = Field(
        None,
        description="Day on which the standards were asked; None = no row has days.",
    )
    counts: dict[Status, int]
    findings: tuple[Finding, ...]
    briefs: tuple[BirdBrief, ...]
    ground: DrawingLine | None
    units: tuple[UnitLine, ...]
    left_out: tuple[LeftOut, ...]
    sources: tuple[SourceLine, ...]
    cautions: tuple[str, ...]
    files: tuple[str, ...] = Field(description="Every file of the pack, this one included.")


def pack_schema() -> dict[str, Any]:
    """Give the JSON Schema of `pack.json`; docs/pack.schema.json is a copy of it."""
    schema = PackRecord.model_json_schema(mode="serialization")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
