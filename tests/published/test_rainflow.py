"""Rainflow counting against the standard's worked history and against two other programs for it."""

from collections import Counter
from itertools import pairwise

import fatpack
import numpy as np
import pytest
import rainflow as other
from hypothesis import assume, given
from hypothesis import strategies as st

import calmshaft as cs

EXACT = 0.0
STANDARD = "ASTM E1049-85, 5.4.4 and Fig. 6; history and counts seen in the pages of two counting packages"
HISTORY = [-2, 1, -3, 5, -1, 3, -4, 4, -2]

# whole numbers and their halves are exact in binary, so every comparison may be exact
walks = st.lists(st.integers(-40, 40), min_size=3, max_size=120)


def by_range(cycles):
    counts = Counter()
    for width, _, count in zip(*cycles, strict=True):
        counts[width] += count
    return dict(counts)


@pytest.mark.parametrize(("width", "count"), [(3, 0.5), (4, 1.5), (6, 0.5), (8, 1.0), (9, 0.5)])
def test_the_standards_history_has_the_standards_counts(compare, width, count):
    found = by_range(cs.signals.rainflow(HISTORY))
    assert set(found) == {3, 4, 6, 8, 9}
    compare(f"cycles of range {width}", found[width], count, EXACT, STANDARD)


@pytest.mark.parametrize(("power", "published"), [(3, 1094), (5, 67838)])
def test_damage_sums_of_the_standards_history(compare, power, published):
    cycles = cs.signals.rainflow(HISTORY)
    total = np.sum(cycles.count * cycles.range**power)
    compare(f"sum of count x range^{power}", total, published, EXACT, "closed form from the counts of " + STANDARD)


@given(walks)
def test_a_second_program_counts_the_same_ranges_and_means(walk):
    # package rainflow, which follows the same standard; its cycles carry range, mean, count, start and end
    theirs = Counter()
    for width, mean, count, *_ in other.extract_cycles(walk):
        if width > 0:  # it counts a level history as a half cycle of no range
            theirs[width, mean] += count
    ours = Counter()
    for width, mean, count in zip(*cs.signals.rainflow(walk), strict=True):
        ours[width, mean] += count
    assert ours == theirs


@given(walks)
def test_a_third_program_counts_the_same_cycles_of_a_repeating_history(walk):
    # package fatpack, four-point counting: what the third repeat adds to the second is one period, no ends in it
    assume(len(set(walk)) > 1)
    top = walk.index(max(walk))
    once = walk[top:] + walk[:top]
    third = four_point_counts(once * 3 + once[:1])
    third.subtract(four_point_counts(once * 2 + once[:1]))
    assert by_range(cs.signals.rainflow(walk, periodic=True)) == {width: n for width, n in third.items() if n}


def four_point_counts(walk):
    cycles, _ = fatpack.find_rainflow_cycles(turning_points(walk))
    return Counter(np.abs(np.diff(np.reshape(cycles, (-1, 2)), axis=1)).ravel().tolist())


def turning_points(walk):
    steps = [walk[0]] + [here for before, here in pairwise(walk) if here != before]
    inner = [b for (a, b), (_, c) in pairwise(pairwise(steps)) if (b - a) * (c - b) < 0]
    return np.array([steps[0], *inner, steps[-1]], dtype=float)


@given(walks, st.integers(0, 200))
def test_where_a_repeating_history_is_cut_does_not_matter(walk, cut):
    turned = np.roll(walk, cut)
    assert by_range(cs.signals.rainflow(turned, periodic=True)) == by_range(cs.signals.rainflow(walk, periodic=True))


def test_a_repeating_history_has_whole_cycles_only():
    found = by_range(cs.signals.rainflow(HISTORY[:-1], periodic=True))
    assert found == by_range(cs.signals.rainflow(HISTORY, periodic=True))
    assert all(count == int(count) for count in found.values())


def test_values_that_cannot_be_counted_are_refused():
    with pytest.raises(ValueError, match=r"value 1 .* nan"):
        cs.signals.rainflow([0.0, float("nan"), 1.0])
    with pytest.raises(ValueError, match=r"value 2 .* inf"):
        cs.signals.rainflow([0.0, 1.0, float("inf")], periodic=True)
    with pytest.raises(ValueError, match="one row"):
        cs.signals.rainflow([[0.0, 1.0], [1.0, 0.0]])
