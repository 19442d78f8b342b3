"""Snow, wind and combinations against published worked examples, copied by hand.

The id before each is that of the collection of examples; the tolerance is what the source
prints or rounds to.
"""

import pytest

from mewswright.build.actions.snow import (
    drift,
    exceptional_drift_at_obstruction,
    exceptional_drift_at_wall,
    ground_snow_uk_kn_m2,
    roof_snow_kn_m2,
    snow_shape,
)


@pytest.mark.parametrize(
    ("pitch_deg", "mu_1"), [(0, 0.8), (8.5, 0.8), (30, 0.8), (45, 0.4), (60, 0.0), (90, 0.0)]
)
def test_snow_01_share_by_pitch(pitch_deg, mu_1):
    """SNOW-01: EN 1991-1-3, Table 5.2; 8.5 deg in Steel Buildings in Europe, Part 3, p3-38."""
    assert snow_shape(pitch_deg, can_slide=True) == pytest.approx(mu_1, abs=1e-6)


def test_snow_02_roof_load():
    """SNOW-02: Steel Buildings in Europe, Single-storey, Part 3, App A, p3-38."""
    s = roof_snow_kn_m2(0.65, snow_shape(8.5), ce=1, ct=1)
    assert s == pytest.approx(0.52, abs=0.001)
    assert 2 * s == pytest.approx(1.04, abs=0.001)  # exceptional snow on the ground, C_esl 2


def test_snow_03_drift_against_a_taller_wall():
    """SNOW-03: the same, p3-39/40: b1 10, b2 40, h 3.0 m; upper roof flat."""
    found = drift(taller_by_m=3.0, upper_m=10, lower_m=40, ground_kn_m2=0.65)
    assert found.mu_raw == pytest.approx(8.3, rel=0.01)
    assert found.mu_cap == pytest.approx(9.2, rel=0.01)
    assert found.mu_at_wall == pytest.approx(4)
    assert found.length_m == pytest.approx(6.0)
    assert roof_snow_kn_m2(0.65, found.mu_at_wall) == pytest.approx(2.6, rel=0.01)
    assert found.mu_at(6.0) == pytest.approx(0.8)


def test_snow_05_exceptional_drift_at_the_eaves():
    """SNOW-05: the same, p3-43: h 3, b1 12.5, b2 25 m; exact."""
    found = exceptional_drift_at_wall(3, 12.5, 25, 0.65)
    assert found.length_m == pytest.approx(12.5, rel=0.005)
    assert found.mu_at_wall == pytest.approx(4.0, rel=0.005)
    assert found.mu_at_wall * 0.65 == pytest.approx(2.6, rel=0.005)


def test_snow_07_exceptional_drift_at_a_low_obstruction():
    """SNOW-07: published EN 1991-1-3 worked example, p34: h 1.0 m, s_k 0.6."""
    found = exceptional_drift_at_obstruction(1.0, 0.6)
    assert found.mu_at_wall == pytest.approx(3.33, rel=0.005)
    assert found.mu_at_wall * 0.6 == pytest.approx(2.0, rel=0.005)


def test_snow_09_ground_snow_of_the_united_kingdom():
    """SNOW-09: published example, Inverness, 90 m, 0.60; that it lies in zone 4 is inferred."""
    assert ground_snow_uk_kn_m2(4, 90) == pytest.approx(0.6, abs=0.001)
