"""The sweep takes no more cycles and steps, and settles as many points, as when effort.json was kept."""

import json

import pytest

from effort import KEPT, effort

# On one machine the figures are exact. Another's sine and exponential round differently, which moves the end of
# motions that do not repeat by a cycle or two, and some points across the edge of settling: two builds were two apart.
CYCLES = 0.03  # of the mean
POINTS = 4.5 / 60.0


@pytest.fixture(scope="module")
def now():
    return effort()


@pytest.fixture(scope="module")
def kept():
    return json.loads(KEPT.read_text())


def test_a_point_takes_as_many_cycles_as_before(now, kept):
    assert now["points"] == kept["points"]
    assert now["cycles per point"] == pytest.approx(kept["cycles per point"], rel=CYCLES)


def test_a_cycle_takes_as_many_steps_as_before(now, kept):
    assert now["steps per cycle"] == pytest.approx(kept["steps per cycle"], rel=CYCLES)


def test_as_many_points_settle_as_before(now, kept):
    assert now["share not converged"] == pytest.approx(kept["share not converged"], abs=POINTS)
