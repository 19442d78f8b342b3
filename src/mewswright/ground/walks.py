"""Walking distances on the ground [m], along straight lines.

Walls and paths are not looked at: a walk is never shorter than this.
"""

from collections.abc import Iterable

from mewswright.ground.distances import edge_distance_m, feature_edges, is_inside
from mewswright.model.place import Feature


def features_distance_m(one: Feature, other: Feature) -> float:
    """Least distance between two features [m]; 0 where they touch or one lies in the other."""
    ours, theirs = feature_edges(one), feature_edges(other)
    if one.outline_m is not None and is_inside(theirs[0][0], one.outline_m):
        return 0.0
    if other.outline_m is not None and is_inside(ours[0][0], other.outline_m):
        return 0.0
    return min(edge_distance_m(a, b) for a in ours for b in theirs)


def there_and_back_m(away_m: Iterable[float]) -> float:
    """Walk to each of some places and back again, one by one [m]."""
    return 2 * sum(away_m)
