"""How a base spreads posts' loads, beside a beam on springs that is solved here by numpy."""

import numpy as np
import pytest

from mewswright.build.holding.spreading import pressures_kn_m2, strip_m
from mewswright.handbook.holding import holding_figure

WALL = (0.0, 5.0)


def beam_on_springs(loads, wall=WALL, beyond_m=3.0, step=0.01):
    """Pressures under the loads of a sleeper of 200 x 100 mm, by finite differences.

    It goes on for `beyond_m` at both ends, as a sleeper of the next wall would; 0: free ends.
    """
    k = holding_figure("subgrade_kn_m3").value
    ei = holding_figure("sleeper_e_kn_m2").value * 0.2 * 0.1**3 / 12
    n = round((wall[1] - wall[0] + 2 * beyond_m) / step) + 1
    d2 = (np.eye(n, k=1) + np.eye(n, k=-1) - 2 * np.eye(n))[1:-1] / step**2  # free ends
    matrix = ei * step * d2.T @ d2 + k * 0.2 * step * np.eye(n)
    nodes = [round((at - wall[0] + beyond_m) / step) for at, _ in loads]
    load = np.zeros(n)
    for node, (_, kn) in zip(nodes, loads, strict=True):
        load[node] += kn
    sunk = np.linalg.solve(matrix, load)
    return [float(sunk[node] * k) for node in nodes]


@pytest.mark.parametrize("spacing_m", [0.3, 0.6, 1.0, 2.5])
def test_posts_inside_a_wall_press_as_a_beam_on_springs(spacing_m):
    count = int(3.0 / spacing_m) + 1
    loads = [(1.0 + i * spacing_m, 2.0 + (i % 2)) for i in range(count)]
    found = pressures_kn_m2("sleepers", 95, loads, WALL)
    known = beam_on_springs(loads)
    assert found == pytest.approx(known, rel=0.05)
    assert all(ours >= theirs * 0.97 for ours, theirs in zip(found, known, strict=True))


def test_a_post_at_a_corner_presses_twice_as_hard_and_half_as_hard_as_on_a_free_end():
    corner = pressures_kn_m2("sleepers", 95, [(0.0, 1.0)], WALL)[0]
    middle = pressures_kn_m2("sleepers", 95, [(2.5, 1.0)], WALL)[0]
    assert corner == pytest.approx(2 * middle, rel=0.01)
    assert corner == pytest.approx(beam_on_springs([(0.0, 1.0)], beyond_m=0.0)[0] / 2, rel=0.03)


def test_the_load_is_carried_whole():
    """Under a dense row of equal posts the ground is pressed evenly by load over width."""
    loads = [(0.05 + 0.1 * i, 1.0) for i in range(50)]
    found = pressures_kn_m2("sleepers", 95, loads, WALL)
    assert found[20:30] == pytest.approx([1.0 / 0.1 / 0.2] * 10, rel=0.01)


def test_a_pad_spreads_nothing():
    with pytest.raises(ValueError, match="spreads nothing"):
        strip_m("pads", 95)
