"""What is known of birds, standards, foods and materials, one source a row.

The tables lie beside this file as text; `sources.toml` says who the witnesses are.
Loaders give frozen values that carry their evidence. What is not known comes back as
`Unknown` with the reason, never as a guess.
"""

from mewswright.handbook.evidence import (
    Figure,
    Source,
    SourceRef,
    Unknown,
    source,
    sources,
)
from mewswright.handbook.species import Species, all_species, species
from mewswright.handbook.standard_tables import (
    ClassLimits,
    PublishedRow,
    Rule,
    SizeLimit,
    Standard,
    published_rows,
    rules,
    size_limits,
    standard,
    standards,
)
from mewswright.handbook.tables import Table, table, table_names

__all__ = [
    "ClassLimits",
    "Figure",
    "PublishedRow",
    "Rule",
    "SizeLimit",
    "Source",
    "SourceRef",
    "Species",
    "Standard",
    "Table",
    "Unknown",
    "all_species",
    "published_rows",
    "rules",
    "size_limits",
    "source",
    "sources",
    "species",
    "standard",
    "standards",
    "table",
    "table_names",
]
