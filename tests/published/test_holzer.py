"""Holzer's table: the textbook's row by row, and nothing left at the end of any mode."""

import math

import numpy as np
import pytest

import calmshaft as cs

THOMSON = (
    "Thomson, Theory of Vibration with Applications, Holzer's method: discs 5, 11 and 22 kg m^2 on shafts of 0.1 and "
    "0.2 MN m/rad (value from memory)"
)
HAND = "three discs: w^4 - w^2 (k1/J1 + k1/J2 + k2/J2 + k2/J3) + k1 k2 (J1 + J2 + J3)/(J1 J2 J3) = 0, closed form"
PRINTED = 1e-4  # the book's digits
NOTHING = 1e-9  # [-] left over the largest torque: rounding of the eigenvalues times the steepness of the table
THREE = cs.chain([5.0, 11.0, 22.0], [1e5, 2e5])


def test_three_discs_have_the_frequencies_of_the_book(compare):
    found = cs.modes(THREE)
    for mode, expected in ((1, 123.666), (2, 202.658)):
        table = cs.holzer(found, mode)
        compare(f"Holzer, mode {mode} [rad/s]", table.angular_frequency, expected, PRINTED, THOMSON)
        assert table.residual < NOTHING


def test_three_discs_row_by_row(compare):
    table = cs.holzer(cs.modes(THREE), 1)
    total = 1e5 / 5 + 1e5 / 11 + 2e5 / 11 + 2e5 / 22
    square = (total - math.sqrt(total**2 - 4 * 1e5 * 2e5 * 38 / (5 * 11 * 22))) / 2
    second = 1 - 5 * square / 1e5
    third = second - (5 * square + 11 * square * second) / 2e5
    angles = np.array([1.0, second, third]) / max(1.0, abs(second), abs(third))
    for row, expected in zip(table.rows, angles, strict=True):
        compare(f"Holzer, angle of {row.station} [rad]", row.angle, expected, 1e-9, HAND)
    first, middle, last = table.rows
    assert first.total == pytest.approx(first.inertia_torque)
    assert first.twist == pytest.approx(first.total / 1e5)
    assert middle.total == pytest.approx(first.total + middle.inertia_torque)
    assert math.isnan(last.twist)


def test_off_a_natural_frequency_something_is_left():
    found = cs.modes(THREE)
    shifted = type(found)(found.angular_frequency * 1.01, found.shapes, found.poles, found.stations, found.words,
                          found.nodes, found._view)  # fmt: skip
    assert cs.holzer(shifted, 1).residual > 0.01


@pytest.mark.parametrize("gear", ["ahead", "neutral"])
@pytest.mark.parametrize("name", ["harbour-launch", "harbour-launch-six", "harbour-launch-tables"])
def test_every_mode_of_a_line_ends_at_nothing_and_has_the_shape_of_the_solver(name, gear):
    found = cs.modes(cs.sample_line(name), cs.Condition(1500, gear))
    for mode in np.flatnonzero(found.angular_frequency > 0):
        table = cs.holzer(found, int(mode))
        seen = found.shapes[mode] / found._view.speed_ratios
        ours = [row.angle for row in table.rows]
        theirs = [seen[found.stations.index(row.station)] for row in table.rows]
        parallel = abs(np.dot(ours, theirs)) / np.linalg.norm(ours) / np.linalg.norm(theirs)
        assert parallel == pytest.approx(1.0, abs=1e-6)
        assert table.residual < 1e-6  # teeth: angles of the crank lose ten digits on the way


def test_gears_are_referred_to_the_first_shaft():
    geared = cs.chain([2.0, 0.0, 0.0, 8.0], [40000.0, None, 90000.0], speed_ratios=[1.0, 1.0, 0.5, 0.5])
    table = cs.holzer(cs.modes(geared), 2 if cs.modes(geared).angular_frequency[1] == 0 else 1)
    assert table.rows[-1].inertia == pytest.approx(8.0 / 4)
    assert table.rows[2].stiffness == pytest.approx(90000.0 / 4)
    assert math.isinf(table.rows[1].stiffness)
    assert table.residual < NOTHING


def test_a_held_end_has_no_angle():
    table = cs.holzer(cs.modes(cs.chain([2.0, 1.0, 1.0], [1000.0, 1000.0], fixed=[2])), 0)
    assert table.residual < NOTHING


def test_a_rigid_body_has_no_table():
    with pytest.raises(cs.LineError, match="does not swing"):
        cs.holzer(cs.modes(THREE), 0)
